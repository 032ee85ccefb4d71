/* scene_tree.h - a drawing as a tree, so that it can be kept as it was shown, and the drawing again. */
#ifndef WH_BASE_SCENE_TREE_H
#define WH_BASE_SCENE_TREE_H

#include "base/scene.h"
#include "base/tree.h"

/* A map: title, frame, strokes. Places are rounded to a hundredth of a mm of the model. */
struct wh_tree *wh_scene_to_tree(struct wh_arena *arena, const struct wh_scene *scene);

/* NULL: the tree is no drawing, or a broken one. */
struct wh_scene *wh_scene_of_tree(struct wh_arena *arena, const struct wh_tree *tree);

#endif
