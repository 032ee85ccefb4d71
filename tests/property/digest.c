/* Prints one number for what all rules give, results and remarks, at random inputs and random lists of readings: it
 * tells whether a change of the code changes any. tools/mutants asks it. */
#include "draw.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

enum { ROWS = 100 };

static void mix(uint64_t *digest, const void *bytes, size_t n)
{
    const unsigned char *at = bytes;
    for (size_t i = 0; i < n; i++) *digest = (*digest ^ at[i]) * 0x100000001b3u;
}

/* A result as it is read, to ten digits: the last steps of a search tell nothing, and no answer has more than one
 * sign and payload. */
static void mix_result(uint64_t *digest, double result)
{
    char digits[32];
    int n = isnan(result) ? 0 : snprintf(digits, sizeof digits, "%.10g", result);
    mix(digest, digits, (size_t)n);
}

/* A few designations of each vocabulary, drawn once: long lists take long to walk. */
enum { FEW = 24, VOCABULARIES = 64 };
static double few_of(const struct wh_vocabulary *vocabulary, size_t i, uint64_t *state)
{
    static const struct wh_vocabulary *known[VOCABULARIES];
    static double codes[VOCABULARIES][FEW];
    size_t v = 0;
    while (v < VOCABULARIES - 1 && known[v] && known[v] != vocabulary) v++;
    for (size_t c = 0; known[v] != vocabulary && c < FEW; c++) codes[v][c] = wh_draw_designation(vocabulary, state);
    known[v] = vocabulary;
    return codes[v][i % FEW];
}

/* A rule of a list is worked for lists of 3 to 9 readings. */
static void mix_rule(const struct wh_rule *rule, uint64_t *digest)
{
    double row[WH_RULE_COLUMNS], out[WH_RULE_OUT];
    const double *in[WH_RULE_COLUMNS];
    double *to[WH_RULE_OUT];
    uint64_t state = 7;
    size_t inputs = wh_rule_inputs(rule);
    for (size_t c = 0; c < WH_RULE_COLUMNS; c++) in[c] = &row[c];
    for (size_t o = 0; o < WH_RULE_OUT; o++) to[o] = &out[o];
    for (size_t i = 0; i < ROWS; i++) {
        size_t k = inputs + (rule->in[inputs - 1].many ? 2 + i % 7 : 0);
        for (size_t c = 0; c < k; c++) {
            struct wh_form form;
            const struct wh_slot *slot = &rule->in[c < inputs ? c : inputs - 1];
            wh_form_read(slot->range, &form);
            row[c] = form.vocabulary ? few_of(form.vocabulary, i * (c + 1), &state) : wh_draw(slot, &form, &state);
        }
        rule->work(1, k, in, to);
        for (size_t o = 0; o < wh_rule_results(rule); o++) mix_result(digest, out[o]);
        const char *remark = rule->remark ? rule->remark(row, out) : NULL;
        if (remark) mix(digest, remark, strlen(remark));
    }
}

int main(void)
{
    uint64_t digest = 0xcbf29ce484222325u;
    for (size_t s = 0; s < wh_subject_count; s++)
        for (size_t i = 0; i < wh_subjects[s]->rule_count; i++) mix_rule(&wh_subjects[s]->rules[i], &digest);
    printf("%016llx\n", (unsigned long long)digest);
    return 0;
}
