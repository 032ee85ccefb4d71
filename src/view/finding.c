#include "view/finding.h"

static void add_line(struct wh_arena *arena, struct wh_tree *list, const char *record, const struct wh_line *line)
{
    struct wh_tree *map = wh_tree_add_new(arena, list, NULL, WH_TREE_MAP);
    wh_tree_add_text(arena, map, "name", line->name);
    if (line->beside) wh_tree_add_truth(arena, map, "beside", true);
    wh_tree_add_number(arena, map, "frequency", line->frequency);
    wh_tree_add_number(arena, map, "order", line->order);
    wh_tree_add_number(arena, map, "level", line->level);
    wh_tree_add_number(arena, map, "over floor", line->over_floor_db);
    wh_tree_add_text(arena, map, "of", line->of);
    wh_tree_add_text(arena, map, "place", line->place);
    wh_tree_add_text(arena, map, "record", record);
}

static void add_finding(struct wh_arena *arena, struct wh_tree *list, const char *record,
                        const struct wh_finding *finding)
{
    struct wh_tree *map = wh_tree_add_new(arena, list, NULL, WH_TREE_MAP);
    wh_tree_add_text(arena, map, "part", finding->part);
    wh_tree_add_text(arena, map, "place", finding->place);
    wh_tree_add_text(arena, map, "says", finding->says);
    wh_tree_add_text(arena, map, "evidence", finding->evidence);
    wh_tree_add_text(arena, map, "sure", finding->sure);
    wh_tree_add_text(arena, map, "record", record);
}

void wh_view_findings_add(struct wh_arena *arena, struct wh_tree *run, const char *record,
                          const struct wh_reading *reading)
{
    struct wh_tree *read = wh_tree_get(run, "read");
    if (!read) read = wh_tree_add_new(arena, run, "read", WH_TREE_LIST);
    struct wh_tree *map = wh_tree_add_new(arena, read, NULL, WH_TREE_MAP);
    wh_tree_add_text(arena, map, "record", record);
    wh_tree_add_text(arena, map, "says", reading->says);
    wh_tree_add_text(arena, map, "shaft", reading->shaft_says);
    if (reading->shaft > 0) wh_tree_add_number(arena, map, "shaft frequency", reading->shaft);
    for (size_t i = 0; i < reading->findings.count; i++)
        add_finding(arena, wh_tree_get(run, "findings"), record, &reading->findings.at[i]);
    for (size_t i = 0; i < reading->lines.count; i++)
        add_line(arena, wh_tree_get(run, "lines"), record, &reading->lines.at[i]);
}

static bool is_of(const struct wh_tree *entry, const struct wh_tree *read)
{
    return wh_same(wh_tree_text(entry, "record", ""), wh_tree_text(read, "record", ""));
}

void wh_view_findings_text(struct wh_text *text, const struct wh_tree *run)
{
    const struct wh_tree *reads = wh_tree_get(run, "read");
    for (const struct wh_tree *read = reads ? reads->first : NULL; read; read = read->next) {
        size_t found = 0;
        if (reads->count > 1) wh_text_print(text, "%s\n", wh_tree_text(read, "record", ""));
        for (const struct wh_tree *f = wh_tree_get(run, "findings")->first; f; f = f->next) {
            const char *place = wh_tree_text(f, "place", "");
            if (!is_of(f, read)) continue;
            found++;
            wh_text_print(text, "Found, %s%s%s: %s.\n  %s\n", wh_tree_text(f, "sure", ""), *place ? ", at " : "", place,
                          wh_tree_text(f, "says", ""), wh_tree_text(f, "evidence", ""));
        }
        if (!found) wh_text_print(text, "Read: %s.\n", wh_tree_text(read, "says", ""));
        wh_text_print(text, "Shaft: %s.\n", wh_tree_text(read, "shaft", ""));
    }
}

static bool same_group(const struct wh_tree *a, const struct wh_tree *b)
{
    return wh_same(wh_tree_text(a, "of", ""), wh_tree_text(b, "of", "")) &&
           wh_same(wh_tree_text(a, "place", ""), wh_tree_text(b, "place", "")) && is_of(a, b);
}

static void print_line(struct wh_text *text, const struct wh_tree *l)
{
    wh_text_print(text, "  %8.2f Hz  %7.3f times a turn  %3.0f dB over the noise  %s%s\n",
                  wh_tree_number(l, "frequency", 0), wh_tree_number(l, "order", 0), wh_tree_number(l, "over floor", 0),
                  wh_tree_text(l, "name", ""), wh_tree_get(l, "beside") ? ", beside a multiple" : "");
}

enum { MOST_NAMELESS = 3 }; /* lines that nothing explains, of each spectrum; the others are only counted */

/* The lines of one spectrum; gives the first of the next. */
static const struct wh_tree *print_group(struct wh_text *text, const struct wh_tree *first)
{
    const struct wh_tree *l = first;
    size_t nameless = 0;
    const char *place = wh_tree_text(first, "place", "");
    wh_text_print(text, "\nLines of the %s%s%s:\n", wh_tree_text(first, "of", ""), *place ? " at " : "", place);
    for (; l && same_group(l, first); l = l->next)
        if (!wh_same(wh_tree_text(l, "name", ""), "not named") || nameless++ < MOST_NAMELESS) print_line(text, l);
    if (nameless > MOST_NAMELESS) wh_text_print(text, "  and %zu more without a name\n", nameless - MOST_NAMELESS);
    return l;
}

void wh_view_lines_text(struct wh_text *text, const struct wh_tree *run)
{
    const struct wh_tree *line = wh_tree_get(run, "lines")->first;
    while (line) line = print_group(text, line);
}
