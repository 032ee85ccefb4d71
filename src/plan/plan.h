/* plan.h - from the parts to renew to the steps of the whole job. Can be read alone.
 *
 * The machine and its kinds give tasks (take off, wash, measure, warm, fit, check, turn, fill, try); the ordering
 * solver chooses which of them are needed and in what order; each becomes a step. A step names its figures, it never
 * holds their values. */
#ifndef WH_PLAN_PLAN_H
#define WH_PLAN_PLAN_H

#include "order/order.h"
#include "sheet/sheet.h"

enum wh_task_is {
    WH_TASK_CHECK, /* a reading or a look */
    WH_TASK_HOLD,  /* something a person puts the name to */
    WH_TASK_OFF,   /* a part comes off */
    WH_TASK_WASH,  /* one part, or all that have no wash of their own */
    WH_TASK_CLEAN, /* dirty work ends */
    WH_TASK_ON,    /* a part goes on; several tasks where it has to warm in between */
    WH_TASK_FIXTURE_ON,
    WH_TASK_FIXTURE_OFF,
    WH_TASK_FILL,    /* a sump is filled */
    WH_TASK_ISOLATE, /* the energies are locked again after power was needed */
    WH_TASK_MARK,    /* a point that others stand before and after: all is down, it can be turned; no step */
    WH_TASK_WHOLE,   /* everything is back, where the machine file has no hold of its own for it */
};

struct wh_tasks;

/* The parts of the job sheet. */
enum wh_stage { WH_STAGE_BEFORE, WH_STAGE_DOWN, WH_STAGE_BENCH, WH_STAGE_UP, WH_STAGE_RUN, WH_STAGE_LATER };

/* "taking down" */
static inline const char *wh_stage_words(enum wh_stage stage)
{
    static const char *const words[] = {"before you start", "taking down", "on the bench",
                                        "building up",      "running it",  "come back"};
    return words[stage];
}

struct wh_task {
    const char *id; /* "off foot-bearing", "check centre": the same in every plan of the machine, by what it is */
    enum wh_task_is is;
    enum wh_stage stage;
    size_t thing;                  /* part, fixture or sump; of a check what it is made on; WH_NONE for none */
    size_t way;                    /* of a part */
    size_t check, hold;            /* index, or WH_NONE */
    size_t first_step, step_count; /* of the kind's steps of this moment */
    size_t for_fixture;            /* a part that goes on again on the way in, so that this one can stand; 0: not so */
    bool for_a_while;              /* then: and it comes off again after */
    bool last_piece;               /* of the tasks that fit one part, the last: its own lines stand here */
    double natural;                /* its place in the natural order */
    const char *waits;             /* what passes by itself after it: "warming" */
};

struct wh_step_figure {
    size_t cell; /* in the sheet; WH_NONE: not worked out */
    size_t thing;
    const char *figure;
    enum wh_end end;
};

struct wh_step_caution {
    const char *signal, *sign, *text;
};

struct wh_step {
    const struct wh_task *task; /* its id is the step's */
    size_t number;              /* from 1, over the whole job */
    double start, end;          /* seconds from the first */
    int fitter;
    bool together;            /* all of several fitters are held by it */
    double waited;            /* seconds it had to wait before */
    const char *wait_because; /* or NULL */
    size_t turned_to;         /* the way up it is turned to before this step; WH_NONE: not turned */
    size_t turned;            /* then: the way up, not the first, that is turned into or out of */
    size_t way_up;            /* how the machine stands; WH_NONE on the bench */
    bool bench;
    int crew;
    const char *what;      /* the deed in a few words */
    struct wh_words lines; /* more of it */
    const char *tool;      /* or NULL */
    const char *by;        /* the trade that has to be there for it, or NULL */
    double call;           /* seconds for calling it, before this step; 0: it is there, or none is needed */
    struct wh_words needs; /* consumables */
    const struct wh_step_figure *figures;
    size_t figure_count;
    const struct wh_step_caution *cautions;
    size_t caution_count;
};

/* What the other way out of a part with two would cost. */
struct wh_other_way {
    size_t thing, way;     /* the way taken */
    double more;           /* seconds more of the quickest order found the other way; infinite: it cannot be gone */
    double surely;         /* seconds more that every order of the other way takes */
    int turnings;          /* of the machine, the other way; of the plan: plan->turnings */
    double own, other_own; /* seconds of taking it off and fitting it, this way and the other */
    double hands;          /* of these, minutes of hands at the parts, without changes of tool and place, in seconds */
};

struct wh_kit_item {
    const char *title, *detail; /* "neck bearing", "6209/C3" */
    size_t thing;               /* or WH_NONE */
    bool named;                 /* asked for by name or found, not only renewed because it is disturbed */
};
struct wh_consumable {
    const char *text;
    size_t cell; /* the figure that says how much; or WH_NONE */
};
struct wh_kit {
    const struct wh_kit_item *parts;
    size_t part_count;
    const struct wh_consumable *consumables;
    size_t consumable_count;
    struct wh_words tools, gauges;
    const struct wh_kit_item *tags; /* a bag each: "clamp ring", "6 x M8x25 8.8" */
    size_t tag_count;
};

struct wh_plan {
    const struct wh_machine *machine;
    const struct wh_sheet *sheet;
    const bool *asked;   /* by thing: named to be renewed */
    const bool *also;    /* by thing: found to be renewed on the way */
    const bool *renewed; /* by thing: renewed once it is off */
    const bool *off;     /* by thing: comes off */
    const bool *washed;  /* by thing: washed already, in a job planned anew */
    const struct wh_step *steps;
    size_t step_count;
    size_t done_count;     /* of the steps, the first */
    struct wh_words notes; /* what a fitter has to know of a job planned anew: what comes off again, what was missed */
    double behind;         /* seconds of the steps done, as planned */
    double total, bound;   /* seconds, of the whole */
    double hands;          /* minutes of the steps alone, in seconds */
    int fitters;
    bool proven, natural;
    bool stopped; /* by who looks on: a longer search might find better */
    double natural_total, least_total;
    uint64_t nodes;
    int turnings;
    const struct wh_tasks *tasks; /* what was solved and what came out, for wh_plan_why */
    const struct wh_order *order;
    const struct wh_other_way *others;
    size_t other_count;
    struct wh_kit kit;
};

/* What a plan is asked for. When a job is planned anew, what is done stays as it was done, and of what is still ahead
 * as little changes as can be. Steps are named by the ids of their tasks. */
struct wh_plan_ask {
    int fitters;            /* 1 to 4 */
    uint64_t most_nodes;    /* states that the search may look at; half of them for another way */
    struct wh_indices also; /* parts that turned out to be renewed too */
    struct wh_words done;   /* steps done, in the order in which they were; "off lid" of a lid found already off */
    const struct wh_order_watch *watch; /* looks on while orders are searched for; or NULL */
    struct wh_words ahead;              /* steps of the plan so far that were still to come, in its order: it is kept */
};
enum { WH_PLAN_NODES = 10000 }; /* usual */

/* The usual order is kept unless another saves more than this. */
#define WH_PLAN_KEEP 300.0 /* seconds */
/* The search ends when no order can save more than this; the rest of the five minutes is for the usual order. */
#define WH_PLAN_ENOUGH 210.0
enum { WH_PLAN_MEMORY = 256 << 20 }; /* most that comparing with another way may take */

/* Plans the renewing of the named parts (indices of things). Errors: WH_ERR_INPUT for a part that is only renewed with
 * the maker, that never comes off, or for which no order exists; for a done step that the job does not have. */
enum wh_status wh_plan_make(struct wh_arena *arena, const struct wh_machine *machine, const struct wh_sheet *sheet,
                            const size_t renew[], size_t renew_count, const struct wh_plan_ask *ask,
                            struct wh_plan **ret, struct wh_errors *reterr);

/* Why a step stands where it stands, and what another place would cost. */
struct wh_why {
    const struct wh_step *step;
    const struct wh_step **after; /* the steps that had to be done before it */
    size_t after_count;
    const struct wh_step **before; /* those that wait for it */
    size_t before_count;
    const struct wh_step *asked_by; /* the step that it is done for; NULL: it was asked for, or always is done */
    bool asked_before;              /* that step cannot be done before it */
    size_t toward;                  /* the part to be renewed that it leads to; WH_NONE */
    const struct wh_step *earliest, *latest; /* it could stand right after, right before; NULL: it cannot move */
    double earlier_costs, later_costs;       /* seconds more that would take */
    double lengthens; /* seconds that the whole grows by for each second more it takes: 1, or 0 inside a wait */
    double spare;     /* seconds it may take longer before the whole does; 0 where it lengthens it at once */
};

/* Of one step of the plan (index). */
struct wh_why wh_plan_why(struct wh_arena *arena, const struct wh_plan *plan, size_t step);

/* How much longer each step may take before the whole does, seconds: by step; 0: it lengthens the whole at once. */
const double *wh_plan_spare(struct wh_arena *arena, const struct wh_plan *plan);

/* What needs renewing is named by a person; this reads "neck-bearing, foot-bearing" into indices. */
enum wh_status wh_plan_parts(struct wh_arena *arena, const struct wh_machine *machine, const char *ids,
                             struct wh_indices *ret, struct wh_errors *reterr);

#endif
