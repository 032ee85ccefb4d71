/* rotor_shaft.h - nodes, sections and elements of a rotor's shaft. */
#ifndef WH_STUDY_ROTOR_SHAFT_H
#define WH_STUDY_ROTOR_SHAFT_H

#include "study/rotor.h"

struct wh_rotor_section {
    double length, area, second; /* of area, about a diameter */
    double shear;                /* how much more it gives way by shear than by bending: 12 E I / (k G A l^2) */
};

/* Matrices of an element in one plane. The gyroscopic one is twice the rotary one. */
struct wh_rotor_element {
    double stiff[4][4], mass[4][4], rotary[4][4];
};

/* Nodes from the lowest to the highest: at every end of a piece, body, support and pull, and between them. */
size_t wh_rotor_place_nodes(struct wh_arena *arena, const struct wh_rotor *rotor, double **ret);

/* The section of the shaft between two z; false: there is no shaft. */
bool wh_rotor_section(const struct wh_rotor *rotor, double from, double to, struct wh_rotor_section *ret);

void wh_rotor_element(const struct wh_rotor *rotor, const struct wh_rotor_section *section,
                      struct wh_rotor_element *ret);

#endif
