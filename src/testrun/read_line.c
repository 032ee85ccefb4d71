/* The lines of a reading, named, and what a family of them rests on in words. */
#include "testrun/read.h"

#include <math.h>

const char *wh_read_place(const struct wh_channel_measured *channel)
{
    return *channel->is->place ? channel->is->place : channel->is->name;
}

static double over_floor(const struct wh_ground *ground, size_t line)
{
    return 10 * log10(ground->spectrum->power[line] / ground->floor[line]);
}

static int by_place(const struct wh_line *a, const struct wh_line *b)
{
    return (a->frequency > b->frequency) - (a->frequency < b->frequency);
}

/* Few lines: each is put where it belongs. */
static void in_order(struct wh_line lines[], size_t n)
{
    for (size_t i = 1; i < n; i++)
        for (size_t k = i; k > 0 && by_place(&lines[k - 1], &lines[k]) > 0; k--) {
            struct wh_line line = lines[k];
            lines[k] = lines[k - 1];
            lines[k - 1] = line;
        }
}

const struct wh_line *wh_read_lines(struct wh_read *read, const struct wh_family *family, const struct wh_comb *comb,
                                    const struct wh_read_band *band, const char *name)
{
    struct wh_line *lines = WH_NEW(read->arena, family->seen + 1, struct wh_line);
    size_t n = 0;
    for (size_t i = 0; i < family->count; i++) {
        size_t k = family->line[i];
        if (!k) continue;
        double frequency = band->ground.place[k];
        lines[n++] = (struct wh_line){.frequency = frequency,
                                      .order = frequency / read->reading->shaft,
                                      .level = sqrt(wh_ground_power(&band->ground, k)) / band->envelope->mean_square,
                                      .over_floor_db = over_floor(&band->ground, k),
                                      .name = name,
                                      .beside = fabs(comb->aside[i]) > 0,
                                      .place = wh_read_place(band->channel),
                                      .of = wh_arena_print(read->arena, "envelope, %s", band->words)};
    }
    in_order(lines, n);
    read->reading->envelope = band->envelope;
    read->reading->envelope_of = band->channel;
    for (size_t i = 0; i < n; i++) *WH_PUSH(read->arena, &read->reading->lines) = lines[i];
    return lines;
}

const char *wh_read_evidence(struct wh_read *read, const struct wh_family *family, const struct wh_read_band *band,
                             const char *reckoned)
{
    double most = 0;
    for (size_t i = 0; i < family->count; i++)
        if (family->line[i]) most = fmax(most, over_floor(&band->ground, family->line[i]));
    return wh_arena_print(read->arena,
                          "%s; %zu of %zu lines stand out of the noise, by up to %.0f dB, in the envelope (%s); the "
                          "power there swells by %.2f of its mean with them%s",
                          reckoned, family->seen, family->count, most, band->words, family->depth,
                          family->whole == family->seen ? "; all lie at whole numbers of turns, where blades or "
                                                          "lobes of that number would lie too"
                                                        : "");
}
