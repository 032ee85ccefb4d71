/* What browsers send: both encodings of forms, and the pieces of an address. */
#include "check.h"

#include "web/pages.h"

#include <string.h>

static bool read_line(struct wh_arena *arena, const char *text, struct wh_form_sent *form)
{
    return wh_form_read_line(arena, text, strlen(text), form);
}

ARENA_TEST(a_line_is_read)
{
    struct wh_form_sent form;
    assert_true(read_line(arena, "who=A.+Fitter&reading=+30.006%20mm+&note=%C2%B0%0D%0Anext&bare&&x=", &form));
    assert_int_equal(form.count, 5);
    assert_string_equal(wh_form_text(&form, "who", ""), "A. Fitter");
    assert_string_equal(wh_form_text(&form, "reading", ""), "30.006 mm");
    assert_string_equal(wh_form_text(&form, "note", ""), "\xc2\xb0\nnext");
    assert_string_equal(wh_form_text(&form, "bare", "-"), "");
    assert_string_equal(wh_form_text(&form, "absent", "-"), "-");
    return WH_OK;
}

ARENA_TEST(a_wrong_line_is_refused)
{
    static const char *const wrong[] = {"a=%", "a=%4", "a=%zz", "a=%ff", "a=%00", "%01=a", "a=%1b"};
    struct wh_form_sent form;
    for (size_t i = 0; i < sizeof wrong / sizeof *wrong; i++) assert_false(read_line(arena, wrong[i], &form));
    struct wh_text many = {.arena = arena}, longer = {.arena = arena};
    for (int i = 0; i <= WH_FORM_FIELDS; i++) wh_text_add(&many, "a=1&");
    for (int i = 0; i <= WH_FORM_TEXT; i++) wh_text_add(&longer, "a");
    assert_false(read_line(arena, wh_text_of(&many), &form));
    assert_false(read_line(arena, wh_text_of(&longer), &form));
    return WH_OK;
}

static const char type[] = "multipart/form-data; boundary=mark";

static bool read_parts(struct wh_arena *arena, const char *of, const char *body, struct wh_form_sent *form)
{
    return wh_form_read_parts(arena, of, body, strlen(body), form);
}

ARENA_TEST(parts_are_read)
{
    static const char body[] = "--mark\r\nContent-Disposition: form-data; name=\"who\"\r\n\r\n A. Fitter \r\n--mark\r\n"
                               "Content-Disposition: form-data; name=\"photo\"; filename=\"seat.png\"\r\n"
                               "Content-Type: image/png\r\n\r\nab\r\n--marc\r\n--mark\r\n"
                               "Content-Disposition: form-data; name=\"none\"; filename=\"\"\r\n\r\n\r\n--mark--\r\n";
    struct wh_form_sent form;
    assert_true(read_parts(arena, type, body, &form));
    assert_string_equal(wh_form_text(&form, "who", ""), "A. Fitter");
    const struct wh_field *photo = wh_form_file(&form, "photo");
    assert_non_null(photo);
    assert_int_equal(photo->size, strlen("ab\r\n--marc"));
    assert_null(wh_form_file(&form, "none"));
    assert_null(wh_form_file(&form, "who"));
    assert_string_equal(wh_form_text(&form, "photo", "-"), "-");
    return WH_OK;
}

ARENA_TEST(wrong_parts_are_refused)
{
    static const char *const wrong[] = {"",
                                        "--mark",
                                        "--mark\r\n",
                                        "--mark\r\nno head\r\n--mark--",
                                        "--mark\r\n\r\n\r\nno name\r\n--mark--",
                                        "--mark\r\nContent-Disposition: form-data; name=\"a\"\r\n\r\nendless",
                                        "--mark\r\nContent-Disposition: form-data; name=\"a\"\r\n\r\n\x01\r\n--mark--"};
    struct wh_form_sent form;
    for (size_t i = 0; i < sizeof wrong / sizeof *wrong; i++) assert_false(read_parts(arena, type, wrong[i], &form));
    assert_false(read_parts(arena, "multipart/form-data", "--mark--", &form));
    assert_false(read_parts(arena, "multipart/form-data; boundary=", "----", &form));
    return WH_OK;
}

ARENA_TEST(an_address_finds_its_page)
{
    const char *held[WH_HELD];
    bool known;
    const struct wh_route *route = wh_route_find(arena, "GET", "/machines/a%20b/parts/neck-bearing", held, &known);
    assert_non_null(route);
    assert_string_equal(held[0], "a b");
    assert_string_equal(held[1], "neck-bearing");
    assert_null(wh_route_find(arena, "DELETE", "/machines/a", held, &known));
    assert_true(known);
    static const char *const nowhere[] = {"",   "machines",    "/machines/",    "/machines//parts/x", "/machines/a/b",
                                          "//", "/machines/%", "/machines/%00", "/static/../x"};
    for (size_t i = 0; i < sizeof nowhere / sizeof *nowhere; i++) {
        assert_null(wh_route_find(arena, "GET", nowhere[i], held, &known));
        assert_false(known);
    }
    return WH_OK;
}

ARENA_TEST(a_text_stands_in_an_address)
{
    assert_string_equal(wh_address_text(arena, "a b/c?\xc2\xb0"), "a%20b%2Fc%3F%C2%B0");
    return WH_OK;
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_line_is_read),
        cmocka_unit_test(a_wrong_line_is_refused),
        cmocka_unit_test(parts_are_read),
        cmocka_unit_test(wrong_parts_are_refused),
        cmocka_unit_test(an_address_finds_its_page),
        cmocka_unit_test(a_text_stands_in_an_address),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
