/* page.h - what a page gets and what it gives back: private to web/.
 *
 * A page is one function: it asks the desk, hands what it got to view, and fills a template with the tree. Requests are
 * worked by several threads at once; a page keeps nothing of its own between two of them. */
#ifndef WH_WEB_PAGE_H
#define WH_WEB_PAGE_H

#include "base/text.h"
#include "base/tree.h"
#include "web/form.h"

#include <stdint.h>

enum { WH_HELD = 3, WH_USUAL_BODY = 64 * 1024 };

/* Who may see a page; each may do what those before may. */
enum wh_standing { WH_STANDING_NOBODY, WH_STANDING_READER, WH_STANDING_FITTER, WH_STANDING_CHARGE_HAND };

struct wh_request {
    struct wh_arena *arena;
    const char *method, *path;
    const char *held[WH_HELD]; /* what stood in the places {…} of the route */
    struct wh_form_sent query, form;
    const char *visit, *token; /* the word of the visit; what its forms carry */
    const char *person;        /* who is signed in; NULL for nobody */
    enum wh_standing standing;
    bool inch;   /* figures are wanted in inch units */
    bool part;   /* only the changed part of the page is wanted */
    int64_t now; /* milliseconds since 1970 */
};

struct wh_reply {
    int code;         /* 200 unless set */
    const char *type; /* "text/html; charset=utf-8" unless set */
    const char *bytes;
    size_t size;
    const char *location; /* of another page to go to, with 303 */
    const char *cookie;   /* a session to remember; "" to forget */
    const char *units;    /* "inch" or "metric" to remember; or NULL */
    const char *file;     /* name under which it is to be kept, or NULL */
    bool lasting;         /* never changes: may be kept by the browser */
};

struct wh_house;
typedef void (*wh_page)(const struct wh_house *house, const struct wh_request *request, struct wh_reply *reply);

struct wh_route {
    const char *method, *pattern; /* "/machines/{machine}/parts/{part}" */
    wh_page page;
    enum wh_standing least;
    size_t most; /* bytes of a body; 0: the usual 64 KiB */
};

/* The route for a method and a path; *ret_known: another method would have one. held gets copies of what stood in the
 * places {…}, with escapes undone. */
const struct wh_route *wh_route_find(struct wh_arena *arena, const char *method, const char *path,
                                     const char *held[WH_HELD], bool *ret_known);

/* The most bytes that any page of this path takes. */
size_t wh_route_most(const char *path);

/* A map for a page, with what every page shows: title, words at the foot, who is signed in, the form's token. */
struct wh_tree *wh_page_new(const struct wh_house *house, const struct wh_request *request, const char *title);

/* Fills a template into the reply. */
void wh_page_fill(const struct wh_house *house, const struct wh_request *request, const char *name,
                  const struct wh_tree *page, struct wh_reply *reply);

/* A page that says in a sentence what is wrong, and what would be right (or NULL). */
void wh_page_wrong(const struct wh_house *house, const struct wh_request *request, int code, const char *says,
                   const char *right, struct wh_reply *reply);

/* Goes to another page, as after a form. */
void wh_page_go(struct wh_reply *reply, const char *location);

#endif
