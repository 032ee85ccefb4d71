/* wharve rules: the handbook's list of calculations. */
#include "cli/cli.h"
#include "base/file.h"
#include "sheet/ask.h"
#include "view/handbook.h"
#include "web/handbook.h"

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

static enum wh_status put_markdown(struct wh_cli *cli, const char *folder, const char *name, const char *text)
{
    return wh_file_write(cli->arena, wh_arena_print(cli->arena, "%s/%s.md", folder, name), text, strlen(text),
                         &cli->errors);
}

static enum wh_status write_markdown(struct wh_cli *cli, const struct wh_tree *book, const char *folder)
{
    enum wh_status status = put_markdown(cli, folder, "README", wh_handbook_index(cli->arena, book));
    if (status == WH_OK) status = put_markdown(cli, folder, "glossary", wh_handbook_glossary(cli->arena, book));
    for (const struct wh_tree *s = wh_tree_get(book, "subjects")->first; s && status == WH_OK; s = s->next)
        status = put_markdown(cli, folder, wh_tree_text(s, "name", ""), wh_handbook_subject(cli->arena, s));
    return status;
}

/* The whole handbook into a folder. */
static enum wh_status write_handbook(struct wh_cli *cli, const char *html, const char *markdown)
{
    struct wh_tree *book = wh_view_handbook(cli->arena);
    const char *count = wh_tree_text(book, "count", "");
    enum wh_status status = markdown ? write_markdown(cli, book, markdown) : WH_OK;
    if (status == WH_OK && html) status = wh_handbook_html(cli->arena, book, html, &cli->errors);
    if (status == WH_OK && html) wh_text_print(&cli->out, "%s rules lie in %s/index.html\n", count, html);
    if (status == WH_OK && markdown) wh_text_print(&cli->out, "%s rules lie in %s/README.md\n", count, markdown);
    return status;
}

static enum wh_status run(struct wh_cli *cli)
{
    const char *html = wh_cli_option(cli, "html"), *markdown = wh_cli_option(cli, "markdown");
    if ((html || markdown) && cli->word_count > 0)
        return wh_cli_error(cli, "leave the words out", "the handbook is written whole");
    if (html || markdown) return write_handbook(cli, html, markdown);
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

const struct wh_command wh_command_rules = {
    .name = "rules",
    .usage = "rules [WORD…] [--html FOLDER] [--markdown FOLDER]",
    .words =
        "Lists the calculations; with a word, those with it in their name, each with formula, inputs, results and\n"
        "source. The handbook of all of them, each with a worked example, goes into a folder.",
    .example = "wharve rules mounting",
    .options = {{"html", "FOLDER", "write the handbook: a page a rule, and an index"},
                {"markdown", "FOLDER", "write the handbook as Markdown: a file a subject, and an index"},
                {"json", NULL, "print JSON"}},
    .run = run};
