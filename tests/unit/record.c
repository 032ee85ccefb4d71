/* Records: WAV and CSV in their good forms, and what is wrong with bad ones, named with its place. */
#include "record_file.h"
#include "testrun/record.h"

#include <stdio.h>

/* Opens and reads a record to its end into x (channels one after the other, `room` each); the errors as text, or "". */
static const char *read_all(struct wh_arena *arena, const char *path, struct wh_record_ask ask,
                            struct wh_run_record **ret, double *x, size_t room)
{
    struct wh_errors errors = wh_errors_in(arena);
    size_t done = 0, got = 1;
    double *to[WH_RECORD_CHANNELS];
    enum wh_status status = wh_record_open(arena, path, &ask, ret, &errors);
    while (status == WH_OK && got) {
        for (size_t c = 0; c < (*ret)->channels; c++) to[c] = x + c * room + done;
        status = wh_record_read(*ret, room - done, to, &got, &errors);
        done += got;
        if (done == room) break;
    }
    wh_file_remove(path);
    return wh_errors_text(arena, &errors);
}

static const char *read_text(struct wh_arena *arena, const char *text, struct wh_record_ask ask,
                             struct wh_run_record **ret, double *x, size_t room)
{
    return read_all(arena, file_of(arena, "x.csv", text, strlen(text)), ask, ret, x, room);
}

static void check_refused(struct wh_arena *arena, const char *text, struct wh_record_ask ask, const char *words)
{
    struct wh_run_record *record;
    double x[256];
    const char *errors = read_text(arena, text, ask, &record, x, 64);
    if (!strstr(errors, words)) print_error("\"%s\" is not in: %s\n", words, errors);
    assert_non_null(strstr(errors, words));
}

static void check_doubted(const struct wh_run_record *record, const char *words)
{
    for (size_t d = 0; d < record->doubts.count; d++)
        if (strstr(record->doubts.at[d], words)) return;
    print_error("no doubt says \"%s\"\n", words);
    fail();
}

ARENA_TEST(wav_of_whole_numbers_takes_its_full_scale)
{
    uint8_t bytes[WAV_HEAD + 8];
    struct wh_run_record *record;
    double x[8];
    wav_head(bytes, 1, 16, 2, 51200, 8);
    put(bytes + WAV_HEAD, 0x4000, 2);     /* a half */
    put(bytes + WAV_HEAD + 2, 0xe000, 2); /* minus a quarter */
    put(bytes + WAV_HEAD + 4, 0x8000, 2); /* minus one */
    put(bytes + WAV_HEAD + 6, 0, 2);
    const char *path = file_of(arena, "whole.wav", bytes, sizeof bytes);
    struct wh_record_ask ask = {.full_scale = "50 m/s2, 10 V",
                                .sensitivity = "100 mV/g",
                                .channels = "neck-bearing across, foot-bearing along"};
    assert_string_equal(read_all(arena, path, ask, &record, x, 4), "");
    assert_string_equal(record->form, "WAV");
    assert_int_equal(record->channels, 2);
    assert_int_equal(record->frames, 2);
    check_close(record->rate, 51200, 0, 0);
    check_close(x[0], 25, 0, 1e-15);
    check_close(x[1], -50, 0, 1e-15);
    check_close(x[4], -0.25 * 10 / 0.1 * 9.80665, 0, 1e-15);
    assert_string_equal(record->channel[0].place, "neck-bearing");
    assert_string_equal(record->channel[1].direction, "along");
    assert_int_equal(record->channel[1].of, WH_ACCELERATION);
    return WH_OK;
}

ARENA_TEST(wav_of_floating_numbers_is_in_its_unit)
{
    float samples[] = {1.5f, -2, 0.25f};
    struct wh_run_record *record;
    double x[4];
    struct wh_record_ask ask = {.unit = "g"};
    assert_string_equal(read_all(arena, wav_of(arena, "f.wav", 1, 12000, samples, 3), ask, &record, x, 4), "");
    check_close(x[1], -2 * 9.80665, 0, 1e-15);
    assert_int_equal(record->doubts.count, 0);
    assert_string_equal(
        read_all(arena, wav_of(arena, "f.wav", 1, 12000, samples, 3), (struct wh_record_ask){0}, &record, x, 4), "");
    check_doubted(record, "no unit is given");
    assert_int_equal(record->channel[0].of, WH_NOT_STATED);
    return WH_OK;
}

ARENA_TEST(wav_that_is_broken_is_told)
{
    float samples[64] = {0, 1};
    struct wh_run_record *record;
    double x[64];
    samples[40] = NAN;
    const char *path = wav_of(arena, "nan.wav", 1, 1000, samples, 64);
    assert_non_null(strstr(read_all(arena, path, (struct wh_record_ask){0}, &record, x, 64),
                           "channel 1: sample 41, at 0.04 s, is not a number"));
    uint8_t bytes[WAV_HEAD + 20];
    wav_head(bytes, 1, 16, 1, 8000, 4000);
    memset(bytes + WAV_HEAD, 1, 20);
    assert_string_equal(
        read_all(arena, file_of(arena, "cut.wav", bytes, sizeof bytes), (struct wh_record_ask){0}, &record, x, 64), "");
    check_doubted(record, "cut short");
    assert_non_null(
        strstr(read_all(arena, file_of(arena, "head.wav", bytes, 30), (struct wh_record_ask){0}, &record, x, 64),
               "is no sound WAV file"));
    return WH_OK;
}

ARENA_TEST(csv_with_a_comment_for_its_rate)
{
    struct wh_run_record *record;
    double x[8];
    assert_string_equal(read_text(arena, "# sample_rate_hz=20000\nacc,tacho\n-0.5,1e-3\n0.25,2\n",
                                  (struct wh_record_ask){0}, &record, x, 4),
                        "");
    check_close(record->rate, 20000, 0, 0);
    check_close(x[0], -0.5, 0, 0);
    check_close(x[4], 1e-3, 0, 1e-15);
    assert_string_equal(record->channel[0].name, "acc");
    assert_int_equal(record->channel[1].of, WH_TACHO);
    check_doubted(record, "acc: no unit is given");
    return WH_OK;
}

ARENA_TEST(csv_with_decimal_commas_and_a_time)
{
    struct wh_run_record *record;
    double x[16];
    assert_string_equal(read_text(arena,
                                  "Time (ms);neck bearing across (mm/s);foot along [g]\r\n"
                                  "0,0;1,5;-2\r\n0,5;2,5;0\r\n1,0;-1,25;1\r\n\r\n1,5;3;0,5\r\n",
                                  (struct wh_record_ask){0}, &record, x, 8),
                        "");
    check_close(record->rate, 2000, 0, 1e-12);
    check_close(x[0], 1.5e-3, 0, 1e-15);
    check_close(x[3], 3e-3, 0, 1e-15);
    check_close(x[8], -2 * 9.80665, 0, 1e-15);
    assert_string_equal(record->channel[0].place, "neck bearing");
    assert_int_equal(record->channel[0].of, WH_VELOCITY);
    assert_int_equal(record->doubts.count, 0);
    return WH_OK;
}

ARENA_TEST(csv_of_bare_numbers)
{
    struct wh_run_record *record;
    double x[8];
    struct wh_record_ask ask = {.rate = "1 kHz", .unit = "m/s2"};
    assert_string_equal(read_text(arena, "1 2\n3\t4\n", ask, &record, x, 4), "");
    check_close(x[1], 3, 0, 0);
    check_close(x[5], 4, 0, 0);
    assert_string_equal(read_text(arena, "a\n-0,5\n0,25", ask, &record, x, 4), "");
    check_close(x[0], -0.5, 0, 0);
    check_close(x[1], 0.25, 0, 0);
    return WH_OK;
}

ARENA_TEST(csv_that_is_wrong_is_told_with_its_line)
{
    struct wh_record_ask none = {0}, rate = {.rate = "1 kHz"};
    check_refused(arena, "", none, "the file is empty");
    check_refused(arena, "a,b\n1,2\n", none, "nothing says at what rate it was taken");
    check_refused(arena, "a,b\n1,2\n", (struct wh_record_ask){.rate = "1 kg"}, "rate: ");
    check_refused(arena, "a,b\n1,2\n3\n", rate, "x.csv:3:1: 1 field, the record has 2");
    check_refused(arena, "a,b\n1,5,2,5\n", rate, "decimal commas want a semicolon");
    check_refused(arena, "a,b\n1,2\n3,nan\n", rate, "x.csv:3:1: column 2: \"nan\" is not a number");
    check_refused(arena, "a,b\n1,2\n3,\n", rate, "x.csv:3:1: column 2: \"\" is not a number");
    check_refused(arena, "t,a\n0,1\n0.001,2\n0.002,1\n0.007,1\n0.008,1\n", none, "x.csv:5:1: a gap: 0.005 s after");
    check_refused(arena, "t,a\n0,1\n0.001,2\n0.002,1\n0.001,1\n0.004,1\n", none, "x.csv:5:1: the time goes back");
    check_refused(arena, "t,a\n0,1\n0,2\n", none, "the time does not rise");
    check_refused(arena, "t [kg],a\n0,1\n", none, "time in \"kg\"");
    check_refused(arena, "a [kg]\n0\n", rate, "unit of a: \"kg\" is none");
    check_refused(arena, "a\n0\n", (struct wh_record_ask){.rate = "1 kHz", .unit = "m/s2, g"}, "unit: 2 given");
    check_refused(arena, "a\n0\n", (struct wh_record_ask){.rate = "1 kHz", .sensitivity = "100 mV"},
                  "sensitivity of a");
    check_refused(arena, "a\n0\n", (struct wh_record_ask){.rate = "1 Hz"}, "samples a second");
    check_refused(arena, "\x01\xff\xfe\n", rate, "this is no text");
    char *endless = WH_NEW(arena, 70000, char);
    memset(endless, '1', 69999);
    check_refused(arena, endless, rate, "a line of more than 65536 bytes");
    return WH_OK;
}

/* Times written with too few digits for their step are no gaps. */
ARENA_TEST(csv_with_coarse_times)
{
    struct wh_text text = {.arena = arena};
    struct wh_run_record *record;
    double x[512];
    wh_text_add(&text, "time;a [m/s2]\n");
    for (int i = 0; i < 500; i++) wh_text_print(&text, "%.3f;%d\n", i / 3000.0, i % 7);
    assert_string_equal(read_text(arena, text.at, (struct wh_record_ask){0}, &record, x, 512), "");
    check_close(record->rate, 3000, 0, 0.01);
    assert_int_equal(record->done, 500);
    return WH_OK;
}

ARENA_TEST(a_file_that_is_not_there)
{
    struct wh_errors errors = wh_errors_in(arena);
    struct wh_run_record *record;
    assert_int_equal(wh_record_open(arena, "/nowhere/x.wav", &(struct wh_record_ask){0}, &record, &errors),
                     WH_ERR_FILE);
    assert_int_equal(wh_record_open(arena, "/tmp", &(struct wh_record_ask){0}, &record, &errors), WH_ERR_FILE);
    return WH_OK;
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(wav_of_whole_numbers_takes_its_full_scale),
        cmocka_unit_test(wav_of_floating_numbers_is_in_its_unit),
        cmocka_unit_test(wav_that_is_broken_is_told),
        cmocka_unit_test(csv_with_a_comment_for_its_rate),
        cmocka_unit_test(csv_with_decimal_commas_and_a_time),
        cmocka_unit_test(csv_of_bare_numbers),
        cmocka_unit_test(csv_that_is_wrong_is_told_with_its_line),
        cmocka_unit_test(csv_with_coarse_times),
        cmocka_unit_test(a_file_that_is_not_there),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
