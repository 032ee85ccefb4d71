/* handbook.h - the handbook of all rules as a tree, which web/ sets as pages and handbook_markdown.c as Markdown.
 *
 *     title, count, subjects: name, title, sections: title, rules: (below)
 *     terms: word, means
 *
 * A rule: name, title, subject, formula, source, takes and gives (name, symbol, title, unit, range, usual, many),
 * example (command, kind, source, expected, result, remark, working), and three lists of other rules (name, title,
 * subject): "comes from" give what it takes, "goes into" take what it gives, "see also" give the same by another way.
 */
#ifndef WH_VIEW_HANDBOOK_H
#define WH_VIEW_HANDBOOK_H

#include "base/tree.h"

struct wh_tree *wh_view_handbook(struct wh_arena *arena);

/* The index, a subject's page and the glossary as Markdown. */
const char *wh_handbook_index(struct wh_arena *arena, const struct wh_tree *book);
const char *wh_handbook_subject(struct wh_arena *arena, const struct wh_tree *subject);
const char *wh_handbook_glossary(struct wh_arena *arena, const struct wh_tree *book);

#endif
