#include "view/whirling.h"

#include "view/figure.h"

#include <math.h>

enum { CRITICALS = 12, WHIRLS = 8 };
enum { LOOKED_AT = 3 }; /* times running speed: what lies above matters to nobody */

/* ---- working out ----------------------------------------------------------------------------------------------- */

size_t wh_view_whirling_shaft(const struct wh_sheet *sheet, const char **ret_why)
{
    *ret_why = "it has no spindle or shaft";
    for (size_t u = 0; u < sheet->use_count; u++)
        if (sheet->uses[u].study) return sheet->uses[u].thing;
    for (size_t m = 0; m < sheet->missing_count; m++)
        if (wh_same(sheet->missing[m].figure, "first-critical")) *ret_why = sheet->missing[m].why;
    return WH_NONE;
}

static double value_of(const struct wh_sheet *sheet, const char *name)
{
    size_t cell = wh_sheet_cell(sheet, name);
    return cell == WH_NONE ? NAN : sheet->value[cell];
}

enum wh_status wh_view_whirling(struct wh_arena *arena, const struct wh_sheet *sheet, size_t shaft,
                                struct wh_whirling *ret, const char **ret_why)
{
    const struct wh_use *use = wh_sheet_whirling(sheet, shaft);
    *ret_why = "it is not worked out";
    if (!use) return WH_ERR_NO_ANSWER;
    struct wh_rotor_model *full;
    struct wh_rotor *rotor = wh_sheet_rotor(arena, sheet, use);
    enum wh_status status = wh_rotor_make(arena, rotor, &full, ret_why);
    if (status != WH_OK) return status;
    *ret = (struct wh_whirling){.sheet = sheet,
                                .use = use,
                                .shaft = shaft,
                                .speed = sheet->value[use->in[0]],
                                .stamped = value_of(sheet, "machine.stamped-speed"),
                                .rotor = rotor,
                                .model = wh_rotor_reduce(arena, full, WH_STUDY_MODES)};
    size_t found = wh_rotor_criticals(arena, ret->model, CRITICALS, &ret->criticals);
    for (bool above = false; ret->critical_count < found; ret->critical_count++) {
        const struct wh_whirl *critical = &ret->criticals[ret->critical_count];
        if (above && critical->speed > LOOKED_AT * ret->speed) break;
        above |= critical->speed > ret->speed && wh_critical_shakes(critical);
    }
    found = wh_rotor_whirls(arena, ret->model, ret->speed, WHIRLS, &ret->whirls);
    while (ret->whirl_count < found && ret->whirls[ret->whirl_count].speed < LOOKED_AT * ret->speed) ret->whirl_count++;
    return WH_OK;
}

/* ---- saying ---------------------------------------------------------------------------------------------------- */

static const char *in_rpm(struct wh_arena *arena, double speed)
{
    struct wh_form form;
    wh_form_read("rpm", &form);
    return wh_quantity_fixed(arena, speed, &form.unit, 0);
}

static const char *in_mm(struct wh_arena *arena, double way)
{
    struct wh_form form;
    wh_form_read("mm", &form);
    return wh_quantity_fixed(arena, way, &form.unit, 4);
}

static const char *turning_words(double turning)
{
    if (turning > 0.99) return "round with the shaft";
    if (turning < -0.99) return "round against the shaft";
    if (fabs(turning) < 0.1) return "to and fro in a line";
    return turning > 0 ? "in an ellipse with the shaft" : "in an ellipse against the shaft";
}

static const char *from_running(struct wh_arena *arena, double critical, double speed)
{
    double apart = critical / speed - 1;
    return wh_arena_print(arena, "%.0f %% %s running speed", 100 * fabs(apart), apart < 0 ? "below" : "above");
}

/* "It shakes at 665 rpm on the way up …"; how far the nearest on either side are, against the margin. */
static void add_sentences(struct wh_arena *arena, struct wh_tree *list, const struct wh_whirling *w)
{
    size_t below = 0, told = 0;
    for (size_t i = 0; i < w->critical_count; i++)
        below += wh_critical_shakes(&w->criticals[i]) && w->criticals[i].speed <= w->speed;
    if (below == 0)
        wh_tree_add_text(
            arena, list, NULL,
            wh_arena_print(arena, "It runs at %s, below every speed at which it shakes.", in_rpm(arena, w->speed)));
    for (size_t i = 0; i < w->critical_count && told <= below; i++) {
        const struct wh_whirl *critical = &w->criticals[i];
        if (!wh_critical_shakes(critical)) continue;
        bool under = critical->speed <= w->speed;
        told++;
        wh_tree_add_text(arena, list, NULL,
                         wh_arena_print(arena, "%s at %s: it %s. That is %s.",
                                        under ? "It shakes on the way up and down" : "It would shake next",
                                        in_rpm(arena, critical->speed), wh_view_shape(arena, w, critical),
                                        from_running(arena, critical->speed, w->speed)));
    }
    if (!isnan(w->stamped))
        wh_tree_add_text(
            arena, list, NULL,
            wh_arena_print(arena, "The stamped speed is %s; nothing here allows more.", in_rpm(arena, w->stamped)));
}

/* What the figures of separation say about the margin. */
static void add_margin(struct wh_arena *arena, struct wh_tree *list, const struct wh_whirling *w)
{
    static const char *const figures[] = {"separation-below", "separation-above"};
    size_t margin = wh_sheet_figure(w->sheet, w->shaft, "critical-margin");
    if (margin == WH_NONE) return;
    const char *want = wh_view_shown(arena, w->sheet, margin, WH_END_BEST).value;
    bool near = false;
    for (size_t i = 0; i < 2; i++) {
        size_t cell = wh_sheet_figure(w->sheet, w->shaft, figures[i]);
        near |= cell != WH_NONE && w->sheet->value[cell] < w->sheet->value[margin];
    }
    wh_tree_add_text(arena, list, NULL,
                     wh_arena_print(arena,
                                    "Running speed should stand %s off (common practice; no standard sets it for this "
                                    "machine, its maker's word comes first): it %s.",
                                    want, near ? "does not" : "does"));
}

/* Does a mount of rubber hold it? */
static bool on_rubber(const struct wh_whirling *w)
{
    for (size_t i = 0; i < w->use->inputs; i++) {
        size_t thing = w->sheet->cells[w->use->in[i]].thing;
        if (wh_same(w->sheet->machine->things[thing].kind->name, "mount")) return true;
    }
    return false;
}

static void add_limits(struct wh_arena *arena, struct wh_tree *list, const struct wh_whirling *w)
{
    if (on_rubber(w))
        wh_tree_add_text(
            arena, list, NULL,
            "Rubber is stiffer when it is shaken: a speed that hangs on a mount is felt up to 15 % higher.");
    wh_tree_add_text(arena, list, NULL,
                     "Left out: how a hub stiffens the shaft in it, and the frame, which is taken to stand still.");
}

static void add_whirls(struct wh_arena *arena, struct wh_tree *list, const struct wh_whirling *w,
                       const struct wh_whirl whirls[], size_t count, bool critical)
{
    for (size_t i = 0; i < count; i++) {
        struct wh_tree *map = wh_tree_add_new(arena, list, NULL, WH_TREE_MAP);
        wh_tree_add_text(arena, map, "speed", in_rpm(arena, whirls[i].speed));
        wh_tree_add_text(arena, map, "turning", turning_words(whirls[i].turning));
        if (critical) {
            wh_tree_add_truth(arena, map, "shakes", wh_critical_shakes(&whirls[i]));
            wh_tree_add_text(arena, map, "from running", from_running(arena, whirls[i].speed, w->speed));
        } else {
            double share = fabs(whirls[i].damping) < 5e-6 ? 0 : whirls[i].damping;
            wh_tree_add_text(arena, map, "damping",
                             share > 0 || share < 0 ? wh_arena_print(arena, "%.1f %%", 100 * share) : "none stated");
        }
        wh_tree_add_text(arena, map, "shape", wh_view_shape(arena, w, &whirls[i]));
    }
}

static size_t node_at(const struct wh_whirling *w, double at)
{
    const double *z;
    size_t nodes = wh_rotor_nodes(w->model, &z), best = 0;
    for (size_t i = 1; i < nodes; i++)
        if (fabs(z[i] - at) < fabs(z[best] - at)) best = i;
    return best;
}

static void add_bends(struct wh_arena *arena, struct wh_tree *list, const struct wh_whirling *w)
{
    const double *z;
    size_t nodes = wh_rotor_nodes(w->model, &z);
    double *x = WH_NEW(arena, nodes, double), *y = WH_NEW(arena, nodes, double);
    if (w->rotor->pull_count == 0) return;
    wh_rotor_deflection(arena, w->model, x, y);
    for (size_t i = 0; i < w->rotor->support_count + 2; i++) {
        bool end = i >= w->rotor->support_count;
        size_t node = end ? (i == w->rotor->support_count ? 0 : nodes - 1) : node_at(w, w->rotor->supports[i].at);
        size_t thing = end ? w->shaft : wh_view_about(w, "support", i);
        struct wh_tree *map = wh_tree_add_new(arena, list, NULL, WH_TREE_MAP);
        const char *title = w->sheet->machine->things[thing].title;
        wh_tree_add_text(arena, map, "at", end ? wh_arena_print(arena, "end at %.0f mm", z[node] * 1e3) : title);
        wh_tree_add_text(arena, map, "way", in_mm(arena, x[node]));
    }
}

/* Half of the greatest width of the path that a node goes round. */
static double reach(double complex x, double complex y)
{
    double complex with = (x + I * y) / 2, against = (x - I * y) / 2;
    return cabs(with) + cabs(against);
}

static void add_driven(struct wh_arena *arena, struct wh_tree *list, const struct wh_whirling *w,
                       const struct wh_rotor_unbalance *off, double speed)
{
    const double *z;
    size_t nodes = wh_rotor_nodes(w->model, &z);
    double complex *x = WH_NEW(arena, nodes, double complex), *y = WH_NEW(arena, nodes, double complex);
    if (!wh_rotor_response(arena, w->model, speed, off, 1, x, y)) return;
    struct wh_tree *map = wh_tree_add_new(arena, list, NULL, WH_TREE_MAP);
    struct wh_tree *ways = NULL;
    wh_tree_add_text(arena, map, "speed", in_rpm(arena, speed));
    ways = wh_tree_add_new(arena, map, "ways", WH_TREE_LIST);
    for (size_t i = 0; i < w->rotor->support_count; i++) {
        size_t node = node_at(w, w->rotor->supports[i].at);
        struct wh_tree *way = wh_tree_add_new(arena, ways, NULL, WH_TREE_MAP);
        wh_tree_add_text(arena, way, "at", w->sheet->machine->things[wh_view_about(w, "support", i)].title);
        wh_tree_add_text(arena, way, "way", in_mm(arena, reach(x[node], y[node])));
    }
}

void wh_view_add_unbalance(struct wh_arena *arena, struct wh_tree *tree, const struct wh_whirling *w, double size,
                           size_t body)
{
    struct wh_rotor_unbalance off = {w->rotor->bodies[body].middle, size, 0};
    struct wh_tree *map = wh_tree_add_new(arena, tree, "unbalance", WH_TREE_MAP);
    struct wh_form form;
    wh_form_read("g mm", &form);
    wh_tree_add_text(arena, map, "size", wh_quantity_print(arena, size, &form.unit, 4));
    wh_tree_add_text(arena, map, "at", w->sheet->machine->things[wh_view_about(w, "body", body)].title);
    struct wh_tree *list = wh_tree_add_new(arena, map, "driven", WH_TREE_LIST);
    add_driven(arena, list, w, &off, w->speed);
    for (size_t i = 0; i < w->critical_count; i++)
        if (wh_critical_shakes(&w->criticals[i]) && w->criticals[i].speed <= w->speed)
            add_driven(arena, list, w, &off, w->criticals[i].speed);
}

struct wh_tree *wh_view_whirling_tree(struct wh_arena *arena, const struct wh_whirling *w)
{
    struct wh_tree *map = wh_tree_new(arena, WH_TREE_MAP);
    const struct wh_machine *machine = w->sheet->machine;
    wh_tree_add_text(arena, map, "machine", machine->title);
    wh_tree_add_text(arena, map, "shaft", machine->things[w->shaft].title);
    wh_tree_add_text(arena, map, "speed", in_rpm(arena, w->speed));
    struct wh_tree *says = wh_tree_add_new(arena, map, "says", WH_TREE_LIST);
    add_sentences(arena, says, w);
    add_margin(arena, says, w);
    add_limits(arena, says, w);
    add_whirls(arena, wh_tree_add_new(arena, map, "criticals", WH_TREE_LIST), w, w->criticals, w->critical_count, true);
    add_whirls(arena, wh_tree_add_new(arena, map, "whirls", WH_TREE_LIST), w, w->whirls, w->whirl_count, false);
    add_bends(arena, wh_tree_add_new(arena, map, "bends", WH_TREE_LIST), w);
    return map;
}

/* ---- as text --------------------------------------------------------------------------------------------------- */

static const char *text_of(const struct wh_tree *map, const char *key)
{
    return wh_tree_text(map, key, "");
}

static void print_whirls(struct wh_text *text, const struct wh_tree *list, const char *last)
{
    if (!list->first) wh_text_add(text, "  none up to three times its running speed\n");
    for (const struct wh_tree *row = list->first; row; row = row->next)
        wh_text_print(text, "  %10s  %-31s  %-28s  %s\n", text_of(row, "speed"), text_of(row, "turning"),
                      text_of(row, last), text_of(row, "shape"));
}

static void print_unbalance(struct wh_text *text, const struct wh_tree *map)
{
    if (!map) return;
    wh_text_print(text, "\nDriven by %s at the %s\n", text_of(map, "size"), text_of(map, "at"));
    for (const struct wh_tree *row = wh_tree_get(map, "driven")->first; row; row = row->next) {
        wh_text_print(text, "  %10s", text_of(row, "speed"));
        for (const struct wh_tree *way = wh_tree_get(row, "ways")->first; way; way = way->next)
            wh_text_print(text, "  %s %s", text_of(way, "at"), text_of(way, "way"));
        wh_text_print(text, "\n");
    }
}

const char *wh_view_whirling_text(struct wh_arena *arena, const struct wh_tree *tree)
{
    struct wh_text text = {.arena = arena};
    const struct wh_tree *bends = wh_tree_get(tree, "bends");
    wh_text_print(&text, "%s: the %s at %s\n\n", text_of(tree, "machine"), text_of(tree, "shaft"),
                  text_of(tree, "speed"));
    for (const struct wh_tree *says = wh_tree_get(tree, "says")->first; says; says = says->next)
        wh_text_print(&text, "%s\n", says->text);
    wh_text_add(&text, "\nIn step with its turning (critical speeds; one that goes against the shaft is not driven by "
                       "unbalance)\n");
    print_whirls(&text, wh_tree_get(tree, "criticals"), "from running");
    wh_text_add(&text, "\nAt running speed it can whirl, with a share of the damping that would stop it\n");
    print_whirls(&text, wh_tree_get(tree, "whirls"), "damping");
    if (bends->first) wh_text_add(&text, "\nUnder its steady pull it stands off\n");
    for (const struct wh_tree *row = bends->first; row; row = row->next)
        wh_text_print(&text, "  %-24s %s\n", text_of(row, "at"), text_of(row, "way"));
    print_unbalance(&text, wh_tree_get(tree, "unbalance"));
    return wh_text_of(&text);
}
