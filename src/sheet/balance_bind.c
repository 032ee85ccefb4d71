#include "sheet/balance_bind.h"

#include <math.h>

size_t wh_balance_cell(const struct wh_sheet *figures, size_t thing, const char *name)
{
    const struct wh_given_value *given = wh_thing_value(&figures->machine->things[thing], name);
    return given && given->follows ? wh_sheet_cell(figures, given->follows) : wh_sheet_figure(figures, thing, name);
}

/* A value of a thing, NaN where it has none. */
static double value_of(const struct wh_sheet *figures, size_t thing, const char *name)
{
    size_t cell = wh_balance_cell(figures, thing, name);
    return cell == WH_NONE ? NAN : figures->value[cell];
}

static struct wh_balance_part part_of(const struct wh_sheet *figures, size_t thing)
{
    const struct wh_machine *machine = figures->machine;
    double radius = value_of(figures, thing, "balance-radius"), holes = value_of(figures, thing, "balance-holes");
    double mass = value_of(figures, thing, "mass");
    return (struct wh_balance_part){.title = machine->things[thing].title,
                                    .machine = machine->title,
                                    .allows = wh_balance_allowed(machine, thing),
                                    .mass = isnan(mass) ? machine->things[thing].mass : mass,
                                    .grade = value_of(figures, thing, "balance-grade"),
                                    .radius = isnan(radius) ? value_of(figures, thing, "trial-radius") : radius,
                                    .speed = value_of(figures, 0, "speed"),
                                    .stamped = value_of(figures, 0, "stamped-speed"),
                                    .holes = isnan(holes) ? 0 : (size_t)holes};
}

/* The critical speeds beside the running speed, of whatever turns in the machine. */
static void add_criticals(const struct wh_sheet *figures, struct wh_balance_sheet *sheet)
{
    static const char *const names[] = {"critical-below", "critical-above"};
    for (size_t t = 0; t < figures->machine->thing_count; t++)
        for (size_t n = 0; n < 2; n++) {
            double critical = value_of(figures, t, names[n]);
            if (!isnan(critical) && sheet->criticals < WH_BALANCE_NATURALS)
                sheet->critical[sheet->criticals++] = critical;
        }
}

enum wh_status wh_balance_bind(struct wh_arena *arena, const struct wh_tree *tree, const struct wh_sheet *figures,
                               struct wh_balance_sheet **ret, struct wh_errors *reterr)
{
    const char *id = wh_tree_text(tree, "part", NULL);
    if (!figures) return wh_balance_read(arena, tree, NULL, ret, reterr);
    size_t thing = id ? wh_machine_thing(figures->machine, id) : WH_NONE, count;
    if (thing == WH_NONE) {
        const struct wh_tree *node = wh_tree_get(tree, "part");
        const char **ids = wh_machine_ids(arena, figures->machine, &count);
        const char *nearest = id ? wh_nearest(id, ids, count) : NULL;
        return wh_errors_add(reterr, WH_ERR_INPUT, node ? node->place : tree->place,
                             nearest ? wh_arena_print(arena, "did you mean \"%s\"?", nearest) : "part: fan-wheel",
                             id ? "there is no part \"%s\" in %s" : "it is not said which part is balanced%s%s",
                             id ? id : "", id ? figures->machine->title : "");
    }
    struct wh_balance_part part = part_of(figures, thing);
    enum wh_status status = wh_balance_read(arena, tree, &part, ret, reterr);
    if (status == WH_OK) add_criticals(figures, *ret);
    return status;
}
