/* wharve rules: the handbook's list of calculations. */
#include "cli/cli.h"
#include "sheet/ask.h"

#include <string.h>

static void print_slot(struct wh_text *out, const char *lead, const struct wh_slot *slot)
{
    wh_text_print(out, "  %-6s %-22s %-10s %-24s %s%s%s\n", lead, slot->name, slot->symbol, slot->range,
                  slot->title ? slot->title : "", slot->usual ? "; usual " : "", slot->usual ? slot->usual : "");
}

static void print_rule(struct wh_cli *cli, const struct wh_rule *rule)
{
    wh_text_print(&cli->out, "%s\n  %s\n", rule->name, rule->formula);
    for (size_t i = 0; i < wh_rule_inputs(rule); i++) print_slot(&cli->out, "takes", &rule->in[i]);
    for (size_t o = 0; o < wh_rule_results(rule); o++) print_slot(&cli->out, "gives", &rule->out[o]);
    wh_text_print(&cli->out, "  from   %s\n", rule->source);
}

static void add_slots(struct wh_cli *cli, struct wh_tree *map, const char *key, const struct wh_slot *slots, size_t n)
{
    struct wh_tree *list = wh_tree_add_new(cli->arena, map, key, WH_TREE_LIST);
    for (size_t i = 0; i < n; i++) {
        struct wh_tree *slot = wh_tree_add_new(cli->arena, list, NULL, WH_TREE_MAP);
        wh_tree_add_text(cli->arena, slot, "name", slots[i].name);
        wh_tree_add_text(cli->arena, slot, "symbol", slots[i].symbol);
        wh_tree_add_text(cli->arena, slot, "range", slots[i].range);
        wh_tree_add_text(cli->arena, slot, "title", slots[i].title ? slots[i].title : "");
        if (slots[i].usual) wh_tree_add_text(cli->arena, slot, "usual", slots[i].usual);
    }
}

static void add_rule(struct wh_cli *cli, struct wh_tree *list, const struct wh_subject *subject,
                     const struct wh_rule *rule)
{
    struct wh_tree *map = wh_tree_add_new(cli->arena, list, NULL, WH_TREE_MAP);
    wh_tree_add_text(cli->arena, map, "name", rule->name);
    wh_tree_add_text(cli->arena, map, "subject", subject->title);
    wh_tree_add_text(cli->arena, map, "formula", rule->formula);
    wh_tree_add_text(cli->arena, map, "source", rule->source);
    add_slots(cli, map, "takes", rule->in, wh_rule_inputs(rule));
    add_slots(cli, map, "gives", rule->out, wh_rule_results(rule));
}

/* A word picks a rule by its name, a subject by its name, or every rule that has the word in its name. */
static bool picked(const struct wh_cli *cli, const struct wh_rule *rule)
{
    for (size_t i = 0; i < cli->word_count; i++)
        if (strstr(rule->name, cli->words[i])) return true;
    return cli->word_count == 0;
}

static enum wh_status run(struct wh_cli *cli)
{
    struct wh_tree *list = wh_tree_new(cli->arena, WH_TREE_LIST);
    bool json = wh_cli_option(cli, "json") != NULL, whole = cli->word_count > 0;
    size_t count = 0;
    for (size_t s = 0; s < wh_subject_count; s++)
        for (size_t r = 0; r < wh_subjects[s]->rule_count; r++) {
            const struct wh_rule *rule = &wh_subjects[s]->rules[r];
            if (!picked(cli, rule)) continue;
            count++;
            if (json)
                add_rule(cli, list, wh_subjects[s], rule);
            else if (whole)
                print_rule(cli, rule);
            else
                wh_text_print(&cli->out, "%-36s %s\n", rule->name, rule->out[0].title ? rule->out[0].title : "");
        }
    if (count == 0)
        return wh_cli_error(cli, "wharve rules lists them all", "no rule has \"%s\" in its name", cli->words[0]);
    if (json) wh_cli_json(cli, list);
    return WH_OK;
}

const struct wh_command wh_command_rules = {.name = "rules",
                                            .usage = "rules [WORD…]",
                                            .words = "Lists the calculations; with a word, those with it in their "
                                                     "name, each with formula, inputs, results and source.",
                                            .example = "wharve rules mounting",
                                            .options = {{"json", NULL, "print JSON"}},
                                            .run = run};
