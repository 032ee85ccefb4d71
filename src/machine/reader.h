/* reader.h - private to machine/: reads the keys of a map by a table of fields. */
#ifndef WH_MACHINE_READER_H
#define WH_MACHINE_READER_H

#include "base/tree.h"
#include "machine/machine.h"

struct wh_reader {
    struct wh_arena *arena;
    struct wh_errors *errors;
    struct wh_machine *machine;
};

/* What a field holds, and so how its text is read and what stands at its offset. */
enum wh_field_is {
    WH_FIELD_TEXT,       /* const char * */
    WH_FIELD_TEXTS,      /* struct wh_words: a list, or texts parted by ";" */
    WH_FIELD_QUANTITY,   /* double, of the field's form */
    WH_FIELD_COUNT,      /* int, of the field's form (a pure number) */
    WH_FIELD_YES,        /* bool: yes or no, or the second of the field's form "a|b" */
    WH_FIELD_THING,      /* size_t */
    WH_FIELD_THINGS,     /* struct wh_indices: ids parted by commas */
    WH_FIELD_CONDITIONS, /* struct wh_conditions */
    WH_FIELD_WAY_UP,     /* size_t */
    WH_FIELD_GAUGE,      /* size_t */
    WH_FIELD_TRADE,      /* size_t */
    WH_FIELD_EVENT,      /* struct wh_event */
    WH_FIELD_EVENTS,     /* struct wh_events */
    WH_FIELD_CHOICE,     /* int (an enum): the place in the field's form "a|b|c" */
    WH_FIELD_OWN,        /* read by the field's own function */
    WH_FIELD_ELSEWHERE,  /* read by other means; only known here so that it is no unknown key */
};

struct wh_field {
    const char *key;
    enum wh_field_is is;
    size_t offset;
    const char *form;
    void (*own)(struct wh_reader *reader, const struct wh_tree *node, void *to);
    bool needed;
};

/* Reads every key of a map into *to. A key no field has goes to `other` when given, which says whether it knew it;
 * keys nobody knows, and needed ones that are missing, are errors. */
void wh_read_fields(struct wh_reader *reader, const struct wh_tree *map, const struct wh_field fields[], size_t n,
                    void *to, bool (*other)(struct wh_reader *reader, const struct wh_tree *node, void *to));

/* An error at a node. */
void wh_read_error(struct wh_reader *reader, const struct wh_tree *node, const char *right, const char *format, ...)
    __attribute__((format(printf, 4, 5)));

/* The text of a node that has to be one, or NULL after an error. */
const char *wh_read_text(struct wh_reader *reader, const struct wh_tree *node);

/* The thing with an id; WH_NONE after an error with "did you mean". */
size_t wh_read_thing(struct wh_reader *reader, const struct wh_tree *node, const char *id);

/* The trade with an id; WH_NONE: there is none. */
size_t wh_machine_trade(const struct wh_machine *machine, const char *id);

/* The items of a top-level list, or of one that is missing: then NULL. Each item must be a map. */
const struct wh_tree *wh_read_list(struct wh_reader *reader, const struct wh_tree *file, const char *key);

/* Reads a section of the file: part.c and check.c. */
void wh_read_things(struct wh_reader *reader, const struct wh_tree *file);
void wh_register_checks(struct wh_reader *reader, const struct wh_tree *file); /* their ids, before the things */
void wh_read_checks(struct wh_reader *reader, const struct wh_tree *file);
/* The rings of a part in the axial section, into a struct wh_thing: section.c. */
void wh_read_section(struct wh_reader *reader, const struct wh_tree *node, void *to);
/* What stands in the way by the drawing, for the parts that ask for it: drawing.c. */
void wh_read_drawing(struct wh_reader *reader);
/* Rings of parts that wait for each other, and parts nobody can reach: reach.c. */
void wh_check_reach(struct wh_reader *reader);
/* Values that follow each other in a ring: follow.c. */
void wh_check_follows(struct wh_reader *reader);

#endif
