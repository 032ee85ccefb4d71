/* rotor_inside.h - the matrices of a rotor. Both planes of a round shaft are alike, so that everything but bearings and
 * gyroscopic effect is kept for one. Unknowns of one plane: way and slope of each node, or what they are reduced to. */
#ifndef WH_STUDY_ROTOR_INSIDE_H
#define WH_STUDY_ROTOR_INSIDE_H

#include "study/rotor.h"

/* A support as the unknowns feel it: its place in them is a row. */
struct wh_rotor_tie {
    double *row; /* n: the way at the support */
    const double (*stiffness)[2], (*damping)[2];
};

struct wh_rotor_model {
    const struct wh_rotor *rotor;
    size_t nodes;
    double *z;                   /* by node */
    size_t n;                    /* unknowns of one plane */
    double *mass, *gyro, *stiff; /* n by n, by columns; the supports are not in them */
    struct wh_rotor_tie *ties;
    double *shapes; /* 2 nodes by n: way and slope of the nodes from the unknowns; NULL: they are them */
};

/* The place of a node, or of the element whose nodes lie beside z. */
size_t wh_rotor_node(const struct wh_rotor_model *model, double z);

/* Of both planes, 2 n by 2 n: stiffness with supports; damping with gyroscopic effect at a speed. */
double *wh_rotor_stiffness(struct wh_arena *arena, const struct wh_rotor_model *model);
double *wh_rotor_damping(struct wh_arena *arena, const struct wh_rotor_model *model, double speed);

/* A force on a node, as the unknowns feel it: added to n values. */
void wh_rotor_push(const struct wh_rotor_model *model, size_t node, double arm, double force, double to[]);
/* The ways of the nodes from n unknowns. */
void wh_rotor_ways(const struct wh_rotor_model *model, const double complex unknowns[], double complex ret[]);

#endif
