/* What several commands do alike: read a machine with its figures, write papers. */
#include "base/file.h"
#include "cli/cli.h"
#include "paper/paper.h"

#include <string.h>
#include <sys/types.h>
#include <sys/wait.h>
#include <unistd.h>

static enum wh_status settings_of(struct wh_cli *cli, struct wh_setting **ret, size_t *ret_count)
{
    struct wh_setting *settings = WH_NEW(cli->arena, cli->option_count + 1, struct wh_setting);
    size_t count = 0;
    for (size_t i = 0; i < cli->option_count; i++) {
        if (!wh_same(cli->options[i].key, "set")) continue;
        const char *text = cli->options[i].text, *equals = strchr(text, '=');
        if (!equals)
            return wh_cli_error(cli, "write --set neck-seat.diameter=\"45.006 mm\"", "--set: \"%s\" is not name=value",
                                text);
        const char *name = wh_arena_slice(cli->arena, text, (size_t)(equals - text));
        settings[count++] = (struct wh_setting){name, equals + 1, WH_ORIGIN_SET};
    }
    *ret = settings;
    *ret_count = count;
    return WH_OK;
}

enum wh_status wh_cli_machine(struct wh_cli *cli, struct wh_machine **ret_machine, struct wh_sheet **ret_sheet)
{
    struct wh_machine *machine;
    struct wh_setting *settings = NULL;
    size_t count = 0;
    if (cli->word_count != 1)
        return wh_cli_error(cli, "name one machine file, for example machines/juice-clarifier.yaml",
                            cli->word_count ? "more than one file is named" : "no machine file is named");
    enum wh_status status = wh_machine_read(cli->arena, cli->words[0], &machine, &cli->errors);
    if (status == WH_OK && ret_machine) *ret_machine = machine;
    if (status != WH_OK || !ret_sheet) return status;
    if ((status = settings_of(cli, &settings, &count)) != WH_OK) return status;
    return wh_sheet_make(cli->arena, machine, settings, count, ret_sheet, &cli->errors);
}

struct paper {
    const struct wh_tree *document;
    const char *path;
};

static enum wh_status make_paper(struct wh_arena *arena, void *context)
{
    const struct paper *paper = context;
    struct wh_errors errors = wh_errors_in(arena);
    enum wh_status status = wh_paper_pdf(arena, paper->document, paper->path, &errors);
    const char *text = wh_errors_text(arena, &errors);
    wh_file_print(STDERR_FILENO, text, strlen(text));
    return status;
}

/* Waits for the child; a library that aborted must leave nothing of the file behind. */
static enum wh_status await_child(struct wh_cli *cli, pid_t child, const char *path)
{
    int state;
    if (waitpid(child, &state, 0) == child && WIFEXITED(state)) {
        for (enum wh_status status = WH_OK; status <= WH_ERR_CHILD; status++)
            if (wh_status_exit(status) == WEXITSTATUS(state)) return status;
    }
    wh_file_clear_up(cli->arena, path, (long)child);
    return wh_errors_add(&cli->errors, WH_ERR_CHILD, (struct wh_place){.file = path}, NULL,
                         "the process that makes the paper died; the file is as it was");
}

enum wh_status wh_cli_pdf(struct wh_cli *cli, const struct wh_tree *document, const char *path)
{
    struct paper paper = {document, path};
    pid_t child = fork();
    if (child == 0) _exit(wh_status_exit(wh_arena_run(WH_CLI_MEMORY, make_paper, &paper)));
    if (child < 0)
        return wh_errors_add(&cli->errors, WH_ERR_CHILD, (struct wh_place){.file = path}, NULL,
                             "no process could be started");
    return await_child(cli, child, path);
}

enum wh_status wh_cli_picture(struct wh_cli *cli, const struct wh_scene *scene, const char *path)
{
    size_t n = strlen(path);
    if (n > 4 && wh_same(path + n - 4, ".png")) return wh_paper_png(cli->arena, scene, 8, path, &cli->errors);
    if (n <= 4 || !wh_same(path + n - 4, ".svg"))
        return wh_cli_error(cli, "end the name in .svg or .png", "\"%s\" is no picture this program draws", path);
    struct wh_text svg = {.arena = cli->arena};
    enum wh_status status = wh_paper_svg(cli->arena, scene, &svg);
    return status == WH_OK ? wh_file_write(cli->arena, path, svg.at, svg.count, &cli->errors) : status;
}
