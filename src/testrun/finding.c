#include "testrun/finding.h"

#include "testrun/read.h"
#include "trade/rule.h"

#include <math.h>

const double wh_read_chance = -5, wh_read_depth = 0.2, wh_read_depth_whole = 0.5, wh_read_kurtosis = 0.4;
const double wh_read_strength = 0.4, wh_read_strength_whole = 0.12;

static const double reach = 0.75; /* of the shaft's frequency, to either side: over which the floor is found */
static const double tacho_tolerance = 0.005;
static const double least_score = 0.7; /* of the shaft line: it stands out by 7 dB or more */
static const double not_found = 0.03;  /* a share: lines are looked for so much wider where it does not */
static const double shaft_multiples = 12;

/* The first lines of a spectrum, up to a frequency. */
static struct wh_spectrum up_to(const struct wh_spectrum *spectrum, double frequency)
{
    struct wh_spectrum part = *spectrum;
    double lines = frequency / part.step + 1;
    if (lines < (double)part.lines) part.lines = (size_t)lines;
    return part;
}

static struct wh_ground ground_up_to(struct wh_read *read, const struct wh_spectrum *spectrum, double frequency)
{
    struct wh_spectrum *part = WH_NEW(read->arena, 1, struct wh_spectrum);
    *part = up_to(spectrum, frequency);
    return wh_ground_of(read->arena, part, reach * read->sources->stated);
}

static const char *shaft_words(struct wh_read *read, double stated)
{
    struct wh_reading *reading = read->reading;
    const char *speed = wh_arena_print(read->arena, "%.2f Hz (%.0f rpm)", reading->shaft, 60 * reading->shaft);
    if (!reading->shaft_found)
        return wh_arena_print(read->arena, "no line of the shaft stands out: %s is taken as stated", speed);
    double off = 100 * (reading->shaft / stated - 1);
    const char *from = read->measured->tacho ? "tacho's" : "stated";
    if (fabs(off) < 0.05) return wh_arena_print(read->arena, "%s, as the %s speed", speed, from);
    return wh_arena_print(read->arena, "%s, %.1f %% %s the %s speed", speed, fabs(off), off > 0 ? "above" : "below",
                          from);
}

static void find_shaft(struct wh_read *read)
{
    const struct wh_sources *sources = read->sources;
    double tolerance = read->measured->tacho ? tacho_tolerance + read->measured->drift : sources->tolerance, score;
    WH_LIST(struct wh_ground) grounds = {0};
    for (size_t c = 0; c < read->measured->channels; c++) {
        const struct wh_channel_measured *channel = &read->measured->channel[c];
        if (!channel->sound || channel->acceleration.averages == 0) continue;
        *WH_PUSH(read->arena, &grounds) = ground_up_to(read, &channel->acceleration, shaft_multiples * sources->stated);
    }
    read->reading->shaft = wh_shaft_line(grounds.at, grounds.count, sources->stated, tolerance, sources->mains, &score);
    read->reading->shaft_found = score >= least_score;
    if (!read->reading->shaft_found) read->reading->shaft = sources->stated;
    if (!read->reading->shaft_found) read->slip += not_found;
    read->reading->shaft_says = shaft_words(read, sources->stated);
}

static void add_band(struct wh_read *read, const struct wh_channel_measured *channel,
                     const struct wh_envelope *envelope)
{
    if (envelope->spectrum.averages < 2 || !(envelope->mean_square > 0)) return;
    struct wh_read_band *band = WH_PUSH(read->arena, &read->bands);
    *band = (struct wh_read_band){.envelope = envelope, .channel = channel};
    band->ground = wh_ground_of(read->arena, &envelope->spectrum, reach * read->reading->shaft);
    wh_ground_leave_out(&band->ground, read->reading->shaft, read->sources->mains);
    band->words = envelope->whitened ? "whole, whitened"
                                     : wh_arena_print(read->arena, "%.0f to %.0f Hz", envelope->low, envelope->high);
}

/* One of its first lines is there, the first multiple or what is beside it, or the second itself; and one of the
 * multiples themselves: what stands beside them only is another's. */
static bool begins(const struct wh_family *family, const struct wh_comb *comb)
{
    bool first = false, itself = false;
    for (size_t i = 0; i < comb->count; i++) {
        bool beside = fabs(comb->aside[i]) > 0;
        if (!family->line[i]) continue;
        itself = itself || !beside;
        first = first || comb->times[i] < 1.5 || (comb->times[i] < 2.5 && !beside);
    }
    return first && itself;
}

bool wh_read_stands(const struct wh_family *family, const struct wh_comb *comb, const struct wh_read_band *band,
                    double tried)
{
    double least = family->whole == family->seen ? wh_read_depth_whole : wh_read_depth;
    return family->seen >= WH_READ_SEEN && begins(family, comb) && family->chance + log10(tried) < wh_read_chance &&
           family->depth > least && band->envelope->kurtosis > wh_read_kurtosis * family->depth * family->depth;
}

bool wh_read_rings(const struct wh_read *read, const struct wh_family *family, const struct wh_read_band *band,
                   const struct wh_comb *comb)
{
    if (family->strength > wh_read_strength) return true;
    for (size_t b = 0; b < read->bands.count; b++) {
        const struct wh_read_band *whole = &read->bands.at[b];
        if (!whole->envelope->whitened || whole->channel != band->channel) continue;
        struct wh_comb same = *comb;
        same.centre = family->frequency;
        same.slip = whole->ground.spectrum->step / same.centre;
        struct wh_family there = wh_family_find(&whole->ground, &same, whole->envelope->mean_square);
        if (there.seen >= WH_READ_SEEN && there.strength > wh_read_strength_whole) return true;
    }
    return false;
}

static void no_speed(struct wh_reading *reading)
{
    reading->shaft_says = "the speed is not known: no line can be named";
    reading->says = "nothing can be said of what makes the vibration: give the speed";
}

struct wh_reading *wh_findings(struct wh_arena *arena, const struct wh_measured *measured,
                               const struct wh_sources *sources)
{
    struct wh_sources own = *sources;
    struct wh_reading *reading = WH_NEW(arena, 1, struct wh_reading);
    struct wh_read read = {.arena = arena, .measured = measured, .sources = &own, .reading = reading, .slip = own.slip};
    if (measured->speed > 0) own.stated = measured->speed / (2 * WH_PI);
    if (!(own.stated > 0)) {
        no_speed(reading);
        return reading;
    }
    find_shaft(&read);
    read.velocity = WH_NEW(arena, measured->channels, struct wh_ground);
    for (size_t c = 0; c < measured->channels; c++) {
        const struct wh_channel_measured *channel = &measured->channel[c];
        if (!channel->sound) continue;
        if (channel->velocity.averages > 0) read.velocity[c] = ground_up_to(&read, &channel->velocity, channel->high);
        for (size_t i = 0; i < channel->envelopes; i++) add_band(&read, channel, &channel->envelope[i]);
    }
    wh_read_bearings(&read);
    if (own.bearings.count == 0) wh_read_rolling(&read);
    wh_read_others(&read);
    reading->says =
        reading->findings.count ? reading->findings.at[0].says : "nothing found at this place, speed and load";
    return reading;
}
