/* The tables of src/trade by their own functions: what is not in them, codes that mean nothing, each word there and
 * back. */
#include "check.h"
#include "trade/bearing.h"
#include "trade/bearing_inside.h"
#include "trade/bearing_table.h"
#include "trade/iso286.h"
#include "trade/iso492.h"
#include "trade/rule.h"
#include "trade/thread_table.h"

#include <string.h>

static double zone(const char *text)
{
    double code = NAN;
    assert_true(wh_iso286_zone_read(text, strlen(text), &code));
    return code;
}

static void outside_iso_286(void **state)
{
    (void)state;
    static const char *const strange[] = {"",    "k",    "K",    "6",   "k0",  "k06", "k19", "k66", "q6", "Q6",
                                          "kk6", "jss6", "js6x", "H-7", "ZZ7", "j4",  "j8",  "J5",  "J9"};
    double low, high, code;
    assert_false(wh_iso286_limits(0.6, zone("k6"), &low, &high));
    assert_false(wh_iso286_limits(0, zone("k6"), &low, &high));
    assert_false(wh_iso286_limits(0.03, zone("k18"), &low, &high) && isnan(low));
    assert_false(wh_iso286_limits(0.03, 31 * 32 + 6, &low, &high));
    assert_true(isnan(wh_iso286_tolerance(0.6, 6)) && isnan(wh_iso286_tolerance(0.03, 0)));
    assert_true(isnan(wh_iso286_tolerance(0.03, 99)) && isnan(wh_iso286_tolerance(-1, 6)));
    assert_false(wh_iso286_step(0.6, &low, &high));
    assert_true(isnan(low) && isnan(high));
    for (size_t i = 0; i < sizeof strange / sizeof strange[0]; i++)
        assert_false(wh_iso286_zone_read(strange[i], strlen(strange[i]), &code));
    assert_false(wh_iso286_grade_read("I6", 2, &code) || wh_iso286_grade_read("ITx", 3, &code));
    assert_false(wh_iso286_grade_read("XT6", 3, &code) || wh_iso286_grade_read("IT", 2, &code));
    assert_true(wh_iso286_grade_read("it6", 3, &code) && wh_iso286_grade_read("IT16", 4, &code));
}

static void outside_iso_492(void **state)
{
    (void)state;
    double low, high;
    for (int code = -1; code <= WH_CLASSES; code += WH_CLASSES + 1) {
        assert_false(wh_iso492_bore(0.03, code, &low, &high) || wh_iso492_outside(0.06, code, &low, &high));
        assert_true(isnan(wh_iso492_inner_runout(0.03, code)) && isnan(wh_iso492_outer_runout(0.06, code)));
        assert_true(isnan(wh_iso492_bore_variation(0.03, code)) && isnan(wh_iso492_width_deviation(0.03, code)));
    }
    assert_false(wh_iso492_bore(1, WH_CLASS_NORMAL, &low, &high) || wh_iso492_bore(0, WH_CLASS_NORMAL, &low, &high));
    assert_false(wh_iso492_outside(1, WH_CLASS_NORMAL, &low, &high));
    assert_true(isnan(wh_iso492_bore_variation(0.03, WH_CLASS_P4)));
    assert_true(isnan(wh_iso492_width_deviation(0.03, WH_CLASS_P6)));
}

static void threads(void **state)
{
    (void)state;
    static const char *const strange[] = {"",     "M",   "8",      "Mx1",      "M8x", "M8x1.", "M8x.5", "M8y1", "M8x1x",
                                          "M8x7", "M13", "M8.125", "M1000000", "M15", "M8,",   "N8",    "M.8",  "Mx"};
    struct wh_thread thread;
    double code;
    for (size_t i = 0; i < sizeof strange / sizeof strange[0]; i++)
        assert_false(wh_thread_find(strange[i], strlen(strange[i]), &thread));
    static const char *const same[] = {"M8x1", "m8X1", "M8×1", "M8,0x1.00", "M8.0x1,0"};
    for (size_t i = 0; i < sizeof same / sizeof same[0]; i++) {
        assert_true(wh_thread_find(same[i], strlen(same[i]), &thread));
        check_close(thread.pitch_diameter, 7.350481e-3, 1e-9, 0);
        check_close(thread.minor_diameter, 6.773131e-3, 1e-9, 0);
        check_close(thread.nut_minor_diameter, 6.917468e-3, 1e-9, 0);
        check_close(thread.stress_area, 39.167e-6, 1e-9, 0);
    }
    assert_false(wh_thread_of_code(-1, &thread) || wh_thread_of_code(1e9, &thread) || wh_thread_of_code(0, &thread));
    assert_false(wh_thread_of_code(800999, &thread));
    assert_true(wh_thread_read("M16x1.5", 7, &code) && wh_thread_of_code(code, &thread) && thread.hole > 0);
    assert_true(wh_thread_read("M60", 3, &code) && wh_thread_of_code(code, &thread) && isnan(thread.hole));
}

static void words_of_threads(void **state)
{
    (void)state;
    double least = 0, most = 0, code;
    char word[16];
    assert_false(wh_thread_friction(-1, &least, &most) || wh_thread_friction(99, &least, &most));
    for (size_t i = 0; wh_thread_state_list(i, word, sizeof word) > 0; i++) {
        assert_true(wh_thread_state_read(word, strlen(word), &code) && wh_thread_friction(code, &least, &most));
        assert_true(least > 0 && least < most);
        assert_int_equal(wh_thread_state_print(code, word, sizeof word), strlen(word));
    }
}

static void bearings(void **state)
{
    (void)state;
    static const char *const strange[] = {"", "6", "62", "6299", "620x", "62a0", "62-05", "6205-XYZ", "NU2", "6205/C9"};
    struct wh_bearing bearing;
    for (size_t i = 0; i < sizeof strange / sizeof strange[0]; i++)
        assert_false(wh_bearing_find(strange[i], strlen(strange[i]), &bearing));
    assert_true(wh_bearing_find("6209-2RS/P63", 12, &bearing));
    assert_int_equal(bearing.sealing, WH_SEALING_SEALS);
    assert_int_equal(bearing.group, WH_CLEARANCE_C3);
    assert_int_equal(bearing.tolerance_class, WH_CLASS_P6);
    assert_null(wh_bearing_series(WH_BEARING_SERIES));
    assert_false(wh_bearing_dimensions(WH_BEARING_SERIES, 0, &bearing));
    assert_false(wh_bearing_dimensions(0, WH_BEARING_BORES, &bearing));
    for (size_t series = 0; series < WH_BEARING_SERIES; series++)
        for (size_t bore = 0; bore < WH_BEARING_BORES; bore++)
            if (wh_bearing_dimensions(series, bore, &bearing)) {
                assert_true(bearing.outside > 1.2 * bearing.bore && bearing.width > 0.05 * bearing.bore);
                assert_true(isnan(bearing.rating) == (bearing.rating_source == NULL));
            }
}

/* Orders of the lines by the inside kept here, as a university bearing data centre prints them on its page of bearings;
 * the dimensions are printed to four digits. */
static void insides(void **state)
{
    static const struct {
        const char *designation;
        double outer, inner;
    } cases[] = {{"6205", 3.5848, 5.4152}, {"6205-2RS", 3.5848, 5.4152}, {"6203", 3.0530, 4.9469}};
    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        const struct wh_bearing_inside *inside = wh_bearing_inside(cases[i].designation);
        assert_non_null(inside);
        double half = inside->elements / 2, ratio = inside->element / inside->pitch;
        check_close(half * (1 - ratio), cases[i].outer, 0, 2e-4);
        check_close(half * (1 + ratio), cases[i].inner, 0, 2e-4);
        assert_non_null(inside->source);
    }
    assert_null(wh_bearing_inside("6204"));
    assert_null(wh_bearing_inside("62050"));
    assert_null(wh_bearing_inside("620"));
    assert_null(wh_bearing_inside(""));
}

/* Every word of every vocabulary means what it is printed as, and nothing else. */
static void vocabularies(void **state)
{
    (void)state;
    char word[64], again[64];
    double code, same;
    for (size_t s = 0; s < wh_subject_count; s++)
        for (size_t v = 0; v < wh_subjects[s]->vocabulary_count; v++) {
            const struct wh_vocabulary *vocabulary = &wh_subjects[s]->vocabularies[v];
            size_t i = 0;
            assert_true(vocabulary->read(vocabulary->example, strlen(vocabulary->example), &code));
            for (; vocabulary->list(i, word, sizeof word) > 0; i++) {
                if (!vocabulary->read(word, strlen(word), &code)) fail_msg("%s: %s", vocabulary->name, word);
                assert_true(vocabulary->print(code, again, sizeof again) > 0);
                assert_true(vocabulary->read(again, strlen(again), &same));
                check_close(same, code, 0, 0);
            }
            assert_true(i > 1);
        }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(outside_iso_286),  cmocka_unit_test(outside_iso_492), cmocka_unit_test(threads),
        cmocka_unit_test(words_of_threads), cmocka_unit_test(bearings),        cmocka_unit_test(insides),
        cmocka_unit_test(vocabularies),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
