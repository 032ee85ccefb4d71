/* The desk: one answer for one entry however often and from however many sides it comes; nothing acknowledged is lost,
 * what another program wrote is seen, a failed commit leaves nothing behind. */
#include "desk/desk.h"

#include "base/file.h"
#include "base/text.h"
#include "check.h"

#include <pthread.h>
#include <sqlite3.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static char folder[] = "desk-test-XXXXXX", source[4096];
static int64_t now = 1764100000000;

static int enter_folder(void **state)
{
    (void)state;
    return mkdtemp(folder) && chdir(folder) == 0 ? 0 : -1;
}

static int leave_folder(void **state)
{
    (void)state;
    if (chdir("..") != 0) return -1;
    char command[64];
    snprintf(command, sizeof command, "rm -r %s", folder);
    return system(command);
}

static int64_t clock_of_test(void *context)
{
    (void)context;
    return now;
}

static struct wh_desk *open_desk(struct wh_arena *arena, const char *path, bool threads)
{
    struct wh_errors errors = wh_errors_in(arena);
    struct wh_desk *desk = NULL;
    struct wh_desk_ask ask = {
        .path = path, .threads = threads, .program = "wharve test", .rules = "rules", .clock = clock_of_test};
    enum wh_status status = wh_desk_open(arena, &ask, &desk, &errors);
    if (status != WH_OK) print_error("%s", wh_errors_text(arena, &errors));
    assert_int_equal(status, WH_OK);
    return desk;
}

static int64_t open_job(struct wh_desk *desk, struct wh_arena *arena, const char *key)
{
    struct wh_errors errors = wh_errors_in(arena);
    struct wh_answer answer;
    char *bytes;
    struct wh_opening opening = {.who = "Ada", .key = key, .machine = "small-blower", .renew = "bearing"};
    assert_int_equal(wh_file_read(arena, source, WH_MACHINE_BYTES, &bytes, &opening.size, &errors), WH_OK);
    opening.bytes = bytes;
    enum wh_status status = wh_desk_open_job(desk, arena, &opening, &answer, &errors);
    if (status != WH_OK) print_error("%s", wh_errors_text(arena, &errors));
    assert_int_equal(status, WH_OK);
    return answer.job;
}

static enum wh_status enter(struct wh_desk *desk, struct wh_arena *arena, int64_t job, const char *who, const char *key,
                            const char *kind, const char *fields, struct wh_answer *ret)
{
    struct wh_errors errors = wh_errors_in(arena);
    struct wh_words words = wh_split(arena, fields, '|');
    struct wh_tree *said = NULL;
    assert_int_equal(wh_entry_read(arena, wh_entry_kind(kind), words.at, words.count, &said, &errors), WH_OK);
    struct wh_entry entry = {job, who, key, kind, said, -1};
    enum wh_status status = wh_desk_submit(desk, arena, &entry, true, ret, &errors);
    assert_int_equal(status == WH_OK, errors.count == 0);
    return status;
}

static void take(struct wh_desk *desk, struct wh_arena *arena, int64_t job, const char *kind, const char *fields)
{
    struct wh_answer answer;
    assert_int_equal(enter(desk, arena, job, "Ada", wh_key_new(arena), kind, fields, &answer), WH_OK);
    assert_int_equal(answer.how, WH_TAKEN);
}

struct gist {
    int64_t seq, replan;
    size_t readings, contests, steps;
    const char *value, *state;
};

static enum wh_status copy_gist(struct wh_arena *arena, struct wh_desk_look *look)
{
    struct gist *gist = look->context;
    const struct wh_job_reading *reading = wh_job_read(look->job, "seat-size");
    *gist = (struct gist){look->job->seq,
                          look->job->replan,
                          look->job->readings.count,
                          look->job->contests.count,
                          look->job->steps.count,
                          reading ? wh_arena_text(arena, reading->value) : NULL,
                          wh_job_state_words(wh_job_state(look->job))};
    return WH_OK;
}

static struct gist gist_of(struct wh_desk *desk, struct wh_arena *arena, int64_t job)
{
    struct wh_errors errors = wh_errors_in(arena);
    struct gist gist = {0};
    struct wh_desk_look look = {.context = &gist, .body = copy_gist};
    assert_int_equal(wh_desk_state(desk, arena, job, &look, &errors), WH_OK);
    return gist;
}

static void is_sound(struct wh_desk *desk, struct wh_arena *arena)
{
    struct wh_errors errors = wh_errors_in(arena);
    struct wh_store_count count;
    enum wh_status status = wh_desk_check(desk, arena, &count, &errors);
    if (status != WH_OK) print_error("%s", wh_errors_text(arena, &errors));
    assert_int_equal(status, WH_OK);
}

static void keeps_a_job(struct wh_desk *desk, struct wh_arena *arena)
{
    struct wh_answer first, again;
    int64_t job = open_job(desk, arena, "open-1");
    assert_int_equal(open_job(desk, arena, "open-1"), job);
    assert_int_equal(open_job(desk, arena, "open-2"), job + 1);
    assert_int_equal(enter(desk, arena, job, "Ada", "k1", "reading", "check=seat-size|value=30.0065", &first), WH_OK);
    assert_int_equal(enter(desk, arena, job, "Ada", "k1", "reading", "check=seat-size|value=30.0065", &again), WH_OK);
    assert_int_equal(again.how, WH_TAKEN_BEFORE);
    assert_int_equal(again.seq, first.seq);
    assert_string_equal(again.body, first.body);
    for (int i = 0; i < 2; i++) { /* another reading in an old form: never answered as if it were the first */
        assert_int_equal(enter(desk, arena, job, "Ada", "k1", "reading", "check=seat-size|value=30.0150", &again),
                         WH_OK);
        assert_int_equal(again.how, i ? WH_TAKEN_BEFORE : WH_TAKEN_CONTESTED);
        assert_string_equal(again.kind, "contested");
        assert_int_equal(again.seq, first.seq + 1);
    }
    struct gist gist = gist_of(desk, arena, job);
    assert_int_equal(gist.contests, 1);
    assert_int_equal(gist.readings, 1);
    assert_string_equal(gist.value, "30.0065 mm");
    assert_int_equal(enter(desk, arena, job, "Ada", "k2", "done", "steps=off wheel", &again), WH_ERR_INPUT);
    assert_int_equal(enter(desk, arena, 99, "Ada", "k2", "note", "text=x", &again), WH_ERR_INPUT);
    assert_int_equal(gist_of(desk, arena, job).seq, first.seq + 1);
    now -= 5000;
    assert_int_equal(enter(desk, arena, job, "Ada", "k3", "note", "text=clock", &again), WH_OK);
    assert_non_null(strstr(again.remark, "the clock stands before"));
    assert_int_equal(again.at, now);
    now += 5000;
    is_sound(desk, arena);
}

ARENA_TEST(a_desk_in_memory_keeps_a_job)
{
    keeps_a_job(open_desk(arena, NULL, false), arena);
    return WH_OK;
}

ARENA_TEST(a_desk_without_threads_keeps_a_job)
{
    keeps_a_job(open_desk(arena, "alone.db", false), arena);
    return WH_OK;
}

ARENA_TEST(a_desk_with_threads_keeps_a_job)
{
    keeps_a_job(open_desk(arena, "threads.db", true), arena);
    return WH_OK;
}

ARENA_TEST(what_turns_up_is_planned_anew)
{
    struct wh_desk *desk = open_desk(arena, "anew.db", false);
    int64_t job = open_job(desk, arena, "o");
    size_t steps = gist_of(desk, arena, job).steps;
    take(desk, arena, job, "found", "what=rubs|add=bearing");
    struct gist gist = gist_of(desk, arena, job);
    assert_int_equal(gist.replan, 0);
    assert_int_equal(gist.seq, 3);
    assert_int_equal(gist.steps, steps);
    struct wh_errors errors = wh_errors_in(arena);
    struct wh_records records;
    assert_int_equal(wh_desk_since(desk, arena, job, 2, 10, &records, &errors), WH_OK);
    assert_int_equal(records.count, 1);
    assert_string_equal(records.at[0].kind, "replanned");
    struct wh_desk *threaded = open_desk(arena, "anew.db", true);
    take(threaded, arena, job, "found", "what=again|add=bearing");
    for (int i = 0; i < 100 && gist_of(threaded, arena, job).seq < 5; i++) usleep(20000);
    assert_int_equal(gist_of(threaded, arena, job).seq, 5);
    return WH_OK;
}

/* A part that the machine does not have: refused before anything is stored. */
ARENA_TEST(a_part_that_is_not_there_is_refused)
{
    struct wh_desk *desk = open_desk(arena, "part.db", false);
    int64_t job = open_job(desk, arena, "o");
    struct wh_answer answer;
    assert_int_equal(enter(desk, arena, job, "Ada", "k", "found", "what=worn|add=bearng", &answer), WH_ERR_INPUT);
    assert_int_equal(gist_of(desk, arena, job).seq, 1);
    return WH_OK;
}

ARENA_TEST(two_programs_on_one_store_see_each_other)
{
    struct wh_desk *one = open_desk(arena, "two.db", true), *two = open_desk(arena, "two.db", false);
    int64_t job = open_job(one, arena, "o");
    for (int i = 0; i < 6; i++) {
        take(i % 2 ? one : two, arena, job, "note", "text=x");
        assert_int_equal(gist_of(one, arena, job).seq, i + 2);
        assert_int_equal(gist_of(two, arena, job).seq, i + 2);
    }
    is_sound(one, arena);
    return WH_OK;
}

struct worker {
    struct wh_desk *desk;
    int64_t job;
    int number, taken, before;
};

enum { WORKERS = 12, EACH = 25 };

/* Every entry is sent twice, as after a network that dropped the answer. */
static enum wh_status work(struct wh_arena *arena, void *context)
{
    struct worker *w = context;
    for (int i = 0; i < 2 * EACH; i++) {
        struct wh_errors errors = wh_errors_in(arena);
        struct wh_answer answer;
        struct wh_tree *said = wh_tree_new(arena, WH_TREE_MAP);
        wh_tree_add_text(arena, said, "text", wh_arena_print(arena, "note %d of %d", i / 2, w->number));
        struct wh_entry entry = {
            w->job + w->number % 2, "Ada", wh_arena_print(arena, "%d/%d", w->number, i / 2), "note", said, -1};
        if (wh_desk_submit(w->desk, arena, &entry, false, &answer, &errors) != WH_OK) return WH_ERR_FILE;
        w->taken += answer.how == WH_TAKEN;
        w->before += answer.how == WH_TAKEN_BEFORE;
        struct gist gist;
        struct wh_desk_look look = {.context = &gist, .body = copy_gist};
        if (wh_desk_state(w->desk, arena, w->job, &look, &errors) != WH_OK) return WH_ERR_FILE;
    }
    return WH_OK;
}

static void *run_worker(void *context)
{
    return wh_arena_run(64 << 20, work, context) == WH_OK ? context : NULL;
}

ARENA_TEST(many_hands_at_once_lose_nothing_and_double_nothing)
{
    struct wh_desk *desk = open_desk(arena, "many.db", true);
    int64_t job = open_job(desk, arena, "o");
    open_job(desk, arena, "p");
    struct worker workers[WORKERS];
    pthread_t threads[WORKERS];
    for (int i = 0; i < WORKERS; i++) {
        workers[i] = (struct worker){desk, job, i, 0, 0};
        assert_int_equal(pthread_create(&threads[i], NULL, run_worker, &workers[i]), 0);
    }
    for (int i = 0; i < WORKERS; i++) {
        void *ended;
        pthread_join(threads[i], &ended);
        assert_ptr_equal(ended, &workers[i]);
        assert_int_equal(workers[i].taken, EACH);
        assert_int_equal(workers[i].before, EACH);
    }
    assert_int_equal(gist_of(desk, arena, job).seq + gist_of(desk, arena, job + 1).seq, 2 + WORKERS * EACH);
    is_sound(desk, arena);
    return WH_OK;
}

static void alter(const char *path, const char *statement)
{
    sqlite3 *db;
    assert_int_equal(sqlite3_open(path, &db), SQLITE_OK);
    assert_int_equal(sqlite3_exec(db, statement, NULL, NULL, NULL), SQLITE_OK);
    assert_int_equal(sqlite3_close(db), SQLITE_OK);
}

static enum wh_status make_two_jobs(struct wh_arena *arena, void *path)
{
    struct wh_desk *desk = open_desk(arena, path, false);
    int64_t job = open_job(desk, arena, "o");
    open_job(desk, arena, "p");
    take(desk, arena, job, "note", "text=x");
    return WH_OK;
}

ARENA_TEST(a_job_gone_missing_and_a_file_gone_missing_are_found)
{
    struct wh_errors errors = wh_errors_in(arena);
    struct wh_store_count count;
    assert_int_equal(wh_arena_run(16 << 20, make_two_jobs, "missing.db"), WH_OK);
    alter("missing.db", "DELETE FROM event WHERE job = 2; DELETE FROM head WHERE job = 2");
    assert_int_equal(wh_desk_check(open_desk(arena, "missing.db", false), arena, &count, &errors), WH_ERR_FILE);
    assert_non_null(strstr(wh_errors_text(arena, &errors), "job 2 was opened and is not there"));
    assert_int_equal(wh_arena_run(16 << 20, make_two_jobs, "nofile.db"), WH_OK);
    assert_int_equal(system("rm nofile.db.files/*"), 0);
    struct wh_errors more = wh_errors_in(arena);
    assert_int_equal(wh_desk_check(open_desk(arena, "nofile.db", false), arena, &count, &more), WH_ERR_FILE);
    assert_non_null(strstr(wh_errors_text(arena, &more), "job 1 names the file"));
    return WH_OK;
}

ARENA_TEST(a_damaged_entry_stops_the_job_and_no_other)
{
    struct wh_answer answer;
    assert_int_equal(wh_arena_run(16 << 20, make_two_jobs, "bent.db"), WH_OK);
    alter("bent.db", "UPDATE event SET body = replace(body, '\"x\"', '\"y\"') WHERE job = 1 AND seq = 2");
    struct wh_desk *desk = open_desk(arena, "bent.db", false);
    assert_int_equal(enter(desk, arena, 1, "Ada", "k", "note", "text=more", &answer), WH_ERR_FILE);
    assert_int_equal(enter(desk, arena, 2, "Ada", "k", "note", "text=more", &answer), WH_OK);
    return WH_OK;
}

ARENA_TEST(figures_follow_what_was_read)
{
    struct wh_desk *desk = open_desk(arena, "figures.db", false);
    struct wh_errors errors = wh_errors_in(arena);
    const struct wh_sheet *before, *after;
    int64_t job = open_job(desk, arena, "o");
    assert_int_equal(wh_desk_machine(desk, arena, job, NULL, NULL, &before, &errors), WH_OK);
    take(desk, arena, job, "reading", "check=seat-size|value=30,009");
    assert_int_equal(wh_desk_machine(desk, arena, job, NULL, NULL, &after, &errors), WH_OK);
    struct wh_words changed = wh_sheet_changed(arena, before, after);
    bool warm = false;
    for (size_t i = 0; i < changed.count; i++) warm |= wh_same(changed.at[i], "bearing.mounting-temperature");
    assert_true(warm);
    return WH_OK;
}

struct size {
    struct wh_desk *desk;
    int64_t job;
    double seat; /* in metres */
    const struct wh_sheet *sheet;
};

static enum wh_status read_size(struct wh_arena *arena, void *context)
{
    struct size *size = context;
    struct wh_errors errors = wh_errors_in(arena);
    const struct wh_sheet *sheet;
    enum wh_status status = wh_desk_machine(size->desk, arena, size->job, NULL, NULL, &sheet, &errors);
    if (status == WH_OK) size->seat = sheet->value[wh_sheet_cell(sheet, "bearing-seat.diameter")];
    size->sheet = sheet;
    return status;
}

ARENA_TEST(figures_are_made_once_and_forgotten_for_others)
{
    struct wh_desk *desk = open_desk(arena, "once.db", false);
    struct size size = {desk, open_job(desk, arena, "o"), 0, NULL};
    for (int i = 0; i < 70; i++) { /* more than are kept */
        double micrometres = 30004 + 0.1 * i;
        take(desk, arena, size.job, "reading", wh_arena_print(arena, "check=seat-size|value=%.4f", micrometres / 1000));
        assert_int_equal(wh_arena_run(4 << 20, read_size, &size), WH_OK);
        assert_true(fabs(size.seat * 1e6 - micrometres) < 0.01);
        const struct wh_sheet *first = size.sheet;
        assert_int_equal(wh_arena_run(4 << 20, read_size, &size), WH_OK);
        assert_ptr_equal(size.sheet, first);
    }
    return WH_OK;
}

int main(int argc, char **argv)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_desk_in_memory_keeps_a_job),
        cmocka_unit_test(a_desk_without_threads_keeps_a_job),
        cmocka_unit_test(a_desk_with_threads_keeps_a_job),
        cmocka_unit_test(what_turns_up_is_planned_anew),
        cmocka_unit_test(a_part_that_is_not_there_is_refused),
        cmocka_unit_test(two_programs_on_one_store_see_each_other),
        cmocka_unit_test(many_hands_at_once_lose_nothing_and_double_nothing),
        cmocka_unit_test(a_job_gone_missing_and_a_file_gone_missing_are_found),
        cmocka_unit_test(a_damaged_entry_stops_the_job_and_no_other),
        cmocka_unit_test(figures_follow_what_was_read),
        cmocka_unit_test(figures_are_made_once_and_forgotten_for_others),
    };
    if (argc != 2 || !realpath(argv[1], source)) return 2;
    return cmocka_run_group_tests(tests, enter_folder, leave_folder);
}
