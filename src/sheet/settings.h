/* settings.h - private to sheet/: values taken from outside instead of what the machine file says. */
#ifndef WH_SHEET_SETTINGS_H
#define WH_SHEET_SETTINGS_H

#include "sheet/sheet.h"

struct wh_set {
    size_t thing;
    const char *name, *text; /* "diameter", "45.006 mm" */
    enum wh_origin origin;
    struct wh_form form;
    struct wh_value value;
};

struct wh_settings {
    const struct wh_set *at;
    size_t count;
};

/* Reads them all. Errors: WH_ERR_INPUT for a name that is no value of the machine, that goes through a role, that is
 * set twice or read with a designation, and for a value that reads badly. */
enum wh_status wh_settings_read(struct wh_arena *arena, const struct wh_machine *machine,
                                const struct wh_setting settings[], size_t n, struct wh_settings *ret,
                                struct wh_errors *reterr);

/* What is set for a value of a thing, or NULL. */
const struct wh_set *wh_settings_find(const struct wh_settings *settings, size_t thing, const char *name);

/* What an input of a rule is called in a kind: "with" of the kind's rule may give it another name. */
const char *wh_bound_name(struct wh_arena *arena, const char *with, const char *slot);

#endif
