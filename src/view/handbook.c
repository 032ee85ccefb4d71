#include "view/handbook.h"

#include "sheet/ask.h"
#include "view/example.h"
#include "view/figure.h"
#include "view/glossary.h"

#include <string.h>

enum { MOST_LINKS = 8 };

/* ---- slots ----------------------------------------------------------------------------------------------------- */

static void add_slots(struct wh_arena *arena, struct wh_tree *map, const char *key, const struct wh_slot *slots,
                      size_t n)
{
    struct wh_tree *list = wh_tree_add_new(arena, map, key, WH_TREE_LIST);
    for (size_t i = 0; i < n; i++) {
        struct wh_tree *slot = wh_tree_add_new(arena, list, NULL, WH_TREE_MAP);
        struct wh_form form;
        wh_form_read(slots[i].range, &form);
        bool bare = form.vocabulary || form.unit.length == 0 || (form.unit.length == 1 && *form.unit.name == '1');
        bool ranged = form.vocabulary || strstr(slots[i].range, "..");
        wh_tree_add_text(arena, slot, "name", slots[i].name);
        wh_tree_add_text(arena, slot, "symbol", slots[i].symbol);
        wh_tree_add_text(arena, slot, "title", slots[i].title ? slots[i].title : "");
        wh_tree_add_text(arena, slot, "unit", bare ? "" : wh_arena_slice(arena, form.unit.name, form.unit.length));
        wh_tree_add_text(arena, slot, "range", ranged ? wh_form_words(arena, &form) : "");
        wh_tree_add_text(arena, slot, "usual", slots[i].usual ? slots[i].usual : "");
        wh_tree_add_text(arena, slot, "many",
                         slots[i].many ? wh_arena_print(arena, "up to %zu readings", slots[i].many) : "");
    }
}

/* ---- links between rules --------------------------------------------------------------------------------------- */

/* "seat.diameter" is the diameter of a neighbour. */
static const char *own_name(const char *name)
{
    const char *dot = strrchr(name, '.');
    return dot ? dot + 1 : name;
}

/* The same name means the same only where both are of one kind: a grade of balance is no grade of tolerance. */
static bool alike(const struct wh_slot *a, const char *name, const struct wh_slot *b)
{
    struct wh_form one, other;
    if (strcmp(a->name, name) != 0 || !wh_form_read(a->range, &one) || !wh_form_read(b->range, &other)) return false;
    return one.vocabulary == other.vocabulary &&
           (one.vocabulary || wh_dimension_same(one.unit.dimension, other.unit.dimension));
}

static bool gives(const struct wh_rule *rule, const struct wh_slot *slot)
{
    for (size_t o = 0; o < wh_rule_results(rule); o++)
        if (alike(&rule->out[o], own_name(slot->name), slot)) return true;
    return false;
}

static bool feeds(const struct wh_rule *from, const struct wh_rule *to)
{
    for (size_t i = 0; i < wh_rule_inputs(to); i++)
        if (gives(from, &to->in[i])) return true;
    return false;
}

static bool comes_from(const struct wh_rule *rule, const struct wh_rule *other)
{
    return feeds(other, rule);
}

static bool goes_into(const struct wh_rule *rule, const struct wh_rule *other)
{
    return feeds(rule, other);
}

static bool gives_the_same(const struct wh_rule *rule, const struct wh_rule *other)
{
    for (size_t o = 0; o < wh_rule_results(rule); o++)
        if (gives(other, &rule->out[o])) return true;
    return false;
}

static void add_link(struct wh_arena *arena, struct wh_tree *list, const struct wh_subject *subject,
                     const struct wh_rule *rule)
{
    struct wh_tree *link = wh_tree_add_new(arena, list, NULL, WH_TREE_MAP);
    wh_tree_add_text(arena, link, "name", rule->name);
    wh_tree_add_text(arena, link, "title", rule->out[0].title ? rule->out[0].title : "");
    wh_tree_add_text(arena, link, "subject", subject->name);
}

/* Those of the rule's own subject first, then the others in the handbook's order, up to MOST_LINKS. */
static void add_links(struct wh_arena *arena, struct wh_tree *map, const char *key, const struct wh_subject *own,
                      const struct wh_rule *rule, bool (*linked)(const struct wh_rule *, const struct wh_rule *))
{
    struct wh_tree *list = wh_tree_add_new(arena, map, key, WH_TREE_LIST);
    for (int others = 0; others < 2; others++)
        for (size_t s = 0; s < wh_subject_count; s++) {
            const struct wh_subject *subject = wh_subjects[s];
            if ((strcmp(subject->name, own->name) != 0) != (others == 1)) continue;
            for (size_t r = 0; r < subject->rule_count && list->count < MOST_LINKS; r++)
                if (&subject->rules[r] != rule && linked(rule, &subject->rules[r]))
                    add_link(arena, list, subject, &subject->rules[r]);
        }
}

/* ---- worked examples ------------------------------------------------------------------------------------------- */

static const struct wh_example *find_example(const char *rule)
{
    for (size_t e = 0; e < wh_example_count; e++)
        if (strcmp(wh_examples[e].rule, rule) == 0) return &wh_examples[e];
    return NULL;
}

static const char *kind_words(const char *kind)
{
    if (strcmp(kind, "source") == 0) return "printed in";
    if (strcmp(kind, "hand") == 0) return "worked by hand";
    if (strcmp(kind, "practice") == 0) return "common practice";
    return strcmp(kind, "memory") == 0 ? "from memory" : "of this program, to notice a change";
}

static const char *result_words(struct wh_arena *arena, const struct wh_asked *asked)
{
    struct wh_text text = {.arena = arena};
    for (size_t o = 0; o < asked->results; o++) {
        const struct wh_asked_result *r = &asked->out[o];
        wh_text_print(&text, "%s%s = %s", o ? "; " : "", r->slot->name, wh_view_value(arena, &r->form, r->best, r->u));
    }
    return wh_text_of(&text);
}

static void add_example(struct wh_arena *arena, struct wh_tree *map, const struct wh_rule *rule)
{
    const struct wh_example *example = find_example(rule->name);
    struct wh_text command = {.arena = arena};
    struct wh_given given[WH_RULE_IN];
    struct wh_errors errors = wh_errors_in(arena);
    struct wh_asked *asked = WH_NEW(arena, 1, struct wh_asked);
    size_t n = 0;
    if (!example) return;
    wh_text_print(&command, "wharve work %s", rule->name);
    for (; n < WH_RULE_IN && example->given[n].name; n++) {
        given[n] = (struct wh_given){example->given[n].name, example->given[n].text, {0}};
        wh_text_print(&command, " %s=\"%s\"", given[n].name, given[n].text);
    }
    if (wh_ask(arena, rule, given, n, asked, &errors) != WH_OK) return;
    struct wh_tree *to = wh_tree_add_new(arena, map, "example", WH_TREE_MAP);
    wh_tree_add_text(arena, to, "command", wh_text_of(&command));
    wh_tree_add_text(arena, to, "kind", kind_words(example->kind));
    wh_tree_add_text(arena, to, "source", example->source);
    wh_tree_add_text(arena, to, "expected", example->expected);
    wh_tree_add_text(arena, to, "result", result_words(arena, asked));
    wh_tree_add_text(arena, to, "remark", asked->remark ? asked->remark : "");
    wh_tree_add(arena, to, "working", wh_view_asked_working(arena, asked));
}

/* ---- the book -------------------------------------------------------------------------------------------------- */

static void add_rule(struct wh_arena *arena, struct wh_tree *list, const struct wh_subject *subject,
                     const struct wh_rule *rule)
{
    struct wh_tree *map = wh_tree_add_new(arena, list, NULL, WH_TREE_MAP);
    wh_tree_add_text(arena, map, "name", rule->name);
    wh_tree_add_text(arena, map, "title", rule->out[0].title ? rule->out[0].title : rule->out[0].name);
    wh_tree_add_text(arena, map, "subject", subject->name);
    wh_tree_add_text(arena, map, "subject title", subject->title);
    wh_tree_add_text(arena, map, "formula", rule->formula);
    wh_tree_add_text(arena, map, "source", rule->source);
    add_slots(arena, map, "takes", rule->in, wh_rule_inputs(rule));
    add_slots(arena, map, "gives", rule->out, wh_rule_results(rule));
    add_example(arena, map, rule);
    add_links(arena, map, "comes from", subject, rule, comes_from);
    add_links(arena, map, "goes into", subject, rule, goes_into);
    add_links(arena, map, "see also", subject, rule, gives_the_same);
}

/* Several tables of rules may belong to one subject: its page has a section for each. */
static struct wh_tree *sections_of(struct wh_arena *arena, struct wh_tree *subjects, const struct wh_subject *subject)
{
    for (struct wh_tree *s = subjects->first; s; s = s->next)
        if (strcmp(wh_tree_text(s, "name", ""), subject->name) == 0) return wh_tree_get(s, "sections");
    struct wh_tree *map = wh_tree_add_new(arena, subjects, NULL, WH_TREE_MAP);
    wh_tree_add_text(arena, map, "name", subject->name);
    wh_tree_add_text(arena, map, "title", subject->title);
    return wh_tree_add_new(arena, map, "sections", WH_TREE_LIST);
}

struct wh_tree *wh_view_handbook(struct wh_arena *arena)
{
    struct wh_tree *book = wh_tree_new(arena, WH_TREE_MAP);
    struct wh_tree *subjects = wh_tree_add_new(arena, book, "subjects", WH_TREE_LIST);
    size_t count = 0;
    for (size_t s = 0; s < wh_subject_count; s++) {
        const struct wh_subject *subject = wh_subjects[s];
        struct wh_tree *sections = sections_of(arena, subjects, subject);
        struct wh_tree *section = wh_tree_add_new(arena, sections, NULL, WH_TREE_MAP);
        wh_tree_add_text(arena, section, "title", subject->title);
        struct wh_tree *rules = wh_tree_add_new(arena, section, "rules", WH_TREE_LIST);
        for (size_t r = 0; r < subject->rule_count; r++) add_rule(arena, rules, subject, &subject->rules[r]);
        count += subject->rule_count;
    }
    wh_tree_add_number(arena, book, "count", (double)count);
    struct wh_tree *terms = wh_tree_add_new(arena, book, "terms", WH_TREE_LIST);
    for (size_t t = 0; t < wh_term_count; t++) {
        struct wh_tree *term = wh_tree_add_new(arena, terms, NULL, WH_TREE_MAP);
        wh_tree_add_text(arena, term, "word", wh_terms[t].word);
        wh_tree_add_text(arena, term, "means", wh_terms[t].means);
    }
    return book;
}
