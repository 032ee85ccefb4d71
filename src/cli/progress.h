/* progress.h - a line on standard error while a search goes on for long, and a stop by hand: Ctrl-C ends the search,
 * not the program, which goes on with the best found; a second one ends the program. */
#ifndef WH_CLI_PROGRESS_H
#define WH_CLI_PROGRESS_H

#include "order/order.h"

struct wh_cli_progress {
    bool shown;    /* the line is wanted */
    bool terminal; /* it is written over itself */
    bool written;
    double next; /* seconds of the clock */
};

/* Shown where standard error is a terminal, or when asked for. One search at a time; it is ended by
 * wh_cli_progress_end. */
struct wh_order_watch wh_cli_progress_begin(struct wh_cli_progress *progress, bool asked);
void wh_cli_progress_end(struct wh_cli_progress *progress);

#endif
