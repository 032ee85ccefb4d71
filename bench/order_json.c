/* The solver's own task file: jobs of machines and published products, with several ways, tools and waits. */
#include "order.h"
#include "task_file.h"

#include <math.h>
#include <string.h>

enum wh_status order_solve_json(struct wh_arena *arena, const char *path, const char *text,
                                const struct order_limits *limits, struct order_outcome *ret, struct wh_errors *reterr)
{
    struct wh_order_problem problem;
    struct wh_order *order;
    enum wh_status status = task_file_read(arena, path, text, strlen(text), &problem, reterr);
    if (status != WH_OK) return status;
    struct wh_order_watch watch = {.clock = limits->clock, .most_seconds = limits->seconds};
    problem.most_nodes = limits->nodes ? limits->nodes : UINT64_MAX;
    problem.most_memory = limits->bytes;
    problem.watch = &watch;
    double began = limits->clock();
    status = wh_order_solve(arena, &problem, &order, reterr);
    if (status != WH_OK) return status;
    *ret = (struct order_outcome){.found = order->least,
                                  .bound = order->bound,
                                  .proven = order->proven,
                                  .seconds = limits->clock() - began,
                                  .nodes = order->nodes};
    return WH_OK;
}
