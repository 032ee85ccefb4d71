/* paper.h - scenes and documents put on paper: SVG, PNG and PDF.
 *
 * The geometry of a scene is in mm of the model and is scaled as a whole to fit; the widths of its lines, its section
 * lining and the height of its labels are in mm of the paper and stay. All fixed words of the papers (Name, Time,
 * Machine ...) may be given in another language by the document's map `words`, English word to other word. */
#ifndef WH_PAPER_PAPER_H
#define WH_PAPER_PAPER_H

#include "base/error.h"
#include "base/scene.h"
#include "base/text.h"
#include "base/tree.h"

/* A whole SVG element, to stand alone or inside a page. It is drawn for a paper of 180 x 240 mm at most and never
 * enlarged. Ink is currentColor, paper is #ffffff, copper #b35c2e, its tint #f6e6dc: a style sheet may set others.
 * Every stroke of a part carries data-part. Text is escaped. */
enum wh_status wh_paper_svg(struct wh_arena *arena, const struct wh_scene *scene, struct wh_text *ret);

/* The same picture as dots on white paper. */
enum wh_status wh_paper_png(struct wh_arena *arena, const struct wh_scene *scene, double pixels_per_mm,
                            const char *path, struct wh_errors *errors);

/* A document as printed sheets. Equal documents give equal bytes. Errors: WH_ERR_INPUT (a block that is not known, no
 * date, no sheets), WH_ERR_FILE, WH_ERR_LIMIT (more than the program's room for one document). */
enum wh_status wh_paper_pdf(struct wh_arena *arena, const struct wh_tree *document, const char *path,
                            struct wh_errors *errors);

#endif
