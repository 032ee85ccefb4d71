/* What was entered beside steps and readings, and the places to type it. */
#include "view/bench.h"
#include "view/machine.h"

static const char *joined(struct wh_arena *arena, const struct wh_tree *node)
{
    struct wh_text text = {.arena = arena};
    if (node->is == WH_TREE_TEXT || node->is == WH_TREE_NUMBER || node->is == WH_TREE_TRUTH) return node->text;
    for (const struct wh_tree *item = node->first; item; item = item->next)
        wh_text_print(&text, "%s%s", text.count ? ", " : "", item->text ? item->text : "");
    return wh_text_of(&text);
}

/* The fields of the kind's table, each under its title; photos apart. */
static void add_fields(struct wh_arena *arena, struct wh_tree *item, const struct wh_job_line *line)
{
    const struct wh_entry_kind *kind = wh_entry_kind(line->kind);
    struct wh_tree *fields = wh_tree_add_new(arena, item, "fields", WH_TREE_LIST);
    for (const struct wh_entry_field *f = kind ? kind->fields : NULL; f && f->name; f++) {
        const struct wh_tree *value = wh_tree_get(line->body, f->name);
        if (!value || f->form == WH_ENTRY_TREE || f->form == WH_ENTRY_FILES) continue;
        struct wh_tree *field = wh_tree_add_new(arena, fields, NULL, WH_TREE_MAP);
        wh_tree_add_text(arena, field, "title", f->title);
        wh_tree_add_text(arena, field, "text", joined(arena, value));
    }
    const struct wh_tree *files = wh_same(line->kind, "record") ? NULL : wh_tree_get(line->body, "files");
    struct wh_tree *photos = wh_tree_add_new(arena, item, "photos", WH_TREE_LIST);
    for (const struct wh_tree *file = files ? files->first : NULL; file; file = file->next)
        wh_tree_add_text(arena, photos, NULL, file->text);
}

struct wh_tree *wh_view_bench_lines(struct wh_arena *arena, const struct wh_job *job)
{
    struct wh_tree *list = wh_tree_new(arena, WH_TREE_LIST);
    for (size_t i = job->lines.count; i-- > 0;) {
        const struct wh_job_line *line = &job->lines.at[i];
        const struct wh_entry_kind *kind = wh_entry_kind(line->kind);
        struct wh_tree *item = wh_tree_add_new(arena, list, NULL, WH_TREE_MAP);
        wh_tree_add_text(arena, item, "kind", line->kind);
        wh_tree_add_text(arena, item, "title", kind ? kind->title : line->kind);
        wh_tree_add_text(arena, item, "who", line->who);
        wh_tree_add_text(arena, item, "at", wh_view_clock(arena, line->at));
        add_fields(arena, item, line);
    }
    wh_view_units(arena, list);
    return list;
}

struct wh_tree *wh_view_entry_form(struct wh_arena *arena, const struct wh_entry_kind *kind)
{
    struct wh_tree *map = wh_tree_new(arena, WH_TREE_MAP);
    wh_tree_add_text(arena, map, "kind", kind->name);
    wh_tree_add_text(arena, map, "title", kind->title);
    struct wh_tree *list = wh_tree_add_new(arena, map, "fields", WH_TREE_LIST);
    for (const struct wh_entry_field *f = kind->fields; f->name; f++) {
        if (f->form == WH_ENTRY_TREE) continue;
        struct wh_tree *field = wh_tree_add_new(arena, list, NULL, WH_TREE_MAP);
        wh_tree_add_text(arena, field, "name", f->name);
        wh_tree_add_text(arena, field, "title", f->title);
        wh_tree_add_truth(arena, field, "needed", f->needed);
        wh_tree_add_truth(arena, field, "file", f->form == WH_ENTRY_FILES);
        wh_tree_add_truth(arena, field, "several",
                          f->form == WH_ENTRY_WORDS || f->form == WH_ENTRY_PARTS || f->form == WH_ENTRY_STEPS);
        struct wh_words words = f->choices ? wh_split(arena, f->choices, '|') : (struct wh_words){0};
        struct wh_tree *choices = wh_tree_add_new(arena, field, "choices", WH_TREE_LIST);
        for (size_t i = 0; i < words.count; i++) wh_tree_add_text(arena, choices, NULL, words.at[i]);
    }
    return map;
}
