#include "web/handbook.h"

#include "base/file.h"
#include "web/template.h"

#include <string.h>

struct shelf {
    struct wh_arena *arena;
    const struct wh_templates *templates;
    const char *folder;
    struct wh_errors *errors;
};

static enum wh_status put(struct shelf *shelf, const char *name, const char *bytes, size_t size)
{
    return wh_file_write(shelf->arena, wh_arena_print(shelf->arena, "%s/%s", shelf->folder, name), bytes, size,
                         shelf->errors);
}

/* A page of a template, NAME.html. */
static enum wh_status put_page(struct shelf *shelf, const char *template, const char *name, const char *title,
                               struct wh_tree *page)
{
    struct wh_text text = {.arena = shelf->arena};
    struct wh_tree *heading = wh_tree_get(page, "page title");
    if (heading)
        heading->text = title;
    else
        wh_tree_add_text(shelf->arena, page, "page title", title);
    if (!wh_templates_fill(shelf->templates, template, page, &text))
        return wh_errors_add(shelf->errors, WH_ERR_FILE, (struct wh_place){0}, NULL, "%s cannot be drawn", name);
    return put(shelf, wh_arena_print(shelf->arena, "%s.html", name), wh_text_of(&text), text.count);
}

static enum wh_status put_rules(struct shelf *shelf, const struct wh_tree *subject)
{
    enum wh_status status = WH_OK;
    for (const struct wh_tree *s = wh_tree_get(subject, "sections")->first; s; s = s->next)
        for (struct wh_tree *rule = wh_tree_get(s, "rules")->first; rule && status == WH_OK; rule = rule->next)
            status =
                put_page(shelf, "handbook_rule", wh_tree_text(rule, "name", ""), wh_tree_text(rule, "title", ""), rule);
    return status;
}

enum wh_status wh_handbook_html(struct wh_arena *arena, struct wh_tree *book, const char *folder,
                                struct wh_errors *reterr)
{
    struct shelf shelf = {arena, NULL, folder, reterr};
    enum wh_status status = wh_templates_read(arena, wh_page_files, wh_page_file_count, &shelf.templates, reterr);
    const struct wh_page_file *style = wh_page_file("style.css");
    if (status == WH_OK && style) status = put(&shelf, "style.css", style->bytes, style->size);
    if (status == WH_OK) status = put_page(&shelf, "handbook", "index", "Handbook", book);
    if (status == WH_OK) status = put_page(&shelf, "handbook_glossary", "glossary", "Words", book);
    for (struct wh_tree *s = wh_tree_get(book, "subjects")->first; s && status == WH_OK; s = s->next) {
        const char *name = wh_tree_text(s, "name", "");
        status = put_page(&shelf, "handbook_subject", name, wh_tree_text(s, "title", ""), s);
        if (status == WH_OK) status = put_rules(&shelf, s);
    }
    return status;
}
