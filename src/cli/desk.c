#include "cli/desk.h"

#include "base/file.h"
#include "view/job.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

/* The wall clock; WHARVE_CLOCK (milliseconds since 1970) stands in for it in tests. */
int64_t wh_cli_clock(void *context)
{
    (void)context;
    struct timespec now;
    double set;
    const char *text = getenv("WHARVE_CLOCK"), *rest = text ? wh_number_read(text, &set) : NULL;
    if (rest && !*rest && fabs(set) < 9e15) return (int64_t)set;
    if (clock_gettime(CLOCK_REALTIME, &now) != 0) return 0;
    return (int64_t)now.tv_sec * 1000 + now.tv_nsec / 1000000;
}

/* Which rules the figures of this program come from: the hash of their printed forms. */
static const char *rules_of(struct wh_arena *arena)
{
    struct wh_text text = {.arena = arena};
    for (size_t s = 0; s < wh_subject_count; s++)
        for (size_t r = 0; r < wh_subjects[s]->rule_count; r++)
            wh_text_print(&text, "%s: %s\n", wh_subjects[s]->rules[r].name, wh_subjects[s]->rules[r].formula);
    struct wh_hash hash = wh_hash_of(wh_text_of(&text), text.count);
    return wh_arena_slice(arena, wh_hash_text(arena, &hash), 16);
}

enum wh_status wh_cli_desk(struct wh_cli *cli, enum wh_cli_desk_use use, struct wh_desk **ret)
{
    const char *path = wh_cli_option(cli, "store");
    struct wh_desk_ask ask = {.path = path ? path : "workshop.db",
                              .read_only = use == WH_CLI_DESK_READ,
                              .threads = use == WH_CLI_DESK_SERVE,
                              .program = "wharve " WHARVE_VERSION,
                              .rules = rules_of(cli->arena),
                              .clock = wh_cli_clock};
    return wh_desk_open(cli->arena, &ask, ret, &cli->errors);
}

static enum wh_status whole(struct wh_cli *cli, const char *text, const char *what, int64_t least, int64_t *ret)
{
    double number;
    const char *rest = text ? wh_number_read(text, &number) : NULL;
    if (rest && !*rest && number >= (double)least && number < 9e15 && number <= floor(number)) {
        *ret = (int64_t)number;
        return WH_OK;
    }
    return wh_cli_error(cli, "jobs and their numbers: wharve job list", "\"%s\" is no number of %s", text ? text : "",
                        what);
}

const char *wh_cli_machine_id(struct wh_cli *cli, const char *path)
{
    const char *slash = strrchr(path, '/'), *id = slash ? slash + 1 : path, *dot = strrchr(id, '.');
    return dot && dot > id ? wh_arena_slice(cli->arena, id, (size_t)(dot - id)) : id;
}

enum wh_status wh_cli_job(struct wh_cli *cli, int64_t *ret)
{
    return whole(cli, cli->word_count > 1 ? cli->words[1] : NULL, "a job", 1, ret);
}

enum wh_status wh_cli_seen(struct wh_cli *cli, int64_t *ret)
{
    const char *text = wh_cli_option(cli, "seen");
    *ret = -1;
    return text ? whole(cli, text, "an entry", 0, ret) : WH_OK;
}

static enum wh_status take_tree(struct wh_arena *arena, struct wh_desk_look *look)
{
    struct wh_errors errors = wh_errors_in(arena);
    struct wh_tree **ret = look->context;
    const char *copy =
        wh_tree_line(arena, wh_view_job(arena, look->job)); /* apart from the state, which may be given back */
    return wh_tree_read(arena, "job", copy, strlen(copy), ret, &errors);
}

enum wh_status wh_cli_job_tree(struct wh_cli *cli, size_t word, struct wh_tree **ret)
{
    struct wh_desk *desk;
    int64_t job;
    struct wh_desk_look look = {.context = ret, .body = take_tree};
    enum wh_status status = whole(cli, cli->word_count > word ? cli->words[word] : NULL, "a job", 1, &job);
    if (status == WH_OK) status = wh_cli_desk(cli, WH_CLI_DESK_READ, &desk);
    return status == WH_OK ? wh_desk_state(desk, cli->arena, job, &look, &cli->errors) : status;
}
