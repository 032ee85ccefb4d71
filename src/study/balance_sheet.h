/* balance_sheet.h - a balancing sheet: what was fitted and read, run by run, and what follows from it. Can be read
 * alone.
 *
 * Who reads the sheet (machine/balance_read) fills a wh_balance_sheet; wh_balance_work judges it: whether this may be
 * balanced away at all, what the next step is, which masses go where, what is then left. It speaks in numbers and
 * reasons; view/balance has the words. Angles of the sheet stand as they were counted there. */
#ifndef WH_STUDY_BALANCE_SHEET_H
#define WH_STUDY_BALANCE_SHEET_H

#include "base/arena.h"
#include "base/quantity.h"
#include "study/balance.h"
#include "study/balance_split.h"

enum { WH_BALANCE_FITTED = 64, WH_BALANCE_FINDINGS = 64, WH_BALANCE_NATURALS = 8 };

/* May the part be balanced in place? */
enum wh_balance_allows {
    WH_BALANCE_BY_MASSES,
    WH_BALANCE_BY_DRILLING,  /* by masses too */
    WH_BALANCE_NOT_ALLOWED,  /* its file does not allow it */
    WH_BALANCE_MAKERS,       /* a bowl part or its spindle: the maker's alone */
    WH_BALANCE_MAKERS_SHAFT, /* it turns on a bowl's spindle */
    WH_BALANCE_NO_ROTOR,     /* a kind of part that is not balanced in place */
};

struct wh_balance_plane {
    const char *id;
    double radius;                /* m */
    size_t holes;                 /* evenly round; 0: a mass may sit anywhere */
    double first_hole;            /* rad, angle of hole 1 */
    bool taken[WH_SPLIT_PLACES];  /* holes that hold something already */
    double mass[WH_SPLIT_MASSES]; /* kg, at hand; of a drilled plane: what one hole takes out */
    size_t stock[WH_SPLIT_MASSES], masses;
    size_t most; /* masses to be fitted at most */
    bool drilled;
    double at; /* m from bearing A toward B; NaN: not stated */
};

struct wh_balance_sensor {
    const char *id;
    struct wh_unit unit;
    double weight;
};

/* A mass that was on in a run. */
struct wh_balance_fitted {
    size_t plane, run, off; /* off: the run it was taken off before */
    double mass, angle;     /* kg; rad, as counted */
    size_t hole;            /* 0: none */
    bool stays;             /* on until `off`; else for its own run only */
    const char *fastened;
};

struct wh_balance_reading {
    double amplitude;          /* SI, of the sensor's unit; NaN: not read */
    double phase, phase_width; /* rad; NaN: without phase. width: how far it wandered, 0 for one value */
};

struct wh_balance_run {
    const char *id;
    double speed; /* rad/s; NaN: that of the sheet */
    struct wh_balance_reading reads[WH_BALANCE_SENSORS];
};

/* An effect found at an earlier time. */
struct wh_balance_known {
    size_t plane, sensor;
    double size, angle, speed; /* reading a kg m; rad; rad/s */
    double doubt;              /* standard uncertainty as a share of its size */
};

struct wh_balance_finding {
    const char *part, *says, *sure;
};

struct wh_balance_sheet {
    const char *title, *machine, *part, *zero; /* machine may be NULL; zero: where angles begin, in words */
    enum wh_balance_allows allows;
    bool clockwise;                 /* it turns so, seen from the pulley end */
    bool against, lag;              /* places are counted against the turning; phases are lags */
    double speed, stamped, service; /* rad/s; service: the highest it works at */
    double mass, grade;             /* of the rotor, kg; m/s; NaN: not stated */
    double span, centre;            /* m: bearings A to B, bearing A to the mass centre toward B; NaN: not stated */
    double amplitude_doubt, amplitude_share, phase_doubt; /* expanded repeatability: SI, share, rad; NaN: not stated */
    double runout, runout_limit;                          /* m; NaN: not read */
    double natural[WH_BALANCE_NATURALS];                  /* rad/s: natural frequencies of the machine as it stands */
    size_t naturals;
    double critical[WH_BALANCE_NATURALS]; /* rad/s: critical speeds that are worked out, not read */
    size_t criticals;
    struct wh_balance_plane plane[WH_BALANCE_PLANES];
    struct wh_balance_sensor sensor[WH_BALANCE_SENSORS];
    struct wh_balance_run run[WH_BALANCE_RUNS];
    struct wh_balance_fitted fitted[WH_BALANCE_FITTED];
    struct wh_balance_known known[WH_BALANCE_SENSORS * WH_BALANCE_PLANES];
    struct wh_balance_finding finding[WH_BALANCE_FINDINGS];
    size_t planes, sensors, runs, fitted_count, known_count, findings;
};

/* Why it is not balanced, or what is doubtful. `name` and the two numbers are what the words need: see view/balance. */
enum wh_balance_why {
    WH_WHY_MAKERS,
    WH_WHY_MAKERS_SHAFT,
    WH_WHY_NOT_ALLOWED,
    WH_WHY_NO_ROTOR,
    WH_WHY_NO_DRILLING,
    WH_WHY_OVER_STAMPED,    /* run or sheet; speed, stamped */
    WH_WHY_OTHER_SPEED,     /* run; its speed, the sheet's */
    WH_WHY_NOT_FASTENED,    /* run */
    WH_WHY_TOO_STRONG,      /* run; pull, weight of the part */
    WH_WHY_FINDING,         /* what was found */
    WH_WHY_RUNOUT,          /* run-out, limit */
    WH_WHY_RESONANCE,       /* natural frequency, speed */
    WH_WHY_PHASE_WANDERS,   /* sensor; how far, most */
    WH_WHY_DOES_NOT_REPEAT, /* sensor; ratio of the amplitudes, most */
    WH_WHY_DOES_NOT_FOLLOW, /* how many times the readings lie further off the line than they repeat */
    WH_WHY_NO_CHANGE,       /* run */
    WH_WHY_SOME_PHASES,
    WH_WHY_PHASELESS_PLANES,
    WH_WHY_PHASELESS_RUNS,
    WH_WHY_NO_BARE_RUN,
    WH_WHY_NOT_READ, /* sensor */
    WH_WHY_NOT_APART,
    /* doubts */
    WH_WHY_SMALL_CHANGE,      /* run; share of the amplitude, degrees */
    WH_WHY_STRONG,            /* run; pull, weight */
    WH_WHY_FINDING_MAY,       /* what was found, not sure */
    WH_WHY_CRITICAL,          /* critical speed as it is worked out, speed */
    WH_WHY_NOT_STATED,        /* neither repeatability nor spare runs */
    WH_WHY_RAISED,            /* by how much the repeatability was raised */
    WH_WHY_TWO_PLACES,        /* the answer may be at the other place */
    WH_WHY_READINGS_DISAGREE, /* effect by the swing over that by the mean: second */
    WH_WHY_TOO_MANY_WAYS,     /* plane */
    WH_WHY_KNOWN,             /* known effects hold only while nothing has changed */
};
struct wh_balance_reason {
    enum wh_balance_why why;
    const char *name;
    double value, limit;
};

/* A mass to be fitted, or taken out. */
struct wh_balance_place {
    double mass, angle; /* kg; rad, as counted */
    size_t hole;        /* 0: none */
    double pull;        /* N at the speed of the runs */
};

struct wh_balance_correction {
    double complex wanted;          /* to be added now, kg m, in the sheet's own count of angles */
    double size_doubt, angle_doubt; /* expanded; NaN: not known */
    struct wh_balance_place place[WH_SPLIT_MOST];
    size_t places;
    double complex left;                            /* wanted less what the masses make */
    double ways;                                    /* of filling the holes, all looked at; 0: nothing to choose */
    struct wh_split_choice best[WH_SPLIT_MOST + 1]; /* by number of masses, to `most` */
    size_t most;
};

enum wh_balance_verdict { WH_BALANCE_WITHIN, WH_BALANCE_NOT_PROVEN, WH_BALANCE_OUTSIDE };

/* Unbalance against what is permissible, for the whole or for the plane of a bearing or a correction plane. */
struct wh_balance_residual {
    const char *name;
    double allowed;             /* kg m */
    double before, left, doubt; /* size, kg m; doubt expanded, NaN: not known */
    enum wh_balance_verdict verdict, verdict_before;
};

enum wh_balance_next { WH_BALANCE_REFUSED, WH_BALANCE_TRY, WH_BALANCE_LEAVE, WH_BALANCE_FIT };

struct wh_balance_result {
    enum wh_balance_next next;
    bool phaseless;
    WH_LIST(struct wh_balance_reason) refused, doubts;
    struct wh_balance_place
        trial; /* WH_BALANCE_TRY: a trial mass that pulls a tenth of the weight; mass NaN: unknown */
    size_t trial_plane;
    struct wh_balance_runs runs;
    struct wh_balance_answer answer;
    struct wh_balance_doubt doubt;
    struct wh_balance_phaseless without_phase;
    struct wh_balance_correction correction[WH_BALANCE_PLANES], other; /* other: the second place it may be at */
    double allowed; /* permissible residual unbalance of the whole, kg m; NaN: not known */
    struct wh_balance_residual residual[WH_BALANCE_PLANES + 2];
    size_t residuals;
    double complex now[WH_BALANCE_SENSORS], after[WH_BALANCE_SENSORS]; /* readings with what is on now; predicted */
    double after_doubt[WH_BALANCE_SENSORS];                            /* expanded */
};

/* Works a sheet. */
void wh_balance_work(struct wh_arena *arena, const struct wh_balance_sheet *sheet, struct wh_balance_result *ret);

/* Unbalance and pull of a fitted mass; the angle of a hole, as counted. */
double wh_balance_pull(const struct wh_balance_sheet *sheet, size_t plane, double mass);
double wh_balance_hole(const struct wh_balance_plane *plane, size_t hole);
/* An angle or phase of the sheet with the turning, and back. */
double wh_balance_turned(bool against, double angle);

/* Private to study/: the evidence, and what is left against what is permissible. */
void wh_balance_evidence(struct wh_arena *arena, const struct wh_balance_sheet *sheet, struct wh_balance_result *ret);
void wh_balance_follows(struct wh_arena *arena, const struct wh_balance_sheet *sheet, struct wh_balance_result *ret);
void wh_balance_judge(const struct wh_balance_sheet *sheet, struct wh_balance_result *ret);
void wh_balance_correct(struct wh_arena *arena, const struct wh_balance_sheet *sheet, size_t plane,
                        struct wh_balance_result *ret, struct wh_balance_correction *correction);
void wh_balance_refuse(struct wh_arena *arena, struct wh_balance_result *ret, struct wh_balance_reason reason);
void wh_balance_mind(struct wh_arena *arena, struct wh_balance_result *ret, struct wh_balance_reason reason);

#endif
