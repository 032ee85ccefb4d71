/* wharve work: one rule of the handbook, for values given on the line. */
#include "cli/cli.h"
#include "sheet/ask.h"
#include "view/figure.h"

#include <math.h>
#include <string.h>

static const struct wh_rule *find_rule(struct wh_cli *cli, const char *name)
{
    const struct wh_rule *rule = wh_rule_find(name);
    if (rule) return rule;
    WH_LIST(const char *) names = {0};
    for (size_t s = 0; s < wh_subject_count; s++)
        for (size_t r = 0; r < wh_subjects[s]->rule_count; r++)
            *WH_PUSH(cli->arena, &names) = wh_subjects[s]->rules[r].name;
    const char *nearest = wh_nearest(name, names.at, names.count);
    wh_cli_error(cli, nearest ? wh_arena_print(cli->arena, "did you mean \"%s\"?", nearest) : "see wharve rules",
                 "there is no rule \"%s\"", name);
    return NULL;
}

static void list_inputs(struct wh_cli *cli, const struct wh_rule *rule)
{
    struct wh_text text = {.arena = cli->arena};
    for (size_t i = 0; i < wh_rule_inputs(rule); i++) {
        const struct wh_slot *slot = &rule->in[i];
        struct wh_form form;
        wh_form_read(slot->range, &form);
        wh_text_print(&text, "%s%-20s %s, %s%s%s%s", i ? "\n  " : "", slot->name, slot->title,
                      wh_form_words(cli->arena, &form), slot->usual ? ", usual " : "", slot->usual ? slot->usual : "",
                      slot->many ? ", a list of readings" : "");
    }
    wh_cli_error(cli, wh_text_of(&text), "%s takes:", rule->name);
}

static enum wh_status read_given(struct wh_cli *cli, struct wh_given *given)
{
    for (size_t i = 1; i < cli->word_count; i++) {
        const char *equals = strchr(cli->words[i], '=');
        if (!equals)
            return wh_cli_error(cli, "write name=value, with quotes round a value that has a space",
                                "\"%s\" is not name=value", cli->words[i]);
        given[i - 1] = (struct wh_given){
            wh_arena_slice(cli->arena, cli->words[i], (size_t)(equals - cli->words[i])), equals + 1, {0}};
    }
    return WH_OK;
}

/* Can a result be printed in this unit? A difference of temperature has no degC or degF. */
static bool fits(const struct wh_unit *unit, const struct wh_form *form)
{
    return !form->vocabulary && wh_dimension_same(unit->dimension, form->unit.dimension) &&
           !(unit->offset > 0 && form->unit.offset <= 0);
}

/* Puts the results that --in fits into its unit. */
static enum wh_status choose_unit(struct wh_cli *cli, struct wh_asked *asked)
{
    const char *in = wh_cli_option(cli, "in");
    struct wh_unit unit;
    size_t count = 0;
    if (!in) return WH_OK;
    if (!wh_unit_read(in, strlen(in), &unit))
        return wh_cli_error(cli, NULL, "--in: \"%s\" is no unit that is known here", in);
    for (size_t o = 0; o < asked->results; o++)
        if (fits(&unit, &asked->out[o].form)) {
            asked->out[o].form.unit = unit;
            count++;
        }
    const struct wh_form *first = &asked->out[0].form;
    if (count > 0) return WH_OK;
    if (first->vocabulary) return wh_cli_error(cli, NULL, "--in: the result is a %s", first->vocabulary->title);
    bool difference = wh_dimension_same(unit.dimension, first->unit.dimension);
    return wh_cli_error(cli, difference ? "ask for it in K" : NULL, "--in: \"%s\" is %s, the result is %s", in,
                        wh_dimension_words(cli->arena, unit.dimension),
                        difference ? "a difference of temperature"
                                   : wh_dimension_words(cli->arena, first->unit.dimension));
}

static void add_number(struct wh_cli *cli, struct wh_tree *map, const struct wh_form *form, double value)
{
    if (form->vocabulary) {
        wh_tree_add_text(cli->arena, map, "value", wh_form_print(cli->arena, form, value, 0));
        return;
    }
    wh_tree_add_number(cli->arena, map, "value", (value - form->unit.offset) / form->unit.factor);
    wh_tree_add_text(cli->arena, map, "unit", wh_arena_slice(cli->arena, form->unit.name, form->unit.length));
    wh_tree_add_number(cli->arena, map, "si", value);
}

static void print_json(struct wh_cli *cli, const struct wh_asked *asked)
{
    struct wh_tree *map = wh_tree_new(cli->arena, WH_TREE_MAP);
    add_number(cli, map, &asked->out[0].form, asked->out[0].best);
    wh_tree_add_text(cli->arena, map, "remark", asked->remark ? asked->remark : "");
    wh_tree_add_number(cli->arena, map, "standard uncertainty", asked->out[0].u);
    struct wh_tree *results = wh_tree_add_new(cli->arena, map, "results", WH_TREE_MAP);
    for (size_t o = 0; o < asked->results; o++) {
        struct wh_tree *result = wh_tree_add_new(cli->arena, results, asked->out[o].slot->name, WH_TREE_MAP);
        add_number(cli, result, &asked->out[o].form, asked->out[o].best);
        wh_tree_add_number(cli->arena, result, "least", asked->out[o].least);
        wh_tree_add_number(cli->arena, result, "most", asked->out[o].most);
        wh_tree_add_number(cli->arena, result, "standard uncertainty", asked->out[o].u);
    }
    if (wh_cli_option(cli, "working"))
        wh_tree_add(cli->arena, map, "working", wh_view_asked_working(cli->arena, asked));
    wh_cli_json(cli, map);
}

/* The first result alone on its line, the others named after it; so that `value unit` greps. */
static void print_text(struct wh_cli *cli, const struct wh_asked *asked)
{
    for (size_t o = 0; o < asked->results; o++) {
        const struct wh_asked_result *r = &asked->out[o];
        const char *span = wh_view_span(cli->arena, &r->form, r->least, r->most, r->u);
        wh_text_add(&cli->out, wh_view_result(cli->arena, r));
        if (*span) wh_text_print(&cli->out, "  (%s)", span);
        if (asked->results > 1) wh_text_print(&cli->out, "  %s", r->slot->name);
        wh_text_add(&cli->out, "\n");
    }
    if (asked->remark) wh_text_print(&cli->out, "note: %s\n", asked->remark);
    if (wh_cli_option(cli, "working"))
        wh_text_add(&cli->out, wh_view_working_text(cli->arena, wh_view_asked_working(cli->arena, asked)));
}

static enum wh_status run_trials(struct wh_cli *cli, const struct wh_asked *asked)
{
    size_t cells[WH_RULE_OUT];
    for (size_t o = 0; o < asked->results; o++) cells[o] = asked->inputs + o;
    return wh_cli_trials(cli, wh_ask_sheet(cli->arena, asked), cells, asked->results, true);
}

static enum wh_status run(struct wh_cli *cli)
{
    if (cli->word_count == 0) return wh_cli_error(cli, "see wharve rules", "no rule is named");
    const struct wh_rule *rule = find_rule(cli, cli->words[0]);
    struct wh_given *given = WH_NEW(cli->arena, cli->word_count, struct wh_given);
    struct wh_asked *asked = WH_NEW(cli->arena, 1, struct wh_asked);
    if (!rule) return WH_ERR_INPUT;
    enum wh_status status = read_given(cli, given);
    if (status == WH_OK) status = wh_ask(cli->arena, rule, given, cli->word_count - 1, asked, &cli->errors);
    if (status != WH_OK) {
        list_inputs(cli, rule);
        return status;
    }
    if ((status = choose_unit(cli, asked)) != WH_OK) return status;
    if (wh_cli_option(cli, "trials")) return run_trials(cli, asked);
    if (wh_cli_option(cli, "json"))
        print_json(cli, asked);
    else
        print_text(cli, asked);
    return isnan(asked->out[0].best) ? WH_ERR_NO_ANSWER : WH_OK;
}

const struct wh_command wh_command_work = {
    .name = "work",
    .usage = "work RULE name=value… [--in UNIT] [--working] [--trials COUNT]",
    .words = "Works one rule of the handbook. A value is exact (\"30 mm\"), between two (\"30.008..30.012 mm\") or a "
             "reading with its\n"
             "expanded uncertainty (\"30.010 +- 0.002 mm\"). Units are SI or inch\n"
             "(in, ft, mil, lbf, lbf in, psi, degF …). A missing or wrong value lists what the rule takes.",
    .example = "wharve work bearing.mounting-temperature interference=\"21 um\" diameter=\"30 mm\" --working",
    .options = {{"in", "UNIT", "print the results of its kind in this unit"},
                {"working", NULL, "with the working in five lines"},
                WH_CLI_TRIALS_OPTIONS,
                {"json", NULL, "print JSON: value, unit, si, remark"}},
    .run = run};
