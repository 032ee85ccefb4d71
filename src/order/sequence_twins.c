#include "order/sequence_twins.h"

#include "order/sequence_model.h"

static const uint64_t *before(const struct wh_sequence_sets *s, size_t t)
{
    return &s->before[t * s->words];
}

static const uint64_t *after(const struct wh_sequence_sets *s, size_t t)
{
    return &s->after[t * s->words];
}

static bool within(const uint64_t part[], const uint64_t whole[], size_t words)
{
    for (size_t w = 0; w < words; w++)
        if (part[w] & ~whole[w]) return false;
    return true;
}

static bool differ(double a, double b)
{
    return a < b || a > b;
}

/* Do steps from and to both cost the same, as far as a sequence can have them? */
static bool are_alike(const struct wh_sequence_problem *p, const struct wh_sequence_sets *s, size_t a, size_t b)
{
    size_t n = p->count;
    if (differ(p->cost[a * n + b], p->cost[b * n + a])) return false;
    for (size_t t = 0; t < n; t++) {
        if (t == a || t == b) continue;
        bool behind = !wh_sequence_has(before(s, a), t) && !wh_sequence_has(before(s, b), t);
        bool ahead = !wh_sequence_has(after(s, a), t) && !wh_sequence_has(after(s, b), t);
        if (behind && differ(p->cost[a * n + t], p->cost[b * n + t])) return false;
        if (ahead && differ(p->cost[t * n + a], p->cost[t * n + b])) return false;
    }
    return true;
}

static bool may_come_first(const struct wh_sequence_problem *p, const struct wh_sequence_sets *s, size_t a, size_t b)
{
    if (a == b || wh_sequence_has(before(s, a), b) || wh_sequence_has(after(s, a), b)) return false;
    return within(before(s, a), before(s, b), s->words) && within(after(s, b), after(s, a), s->words) &&
           are_alike(p, s, a, b);
}

/* Adds the pair and what follows from it. */
static void put_before(const struct wh_sequence_sets *s, size_t a, size_t b)
{
    wh_sequence_put(&s->before[b * s->words], a);
    wh_sequence_put(&s->after[a * s->words], b);
    for (size_t t = 0; t < s->n; t++) {
        bool ahead = t == a || wh_sequence_has(before(s, a), t), behind = t == b || wh_sequence_has(after(s, b), t);
        for (size_t w = 0; w < s->words; w++) {
            if (ahead) s->after[t * s->words + w] |= after(s, b)[w];
            if (behind) s->before[t * s->words + w] |= before(s, a)[w];
        }
        if (ahead) wh_sequence_put(&s->after[t * s->words], b);
        if (behind) wh_sequence_put(&s->before[t * s->words], a);
    }
}

void wh_sequence_order_twins(const struct wh_sequence_problem *problem, const struct wh_sequence_sets *sets)
{
    for (bool more = true; more;) {
        more = false;
        for (size_t a = 0; a < problem->count; a++) {
            for (size_t b = 0; b < problem->count; b++) {
                if (!may_come_first(problem, sets, a, b)) continue;
                put_before(sets, a, b);
                more = true;
            }
        }
    }
}
