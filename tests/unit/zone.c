/* Levels against limits, and beside those of the last record. */
#include "check.h"
#include "testrun/compare.h"
#include "testrun/zone.h"

#include <string.h>

static enum wh_status choose(struct wh_arena *arena, struct wh_zone_ask ask, struct wh_zone_limits *ret)
{
    struct wh_errors errors = wh_errors_in(arena);
    return wh_zone_choose(arena, &ask, ret, &errors);
}

/* Boundaries of ISO 10816-3:1998 for group 2 on rigid supports, 1.4, 2.8, 4.5 mm/s (B/C and C/D as reprinted in a
 * handbook of fans A/B from memory). */
ARENA_TEST(a_published_table_gives_zones)
{
    struct wh_zone_limits limits;
    assert_int_equal(choose(arena, (struct wh_zone_ask){.table = "group-2-rigid", .power = 30e3}, &limits), WH_OK);
    assert_int_equal(limits.count, 3);
    check_close(limits.at[1], 2.8e-3, 0, 1e-12);
    assert_int_equal(limits.letters[wh_zone_of(&limits, 1.4e-3)], 'A');
    assert_int_equal(limits.letters[wh_zone_of(&limits, 1.5e-3)], 'B');
    assert_int_equal(limits.letters[wh_zone_of(&limits, 9e-3)], 'D');
    assert_null(limits.doubt);
    return WH_OK;
}

ARENA_TEST(a_table_says_where_it_does_not_hold)
{
    struct wh_zone_limits limits;
    assert_int_equal(
        choose(arena, (struct wh_zone_ask){.table = "group-2-flexible", .power = 4e3, .soft = true}, &limits), WH_OK);
    assert_non_null(strstr(limits.doubt, "begins at 15 kW, this motor has 4 kW"));
    assert_non_null(strstr(limits.doubt, "soft mounts"));
    assert_int_equal(choose(arena, (struct wh_zone_ask){.table = "class-1", .power = 4e3}, &limits), WH_OK);
    assert_null(limits.doubt);
    return WH_OK;
}

/* In-situ limits of ISO 14694:2003, table 5, BV-3 rigid: 4.5, 7.1, 9.0 mm/s r.m.s. (as reprinted for fans);
 * BV-1 has no limit to shut down. */
ARENA_TEST(fans_have_limits_of_their_own)
{
    struct wh_zone_limits limits;
    assert_int_equal(choose(arena, (struct wh_zone_ask){.table = "BV-3-rigid", .power = NAN}, &limits), WH_OK);
    check_close(limits.at[2], 9e-3, 0, 1e-12);
    assert_null(limits.letters);
    assert_string_equal(limits.words[wh_zone_of(&limits, 8e-3)], "over the alarm");
    assert_int_equal(choose(arena, (struct wh_zone_ask){.table = "BV-1-rigid", .power = NAN}, &limits), WH_OK);
    assert_int_equal(limits.count, 2);
    return WH_OK;
}

ARENA_TEST(own_limits_come_first)
{
    struct wh_zone_limits limits;
    struct wh_zone_ask ask = {
        .own = {3e-3, 4.5e-3, 7.1e-3}, .own_count = 3, .table = "class-1", .power = 4e3, .soft = true};
    assert_int_equal(choose(arena, ask, &limits), WH_OK);
    assert_string_equal(limits.source, "the machine's own limits");
    assert_string_equal(limits.words[wh_zone_of(&limits, 3e-3)], "within");
    assert_string_equal(limits.words[wh_zone_of(&limits, 8e-3)], "over the limit to stop: stop");
    assert_null(limits.doubt);
    ask.own[1] = 2e-3;
    assert_int_equal(choose(arena, ask, &limits), WH_ERR_INPUT);
    ask = (struct wh_zone_ask){.own = {3e-3}, .own_count = 1};
    assert_int_equal(choose(arena, ask, &limits), WH_OK);
    assert_string_equal(limits.words[wh_zone_of(&limits, 4e-3)], "outside");
    return WH_OK;
}

ARENA_TEST(without_limits_nothing_is_judged)
{
    struct wh_zone_limits limits;
    assert_int_equal(choose(arena, (struct wh_zone_ask){0}, &limits), WH_OK);
    assert_int_equal(limits.count, 0);
    assert_int_equal(choose(arena, (struct wh_zone_ask){.table = "group-0"}, &limits), WH_ERR_INPUT);
    assert_int_equal(choose(arena, (struct wh_zone_ask){.table = ""}, &limits), WH_ERR_INPUT);
    return WH_OK;
}

/* ---- the last record -------------------------------------------------------------------------------------------- */

static struct wh_tree *run_of(struct wh_arena *arena, double velocity, double kurtosis)
{
    struct wh_tree *run = wh_tree_new(arena, WH_TREE_MAP), *list = wh_tree_add_new(arena, run, "figures", WH_TREE_LIST);
    const struct {
        const char *name, *unit;
        double value;
    } figures[] = {{"velocity", "mm/s", velocity}, {"kurtosis", "", kurtosis}};
    for (size_t i = 0; i < 2; i++) {
        struct wh_tree *figure = wh_tree_add_new(arena, list, NULL, WH_TREE_MAP);
        wh_tree_add_text(arena, figure, "name", figures[i].name);
        wh_tree_add_text(arena, figure, "place", "neck");
        wh_tree_add_text(arena, figure, "unit", figures[i].unit);
        wh_tree_add_number(arena, figure, "value", figures[i].value);
    }
    return run;
}

ARENA_TEST(what_changed_is_told)
{
    struct wh_errors errors = wh_errors_in(arena);
    struct wh_compared *compared;
    size_t count;
    const struct wh_tree *before = run_of(arena, 1.0, 3.0);
    assert_int_equal(wh_compare(arena, before, run_of(arena, 1.5, 3.6), 0.7, &compared, &count, &errors), WH_OK);
    assert_int_equal(count, 2);
    assert_false(compared[0].matters); /* by half, but less than a quarter of the limit */
    assert_false(compared[1].matters); /* by a fifth */
    wh_compare(arena, before, run_of(arena, 1.8, 7.5), 0.7, &compared, &count, &errors);
    assert_true(compared[0].matters && compared[1].matters);
    assert_string_equal(compared[0].says, "up by 80 %");
    assert_non_null(strstr(compared[1].says, "2.5 times what it was"));
    struct wh_tree *twice = run_of(arena, 1.0, 3.0), *then = run_of(arena, 1.0, 3.0);
    wh_tree_add(arena, wh_tree_get(twice, "figures"), NULL, wh_tree_copy(arena, run_of(arena, 2.0, 3.0)->first->first));
    wh_tree_add(arena, wh_tree_get(then, "figures"), NULL, wh_tree_copy(arena, run_of(arena, 4.0, 3.0)->first->first));
    wh_compare(arena, then, twice, NAN, &compared, &count, &errors);
    assert_int_equal(count, 3);
    check_close(compared[0].before, 1, 0, 0); /* the second record's like is the second */
    check_close(compared[2].before, 4, 0, 0);
    wh_compare(arena, before, run_of(arena, 0.5, 3.0), NAN, &compared, &count, &errors);
    assert_string_equal(compared[0].says, "down by 50 %");
    return WH_OK;
}

ARENA_TEST(only_like_is_compared_with_like)
{
    struct wh_errors errors = wh_errors_in(arena);
    struct wh_compared *compared;
    size_t count;
    struct wh_tree *before = run_of(arena, 1.0, 3.0), *now = run_of(arena, 1.0, 3.0);
    before->first->first->first->text = "displacement";
    assert_int_equal(wh_compare(arena, before, now, NAN, &compared, &count, &errors), WH_OK);
    assert_int_equal(count, 1);
    assert_int_equal(wh_compare(arena, wh_tree_new(arena, WH_TREE_MAP), now, NAN, &compared, &count, &errors),
                     WH_ERR_INPUT);
    return WH_OK;
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_published_table_gives_zones),    cmocka_unit_test(a_table_says_where_it_does_not_hold),
        cmocka_unit_test(fans_have_limits_of_their_own),    cmocka_unit_test(own_limits_come_first),
        cmocka_unit_test(without_limits_nothing_is_judged), cmocka_unit_test(what_changed_is_told),
        cmocka_unit_test(only_like_is_compared_with_like),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
