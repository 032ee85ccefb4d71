/* handbook.h - the handbook of rules as pages in a folder: for reading and printing without a server. */
#ifndef WH_WEB_HANDBOOK_H
#define WH_WEB_HANDBOOK_H

#include "base/error.h"
#include "base/tree.h"

/* Writes index.html, glossary.html, style.css, a page a subject and a page a rule of a tree of view/handbook.h. Errors:
 * WH_ERR_FILE. */
enum wh_status wh_handbook_html(struct wh_arena *arena, struct wh_tree *book, const char *folder,
                                struct wh_errors *reterr);

#endif
