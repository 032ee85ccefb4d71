/* Numbers, values and units as people write them, and every way of writing them wrong that has a name. */
#include "base/quantity.h"
#include "check.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static struct wh_unit unit(const char *text)
{
    struct wh_unit read;
    if (!wh_unit_read(text, strlen(text), &read)) fail_msg("\"%s\" is not read as a unit", text);
    return read;
}

/* `wanted` NULL: any unit. */
static enum wh_misread misread(const char *text, const char *wanted)
{
    struct wh_unit kind = wanted ? unit(wanted) : (struct wh_unit){0};
    struct wh_value value;
    return wh_value_read(text, wanted ? &kind : NULL, &value, NULL);
}

static struct wh_value value(const char *text, const char *wanted)
{
    struct wh_unit kind = unit(wanted);
    struct wh_value read = {0};
    enum wh_misread how = wh_value_read(text, &kind, &read, NULL);
    if (how != WH_READ_WELL) fail_msg("\"%s\" is misread %d", text, how);
    return read;
}

static double si(const char *text, const char *wanted)
{
    return value(text, wanted).best;
}

static void numbers_are_read_as_written(void **state)
{
    (void)state;
    static const struct {
        const char *text;
        double want;
        size_t length;
    } rows[] = {
        {"30", 30, 2},      {"0.5", 0.5, 3},      {"0,5", 0.5, 3},   {"-2.5e-3", -2.5e-3, 7}, {"−5", -5, 4},
        {"+7", 7, 2},       {"1e3", 1000, 3},     {"060", 60, 3},    {"5..20", 5, 1},         {"5,..", 5, 1},
        {"1,000", 1, 5},    {"1.000,5", 1, 5},    {"0x10", 0, 1},    {"1e", 1, 1},            {"1e+", 1, 1},
        {"  3 mm", 3, 3},   {"1e-400", 0, 6},     {".5", 0.5, 2},    {"00.10", 0.1, 5},       {"2E2", 200, 3},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        double got = NAN;
        const char *end = wh_number_read(rows[i].text, &got);
        if (!end) fail_msg("\"%s\" is not read", rows[i].text);
        check_close(got, rows[i].want, 0, 0);
        assert_int_equal(end - rows[i].text, rows[i].length);
    }
    static const char *const none[] = {"", " ", "nan", "inf", "-", "+", ".", ",", "mm", "e3", "--1", "1e999", "-1e400"};
    for (size_t i = 0; i < sizeof none / sizeof *none; i++) {
        double got = 42;
        if (wh_number_read(none[i], &got)) fail_msg("\"%s\" is read as %g", none[i], got);
        check_close(got, 42, 0, 0);
    }
}

/* All numbers of up to 15 digits and small powers, which is all that people write, are read to the last bit. */
static void numbers_are_exact_to_the_last_bit(void **state)
{
    (void)state;
    uint64_t seed = 20251125;
    for (int i = 0; i < 20000; i++) {
        char text[64];
        seed = seed * 6364136223846793005u + 1442695040888963407u;
        unsigned long long digits = (seed >> 14) % 1000000000000000u;
        snprintf(text, sizeof text, "%llue%d", digits, (int)(seed >> 8 & 31) - 22);
        double got, want = strtod(text, NULL);
        assert_non_null(wh_number_read(text, &got));
        if (memcmp(&got, &want, sizeof got) != 0) fail_msg("%s: %.17g, wanted %.17g", text, got, want);
    }
}

static void long_numbers_are_near(void **state)
{
    (void)state;
    static const char *const texts[] = {"3.14159265358979323846264338327950288", "123456789012345678901234567890",
                                        "0.000000000000000000000000000001234567890123456789", "1.7976931348623157e308",
                                        "2.2250738585072014e-308"};
    for (size_t i = 0; i < sizeof texts / sizeof *texts; i++) {
        double got = 0;
        assert_non_null(wh_number_read(texts[i], &got));
        check_close(got, strtod(texts[i], NULL), 0, 4e-16);
    }
}

static void values_are_exact_between_or_normal(void **state)
{
    (void)state;
    struct wh_value exact = value("30 mm", "mm"), between = value("30.008..30.012 mm", "mm"),
                    normal = value("30.010 +- 0.002 mm", "mm");
    assert_int_equal(exact.shape, WH_EXACT);
    check_close(exact.best, 0.03, 1e-18, 0);
    check_close(exact.most - exact.least + exact.u, 0, 0, 0);
    assert_int_equal(between.shape, WH_BETWEEN);
    check_close(between.least, 30.008e-3, 1e-17, 0);
    check_close(between.most, 30.012e-3, 1e-17, 0);
    check_close(between.best, 30.010e-3, 1e-17, 0);
    check_close(between.u, 4e-6 / sqrt(12), 1e-15, 0);
    assert_int_equal(normal.shape, WH_NORMAL);
    check_close(normal.best, 30.010e-3, 1e-17, 0);
    check_close(normal.u, 1e-6, 1e-18, 0); /* what is written is expanded, k = 2 */
    check_close(normal.most - normal.least, 4e-6, 1e-17, 0);
}

static void spellings_of_a_value(void **state)
{
    (void)state;
    check_close(si("0,5 mm", "mm"), 0.5e-3, 1e-18, 0);
    check_close(si("30,008..30,012 mm", "mm"), 30.01e-3, 1e-16, 0);
    check_close(si("30 .. 32 mm", "mm"), 31e-3, 1e-16, 0);
    check_close(si("-12..-4 um", "mm"), -8e-6, 1e-18, 0);
    check_close(value("30 ± 2 um", "mm").u, 1e-6, 1e-18, 0);
    check_close(si("30mm", "mm"), 30e-3, 1e-17, 0);
    check_close(si(" 30 mm ", "mm"), 30e-3, 1e-17, 0);
    check_close(si("5..20 mm", "mm"), 12.5e-3, 1e-17, 0);
    check_close(si("18 °C", "degC"), 291.15, 1e-12, 0);
    check_close(si("18..22 °C", "degC"), 293.15, 1e-12, 0);
    check_close(value("20 +- 2 degC", "degC").u, 1, 1e-12, 0); /* the uncertainty is a difference */
    check_close(si("50 %", "1"), 0.5, 0, 0);
    check_close(si("0.12", "1"), 0.12, 0, 0);
}

static void wrong_values_are_told_apart(void **state)
{
    (void)state;
    static const struct {
        const char *text, *wanted;
        enum wh_misread want;
    } rows[] = {
        {"", "mm", WH_READ_EMPTY},
        {"   ", "mm", WH_READ_EMPTY},
        {"wide", "mm", WH_READ_NO_NUMBER},
        {"nan mm", "mm", WH_READ_NO_NUMBER},
        {"30", "mm", WH_READ_NO_UNIT},
        {"30..32", "mm", WH_READ_NO_UNIT},
        {"30 mmm", "mm", WH_READ_UNKNOWN_UNIT},
        {"30 mm 5", "mm", WH_READ_UNKNOWN_UNIT},
        {"0x10 mm", "mm", WH_READ_UNKNOWN_UNIT},
        {"1 e3 mm", "mm", WH_READ_UNKNOWN_UNIT},
        {"30 mm..32 mm", "mm", WH_READ_UNKNOWN_UNIT},
        {"30 kg", "mm", WH_READ_WRONG_KIND},
        {"30 mm2", "mm", WH_READ_WRONG_KIND},
        {"32..30 mm", "mm", WH_READ_REVERSED},
        {"30 +- -1 mm", "mm", WH_READ_REVERSED},
        {"30.. mm", "mm", WH_READ_NO_NUMBER},
        {"30 +- mm", "mm", WH_READ_NO_NUMBER},
        {"1.000,5 mm", "mm", WH_READ_REST},
        {"1,000.5 mm", "mm", WH_READ_REST},
        {"1e308 km", "mm", WH_READ_NO_NUMBER},
        {"0.12 mm", "1", WH_READ_WRONG_KIND},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        enum wh_misread got = misread(rows[i].text, rows[i].wanted);
        if (got != rows[i].want) fail_msg("\"%s\" is misread %d, wanted %d", rows[i].text, got, rows[i].want);
    }
}

/* A speed of turning is not a frequency: elsewhere 3000 1/min turns into 50 rad/s unseen. */
static void turning_is_no_frequency(void **state)
{
    (void)state;
    check_close(si("3000 rpm", "rad/s"), 314.159265358979, 1e-11, 0);
    check_close(si("50 rev/s", "rpm"), 314.159265358979, 1e-11, 0);
    assert_int_equal(misread("3000 1/min", "rad/s"), WH_READ_WRONG_KIND);
    assert_int_equal(misread("50 Hz", "rpm"), WH_READ_WRONG_KIND);
    assert_int_equal(misread("3000 rpm", "Hz"), WH_READ_WRONG_KIND);
    check_close(si("3000 1/min", "Hz"), 50, 1e-13, 0);
}

/* A difference of temperature stays one: elsewhere a difference of 60 degC turns into 333.15 K. */
static void a_difference_of_temperature_is_in_kelvin(void **state)
{
    (void)state;
    check_close(si("60 K", "K"), 60, 0, 0);
    assert_int_equal(misread("60 degC", "K"), WH_READ_WRONG_KIND);
    assert_int_equal(misread("60 degF", "K"), WH_READ_WRONG_KIND);
    check_close(si("60 degC", "degC"), 333.15, 1e-12, 0);
    check_close(si("176 degF", "degC"), 353.15, 1e-12, 0);
    check_close(si("12e-6 1/K", "1/K"), 12e-6, 1e-20, 0);
    struct wh_unit read;
    static const char *const wrong[] = {"1/degC", "degC2", "W/m2 degC", "degC m", "m degC", "°C s"};
    for (size_t i = 0; i < sizeof wrong / sizeof *wrong; i++)
        if (wh_unit_read(wrong[i], strlen(wrong[i]), &read)) fail_msg("\"%s\" is read", wrong[i]);
}

static void compounds_and_exponents(void **state)
{
    (void)state;
    check_close(unit("N/mm2").factor, 1e6, 1e-9, 0);
    check_close(unit("N/mm^2").factor, 1e6, 1e-9, 0);
    check_close(unit("N mm-2").factor, 1e6, 1e-9, 0);
    check_close(unit("N·mm").factor, 1e-3, 1e-18, 0);
    check_close(unit("kg m²").factor, 1, 0, 0);
    check_close(unit("W/m2 K").factor, 1, 0, 0); /* what stands after the stroke is all below it */
    assert_true(wh_dimension_same(unit("W/m2 K").dimension, unit("W m-2 K-1").dimension));
    assert_false(wh_dimension_same(unit("W/m2 K").dimension, unit("W K/m2").dimension));
    assert_true(wh_dimension_same(unit("J").dimension, unit("N m").dimension));
    assert_false(wh_dimension_same(unit("N m/rad").dimension, unit("N m").dimension));
}

static void what_is_no_unit(void **state)
{
    (void)state;
    static const char *const wrong[] = {"mmm", "Mm", "MM", "m/",   "/m", "m//s", "m/s/s", "m0",  "m^",  "m^^2", "m-",
                                        "m99", "2mm", "mm*", "*mm", "mm·", "mm.",  "in.", "k g", "\xb5m", "m 2"};
    struct wh_unit read;
    for (size_t i = 0; i < sizeof wrong / sizeof *wrong; i++)
        if (wh_unit_read(wrong[i], strlen(wrong[i]), &read)) fail_msg("\"%s\" is read as a unit", wrong[i]);
}

ARENA_TEST(misreadings_have_words)
{
    struct wh_unit mm = unit("mm");
    for (int m = WH_READ_EMPTY; m <= WH_READ_REST; m++) {
        const char *words = wh_misread_words(arena, (enum wh_misread)m, "x", &mm);
        assert_true(strlen(words) > 10);
        assert_non_null(strstr(words, m == WH_READ_REVERSED ? "smaller one first" : "30 mm"));
    }
    assert_non_null(strstr(wh_misread_words(arena, WH_READ_NO_UNIT, "30", &mm), "\"30\""));
    assert_string_equal(wh_dimension_words(arena, unit("rpm").dimension), "a speed of turning");
    assert_string_equal(wh_dimension_words(arena, unit("kg m2 s-3 A-3").dimension), "m2 kg s-3 A-3");
    return WH_OK;
}

ARENA_TEST(quantities_print_with_their_digits)
{
    struct wh_unit mm = unit("mm"), um = unit("um"), degc = unit("degC"), one = unit("1"), percent = unit("%");
    assert_string_equal(wh_quantity_print(arena, 30.006e-3, &mm, 5), "30.006 mm");
    assert_string_equal(wh_quantity_print(arena, 30e-3, &mm, 5), "30.000 mm");
    assert_string_equal(wh_quantity_print(arena, 9.996e-3, &mm, 3), "10.0 mm");
    assert_string_equal(wh_quantity_print(arena, 1234.5e-3, &mm, 2), "1234 mm");
    assert_string_equal(wh_quantity_print(arena, 0, &mm, 3), "0.00 mm");
    assert_string_equal(wh_quantity_print(arena, 353.15, &degc, 3), "80.0 degC");
    assert_string_equal(wh_quantity_print(arena, 1e-12, &um, 3), "1.00e-06 um");
    assert_string_equal(wh_quantity_print(arena, NAN, &mm, 3), "no answer mm");
    assert_string_equal(wh_quantity_print(arena, 0.125, &one, 3), "0.125");
    assert_string_equal(wh_quantity_fixed(arena, 0.1254, &percent, 1), "12.5 %");
    assert_string_equal(wh_quantity_fixed(arena, -1e-9, &mm, 3), "0.000 mm"); /* no minus before nothing */
    assert_string_equal(wh_quantity_fixed(arena, -2e-6, &mm, 3), "-0.002 mm");
    return WH_OK;
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(numbers_are_read_as_written),
        cmocka_unit_test(numbers_are_exact_to_the_last_bit),
        cmocka_unit_test(long_numbers_are_near),
        cmocka_unit_test(values_are_exact_between_or_normal),
        cmocka_unit_test(spellings_of_a_value),
        cmocka_unit_test(wrong_values_are_told_apart),
        cmocka_unit_test(turning_is_no_frequency),
        cmocka_unit_test(a_difference_of_temperature_is_in_kelvin),
        cmocka_unit_test(compounds_and_exponents),
        cmocka_unit_test(what_is_no_unit),
        cmocka_unit_test(misreadings_have_words),
        cmocka_unit_test(quantities_print_with_their_digits),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
