/* A ring of like screws: undone and tightened with the part it holds, or as a step of its own. */
#include "kind/kind.h"
#include "trade/thread_table.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* "6 x M8x25 8.8" or "4 x M12x1.5x40 10.9": count, thread, length in mm, strength. */
static bool read_set(struct wh_filling *filling, const char *text, double *count, struct wh_thread *thread,
                     const char **strength)
{
    const char *at = wh_number_read(text, count);
    if (!at || strncmp(at, " x ", 3) != 0) return false;
    const char *name = at + 3, *space = strchr(name, ' ');
    size_t n = space ? (size_t)(space - name) : 0;
    if (n == 0) return false;
    for (size_t cut = n; cut > 1; cut--) /* the length follows the last x */
        if (name[cut - 1] == 'x') {
            *strength = wh_arena_text(filling->arena, space + 1);
            return wh_thread_find(name, cut - 1, thread);
        }
    return false;
}

static enum wh_status fill(struct wh_filling *filling)
{
    const char *set = filling->written(filling->context, "set"), *state = filling->written(filling->context, "state");
    const char *strength_text = NULL;
    double count, strength, code, least, most;
    struct wh_thread thread;
    if (!set) return WH_OK;
    if (!read_set(filling, set, &count, &thread, &strength_text))
        return filling->complain(filling->context, "set",
                                 "write count, thread x length and strength: \"6 x M8x25 8.8\"",
                                 wh_arena_print(filling->arena, "set: \"%s\" is no ring of screws known here", set));
    const struct wh_vocabulary *strengths = wh_vocabulary_find("strength", 8);
    if (!strengths->read(strength_text, strlen(strength_text), &strength))
        return filling->complain(filling->context, "set", "write a class of ISO 898-1 or ISO 3506-1: 8.8, 10.9, A2-70",
                                 wh_arena_print(filling->arena, "set: \"%s\" is no strength known here",
                                                strength_text));
    filling->set(filling->context, "count", "1..200 1", wh_exact(count), "by the set");
    filling->set(filling->context, "thread", "thread", wh_exact(thread.code), "by the set");
    filling->set(filling->context, "strength", "strength", wh_exact(strength), "by the set");
    if (state && wh_thread_state_read(state, strlen(state), &code) && wh_thread_friction(code, &least, &most)) {
        const char *source = wh_arena_print(filling->arena, "friction of threads %s", state);
        filling->set(filling->context, "thread-friction", "0.02..0.6 1", wh_between(least, most), source);
        filling->set(filling->context, "head-friction", "0..0.6 1", wh_between(least, most), source);
        filling->set(filling->context, "friction-least", "0.02..0.6 1", wh_exact(least), source);
    }
    return WH_OK;
}

const struct wh_kind wh_screws_kind = {
    .name = "screws",
    .fastens = true, .title = "ring of like screws", .detail = "{set}", .fill = fill,
    .off_verb = "undo", .on_verb = "tighten",
    .keys = {{"set", "text", NULL, "count, thread, length, strength", true, 0},
             {"holds", "thing", NULL, "the part it holds", true, 0},
             {"state", "thread-state", NULL, "threads oiled, dry, with paste or locked", true, 0},
             {"head", "head", "hexagon", "head", false, 0},
             {"wrench-setting", "0.. N m", NULL, "torque stated by the maker", false, 0},
             {"pattern", "words crosswise|once round|by hand", "crosswise", "how the ring is tightened", false, 0},
             {"stages", "text", "in two stages", "stages of tightening", false, 0},
             {"locked", "words adhesive|tab|wire|mark|no", "mark", "how it is kept from turning", false, 0},
             {"stay-in", "words yes|no", "no", "as a step of their own they are only loosened", false, 0},
             {"tapped", "tapped-material", NULL, "what it is screwed into", false, 0}},
    .rules = {{"thread.diameter", NULL, NULL},
              {"thread.yield", NULL, NULL},
              {"thread.head-bearing", NULL, NULL},
              {"thread.assembly-torque", NULL, NULL},
              {"thread.wrench-setting", NULL, NULL},
              {"thread.preload-from-torque", "pull", NULL, "pull of a screw at this setting"},
              {"thread.clamp-load", NULL, "preload=pull"},
              {"thread.least-engagement", NULL, NULL},
              {"thread.cure-time", NULL, "temperature=machine.hall-temperature"}},
    .steps = {{.when = WH_WHEN_STRIP, .only = WH_ONLY_WITHOUT_KEY, .key = "stay-in=yes",
               .words = "Undo {set}, a little each, {pattern}; into a tagged bag."},
              {.when = WH_WHEN_STRIP, .only = WH_ONLY_WITH_KEY, .key = "stay-in=yes",
               .words = "Loosen {set}, a little each, {pattern}; they stay in."},
              {.when = WH_WHEN_REBUILD, .only = WH_ONLY_WITH_KEY, .key = "locked=adhesive",
               .words = "Clean dry threads, a drop of medium strength thread adhesive on each.",
               .cautions = {"adhesive-dry"},
               .figures = {"cure-time"}, .consumable = "thread adhesive, medium strength"},
              {.when = WH_WHEN_REBUILD, .only = WH_ONLY_WITH_KEY, .key = "pattern=by hand",
               .words = "Tighten {set}, {state}: {stages}."},
              {.when = WH_WHEN_REBUILD, .only = WH_ONLY_WITHOUT_KEY, .key = "pattern=by hand",
               .words = "Tighten {set}, {state}, {pattern}: {stages}.",
               .figures = {"wrench-setting", "assembly-torque", "pull"},
               .tool = "torque wrench", .cautions = {"wrench"}},
              {.when = WH_WHEN_REBUILD, .only = WH_ONLY_WITH_KEY, .key = "locked=mark",
               .words = "Paint mark across each head."},
              {.when = WH_WHEN_REBUILD, .only = WH_ONLY_WITH_KEY, .key = "locked=tab",
               .words = "Bend a new tab at each head.",
               .consumable = "tab washers"}}};
