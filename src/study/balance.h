/* balance.h - a rotor balanced in its own bearings, from runs with trial masses. Can be read alone.
 *
 * An unbalance is a complex number, mass times radius at the angle of its place; a reading is one, amplitude at its
 * phase. Both count their angles the same way round: places with the turning go with phases that lead, places against
 * the turning with phases that lag. At one speed the rotor answers in proportion: reading = bare + sum of effect times
 * unbalance, and each effect (influence coefficient) is found by least squares from whatever runs there are.
 * SI units throughout; an amplitude may be m, m/s or m/s2, alike for all runs of a sensor.
 * Source: influence coefficients, ISO 21940-13 and the handbooks named beside the tests. */
#ifndef WH_STUDY_BALANCE_H
#define WH_STUDY_BALANCE_H

#include <complex.h>
#include <stdbool.h>
#include <stddef.h>

enum { WH_BALANCE_PLANES = 6, WH_BALANCE_SENSORS = 16, WH_BALANCE_RUNS = 64 };

struct wh_balance_runs {
    size_t planes, sensors, runs;
    double complex on[WH_BALANCE_RUNS][WH_BALANCE_PLANES];       /* unbalance of all that is on in a run, kg m */
    double complex reads[WH_BALANCE_RUNS][WH_BALANCE_SENSORS];   /* NaN: not read */
    double along[WH_BALANCE_RUNS][WH_BALANCE_SENSORS];           /* standard uncertainty of its amplitude */
    double across[WH_BALANCE_RUNS][WH_BALANCE_SENSORS];          /* of its phase, times its amplitude */
    double weight[WH_BALANCE_SENSORS];                           /* > 0: how much a sensor counts */
    double complex known[WH_BALANCE_SENSORS][WH_BALANCE_PLANES]; /* effects of an earlier time; NaN: to be found */
    double known_doubt[WH_BALANCE_SENSORS][WH_BALANCE_PLANES];   /* their standard uncertainty, each way */
};

enum wh_balanced {
    WH_BALANCED,
    WH_BALANCE_NOT_READ,  /* sensor `at` was not read in enough runs */
    WH_BALANCE_NO_TRIAL,  /* no run tells what a mass in plane `at` does */
    WH_BALANCE_NOT_APART, /* the runs, or the sensors, do not tell the planes apart */
};

struct wh_balance_answer {
    size_t at;                                                    /* the plane or sensor a failure speaks of */
    double complex bare[WH_BALANCE_SENSORS];                      /* reading with nothing on */
    double complex effect[WH_BALANCE_SENSORS][WH_BALANCE_PLANES]; /* reading a kg m */
    double complex wanted[WH_BALANCE_PLANES];                     /* what has to be on in all: least sum of squares */
    double misfit[WH_BALANCE_SENSORS];  /* of a reading about the fit, each way; NaN: no reading to spare */
    size_t freedom[WH_BALANCE_SENSORS]; /* readings to spare, each counted twice: along and across */
};

/* Finds the effects and what has to be on. An answer that failed has `at` set and nothing else to go by. */
enum wh_balanced wh_balance_solve(const struct wh_balance_runs *runs, struct wh_balance_answer *ret);

/* The reading that a sensor shows with these masses on. */
double complex wh_balance_reading(const struct wh_balance_answer *answer, size_t planes, size_t sensor,
                                  const double complex on[]);

/* How far an answer may be off. The readings' own uncertainties are raised by what they lie about the fit more than
 * they should; where none is stated, that is all there is. */
struct wh_balance_doubt {
    double
        factor; /* coverage of 95 %: 2 with stated uncertainties, Student's where only the misfit speaks; NaN: none */
    double raised; /* by how much the stated ones were raised; 1: they hold */
    double size[WH_BALANCE_PLANES], angle[WH_BALANCE_PLANES]; /* standard, of wanted: kg m, rad */
    double most[WH_BALANCE_PLANES];                           /* standard, of wanted, in its worst direction: kg m */
    double effect[WH_BALANCE_SENSORS][WH_BALANCE_PLANES];     /* standard, of the effects, in their worst direction */
    double reading[WH_BALANCE_SENSORS]; /* standard, of the reading with `on`, in its worst direction */
};
/* Each reading is moved by its uncertainty, along and across, and the answer worked out anew; what it moves is summed
 * as squares (GUM, first order). `on` is what will be on, the answer is that of the runs. */
void wh_balance_doubt(const struct wh_balance_runs *runs, const struct wh_balance_answer *answer,
                      const double complex on[], struct wh_balance_doubt *ret);

/* Runs without phase, one plane and one sensor: amplitude bare, and with each trial unbalance on by itself. */
struct wh_balance_phaseless {
    double complex wanted, other; /* kg m; other: NaN, or from two runs alone the second place it may be at */
    double by_mean, by_swing; /* what a kg m makes of the amplitude: from the mean of the squares, and from their swing
                                 round the rotor. They are one where the readings agree. NaN: two runs alone */
};
/* n runs, no two of them at one angle: three or more all round the rotor, or two half a turn apart with like masses.
 * False: they are not, or no trial changed anything. Source: four-run method without phase (handbooks, beside the
 * tests); the squares of the amplitudes are a mean and a swing. */
bool wh_balance_without_phase(double bare, size_t n, const double complex on[], const double amplitude[],
                              struct wh_balance_phaseless *ret);

#endif
