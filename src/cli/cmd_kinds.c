/* wharve kinds: what a machine can be made of: kinds, their keys, figures and steps. */
#include "cli/cli.h"

#include <string.h>

enum { COLUMNS = 4 };

static const char *with_spaces(struct wh_cli *cli, const char *name)
{
    char *text = wh_arena_text(cli->arena, name);
    for (char *c = text; *c; c++) *c = *c == '-' ? ' ' : *c;
    return text;
}

static const char *add_word(struct wh_cli *cli, const char *list, const char *word)
{
    return *list ? wh_arena_print(cli->arena, "%s, %s", list, word) : word;
}

/* What may be written under a key, in words. */
static const char *form_words(struct wh_cli *cli, const struct wh_key *key)
{
    struct wh_form form;
    const char *words = key->form;
    if (wh_starts(key->form, "words ")) {
        struct wh_words choices = wh_split(cli->arena, key->form + strlen("words "), '|');
        words = "";
        for (size_t i = 0; i < choices.count; i++)
            words = i == 0 ? choices.at[i] : wh_arena_print(cli->arena, "%s or %s", words, choices.at[i]);
    } else if (wh_same(key->form, "size")) {
        words = "a size, \"45 mm k5\" or \"45.002..45.013 mm\"";
    } else if (wh_same(key->form, "thing")) {
        words = "the id of a part or feature";
    } else if (wh_same(key->form, "text")) {
        words = "words";
    } else if (wh_form_read(key->form, &form)) {
        words = wh_form_words(cli->arena, &form);
    }
    return key->many ? wh_arena_print(cli->arena, "%s, up to %zu parted by \";\"", words, key->many) : words;
}

/* The name that a rule's input has at this kind: "diameter=bore-nominal" renames it. */
static const char *bound_name(struct wh_cli *cli, const struct wh_kind_rule *bound, const char *input)
{
    struct wh_words pairs = wh_split(cli->arena, bound->with ? bound->with : "", ',');
    size_t n = strlen(input);
    for (size_t i = 0; i < pairs.count; i++)
        if (wh_starts(pairs.at[i], input) && pairs.at[i][n] == '=') return pairs.at[i] + n + 1;
    return input;
}

/* A rule renamed by a kind gives its first result only. */
static size_t figure_count(const struct wh_kind_rule *bound, const struct wh_rule *rule)
{
    return bound->as ? 1 : wh_rule_results(rule);
}

static const char *when_words(struct wh_cli *cli, const struct wh_kind_step *step)
{
    static const char *const when[] = {"taking off", "washing", "fitting"};
    static const char *const only[] = {"", ", renewed", ", kept", ", warm", ", not warm", ", with ", ", without "};
    bool keyed = step->only == WH_ONLY_WITH_KEY || step->only == WH_ONLY_WITHOUT_KEY;
    const char *key = keyed ? with_spaces(cli, step->key) : "";
    return wh_arena_print(cli->arena, "%s%s%s", when[step->when], only[step->only], key);
}

static const char *step_figures(struct wh_cli *cli, const struct wh_kind_step *step)
{
    const char *list = "";
    for (size_t i = 0; i < WH_STEP_FIGURES && step->figures[i]; i++) list = add_word(cli, list, step->figures[i]);
    return list;
}

static const char *step_cautions(struct wh_cli *cli, const struct wh_kind_step *step)
{
    const char *list = "";
    for (size_t i = 0; i < WH_STEP_CAUTIONS && step->cautions[i]; i++) list = add_word(cli, list, step->cautions[i]);
    return list;
}

static struct wh_tree *add_map(struct wh_cli *cli, struct wh_tree *list)
{
    return wh_tree_add_new(cli->arena, list, NULL, WH_TREE_MAP);
}

static void say(struct wh_cli *cli, struct wh_tree *map, const char *key, const char *text)
{
    wh_tree_add_text(cli->arena, map, key, text);
}

static void add_keys(struct wh_cli *cli, struct wh_tree *list, const struct wh_kind *kind)
{
    for (size_t k = 0; k < wh_kind_keys(kind); k++) {
        const struct wh_key *key = &kind->keys[k];
        struct wh_tree *map = add_map(cli, list);
        say(cli, map, "key", with_spaces(cli, key->name));
        say(cli, map, "form", form_words(cli, key));
        say(cli, map, "usual", key->usual ? key->usual : key->needed ? "needed" : "");
        say(cli, map, "title", key->title);
    }
}

static void add_figures(struct wh_cli *cli, struct wh_tree *list, const struct wh_kind *kind)
{
    for (size_t r = 0; r < wh_kind_rules(kind); r++) {
        const struct wh_kind_rule *bound = &kind->rules[r];
        const struct wh_rule *rule = wh_kind_rule(bound);
        const char *takes = "";
        for (size_t i = 0; i < wh_rule_inputs(rule); i++)
            takes = add_word(cli, takes, bound_name(cli, bound, rule->in[i].name));
        for (size_t o = 0; o < figure_count(bound, rule); o++) {
            struct wh_tree *map = add_map(cli, list);
            say(cli, map, "figure", o == 0 && bound->as ? bound->as : rule->out[o].name);
            say(cli, map, "rule", rule->name);
            say(cli, map, "title", rule->out[o].title ? rule->out[o].title : "");
            say(cli, map, "takes", takes);
        }
    }
}

static void add_steps(struct wh_cli *cli, struct wh_tree *list, const struct wh_kind *kind)
{
    for (size_t s = 0; s < wh_kind_steps(kind); s++) {
        struct wh_tree *map = add_map(cli, list);
        say(cli, map, "when", when_words(cli, &kind->steps[s]));
        say(cli, map, "figures", step_figures(cli, &kind->steps[s]));
        say(cli, map, "cautions", step_cautions(cli, &kind->steps[s]));
        say(cli, map, "words", kind->steps[s].words);
    }
}

static void add_kind(struct wh_cli *cli, struct wh_tree *list, const struct wh_kind *kind)
{
    struct wh_tree *map = add_map(cli, list);
    say(cli, map, "name", kind->name);
    say(cli, map, "title", kind->title);
    say(cli, map, "is", kind->part ? "part" : "no part");
    add_keys(cli, wh_tree_add_new(cli->arena, map, "keys", WH_TREE_LIST), kind);
    add_figures(cli, wh_tree_add_new(cli->arena, map, "figures", WH_TREE_LIST), kind);
    add_steps(cli, wh_tree_add_new(cli->arena, map, "steps", WH_TREE_LIST), kind);
}

/* The widest text of a column, for padding. */
static int width_of(const struct wh_tree *list, size_t column, const char *head)
{
    size_t width = strlen(head);
    for (const struct wh_tree *row = list->first; row; row = row->next) {
        const struct wh_tree *cell = row->first;
        for (size_t c = 0; c < column; c++) cell = cell->next;
        size_t n = wh_text_width(cell->text);
        if (n > width) width = n;
    }
    return (int)width;
}

static void print_head(struct wh_cli *cli, const struct wh_tree *list, const char *const heads[], bool markdown)
{
    for (size_t c = 0; c < COLUMNS; c++) {
        if (markdown) wh_text_print(&cli->out, "| %s ", heads[c]);
        else wh_text_print(&cli->out, "  %-*s", c + 1 < COLUMNS ? width_of(list, c, heads[c]) : 0, heads[c]);
    }
    wh_text_add(&cli->out, markdown ? "|\n|---|---|---|---|\n" : "\n");
}

/* A list of maps with four texts each: columns padded, or parted by bars for Markdown. */
static void print_table(struct wh_cli *cli, const struct wh_tree *list, const char *const heads[], bool markdown)
{
    if (list->count == 0) return;
    wh_text_add(&cli->out, "\n");
    print_head(cli, list, heads, markdown);
    for (const struct wh_tree *row = list->first; row; row = row->next) {
        const struct wh_tree *cell = row->first;
        for (size_t c = 0; c < COLUMNS; c++, cell = cell->next) {
            if (markdown) wh_text_print(&cli->out, "| %s ", cell->text);
            else wh_text_print(&cli->out, "  %-*s", c + 1 < COLUMNS ? width_of(list, c, heads[c]) : 0, cell->text);
        }
        wh_text_add(&cli->out, markdown ? "|\n" : "\n");
    }
}

static void print_kind(struct wh_cli *cli, const struct wh_tree *kind, bool markdown)
{
    static const char *const keys[] = {"Key", "What may be written", "Usual", "What it is"};
    static const char *const figures[] = {"Figure", "Rule", "What it is", "From"};
    static const char *const steps[] = {"Step", "Figures", "Cautions", "Words"};
    wh_text_print(&cli->out, markdown ? "\n## %s\n\n%s.\n" : "%s: %s\n", wh_tree_text(kind, "name", ""),
                  wh_tree_text(kind, "title", ""));
    print_table(cli, wh_tree_get(kind, "keys"), keys, markdown);
    print_table(cli, wh_tree_get(kind, "figures"), figures, markdown);
    print_table(cli, wh_tree_get(kind, "steps"), steps, markdown);
    if (!markdown) wh_text_add(&cli->out, "\n");
}

static void print_markdown_head(struct wh_cli *cli)
{
    wh_text_add(&cli->out,
                "# Kinds\n\n"
                "Printed by `wharve kinds --markdown`; not edited by hand. What every part may say besides is in\n"
                "[machine-file.md](machine-file.md). *Usual* is what is taken, and shown as usual, where the file\n"
                "says nothing; *needed* has to be said. *From* names what a figure is worked out from: a key, another\n"
                "figure, or a value of what plays a role (`seat.diameter`). In the words of a step a name in braces\n"
                "is put in from the machine.\n");
}

static enum wh_status run(struct wh_cli *cli)
{
    struct wh_tree *list = wh_tree_new(cli->arena, WH_TREE_LIST);
    bool markdown = wh_cli_option(cli, "markdown") != NULL;
    if (cli->word_count > 1)
        return wh_cli_error(cli, "put quotes round a name of two words: \"lip seal\"", "more than one kind is named");
    for (size_t k = 0; k < wh_kind_count; k++)
        if (cli->word_count == 0 || wh_same(wh_kinds[k]->name, cli->words[0])) add_kind(cli, list, wh_kinds[k]);
    if (list->count == 0)
        return wh_cli_error(cli, "wharve kinds lists them all", "there is no kind \"%s\"", cli->words[0]);
    if (wh_cli_option(cli, "json")) {
        wh_cli_json(cli, list);
        return WH_OK;
    }
    if (markdown && cli->word_count == 0) print_markdown_head(cli);
    for (const struct wh_tree *kind = list->first; kind; kind = kind->next) {
        if (markdown || cli->word_count > 0) print_kind(cli, kind, markdown);
        else wh_text_print(&cli->out, "%-18s %-8s %s\n", wh_tree_text(kind, "name", ""), wh_tree_text(kind, "is", ""),
                           wh_tree_text(kind, "title", ""));
    }
    return WH_OK;
}

const struct wh_command wh_command_kinds = {
    .name = "kinds",
    .usage = "kinds [KIND]",
    .words = "Lists what a machine can be made of; with a kind, its keys in a machine file, its figures with the\n"
             "rules that give them, and the steps it implies.",
    .example = "wharve kinds bearing",
    .options = {{"markdown", NULL, "print the tables for docs/kinds.md"}, {"json", NULL, "print JSON"}},
    .run = run};
