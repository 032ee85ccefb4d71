/* Work it out: any rule, for values typed into a form. */
#include "view/figure.h"
#include "view/machine.h"
#include "web/pages.h"

#include <math.h>

void wh_page_rules(const struct wh_house *house, const struct wh_request *request, struct wh_reply *reply)
{
    struct wh_tree *page = wh_page_new(house, request, "Work it out");
    struct wh_tree *subjects = wh_tree_add_new(request->arena, page, "subjects", WH_TREE_LIST);
    for (size_t s = 0; s < wh_subject_count; s++) {
        struct wh_tree *subject = wh_tree_add_new(request->arena, subjects, NULL, WH_TREE_MAP);
        wh_tree_add_text(request->arena, subject, "name", wh_subjects[s]->name);
        wh_tree_add_text(request->arena, subject, "title", wh_subjects[s]->title);
        struct wh_tree *rules = wh_tree_add_new(request->arena, subject, "rules", WH_TREE_LIST);
        for (size_t r = 0; r < wh_subjects[s]->rule_count; r++) {
            const struct wh_rule *rule = &wh_subjects[s]->rules[r];
            struct wh_tree *item = wh_tree_add_new(request->arena, rules, NULL, WH_TREE_MAP);
            wh_tree_add_text(request->arena, item, "name", rule->name);
            wh_tree_add_text(request->arena, item, "title",
                             rule->out[0].title ? rule->out[0].title : rule->out[0].name);
        }
    }
    wh_page_fill(house, request, "rules", page, reply);
}

/* A place to type for every input, with what was typed; false where nothing was sent yet. */
static bool add_inputs(const struct wh_request *request, const struct wh_rule *rule, struct wh_tree *page,
                       struct wh_given *given, size_t *ret_count)
{
    struct wh_tree *list = wh_tree_add_new(request->arena, page, "inputs", WH_TREE_LIST);
    *ret_count = 0;
    for (size_t i = 0; i < wh_rule_inputs(rule); i++) {
        const struct wh_slot *slot = &rule->in[i];
        struct wh_form form;
        struct wh_tree *item = wh_tree_add_new(request->arena, list, NULL, WH_TREE_MAP);
        const char *typed = wh_form_text(&request->query, slot->name, "");
        wh_form_read(slot->range, &form);
        wh_tree_add_text(request->arena, item, "name", slot->name);
        wh_tree_add_text(request->arena, item, "symbol", slot->symbol);
        wh_tree_add_text(request->arena, item, "title", slot->title);
        wh_tree_add_text(request->arena, item, "takes", wh_form_words(request->arena, &form));
        wh_tree_add_text(request->arena, item, "usual", slot->usual ? slot->usual : "");
        wh_tree_add_truth(request->arena, item, "many", slot->many > 0);
        wh_tree_add_text(request->arena, item, "typed", typed);
        if (*typed) given[(*ret_count)++] = (struct wh_given){slot->name, typed, {0}};
    }
    return request->query.count > 0;
}

static void add_answer(const struct wh_request *request, const struct wh_asked *asked, struct wh_tree *page)
{
    struct wh_arena *arena = request->arena;
    struct wh_tree *answer = wh_tree_add_new(arena, page, "answer", WH_TREE_MAP);
    struct wh_tree *results = wh_tree_add_new(arena, answer, "results", WH_TREE_LIST);
    for (size_t o = 0; o < asked->results; o++) {
        const struct wh_asked_result *r = &asked->out[o];
        struct wh_tree *item = wh_tree_add_new(arena, results, NULL, WH_TREE_MAP);
        wh_tree_add_text(arena, item, "title", r->slot->title ? r->slot->title : r->slot->name);
        wh_tree_add_text(arena, item, "value", wh_view_value(arena, &r->form, r->best, r->u));
        wh_tree_add_text(arena, item, "span", wh_view_span(arena, &r->form, r->least, r->most, r->u));
    }
    if (asked->remark) wh_tree_add_text(arena, answer, "remark", asked->remark);
    wh_tree_add(arena, answer, "working", wh_view_asked_working(arena, asked));
    wh_view_units(arena, answer);
}

void wh_page_rule(const struct wh_house *house, const struct wh_request *request, struct wh_reply *reply)
{
    const struct wh_rule *rule = wh_rule_find(request->held[0]);
    if (!rule) {
        wh_page_wrong(house, request, 404, wh_arena_print(request->arena, "There is no rule \"%s\".", request->held[0]),
                      "\"Work it out\" lists them all.", reply);
        return;
    }
    const char *title = rule->out[0].title ? rule->out[0].title : rule->name;
    struct wh_tree *page = wh_page_new(house, request, title);
    struct wh_given *given = WH_NEW(request->arena, WH_RULE_IN, struct wh_given);
    struct wh_asked *asked = WH_NEW(request->arena, 1, struct wh_asked);
    struct wh_errors errors = wh_errors_in(request->arena);
    size_t count;
    wh_tree_add_text(request->arena, page, "rule", rule->name);
    wh_tree_add_text(request->arena, page, "formula", rule->formula);
    wh_tree_add_text(request->arena, page, "source", rule->source);
    if (add_inputs(request, rule, page, given, &count)) {
        if (wh_ask(request->arena, rule, given, count, asked, &errors) == WH_OK) {
            add_answer(request, asked, page);
        } else {
            reply->code = 422;
            wh_tree_add_text(request->arena, page, "wrong", wh_errors_text(request->arena, &errors));
        }
    }
    wh_page_fill(house, request, "rule", page, reply);
}
