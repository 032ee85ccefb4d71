/* house.h - what all requests share: templates, machines, settings. Set up once before the server starts. */
#ifndef WH_WEB_HOUSE_H
#define WH_WEB_HOUSE_H

#include "desk/desk.h"
#include "sheet/sheet.h"
#include "web/template.h"

/* A machine of the workshop: the description under its short name, the file's without its ending. */
struct wh_shelf {
    const char *id;
    const struct wh_machine *machine;
    const struct wh_sheet *sheet;
    const char *bytes; /* of its file */
    size_t size;
};

struct wh_house {
    const struct wh_templates *templates;
    const struct wh_shelf *machines;
    size_t machine_count;
    struct wh_desk *desk;
    const char *store;               /* its file */
    int64_t (*clock)(void *context); /* milliseconds since 1970 */
    const char *program;             /* "wharve 0.1.0" */
};

/* Makes everything ready in a house that has its desk, clock and program: templates, visits, all machine files of a
 * folder. Errors: those of the files, of a folder that has none, of a library that cannot work here. */
enum wh_status wh_house_open(struct wh_arena *arena, const char *folder, struct wh_house *house,
                             struct wh_errors *reterr);

/* A person who may sign in: what has to fit, and what they may do. */
struct wh_house_person {
    const char *name, *hash;
    const char *role; /* "reader", "fitter", "charge hand" */
};

/* How many people are set up to sign in; 0: whoever sits at this machine does everything. The person of a name goes to
 * *ret, name NULL where there is none. -1: the store cannot be read. */
int wh_house_people(const struct wh_house *house, struct wh_arena *arena, const char *name,
                    struct wh_house_person *ret);

/* The machine of a name, NULL for none. */
const struct wh_shelf *wh_house_machine(const struct wh_house *house, const char *id);

#endif
