/* Every reason of a balance has its words, and says what would be right where something can be done. */
#include "check.h"

#include "view/balance.h"

#include <string.h>

ARENA_TEST(every_reason_speaks)
{
    for (int why = 0; why <= WH_WHY_KNOWN; why++) {
        struct wh_balance_reason reason = {(enum wh_balance_why)why, "this-one", 200, 150};
        const char *right, *says = wh_view_balance_reason(arena, &reason, &right);
        assert_true(strlen(says) > 15 && !strchr(says, '%') == !strstr(says, " %"));
        assert_true(why >= WH_WHY_SMALL_CHANGE || right); /* a refusal always says what to do instead */
        assert_null(strstr(says, "%N"));
    }
    return WH_OK;
}

ARENA_TEST(angles)
{
    assert_string_equal(wh_view_angle(arena, -0.001), "0 deg");
    assert_string_equal(wh_view_angle(arena, -1.5707963), "270 deg");
    assert_string_equal(wh_view_angle(arena, 6.2831), "0 deg");
    assert_string_equal(wh_view_angle(arena, 9.42477796), "180 deg");
    return WH_OK;
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(every_reason_speaks), cmocka_unit_test(angles)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
