/* ask.h - one rule worked for inputs given as text: what `wharve work`, the reference tests and "Work it out" do. */
#ifndef WH_SHEET_ASK_H
#define WH_SHEET_ASK_H

#include "base/error.h"
#include "sheet/sheet.h"
#include "trade/form.h"

struct wh_asked_input {
    const struct wh_slot *slot;
    struct wh_form form;
    struct wh_value value;
    enum wh_origin origin;
};

struct wh_asked_result {
    const struct wh_slot *slot;
    struct wh_form form;
    double best;        /* at the best values of the inputs; NaN: no answer */
    double least, most; /* each input at its limits in turn, the changes added */
    double u;           /* standard uncertainty, first order */
};

struct wh_asked {
    const struct wh_rule *rule;
    struct wh_asked_input in[WH_RULE_COLUMNS];
    size_t inputs;
    struct wh_asked_result out[WH_RULE_OUT];
    size_t results;
    const char *remark; /* or NULL */
};

/* A name and its text: "bore", "30.008..30.012 mm"; of a list, "0.10 mm, 0.12 mm". */
struct wh_given {
    const char *name, *text;
    struct wh_place place;
};

/* Works a rule. Every wrong, doubled or missing input is an error of its own; nothing is worked out then. */
enum wh_status wh_ask(struct wh_arena *arena, const struct wh_rule *rule, const struct wh_given given[], size_t n,
                      struct wh_asked *ret, struct wh_errors *reterr);

/* The spread of a rule's results about the best values of its k inputs, first order: each input in turn goes to its
 * limits. Works for every rule; rows of 2 k + 1. `ret` has wh_rule_results(rule) places. */
void wh_ask_spread(struct wh_arena *arena, const struct wh_rule *rule, const struct wh_value in[], size_t k,
                   struct wh_asked_result ret[]);

/* The worked rule as a sheet of its own, of no machine: the inputs' cells first, then the results', called as their
 * slots are. */
struct wh_sheet *wh_ask_sheet(struct wh_arena *arena, const struct wh_asked *asked);

#endif
