/* A rolling bearing whose inside is not known: a family of lines at no whole number of turns, found without being told
 * where to look. Its part is told by its order only with doubt: of z rolling elements the outer ring's line lies near
 * 0.4 z and the inner ring's near 0.6 z, and common bearings have 7 to 12. */
#include "testrun/read.h"

#include <math.h>

static const double least_order = 1.6, most_order = 9; /* times a turn: where a ring's line may lie */
static const double slip = 0.004;                      /* a peak is a little off its line */
static const double between = 4.6;                     /* times a turn: outer rings of common bearings lie below */
static const double least_depth = 0.7; /* other things than a bearing strike at odd orders too, a drive's supply */
static const double least_cage = 0.34, most_cage = 0.46; /* times a turn */

struct found {
    struct wh_family family;
    struct wh_comb comb;
    const struct wh_read_band *band;
};

/* The amplitude of what stands out within a line of a frequency, of the band's mean. */
static double amplitude(const struct wh_read_band *band, double frequency)
{
    double at = round(frequency / band->ground.spectrum->step), most = 0;
    for (double k = at - 1; k <= at + 1; k++) {
        if (!(k >= 1) || k >= (double)band->ground.lines) continue;
        if (band->ground.spectrum->power[(size_t)k] > 4 * band->ground.floor[(size_t)k])
            most = fmax(most, wh_ground_power(&band->ground, (size_t)k));
    }
    return sqrt(2 * most) / band->envelope->mean_square;
}

/* How strong the lines `aside` to both sides of a multiple are: the weaker of the two, of the multiple that has most.
 */
static double beside(const struct found *found, double aside)
{
    double most = 0;
    for (int times = 1; times <= 3; times++) {
        double middle = times * found->family.frequency;
        most = fmax(most, fmin(amplitude(found->band, middle - aside), amplitude(found->band, middle + aside)));
    }
    return most;
}

static void look(const struct wh_read *read, const struct wh_read_band *band, double tried, struct found *best)
{
    const struct wh_ground *ground = &band->ground;
    double step = ground->spectrum->step, shaft = read->reading->shaft;
    for (size_t k = (size_t)(least_order * shaft / step); k < ground->lines; k++) {
        if ((double)k * step > most_order * shaft) break;
        if (!(ground->evidence[k] > WH_EVIDENCE_SEEN)) continue;
        struct wh_comb comb = wh_comb_plain(ground->place[k], slip, WH_MULTIPLES);
        struct wh_family family = wh_family_find(ground, &comb, band->envelope->mean_square);
        if (!family.line[0] || !wh_read_stands(&family, &comb, band, tried)) continue;
        if (family.depth < least_depth || (best->band && family.strength <= best->family.strength)) continue;
        if (!wh_read_rings(read, &family, band, &comb)) continue;
        *best = (struct found){family, comb, band};
    }
}

/* The part by its pattern: what the cage carries in and out of the load is a rolling element; else by its order. */
static enum wh_bearing_line part_of(const struct found *found, double shaft)
{
    double turn = beside(found, shaft), cage = 0;
    for (double order = least_cage; order <= most_cage; order += 0.005) cage = fmax(cage, beside(found, order * shaft));
    if (cage > turn && cage > 0) return WH_LINE_ROLLER;
    return found->family.frequency / shaft > between ? WH_LINE_INNER : WH_LINE_OUTER;
}

static const char *const fits[] = {"outer rings of common bearings lie at 2.5 to 4.6",
                                   "inner rings of common bearings lie at 4.6 to 7.5",
                                   "lines a cage's turn to either side go with it", ""};

void wh_read_rolling(struct wh_read *read)
{
    struct found best = {.band = NULL};
    double tried = 0, shaft = read->reading->shaft;
    for (size_t b = 0; b < read->bands.count; b++)
        tried += (most_order - least_order) * shaft / read->bands.at[b].ground.spectrum->step;
    for (size_t b = 0; b < read->bands.count; b++) look(read, &read->bands.at[b], tried, &best);
    if (!best.band) return;
    enum wh_bearing_line line = part_of(&best, shaft);
    double order = best.family.frequency / shaft;
    const char *reckoned = wh_arena_print(read->arena, "%.3f times a turn; %s", order, fits[line]);
    struct wh_finding *finding = WH_PUSH(read->arena, &read->reading->findings);
    *finding = (struct wh_finding){
        .part = wh_bearing_line_parts[line],
        .place = wh_read_place(best.band->channel),
        .says =
            wh_arena_print(read->arena,
                           "a rolling bearing strikes %.2f times a turn: by that pattern its %s, with doubt, as its "
                           "inside is not known; give its orders",
                           order, wh_bearing_line_parts[line]),
        .evidence = wh_read_evidence(read, &best.family, best.band, reckoned),
        .sure = "possible",
        .line_count = best.family.seen};
    finding->lines = wh_read_lines(read, &best.family, &best.comb, best.band, "a rolling bearing");
}
