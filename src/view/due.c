#include "view/due.h"

#include "base/text.h"
#include "job/workshop.h"

#include <math.h>

static const double DAY = 86400, YEAR = 365.25 * 86400;

static const char *age_words(struct wh_arena *arena, double seconds)
{
    double years = seconds / YEAR;
    if (years < 0.999) return wh_arena_print(arena, "%.0f days", seconds / DAY);
    return fabs(years - 1) < 0.01 ? "1 year" : wh_arena_print(arena, "%.3g years", years);
}

/* "1200 h or 2 years, whichever is first". */
static const char *every(struct wh_arena *arena, const struct wh_due_line *line)
{
    if (isnan(line->age)) return wh_due_hours_words(arena, line->after);
    if (isnan(line->after)) return age_words(arena, line->age);
    return wh_arena_print(arena, "%s or %s, whichever is first", wh_due_hours_words(arena, line->after),
                          age_words(arena, line->age));
}

/* "in 140 h of running, or on 2028-05-01"; what lies behind is told as over. */
static const char *when(struct wh_arena *arena, const struct wh_due_line *line)
{
    struct wh_text words = {.arena = arena};
    if (!isnan(line->hours_left))
        wh_text_print(&words, line->hours_left > 0 ? "in %s of running" : "%s of running over",
                      wh_due_hours_words(arena, fabs(line->hours_left)));
    if (line->day)
        wh_text_print(&words, "%s%s", words.count ? ", and by the calendar on " : "on ", wh_day(arena, line->day));
    return wh_text_of(&words);
}

static void add_line(struct wh_arena *arena, struct wh_tree *list, const struct wh_machine *machine,
                     const struct wh_due_line *line)
{
    struct wh_tree *item = wh_tree_add_new(arena, list, NULL, WH_TREE_MAP);
    wh_tree_add_text(arena, item, "id", machine->things[line->thing].id);
    wh_tree_add_text(arena, item, "title", machine->things[line->thing].title);
    wh_tree_add_text(arena, item, "state", wh_due_words(line->state));
    wh_tree_add_text(arena, item, "every", every(arena, line));
    wh_tree_add_text(arena, item, "when", when(arena, line));
    wh_tree_add_text(arena, item, "by", line->by);
    wh_tree_add_text(arena, item, "because", line->because);
}

struct wh_tree *wh_view_due(struct wh_arena *arena, const struct wh_machine *machine, const struct wh_due *due,
                            enum wh_due_state state)
{
    struct wh_tree *map = wh_tree_new(arena, WH_TREE_MAP);
    if (due->hours_at)
        wh_tree_add_text(arena, map, "hours",
                         wh_arena_print(arena, "%s, read on %s", wh_due_hours_words(arena, due->hours),
                                        wh_day(arena, due->hours_at)));
    struct wh_tree *lines = wh_tree_add_new(arena, map, "lines", WH_TREE_LIST);
    for (int s = WH_DUE_NOW; s >= (int)state; s--)
        for (size_t i = 0; i < due->lines.count; i++)
            if ((int)due->lines.at[i].state == s) add_line(arena, lines, machine, &due->lines.at[i]);
    struct wh_tree *remarks = wh_tree_add_new(arena, map, "remarks", WH_TREE_LIST);
    for (size_t i = 0; i < due->remarks.count; i++) {
        const struct wh_due_remark *remark = &due->remarks.at[i];
        struct wh_tree *item = wh_tree_add_new(arena, remarks, NULL, WH_TREE_MAP);
        wh_tree_add_text(arena, item, "job", wh_arena_print(arena, "%lld", (long long)remark->job));
        wh_tree_add_text(arena, item, "says", remark->says);
        if (remark->thing == WH_NONE) continue;
        wh_tree_add_text(arena, item, "id", machine->things[remark->thing].id);
        wh_tree_add_text(arena, item, "title", machine->things[remark->thing].title);
    }
    return map;
}

const char *wh_view_proposal(struct wh_arena *arena, const struct wh_due *due, size_t thing)
{
    struct wh_text words = {.arena = arena};
    for (size_t i = 0; i < due->lines.count; i++) {
        const struct wh_due_line *line = &due->lines.at[i];
        if (line->thing != thing || line->state < WH_DUE_SOON) continue;
        wh_text_print(&words, "due %s: every %s (%s); %s", wh_due_words(line->state), every(arena, line), line->by,
                      line->because);
    }
    for (size_t i = 0; i < due->remarks.count; i++)
        if (due->remarks.at[i].thing == thing)
            wh_text_print(&words, "%sjob %lld left: %s", words.count ? "; " : "", (long long)due->remarks.at[i].job,
                          due->remarks.at[i].says);
    return words.count ? wh_text_of(&words) : NULL;
}

const char *wh_view_due_text(struct wh_arena *arena, const struct wh_tree *due)
{
    struct wh_text text = {.arena = arena};
    const struct wh_tree *hours = wh_tree_get(due, "hours");
    wh_text_print(&text, "Hours run: %s.\n", hours ? hours->text : "not told by any job kept here");
    for (const struct wh_tree *l = wh_tree_get(due, "lines")->first; l; l = l->next) {
        const char *on = wh_tree_text(l, "when", "");
        wh_text_print(&text, "  %-9s  %s: every %s (%s)%s%s; %s\n", wh_tree_text(l, "state", ""),
                      wh_tree_text(l, "title", ""), wh_tree_text(l, "every", ""), wh_tree_text(l, "by", ""),
                      *on ? ", due " : "", on, wh_tree_text(l, "because", ""));
    }
    for (const struct wh_tree *r = wh_tree_get(due, "remarks")->first; r; r = r->next)
        wh_text_print(&text, "  job %s left: %s%s%s\n", wh_tree_text(r, "job", ""), wh_tree_text(r, "title", ""),
                      wh_tree_get(r, "title") ? ", " : "", wh_tree_text(r, "says", ""));
    return wh_text_of(&text);
}
