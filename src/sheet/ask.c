#include "sheet/ask.h"

#include "base/text.h"

#include <math.h>
#include <string.h>

/* A list of readings is parted by commas or semicolons followed by a space, so that a decimal comma may stand. */
static struct wh_words readings_of(struct wh_arena *arena, const char *text)
{
    char *copy = wh_arena_text(arena, text);
    for (char *c = copy; *c; c++)
        if ((*c == ',' || *c == ';') && (c[1] == ' ' || !c[1])) *c = '\n';
    return wh_split(arena, copy, '\n');
}

static const struct wh_slot *find_slot(const struct wh_rule *rule, const char *name)
{
    for (size_t i = 0; i < wh_rule_inputs(rule); i++)
        if (strcmp(rule->in[i].name, name) == 0) return &rule->in[i];
    return NULL;
}

static void refuse_unknown(const struct wh_rule *rule, const struct wh_given given[], size_t n,
                           struct wh_errors *reterr)
{
    for (size_t g = 0; g < n; g++) {
        if (!find_slot(rule, given[g].name)) {
            const char *names[WH_RULE_IN];
            size_t count = wh_rule_inputs(rule);
            for (size_t i = 0; i < count; i++) names[i] = rule->in[i].name;
            const char *nearest = wh_nearest(given[g].name, names, count);
            const char *right = nearest ? wh_arena_print(reterr->arena, "did you mean \"%s\"?", nearest) : NULL;
            wh_errors_add(reterr, WH_ERR_INPUT, given[g].place, right, "%s has no input \"%s\"", rule->name,
                          given[g].name);
        }
        for (size_t h = 0; h < g; h++)
            if (strcmp(given[g].name, given[h].name) == 0)
                wh_errors_add(reterr, WH_ERR_INPUT, given[g].place, NULL, "%s is given twice", given[g].name);
    }
}

/* Reads the value of a slot from the given ones, or its usual one; a list fills several inputs. */
static void read_slot(const struct wh_slot *slot, const struct wh_given given[], size_t n, struct wh_asked *asked,
                      struct wh_errors *reterr)
{
    const struct wh_given *found = NULL;
    for (size_t g = 0; g < n; g++)
        if (strcmp(given[g].name, slot->name) == 0) found = &given[g];
    if (!found && !slot->usual) {
        wh_errors_add(reterr, WH_ERR_INPUT, (struct wh_place){0}, NULL, "%s is missing: %s", slot->name, slot->title);
        return;
    }
    const char *text = found ? found->text : slot->usual;
    struct wh_words words = slot->many ? readings_of(reterr->arena, text) : (struct wh_words){&text, 1};
    if (words.count == 0 || (slot->many && words.count > slot->many)) {
        wh_errors_add(reterr, WH_ERR_INPUT, found ? found->place : (struct wh_place){0}, NULL,
                      "%s takes 1 to %zu readings, not %zu", slot->name, slot->many, words.count);
        return;
    }
    for (size_t w = 0; w < words.count && asked->inputs < WH_RULE_COLUMNS; w++) {
        struct wh_asked_input *in = &asked->in[asked->inputs++];
        in->slot = slot;
        in->origin = found ? WH_ORIGIN_GIVEN : WH_ORIGIN_USUAL;
        wh_form_read(slot->range, &in->form);
        const struct wh_form *first = in > asked->in ? &asked->in[0].form : NULL;
        if (first && first->takes != WH_FORM_OWN) continue; /* misread: the unit of the others is not known */
        if (found) wh_form_take(&in->form, first, words.at[w]);
        wh_form_value(&in->form, slot->name, words.at[w], found ? found->place : (struct wh_place){0}, &in->value,
                      reterr);
        wh_form_take(&in->form, first, words.at[w]); /* a usual value that takes any unit is nothing of it */
    }
}

/* The rows of a spread: the best values, each input at its two limits, and for each result the corner where all inputs
 * are at the limits that lower it, then that raise it. */
struct rows {
    double *cells;
    const double *in[WH_RULE_COLUMNS];
    double *out[WH_RULE_OUT];
    size_t count;
};

static struct rows make_rows(struct wh_arena *arena, const struct wh_value in[], size_t k)
{
    struct rows rows = {.count = 2 * k + 1 + 2 * WH_RULE_OUT};
    rows.cells = WH_NEW(arena, rows.count * (k + WH_RULE_OUT), double);
    for (size_t c = 0; c < k; c++) {
        double *column = rows.cells + c * rows.count;
        for (size_t r = 0; r < rows.count; r++) column[r] = in[c].best;
        column[2 * c + 1] = in[c].least;
        column[2 * c + 2] = in[c].most;
        rows.in[c] = column;
    }
    for (size_t o = 0; o < WH_RULE_OUT; o++) rows.out[o] = rows.cells + (k + o) * rows.count;
    return rows;
}

static void set_corners(struct rows *rows, const struct wh_value in[], size_t k, size_t o)
{
    size_t row = 2 * k + 1 + 2 * o;
    for (size_t c = 0; c < k; c++) {
        bool rises = rows->out[o][2 * c + 2] >= rows->out[o][2 * c + 1];
        double *column = rows->cells + c * rows->count;
        column[row] = rises ? in[c].least : in[c].most;
        column[row + 1] = rises ? in[c].most : in[c].least;
    }
}

void wh_ask_spread(struct wh_arena *arena, const struct wh_rule *rule, const struct wh_value in[], size_t k,
                   struct wh_asked_result ret[])
{
    struct rows rows = make_rows(arena, in, k);
    size_t results = wh_rule_results(rule);
    rule->work(rows.count, k, rows.in, rows.out);
    for (size_t o = 0; o < results; o++) {
        ret[o].best = rows.out[o][0];
        ret[o].u = 0;
        for (size_t c = 0; c < k; c++) {
            double half = (in[c].most - in[c].least) / 2, rise = (rows.out[o][2 * c + 2] - rows.out[o][2 * c + 1]) / 2;
            ret[o].u = hypot(ret[o].u, half > 0 ? rise / half * in[c].u : 0);
        }
        set_corners(&rows, in, k, o);
    }
    rule->work(rows.count, k, rows.in, rows.out);
    for (size_t o = 0; o < results; o++) {
        double low = rows.out[o][2 * k + 1 + 2 * o], high = rows.out[o][2 * k + 2 + 2 * o];
        ret[o].least = fmin(low, high);
        ret[o].most = fmax(low, high);
    }
}

static void work(struct wh_arena *arena, struct wh_asked *asked)
{
    struct wh_value in[WH_RULE_COLUMNS];
    double best[WH_RULE_COLUMNS], out[WH_RULE_OUT];
    for (size_t i = 0; i < asked->inputs; i++) {
        in[i] = asked->in[i].value;
        best[i] = in[i].best;
    }
    wh_ask_spread(arena, asked->rule, in, asked->inputs, asked->out);
    for (size_t o = 0; o < asked->results; o++) {
        asked->out[o].slot = &asked->rule->out[o];
        wh_form_read(asked->rule->out[o].range, &asked->out[o].form);
        wh_form_take(&asked->out[o].form, &asked->in[0].form, NULL);
        out[o] = asked->out[o].best;
    }
    asked->remark = asked->rule->remark ? asked->rule->remark(best, out) : NULL;
}

enum wh_status wh_ask(struct wh_arena *arena, const struct wh_rule *rule, const struct wh_given given[], size_t n,
                      struct wh_asked *ret, struct wh_errors *reterr)
{
    size_t before = reterr->count;
    *ret = (struct wh_asked){.rule = rule, .results = wh_rule_results(rule)};
    refuse_unknown(rule, given, n, reterr);
    for (size_t i = 0; i < wh_rule_inputs(rule); i++) read_slot(&rule->in[i], given, n, ret, reterr);
    if (reterr->count > before) return WH_ERR_INPUT;
    work(arena, ret);
    return WH_OK;
}

/* The name of an input, "readings-2" in a list. */
static const char *input_name(struct wh_arena *arena, const struct wh_asked *asked, size_t i)
{
    const struct wh_slot *slot = asked->in[i].slot;
    size_t before = 0;
    while (before < i && asked->in[i - before - 1].slot == slot) before++;
    return slot->many ? wh_arena_print(arena, "%s-%zu", slot->name, before + 1) : slot->name;
}

struct wh_sheet *wh_ask_sheet(struct wh_arena *arena, const struct wh_asked *asked)
{
    struct wh_sheet *sheet = WH_NEW(arena, 1, struct wh_sheet);
    size_t n = asked->inputs + asked->results;
    struct wh_use *use = WH_NEW(arena, 1, struct wh_use);
    *sheet = (struct wh_sheet){.cells = WH_NEW(arena, n, struct wh_cell),
                               .cell_count = n,
                               .uses = use,
                               .use_count = 1,
                               .value = WH_NEW(arena, n, double)};
    *use = (struct wh_use){.rule = asked->rule, .inputs = asked->inputs, .results = asked->results};
    for (size_t i = 0; i < asked->inputs; i++) {
        const struct wh_asked_input *in = &asked->in[i];
        sheet->cells[i] = (struct wh_cell){.name = input_name(arena, asked, i),
                                           .title = in->slot->title,
                                           .form = in->form,
                                           .origin = in->origin,
                                           .given = in->value,
                                           .use = WH_NONE};
        use->in[i] = i;
        use->slot[i] = in->slot;
        use->least[i] = in->form.vocabulary ? -INFINITY : in->form.least;
        use->most[i] = in->form.vocabulary ? INFINITY : in->form.most;
    }
    for (size_t o = 0; o < asked->results; o++) {
        const struct wh_asked_result *out = &asked->out[o];
        use->out[o] = asked->inputs + o;
        sheet->cells[use->out[o]] = (struct wh_cell){
            .name = out->slot->name, .title = out->slot->title, .form = out->form, .origin = WH_ORIGIN_COMPUTED};
    }
    wh_sheet_settle(sheet);
    return sheet;
}
