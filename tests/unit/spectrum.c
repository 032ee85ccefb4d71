/* Windows against published factors; levels of sines and noise in spectra; a band pieced together; beats in envelopes.
 * Spectra of random signals against SciPy's are in tests/property/spectra.py. */
#include "study/band.h"
#include "study/envelope.h"
#include "check.h"
#include "trade/rule.h"

#include <math.h>
#include <stdint.h>

enum { LONG = 1 << 16 };

/* Uniform in -1..1, the same on every machine. */
static double draw(uint64_t *seed)
{
    *seed = *seed * 6364136223846793005u + 1442695040888963407u;
    return (double)(*seed >> 11) * 0x1p-52 - 1;
}

static struct wh_window_factors factors(struct wh_arena *arena, enum wh_window window, size_t n, size_t period)
{
    double *w = WH_NEW(arena, n, double);
    wh_window_fill(window, n, period, w);
    return wh_window_factors(n, w);
}

/* Equivalent noise bandwidths of symmetric windows, documentation of a general numerical package, function enbw,
 * examples: Hamming of 1000, flat top of 10000 at 44.1 kHz, Hann of 1000 at 10 kHz. */
ARENA_TEST(bandwidths_are_those_in_print)
{
    assert_true(fabs(factors(arena, WH_WINDOW_HAMMING, 1000, 999).bandwidth - 1.3638) < 0.5e-4);
    assert_true(fabs(factors(arena, WH_WINDOW_FLAT_TOP, 10000, 9999).bandwidth * 4.41 - 16.6285) < 0.5e-4);
    assert_true(fabs(factors(arena, WH_WINDOW_HANN, 1000, 999).bandwidth * 10 - 15.0150) < 0.5e-4);
    return WH_OK;
}

/* Periodic windows: Heinzel, Ruediger and Schilling, Spectrum and spectral density estimation by the discrete Fourier
 * transform, 2002, window list (figures from memory). */
ARENA_TEST(periodic_windows_are_those_of_the_list)
{
    static const struct {
        enum wh_window window;
        double bandwidth, scallop_db;
    } list[] = {{WH_WINDOW_HANN, 1.5, -1.4236},
                {WH_WINDOW_HAMMING, 1.3628, NAN},
                {WH_WINDOW_BLACKMAN_HARRIS, 2.0044, -0.8256},
                {WH_WINDOW_HFT70, 3.4129, NAN},
                {WH_WINDOW_HFT90D, 3.8832, NAN}};
    for (size_t i = 0; i < sizeof list / sizeof *list; i++) {
        struct wh_window_factors f = factors(arena, list[i].window, 4096, 4096);
        assert_true(fabs(f.bandwidth - list[i].bandwidth) < 0.5e-4);
        if (!isnan(list[i].scallop_db)) assert_true(fabs(20 * log10(f.scallop) - list[i].scallop_db) < 0.5e-4);
    }
    return WH_OK;
}

/* Amplitude and energy corrections of Hann 2.00 and 1.63, of Hamming 1.85, of the four-term Blackman-Harris 2.80:
 * window correction table of a testing knowledge base (Hamming from memory). */
ARENA_TEST(corrections_are_those_in_print)
{
    struct wh_window_factors hann = factors(arena, WH_WINDOW_HANN, 4096, 4096);
    assert_true(fabs(1 / hann.gain - 2.00) < 0.005 && fabs(1 / hann.energy - 1.63) < 0.005);
    assert_true(fabs(1 / factors(arena, WH_WINDOW_HAMMING, 4096, 4096).gain - 1.85) < 0.005);
    assert_true(fabs(1 / factors(arena, WH_WINDOW_BLACKMAN_HARRIS, 4096, 4096).gain - 2.80) < 0.015);
    return WH_OK;
}

static void add_in_pieces(struct wh_welch *welch, const double *x, size_t n)
{
    for (size_t at = 0, piece = 1; at < n; at += piece, piece = piece % 977 + 13) {
        if (piece > n - at) piece = n - at;
        wh_welch_add(welch, piece, x + at);
    }
}

ARENA_TEST(a_sine_on_a_line_has_its_mean_square)
{
    double *x = WH_NEW(arena, LONG, double);
    for (size_t i = 0; i < LONG; i++) x[i] = 5 + 3 * sin(2 * WH_PI * 100 * (double)i / 1024);
    for (enum wh_window window = 0; window < WH_WINDOWS; window++) {
        struct wh_spectrum spectrum;
        struct wh_welch *welch = wh_welch_open(arena, 2048, 1024, window, 0.5);
        add_in_pieces(welch, x, LONG);
        wh_welch_close(welch, &spectrum);
        assert_int_equal(spectrum.averages, 127);
        assert_true(fabs(spectrum.step - 2) < 1e-12);
        assert_true(fabs(spectrum.power[100] - 4.5) < 1e-9);
        assert_true(fabs(wh_spectrum_rms(&spectrum, 150, 250) - 3 / sqrt(2)) < 1e-9);
    }
    return WH_OK;
}

ARENA_TEST(noise_keeps_its_mean_square_in_its_band)
{
    double *x = WH_NEW(arena, LONG, double), sum = 0;
    uint64_t seed = 7;
    for (size_t i = 0; i < LONG; i++) {
        x[i] = draw(&seed);
        sum += x[i] * x[i];
    }
    struct wh_spectrum spectrum;
    struct wh_welch *welch = wh_welch_open(arena, 1, 512, WH_WINDOW_FLAT_TOP, 0.75);
    add_in_pieces(welch, x, LONG);
    wh_welch_close(welch, &spectrum);
    assert_true(fabs(wh_spectrum_rms(&spectrum, 0, 0.5) / sqrt(sum / LONG) - 1) < 0.01);
    return WH_OK;
}

ARENA_TEST(an_integral_divides_by_the_angular_frequency)
{
    double power[] = {1, 2, 3};
    struct wh_spectrum a = {.step = 10, .lines = 3, .power = power, .bandwidth = 1.5, .averages = 1};
    struct wh_spectrum v = wh_spectrum_integral(arena, &a, -1), d = wh_spectrum_integral(arena, &v, -1);
    double turning = 2 * WH_PI * 20;
    assert_true(v.power[0] < 1e-300 && fabs(v.power[2] - 3 / (turning * turning)) < 1e-15);
    assert_true(fabs(wh_spectrum_integral(arena, &d, 2).power[2] - 3) < 1e-12);
    return WH_OK;
}

/* A stream's band is the stream where it holds nothing else: two sines inside, one outside. */
ARENA_TEST(a_band_is_pieced_together)
{
    double *x = WH_NEW(arena, LONG, double), worst = 0;
    double rate = 4096;
    for (size_t i = 0; i < LONG; i++) {
        double t = (double)i / rate;
        x[i] = sin(2 * WH_PI * 100.3 * t) + 0.5 * cos(2 * WH_PI * 217.7 * t) + 2 * sin(2 * WH_PI * 900 * t);
    }
    struct wh_blocks *blocks = wh_blocks_open(arena, 4096, 2048, WH_WINDOW_HANN);
    struct wh_band *band = wh_band_real(arena, blocks, rate, 20, 400, 4);
    const double *at = x;
    size_t n = LONG, half = band->size / 2, pieces = 0;
    while (wh_blocks_next(blocks, &n, &at)) {
        if (!wh_band_add(band, NULL)) continue;
        pieces++;
        for (size_t i = 0; i < half; i++) {
            double t = ((double)pieces + (double)i / (double)half) * 0.5;
            double want = sin(2 * WH_PI * 100.3 * t) + 0.5 * cos(2 * WH_PI * 217.7 * t);
            worst = fmax(worst, fabs(band->out[i] - want));
        }
    }
    assert_int_equal(pieces, 30);
    assert_true(worst < 1e-4);
    return WH_OK;
}

/* Blows at 37 Hz that ring at 3 kHz in noise: the band round 3 kHz stands out, its envelope beats at 37 Hz. */
ARENA_TEST(blows_are_found_in_the_band_that_rings)
{
    double rate = 20000, *x = WH_NEW(arena, 8 * 20000, double);
    uint64_t seed = 3;
    size_t n = 8 * 20000, period = 20000 / 37;
    for (size_t i = 0; i < n; i++) {
        double t = (double)(i % period) / rate;
        x[i] = draw(&seed) + 4 * exp(-800 * t) * sin(2 * WH_PI * 3000 * t);
    }
    struct wh_blocks *blocks = wh_blocks_open(arena, 16384, 8192, WH_WINDOW_HANN);
    struct wh_envelopes *open = wh_envelopes_open(arena, blocks, rate, 1000, 1.5);
    while (wh_blocks_next(blocks, &n, (const double **)&x)) wh_envelopes_add(open);
    struct wh_envelope *envelope;
    size_t count = wh_envelopes_close(open, &envelope), best = wh_envelope_best(envelope, count);
    assert_true(best < count && envelope[best].low < 3000 && envelope[best].high > 3000);
    assert_true(envelope[best].kurtosis > 1);
    assert_true(envelope[0].whitened);
    for (size_t i = 0; i < count; i += best) { /* whitened, best */
        const struct wh_spectrum *s = &envelope[i].spectrum;
        double found = 0, most = 0;
        for (size_t k = (size_t)(10 / s->step); k < s->lines && (double)k * s->step < 60; k++)
            if (s->power[k] > most) most = s->power[k], found = (double)k * s->step;
        assert_true(fabs(found - rate / (double)period) <= s->step);
    }
    return WH_OK;
}

/* Noise alone: no band stands out, and each has its share of the mean square. */
ARENA_TEST(noise_has_no_kurtosis)
{
    double rate = 20000, *x = WH_NEW(arena, 8 * 20000, double);
    const double *at = x;
    uint64_t seed = 11;
    size_t n = 8 * 20000;
    for (size_t i = 0; i < n; i++) x[i] = draw(&seed) + draw(&seed) + draw(&seed) + draw(&seed);
    struct wh_blocks *blocks = wh_blocks_open(arena, 16384, 8192, WH_WINDOW_HANN);
    struct wh_envelopes *open = wh_envelopes_open(arena, blocks, rate, 1000, 1.5);
    while (wh_blocks_next(blocks, &n, &at)) wh_envelopes_add(open);
    struct wh_envelope *envelope;
    size_t count = wh_envelopes_close(open, &envelope);
    assert_true(count > 6);
    for (size_t i = 0; i < count; i++) {
        assert_true(fabs(envelope[i].kurtosis) < 0.25);
        double share = 2 * (envelope[i].high - envelope[i].low) / rate * 4 / 3;
        if (!envelope[i].whitened)
            assert_true(envelope[i].mean_square > 0.8 * share && envelope[i].mean_square < share);
    }
    return WH_OK;
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(bandwidths_are_those_in_print),
        cmocka_unit_test(periodic_windows_are_those_of_the_list),
        cmocka_unit_test(corrections_are_those_in_print),
        cmocka_unit_test(a_sine_on_a_line_has_its_mean_square),
        cmocka_unit_test(noise_keeps_its_mean_square_in_its_band),
        cmocka_unit_test(an_integral_divides_by_the_angular_frequency),
        cmocka_unit_test(a_band_is_pieced_together),
        cmocka_unit_test(blows_are_found_in_the_band_that_rings),
        cmocka_unit_test(noise_has_no_kurtosis),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
