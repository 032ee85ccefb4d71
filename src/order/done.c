#include "order/done.h"

#include <math.h>
#include <string.h>

size_t wh_order_done_at(const struct wh_order_problem *problem, size_t task)
{
    size_t at = 0;
    while (at < problem->done_count && problem->done[at] != task) at++;
    return at;
}

static bool is_done(const struct wh_order_problem *problem, size_t task)
{
    return wh_order_done_at(problem, task) < problem->done_count;
}

/* Of a link: false where it no longer binds anything. What was kept at the time stands, so that the tasks done keep
 * their times; a greatest wait between them is over. */
static bool still_binds(const struct wh_order_problem *problem, struct wh_order_link *link)
{
    size_t first = wh_order_done_at(problem, link->first), after = wh_order_done_at(problem, link->after);
    bool at_end = first + 1 == problem->done_count;
    if (after == problem->done_count) {
        link->joined &= first == problem->done_count || at_end;
        return true;
    }
    if (first >= after) return false;
    link->joined &= first + 1 == after;
    link->most = INFINITY;
    return true;
}

/* A use that is over binds nothing; nor do uses begun together, against the rule, but the last. */
static const struct wh_order_use *uses_left(struct wh_arena *arena, const struct wh_order_problem *problem,
                                            size_t *count)
{
    struct wh_order_use *uses = WH_NEW(arena, problem->use_count, struct wh_order_use);
    *count = 0;
    for (size_t i = 0; i < problem->use_count; i++) {
        const struct wh_order_use *use = &problem->uses[i];
        size_t begun = wh_order_done_at(problem, use->from);
        bool over = is_done(problem, use->to);
        for (size_t k = 0; k < problem->use_count && !over; k++) {
            const struct wh_order_use *other = &problem->uses[k];
            size_t at = wh_order_done_at(problem, other->from);
            bool began_later = at > begun && at < problem->done_count && !is_done(problem, other->to);
            over = other->thing == use->thing && began_later;
        }
        if (!over) uses[(*count)++] = *use;
    }
    return uses;
}

static const struct wh_order_rivals *rivals_left(struct wh_arena *arena, const struct wh_order_problem *problem,
                                                 size_t *count)
{
    struct wh_order_rivals *rivals = WH_NEW(arena, problem->rival_count, struct wh_order_rivals);
    *count = 0;
    for (size_t i = 0; i < problem->rival_count; i++)
        if (!is_done(problem, problem->rivals[i].one) && !is_done(problem, problem->rivals[i].other))
            rivals[(*count)++] = problem->rivals[i];
    return rivals;
}

const struct wh_order_problem *wh_order_after_done(struct wh_arena *arena, const struct wh_order_problem *problem)
{
    static const struct wh_order_way NOTHING = {0};
    if (problem->done_count == 0) return problem;
    struct wh_order_problem *left = WH_NEW(arena, 1, struct wh_order_problem);
    struct wh_order_task *tasks = WH_NEW(arena, problem->task_count, struct wh_order_task);
    struct wh_order_need *needs = WH_NEW(arena, problem->need_count, struct wh_order_need);
    struct wh_order_link *links = WH_NEW(arena, problem->link_count, struct wh_order_link);
    *left = *problem;
    memcpy(tasks, problem->tasks, problem->task_count * sizeof *tasks);
    for (size_t i = 0; i < problem->done_count; i++) tasks[problem->done[i]].wanted = true;
    for (size_t i = 0; i < problem->need_count; i++) {
        needs[i] = problem->needs[i];
        if (!needs[i].before || !is_done(problem, needs[i].task)) continue;
        needs[i].ways = &NOTHING;
        needs[i].way_count = 1;
    }
    left->link_count = 0;
    for (size_t i = 0; i < problem->link_count; i++) {
        struct wh_order_link link = problem->links[i];
        if (still_binds(problem, &link)) links[left->link_count++] = link;
    }
    left->uses = uses_left(arena, problem, &left->use_count);
    left->rivals = rivals_left(arena, problem, &left->rival_count);
    left->tasks = tasks;
    left->needs = needs;
    left->links = links;
    return left;
}

static bool was_met(const struct wh_order_problem *problem, const struct wh_order_need *need, size_t w)
{
    for (size_t k = 0; k < need->ways[w].count; k++)
        if (wh_order_done_at(problem, need->ways[w].tasks[k]) >= wh_order_done_at(problem, need->task)) return false;
    return true;
}

const int *wh_order_ways_taken(struct wh_arena *arena, const struct wh_order_problem *problem, const int way[])
{
    if (problem->done_count == 0) return way;
    int *taken = WH_NEW(arena, problem->need_count, int);
    for (size_t i = 0; i < problem->need_count; i++) {
        const struct wh_order_need *need = &problem->needs[i];
        taken[i] = way[i];
        if (!need->before || !is_done(problem, need->task)) continue;
        size_t w = 0;
        while (w < need->way_count && !was_met(problem, need, w)) w++;
        taken[i] = w < need->way_count ? (int)w : -1;
    }
    return taken;
}

const int *wh_order_ways_left(struct wh_arena *arena, const struct wh_order_problem *problem, const int way[])
{
    if (!way || problem->done_count == 0) return way;
    int *left = WH_NEW(arena, problem->need_count, int);
    for (size_t i = 0; i < problem->need_count; i++) {
        const struct wh_order_need *need = &problem->needs[i];
        left[i] = need->before && is_done(problem, need->task) ? 0 : way[i];
    }
    return left;
}
