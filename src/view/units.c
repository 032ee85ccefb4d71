/* Units as they are written by hand rather than typed. */
#include "view/machine.h"

#include <string.h>

const char *wh_view_units_text(struct wh_arena *arena, const char *text)
{
    static const char *const units[][2] = {{"degC", "°C"}, {"degF", "°F"}, {" um", " µm"}};
    struct wh_text out = {.arena = arena};
    while (*text) {
        size_t u = 0, n = 0;
        for (; u < 3; u++) {
            n = strlen(units[u][0]);
            if (strncmp(text, units[u][0], n) == 0 && !(text[n] >= 'a' && text[n] <= 'z')) break;
        }
        if (u < 3)
            wh_text_add(&out, units[u][1]);
        else
            wh_text_add_slice(&out, text, 1);
        text += u < 3 ? n : 1;
    }
    return wh_text_of(&out);
}

void wh_view_units(struct wh_arena *arena, struct wh_tree *tree)
{
    if (tree->is == WH_TREE_TEXT && tree->text && (strstr(tree->text, "deg") || strstr(tree->text, " um")))
        tree->text = wh_view_units_text(arena, tree->text);
    for (struct wh_tree *node = tree->first; node; node = node->next) wh_view_units(arena, node);
}
