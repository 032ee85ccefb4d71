/* rule.h - a rule is one named calculation; every closed form of the trade is one. Can be read alone.
 *
 * Registered once, a rule serves a machine's sheet of figures, `wharve work`, the reference tests (tables of text) and
 * the handbook. Values are SI doubles. A rule works on columns: one call serves a single value, a block of trials, or
 * the rows that give every figure's uncertainty at once. Each subject (fit.c, bearing.c, …) ends with its table of
 * rules; rules.c lists the subjects. */
#ifndef WH_TRADE_RULE_H
#define WH_TRADE_RULE_H

#include <stdbool.h>
#include <stddef.h>

enum { WH_RULE_IN = 12, WH_RULE_OUT = 4, WH_RULE_COLUMNS = 32 };

/* An input or a result, as the handbook prints it. Slots end at the first without a name. */
struct wh_slot {
    const char *name;   /* binds it: "bore"; of a neighbour by its role: "seat.diameter"                          */
    const char *symbol; /* as in the formula                                                                      */
    const char *range;  /* unit and valid range in one: "3..500 mm", "0.. N", "mm"; or a vocabulary: "zone"       */
                        /* "any", "any difference", "0.. any": the unit that the first input is written in        */
    const char *usual;  /* "3 um", "0.10..0.16": taken, and shown as usual, when nothing is given; NULL: needed   */
    const char *title;  /* what a fitter calls it                                                                 */
    size_t many;        /* the last input may be a list of up to this many readings                               */
};

struct wh_rule {
    const char *name;    /* "bearing.mounting-temperature"; its first result is called mounting-temperature       */
    const char *formula; /* as a handbook prints it, over the symbols of its slots; see below                     */
    const char *source;  /* standard and clause, book and page; "common practice"; "memory"                       */
    struct wh_slot in[WH_RULE_IN], out[WH_RULE_OUT];
    size_t arity;        /* of the scalar function; a test holds it to the number of inputs                       */
    /* n rows of k columns. Inputs inside their ranges give numbers, or NaN for "no answer". No state, no heap.   */
    void (*work)(size_t n, size_t k, const double *const in[], double *const out[]);
    /* Of one row: why there is no answer, or what is doubtful about it; NULL: nothing to say. May be NULL.       */
    const char *(*remark)(const double in[], const double out[]);
};

/* Formula text: "p = delta E / d" or, for a rule with several results, one equation for each, parted by "; ".
 * Products are written with a space ("2 m v^2"), a function as sqrt(x), sin, cos, tan, asin, acos, atan, atan2(y, x),
 * exp, ln, lg, abs, min(a, b), max(a, b); "pi"; a condition as "if(a < b, x, y)". It is over SI values and is worked
 * out by a test at random inputs. A rule that is a table or an algorithm says so in plain words without "=":
 * "ISO 286-1, tables 1 to 3"; those are listed and counted. */

/* The column loop of a scalar function of K doubles, and both named in a table entry:
 *     static double wrap(double D, double d, double C) { return WH_PI - 2 * asin((D - d) / (2 * C)); }
 *     WH_COLUMNS(3, wrap)
 *     {.name = "belt.wrap", .formula = "theta = pi - 2 asin((D - d)/(2 C))", .in = {{"large", "D", "10..5000 mm"}, …},
 *      .out = {{"wrap", "theta", "rad"}}, WH_WORK(3, wrap)}
 * For several results write the function as void f(const double in[], double out[]) and use WH_MANY(K, R, f). */
#define WH_COLUMNS(K, f)                                                                                    \
    static void f##_columns(size_t n, size_t k, const double *const in[], double *const out[])              \
    {                                                                                                       \
        double *restrict to = out[0];                                                                       \
        (void)k;                                                                                            \
        for (size_t i = 0; i < n; i++) to[i] = f(WH_ROW_##K);                                               \
    }
#define WH_MANY(K, R, f)                                                                                    \
    static void f##_columns(size_t n, size_t k, const double *const in[], double *const out[])              \
    {                                                                                                       \
        (void)k;                                                                                            \
        for (size_t i = 0; i < n; i++) {                                                                    \
            double row[K], to[R];                                                                           \
            for (size_t c = 0; c < (K); c++) row[c] = in[c][i];                                             \
            f(row, to);                                                                                     \
            for (size_t c = 0; c < (R); c++) out[c][i] = to[c];                                             \
        }                                                                                                   \
    }
#define WH_WORK(K, f) .arity = K, .work = f##_columns
#define WH_ROW_1 in[0][i]
#define WH_ROW_2 WH_ROW_1, in[1][i]
#define WH_ROW_3 WH_ROW_2, in[2][i]
#define WH_ROW_4 WH_ROW_3, in[3][i]
#define WH_ROW_5 WH_ROW_4, in[4][i]
#define WH_ROW_6 WH_ROW_5, in[5][i]
#define WH_ROW_7 WH_ROW_6, in[6][i]
#define WH_ROW_8 WH_ROW_7, in[7][i]

#define WH_PI 3.14159265358979323846

/* A vocabulary gives designations ("k6", "M10x1.5", "6205/C3") a number, so that they can be inputs of table rules.
 * The number is the place in a table or a packed code; it means something only to the vocabulary's own subject. */
struct wh_vocabulary {
    const char *name;  /* the word in a slot's range: "zone"                                                      */
    const char *title; /* what it lists: "tolerance zone of ISO 286"                                              */
    const char *example; /* "k6"                                                                                  */
    bool (*read)(const char *text, size_t n, double *ret);           /* false: no such designation                */
    size_t (*print)(double code, char *to, size_t room);             /* like snprintf                             */
    size_t (*list)(size_t i, char *to, size_t room);                 /* the i-th, for "did you mean"; 0: no more  */
};

/* One subject's rules and vocabularies. */
struct wh_subject {
    const char *name;  /* "fit" */
    const char *title; /* "Fits and tolerances" */
    const struct wh_rule *rules;
    size_t rule_count;
    const struct wh_vocabulary *vocabularies;
    size_t vocabulary_count;
};
#define WH_SUBJECT(word, says, rule_table) \
    {.name = word, .title = says, .rules = rule_table, .rule_count = sizeof rule_table / sizeof rule_table[0]}

extern const struct wh_subject *const wh_subjects[];
extern const size_t wh_subject_count;

const struct wh_rule *wh_rule_find(const char *name);
const struct wh_vocabulary *wh_vocabulary_find(const char *name, size_t n);
size_t wh_rule_inputs(const struct wh_rule *rule);
size_t wh_rule_results(const struct wh_rule *rule);

#endif
