#include "cli/progress.h"

#include "base/file.h"

#include <math.h>
#include <signal.h>
#include <stdio.h>
#include <string.h>
#include <time.h>
#include <unistd.h>

static const double FIRST = 1, EVERY = 0.5; /* seconds */

static volatile sig_atomic_t stopped;

static void stop(int signal)
{
    (void)signal;
    stopped = 1;
}

static double seconds(void)
{
    struct timespec now;
    clock_gettime(CLOCK_MONOTONIC, &now);
    return (double)now.tv_sec + 1e-9 * (double)now.tv_nsec;
}

static void print(const char *text, size_t room)
{
    wh_file_print(STDERR_FILENO, text, strnlen(text, room));
}

static void write_line(struct wh_cli_progress *progress, const struct wh_order_now *now)
{
    char line[160], found[40] = "none found yet", bound[40] = "";
    if (isfinite(now->cost)) snprintf(found, sizeof found, "%.0f min found", now->cost);
    if (now->bound > 0) snprintf(bound, sizeof bound, ", none under %.0f min", now->bound);
    snprintf(line, sizeof line, "%sthe order: %s%s, %.0f s; Ctrl-C takes the best so far%s",
             progress->terminal ? "\r\033[K" : "", found, bound, now->seconds, progress->terminal ? "" : "\n");
    print(line, sizeof line);
    progress->written = true;
}

static bool go_on(void *context, const struct wh_order_now *now)
{
    struct wh_cli_progress *progress = context;
    if (progress->shown && seconds() >= progress->next) {
        progress->next = seconds() + EVERY;
        write_line(progress, now);
    }
    return !stopped;
}

struct wh_order_watch wh_cli_progress_begin(struct wh_cli_progress *progress, bool asked)
{
    struct sigaction action = {.sa_handler = stop, .sa_flags = (int)SA_RESETHAND};
    sigemptyset(&action.sa_mask);
    stopped = 0;
    sigaction(SIGINT, &action, NULL);
    bool terminal = isatty(STDERR_FILENO);
    *progress = (struct wh_cli_progress){.shown = asked || terminal, .terminal = terminal, .next = seconds() + FIRST};
    return (struct wh_order_watch){.clock = seconds, .go_on = go_on, .context = progress};
}

void wh_cli_progress_end(struct wh_cli_progress *progress)
{
    static const char clear[] = "\r\033[K";
    if (progress->written && progress->terminal) print(clear, sizeof clear);
    signal(SIGINT, SIG_DFL);
}
