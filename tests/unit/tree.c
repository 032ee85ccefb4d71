/* Trees and their JSON. */
#include "base/tree.h"
#include "check.h"

#include <stdio.h>
#include <string.h>

ARENA_TEST(a_tree_prints_as_json)
{
    struct wh_tree *plan = wh_tree_new(arena, WH_TREE_MAP);
    wh_tree_add_text(arena, plan, "machine", "clarifier");
    wh_tree_add_number(arena, plan, "minutes", 412.5);
    wh_tree_add_truth(arena, plan, "proven", true);
    struct wh_tree *steps = wh_tree_add_new(arena, plan, "steps", WH_TREE_LIST);
    wh_tree_add_text(arena, steps, NULL, "lock");
    struct wh_tree *step = wh_tree_add_new(arena, steps, NULL, WH_TREE_MAP);
    wh_tree_add_text(arena, step, "part", "belt");
    wh_tree_add_new(arena, plan, "waits", WH_TREE_LIST);
    wh_tree_add_new(arena, plan, "kit", WH_TREE_MAP);
    assert_string_equal(wh_tree_json(arena, plan), "{\n"
                                                   "  \"machine\": \"clarifier\",\n"
                                                   "  \"minutes\": 412.5,\n"
                                                   "  \"proven\": true,\n"
                                                   "  \"steps\": [\n"
                                                   "    \"lock\",\n"
                                                   "    {\n"
                                                   "      \"part\": \"belt\"\n"
                                                   "    }\n"
                                                   "  ],\n"
                                                   "  \"waits\": [],\n"
                                                   "  \"kit\": {}\n"
                                                   "}\n");
    return WH_OK;
}

ARENA_TEST(strings_are_escaped)
{
    struct wh_tree *list = wh_tree_new(arena, WH_TREE_LIST);
    wh_tree_add_text(arena, list, NULL, "say \"30 µm\"\\ \n\t\x01");
    assert_string_equal(wh_tree_json(arena, list), "[\n  \"say \\\"30 µm\\\"\\\\ \\n\\u0009\\u0001\"\n]\n");
    return WH_OK;
}

ARENA_TEST(numbers_read_back_as_themselves)
{
    static const double numbers[] = {0, 1, -2.5, 0.1, 1.0 / 3, 30.006e-3, 1e300, 4.9e-324, 314.15926535897933, 1e22};
    for (size_t i = 0; i < sizeof numbers / sizeof *numbers; i++) {
        struct wh_tree *list = wh_tree_new(arena, WH_TREE_LIST);
        const char *text = wh_tree_add_number(arena, list, NULL, numbers[i])->text;
        double back;
        assert_int_equal(sscanf(text, "%lf", &back), 1);
        assert_memory_equal(&back, &numbers[i], sizeof back);
    }
    struct wh_tree *list = wh_tree_new(arena, WH_TREE_LIST);
    assert_string_equal(wh_tree_add_number(arena, list, NULL, 0.1)->text, "0.1");
    assert_string_equal(wh_tree_add_number(arena, list, NULL, NAN)->text, "null");
    assert_string_equal(wh_tree_add_number(arena, list, NULL, -INFINITY)->text, "null");
    return WH_OK;
}

ARENA_TEST(nodes_are_found_by_name)
{
    struct wh_tree *map = wh_tree_new(arena, WH_TREE_MAP);
    wh_tree_add_text(arena, map, "bore", "30 mm");
    wh_tree_add_new(arena, map, "seat", WH_TREE_MAP);
    assert_string_equal(wh_tree_text(map, "bore", "?"), "30 mm");
    assert_string_equal(wh_tree_text(map, "boer", "?"), "?");
    assert_string_equal(wh_tree_text(map, "seat", "?"), "?");
    assert_string_equal(wh_tree_text(NULL, "bore", "?"), "?");
    assert_null(wh_tree_get(NULL, "bore"));
    assert_int_equal(map->count, 2);
    return WH_OK;
}

static struct wh_tree *read_text(struct wh_arena *arena, const char *text, const char **ret_says)
{
    struct wh_errors errors = wh_errors_in(arena);
    struct wh_tree *tree = NULL;
    enum wh_status status = wh_tree_read(arena, "body", text, strlen(text), &tree, &errors);
    assert_int_equal(status == WH_OK, tree != NULL);
    *ret_says = wh_errors_text(arena, &errors);
    return tree;
}

ARENA_TEST(json_is_read_back_as_it_was)
{
    static const char *const lines[] = {
        "{}", "{\"a\":[]}", "{\"a\":\"x\",\"b\":-1.5e-06,\"c\":true,\"d\":null,\"e\":[1,[2,{\"f\":false}]]}",
        "{\"say\":\"30 \\\"µm\\\"\\\\ \\n\\u0009\\u0001\"}"};
    const char *says;
    for (size_t i = 0; i < sizeof lines / sizeof *lines; i++) {
        struct wh_tree *tree = read_text(arena, lines[i], &says);
        assert_non_null(tree);
        assert_string_equal(wh_tree_line(arena, tree), lines[i]);
        assert_true(wh_tree_same(tree, read_text(arena, wh_tree_json(arena, tree), &says)));
    }
    struct wh_tree *tree = read_text(arena, " { \"a\" : \"\\u00b5\\ud83d\\ude00\\/\" , \"n\" : 2.5 } \n", &says);
    assert_string_equal(wh_tree_text(tree, "a", ""), "µ\xf0\x9f\x98\x80/");
    check_close(wh_tree_number(tree, "n", 0), 2.5, 0, 0);
    check_close(wh_tree_number(tree, "none", -1), -1, 0, 0);
    assert_false(wh_tree_same(tree, read_text(arena, "{\"a\":\"µ\",\"n\":2.5}", &says)));
    return WH_OK;
}

ARENA_TEST(what_is_no_json_is_told_with_its_place)
{
    static const char *const wrong[] = {
        "", "[]", "{", "{\"a\"}", "{\"a\":}", "{\"a\":1,}", "{\"a\":1 \"b\":2}", "{\"a\":tru}", "{\"a\":NaN}",
        "{\"a\":\"x}", "{\"a\":\"\\q\"}", "{\"a\":\"\\ud800\"}", "{\"a\":\"\\u0000\"}", "{\"a\":\"\xff\"}",
        "{\"a\":1}x", "{\"a\":1,\"a\":2}", "{\"a\":[1}", "{a:1}", "{\"a\":\"\n\"}"};
    const char *says;
    for (size_t i = 0; i < sizeof wrong / sizeof *wrong; i++) {
        assert_null(read_text(arena, wrong[i], &says));
        assert_non_null(strstr(says, "body:1:"));
    }
    assert_null(read_text(arena, "{\n  \"a\": 1,\n  \"b\": what\n}", &says));
    assert_non_null(strstr(says, "body:3:8:"));
    char deep[200] = "{\"a\":";
    memset(deep + 5, '[', 100);
    assert_null(read_text(arena, deep, &says));
    assert_non_null(strstr(says, "levels"));
    return WH_OK;
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_tree_prints_as_json),
        cmocka_unit_test(strings_are_escaped),
        cmocka_unit_test(json_is_read_back_as_it_was),
        cmocka_unit_test(what_is_no_json_is_told_with_its_place),
        cmocka_unit_test(numbers_read_back_as_themselves),
        cmocka_unit_test(nodes_are_found_by_name),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
