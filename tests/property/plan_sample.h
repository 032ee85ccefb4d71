/* Random machines, each named by its seed, and as text in several guises. */
#ifndef WH_TESTS_PROPERTY_PLAN_SAMPLE_H
#define WH_TESTS_PROPERTY_PLAN_SAMPLE_H

#include "base/text.h"

#include <stdint.h>

enum { PARTS = 10, FIXTURES = 2, CHECKS = 4, CONDITIONS = 3 };

struct sample_condition {
    int any[2]; /* parts, or PARTS + a fixture; the second -1: no choice */
};

struct sample_way {
    struct sample_condition first[CONDITIONS];
    int firsts, with; /* fixture, -1 for none */
    int off, on;      /* minutes */
    bool bench, back;
};

struct sample_part {
    struct sample_way ways[2];
    int way_count, tool, crew, disturbed_by, look_when;
    bool warm, renewed_always, caution;
};

struct sample_check {
    int part, takes;
    bool strip, hold, with;
    int before; /* a part that goes on, or comes off, after it; -1: none */
};

struct sample {
    struct sample_part parts[PARTS];
    int count, fixtures, checks, renew[2], renews;
    int stands_on[FIXTURES]; /* part, -1 for none */
    bool stays[FIXTURES], ways_up, wait;
    int wait_after, wait_before, back_first; /* parts; of the other way up: what must be off */
    struct sample_check check[CHECKS];
};

/* How the text of one machine may differ without its being another one. */
struct sample_guise {
    const char *prefix;   /* of all ids */
    uint64_t keys, order; /* 0: as they are; else the seed by which keys of a part, or parts, are shuffled */
};

void sample_make(struct sample *s, uint64_t seed);
size_t sample_below(uint64_t *seed, size_t n);
const char *sample_text(struct wh_arena *arena, const struct sample *s, struct sample_guise guise);
const char *sample_renew(struct wh_arena *arena, const struct sample *s, const char *prefix);

#endif
