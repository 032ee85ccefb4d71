/* bearing.h - rolling bearings by their designation: "6209/C3", "2306", "6009-2RS", "NU206", "22210-K".
 *
 * Dimensions follow the plan of ISO 15; load ratings are there where a book's table gives them. A bearing is also a
 * number, read from its text by the vocabulary "bearing". */
#ifndef WH_TRADE_BEARING_H
#define WH_TRADE_BEARING_H

#include <stdbool.h>
#include <stddef.h>

enum wh_bearing_type { WH_DEEP_GROOVE, WH_SELF_ALIGNING_BALL, WH_ANGULAR_CONTACT, WH_CYLINDRICAL_ROLLER,
                       WH_SPHERICAL_ROLLER, WH_BEARING_TYPES };
enum wh_cage { WH_CAGE_STEEL, WH_CAGE_BRASS, WH_CAGE_POLYMER, WH_CAGE_UNKNOWN, WH_CAGES };
enum wh_sealing { WH_SEALING_OPEN, WH_SEALING_SHIELDS, WH_SEALING_SEALS, WH_SEALING_UNKNOWN, WH_SEALINGS };
enum wh_clearance_group { WH_CLEARANCE_C2, WH_CLEARANCE_CN, WH_CLEARANCE_C3, WH_CLEARANCE_C4, WH_CLEARANCE_C5,
                          WH_CLEARANCE_GROUPS };

/* Words of these, as their vocabularies "bearing-type", "cage", "sealing" and "clearance-group" read them. */
extern const char *const wh_bearing_type_words[WH_BEARING_TYPES];
extern const char *const wh_cage_words[WH_CAGES];
extern const char *const wh_sealing_words[WH_SEALINGS];
extern const char *const wh_clearance_group_words[WH_CLEARANCE_GROUPS];

struct wh_bearing {
    enum wh_bearing_type type;
    double bore, outside, width;
    double rating, static_rating; /* C and C0 in N, NAN where the tables here have none */
    const char *rating_source;    /* NULL where they have none */
    enum wh_sealing sealing;      /* open unless the designation says otherwise */
    enum wh_cage cage;            /* unknown unless the designation says it */
    enum wh_clearance_group group;
    int tolerance_class;          /* of the vocabulary "class" (iso492.h) */
    bool tapered;                 /* bore 1:12 */
};

/* The bearing of a designation; false when it is none that is known here. */
bool wh_bearing_find(const char *designation, size_t n, struct wh_bearing *ret);

/* The bearing of a vocabulary's number. */
struct wh_bearing wh_bearing_of(double code);

/* The vocabulary "bearing"; see rule.h. It lists all basic designations, for "did you mean". */
bool wh_bearing_read(const char *text, size_t n, double *ret);
size_t wh_bearing_print(double code, char *to, size_t room);
size_t wh_bearing_list(size_t i, char *to, size_t room);

#endif
