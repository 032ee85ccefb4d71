/* runs.h - what `wharve testrun` says of run-ups, run-downs and the test run's checks. */
#ifndef WH_CLI_RUNS_H
#define WH_CLI_RUNS_H

#include "cli/cli.h"
#include "testrun/run.h"

/* What the command has read already. */
struct wh_cli_runs {
    const struct wh_sheet *sheet; /* of the machine; NULL: none is named */
    const struct wh_record_ask *record;
    double speed, pulses;       /* rad/s, a turn; 0: not said */
    const struct wh_tree *last; /* the last result; NULL: none */
    size_t memory;              /* that one record may take */
};

/* Is there a record or a reading in the options, so that no other record need be named? */
bool wh_cli_runs_asked(const struct wh_cli *cli);

/* Reads the records of --run-down and --run-up, judges by --accept and --reading, draws into the folder of --plots;
 * adds what they say to the tree. */
enum wh_status wh_cli_runs(struct wh_cli *cli, const struct wh_cli_runs *ask, struct wh_tree *tree);

#define WH_CLI_RUNS_OPTIONS                                                                                            \
    {"run-down", "RECORD", "of a run-down: what slows it, and before what time it cannot stand"},                      \
        {"run-up", "RECORD", "of a run-up: time to speed, torque, current; may be the same record"},                   \
        {"drive-off", NULL, "the run-down was made with the belt off"},                                                \
        {"plots", "FOLDER", "draws spectra, run-down and once-a-turn into it"},                                        \
        {"drawings", NULL, "with --json: the plots stand in it too, to be kept"},                                     \
        {"accept", NULL, "judges the test run's checks of the machine file by the records and readings"},              \
    {                                                                                                                  \
        "reading", "CHECK=VALUES",                                                                                     \
            "\"neck-temperature=61 degC; 62 degC\", \"leaks=as expected\"; may stand several times"                    \
    }

#endif
