#include "trade/rule.h"

#include <string.h>

#define SUBJECT(subject) extern const struct wh_subject wh_##subject;
#include "trade/subjects.h"
#undef SUBJECT

const struct wh_subject *const wh_subjects[] = {
#define SUBJECT(subject) &wh_##subject,
#include "trade/subjects.h"
#undef SUBJECT
    NULL,
};
const size_t wh_subject_count = sizeof wh_subjects / sizeof *wh_subjects - 1;

const struct wh_rule *wh_rule_find(const char *name)
{
    for (size_t s = 0; s < wh_subject_count; s++)
        for (size_t r = 0; r < wh_subjects[s]->rule_count; r++)
            if (strcmp(wh_subjects[s]->rules[r].name, name) == 0) return &wh_subjects[s]->rules[r];
    return NULL;
}

const struct wh_vocabulary *wh_vocabulary_find(const char *name, size_t n)
{
    for (size_t s = 0; s < wh_subject_count; s++)
        for (size_t v = 0; v < wh_subjects[s]->vocabulary_count; v++) {
            const struct wh_vocabulary *vocabulary = &wh_subjects[s]->vocabularies[v];
            if (strlen(vocabulary->name) == n && memcmp(vocabulary->name, name, n) == 0) return vocabulary;
        }
    return NULL;
}

static size_t count(const struct wh_slot *slots, size_t room)
{
    size_t n = 0;
    while (n < room && slots[n].name) n++;
    return n;
}

size_t wh_rule_inputs(const struct wh_rule *rule)
{
    return count(rule->in, WH_RULE_IN);
}

size_t wh_rule_results(const struct wh_rule *rule)
{
    return count(rule->out, WH_RULE_OUT);
}
