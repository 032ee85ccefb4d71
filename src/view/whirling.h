/* whirling.h - how a spindle or shaft whirls: at which speeds it shakes, in which shape, how far from running; its map.
 */
#ifndef WH_VIEW_WHIRLING_H
#define WH_VIEW_WHIRLING_H

#include "base/scene.h"
#include "base/tree.h"
#include "sheet/turning.h"

/* What is known of a shaft's whirling, worked out in an arena. */
struct wh_whirling {
    const struct wh_sheet *sheet;
    const struct wh_use *use;
    size_t shaft;
    double speed, stamped; /* running and stamped; NaN: not stated */
    struct wh_rotor *rotor;
    struct wh_rotor_model *model;
    struct wh_whirl *criticals, *whirls; /* in step; at running speed */
    size_t critical_count, whirl_count;
};

/* The first thing of a machine whose whirling is worked out, or WH_NONE; *ret_why says of one why it is not. */
size_t wh_view_whirling_shaft(const struct wh_sheet *sheet, const char **ret_why);

/* Errors: WH_ERR_NO_ANSWER with why: it is not held, has no section. */
enum wh_status wh_view_whirling(struct wh_arena *arena, const struct wh_sheet *sheet, size_t shaft,
                                struct wh_whirling *ret, const char **ret_why);

/* machine, shaft, speed, says (sentences), criticals, whirls at running speed, bends (under its side pulls); with an
 * unbalance (kg m, at the body of that number) how far it is driven. */
struct wh_tree *wh_view_whirling_tree(struct wh_arena *arena, const struct wh_whirling *whirling);
void wh_view_add_unbalance(struct wh_arena *arena, struct wh_tree *tree, const struct wh_whirling *whirling,
                           double size, size_t body);
/* The same as text for a terminal. */
const char *wh_view_whirling_text(struct wh_arena *arena, const struct wh_tree *tree);

/* "rocks stiffly about the foot support, most at the bowl": a shape in words. */
const char *wh_view_shape(struct wh_arena *arena, const struct wh_whirling *whirling, const struct wh_whirl *whirl);

/* The thing that the n-th body or support of a rotor is. */
size_t wh_view_about(const struct wh_whirling *whirling, const char *kind, size_t n);

/* The shapes at its critical speeds, one above the other. The map: speeds of whirling over the speed of the shaft. */
struct wh_scene *wh_view_whirl_shapes(struct wh_arena *arena, const struct wh_whirling *whirling);
struct wh_scene *wh_view_whirl_map(struct wh_arena *arena, const struct wh_whirling *whirling);

#endif
