/* Finds the inputs of every rule of every thing: see sheet.h. */
#include "base/text.h"
#include "sheet/settings.h"
#include "sheet/turning.h"

#include <math.h>
#include <string.h>

struct binder {
    struct wh_arena *arena;
    const struct wh_machine *machine;
    struct wh_errors *errors;
    struct wh_settings settings;
    WH_LIST(struct wh_cell) cells;
    WH_LIST(struct wh_use) uses;
    WH_LIST(struct wh_missing) missing;
    unsigned char *state; /* of each rule of each thing: see enum state */
};

enum state { STATE_NEW, STATE_OPEN, STATE_BOUND, STATE_MISSING };

static unsigned char *state_of(struct binder *binder, size_t thing, size_t rule)
{
    return &binder->state[thing * WH_KIND_RULES + rule];
}

static const char *cell_name(struct binder *binder, size_t thing, const char *value)
{
    return wh_arena_print(binder->arena, "%s.%s", binder->machine->things[thing].id, value);
}

static size_t find_cell(const struct binder *binder, size_t thing, const char *value)
{
    size_t n = strlen(binder->machine->things[thing].id);
    for (size_t c = 0; c < binder->cells.count; c++)
        if (binder->cells.at[c].thing == thing && strcmp(binder->cells.at[c].name + n + 1, value) == 0) return c;
    return WH_NONE;
}

static size_t add_cell(struct binder *binder, struct wh_cell cell)
{
    *WH_PUSH(binder->arena, &binder->cells) = cell;
    return binder->cells.count - 1;
}

static const char *key_title(const struct wh_thing *thing, const char *name)
{
    const struct wh_key *key = wh_kind_key(thing->kind, name);
    return key ? key->title : name;
}

/* The rule of a kind whose result has this name, and which result. */
static size_t maker_of(const struct wh_kind *kind, const char *name, size_t *ret_result)
{
    for (size_t r = 0; r < wh_kind_rules(kind); r++) {
        const struct wh_rule *rule = wh_kind_rule(&kind->rules[r]);
        for (size_t o = 0; rule && o < wh_rule_results(rule); o++) {
            const char *as = o == 0 && kind->rules[r].as ? kind->rules[r].as : rule->out[o].name;
            bool renamed_other = o > 0 && kind->rules[r].as;
            if (!renamed_other && strcmp(as, name) == 0) {
                *ret_result = o;
                return r;
            }
        }
    }
    return WH_NONE;
}

static size_t bind_rule(struct binder *binder, size_t thing, size_t r);
static size_t resolve(struct binder *binder, size_t thing, const char *name, const char **why);

/* A value that follows nothing is told once, however many rules take it. */
static bool told(const struct binder *binder, const struct wh_given_value *value)
{
    for (const struct wh_error *e = binder->errors->first; e; e = e->next)
        if (e->place.line == value->place.line && e->place.column == value->place.column &&
            wh_same(e->place.file, value->place.file))
            return true;
    return false;
}

/* As the key stands in the file. */
static const char *as_written(struct binder *binder, const char *name)
{
    char *text = wh_arena_text(binder->arena, name);
    for (char *c = text; *c; c++) *c = *c == '-' ? ' ' : *c;
    return text;
}

/* "as spindle.mount-load": the cell of that figure, which must be of the same kind of unit. */
static size_t follow(struct binder *binder, const struct wh_given_value *value, const char **why)
{
    const char *dot = strchr(value->follows, '.'), *reason = NULL;
    size_t n = dot ? (size_t)(dot - value->follows) : 0;
    size_t thing = dot ? wh_machine_thing(binder->machine, wh_arena_slice(binder->arena, value->follows, n)) : WH_NONE;
    size_t cell = thing == WH_NONE ? WH_NONE : resolve(binder, thing, dot + 1, &reason);
    if (reason) *why = reason;
    if (told(binder, value)) return cell;
    if (cell == WH_NONE && !reason) {
        wh_errors_add(binder->errors, WH_ERR_INPUT, value->place, "write \"as spindle.mount-load\"",
                      "%s: there is no figure \"%s\"", as_written(binder, value->name), value->follows);
    } else if (cell != WH_NONE &&
               !wh_dimension_same(binder->cells.at[cell].form.unit.dimension, value->form.unit.dimension)) {
        wh_errors_add(binder->errors, WH_ERR_INPUT, value->place, NULL, "%s: \"%s\" is %s, not %s",
                      as_written(binder, value->name), value->follows,
                      wh_dimension_words(binder->arena, binder->cells.at[cell].form.unit.dimension),
                      wh_dimension_words(binder->arena, value->form.unit.dimension));
    }
    return cell;
}

static size_t given_cell(struct binder *binder, size_t thing, const struct wh_given_value *value, size_t i)
{
    const char *name = value->count > 1 ? wh_arena_print(binder->arena, "%s-%zu", value->name, i + 1) : value->name;
    size_t found = find_cell(binder, thing, name);
    if (found != WH_NONE) return found;
    return add_cell(binder, (struct wh_cell){.name = cell_name(binder, thing, name),
                                             .title = key_title(&binder->machine->things[thing], value->name),
                                             .thing = thing,
                                             .form = value->form,
                                             .origin = value->origin,
                                             .given = value->at[i],
                                             .source = value->source,
                                             .written = value->written,
                                             .use = WH_NONE});
}

/* A value set from outside goes before everything. */
static size_t set_cell(struct binder *binder, size_t thing, const char *name)
{
    size_t found = find_cell(binder, thing, name);
    const struct wh_set *set = wh_settings_find(&binder->settings, thing, name);
    if (!set) return WH_NONE;
    if (found != WH_NONE) return found;
    return add_cell(binder, (struct wh_cell){.name = cell_name(binder, thing, name),
                                             .title = key_title(&binder->machine->things[thing], name),
                                             .thing = thing,
                                             .form = set->form,
                                             .origin = set->origin,
                                             .given = set->value,
                                             .written = set->text,
                                             .use = WH_NONE});
}

/* The cell of a thing's own value: set, given, a figure, usual. */
static size_t own(struct binder *binder, size_t thing, const char *name, const char **why)
{
    const struct wh_thing *t = &binder->machine->things[thing];
    const struct wh_given_value *value = wh_thing_value(t, name);
    size_t result, cell = set_cell(binder, thing, name);
    if (cell != WH_NONE) return cell;
    if (value && value->follows) return follow(binder, value, why);
    if (value && value->origin != WH_ORIGIN_USUAL) return given_cell(binder, thing, value, 0);
    size_t maker = maker_of(t->kind, name, &result);
    if (maker != WH_NONE) {
        size_t use = bind_rule(binder, thing, maker);
        if (use != WH_NONE) return binder->uses.at[use].out[result];
        *why = wh_arena_print(binder->arena, "%s is not worked out either", name);
    }
    return value ? given_cell(binder, thing, value, 0) : WH_NONE;
}

static size_t resolve(struct binder *binder, size_t thing, const char *name, const char **why)
{
    const char *dot = strchr(name, '.');
    if (!dot) return own(binder, thing, name, why);
    const char *role = wh_arena_slice(binder->arena, name, (size_t)(dot - name));
    size_t neighbour = wh_thing_role(binder->machine, thing, role);
    if (neighbour == WH_NONE) {
        *why = wh_arena_print(binder->arena, "no \"%s\" is named", role);
        return WH_NONE;
    }
    return own(binder, neighbour, dot + 1, why);
}

static size_t usual_cell(struct binder *binder, size_t thing, const struct wh_slot *slot, const char *name)
{
    const char *last = strrchr(name, '.');
    name = last ? last + 1 : name;
    size_t found = find_cell(binder, thing, name);
    if (found != WH_NONE) return found;
    struct wh_cell cell = {.name = cell_name(binder, thing, name),
                           .title = slot->title,
                           .thing = thing,
                           .origin = WH_ORIGIN_USUAL,
                           .written = slot->usual,
                           .use = WH_NONE};
    wh_form_read(slot->range, &cell.form);
    wh_form_value(&cell.form, name, slot->usual, (struct wh_place){0}, &cell.given, binder->errors);
    return add_cell(binder, cell);
}

/* Adds a cell to the inputs of a use, with the slot it stands for. */
static void add_input(struct wh_use *use, const struct wh_slot *slot, size_t about, size_t cell)
{
    struct wh_form form;
    wh_form_read(slot->range, &form);
    use->slot[use->inputs] = slot;
    use->about[use->inputs] = about;
    use->least[use->inputs] = form.vocabulary ? -INFINITY : form.least;
    use->most[use->inputs] = form.vocabulary ? INFINITY : form.most;
    use->in[use->inputs++] = cell;
}

/* Adds the cells of one input to a use; false when it is missing. A list of readings fills several inputs. */
static bool bind_input(struct binder *binder, struct wh_use *use, const struct wh_slot *slot, const char *with,
                       const char **why)
{
    const char *name = wh_bound_name(binder->arena, with, slot->name);
    const struct wh_given_value *given = wh_thing_value(&binder->machine->things[use->thing], name);
    size_t count = slot->many && given ? given->count : 1;
    for (size_t i = 0; i < count && use->inputs < WH_RULE_COLUMNS; i++) {
        const char *reason = NULL;
        bool listed = given && count > 1;
        size_t cell = listed ? given_cell(binder, use->thing, given, i) : resolve(binder, use->thing, name, &reason);
        if (cell == WH_NONE && slot->usual && !(given && given->follows))
            cell = usual_cell(binder, use->thing, slot, name);
        if (cell == WH_NONE) {
            *why = wh_arena_print(binder->arena, "it needs %s (%s)%s%s", name, slot->title, reason ? ": " : "",
                                  reason ? reason : "");
            return false;
        }
        add_input(use, slot, WH_NONE, cell);
    }
    return true;
}

/* What a study takes of the things about the one it is bound to, "of: spindle"; false when something is missing. */
static bool bind_about(struct binder *binder, struct wh_use *use, const char **why)
{
    const struct wh_machine *machine = binder->machine;
    for (size_t t = 0; t < machine->thing_count; t++) {
        const struct wh_thing *thing = &machine->things[t];
        if (!wh_stands_about(machine, t, use->thing)) continue;
        for (size_t v = 0; v < thing->value_count; v++) {
            const struct wh_slot *slot = wh_study_about(use->study, thing->values[v].name);
            size_t cell = slot ? own(binder, t, slot->name, why) : WH_NONE;
            if (cell == WH_NONE && slot) return false;
            if (cell == WH_NONE) continue;
            if (use->inputs == WH_RULE_COLUMNS) *why = "more bodies and supports are placed on it than it can take";
            if (*why) return false;
            add_input(use, slot, t, cell);
        }
    }
    use->seen = WH_NEW(binder->arena, WH_RULE_COLUMNS + WH_RULE_OUT, double);
    return true;
}

/* All inputs of a use; false when one is missing. */
static bool bind_inputs(struct binder *binder, struct wh_use *use, const char *with, const char **why)
{
    if (use->study) *why = wh_about_lacks(binder->arena, binder->machine, use->thing);
    if (*why) return false;
    for (size_t i = 0; i < wh_rule_inputs(use->rule); i++)
        if (!bind_input(binder, use, &use->rule->in[i], with, why)) return false;
    return !use->study || bind_about(binder, use, why);
}

static void add_missing(struct binder *binder, size_t thing, const char *figure, const char *why)
{
    *WH_PUSH(binder->arena, &binder->missing) = (struct wh_missing){thing, figure, why};
}

static void add_results(struct binder *binder, struct wh_use *use, const struct wh_kind_rule *bound, size_t index)
{
    use->results = wh_rule_results(use->rule);
    for (size_t o = 0; o < use->results; o++) {
        const struct wh_slot *slot = &use->rule->out[o];
        const char *name = bound->as
                               ? (o == 0 ? bound->as : wh_arena_print(binder->arena, "%s-%s", bound->as, slot->name))
                               : slot->name;
        struct wh_cell cell = {.name = cell_name(binder, use->thing, name),
                               .title = o == 0 && bound->title ? bound->title : slot->title,
                               .thing = use->thing,
                               .origin = WH_ORIGIN_COMPUTED,
                               .use = index};
        wh_form_read(slot->range, &cell.form);
        wh_form_take(&cell.form, &binder->cells.at[use->in[0]].form, NULL);
        use->out[o] = add_cell(binder, cell);
    }
}

/* Binds a rule of a thing and, before it, those it hangs on. The place of its use, WH_NONE when an input is missing. */
static size_t bind_rule(struct binder *binder, size_t thing, size_t r)
{
    const struct wh_kind_rule *bound = &binder->machine->things[thing].kind->rules[r];
    unsigned char *state = state_of(binder, thing, r);
    const char *why = NULL;
    struct wh_use use = {.rule = wh_kind_rule(bound), .study = wh_study_find(bound->rule), .thing = thing};
    const char *figure = bound->as ? bound->as : use.rule->out[0].name;
    if (*state == STATE_BOUND) {
        for (size_t u = 0; u < binder->uses.count; u++)
            for (size_t o = 0; o < binder->uses.at[u].results; o++)
                if (binder->uses.at[u].thing == thing &&
                    strcmp(binder->cells.at[binder->uses.at[u].out[o]].name, cell_name(binder, thing, figure)) == 0)
                    return u;
    }
    if (*state == STATE_OPEN) add_missing(binder, thing, figure, "it waits for itself");
    if (*state != STATE_NEW) return WH_NONE;
    *state = STATE_OPEN;
    if (!bind_inputs(binder, &use, bound->with, &why)) {
        *state = STATE_MISSING;
        add_missing(binder, thing, figure, why);
        return WH_NONE;
    }
    *state = STATE_BOUND;
    size_t index = binder->uses.count;
    add_results(binder, &use, bound, index);
    *WH_PUSH(binder->arena, &binder->uses) = use;
    return index;
}

/* A figure is not worked out where the file, or a setting, states it. */
static bool is_stated(struct binder *binder, size_t thing, size_t r)
{
    const struct wh_kind_rule *bound = &binder->machine->things[thing].kind->rules[r];
    const struct wh_rule *rule = wh_kind_rule(bound);
    const char *figure = bound->as ? bound->as : rule->out[0].name, *why;
    const struct wh_given_value *value = wh_thing_value(&binder->machine->things[thing], figure);
    if (set_cell(binder, thing, figure) != WH_NONE) return true;
    if (!value || value->origin == WH_ORIGIN_USUAL) return false;
    return own(binder, thing, figure, &why) != WH_NONE;
}

/* What is set, and what the file gives and no rule took: steps and checks may name it. */
static void add_given(struct binder *binder)
{
    for (size_t s = 0; s < binder->settings.count; s++)
        set_cell(binder, binder->settings.at[s].thing, binder->settings.at[s].name);
    for (size_t t = 0; t < binder->machine->thing_count; t++) {
        const struct wh_thing *thing = &binder->machine->things[t];
        for (size_t v = 0; v < thing->value_count; v++)
            if (thing->values[v].count == 1 && !thing->values[v].follows &&
                !wh_settings_find(&binder->settings, t, thing->values[v].name))
                given_cell(binder, t, &thing->values[v], 0);
    }
}

/* A figure that is not worked out is no longer missing where a usual value stands for it. */
static void drop_replaced(struct binder *binder)
{
    size_t kept = 0;
    for (size_t m = 0; m < binder->missing.count; m++)
        if (find_cell(binder, binder->missing.at[m].thing, binder->missing.at[m].figure) == WH_NONE)
            binder->missing.at[kept++] = binder->missing.at[m];
    binder->missing.count = kept;
}

static struct wh_sheet *sheet_of(struct binder *binder)
{
    struct wh_sheet *sheet = WH_NEW(binder->arena, 1, struct wh_sheet);
    size_t n = binder->cells.count;
    double *numbers = WH_NEW(binder->arena, 4 * n + 1, double);
    *sheet = (struct wh_sheet){.arena = binder->arena,
                               .machine = binder->machine,
                               .cells = binder->cells.at,
                               .cell_count = n,
                               .uses = binder->uses.at,
                               .use_count = binder->uses.count,
                               .missing = binder->missing.at,
                               .missing_count = binder->missing.count,
                               .value = numbers,
                               .least = numbers + n,
                               .most = numbers + 2 * n,
                               .u = numbers + 3 * n};
    return sheet;
}

enum wh_status wh_sheet_make(struct wh_arena *arena, const struct wh_machine *machine,
                             const struct wh_setting settings[], size_t setting_count, struct wh_sheet **ret,
                             struct wh_errors *reterr)
{
    struct binder *binder = WH_NEW(arena, 1, struct binder);
    size_t before = reterr->count;
    *binder = (struct binder){.arena = arena,
                              .machine = machine,
                              .errors = reterr,
                              .state = WH_NEW(arena, machine->thing_count * WH_KIND_RULES, unsigned char)};
    if (wh_settings_read(arena, machine, settings, setting_count, &binder->settings, reterr) != WH_OK)
        return WH_ERR_INPUT;
    for (size_t t = 0; t < machine->thing_count; t++)
        for (size_t r = 0; r < wh_kind_rules(machine->things[t].kind); r++)
            if (!is_stated(binder, t, r)) bind_rule(binder, t, r);
    add_given(binder);
    drop_replaced(binder);
    if (reterr->count > before) return WH_ERR_INPUT;
    struct wh_sheet *sheet = sheet_of(binder);
    wh_sheet_settle(sheet);
    wh_sheet_spread(sheet, arena);
    *ret = sheet;
    return WH_OK;
}
