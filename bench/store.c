/* Keeping jobs, beside the bare database on the same disk in the same run: the time of an entry, from submit to answer,
 * over that of a bare commit; and how long a job takes to open in a store of many.
 *
 *   store FOLDER MACHINE ENTRIES JOBS READINGS-A-JOB
 *
 * Bare and submitted entries take turns in blocks, so that both meet the same disk; the medians are compared. */
#include "base/file.h"
#include "desk/desk.h"

#include <sqlite3.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

enum { BLOCK = 50 };

static double read_clock(clockid_t which)
{
    struct timespec t;
    clock_gettime(which, &t);
    return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

static double now(void)
{
    return read_clock(CLOCK_MONOTONIC);
}

/* Of this process alone: what others do beside it does not count. */
static double worked(void)
{
    return read_clock(CLOCK_PROCESS_CPUTIME_ID);
}

static int64_t clock_of_bench(void *context)
{
    (void)context;
    return 1764100000000;
}

static int by_size(const void *a, const void *b)
{
    double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

static double at_share(double times[], size_t n, double share)
{
    qsort(times, n, sizeof *times, by_size);
    return times[(size_t)(share * (double)(n - 1))];
}

static void must(enum wh_status status, const struct wh_errors *errors)
{
    if (status == WH_OK) return;
    fputs(wh_errors_text(errors->arena, errors), stderr);
    exit(1);
}

static void run(sqlite3 *db, const char *statement)
{
    if (sqlite3_exec(db, statement, NULL, NULL, NULL) == SQLITE_OK) return;
    fprintf(stderr, "%s: %s\n", statement, sqlite3_errmsg(db));
    exit(1);
}

struct bench {
    const char *folder, *machine;
    size_t entries, jobs, readings;
};

static struct wh_desk *open_desk(struct wh_arena *arena, const char *path, struct wh_errors *errors)
{
    struct wh_desk *desk;
    struct wh_desk_ask ask = {.path = path, .program = "wharve bench", .rules = "bench", .clock = clock_of_bench};
    must(wh_desk_open(arena, &ask, &desk, errors), errors);
    return desk;
}

static int64_t open_job(struct wh_arena *arena, struct wh_desk *desk, const char *machine, struct wh_errors *errors)
{
    struct wh_answer answer;
    char *bytes;
    struct wh_opening opening = {.who = "Ada", .key = wh_key_new(arena), .machine = "small-blower", .renew = "bearing"};
    must(wh_file_read(arena, machine, WH_MACHINE_BYTES, &bytes, &opening.size, errors), errors);
    opening.bytes = bytes;
    must(wh_desk_open_job(desk, arena, &opening, &answer, errors), errors);
    return answer.job;
}

struct reading {
    struct wh_desk *desk;
    int64_t job;
    size_t number;
    struct wh_errors *errors;
};

static enum wh_status submit(struct wh_arena *arena, void *context)
{
    struct reading *r = context;
    struct wh_answer answer;
    struct wh_errors errors = wh_errors_in(arena);
    struct wh_tree *said = wh_tree_new(arena, WH_TREE_MAP);
    wh_tree_add_text(arena, said, "check", "seat-size");
    wh_tree_add_text(arena, wh_tree_add_new(arena, said, "value", WH_TREE_LIST), NULL, "30.0065 mm");
    struct wh_entry entry = {r->job, "Ada", wh_arena_print(arena, "reading %zu", r->number), "reading", said, -1};
    must(wh_desk_submit(r->desk, arena, &entry, false, &answer, &errors), &errors);
    return WH_OK;
}

/* The bare commit: one row of the size of a reading's. */
static double bare(sqlite3 *db, sqlite3_stmt *insert, const char *body)
{
    double start = now();
    run(db, "BEGIN IMMEDIATE");
    sqlite3_bind_text(insert, 1, body, -1, SQLITE_STATIC);
    if (sqlite3_step(insert) != SQLITE_DONE) exit(1);
    sqlite3_reset(insert);
    run(db, "COMMIT");
    return now() - start;
}

static enum wh_status compare(struct wh_arena *arena, void *context)
{
    const struct bench *b = context;
    struct wh_errors errors = wh_errors_in(arena);
    sqlite3 *db;
    sqlite3_stmt *insert;
    if (sqlite3_open(wh_arena_print(arena, "%s/bare.db", b->folder), &db) != SQLITE_OK) return WH_ERR_FILE;
    run(db,
        "PRAGMA journal_mode = WAL; PRAGMA synchronous = FULL; CREATE TABLE event (n INTEGER PRIMARY KEY, body TEXT)");
    if (sqlite3_prepare_v2(db, "INSERT INTO event (body) VALUES (?1)", -1, &insert, NULL) != SQLITE_OK)
        return WH_ERR_FILE;
    struct wh_desk *desk = open_desk(arena, wh_arena_print(arena, "%s/jobs.db", b->folder), &errors);
    struct reading reading = {desk, open_job(arena, desk, b->machine, &errors), 0, &errors};
    double *bares = WH_NEW(arena, b->entries, double), *ours = WH_NEW(arena, b->entries, double);
    double bare_work = 0, our_work = 0;
    char *body = memset(wh_arena_get(arena, 401), 'x', 400);
    for (size_t i = 0; i < b->entries; i++) {
        if (i % (2 * BLOCK) == 0)
            for (size_t k = 0; k < BLOCK; k++) bare(db, insert, body); /* the disk settles, not counted */
        double begun = worked();
        bares[i] = bare(db, insert, body);
        bare_work += worked() - begun;
        reading.number = i;
        begun = worked();
        double start = now();
        if (wh_arena_run(4 << 20, submit, &reading) != WH_OK) return WH_ERR_FILE;
        ours[i] = now() - start;
        our_work += worked() - begun;
    }
    sqlite3_finalize(insert);
    sqlite3_close(db);
    double bare_time = at_share(bares, b->entries, 0.5), our_time = at_share(ours, b->entries, 0.5);
    printf("%zu entries: bare commit %.0f us, submitted %.0f us, %.0f us over it (at most 60): %s\n", b->entries,
           1e6 * bare_time, 1e6 * our_time, 1e6 * (our_time - bare_time),
           our_time - bare_time <= 60e-6 ? "met" : "missed");
    printf("  p99: bare %.0f us, submitted %.0f us; mean work of the processor: bare %.0f us, submitted %.0f us\n",
           1e6 * at_share(bares, b->entries, 0.99), 1e6 * at_share(ours, b->entries, 0.99),
           1e6 * bare_work / (double)b->entries, 1e6 * our_work / (double)b->entries);
    return WH_OK;
}

/* Fills a store straight through store.h, with bodies as they are stored, a thousand records in a transaction. */
static enum wh_status fill(struct wh_arena *arena, void *context)
{
    const struct bench *b = context;
    struct wh_errors errors = wh_errors_in(arena);
    const char *path = wh_arena_print(arena, "%s/many.db", b->folder);
    struct wh_store *store;
    struct wh_records sample;
    struct wh_hash file;
    char *bytes;
    size_t size;
    struct wh_desk *desk = open_desk(arena, wh_arena_print(arena, "%s/jobs.db", b->folder), &errors);
    must(wh_desk_since(desk, arena, 1, 0, 2, &sample, &errors), &errors);
    must(wh_store_open(arena, path, WH_STORE_WRITE, &store, &errors), &errors);
    must(wh_file_read(arena, b->machine, WH_MACHINE_BYTES, &bytes, &size, &errors), &errors);
    must(wh_store_keep(store, arena, bytes, size, &file, &errors), &errors);
    const struct wh_head words = {.machine = "small-blower", .title = "renew bearing", .state = "on the bench"};
    char key[32];
    for (size_t job = 1; job <= b->jobs; job++) {
        if (job % 5 == 1) must(wh_store_begin(store, &errors), &errors);
        for (size_t i = 0; i <= b->readings; i++) {
            struct wh_record record = sample.at[i > 0];
            snprintf(key, sizeof key, "%zu/%zu", job, i);
            record.job = (int64_t)job, record.key = key;
            must(wh_store_add(store, &record, &words, &errors), &errors);
        }
        if (job % 5 == 0 || job == b->jobs) must(wh_store_commit(store, &errors), &errors);
        if (job % 100 == 0) must(wh_store_tidy(store, &errors), &errors);
    }
    return WH_OK;
}

struct look {
    size_t readings;
};

static enum wh_status count_readings(struct wh_arena *arena, struct wh_desk_look *look)
{
    (void)arena;
    ((struct look *)look->context)->readings = look->job->readings.count;
    return WH_OK;
}

static enum wh_status open_many(struct wh_arena *arena, void *context)
{
    const struct bench *b = context;
    struct wh_errors errors = wh_errors_in(arena);
    enum { TRIES = 200 };
    double times[TRIES], start = now();
    struct wh_desk *desk = open_desk(arena, wh_arena_print(arena, "%s/many.db", b->folder), &errors);
    printf("a store of %zu jobs and %zu readings opens in %.1f ms\n", b->jobs, b->jobs * b->readings,
           1e3 * (now() - start));
    for (size_t i = 0; i < TRIES; i++) {
        struct look found;
        struct wh_desk_look look = {.context = &found, .body = count_readings};
        int64_t job = 1 + (int64_t)((i * 7919 + 13) % b->jobs);
        start = now();
        must(wh_desk_state(desk, arena, job, &look, &errors), &errors);
        times[i] = now() - start;
        if (found.readings != b->readings) return WH_ERR_NO_ANSWER;
    }
    double median = at_share(times, TRIES, 0.5), worst = at_share(times, TRIES, 0.99);
    printf("  a job opens (read, chain checked, folded) in %.2f ms, p99 %.2f ms (under 20): %s\n", 1e3 * median,
           1e3 * worst, worst < 20e-3 ? "met" : "missed");
    return WH_OK;
}

int main(int argc, char **argv)
{
    if (argc != 6) return 2;
    struct bench bench = {argv[1], argv[2], strtoul(argv[3], NULL, 10), strtoul(argv[4], NULL, 10),
                          strtoul(argv[5], NULL, 10)};
    if (wh_arena_run((size_t)1 << 30, compare, &bench) != WH_OK) return 1;
    if (wh_arena_run((size_t)1 << 30, fill, &bench) != WH_OK) return 1;
    return wh_arena_run((size_t)1 << 30, open_many, &bench) != WH_OK;
}
