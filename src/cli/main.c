#include "cli/cli.h"

#include "base/fault.h"
#include "base/file.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>
#include <unistd.h>

static const struct wh_command *const commands[] = {
    &wh_command_check,
    &wh_command_plan,
    &wh_command_figures,
    &wh_command_work,
    &wh_command_rules,
    &wh_command_kinds,
    &wh_command_draw,
    &wh_command_rotor,
    &wh_command_job,
    &wh_command_report,
    &wh_command_due,
    &wh_command_store,
    &wh_command_gauges,
    &wh_command_balance,
    &wh_command_testrun,
    &wh_command_serve,
    &wh_command_people,
};
enum { COMMANDS = sizeof commands / sizeof *commands };

struct line {
    int argc;
    char **argv;
};

static const char *const caution =
    "The maker's manual, local rules and licensed practice come before anything this program prints.\n";

static void print_help(struct wh_text *out, const struct wh_command *command)
{
    wh_text_print(out, "wharve %s\n\n%s\n", command->usage, command->words);
    for (const struct wh_option *o = command->options; o->name; o++)
        wh_text_print(out, "\n  --%s%s%s\n      %s", o->name, o->value ? " " : "", o->value ? o->value : "", o->words);
    wh_text_print(out, "\n  --help\n      this text\n\nExample:\n  %s\n", command->example);
}

static void print_overview(struct wh_text *out)
{
    wh_text_add(out, "wharve: what to do to a belt-driven machine, worked out from what it is\n\n");
    for (size_t c = 0; c < COMMANDS; c++) wh_text_print(out, "  wharve %s\n", commands[c]->usage);
    wh_text_add(out, "\nwharve COMMAND --help tells more, with an example.\n");
    wh_text_add(out, caution);
}

const char *wh_cli_option(const struct wh_cli *cli, const char *name)
{
    for (size_t i = 0; i < cli->option_count; i++)
        if (wh_same(cli->options[i].key, name)) return cli->options[i].text;
    return NULL;
}

enum wh_status wh_cli_error(struct wh_cli *cli, const char *right, const char *format, ...)
{
    va_list args;
    va_start(args, format);
    const char *says = wh_arena_vprint(cli->arena, format, args);
    va_end(args);
    return wh_errors_add(&cli->errors, WH_ERR_INPUT, (struct wh_place){0}, right, "%s", says);
}

void wh_cli_json(struct wh_cli *cli, const struct wh_tree *tree)
{
    wh_text_add(&cli->out, wh_tree_json(cli->arena, tree));
}

static const struct wh_option *find_option(const struct wh_command *command, const char *name)
{
    for (const struct wh_option *o = command->options; o->name; o++)
        if (wh_same(o->name, name)) return o;
    return NULL;
}

static enum wh_status unknown_option(struct wh_cli *cli, const struct wh_command *command, const char *name)
{
    const char *names[WH_CLI_OPTIONS];
    size_t n = 0;
    for (const struct wh_option *o = command->options; o->name; o++) names[n++] = o->name;
    const char *nearest = wh_nearest(name, names, n);
    return wh_cli_error(cli,
                        nearest ? wh_arena_print(cli->arena, "did you mean \"--%s\"?", nearest)
                                : wh_arena_print(cli->arena, "see wharve %s --help", command->name),
                        "wharve %s has no option \"--%s\"", command->name, name);
}

/* "--name value", "--name=value" or "--name". */
static enum wh_status read_option(struct wh_cli *cli, const struct wh_command *command, const struct line *line, int *i)
{
    const char *text = line->argv[*i] + 2, *equals = strchr(text, '=');
    const char *name = equals ? wh_arena_slice(cli->arena, text, (size_t)(equals - text)) : text;
    const struct wh_option *option = find_option(command, name);
    const char *value = equals ? equals + 1 : "";
    if (!option) return unknown_option(cli, command, name);
    if (option->value && !equals) {
        if (*i + 1 >= line->argc) return wh_cli_error(cli, NULL, "--%s needs %s", name, option->value);
        value = line->argv[++*i];
    }
    cli->options[cli->option_count++] = (struct wh_word){option->name, value};
    return WH_OK;
}

static enum wh_status run_command(struct wh_cli *cli, const struct wh_command *command, const struct line *line)
{
    const char **words = WH_NEW(cli->arena, (size_t)line->argc, const char *);
    cli->options = WH_NEW(cli->arena, (size_t)line->argc, struct wh_word);
    cli->words = words;
    for (int i = 2; i < line->argc; i++) {
        const char *text = line->argv[i];
        if (wh_same(text, "--help") || wh_same(text, "-h")) {
            print_help(&cli->out, command);
            return WH_OK;
        }
        if (wh_starts(text, "--") && text[2]) {
            enum wh_status status = read_option(cli, command, line, &i);
            if (status != WH_OK) return status;
        } else {
            words[cli->word_count++] = text;
        }
    }
    return command->run(cli);
}

static enum wh_status choose_command(struct wh_cli *cli, const struct line *line)
{
    const char *name = line->argc > 1 ? line->argv[1] : "--help", *names[COMMANDS];
    if (wh_same(name, "--help") || wh_same(name, "-h") || wh_same(name, "help")) {
        print_overview(&cli->out);
        return WH_OK;
    }
    if (wh_same(name, "--version")) {
        wh_text_add(&cli->out, "wharve " WHARVE_VERSION "\n");
        return WH_OK;
    }
    for (size_t c = 0; c < COMMANDS; c++) {
        names[c] = commands[c]->name;
        if (wh_same(name, names[c])) return run_command(cli, commands[c], line);
    }
    const char *nearest = wh_nearest(name, names, COMMANDS);
    return wh_cli_error(
        cli, nearest ? wh_arena_print(cli->arena, "did you mean \"wharve %s\"?", nearest) : "see wharve --help",
        "there is no command \"%s\"", name);
}

static const char *today(struct wh_arena *arena)
{
    time_t now = time(NULL);
    struct tm date;
    if (!gmtime_r(&now, &date)) return "1970-01-01";
    return wh_arena_print(arena, "%04d-%02d-%02d", date.tm_year + 1900, date.tm_mon + 1, date.tm_mday);
}

static enum wh_status work(struct wh_arena *arena, void *context)
{
    struct wh_cli cli = {.arena = arena,
                         .errors = wh_errors_in(arena),
                         .out = {.arena = arena},
                         .bold = isatty(STDOUT_FILENO) && !getenv("NO_COLOR"),
                         .today = today(arena)};
    enum wh_status status = choose_command(&cli, context);
    if (cli.out.count > 0 && wh_file_print(STDOUT_FILENO, cli.out.at, cli.out.count) != WH_OK && status == WH_OK) {
        status =
            wh_errors_add(&cli.errors, WH_ERR_FILE, (struct wh_place){0}, NULL, "standard output cannot be written");
    }
    const char *errors = wh_errors_text(arena, &cli.errors);
    wh_file_print(STDERR_FILENO, errors, strlen(errors));
    return status;
}

int main(int argc, char **argv)
{
    struct line line = {argc, argv};
    const char *fault = getenv("WHARVE_FAULT");
    if (fault && !wh_fault_arm_text(fault)) {
        static const char words[] = "WHARVE_FAULT is memory:K or file:K\n";
        wh_file_print(STDERR_FILENO, words, sizeof words - 1);
        return wh_status_exit(WH_ERR_INPUT);
    }
    enum wh_status status = wh_arena_run(WH_CLI_MEMORY, work, &line);
    if (status == WH_ERR_NOMEM) {
        static const char words[] = "wharve: out of memory; nothing was written\n";
        wh_file_print(STDERR_FILENO, words, sizeof words - 1);
    }
    return wh_status_exit(status);
}
