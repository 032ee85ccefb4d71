/* Inches behind limits and readings: limits never wider than they were, readings as fine as they were read.
 * The inch is 25.4 mm exactly (international yard and pound agreement, 1959). */
#include "base/quantity.h"
#include "check.h"
#include "view/machine.h"

#include <string.h>

static const char *shown(struct wh_arena *arena, const char *key, const char *text)
{
    struct wh_tree *map = wh_tree_new(arena, WH_TREE_MAP);
    wh_tree_add_text(arena, map, key, text);
    wh_view_also_in_inches(arena, map);
    return wh_tree_text(map, key, "");
}

ARENA_TEST(limits_are_rounded_inward)
{
    static const char *const cases[][2] = {{"29.990..30.005 mm", "29.990..30.005 mm (1.180709..1.181299 in)"},
                                           {"at most 0.05 mm", "at most 0.05 mm (at most 0.00196 in)"},
                                           {"at least 254 mm", "at least 254 mm (at least 10 in)"},
                                           {"at most 75 °C", "at most 75 °C (at most 167 °F)"},
                                           {"even, no rub", "even, no rub"},
                                           {"4810..4880 rpm", "4810..4880 rpm"}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++)
        assert_string_equal(shown(arena, "limits", cases[i][0]), cases[i][1]);
    return WH_OK;
}

/* Thousands of limits: what passes in inches passes in millimetres. */
ARENA_TEST(no_limit_grows)
{
    for (int i = 1; i < 4000; i++) {
        const char *text = wh_arena_print(arena, "%.3f..%.3f mm", i * 0.017, i * 0.017 + 0.003 + i % 7);
        const char *open = strchr(shown(arena, "limits", text), '(');
        struct wh_value metric, inch;
        assert_non_null(open);
        const char *inches = wh_arena_slice(arena, open + 1, strlen(open) - 2);
        assert_int_equal(wh_value_read(text, NULL, &metric, NULL), WH_READ_WELL);
        assert_int_equal(wh_value_read(inches, NULL, &inch, NULL), WH_READ_WELL);
        assert_true(inch.least >= metric.least - 1e-15 && inch.most <= metric.most + 1e-15);
        assert_true(inch.most - inch.least > 0.98 * (metric.most - metric.least));
    }
    return WH_OK;
}

ARENA_TEST(readings_stay_as_fine_as_they_were_read)
{
    assert_string_equal(shown(arena, "value", "30.012 mm"), "30.012 mm (1.18157 in)");
    assert_string_equal(shown(arena, "value", "0.5 µm"), "0.5 µm (0.000020 in)");
    assert_string_equal(shown(arena, "value", "about even"), "about even");
    assert_string_equal(shown(arena, "title", "30.012 mm"), "30.012 mm");
    return WH_OK;
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(limits_are_rounded_inward), cmocka_unit_test(no_limit_grows),
                                       cmocka_unit_test(readings_stay_as_fine_as_they_were_read)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
