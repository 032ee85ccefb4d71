/* What makes the velocity: unbalance, misalignment, looseness, belt, electrical and the machine's other orders. Only
 * vibration above the limit is given a cause; below it lines are named and nothing is found.
 *
 * The rules are common practice of the trade: a steady once-a-turn alone is unbalance (or a bent shaft, or a resonance:
 * the phase and a run-down tell), twice a turn of like size misalignment, many multiples looseness. */
#include "testrun/read.h"

#include <math.h>

enum { TURNS = 10, NAMED = 24, HALF = 2 };

static const double most_of = 0.64;   /* of the square of the velocity: four fifths of its size */
static const double like_first = 0.5; /* twice a turn, of once a turn */
static const double of_limit = 0.5;   /* of the limit, for what should not be there at all */
static const double named_evidence = 14;
static const double hump = 10;

struct velocity {
    const struct wh_channel_measured *channel;
    const struct wh_ground *ground;
    double shaft, square; /* of the velocity in the band, (m/s)^2 */
};

/* The peak within a line of a frequency that stands out most; 0: none. */
static size_t peak_near(const struct wh_ground *ground, double frequency)
{
    double at = round(frequency / ground->spectrum->step);
    size_t best = 0;
    for (double k = at - 1; k <= at + 1; k++)
        if (k >= 2 && k + 2 < (double)ground->lines &&
            ground->evidence[(size_t)k] > fmax(WH_EVIDENCE_SEEN, best ? ground->evidence[best] : 0))
            best = (size_t)k;
    return best;
}

/* Mean square of the line at a frequency, 0 when none stands out. */
static double square_at(const struct velocity *v, double frequency)
{
    size_t k = peak_near(v->ground, frequency);
    return k ? wh_ground_power(v->ground, k) : 0;
}

static bool of_turning(const struct velocity *v, double frequency)
{
    double turns = round(frequency / v->shaft);
    return turns >= 1 && fabs(frequency - turns * v->shaft) < 2 * v->ground->spectrum->step;
}

static void add(struct wh_read *read, const struct velocity *v, const char *part, const char *says,
                const char *evidence, const char *sure)
{
    *WH_PUSH(read->arena, &read->reading->findings) = (struct wh_finding){
        .part = part, .place = wh_read_place(v->channel), .says = says, .evidence = evidence, .sure = sure};
}

static const char *shares(struct wh_read *read, const struct velocity *v, const char *what, double square)
{
    return wh_arena_print(read->arena, "%s makes %.1f of %.1f mm/s r.m.s.; the limit is %.1f mm/s (%s)", what,
                          1e3 * sqrt(square), 1e3 * sqrt(v->square), 1e3 * read->sources->limit,
                          read->sources->limit_from ? read->sources->limit_from : "as stated");
}

static void read_shaft(struct wh_read *read, const struct velocity *v)
{
    double once = square_at(v, v->shaft), twice = square_at(v, 2 * v->shaft), more = 0;
    int multiples = 0;
    for (int i = 3; i <= TURNS; i++) {
        double square = square_at(v, i * v->shaft);
        more += square;
        multiples += square > 0;
    }
    for (int i = 0; i < HALF; i++) more += square_at(v, (i + 0.5) * v->shaft);
    if (multiples >= 4 && more > 0.3 * v->square) {
        add(read, v, "looseness", "something is loose or rubs: it knocks with the turn",
            shares(read, v,
                   wh_arena_print(read->arena, "%d multiples of the turn above the second, together, and halves",
                                  multiples),
                   more),
            "possible");
    } else if (twice > like_first * like_first * once && once + twice > most_of * v->square) {
        add(read, v, "misalignment", "the shaft or its coupling stands out of line: it shakes twice a turn",
            shares(read, v, "twice a turn", twice), "possible");
    } else if (once > most_of * v->square) {
        add(read, v, "unbalance",
            "unbalance: it shakes once a turn; a bent shaft or a resonance would too, phase and run-down tell",
            shares(read, v, "once a turn", once), "likely");
    }
}

static void read_orders(struct wh_read *read, const struct velocity *v)
{
    for (size_t i = 0; i < read->sources->orders.count; i++) {
        const struct wh_order_source *o = &read->sources->orders.at[i];
        double square = 0;
        for (int k = 1; k <= 4; k++)
            if (!of_turning(v, k * o->order * v->shaft)) square += square_at(v, k * o->order * v->shaft);
        if (sqrt(square) > of_limit * read->sources->limit)
            add(read, v, o->part, wh_arena_print(read->arena, "%s: it shakes %.3f times a turn", o->title, o->order),
                shares(read, v, wh_arena_print(read->arena, "%s, first four multiples,", o->title), square), "likely");
    }
}

static void read_mains(struct wh_read *read, const struct velocity *v)
{
    double twice = 2 * read->sources->mains, square = square_at(v, twice);
    if (!(twice > 0) || !(sqrt(square) > of_limit * read->sources->limit)) return;
    bool both = of_turning(v, twice);
    add(read, v, "electrical",
        both ? "electrical, or the turning itself: twice the mains and a multiple of the turn lie too near to tell; "
               "switch off and look whether it goes at once"
             : "electrical: it shakes at twice the mains; it goes at once when the motor is switched off",
        shares(read, v, wh_arena_print(read->arena, "the line at %.0f Hz", twice), square),
        both ? "possible" : "likely");
}

static double floor_at(const struct wh_ground *ground, double frequency)
{
    double line = round(frequency / ground->spectrum->step);
    return line >= 2 && line < (double)ground->lines ? ground->floor[(size_t)line] : INFINITY;
}

/* Above the limit, and no line makes it: a part rings by itself. The floor has a hump, ten times what it is an octave
 * to either side, with half the velocity in it. */
static void read_resonance(struct wh_read *read, const struct velocity *v)
{
    const struct wh_ground *g = v->ground;
    const struct wh_spectrum *s = g->spectrum;
    size_t top = 0;
    for (size_t k = (size_t)(2 * v->channel->low / s->step) + 2; k < g->lines; k++)
        if (!top || g->floor[k] > g->floor[top]) top = k;
    double at = (double)top * s->step, square = 0;
    if (!top || g->floor[top] < hump * fmax(floor_at(g, at / 2), floor_at(g, 2 * at))) return;
    for (size_t k = (size_t)(0.9 * at / s->step); k < g->lines && (double)k * s->step < 1.1 * at; k++)
        square += s->power[k] / s->bandwidth;
    if (square > 0.5 * v->square)
        add(read, v, "resonance", "a part of machine or frame rings by itself; a run-down shows it",
            shares(read, v, wh_arena_print(read->arena, "a hump about %.0f Hz", at), square), "possible");
}

/* A line of a bearing within its slip, or NULL. */
static const char *bearing_name(const struct wh_read *read, double order)
{
    for (size_t b = 0; b < read->sources->bearings.count; b++)
        for (int line = 0; line < WH_BEARING_LINES; line++) {
            const struct wh_bearing_source *bearing = &read->sources->bearings.at[b];
            double times = round(order / bearing->order[line]);
            if (times >= 1 && times <= 3 && fabs(order / (times * bearing->order[line]) - 1) < read->sources->slip / 2)
                return wh_arena_print(read->arena, "%s, %s%s", bearing->title, wh_bearing_line_parts[line],
                                      times > 1.5 ? ", a multiple" : "");
        }
    return NULL;
}

static const char *name_of(const struct wh_read *read, const struct velocity *v, double frequency)
{
    double near = 1.5 * v->ground->spectrum->step, turns = round(frequency / v->shaft);
    const struct wh_sources *sources = read->sources;
    for (size_t i = 0; i < sources->orders.count; i++) {
        double line = sources->orders.at[i].order * v->shaft, k = round(frequency / line);
        if (k >= 1 && k <= 4 && fabs(frequency - k * line) < near && !of_turning(v, frequency))
            return sources->orders.at[i].title;
    }
    double k = sources->mains > 0 ? round(frequency / sources->mains) : 0;
    if (k >= 1 && k <= 6 && fabs(frequency - k * sources->mains) < near && !of_turning(v, frequency))
        return wh_arena_print(read->arena, "%.0f times mains", k);
    if (!of_turning(v, frequency)) {
        const char *name = bearing_name(read, frequency / v->shaft);
        return name ? name : "not named";
    }
    return turns < 1.5 ? "once a turn" : wh_arena_print(read->arena, "%.0f times a turn", turns);
}

/* The strongest lines that surely stand out, strongest first. */
static void name_lines(struct wh_read *read, const struct velocity *v)
{
    bool *taken = WH_NEW(read->arena, v->ground->lines + 1, bool);
    const double *power = v->ground->spectrum->power;
    for (int n = 0; n < NAMED; n++) {
        size_t best = 0;
        for (size_t k = 2; k < v->ground->lines; k++)
            if (!taken[k] && v->ground->evidence[k] > named_evidence && (!best || power[k] > power[best])) best = k;
        if (!best) return;
        taken[best] = true;
        double frequency = v->ground->place[best];
        *WH_PUSH(read->arena, &read->reading->lines) =
            (struct wh_line){.frequency = frequency,
                             .order = frequency / v->shaft,
                             .level = sqrt(wh_ground_power(v->ground, best)),
                             .over_floor_db = 10 * log10(power[best] / v->ground->floor[best]),
                             .name = name_of(read, v, frequency),
                             .place = wh_read_place(v->channel),
                             .of = "velocity"};
    }
}

void wh_read_others(struct wh_read *read)
{
    for (size_t c = 0; c < read->measured->channels; c++) {
        if (read->velocity[c].lines == 0) continue;
        const struct wh_channel_measured *channel = &read->measured->channel[c];
        struct velocity v = {.channel = channel,
                             .ground = &read->velocity[c],
                             .shaft = read->reading->shaft,
                             .square = channel->velocity_rms * channel->velocity_rms};
        name_lines(read, &v);
        if (channel->is->of == WH_NOT_STATED || !(channel->velocity_rms > read->sources->limit)) continue;
        size_t before = read->reading->findings.count;
        read_shaft(read, &v);
        read_orders(read, &v);
        read_mains(read, &v);
        if (read->reading->findings.count == before) read_resonance(read, &v);
    }
}
