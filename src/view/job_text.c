/* A job for a terminal, and as a service report in plain text. */
#include "base/text.h"
#include "view/job.h"

#include <string.h>

static const struct wh_tree *first_of(const struct wh_tree *map, const char *key)
{
    const struct wh_tree *list = wh_tree_get(map, key);
    return list ? list->first : NULL;
}

static void line(struct wh_text *to, const char *word, const char *text)
{
    if (*text) wh_text_print(to, "  %-14s %s\n", word, text);
}

static void heading(struct wh_text *to, const char *words)
{
    wh_text_print(to, "\n%s\n", words);
}

static void add_head(struct wh_text *to, const struct wh_tree *job)
{
    wh_text_print(to, "Job %s: %s, %s\n", wh_tree_text(job, "job", ""), wh_tree_text(job, "machine", ""),
                  wh_tree_text(job, "title", ""));
    line(to, "opened", wh_tree_text(job, "opened", ""));
    line(to, "brought in by", wh_tree_text(job, "brought in by", ""));
    line(to, "hours run", wh_tree_text(job, "hours run", ""));
    line(to, "stands", wh_tree_text(job, "state", ""));
}

static void add_step(struct wh_text *to, const struct wh_tree *step)
{
    const char *mark = wh_tree_text(step, "mark", ""), *id = wh_tree_text(step, "id", "");
    wh_text_print(to, "%4s  %-8s  %s", wh_tree_text(step, "number", ""), mark, wh_tree_text(step, "what", ""));
    wh_text_print(to, "  [%s]", id);
    if (*wh_tree_text(step, "who", "")) wh_text_print(to, "  %s", wh_tree_text(step, "who", ""));
    if (wh_tree_get(step, "manner")) wh_text_print(to, ", %s", wh_tree_text(step, "manner", ""));
    if (wh_tree_get(step, "because")) wh_text_print(to, ", because %s", wh_tree_text(step, "because", ""));
    wh_text_add(to, "\n");
}

static void add_steps(struct wh_text *to, const struct wh_tree *job)
{
    const char *stage = "";
    for (const struct wh_tree *step = first_of(job, "steps"); step; step = step->next) {
        const char *now = wh_tree_text(step, "stage", "");
        if (strcmp(stage, now) != 0) heading(to, now);
        stage = now;
        add_step(to, step);
    }
}

static void add_holds(struct wh_text *to, const struct wh_tree *job, bool tried)
{
    heading(to, "Holds");
    for (const struct wh_tree *hold = first_of(job, "holds"); hold; hold = hold->next) {
        wh_text_print(to, "  %-18s %s: %s\n", wh_tree_text(hold, "id", ""), wh_tree_text(hold, "title", ""),
                      wh_tree_text(hold, "stands", ""));
        for (const struct wh_tree *r = tried ? first_of(hold, "releases") : NULL; r; r = r->next)
            wh_text_print(to, "  %-18s entry %s, %s: %s\n", "", wh_tree_text(r, "entry", ""),
                          wh_tree_text(r, "who", ""), wh_tree_text(r, "tried", ""));
    }
}

static void add_reading(struct wh_text *to, const struct wh_tree *reading)
{
    wh_text_print(to, "%4s  %s: %s", wh_tree_text(reading, "entry", ""), wh_tree_text(reading, "title", ""),
                  wh_tree_text(reading, "value", ""));
    if (wh_tree_get(reading, "limits")) wh_text_print(to, ", limits %s", wh_tree_text(reading, "limits", ""));
    wh_text_print(to, ": %s\n", wh_tree_text(reading, "says", ""));
    if (wh_tree_get(reading, "gauge"))
        wh_text_print(to, "      with %s, ± %s; %s, %s\n", wh_tree_text(reading, "gauge", ""),
                      wh_tree_text(reading, "gauge uncertainty", "not known"), wh_tree_text(reading, "who", ""),
                      wh_tree_text(reading, "at", ""));
    if (wh_tree_get(reading, "would settle it"))
        wh_text_print(to, "      would settle it: %s\n", wh_tree_text(reading, "would settle it", ""));
    if (wh_tree_get(reading, "remark")) wh_text_print(to, "      %s\n", wh_tree_text(reading, "remark", ""));
    if (wh_tree_get(reading, "hold")) wh_text_print(to, "      %s\n", wh_tree_text(reading, "hold", ""));
    if (wh_tree_get(reading, "first value"))
        wh_text_print(to, "      first entered: %s\n", wh_tree_text(reading, "first value", ""));
    for (const struct wh_tree *a = first_of(reading, "amendments"); a; a = a->next)
        wh_text_print(to, "      amended to %s by %s because %s (entry %s)\n", wh_tree_text(a, "value", ""),
                      wh_tree_text(a, "who", ""), wh_tree_text(a, "because", ""), wh_tree_text(a, "entry", ""));
    if (wh_tree_get(reading, "decided"))
        wh_text_print(to, "      decided by %s: %s\n", wh_tree_text(reading, "decided by", ""),
                      wh_tree_text(reading, "decided", ""));
}

static void add_readings(struct wh_text *to, const struct wh_tree *job, const char *when, const char *words)
{
    bool any = false;
    for (const struct wh_tree *reading = first_of(job, "readings"); reading; reading = reading->next) {
        if (!wh_same(wh_tree_text(reading, "when", ""), when)) continue;
        if (!any) heading(to, words);
        any = true;
        add_reading(to, reading);
    }
}

/* "found: seal lip worn; on: neck-seal; add: pot-seal". */
static void add_entry(struct wh_text *to, const struct wh_tree *entry)
{
    static const char *const shown[] = {"entry", "kind", "title", "who", "at"};
    wh_text_print(to, "%4s  %s, %s", wh_tree_text(entry, "entry", ""), wh_tree_text(entry, "title", ""),
                  wh_tree_text(entry, "who", ""));
    for (const struct wh_tree *node = entry->first; node; node = node->next) {
        bool head = false;
        for (size_t i = 0; i < sizeof shown / sizeof *shown; i++) head |= wh_same(node->key, shown[i]);
        if (!head) wh_text_print(to, "; %s: %s", node->key, node->text);
    }
    wh_text_add(to, "\n");
}

static void add_entries(struct wh_text *to, const struct wh_tree *job, const char *words)
{
    if (!first_of(job, "entries")) return;
    heading(to, words);
    for (const struct wh_tree *entry = first_of(job, "entries"); entry; entry = entry->next) add_entry(to, entry);
}

static void add_contests(struct wh_text *to, const struct wh_tree *job)
{
    for (const struct wh_tree *c = first_of(job, "contests"); c; c = c->next)
        wh_text_print(to, "%4s  contested with entry %s, %s, %s: %s; %s\n", wh_tree_text(c, "entry", ""),
                      wh_tree_text(c, "against", ""), wh_tree_text(c, "who", ""), wh_tree_text(c, "kind", ""),
                      wh_tree_text(c, "says", ""), wh_tree_text(c, "settled", ""));
}

static void add_open(struct wh_text *to, const struct wh_tree *job)
{
    heading(to, "Open");
    if (!first_of(job, "open")) wh_text_add(to, "  nothing\n");
    for (const struct wh_tree *open = first_of(job, "open"); open; open = open->next)
        wh_text_print(to, "  %s\n", open->text);
}

static void add_signatures(struct wh_text *to, const struct wh_tree *job)
{
    heading(to, "Signed");
    for (const struct wh_tree *sign = first_of(job, "signatures"); sign; sign = sign->next)
        wh_text_print(to, "  %-14s %s\n", sign->key, *sign->text ? sign->text : "not yet");
}

const char *wh_view_job_text(struct wh_arena *arena, const struct wh_tree *job, bool all)
{
    struct wh_text text = {.arena = arena};
    add_head(&text, job);
    line(&text, "waits for", wh_tree_text(job, "waits for", ""));
    line(&text, "new plan", wh_tree_text(job, "new plan wanted", ""));
    line(&text, "work left",
         wh_arena_print(arena, "%s steps, %s min", wh_tree_text(job, "steps open", ""),
                        wh_tree_text(job, "minutes left", "")));
    if (wh_tree_get(job, "next"))
        line(&text, "next",
             wh_arena_print(arena, "%s  [%s]", wh_tree_text(job, "next", ""), wh_tree_text(job, "next step", "")));
    if (all) add_steps(&text, job);
    add_holds(&text, job, false);
    add_readings(&text, job, "as found", "Readings as found");
    add_readings(&text, job, "as left", "Readings as left");
    add_entries(&text, job, "Entered");
    add_contests(&text, job);
    add_open(&text, job);
    return wh_text_of(&text);
}

static void add_cautions(struct wh_text *to, const struct wh_tree *job)
{
    heading(to, "Cautions met");
    for (const struct wh_tree *c = first_of(job, "cautions met"); c; c = c->next)
        wh_text_print(to, "  %s, %s: %s\n", wh_tree_text(c, "step", ""), wh_tree_text(c, "who", ""),
                      wh_tree_text(c, "text", ""));
}

const char *wh_view_report_text(struct wh_arena *arena, const struct wh_tree *job)
{
    struct wh_text text = {.arena = arena};
    bool all = *wh_tree_text(wh_tree_get(job, "signatures"), "customer", "");
    wh_text_print(&text, "Service report%s\n", all ? "" : ", draft");
    add_head(&text, job);
    add_entries(&text, job, "Found and done");
    add_contests(&text, job);
    add_readings(&text, job, "as found", "Readings as found");
    add_readings(&text, job, "as left", "Readings as left");
    add_steps(&text, job);
    add_holds(&text, job, true);
    add_cautions(&text, job);
    add_open(&text, job);
    add_signatures(&text, job);
    wh_text_add(&text, "\nThe maker's manual, local rules and licensed practice come before this report.\n");
    return wh_text_of(&text);
}
