/* What is measured of records whose figures are known from how they were made; and doubts that have to be stated. */
#include "record_file.h"
#include "testrun/measure.h"
#include "trade/rule.h"

enum { RATE = 8192, LONG = 10 * RATE };

static double draw(uint64_t *seed)
{
    *seed = *seed * 6364136223846793005u + 1442695040888963407u;
    return (double)(*seed >> 11) * 0x1p-52 - 1;
}

struct run {
    struct wh_record_ask record;
    struct wh_measure_ask ask;
    size_t channels;
    void (*make)(size_t i, double t, float x[]);
    size_t count;
    const char *refused;
    void (*look)(const struct wh_measured *measured);
};

static enum wh_status run_body(struct wh_arena *arena, void *context)
{
    const struct run *run = context;
    struct wh_errors errors = wh_errors_in(arena);
    struct wh_run_record *record;
    struct wh_measured *measured;
    size_t count = run->count ? run->count : LONG;
    float *x = WH_NEW(arena, count * run->channels, float);
    for (size_t i = 0; i < count; i++) run->make(i, (double)i / RATE, x + i * run->channels);
    const char *path = wav_of(arena, "m.wav", run->channels, RATE, x, count * run->channels);
    assert_int_equal(wh_record_open(arena, path, &run->record, &record, &errors), WH_OK);
    enum wh_status status = wh_measure(arena, record, &run->ask, &measured, &errors);
    wh_file_remove(path);
    const char *text = wh_errors_text(arena, &errors);
    if (run->refused && !strstr(text, run->refused)) print_error("\"%s\" is not in: %s\n", run->refused, text);
    if (run->refused)
        assert_non_null(strstr(text, run->refused));
    else
        assert_int_equal(status, WH_OK);
    if (run->look) run->look(measured);
    return WH_OK;
}

static void run(struct run run)
{
    if (!run.channels) run.channels = 1;
    assert_int_equal(wh_arena_run((size_t)64 << 20, run_body, &run), WH_OK);
}

static void check_doubt(const struct wh_doubts *doubts, const char *words)
{
    for (size_t d = 0; d < doubts->count; d++)
        if (strstr(doubts->at[d], words)) return;
    print_error("no doubt says \"%s\"\n", words);
    fail();
}

/* ---- figures ---------------------------------------------------------------------------------------------------- */

static void two_sines(size_t i, double t, float x[])
{
    (void)i;
    x[0] = (float)(3 + 10 * sin(2 * WH_PI * 50 * t) + 40 * sin(2 * WH_PI * 2000 * t));
}

/* 10 m/s2 at 50 Hz is 10/(100 pi) m/s; what lies at 2 kHz is outside the band. */
static void look_at_two_sines(const struct wh_measured *measured)
{
    const struct wh_channel_measured *c = measured->channel;
    double turning = 100 * WH_PI;
    check_close(c->velocity_rms, 10 / turning / sqrt(2), 0, 1e-3);
    check_close(c->acceleration_rms, 10 / sqrt(2), 0, 1e-3);
    check_close(c->displacement, 2 * 10 / (turning * turning), 0, 2e-3);
    check_close(c->rms, sqrt(50 + 800), 0, 1e-3);
    check_close(c->peak, 50, 0, 0.02);
    check_close(c->crest, 50 / sqrt(850), 0, 0.02);
    check_close(measured->seconds, 10, 0, 1e-12);
    assert_int_equal(c->doubts.count, 0);
    assert_int_equal(measured->doubts.count, 0);
}

static void figures_of_two_sines(void **state)
{
    (void)state;
    run((struct run){.record = {.unit = "m/s2"}, .make = two_sines, .look = look_at_two_sines});
}

/* The same vibration, 30 Hz, as acceleration, velocity and displacement: all three channels measure the same. */
static void one_as_three(size_t i, double t, float x[])
{
    double turning = 2 * WH_PI * 30;
    (void)i;
    x[0] = (float)(-2 * sin(turning * t));                        /* m/s2 */
    x[1] = (float)(2e3 / turning * cos(turning * t));             /* mm/s */
    x[2] = (float)(2e6 / (turning * turning) * sin(turning * t)); /* um */
}

static void look_at_three(const struct wh_measured *measured)
{
    double turning = 2 * WH_PI * 30;
    for (size_t c = 0; c < 3; c++) {
        check_close(measured->channel[c].velocity_rms, 2 / turning / sqrt(2), 0, 2e-3);
        check_close(measured->channel[c].acceleration_rms, 2 / sqrt(2), 0, 2e-3);
        check_close(measured->channel[c].displacement, 4 / (turning * turning), 0, 2e-3);
        check_close(measured->channel[c].kurtosis, 1.5, 0, 1e-3);
    }
}

static void three_sensors_agree(void **state)
{
    (void)state;
    run((struct run){.record = {.unit = "m/s2, mm/s, um"}, .channels = 3, .make = one_as_three, .look = look_at_three});
}

static void noise(size_t i, double t, float x[])
{
    static uint64_t seed = 5;
    double sum = 0;
    (void)i, (void)t;
    for (int k = 0; k < 12; k++) sum += draw(&seed);
    x[0] = (float)(sum / 2);
}

static void look_at_noise(const struct wh_measured *measured)
{
    check_close(measured->channel->rms, 1, 0, 0.01);
    check_close(measured->channel->kurtosis, 2.9, 0, 0.05); /* of twelve draws: 3 - 1.2/12 */
}

static void noise_has_its_figures(void **state)
{
    (void)state;
    run((struct run){.record = {.unit = "m/s2"}, .make = noise, .look = look_at_noise});
}

/* ---- the band of slow machines; the tacho ----------------------------------------------------------------------- */

static void slow_turn(size_t i, double t, float x[])
{
    (void)i;
    x[0] = (float)sin(2 * WH_PI * 5 * t);
    x[1] = fmod(5 * t, 1) < 0.1 ? 5 : 0;
}

static void look_at_slow(const struct wh_measured *measured)
{
    check_close(measured->channel[0].low, 2, 0, 0);
    check_close(measured->channel[0].velocity_rms, 1e-3 / sqrt(2), 0, 0.01);
    check_close(measured->speed, 10 * WH_PI, 0, 1e-4);
    assert_true(measured->tacho && measured->drift < 1e-3);
}

static void a_slow_machine_is_read_from_2_hz(void **state)
{
    (void)state;
    run((struct run){.record = {.unit = "mm/s", .channels = "block across, tacho"},
                     .ask = {.speed = 31},
                     .channels = 2,
                     .make = slow_turn,
                     .look = look_at_slow});
}

/* ---- doubts and refusals ---------------------------------------------------------------------------------------- */

static void clipped(size_t i, double t, float x[])
{
    (void)i;
    x[0] = (float)fmin(1, fmax(-1, 2 * sin(2 * WH_PI * 50.3 * t)));
}

static void look_at_clipped(const struct wh_measured *measured)
{
    check_doubt(&measured->channel->doubts, "clipped");
}

/* Finely sampled whole numbers lie still at their tops, and are not clipped. */
static void slow_steps(size_t i, double t, float x[])
{
    (void)i;
    x[0] = (float)round(200 * sin(2 * WH_PI * 12.3 * t));
}

static void look_at_steps(const struct wh_measured *measured)
{
    for (size_t d = 0; d < measured->channel->doubts.count; d++)
        assert_null(strstr(measured->channel->doubts.at[d], "clipped"));
}

static void stuck(size_t i, double t, float x[])
{
    noise(i, t, x);
    if (i > 3 * RATE && i < 3 * RATE + RATE / 4) x[0] = 0.5f;
}

static void look_at_stuck(const struct wh_measured *measured)
{
    check_doubt(&measured->channel->doubts, "stuck for 0.25 s at 3 s");
}

static void one_dead(size_t i, double t, float x[])
{
    noise(i, t, x);
    x[1] = 0.25f;
}

static void look_at_dead(const struct wh_measured *measured)
{
    assert_true(measured->channel[0].sound && !measured->channel[1].sound);
    check_doubt(&measured->channel[1].doubts, "the same number all along");
}

static void dead(size_t i, double t, float x[])
{
    (void)i, (void)t;
    x[0] = 1;
}

static void doubtful_records_are_doubted(void **state)
{
    (void)state;
    run((struct run){.make = clipped, .look = look_at_clipped});
    run((struct run){.make = slow_steps, .look = look_at_steps});
    run((struct run){.make = stuck, .look = look_at_stuck});
    run((struct run){.make = one_dead, .channels = 2, .look = look_at_dead});
}

static void hopeless_records_are_refused(void **state)
{
    (void)state;
    run((struct run){.make = dead, .refused = "no vibration channel in it lives"});
    run((struct run){.make = noise, .count = 3000, .refused = "too short: 3000 samples a channel, 0.366 s"});
    run((struct run){.record = {.channels = "a, tacho"}, .make = one_dead, .channels = 2, .refused = "no pulses"});
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(figures_of_two_sines),         cmocka_unit_test(three_sensors_agree),
        cmocka_unit_test(noise_has_its_figures),        cmocka_unit_test(a_slow_machine_is_read_from_2_hz),
        cmocka_unit_test(doubtful_records_are_doubted), cmocka_unit_test(hopeless_records_are_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
