#include "order/implied.h"

#include "order/job.h"

#include <math.h>
#include <string.h>

struct implied {
    struct wh_arena *arena;
    const struct wh_order_problem *problem;
    size_t words;
    bool *sure;          /* of each task: every choice has it */
    uint64_t *before;    /* of each task: those that are done before it whenever it is done */
    uint64_t *all, *one; /* working space: before all ways looked at; before one */
    WH_LIST(struct wh_order_link) links;
};

static uint64_t *before_of(const struct implied *m, size_t task)
{
    return &m->before[task * m->words];
}

/* Adds a set to another; true when that changes it. */
static bool add(const struct implied *m, uint64_t to[], const uint64_t set[])
{
    uint64_t more = 0;
    for (size_t w = 0; w < m->words; w++) {
        more |= set[w] & ~to[w];
        to[w] |= set[w];
    }
    return more != 0;
}

static void find_sure(struct implied *m)
{
    const struct wh_order_problem *p = m->problem;
    m->sure = WH_NEW(m->arena, p->task_count, bool);
    for (size_t t = 0; t < p->task_count; t++) m->sure[t] = p->tasks[t].wanted;
    for (bool more = true; more;) {
        more = false;
        for (size_t i = 0; i < p->need_count; i++) {
            const struct wh_order_way *way = &p->needs[i].ways[0];
            if (p->needs[i].way_count != 1 || !m->sure[p->needs[i].task]) continue;
            for (size_t k = 0; k < way->count; k++) {
                more |= !m->sure[way->tasks[k]];
                m->sure[way->tasks[k]] = true;
            }
        }
    }
}

/* m->all: what is done before the task of a need, whichever way is taken. */
static void before_all_ways(struct implied *m, const struct wh_order_need *need)
{
    memset(m->all, 0xff, m->words * sizeof *m->all);
    for (size_t w = 0; w < need->way_count; w++) {
        memset(m->one, 0, m->words * sizeof *m->one);
        for (size_t k = 0; k < need->ways[w].count; k++) {
            wh_order_put(m->one, need->ways[w].tasks[k]);
            add(m, m->one, before_of(m, need->ways[w].tasks[k]));
        }
        for (size_t i = 0; i < m->words; i++) m->all[i] &= m->one[i];
    }
}

/* A link counts only when both its tasks are done: one from a task that is sure always does. */
static void find_before(struct implied *m)
{
    const struct wh_order_problem *p = m->problem;
    for (bool more = true; more;) {
        more = false;
        for (size_t i = 0; i < p->link_count; i++) {
            const struct wh_order_link *link = &p->links[i];
            if (!m->sure[link->first]) continue;
            more |= add(m, before_of(m, link->after), before_of(m, link->first));
            more |= !wh_order_has(before_of(m, link->after), link->first);
            wh_order_put(before_of(m, link->after), link->first);
        }
        for (size_t i = 0; i < p->need_count; i++) {
            if (!p->needs[i].before) continue;
            before_all_ways(m, &p->needs[i]);
            more |= add(m, before_of(m, p->needs[i].task), m->all);
        }
    }
}

/* Of a set only those that are not before another of it. */
static void link_last(struct implied *m, const uint64_t set[], size_t task)
{
    memcpy(m->one, set, m->words * sizeof *m->one);
    for (size_t t = 0; t < m->problem->task_count; t++) {
        if (!wh_order_has(set, t)) continue;
        for (size_t w = 0; w < m->words; w++) m->one[w] &= ~before_of(m, t)[w];
    }
    for (size_t t = 0; t < m->problem->task_count; t++)
        if (t != task && wh_order_has(m->one, t))
            *WH_PUSH(m->arena, &m->links) = (struct wh_order_link){.first = t, .after = task, .most = INFINITY};
}

const struct wh_order_problem *wh_order_implied(struct wh_arena *arena, const struct wh_order_problem *problem)
{
    struct implied m = {.arena = arena, .problem = problem, .words = problem->task_count / 64 + 1};
    m.before = WH_NEW(arena, problem->task_count * m.words, uint64_t);
    m.all = WH_NEW(arena, m.words, uint64_t);
    m.one = WH_NEW(arena, m.words, uint64_t);
    find_sure(&m);
    find_before(&m);
    for (size_t i = 0; i < problem->link_count; i++) *WH_PUSH(arena, &m.links) = problem->links[i];
    for (size_t i = 0; i < problem->need_count; i++) {
        if (!problem->needs[i].before || problem->needs[i].way_count < 2) continue;
        before_all_ways(&m, &problem->needs[i]);
        link_last(&m, m.all, problem->needs[i].task);
    }
    struct wh_order_problem *told = WH_NEW(arena, 1, struct wh_order_problem);
    *told = *problem;
    told->links = m.links.at;
    told->link_count = m.links.count;
    return told;
}
