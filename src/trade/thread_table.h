/* thread_table.h - metric threads of ISO 261 and 262 by their designation, what heads bear on, and how slippery a
 * screw may be in each state. Lengths in m, areas in m2. */
#ifndef WH_TRADE_THREAD_TABLE_H
#define WH_TRADE_THREAD_TABLE_H

#include <stdbool.h>
#include <stddef.h>

struct wh_thread {
    double code;               /* its number in the vocabulary `thread` */
    double diameter, pitch;    /* d, P */
    double pitch_diameter;     /* d2 */
    double minor_diameter;     /* d3, root of the screw's thread */
    double nut_minor_diameter; /* d1, bore of the nut */
    double stress_area;        /* As */
    double hexagon_bearing;    /* dw under a hexagon head of ISO 4014 and 4017; NaN: not tabulated */
    double socket_bearing;     /* dw under a socket head of ISO 4762; NaN: not tabulated */
    double hole;               /* dh, clearance hole of ISO 273, medium; NaN: not tabulated */
};

/* "M8" (coarse), "M8x1.25", "M8x1", "M30x1.5". False: no thread of the list. */
bool wh_thread_find(const char *text, size_t n, struct wh_thread *ret);
bool wh_thread_of_code(double code, struct wh_thread *ret);

double wh_thread_diameter(double code);
double wh_thread_pitch(double code);

/* The vocabulary `thread`. */
bool wh_thread_read(const char *text, size_t n, double *ret);
size_t wh_thread_print(double code, char *to, size_t room);
size_t wh_thread_list(size_t i, char *to, size_t room);

/* The vocabulary `thread-state`: oiled, dry, paste, locked. Friction in thread and under the head, least and most that
 * a ring of screws in this state may have: never one number. */
bool wh_thread_friction(double state, double *least, double *most);
bool wh_thread_state_read(const char *text, size_t n, double *ret);
size_t wh_thread_state_print(double code, char *to, size_t room);
size_t wh_thread_state_list(size_t i, char *to, size_t room);

#endif
