/* tree.h - one node type for every structured text: the YAML reader makes it, view builds it, paper, --json and
 * templates print it. A node is a text, a list of nodes, or a map of named nodes; all live in one arena. */
#ifndef WH_BASE_TREE_H
#define WH_BASE_TREE_H

#include "base/error.h"
#include "base/text.h"

#include <stdint.h>

enum wh_tree_is {
    WH_TREE_TEXT,
    WH_TREE_NUMBER,
    WH_TREE_TRUTH,
    WH_TREE_LIST,
    WH_TREE_MAP,
    WH_TREE_SCENE,
    WH_TREE_PICTURE
};

struct wh_scene;
struct wh_picture;

struct wh_tree {
    enum wh_tree_is is;
    uint32_t count;           /* of the nodes in it */
    const char *key;          /* its name in a map, or NULL */
    const char *text;         /* of a text, a number or a truth: ready to print */
    union {
        const struct wh_scene *scene;     /* a drawing that papers and pages draw; text holds what it shows, in words */
        const struct wh_picture *picture; /* a photo that papers show; text says what it shows */
    };
    struct wh_place place;    /* of the value, where it was read */
    int key_line, key_column; /* of its key */
    struct wh_tree *next;     /* the following node of the same list or map */
    struct wh_tree *first, *last;
};

struct wh_tree *wh_tree_new(struct wh_arena *arena, enum wh_tree_is is);

/* Where the key of a node was read, in the same file as its value. */
struct wh_place wh_tree_key_place(const struct wh_tree *node);

/* Adds a node to a list (key NULL) or a map; returns the added node. */
struct wh_tree *wh_tree_add(struct wh_arena *arena, struct wh_tree *to, const char *key, struct wh_tree *node);
struct wh_tree *wh_tree_add_new(struct wh_arena *arena, struct wh_tree *to, const char *key, enum wh_tree_is is);
struct wh_tree *wh_tree_add_text(struct wh_arena *arena, struct wh_tree *to, const char *key, const char *text);
/* A JSON number with all the digits needed to read it back; NaN and infinity become null. */
struct wh_tree *wh_tree_add_number(struct wh_arena *arena, struct wh_tree *to, const char *key, double number);
struct wh_tree *wh_tree_add_truth(struct wh_arena *arena, struct wh_tree *to, const char *key, bool truth);

/* The tree once more, with all its texts, in another arena; scenes are not copied. */
struct wh_tree *wh_tree_copy(struct wh_arena *arena, const struct wh_tree *tree);

/* The node of that name in a map, or NULL; its text, or `otherwise`. Both take NULL for a tree. */
struct wh_tree *wh_tree_get(const struct wh_tree *map, const char *key);
const char *wh_tree_text(const struct wh_tree *map, const char *key, const char *otherwise);

/* The number of that name in a map; `otherwise` when it is missing, no number or null. Takes NULL for a tree. */
double wh_tree_number(const struct wh_tree *map, const char *key, double otherwise);

/* Are two trees alike: the same keys in the same order with the same texts? Places do not count; both may be NULL. */
bool wh_tree_same(const struct wh_tree *a, const struct wh_tree *b);

/* Reads JSON (RFC 8259): a map at the top, keys of a map each once and at most 256, at most 32 levels; null
 * is a number without a value. `name` stands in the places of errors. Errors: WH_ERR_INPUT with line and column. */
enum wh_status wh_tree_read(struct wh_arena *arena, const char *name, const char *bytes, size_t size,
                            struct wh_tree **ret, struct wh_errors *reterr);

/* The tree as JSON in one line without spaces, no newline: what is stored and hashed. */
const char *wh_tree_line(struct wh_arena *arena, const struct wh_tree *tree);

/* The tree as JSON, two spaces a level, a newline at the end. Scenes and pictures print their words. */
const char *wh_tree_json(struct wh_arena *arena, const struct wh_tree *tree);

#endif
