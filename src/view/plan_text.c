/* A plan for a terminal: one line a step, what belongs to it indented below. */
#include "view/plan.h"

#include <math.h>
#include <string.h>

struct printer {
    struct wh_text text;
    bool bold;
};

static double number(const struct wh_tree *map, const char *key)
{
    double value = 0;
    wh_number_read(wh_tree_text(map, key, "0"), &value);
    return value;
}

static void heading(struct printer *p, const char *words)
{
    wh_text_print(&p->text, p->bold ? "\n\033[1m%s\033[0m\n" : "\n%s\n", words);
}

static void print_list(struct printer *p, const char *lead, const struct wh_tree *list)
{
    for (const struct wh_tree *item = list ? list->first : NULL; item; item = item->next)
        wh_text_print(&p->text, "  %-12s %s\n", item == list->first ? lead : "", item->text);
}

static void print_choice(struct printer *p, const struct wh_tree *choice)
{
    wh_text_print(&p->text, "  %-12s %s leaves %s; %s %s\n", "way", wh_tree_text(choice, "part", ""),
                  wh_tree_text(choice, "way", ""), wh_tree_text(choice, "other way", ""),
                  wh_tree_text(choice, "other way costs", ""));
}

static void print_summary(struct printer *p, const struct wh_tree *plan)
{
    struct wh_arena *arena = p->text.arena;
    double least = number(plan, "quickest order minutes"), usual = number(plan, "usual order minutes");
    const char *usual_word = number(plan, "steps done") > 0 ? "former" : "usual";
    heading(p, wh_tree_text(plan, "machine", ""));
    if (number(plan, "steps done") > 0)
        wh_text_print(&p->text, "  %-12s %.0f steps; %s of work left\n", "done", number(plan, "steps done"),
                      wh_view_minutes(arena, number(plan, "minutes left") * 60));
    print_list(p, "mind", wh_tree_get(plan, "notes"));
    wh_text_print(&p->text, "  %-12s %s\n", "time",
                  wh_view_work(arena, number(plan, "minutes") * 60, number(plan, "hands minutes") * 60,
                               (int)number(plan, "fitters")));
    wh_text_print(&p->text, "  %-12s %s\n", "order", wh_tree_text(plan, "proof", ""));
    if (wh_same(wh_tree_text(plan, "usual order kept", ""), "true"))
        wh_text_print(&p->text, "  %-12s the %s order is kept; the quickest would save %s\n", "", usual_word,
                      wh_view_minutes(arena, (usual - least) * 60));
    else if (wh_same(wh_tree_text(plan, "usual order minutes", "null"), "null"))
        wh_text_print(&p->text, "  %-12s in the %s order the times between steps could not all be kept\n", "",
                      usual_word);
    else
        wh_text_print(&p->text, "  %-12s it saves %s against the %s order\n", "",
                      wh_view_minutes(arena, (usual - number(plan, "minutes")) * 60), usual_word);
    for (const struct wh_tree *c = wh_tree_get(plan, "choices")->first; c; c = c->next) print_choice(p, c);
}

static void print_kit(struct printer *p, const struct wh_tree *kit)
{
    heading(p, "What you need");
    for (const struct wh_tree *part = wh_tree_get(kit, "parts")->first; part; part = part->next)
        wh_text_print(&p->text, "  %-12s %s: %s (%s)\n", "renew", wh_tree_text(part, "title", ""),
                      wh_tree_text(part, "designation", ""), wh_tree_text(part, "because", ""));
    print_list(p, "consumables", wh_tree_get(kit, "consumables"));
    print_list(p, "tools", wh_tree_get(kit, "tools"));
    print_list(p, "gauges", wh_tree_get(kit, "gauges"));
    print_list(p, "bag tags", wh_tree_get(kit, "bag tags"));
}

static void print_reading(struct printer *p, const struct wh_tree *reading)
{
    const char *gauge = wh_tree_text(reading, "gauge", NULL), *expected = wh_tree_text(reading, "expected", NULL);
    const char *wear_limit = wh_tree_text(reading, "wear limit", NULL);
    wh_text_print(&p->text, "        read: %s", wh_tree_text(reading, "limits", ""));
    if (wear_limit) wh_text_print(&p->text, ", wear limit %s", wear_limit);
    if (expected) wh_text_print(&p->text, ", expected %s", expected);
    if (gauge) wh_text_print(&p->text, ", with %s %s", gauge, wh_tree_text(reading, "gauge uncertainty", ""));
    wh_text_add(&p->text, "\n");
}

static void print_step(struct printer *p, const struct wh_tree *step, bool several)
{
    const char *turned = wh_tree_text(step, "turned", NULL), *waits = wh_tree_text(step, "waits", NULL);
    if (turned) wh_text_print(&p->text, "      ---- turn the machine: %s ----\n", turned);
    if (waits && !wh_tree_get(step, "done"))
        wh_text_print(&p->text, "      .... wait: %s, %.0f min ....\n", waits, number(step, "waited minutes"));
    if (wh_tree_get(step, "call minutes"))
        wh_text_print(&p->text, "      .... call: %s, %.0f min ....\n", wh_tree_text(step, "by", ""),
                      number(step, "call minutes"));
    wh_text_print(&p->text, "%4.0f  %s", number(step, "number"), wh_tree_text(step, "what", ""));
    wh_text_print(&p->text, "  [%.0f min", number(step, "minutes"));
    if (*wh_tree_text(step, "place", "")) wh_text_print(&p->text, ", %s", wh_tree_text(step, "place", ""));
    if (number(step, "crew") > 1) wh_text_print(&p->text, ", two people or one and a hoist");
    if (wh_tree_get(step, "tool")) wh_text_print(&p->text, ", %s", wh_tree_text(step, "tool", ""));
    if (wh_tree_get(step, "by")) wh_text_print(&p->text, ", %s", wh_tree_text(step, "by", ""));
    if (several && wh_tree_get(step, "together"))
        wh_text_add(&p->text, ", all fitters");
    else if (several)
        wh_text_print(&p->text, ", fitter %.0f", number(step, "fitter"));
    wh_text_add(&p->text, wh_tree_get(step, "done") ? ", done]\n" : "]\n");
    if (wh_tree_get(step, "done")) return;
    for (const struct wh_tree *c = wh_tree_get(step, "cautions")->first; c; c = c->next)
        wh_text_print(&p->text, "        ! %s\n", wh_tree_text(c, "text", ""));
    for (const struct wh_tree *line = wh_tree_get(step, "lines")->first; line; line = line->next)
        wh_text_print(&p->text, "        %s\n", line->text);
    for (const struct wh_tree *f = wh_tree_get(step, "figures")->first; f; f = f->next) {
        const char *span = wh_tree_text(f, "span", ""), *remark = wh_tree_text(f, "remark", NULL);
        wh_text_print(&p->text, "        = %s: %s%s%s%s%s%s\n", wh_tree_text(f, "title", ""),
                      wh_tree_text(f, "value", ""), *span ? " (" : "", span, *span ? ")" : "", remark ? "; " : "",
                      remark ? remark : "");
    }
    if (wh_tree_get(step, "reading")) print_reading(p, wh_tree_get(step, "reading"));
}

static void print_energies(struct printer *p, const struct wh_tree *list)
{
    for (const struct wh_tree *e = list->first; e; e = e->next)
        wh_text_print(&p->text, "      energy: %s: %s; tried: %s\n", wh_tree_text(e, "energy", ""),
                      wh_tree_text(e, "off", ""), wh_tree_text(e, "tried", ""));
}

const char *wh_view_plan_text(struct wh_arena *arena, const struct wh_tree *plan, bool bold)
{
    struct printer p = {.text = {.arena = arena}, .bold = bold};
    const char *stage = "";
    bool several = false;
    for (const struct wh_tree *step = wh_tree_get(plan, "steps")->first; step; step = step->next)
        several |= number(step, "fitter") > 1;
    print_summary(&p, plan);
    print_kit(&p, wh_tree_get(plan, "kit"));
    for (const struct wh_tree *step = wh_tree_get(plan, "steps")->first; step; step = step->next) {
        const char *now = wh_tree_text(step, "stage", "");
        if (strcmp(now, stage) != 0) {
            char *words = wh_arena_text(arena, now);
            words[0] = (char)(words[0] - 'a' + 'A');
            heading(&p, words);
            if (!*stage) print_energies(&p, wh_tree_get(plan, "energies"));
        }
        stage = now;
        print_step(&p, step, several);
    }
    return wh_text_of(&p.text);
}
