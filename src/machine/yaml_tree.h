/* yaml_tree.h - reads the restricted YAML of machine files into a tree: block style only, all scalars are text. */
#ifndef WH_MACHINE_YAML_TREE_H
#define WH_MACHINE_YAML_TREE_H

#include "base/tree.h"

/* Reads a text whose top is a map. An error of syntax ends the reading; so do anchors, aliases, tags, flow style and a
 * second document. Doubled keys are added to the errors and reading goes on: the status is then still WH_OK. `path`
 * names the file in places. */
enum wh_status wh_yaml_read(struct wh_arena *arena, const char *path, const char *bytes, size_t size,
                            struct wh_tree **ret, struct wh_errors *reterr);

#endif
