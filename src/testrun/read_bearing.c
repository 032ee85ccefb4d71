/* Bearings whose orders are known: each part's families are tried in every band of every channel, the strongest of
 * those that stand is the finding, what explains the lines nearly as well is said beside it. */
#include "testrun/read.h"

#include <math.h>

enum { SIDED = 3 }; /* multiples that are looked at with a line to either side */

static const double usual_slip = 0.02; /* the standard deviation with which a line where it is reckoned is preferred */
static const double nearly = 0.6;      /* of the strongest part's strength: another part explains nearly as well */
static const double same_line = 0.004; /* a share */
static const double strong = 0.3, fair = 0.1;

/* A part of a bearing, and the strongest family that stands for it. */
struct suspect {
    const struct wh_bearing_source *bearing;
    enum wh_bearing_line line;
    double order; /* as reckoned, of the line named */
    struct wh_family family;
    struct wh_comb comb;
    const struct wh_read_band *band;
};

struct combs {
    struct wh_comb at[3];
    size_t count;
};

/* The families in which a damaged part shows. A spot on a rolling element strikes both rings each time it turns, so
 * its spin's lines come with it; the cage carries it in and out of the load. */
static struct combs combs_of(const struct wh_bearing_source *bearing, enum wh_bearing_line line, double shaft,
                             double slip)
{
    double centre = bearing->order[line] * shaft, cage = bearing->order[WH_LINE_CAGE] * shaft;
    struct combs combs = {.count = 0};
    if (!(centre > 0)) return combs;
    combs.at[combs.count++] = wh_comb_plain(centre, slip, WH_MULTIPLES);
    if (line == WH_LINE_INNER) combs.at[combs.count++] = wh_comb_with_sides(centre, slip, SIDED, shaft);
    if (line != WH_LINE_ROLLER) return combs;
    if (cage > 0) combs.at[combs.count++] = wh_comb_with_sides(centre, slip, SIDED, cage);
    combs.at[combs.count++] = wh_comb_plain(centre / 2, slip, 2 * WH_MULTIPLES);
    return combs;
}

static double families_tried(const struct wh_read *read)
{
    double tried = 0;
    for (size_t b = 0; b < read->sources->bearings.count; b++)
        for (enum wh_bearing_line line = 0; line < WH_BEARING_LINES; line++)
            tried +=
                (double)combs_of(&read->sources->bearings.at[b], (enum wh_bearing_line)line, read->reading->shaft, 0)
                    .count;
    return tried * (double)read->bands.count;
}

/* The strongest family of a part that stands, in any band, and rings as blows do. False: none does. */
static bool find_suspect(const struct wh_read *read, double tried, struct suspect *suspect)
{
    double shaft = read->reading->shaft;
    struct combs combs = combs_of(suspect->bearing, suspect->line, shaft, read->slip);
    suspect->order = suspect->bearing->order[suspect->line];
    for (size_t b = 0; b < read->bands.count; b++) {
        const struct wh_read_band *band = &read->bands.at[b];
        for (size_t i = 0; i < combs.count; i++) {
            struct wh_family family = wh_family_find(&band->ground, &combs.at[i], band->envelope->mean_square);
            if (!wh_read_stands(&family, &combs.at[i], band, tried)) continue;
            if (suspect->band && family.strength <= suspect->family.strength) continue;
            suspect->family = family;
            suspect->comb = combs.at[i];
            suspect->band = band;
        }
    }
    return suspect->band && wh_read_rings(read, &suspect->family, suspect->band, &suspect->comb);
}

/* How well a part explains its lines: the stronger and the nearer to where they are reckoned, the better. */
static double merit(const struct suspect *suspect)
{
    double sigmas = suspect->family.off / usual_slip;
    return suspect->family.strength * exp(-sigmas * sigmas / 2);
}

/* A spin's family counts two lines to a strike. */
static double strike(const struct suspect *suspect)
{
    bool of_spin = suspect->line == WH_LINE_ROLLER && suspect->family.count == 2 * WH_MULTIPLES;
    return suspect->family.frequency * (of_spin ? 2 : 1);
}

static const char *name_of(const struct wh_read *read, const struct suspect *suspect)
{
    return wh_arena_print(read->arena, "%s, %s", suspect->bearing->title, wh_bearing_line_parts[suspect->line]);
}

/* The other part that explains the lines nearly as well, or NULL. A cage shows with what it carries. */
static const struct suspect *rival(const struct suspect suspects[], size_t count, const struct suspect *first)
{
    const struct suspect *best = NULL;
    for (size_t i = 0; i < count; i++) {
        const struct suspect *s = &suspects[i];
        bool with_it = s->line == WH_LINE_CAGE && s->bearing == first->bearing;
        if (s == first || with_it || merit(s) < nearly * merit(first)) continue;
        if (!best || merit(s) > merit(best)) best = s;
    }
    return best;
}

/* Are the lines of one the even multiples of the other's, which then explains the odd ones too? */
static bool explains(const struct suspect *s, const struct suspect *other)
{
    return fabs(strike(other) / (2 * strike(s)) - 1) < same_line;
}

static const char *sure(const struct suspect *s, const struct suspect *other)
{
    if (other || s->family.whole == s->family.seen || s->family.strength < fair) return "possible";
    return s->family.strength < strong ? "likely" : "very likely";
}

static const char *says(const struct wh_read *read, const struct suspect *s, const struct suspect *other)
{
    static const char *const deeds[] = {"something strikes as each rolling element passes one spot of the outer ring",
                                        "something strikes as each rolling element passes one spot of the inner ring",
                                        "a rolling element strikes both rings as it spins",
                                        "something comes round with the cage"};
    const char *text = wh_arena_print(read->arena, "%s: %s", name_of(read, s), deeds[s->line]);
    if (s->line == WH_LINE_CAGE)
        text = wh_arena_print(read->arena, "%s; other bearings may have the same cage line", text);
    if (other)
        text = wh_arena_print(read->arena, "%s; %s would explain the lines nearly as well", text, name_of(read, other));
    return text;
}

static void report(struct wh_read *read, const struct suspect *s, const struct suspect *other)
{
    double found = strike(s) / read->reading->shaft;
    const char *reckoned = wh_arena_print(read->arena, "%.3f times a turn found, %.3f reckoned", found, s->order);
    struct wh_finding *finding = WH_PUSH(read->arena, &read->reading->findings);
    *finding = (struct wh_finding){.part = wh_bearing_line_parts[s->line],
                                   .place = wh_read_place(s->band->channel),
                                   .says = says(read, s, other),
                                   .evidence = wh_read_evidence(read, &s->family, s->band, reckoned),
                                   .sure = sure(s, other),
                                   .line_count = s->family.seen};
    finding->lines = wh_read_lines(read, &s->family, &s->comb, s->band, name_of(read, s));
}

void wh_read_bearings(struct wh_read *read)
{
    size_t bearings = read->sources->bearings.count, count = 0;
    struct suspect *suspects = WH_NEW(read->arena, bearings * WH_BEARING_LINES + 1, struct suspect);
    const struct suspect *first = NULL;
    double tried = families_tried(read);
    for (size_t i = 0; i < bearings * WH_BEARING_LINES; i++) {
        struct suspect suspect = {.bearing = &read->sources->bearings.at[i / WH_BEARING_LINES],
                                  .line = (enum wh_bearing_line)(i % WH_BEARING_LINES)};
        if (!find_suspect(read, tried, &suspect)) continue;
        suspects[count++] = suspect;
    }
    for (size_t i = 0; i < count; i++)
        if (!first || merit(&suspects[i]) > merit(first)) first = &suspects[i];
    const struct suspect *other = first ? rival(suspects, count, first) : NULL;
    if (other && explains(other, first)) {
        first = other;
        other = rival(suspects, count, first);
    }
    if (first) report(read, first, other);
}
