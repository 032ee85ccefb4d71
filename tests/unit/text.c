/* Words and texts: did-you-mean, splitting, width, what counts as text. */
#include "base/text.h"
#include "check.h"

#include <string.h>

static const char *nearest(const char *word)
{
    static const char *const keys[] = {"bearing", "seal", "gasket", "cover", "belt", "renew", "way up", "minutes"};
    return wh_nearest(word, keys, sizeof keys / sizeof *keys);
}

static void a_slip_is_recognised(void **state)
{
    (void)state;
    assert_string_equal(nearest("baering"), "bearing"); /* swapped */
    assert_string_equal(nearest("gaskt"), "gasket");    /* left out */
    assert_string_equal(nearest("coveer"), "cover");    /* doubled */
    assert_string_equal(nearest("minuted"), "minutes"); /* wrong letter */
    assert_string_equal(nearest("wayup"), "way up");
    assert_string_equal(nearest("seal"), "seal");
}

static void the_nearer_word_wins(void **state)
{
    (void)state;
    static const char *const list[] = {"bore", "bored", "born"};
    assert_string_equal(wh_nearest("bored", list, 3), "bored");
    assert_string_equal(wh_nearest("borr", list, 3), "bore");
}

static void a_strange_word_is_near_nothing(void **state)
{
    (void)state;
    char endless[200];
    memset(endless, 'b', sizeof endless - 1);
    endless[sizeof endless - 1] = '\0';
    assert_null(nearest("thermostat"));
    assert_null(nearest("xyz"));
    assert_null(nearest(endless));
    assert_null(wh_nearest("seal", NULL, 0));
}

ARENA_TEST(pieces_are_split_and_trimmed)
{
    struct wh_words words = wh_split(arena, " neck-bearing ,foot bearing,, \t,belt", ',');
    assert_int_equal(words.count, 3);
    assert_string_equal(words.at[0], "neck-bearing");
    assert_string_equal(words.at[1], "foot bearing");
    assert_string_equal(words.at[2], "belt");
    assert_int_equal(wh_split(arena, "", ',').count, 0);
    assert_int_equal(wh_split(arena, " , ", ',').count, 0);
    assert_int_equal(wh_split(arena, "one", ',').count, 1);
    return WH_OK;
}

static void width_counts_characters(void **state)
{
    (void)state;
    assert_int_equal(wh_text_width(""), 0);
    assert_int_equal(wh_text_width("seat"), 4);
    assert_int_equal(wh_text_width("25 µm"), 5);
    assert_int_equal(wh_text_width("−5 °C …"), 7);
}

static bool plain(const char *text)
{
    return wh_text_is_plain(text, strlen(text));
}

static void plain_text_is_utf8_without_control_characters(void **state)
{
    (void)state;
    assert_true(plain(""));
    assert_true(plain("a: 30 mm\n\tb: µ – … 𝛿\r\n"));
    assert_false(wh_text_is_plain("a\0b", 3));
    assert_false(plain("\x1b[31m"));
    assert_false(plain("\x7f"));
    assert_false(plain("caf\xe9"));           /* Latin-1 */
    assert_false(plain("\xc0\xaf"));          /* overlong */
    assert_false(plain("\xed\xa0\x80"));      /* half of a pair */
    assert_false(plain("\xf4\x90\x80\x80"));  /* beyond the last character */
    assert_false(plain("\xff"));
    assert_false(plain("\xff and more than nine bytes after it"));
    assert_false(wh_text_is_plain("\xc2\xb5", 1)); /* cut in two */
}

ARENA_TEST(a_text_grows)
{
    struct wh_text text = {.arena = arena};
    assert_string_equal(wh_text_of(&text), "");
    wh_text_add(&text, "");
    assert_string_equal(wh_text_of(&text), "");
    for (int i = 0; i < 1000; i++) wh_text_print(&text, "%d,", i % 10);
    wh_text_add_slice(&text, "end of it", 3);
    assert_int_equal(text.count, 2003);
    assert_int_equal(strlen(wh_text_of(&text)), 2003);
    assert_memory_equal(wh_text_of(&text) + 1990, "5,6,7,8,9,end", 13);
    return WH_OK;
}

static void same_and_starts(void **state)
{
    (void)state;
    assert_true(wh_same(NULL, NULL));
    assert_false(wh_same("a", NULL));
    assert_false(wh_same(NULL, "a"));
    assert_true(wh_same("belt", "belt"));
    assert_false(wh_same("belt", "belts"));
    assert_true(wh_starts("memory:7", "memory:"));
    assert_true(wh_starts("x", ""));
    assert_false(wh_starts("mem", "memory:"));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_slip_is_recognised),
        cmocka_unit_test(the_nearer_word_wins),
        cmocka_unit_test(a_strange_word_is_near_nothing),
        cmocka_unit_test(pieces_are_split_and_trimmed),
        cmocka_unit_test(width_counts_characters),
        cmocka_unit_test(plain_text_is_utf8_without_control_characters),
        cmocka_unit_test(a_text_grows),
        cmocka_unit_test(same_and_starts),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
