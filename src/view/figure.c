#include "view/figure.h"

#include <math.h>
#include <string.h>

/* In the unit: what is left of a difference of equals is nought. */
static double number_of(const struct wh_form *form, double value)
{
    double number = fabs((value - form->unit.offset) / form->unit.factor);
    return number < 1e-12 ? 0 : number;
}

/* Decimals in the form's unit: one digit of the uncertainty, else four significant digits, as a sum deserves. */
static int decimals_of(const struct wh_form *form, double value, double u)
{
    double number = number_of(form, value), spread = u / form->unit.factor;
    if (spread > 1e-9 * number) { /* less is the last bit of a sum */
        int decimals = -(int)floor(log10(spread));
        return decimals < 0 ? 0 : decimals > 9 ? 9 : decimals;
    }
    int before = number >= 1 ? (int)floor(log10(number)) + 1 : 1;
    return before >= 4 ? 0 : 4 - before;
}

/* Drops zeros at the end of the decimals: of an exact value they say nothing. */
static const char *without_zeros(struct wh_arena *arena, const char *text)
{
    size_t n = strcspn(text, " "), keep = n;
    if (!memchr(text, '.', n)) return text;
    while (text[keep - 1] == '0') keep--;
    if (text[keep - 1] == '.') keep--;
    return wh_arena_print(arena, "%.*s%s", (int)keep, text, text + n);
}

static bool is_tiny(const struct wh_form *form, double value)
{
    double number = number_of(form, value);
    return number > 0 && (number < 1e-4 || number >= 1e7);
}

/* Very small and very large numbers with an exponent that is a multiple of 3: "12e-6 1/K". */
static const char *by_thousands(struct wh_arena *arena, const struct wh_form *form, double value)
{
    struct wh_form scaled = *form;
    double number = fabs(value / form->unit.factor);
    int exponent = (int)floor(log10(number) / 3) * 3;
    scaled.unit.length = 0;
    scaled.unit.factor = form->unit.factor * pow(10, exponent);
    return wh_arena_print(arena, "%se%d %.*s", without_zeros(arena, wh_quantity_print(arena, value, &scaled.unit, 4)),
                          exponent, (int)form->unit.length, form->unit.name);
}

/* A given value, known exactly: all its digits. */
static const char *given_value(struct wh_arena *arena, const struct wh_form *form, double value)
{
    if (!form->vocabulary && is_tiny(form, value)) return by_thousands(arena, form, value);
    if (!form->vocabulary && number_of(form, value) <= 0) value = form->unit.offset;
    return without_zeros(arena, wh_form_print(arena, form, value, 0));
}

const char *wh_view_value(struct wh_arena *arena, const struct wh_form *form, double value, double u)
{
    if (form->vocabulary) return wh_form_print(arena, form, value, 0);
    if (!isfinite(value)) return "no answer";
    if (is_tiny(form, value)) return by_thousands(arena, form, value);
    if (number_of(form, value) <= 0) value = form->unit.offset;
    const char *text = wh_quantity_fixed(arena, value, &form->unit, decimals_of(form, value, u));
    return u > 1e-9 * fabs(value) ? text : without_zeros(arena, text);
}

const char *wh_view_span(struct wh_arena *arena, const struct wh_form *form, double least, double most, double u)
{
    if (form->vocabulary || !isfinite(least) || !isfinite(most) || most - least <= 1e-9 * fabs(most)) return "";
    int decimals = decimals_of(form, most, u > 0 ? u : most - least);
    struct wh_unit bare = form->unit;
    bare.length = 0;
    if (number_of(form, least) <= 0) least = form->unit.offset;
    if (number_of(form, most) <= 0) most = form->unit.offset;
    if (is_tiny(form, most) || is_tiny(form, least))
        return wh_arena_print(arena, "%s..%s", wh_quantity_print(arena, least, &bare, 2),
                              wh_quantity_print(arena, most, &form->unit, 2));
    return wh_arena_print(arena, "%s..%s", wh_quantity_fixed(arena, least, &bare, decimals),
                          wh_quantity_fixed(arena, most, &form->unit, decimals));
}

/* Room for the last bit of a conversion. */
static double rounded(double number, int decimals, bool up)
{
    double scale = pow(10, decimals), scaled = number * scale, nearest = round(scaled);
    if (fabs(scaled - nearest) <= 1e-9 * fmax(fabs(scaled), 1)) return nearest / scale;
    return (up ? ceil(scaled) : floor(scaled)) / scale;
}

/* An exact result in another unit than its own: no coarser a step than its own unit would show. */
static const char *in_other_unit(struct wh_arena *arena, const struct wh_form *own, const struct wh_form *form,
                                 double value)
{
    double step = pow(10, -decimals_of(own, value, 0)) * own->unit.factor;
    int decimals = (int)ceil(log10(form->unit.factor / step) - 1e-9);
    return without_zeros(arena, wh_quantity_fixed(arena, value, &form->unit, decimals < 0 ? 0 : decimals));
}

const char *wh_view_result(struct wh_arena *arena, const struct wh_asked_result *result)
{
    struct wh_form own;
    bool converted = wh_form_read(result->slot->range, &own) && !own.vocabulary &&
                     (fabs(own.unit.factor / result->form.unit.factor - 1) > 1e-12 ||
                      fabs(own.unit.offset - result->form.unit.offset) > 0);
    bool exact = !(result->u > 1e-9 * fabs(result->best));
    if (converted && exact && isfinite(result->best) && !is_tiny(&result->form, result->best))
        return in_other_unit(arena, &own, &result->form, result->best);
    return wh_view_value(arena, &result->form, result->best, result->u);
}

static double in_unit(const struct wh_form *form, double si)
{
    return (si - form->unit.offset) / form->unit.factor;
}

static bool is_whole(double number, int decimals)
{
    double up = rounded(number, decimals, true), down = rounded(number, decimals, false);
    return !isfinite(number) || !(up > down);
}

/* As few decimals as write both limits whole; else as many as cut a thousandth off what lies between them. */
static int limit_decimals(double least, double most)
{
    double width = isfinite(most - least) && most > least ? most - least : fabs(isfinite(least) ? least : most);
    int enough = width > 0 ? 3 - (int)floor(log10(width)) : 6;
    enough = enough < 0 ? 0 : enough > 9 ? 9 : enough;
    int decimals = 0;
    while (decimals < enough && !(is_whole(least, decimals) && is_whole(most, decimals))) decimals++;
    return decimals;
}

const char *wh_view_limits(struct wh_arena *arena, const struct wh_form *form, double least, double most)
{
    double low = in_unit(form, least), high = in_unit(form, most);
    int decimals = limit_decimals(low, high);
    struct wh_unit bare = form->unit;
    bare.length = 0;
    double from = isfinite(low) ? rounded(low, decimals, true) * bare.factor + bare.offset : low;
    double to = isfinite(high) ? rounded(high, decimals, false) * bare.factor + bare.offset : high;
    if (!isfinite(low)) return wh_arena_print(arena, "at most %s", wh_quantity_fixed(arena, to, &form->unit, decimals));
    if (!isfinite(high))
        return wh_arena_print(arena, "at least %s", wh_quantity_fixed(arena, from, &form->unit, decimals));
    return wh_arena_print(arena, "%s..%s", wh_quantity_fixed(arena, from, &bare, decimals),
                          wh_quantity_fixed(arena, to, &form->unit, decimals));
}

struct wh_shown wh_view_shown(struct wh_arena *arena, const struct wh_sheet *sheet, size_t c, enum wh_end end)
{
    const struct wh_cell *cell = &sheet->cells[c];
    double value = end == WH_END_LEAST ? sheet->least[c] : end == WH_END_MOST ? sheet->most[c] : sheet->value[c];
    const char *middle = cell->use == WH_NONE ? NULL : sheet->uses[cell->use].remark;
    return (struct wh_shown){cell->use == WH_NONE && sheet->u[c] <= 0
                                 ? given_value(arena, &cell->form, value)
                                 : wh_view_value(arena, &cell->form, value, sheet->u[c]),
                             wh_view_span(arena, &cell->form, sheet->least[c], sheet->most[c], sheet->u[c]),
                             end == WH_END_LEAST  ? cell->remark_least
                             : end == WH_END_MOST ? cell->remark_most
                                                  : middle};
}

/* "0.21 mm ± 0.04 (k = 2)". */
static const char *gives(struct wh_arena *arena, const char *name, const char *value, const struct wh_form *form,
                         double best, double u, double least, double most, const char *remark)
{
    struct wh_text text = {.arena = arena};
    wh_text_print(&text, "%s = %s", name, value);
    struct wh_form difference = *form;
    difference.unit.offset = 0;
    if (u > 1e-9 * fabs(best)) {
        struct wh_unit bare = difference.unit;
        bare.length = 0;
        wh_text_print(&text, " ± %s (k = 2)", wh_quantity_print(arena, 2 * u, &bare, 2));
        wh_text_print(&text, ", at the limits %s", wh_view_span(arena, form, least, most, u));
    }
    if (remark) wh_text_print(&text, "; %s", remark);
    return wh_text_of(&text);
}

static void add_with(struct wh_text *with, const struct wh_slot *slot, const char *value, const char *name,
                     const char *origin)
{
    wh_text_print(with, "%s%s = %s (%s, %s)", with->count ? "; " : "", slot->symbol, value, name, origin);
}

/* The given cells at the root of a figure, each once. */
static void add_roots(const struct wh_sheet *sheet, size_t cell, bool *seen, struct wh_text *to)
{
    if (seen[cell]) return;
    seen[cell] = true;
    const struct wh_cell *c = &sheet->cells[cell];
    if (c->use == WH_NONE) {
        wh_text_print(to, "%s%s", to->count ? ", " : "", c->name);
        return;
    }
    for (size_t i = 0; i < sheet->uses[c->use].inputs; i++) add_roots(sheet, sheet->uses[c->use].in[i], seen, to);
}

static const char *origin_text(struct wh_arena *arena, const struct wh_cell *cell)
{
    return cell->source ? wh_arena_print(arena, "%s: %s", wh_origin_words(cell->origin), cell->source)
                        : wh_origin_words(cell->origin);
}

struct wh_tree *wh_view_working(struct wh_arena *arena, const struct wh_sheet *sheet, size_t cell)
{
    const struct wh_cell *c = &sheet->cells[cell];
    struct wh_tree *map = wh_tree_new(arena, WH_TREE_MAP);
    struct wh_text with = {.arena = arena}, roots = {.arena = arena};
    if (c->use == WH_NONE) {
        wh_tree_add_text(arena, map, "says", c->title);
        wh_tree_add_text(arena, map, "gives",
                         gives(arena, c->name, wh_view_value(arena, &c->form, sheet->value[cell], sheet->u[cell]),
                               &c->form, sheet->value[cell], sheet->u[cell], sheet->least[cell], sheet->most[cell],
                               NULL));
        wh_tree_add_text(arena, map, "from", origin_text(arena, c));
        return map;
    }
    const struct wh_use *use = &sheet->uses[c->use];
    for (size_t i = 0; i < use->inputs; i++) {
        const struct wh_cell *in = &sheet->cells[use->in[i]];
        add_with(&with, use->slot[i], wh_view_shown(arena, sheet, use->in[i], WH_END_BEST).value, in->name,
                 origin_text(arena, in));
    }
    add_roots(sheet, cell, WH_NEW(arena, sheet->cell_count, bool), &roots);
    wh_tree_add_text(arena, map, "says", use->rule->formula);
    wh_tree_add_text(arena, map, "with", wh_text_of(&with));
    wh_tree_add_text(arena, map, "gives",
                     gives(arena, c->name, wh_view_value(arena, &c->form, sheet->value[cell], sheet->u[cell]), &c->form,
                           sheet->value[cell], sheet->u[cell], sheet->least[cell], sheet->most[cell], use->remark));
    wh_tree_add_text(arena, map, "from", use->rule->source);
    wh_tree_add_text(arena, map, "hangs on", wh_text_of(&roots));
    return map;
}

struct wh_tree *wh_view_asked_working(struct wh_arena *arena, const struct wh_asked *asked)
{
    struct wh_tree *map = wh_tree_new(arena, WH_TREE_MAP);
    struct wh_text with = {.arena = arena}, out = {.arena = arena}, roots = {.arena = arena};
    for (size_t i = 0; i < asked->inputs; i++) {
        const struct wh_asked_input *in = &asked->in[i];
        const char *value = in->value.shape == WH_EXACT ? given_value(arena, &in->form, in->value.best)
                                                        : wh_view_value(arena, &in->form, in->value.best, in->value.u);
        add_with(&with, in->slot, value, in->slot->title, wh_origin_words(in->origin));
        wh_text_print(&roots, "%s%s", i ? ", " : "", in->slot->name);
    }
    for (size_t o = 0; o < asked->results; o++) {
        const struct wh_asked_result *r = &asked->out[o];
        wh_text_print(&out, "%s%s", o ? "; " : "",
                      gives(arena, r->slot->symbol, wh_view_result(arena, r), &r->form, r->best, r->u, r->least,
                            r->most, o + 1 == asked->results ? asked->remark : NULL));
    }
    wh_tree_add_text(arena, map, "says", asked->rule->formula);
    wh_tree_add_text(arena, map, "with", wh_text_of(&with));
    wh_tree_add_text(arena, map, "gives", wh_text_of(&out));
    wh_tree_add_text(arena, map, "from", asked->rule->source);
    wh_tree_add_text(arena, map, "hangs on", wh_text_of(&roots));
    return map;
}

const char *wh_view_working_text(struct wh_arena *arena, const struct wh_tree *working)
{
    static const char *const words[][2] = {
        {"says", "Says"}, {"with", "With"}, {"gives", "Gives"}, {"from", "From"}, {"hangs on", "Hangs on"}};
    struct wh_text text = {.arena = arena};
    for (size_t i = 0; i < sizeof words / sizeof *words; i++)
        if (wh_tree_get(working, words[i][0]))
            wh_text_print(&text, "    %-8s  %s\n", words[i][1], wh_tree_text(working, words[i][0], ""));
    return wh_text_of(&text);
}

static void add_figure(struct wh_arena *arena, const struct wh_sheet *sheet, size_t c, bool working,
                       struct wh_tree *list)
{
    const struct wh_cell *cell = &sheet->cells[c];
    struct wh_tree *map = wh_tree_add_new(arena, list, NULL, WH_TREE_MAP);
    wh_tree_add_text(arena, map, "name", cell->name);
    struct wh_shown shown = wh_view_shown(arena, sheet, c, WH_END_BEST);
    wh_tree_add_text(arena, map, "value", shown.value);
    wh_tree_add_text(arena, map, "span", shown.span);
    wh_tree_add_text(arena, map, "origin", wh_origin_words(cell->origin));
    wh_tree_add_text(arena, map, "title", cell->title ? cell->title : "");
    if (!cell->form.vocabulary) {
        wh_tree_add_number(arena, map, "si", sheet->value[c]);
        wh_tree_add_number(arena, map, "least", sheet->least[c]);
        wh_tree_add_number(arena, map, "most", sheet->most[c]);
        wh_tree_add_number(arena, map, "standard uncertainty", sheet->u[c]);
    }
    if (cell->use != WH_NONE) {
        const struct wh_use *use = &sheet->uses[cell->use];
        wh_tree_add_text(arena, map, "rule", use->rule->name);
        if (use->remark) wh_tree_add_text(arena, map, "remark", use->remark);
    }
    if (working) wh_tree_add(arena, map, "working", wh_view_working(arena, sheet, c));
}

struct wh_tree *wh_view_named_figures(struct wh_arena *arena, const struct wh_sheet *sheet, const size_t cells[],
                                      size_t count, bool working)
{
    struct wh_tree *map = wh_tree_new(arena, WH_TREE_MAP);
    struct wh_tree *list = wh_tree_add_new(arena, map, "figures", WH_TREE_LIST);
    for (size_t i = 0; i < count; i++) add_figure(arena, sheet, cells[i], working, list);
    wh_tree_add_new(arena, map, "not worked out", WH_TREE_LIST);
    return map;
}

struct wh_tree *wh_view_figures(struct wh_arena *arena, const struct wh_sheet *sheet, size_t thing, bool working)
{
    size_t *cells = WH_NEW(arena, sheet->cell_count + 1, size_t), count = 0;
    for (size_t t = 0; t < sheet->machine->thing_count; t++)
        for (size_t c = 0; c < sheet->cell_count && (thing == WH_NONE || thing == t); c++)
            if (sheet->cells[c].thing == t) cells[count++] = c;
    struct wh_tree *map = wh_view_named_figures(arena, sheet, cells, count, working);
    struct wh_tree *missing = wh_tree_get(map, "not worked out");
    for (size_t m = 0; m < sheet->missing_count; m++) {
        if (thing != WH_NONE && sheet->missing[m].thing != thing) continue;
        struct wh_tree *item = wh_tree_add_new(arena, missing, NULL, WH_TREE_MAP);
        wh_tree_add_text(arena, item, "name",
                         wh_arena_print(arena, "%s.%s", sheet->machine->things[sheet->missing[m].thing].id,
                                        sheet->missing[m].figure));
        wh_tree_add_text(arena, item, "why", sheet->missing[m].why);
    }
    return map;
}

const char *wh_view_figures_text(struct wh_arena *arena, const struct wh_tree *figures)
{
    struct wh_text text = {.arena = arena};
    for (const struct wh_tree *f = wh_tree_get(figures, "figures")->first; f; f = f->next) {
        const char *span = wh_tree_text(f, "span", ""), *remark = wh_tree_text(f, "remark", NULL);
        wh_text_print(&text, "%-44s %-16s %-22s %-9s %s%s%s\n", wh_tree_text(f, "name", ""),
                      wh_tree_text(f, "value", ""), span, wh_tree_text(f, "origin", ""), wh_tree_text(f, "title", ""),
                      remark ? "; " : "", remark ? remark : "");
        if (wh_tree_get(f, "working")) wh_text_add(&text, wh_view_working_text(arena, wh_tree_get(f, "working")));
    }
    for (const struct wh_tree *m = wh_tree_get(figures, "not worked out")->first; m; m = m->next)
        wh_text_print(&text, "%-44s not worked out: %s\n", wh_tree_text(m, "name", ""), wh_tree_text(m, "why", ""));
    return wh_text_of(&text);
}
