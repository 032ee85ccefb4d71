/* Statuses and what a person reads: place, line, caret, what would be right. */
#include "base/error.h"
#include "base/text.h"
#include "check.h"

#include <string.h>

static void each_status_has_its_own_exit_and_words(void **state)
{
    (void)state;
    static const enum wh_status all[] = {
#define STATUS(name, code, words) WH_##name,
        WH_STATUS_LIST(STATUS)
#undef STATUS
    };
    size_t n = sizeof all / sizeof *all;
    assert_int_equal(wh_status_exit(WH_OK), 0);
    assert_int_equal(wh_status_exit(WH_ERR_INPUT), 2);
    for (size_t i = 0; i < n; i++) {
        assert_true(strlen(wh_status_words(all[i])) > 0);
        for (size_t j = 0; j < i; j++) {
            assert_int_not_equal(wh_status_exit(all[i]), wh_status_exit(all[j]));
            assert_string_not_equal(wh_status_words(all[i]), wh_status_words(all[j]));
        }
    }
}

ARENA_TEST(errors_are_kept_in_order)
{
    struct wh_errors errors = wh_errors_in(arena);
    assert_int_equal(wh_errors_status(&errors), WH_OK);
    assert_string_equal(wh_errors_text(arena, &errors), "");
    struct wh_place place = {"fan.yaml", 3, 5};
    assert_int_equal(wh_errors_add(&errors, WH_ERR_INPUT, place, NULL, "one %d", 1), WH_ERR_INPUT);
    assert_int_equal(wh_errors_add(&errors, WH_ERR_FILE, (struct wh_place){0}, NULL, "two"), WH_ERR_FILE);
    assert_int_equal(errors.count, 2);
    assert_int_equal(wh_errors_status(&errors), WH_ERR_INPUT);
    assert_string_equal(wh_errors_text(arena, &errors), "fan.yaml:3:5: one 1\nwharve: two\n");
    return WH_OK;
}

static const char *with_caret(struct wh_arena *arena, const char *line, int column)
{
    struct wh_errors errors = wh_errors_in(arena);
    wh_errors_add(&errors, WH_ERR_INPUT, (struct wh_place){"fan.yaml", 7, column}, "did you mean \"bore\"?", "no key");
    wh_errors_show(&errors, "fan.yaml", wh_arena_print(arena, "1\n2\n3\n4\n5\n6\n%s\n8\n", line));
    return wh_errors_text(arena, &errors);
}

ARENA_TEST(the_caret_stands_under_the_column)
{
    assert_string_equal(with_caret(arena, "    boer: 30 mm", 5),
                        "fan.yaml:7:5: no key\n  |     boer: 30 mm\n  |     ^\n  did you mean \"bore\"?\n");
    assert_string_equal(with_caret(arena, "a: 3 µm x", 9), /* a character is one column, however many bytes */
                        "fan.yaml:7:9: no key\n  | a: 3 µm x\n  |         ^\n  did you mean \"bore\"?\n");
    assert_string_equal(with_caret(arena, "\tb: 1", 2), "fan.yaml:7:2: no key\n  | \tb: 1\n  | \t^\n"
                                                        "  did you mean \"bore\"?\n");
    assert_non_null(strstr(with_caret(arena, "ab", 99), "  |   ^\n"));
    return WH_OK;
}

ARENA_TEST(a_file_as_a_whole_has_no_line)
{
    struct wh_errors errors = wh_errors_in(arena);
    wh_errors_add(&errors, WH_ERR_FILE, (struct wh_place){.file = "fan.yaml"}, "give its path", "cannot be read");
    assert_string_equal(wh_errors_text(arena, &errors), "fan.yaml: cannot be read\n  give its path\n");
    return WH_OK;
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_status_has_its_own_exit_and_words),
        cmocka_unit_test(errors_are_kept_in_order),
        cmocka_unit_test(the_caret_stands_under_the_column),
        cmocka_unit_test(a_file_as_a_whole_has_no_line),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
