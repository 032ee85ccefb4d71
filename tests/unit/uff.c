/* Universal files, data set 58: in letters, in bytes of either order, several channels; and broken ones. The files are
 * laid out by the record formats of the set, (2(I5,I10),2(1X,10A1,I10,I4)), (3I10,3E13.5), (I10,3I5,2(1X,20A1)). */
#include "record_file.h"
#include "testrun/record.h"

struct set {
    const char *first, *unit;
    int type, count, even, function, abscissa, node, axis, ordinate;
    double step;
};

static struct set usual(void)
{
    return (struct set){"bearing bracket", "m/s^2", 4, 4, 1, 1, 17, 3, 3, 12, 1e-3};
}

static void add_head(struct wh_text *text, const struct set *s)
{
    wh_text_print(text, "%s\nNONE\n01-JAN-26 08:00:00\nNONE\nNONE\n", s->first);
    wh_text_print(text, "%5d%10d%5d%10d %-10s%10d%4d %-10s%10d%4d\n", s->function, 0, 0, 0, "NONE", s->node, s->axis,
                  "NONE", 0, 0);
    wh_text_print(text, "%10d%10d%10d%13.5e%13.5e%13.5e\n", s->type, s->count, s->even, 0.0, s->step, 0.0);
    wh_text_print(text, "%10d%5d%5d%5d %-20s %-20s\n", s->abscissa, 0, 0, 0, "Time", "s");
    wh_text_print(text, "%10d%5d%5d%5d %-20s %-20s\n", s->ordinate, 0, 0, 0, "NONE", s->unit);
    for (int i = 0; i < 2; i++) wh_text_print(text, "%10d%5d%5d%5d %-20s %-20s\n", 0, 0, 0, 0, "NONE", "NONE");
}

static void add_letters(struct wh_text *text, const struct set *s, const char *values)
{
    wh_text_add(text, "    -1\n    58\n");
    add_head(text, s);
    wh_text_print(text, "%s    -1\n", values);
}

static const char *read_bytes(struct wh_arena *arena, const char *bytes, size_t size, struct wh_run_record **ret,
                              double *x, size_t room)
{
    struct wh_errors errors = wh_errors_in(arena);
    const char *path = file_of(arena, "x.uff", bytes, size);
    size_t got = 1, done = 0;
    double *to[WH_RECORD_CHANNELS];
    enum wh_status status = wh_record_open(arena, path, &(struct wh_record_ask){0}, ret, &errors);
    while (status == WH_OK && got) {
        for (size_t c = 0; c < (*ret)->channels; c++) to[c] = x + c * room + done;
        status = wh_record_read(*ret, 3, to, &got, &errors); /* in pieces that end within a line */
        done += got;
    }
    wh_file_remove(path);
    return wh_errors_text(arena, &errors);
}

ARENA_TEST(double_values_in_letters)
{
    struct wh_text text = {.arena = arena};
    struct set set = usual();
    struct wh_run_record *record;
    double x[8];
    add_letters(&text, &set, "  1.000000000000E+00 -2.500000000000D+00  3.000000000000E-03  0.000000000000E+00\n");
    assert_string_equal(read_bytes(arena, text.at, text.count, &record, x, 8), "");
    assert_string_equal(record->form, "universal file");
    assert_int_equal(record->frames, 4);
    check_close(record->rate, 1000, 0, 1e-12);
    check_close(x[1], -2.5, 0, 0);
    check_close(x[2], 3e-3, 0, 1e-15);
    assert_string_equal(record->channel[0].name, "point 3 +z");
    assert_int_equal(record->channel[0].of, WH_ACCELERATION);
    assert_int_equal(record->doubts.count, 0);
    return WH_OK;
}

/* Single values may touch each other: 13 columns each, six a line. Sets of other numbers and spectra are passed over.
 */
ARENA_TEST(single_values_of_two_channels)
{
    struct wh_text text = {.arena = arena};
    struct set set = usual(), spectrum = usual();
    struct wh_run_record *record;
    double x[16];
    set.type = 2;
    set.count = 7;
    spectrum.function = 2;
    spectrum.abscissa = 18;
    wh_text_add(&text, "    -1\n   164\n         1                  SI         2\n    -1\n");
    add_letters(&text, &set,
                "-1.000000E+00-2.000000E+00 3.000000E+00 4.000000E+00 5.000000E+00 6.000000E+00\n 7.000000E+00\n");
    add_letters(&text, &spectrum, "  1.000000000000E+00\n");
    set.unit = "mm/s";
    set.ordinate = 11;
    set.axis = -1;
    set.count = 8;
    add_letters(&text, &set,
                " 1.000000E+00 2.000000E+00 3.000000E+00 4.000000E+00 5.000000E+00 6.000000E+00\r\n 7.000000E+00 "
                "8.000000E+00\r\n");
    assert_string_equal(read_bytes(arena, text.at, text.count, &record, x, 8), "");
    assert_int_equal(record->channels, 2);
    assert_int_equal(record->done, 7);
    check_close(x[1], -2, 0, 0);
    check_close(x[6], 7, 0, 0);
    check_close(x[8 + 6], 7e-3, 0, 1e-15);
    assert_string_equal(record->channel[1].direction, "-x");
    assert_int_equal(record->doubts.count, 2); /* a spectrum passed over, another length */
    return WH_OK;
}

static void add_binary(struct wh_text *text, const struct set *s, int order, int form, const void *bytes, size_t size)
{
    wh_text_print(text, "    -1\n    58b%6d%6d%12d%12zu%6d%6d%12d%12d\n", order, form, 11, size, 0, 0, 0, 0);
    add_head(text, s);
    wh_text_add_slice(text, bytes, size);
    wh_text_add(text, "\n    -1\n");
}

ARENA_TEST(values_in_bytes_of_either_order)
{
    const double values[] = {1.5, -2, 1e-3, 10}; /* the last holds a byte that might be taken for a newline */
    uint8_t turned[32], single[16];
    struct wh_text text = {.arena = arena};
    struct set set = usual();
    struct wh_run_record *record;
    double x[16];
    for (size_t i = 0; i < 32; i++) turned[i] = ((const uint8_t *)values)[i / 8 * 8 + 7 - i % 8];
    for (size_t i = 0; i < 4; i++) memcpy(single + 4 * i, &(float){(float)values[i]}, 4);
    add_binary(&text, &set, 1, 2, values, sizeof values);
    add_binary(&text, &set, 2, 2, turned, sizeof turned);
    set.type = 2;
    add_binary(&text, &set, 1, 2, single, sizeof single);
    assert_string_equal(read_bytes(arena, text.at, text.count, &record, x, 5), "");
    assert_int_equal(record->channels, 3);
    for (size_t i = 0; i < 4; i++) {
        check_close(x[i], values[i], 0, 0);
        check_close(x[5 + i], values[i], 0, 0);
        check_close(x[10 + i], values[i], 0, 1e-7);
    }
    return WH_OK;
}

ARENA_TEST(a_unit_that_is_not_written_is_doubted)
{
    struct wh_text text = {.arena = arena};
    struct set set = usual();
    struct wh_run_record *record;
    double x[8];
    set.unit = "NONE";
    add_letters(&text, &set, "  1.000000000000E+00 -2.500000000000E+00  3.000000000000E-03  0.000000000000E+00\n");
    assert_string_equal(read_bytes(arena, text.at, text.count, &record, x, 8), "");
    assert_int_equal(record->channel[0].of, WH_ACCELERATION);
    assert_non_null(strstr(record->doubts.at[0], "no unit is written, m/s2 is taken"));
    return WH_OK;
}

static void check_letters(struct wh_arena *arena, struct set set, const char *values, const char *words)
{
    struct wh_text text = {.arena = arena};
    struct wh_run_record *record;
    double x[64];
    add_letters(&text, &set, values);
    const char *errors = read_bytes(arena, text.at, text.count, &record, x, 8);
    if (!strstr(errors, words)) print_error("\"%s\" is not in: %s\n", words, errors);
    assert_non_null(strstr(errors, words));
}

ARENA_TEST(broken_sets_are_told_with_their_line)
{
    const char *four = "  1.000000000000E+00 -2.500000000000E+00  3.000000000000E-03  0.000000000000E+00\n";
    struct set set = usual();
    set.type = 5;
    check_letters(arena, set, four, "x.uff:9:1: data set 58: its values are neither single nor double");
    set = usual();
    set.even = 0;
    check_letters(arena, set, four, "uneven steps are not read");
    set = usual();
    set.step = 0;
    check_letters(arena, set, four, "the step of time");
    set = usual();
    set.count = 0;
    check_letters(arena, set, four, "no values");
    set.count = 5;
    check_letters(arena, set, four, "x.uff:15:1: data set 58: it ends before its last value");
    set.count = 999999999;
    check_letters(arena, set, four, "999999999 values are promised, the file ends before");
    check_letters(arena, usual(), "  1.000000000000E+00 NaN                 0                   0\n",
                  "x.uff:14:1: data set 58: \" NaN                \" is not a number");
    set = usual();
    set.function = 4;
    check_letters(arena, set, four, "a universal file without a record of time");
    set = usual();
    set.unit = "bananas";
    check_letters(arena, set, four, "unit of point 3 +z: \"bananas\" is none");
    return WH_OK;
}

ARENA_TEST(broken_bytes_are_told)
{
    const struct {
        int order, form, count;
        const char *words;
    } list[] = {
        {1, 1, 4, "not in the form of IEEE 754"}, {3, 2, 4, "neither 1 nor 2"}, {1, 2, 5, "5 values are promised"}};
    double values[4] = {1, 2, 3, 4}, x[8];
    struct set set = usual();
    struct wh_run_record *record;
    for (size_t i = 0; i < 3; i++) {
        struct wh_text text = {.arena = arena};
        set.count = list[i].count;
        add_binary(&text, &set, list[i].order, list[i].form, values, sizeof values);
        assert_non_null(strstr(read_bytes(arena, text.at, text.count, &record, x, 8), list[i].words));
    }
    struct wh_text text = {.arena = arena};
    set.count = 4;
    add_binary(&text, &set, 1, 2, values, sizeof values);
    assert_non_null(strstr(read_bytes(arena, text.at, text.count - 20, &record, x, 8),
                           "4 values are promised, there are bytes for"));
    assert_non_null(strstr(read_bytes(arena, text.at, 200, &record, x, 8), "fewer than eleven lines"));
    assert_non_null(strstr(read_bytes(arena, "    -1\n    -1\n", 14, &record, x, 8), "without a record of time"));
    return WH_OK;
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(double_values_in_letters),
        cmocka_unit_test(single_values_of_two_channels),
        cmocka_unit_test(values_in_bytes_of_either_order),
        cmocka_unit_test(a_unit_that_is_not_written_is_doubted),
        cmocka_unit_test(broken_sets_are_told_with_their_line),
        cmocka_unit_test(broken_bytes_are_told),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
