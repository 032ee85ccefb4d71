/* Any bytes as a page template, filled from a small tree: a wrong one is told with its line; what a good one prints has
 * no text of the tree in it that could end an element or an attribute. */
#include "fuzz.h"
#include "web/template.h"

#include <string.h>

enum { CAP = 16 << 20, LONGEST = 4096 };

struct given {
    const char *bytes;
    size_t size;
};

static struct wh_tree *sample(struct wh_arena *arena)
{
    struct wh_tree *map = wh_tree_new(arena, WH_TREE_MAP), *list = wh_tree_add_new(arena, map, "l", WH_TREE_LIST);
    wh_tree_add_text(arena, map, "a", "<q\"'&>");
    wh_tree_add_text(arena, map, "e", "");
    for (int i = 0; i < 3; i++) wh_tree_add_text(arena, wh_tree_add_new(arena, list, NULL, WH_TREE_MAP), "a", "<q>");
    return map;
}

static enum wh_status check(struct wh_arena *arena, void *context)
{
    const struct given *given = context;
    const struct wh_page_file file = {"t.html", given->bytes, given->size};
    const struct wh_templates *templates;
    struct wh_errors errors = wh_errors_in(arena);
    struct wh_text text = {.arena = arena};
    if (given->size > LONGEST) return WH_OK;
    if (wh_templates_read(arena, &file, 1, &templates, &errors) != WH_OK) {
        must(errors.count > 0);
        return WH_OK;
    }
    wh_templates_fill(templates, "t", sample(arena), &text);
    bool own = strstr(wh_arena_slice(arena, given->bytes, given->size), "<q") != NULL;
    must(own || text.count == 0 || !strstr(wh_text_of(&text), "<q"));
    return WH_OK;
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    struct given given = {(const char *)data, size};
    wh_arena_run(CAP, check, &given);
    return 0;
}
