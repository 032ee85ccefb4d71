/* wharve store: the check of what is kept, and a copy of it. */
#include "cli/desk.h"

#include <inttypes.h>

static enum wh_status check(struct wh_cli *cli, struct wh_desk *desk)
{
    struct wh_store_count count = {0};
    enum wh_status status = wh_desk_check(desk, cli->arena, &count, &cli->errors);
    if (status != WH_OK) return status;
    wh_text_print(&cli->out, "sound: %" PRId64 " chains, %" PRId64 " entries, %" PRId64 " kept files\n", count.chains,
                  count.records, count.files);
    if (count.clock_back)
        wh_text_print(&cli->out,
                      "%" PRId64
                      " entries bear a clock before that of the entry before; the order is that of the numbers\n",
                      count.clock_back);
    wh_text_add(&cli->out, "This finds mishap, not malice: who can write the store can write it anew.\n");
    return WH_OK;
}

static enum wh_status backup(struct wh_cli *cli, struct wh_desk *desk)
{
    if (cli->word_count != 2)
        return wh_cli_error(cli, "wharve store backup copies/monday.db", "name one file for the copy");
    enum wh_status status = wh_desk_backup(desk, cli->arena, cli->words[1], &cli->errors);
    if (status == WH_OK) wh_text_print(&cli->out, "%s\n%s.files\n", cli->words[1], cli->words[1]);
    return status;
}

static enum wh_status run(struct wh_cli *cli)
{
    struct wh_desk *desk;
    const char *word = cli->word_count ? cli->words[0] : "";
    bool copies = wh_same(word, "backup");
    if (!copies && !wh_same(word, "check"))
        return wh_cli_error(cli, "wharve store check, wharve store backup FILE", "a store has no \"%s\"", word);
    enum wh_status status = wh_cli_desk(cli, WH_CLI_DESK_READ, &desk);
    if (status != WH_OK) return status;
    return copies ? backup(cli, desk) : check(cli, desk);
}

const struct wh_command wh_command_store = {
    .name = "store",
    .usage = "store check | backup FILE [--store FILE]",
    .words = "Goes through all that is kept and names the first broken place; or makes a consistent copy, kept files "
             "too, while\n"
             "others go on writing.",
    .example = "wharve store check",
    .options = {{"store", "FILE", "where the jobs are kept; workshop.db when it is not said"}},
    .run = run};
