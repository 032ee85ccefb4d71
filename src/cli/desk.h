/* desk.h - what the commands that keep jobs do alike: open the desk, read a job's number. */
#ifndef WH_CLI_DESK_H
#define WH_CLI_DESK_H

#include "cli/cli.h"
#include "desk/desk.h"

/* Opens the desk on --store: to read only, to write, or to write with a thread of its own. */
enum wh_cli_desk_use { WH_CLI_DESK_WRITE, WH_CLI_DESK_READ, WH_CLI_DESK_SERVE };
enum wh_status wh_cli_desk(struct wh_cli *cli, enum wh_cli_desk_use use, struct wh_desk **ret);

/* The second word as the number of a job; --seen, -1 when it is not given. */
enum wh_status wh_cli_job(struct wh_cli *cli, int64_t *ret);
enum wh_status wh_cli_seen(struct wh_cli *cli, int64_t *ret);

/* The id of a machine among the jobs: "machines/juice-clarifier.yaml" is "juice-clarifier". */
const char *wh_cli_machine_id(struct wh_cli *cli, const char *path);

/* The clock, milliseconds since 1970. */
int64_t wh_cli_clock(void *context);

/* The job whose number is that word, as view shows it. */
enum wh_status wh_cli_job_tree(struct wh_cli *cli, size_t word, struct wh_tree **ret);

#endif
