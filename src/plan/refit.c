/* Planned anew, a fixture may have lost what it stands on: the part goes on again for it, or another way is gone. */
#include "plan/builder.h"

#include <math.h>

const char *wh_build_again(const struct wh_builder *b, const char *id, size_t times)
{
    if (times == 0) return id;
    return times == 1 ? wh_arena_print(b->arena, "%s again", id) : wh_arena_print(b->arena, "%s again %zu", id, times);
}

/* What stands while it goes on. */
static void use_fixtures(struct wh_builder *b, size_t refit, const struct wh_indices *fixtures)
{
    for (size_t i = 0; i < fixtures->count; i++) {
        size_t f = fixtures->at[i];
        wh_build_use_fixture(b, refit, f, WH_PLAN_DOWN);
        wh_build_before(b, b->last_hold, b->fixture_on[f][WH_PLAN_DOWN]);
        if (!b->machine->things[f].stays) wh_build_before(b, b->fixture_off[f][WH_PLAN_DOWN], b->down);
    }
}

size_t wh_build_refit(struct wh_builder *b, size_t part, size_t way, size_t times, bool for_a_while)
{
    size_t fixture = b->so_far->refit[part], on = b->fixture_on[fixture][WH_PLAN_DOWN], last = b->on_last[part][way];
    const struct wh_thing *things = b->machine->things;
    struct wh_task task = b->tasks.at[last];
    struct wh_order_task order = b->orders.at[last];
    task.stage = WH_STAGE_DOWN;
    task.first_step = 0, task.step_count = wh_kind_steps(things[part].kind);
    task.for_fixture = fixture, task.for_a_while = for_a_while;
    task.natural = b->tasks.at[on].natural - 0.1;
    order.name = task.id = wh_build_again(b, task.id, times);
    order.wanted = true;
    *WH_PUSH(b->arena, &b->tasks) = task;
    *WH_PUSH(b->arena, &b->orders) = order;
    size_t refit = b->tasks.count - 1;
    wh_build_need(b, on, true, &refit, 1);
    wh_build_before(b, refit, b->off[part][way]);
    wh_build_before(b, b->last_hold, refit);
    wh_build_before(b, refit, b->down);
    if (!things[part].ways[way].bench) wh_build_bind_way_up(b, refit, things[part].ways[way].way_up, WH_PLAN_DOWN);
    use_fixtures(b, refit, &things[part].ways[way].with);
    use_fixtures(b, refit, &things[part].ways[way].on_with);
    struct wh_conditions off_again = {&(struct wh_indices){&part, 1}, 1};
    if (for_a_while) wh_build_need_off(b, b->clean, &off_again, WH_PLAN_DOWN);
    *WH_PUSH(b->arena, &b->so_far->notes) =
        wh_arena_print(b->arena, "the %s stands on the %s, which is off: it goes on for that%s", things[fixture].title,
                       things[part].title, for_a_while ? ", and off again after" : "");
    return refit;
}

static bool needs(const struct wh_builder *b, size_t task, size_t needed)
{
    for (size_t n = 0; n < b->needs.count; n++)
        for (size_t w = 0; w < b->needs.at[n].way_count && b->needs.at[n].task == task; w++)
            if (b->needs.at[n].ways[w].tasks[0] == needed) return true;
    return false;
}

/* The part that a part leaves with, if that can come off yet; WH_NONE. */
static size_t carrier_of(const struct wh_builder *b, size_t part, const bool is_done[])
{
    for (size_t c = 0; c < b->machine->thing_count; c++)
        for (size_t i = 0; i < b->machine->things[c].carries.count; i++)
            if (b->machine->things[c].carries.at[i] == part && b->off[c][0] != WH_NONE && !is_done[b->off[c][0]])
                return c;
    return WH_NONE;
}

void wh_build_either_way(struct wh_builder *b, const bool is_done[])
{
    for (size_t p = 0; p < b->machine->thing_count; p++)
        for (size_t w = 0; w < 2; w++) {
            size_t off = b->off[p][w], both[2] = {b->on_first[p][w], b->on_first[p][1 - w]};
            const struct wh_way *way = &b->machine->things[p].ways[w], *other = &b->machine->things[p].ways[1 - w];
            if (off == WH_NONE || both[1] == WH_NONE || !is_done[off] || is_done[both[0]]) continue;
            if (way->bench || !other->bench || carrier_of(b, p, is_done) == WH_NONE) continue;
            for (size_t n = 0; n < b->needs.count; n++) {
                const struct wh_order_need *need = &b->needs.at[n];
                if (need->task != off || need->before || need->ways[0].tasks[0] != both[0]) continue;
                b->needs.at[n--] = b->needs.at[--b->needs.count];
            }
            wh_build_need(b, off, false, both, 2);
            wh_build_need_off(b, both[1], &other->off_first, WH_PLAN_DOWN);
        }
}

/* Is it still needed, for a part that came off with it? */
static bool in_use(const struct wh_builder *b, size_t on, const bool is_done[])
{
    for (size_t t = 0; t < b->tasks.count; t++) {
        const struct wh_task *task = &b->tasks.at[t];
        bool due = task->is == WH_TASK_ON && !is_done[t] && is_done[b->off[task->thing][task->way]] &&
                   b->machine->things[task->thing].way_count == 1;
        if (due && needs(b, t, on)) return true;
    }
    return false;
}

/* What stays and what it stands on: what was done binds nothing any more. */
static void drop_past_rivals(struct wh_builder *b, const bool is_done[])
{
    size_t kept = 0;
    for (size_t r = 0; r < b->rivals.count; r++) {
        const struct wh_order_rivals *rivals = &b->rivals.at[r];
        bool past = is_done[rivals->one] || is_done[rivals->other];
        if (b->tasks.at[rivals->one].is != WH_TASK_FIXTURE_ON || !past) b->rivals.at[kept++] = *rivals;
    }
    b->rivals.count = kept;
}

/* What stays from the way in to the way back and stands already is away before what it stands on comes off. */
void wh_build_free(struct wh_builder *b, const bool is_done[])
{
    drop_past_rivals(b, is_done);
    for (size_t f = 0; f < b->machine->thing_count; f++) {
        const struct wh_thing *fixture = &b->machine->things[f];
        size_t on = b->fixture_on[f][WH_PLAN_DOWN], away = b->fixture_off[f][WH_PLAN_DOWN], kept = 0;
        bool stands = fixture->stays && away != WH_NONE && is_done[on] && !is_done[away];
        if (!stands || fixture->stands_on.count == 0 || in_use(b, on, is_done)) continue;
        for (size_t l = 0; l < b->links.count; l++) {
            size_t first = b->links.at[l].first;
            bool uses = first == on || needs(b, first, on); /* others only have it as one of several conditions */
            if (b->links.at[l].after == away && !uses) continue;
            b->because.at[kept] = b->because.at[l];
            b->links.at[kept++] = b->links.at[l];
        }
        b->links.count = b->because.count = kept;
        for (size_t i = 0; i < fixture->stands_on.count; i++)
            for (size_t w = 0; w < 2; w++) wh_build_before(b, away, b->off[fixture->stands_on.at[i]][w]);
    }
}

void wh_build_without(struct wh_builder *b)
{
    for (size_t f = 0; f < b->machine->thing_count; f++) {
        size_t on = b->fixture_on[f][WH_PLAN_DOWN];
        if (b->so_far->without && b->so_far->without[f] && on != WH_NONE)
            *WH_PUSH(b->arena, &b->rivals) = (struct wh_order_rivals){on, b->first_test};
    }
}
