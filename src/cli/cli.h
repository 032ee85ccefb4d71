/* cli.h - the command line: one file a command, cmd_NAME.c. A command fills `out`; main prints it, and the errors. */
#ifndef WH_CLI_CLI_H
#define WH_CLI_CLI_H

#include "base/error.h"
#include "base/text.h"
#include "base/tree.h"
#include "sheet/sheet.h"

enum { WH_CLI_MEMORY = 256 << 20 }; /* most that one command may take */
enum { WH_CLI_OPTIONS = 26 };

/* An option of a command: "--renew PARTS"; value NULL: it takes none. */
struct wh_option {
    const char *name, *value, *words;
};

struct wh_cli {
    struct wh_arena *arena;
    struct wh_errors errors;
    struct wh_text out;
    const char *const *words; /* what stands on the line after the command, without the options */
    size_t word_count;
    struct wh_word *options; /* as given, in order */
    size_t option_count;
    bool bold;         /* standard output is a terminal that takes it */
    const char *today; /* YYYY-MM-DD */
};

struct wh_command {
    const char *name, *usage, *words, *example;
    struct wh_option options[WH_CLI_OPTIONS]; /* the last one has no name */
    enum wh_status (*run)(struct wh_cli *cli);
};

extern const struct wh_command wh_command_balance;
extern const struct wh_command wh_command_check;
extern const struct wh_command wh_command_draw;
extern const struct wh_command wh_command_due;
extern const struct wh_command wh_command_figures;
extern const struct wh_command wh_command_gauges;
extern const struct wh_command wh_command_job;
extern const struct wh_command wh_command_kinds;
extern const struct wh_command wh_command_people;
extern const struct wh_command wh_command_plan;
extern const struct wh_command wh_command_report;
extern const struct wh_command wh_command_rotor;
extern const struct wh_command wh_command_rules;
extern const struct wh_command wh_command_serve;
extern const struct wh_command wh_command_store;
extern const struct wh_command wh_command_work;
extern const struct wh_command wh_command_testrun;

/* The text of an option, NULL when it is not given; "" when it takes none. */
const char *wh_cli_option(const struct wh_cli *cli, const char *name);

/* An error of the command line itself. */
enum wh_status wh_cli_error(struct wh_cli *cli, const char *right, const char *format, ...)
    __attribute__((format(printf, 3, 4)));

/* Prints a tree as JSON into out. */
void wh_cli_json(struct wh_cli *cli, const struct wh_tree *tree);

/* Reads the machine of the first word, and its figures with every --set. Either may be NULL. */
enum wh_status wh_cli_machine(struct wh_cli *cli, struct wh_machine **ret_machine, struct wh_sheet **ret_sheet);

/* The spread of some figures by trials, as --trials, --seed, --threads, --limits and --json ask for; the figures that
 * no uncertain input moves only where `steady` is set. */
enum wh_status wh_cli_trials(struct wh_cli *cli, const struct wh_sheet *sheet, const size_t cells[], size_t count,
                             bool steady);
#define WH_CLI_TRIALS_OPTIONS                                                                                          \
    {"trials", "COUNT", "the spread instead: mean, standard uncertainty, 95 % interval, what it hangs on most"},       \
        {"limits", "NAME=LEAST..MOST", "with --trials: the share outside; may stand several times"},                   \
        {"seed", "NUMBER", "with --trials: other draws; 1 when it is not said"},                                       \
    {                                                                                                                  \
        "threads", "COUNT", "with --trials: how many work side by side; the result is the same"                        \
    }

/* Makes a paper in a child process: whatever becomes of it, the file is whole or as it was. */
enum wh_status wh_cli_pdf(struct wh_cli *cli, const struct wh_tree *document, const char *path);

/* Writes a scene as SVG or PNG, by the end of the path. */
enum wh_status wh_cli_picture(struct wh_cli *cli, const struct wh_scene *scene, const char *path);

#endif
