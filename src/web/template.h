/* template.h - page templates: plain HTML with words in double braces, filled from a tree. Can be read alone.
 *
 *     {{title}}                      the text of that name, always escaped; nothing when there is none
 *     {{.}}                          the text of the item itself
 *     {{for steps}} … {{end}}        once for each item of a list, which is then the nearest place to look a name up
 *     {{with reading}} … {{end}}     the same for one map, where there is one
 *     {{if name}} … {{else}} … {{end}}         there, and neither empty nor false
 *     {{if mark is done}} … {{end}}  its text is just that
 *     {{draw section}}               a scene, as a drawing
 *     {{use foot}}                   another template, with the same names
 *
 * A name is looked up in the nearest map first, then outward. There is no way to print a text as it stands. */
#ifndef WH_WEB_TEMPLATE_H
#define WH_WEB_TEMPLATE_H

#include "base/error.h"
#include "base/tree.h"

/* A file of pages/, built into the program: "machine.html". */
struct wh_page_file {
    const char *name;
    const char *bytes;
    size_t size;
};
extern const struct wh_page_file wh_page_files[];
extern const size_t wh_page_file_count;

const struct wh_page_file *wh_page_file(const char *name);

struct wh_templates;

/* Reads all files whose name ends in .html. Errors: WH_ERR_INPUT, each with file, line and what would be right. */
enum wh_status wh_templates_read(struct wh_arena *arena, const struct wh_page_file files[], size_t count,
                                 const struct wh_templates **ret, struct wh_errors *reterr);

/* Fills the template of a name ("machine" for machine.html) and adds it to `to`. false: there is no such template, or
 * templates use each other in a ring. */
bool wh_templates_fill(const struct wh_templates *templates, const char *name, const struct wh_tree *tree,
                       struct wh_text *to);

/* Adds a text with & < > " ' written so that neither an element nor an attribute can end in it. */
void wh_escape(struct wh_text *to, const char *text, size_t n);

#endif
