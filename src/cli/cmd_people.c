/* wharve people: who may sign in to the pages, and what they may do. */
#include "base/file.h"
#include "cli/desk.h"

#include <string.h>
#include <unistd.h>

enum { SHORTEST = 4, LONGEST = 200 };

static enum wh_status add_people(struct wh_arena *arena, struct wh_desk_look *look)
{
    struct wh_tree *list = wh_tree_add_new(arena, look->context, "people", WH_TREE_LIST);
    for (size_t i = 0; i < look->workshop->people.count; i++) {
        const struct wh_workshop_person *person = &look->workshop->people.at[i];
        if (wh_same(person->role, "gone")) continue;
        struct wh_tree *item = wh_tree_add_new(arena, list, NULL, WH_TREE_MAP);
        wh_tree_add_text(arena, item, "name", wh_arena_text(arena, person->name));
        wh_tree_add_text(arena, item, "role", wh_arena_text(arena, person->role));
    }
    return WH_OK;
}

static enum wh_status list(struct wh_cli *cli)
{
    struct wh_desk *desk;
    struct wh_tree *map = wh_tree_new(cli->arena, WH_TREE_MAP);
    struct wh_desk_look look = {.context = map, .body = add_people};
    enum wh_status status = wh_cli_desk(cli, WH_CLI_DESK_READ, &desk);
    if (status == WH_OK) status = wh_desk_workshop(desk, cli->arena, &look, &cli->errors);
    if (status != WH_OK) return status;
    if (wh_cli_option(cli, "json")) {
        wh_cli_json(cli, map);
        return WH_OK;
    }
    for (const struct wh_tree *p = wh_tree_get(map, "people")->first; p; p = p->next)
        wh_text_print(&cli->out, "  %-24s %s\n", wh_tree_text(p, "name", ""), wh_tree_text(p, "role", ""));
    return WH_OK;
}

/* The first line of standard input: so that the word stands in no list of commands. */
static enum wh_status read_word(struct wh_cli *cli, const char **ret)
{
    char *bytes;
    size_t size;
    static const char ask[] = "PIN or pass phrase: ";
    if (isatty(STDIN_FILENO)) wh_file_print(STDERR_FILENO, ask, sizeof ask - 1);
    enum wh_status status = wh_file_read(cli->arena, "/dev/stdin", LONGEST, &bytes, &size, &cli->errors);
    if (status != WH_OK) return status;
    size_t n = strcspn(bytes, "\r\n");
    bytes[n] = 0;
    if (n < SHORTEST || !wh_text_is_plain(bytes, n))
        return wh_cli_error(cli, "write it on a line of standard input",
                            "a PIN or pass phrase has %d characters or more", SHORTEST);
    *ret = bytes;
    return WH_OK;
}

static enum wh_status enter(struct wh_cli *cli)
{
    struct wh_desk *desk;
    struct wh_answer answer;
    const char *role = wh_cli_option(cli, "role"), *word = "";
    struct wh_tree *said = wh_tree_new(cli->arena, WH_TREE_MAP);
    enum wh_status status = WH_OK;
    if (!role) return wh_cli_error(cli, "reader, fitter, charge hand or gone", "--role is missing");
    if (cli->word_count != 1) return wh_cli_error(cli, "put quotes round it", "a name is one word of the line");
    wh_tree_add_text(cli->arena, said, "name", cli->words[0]);
    wh_tree_add_text(cli->arena, said, "role", role);
    if (!wh_same(role, "gone")) {
        status = read_word(cli, &word);
        if (status == WH_OK) wh_tree_add_text(cli->arena, said, "hash", wh_word_hash(cli->arena, word));
    }
    const char *who = wh_cli_option(cli, "who");
    struct wh_entry entry = {
        .who = who ? who : cli->words[0], .key = wh_key_new(cli->arena), .kind = "person", .said = said, .seen = -1};
    if (status == WH_OK) status = wh_cli_desk(cli, WH_CLI_DESK_WRITE, &desk);
    if (status == WH_OK) status = wh_desk_submit(desk, cli->arena, &entry, true, &answer, &cli->errors);
    if (status == WH_OK)
        wh_text_print(&cli->out, "%s %s\n", cli->words[0], wh_same(role, "gone") ? "signs in no more" : "may sign in");
    return status;
}

static enum wh_status run(struct wh_cli *cli)
{
    return cli->word_count ? enter(cli) : list(cli);
}

const struct wh_command wh_command_people = {
    .name = "people",
    .usage = "people [NAME --role ROLE] [--store FILE]",
    .words =
        "Lists who may sign in to the pages, or sets somebody up: a reader, a fitter, or a charge hand who decides and "
        "signs.\nThe PIN or pass phrase is read from standard input.",
    .example = "wharve people \"A. Fitter\" --role fitter",
    .options = {{"role", "ROLE", "reader, fitter, charge hand; gone: signs in no more"},
                {"who", "NAME", "who enters it"},
                {"store", "FILE", "where the jobs are kept; workshop.db when it is not said"},
                {"json", NULL, "prints JSON"}},
    .run = run};
