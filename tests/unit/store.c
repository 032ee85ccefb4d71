/* Stores: both engines keep the same promises; a damaged, locked, foreign or newer file is told apart. */
#include "store/store.h"

#include "base/file.h"
#include "base/text.h"
#include "check.h"

#include <sqlite3.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static char folder[] = "store-test-XXXXXX";

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

static struct wh_store *open_store(struct wh_arena *arena, const char *path)
{
    struct wh_errors errors = wh_errors_in(arena);
    struct wh_store *store = NULL;
    enum wh_status status = wh_store_open(arena, path, WH_STORE_WRITE, &store, &errors);
    if (status != WH_OK) print_error("%s", wh_errors_text(arena, &errors));
    assert_int_equal(status, WH_OK);
    return store;
}

static const struct wh_head words = {.machine = "clarifier", .title = "both bearings", .state = "on the bench"};

static enum wh_status add(struct wh_store *store, struct wh_arena *arena, int64_t job, const char *key,
                          const char *body)
{
    struct wh_errors errors = wh_errors_in(arena);
    struct wh_record record = {
        .job = job, .at = 1000, .who = "Ada", .key = key, .kind = "note", .body = body, .size = strlen(body)};
    return wh_store_add(store, &record, &words, &errors);
}

static void begin(struct wh_store *store, struct wh_arena *arena)
{
    struct wh_errors errors = wh_errors_in(arena);
    assert_int_equal(wh_store_begin(store, &errors), WH_OK);
}

static void commit(struct wh_store *store, struct wh_arena *arena)
{
    struct wh_errors errors = wh_errors_in(arena);
    assert_int_equal(wh_store_commit(store, &errors), WH_OK);
}

static size_t count_of(struct wh_store *store, struct wh_arena *arena, int64_t job)
{
    struct wh_errors errors = wh_errors_in(arena);
    struct wh_records records;
    assert_int_equal(wh_store_records(store, arena, job, 0, SIZE_MAX, &records, &errors), WH_OK);
    return records.count;
}

static enum wh_status check(struct wh_store *store, struct wh_arena *arena, const char **ret_says)
{
    struct wh_errors errors = wh_errors_in(arena);
    struct wh_store_count count;
    enum wh_status status = wh_store_check(store, arena, &count, &errors);
    *ret_says = wh_errors_text(arena, &errors);
    return status;
}

static void fill(struct wh_store *store, struct wh_arena *arena, int64_t job, size_t n)
{
    begin(store, arena);
    for (size_t i = 0; i < n; i++)
        assert_int_equal(add(store, arena, job, wh_arena_print(arena, "k%zu", i),
                             wh_arena_print(arena, "{\"text\":\"entry %zu of job %d\"}", i, (int)job)),
                         WH_OK);
    commit(store, arena);
}

/* What any engine has to do. */
static void keeps_its_promises(struct wh_store *store, struct wh_arena *arena)
{
    struct wh_errors errors = wh_errors_in(arena);
    struct wh_records records;
    struct wh_head head;
    const char *says;
    fill(store, arena, 1, 5);
    fill(store, arena, 2, 3);
    assert_int_equal(wh_store_records(store, arena, 1, 2, 2, &records, &errors), WH_OK);
    assert_int_equal(records.count, 2);
    assert_int_equal(records.at[0].seq, 3);
    assert_string_equal(records.at[1].body, "{\"text\":\"entry 3 of job 1\"}");
    assert_int_equal(wh_store_find(store, arena, 1, "k4", &records, &errors), WH_OK);
    assert_int_equal(records.count, 1);
    assert_int_equal(records.at[0].seq, 5);
    assert_int_equal(wh_store_find(store, arena, 2, "k4", &records, &errors), WH_OK);
    assert_int_equal(records.count, 0);
    assert_int_equal(wh_store_head(store, arena, 2, &head, &errors), WH_OK);
    assert_int_equal(head.seq, 3);
    assert_string_equal(head.state, "on the bench");
    assert_int_equal(wh_store_head(store, arena, 7, &head, &errors), WH_OK);
    assert_int_equal(head.seq, 0);

    begin(store, arena); /* a key counts once in a chain */
    assert_int_equal(add(store, arena, 1, "k1", "{}"), WH_ERR_INPUT);
    assert_int_equal(add(store, arena, 2, "k7", "{}"), WH_OK);
    wh_store_rollback(store);
    assert_false(wh_store_stands(store));
    assert_int_equal(count_of(store, arena, 2), 3);

    begin(store, arena); /* one entry is undone, the others stand */
    assert_int_equal(add(store, arena, 2, "k8", "{}"), WH_OK);
    assert_int_equal(wh_store_mark(store, &errors), WH_OK);
    assert_int_equal(add(store, arena, 2, "k9", "{}"), WH_OK);
    assert_int_equal(wh_store_undo(store, &errors), WH_OK);
    assert_int_equal(add(store, arena, 2, "k10", "{}"), WH_OK);
    commit(store, arena);
    assert_int_equal(count_of(store, arena, 2), 5);

    struct wh_heads heads;
    int64_t last;
    assert_int_equal(wh_store_heads(store, arena, NULL, NULL, 10, &heads, &errors), WH_OK);
    assert_int_equal(heads.count, 2);
    assert_int_equal(heads.at[0].job, 2);
    assert_int_equal(wh_store_heads(store, arena, "fan", NULL, 10, &heads, &errors), WH_OK);
    assert_int_equal(heads.count, 0);
    assert_int_equal(wh_store_last(store, &last, &errors), WH_OK);
    assert_int_equal(last, 2);
    assert_int_equal(check(store, arena, &says), WH_OK);
}

static void keeps_files(struct wh_store *store, struct wh_arena *arena)
{
    struct wh_errors errors = wh_errors_in(arena);
    struct wh_hash hash, again, other = wh_hash_of("never kept", 10);
    char *bytes;
    size_t size;
    assert_int_equal(wh_store_keep(store, arena, "a\0photo", 7, &hash, &errors), WH_OK);
    assert_int_equal(wh_store_keep(store, arena, "a\0photo", 7, &again, &errors), WH_OK);
    assert_true(wh_hash_same(&hash, &again));
    assert_int_equal(wh_store_fetch(store, arena, &hash, &bytes, &size, &errors), WH_OK);
    assert_int_equal(size, 7);
    assert_memory_equal(bytes, "a\0photo", 7);
    assert_int_equal(wh_store_fetch(store, arena, &other, &bytes, &size, &errors), WH_ERR_INPUT);
}

ARENA_TEST(memory_keeps_its_promises)
{
    struct wh_store *store = wh_store_memory(arena);
    keeps_its_promises(store, arena);
    keeps_files(store, arena);
    return WH_OK;
}

ARENA_TEST(a_file_keeps_its_promises)
{
    struct wh_store *store = open_store(arena, "promises.db");
    keeps_its_promises(store, arena);
    keeps_files(store, arena);
    return WH_OK;
}

/* BLAKE2b of 32 bytes over nothing, RFC 7693 has the 64-byte form of "abc" only; this one from a second program. */
ARENA_TEST(hashes_are_read_back)
{
    struct wh_hash hash = wh_hash_of("", 0), back;
    const char *text = wh_hash_text(arena, &hash);
    assert_string_equal(text, "0e5751c026e543b2e8ab2eb06099daa1d1e5df47778f7787faab45cdf12fe3a8");
    assert_true(wh_hash_read(text, &back) && wh_hash_same(&hash, &back));
    assert_false(wh_hash_read("0e57", &back));
    assert_false(wh_hash_read("0e5751c026e543b2e8ab2eb06099daa1d1e5df47778f7787faab45cdf12fe3ag", &back));
    return WH_OK;
}

static void alter(const char *path, const char *statement)
{
    sqlite3 *db;
    assert_int_equal(sqlite3_open(path, &db), SQLITE_OK);
    assert_int_equal(sqlite3_exec(db, statement, NULL, NULL, NULL), SQLITE_OK);
    assert_int_equal(sqlite3_close(db), SQLITE_OK);
}

static enum wh_status make_filled(struct wh_arena *arena, void *path)
{
    struct wh_store *store = open_store(arena, path);
    fill(store, arena, 0, 2);
    fill(store, arena, 1, 40);
    fill(store, arena, 2, 40);
    return WH_OK;
}

struct tampering {
    const char *path, *statement, *says;
};

static enum wh_status is_found(struct wh_arena *arena, void *context)
{
    const struct tampering *t = context;
    const char *says;
    enum wh_status status = check(open_store(arena, t->path), arena, &says);
    if (status != WH_ERR_FILE || !strstr(says, t->says)) print_error("%s: %s\n", t->statement, says);
    assert_int_equal(status, WH_ERR_FILE);
    assert_non_null(strstr(says, t->says));
    return WH_OK;
}

static void what_was_altered_is_found_and_named(void **state)
{
    (void)state;
    static const struct tampering all[] = {
        {"t0.db", "UPDATE event SET body = '{}' WHERE job = 2 AND seq = 3", "job 2, entry 3: what is stored"},
        {"t1.db", "UPDATE event SET at = 7 WHERE job = 1 AND seq = 1", "job 1, entry 1: what is stored"},
        {"t2.db", "DELETE FROM event WHERE job = 1 AND seq = 9", "job 1, entry 9: it is missing"},
        {"t3.db", "DELETE FROM event WHERE job = 1 AND seq > 30", "job 1, entry 31: it is missing: the end is cut off"},
        {"t4.db", "DELETE FROM head WHERE job = 2", "an entry of job 2 has no head"},
        {"t5.db", "UPDATE head SET seq = 39 WHERE job = 2", "job 2, entry 40: the head"},
        {"t6.db", "UPDATE event SET hash = x'00' WHERE job = 2 AND seq = 3", "job 2, entry 3: what is stored"},
    };
    for (size_t i = 0; i < sizeof all / sizeof *all; i++) {
        struct tampering tampering = all[i];
        assert_int_equal(wh_arena_run(16 << 20, make_filled, (void *)(uintptr_t)tampering.path), WH_OK);
        alter(tampering.path, tampering.statement);
        assert_int_equal(wh_arena_run(16 << 20, is_found, &tampering), WH_OK);
    }
}

/* Opens and goes through a file as it is; what it says, or "" when all is well. */
static const char *look(struct wh_arena *arena, const char *path)
{
    struct wh_errors errors = wh_errors_in(arena);
    struct wh_store *store;
    struct wh_store_count count;
    if (wh_store_open(arena, path, WH_STORE_WRITE, &store, &errors) == WH_OK)
        wh_store_check(store, arena, &count, &errors);
    return wh_errors_text(arena, &errors);
}

struct image {
    const char *bytes, *says;
    size_t size;
};

static enum wh_status look_at_image(struct wh_arena *arena, void *context)
{
    struct image *image = context;
    struct wh_errors errors = wh_errors_in(arena);
    assert_int_equal(wh_file_write(arena, "image.db", image->bytes, image->size, &errors), WH_OK);
    const char *says = look(arena, "image.db");
    image->says = *says ? "told" : "";
    return WH_OK;
}

/* Every cut and a flipped bit on many places: told, or of no consequence because nothing that counts stands there. */
ARENA_TEST(a_cut_or_flipped_file_is_told)
{
    struct wh_errors errors = wh_errors_in(arena);
    char *bytes;
    size_t size, told = 0, tried = 0;
    assert_int_equal(wh_arena_run(16 << 20, make_filled, "whole.db"), WH_OK);
    assert_int_equal(wh_file_read(arena, "whole.db", 1 << 20, &bytes, &size, &errors), WH_OK);
    struct image image = {bytes, NULL, size};
    assert_int_equal(wh_arena_run(16 << 20, look_at_image, &image), WH_OK);
    assert_string_equal(image.says, "");
    for (image.size = 100; image.size < size; image.size += 1000) {
        assert_int_equal(wh_arena_run(16 << 20, look_at_image, &image), WH_OK);
        assert_string_equal(image.says, "told");
    }
    image.size = size;
    const char *at = bytes;
    while ((at = memmem(at, size - (size_t)(at - bytes), "entry ", 6))) { /* within every stored body */
        size_t place = (size_t)(at++ - bytes);
        bytes[place] ^= 4;
        assert_int_equal(wh_arena_run(16 << 20, look_at_image, &image), WH_OK);
        bytes[place] ^= 4;
        told += wh_same(image.says, "told");
        tried++;
    }
    assert_true(tried < 90); /* a copy that a divided page left behind counts for nothing */
    assert_true(told >= 82);
    return WH_OK;
}

ARENA_TEST(other_files_are_refused)
{
    struct wh_errors errors = wh_errors_in(arena);
    struct wh_store *store;
    alter("foreign.db", "CREATE TABLE a (b)");
    assert_non_null(strstr(look(arena, "foreign.db"), "no store of this program"));
    assert_int_equal(wh_file_write(arena, "text.db", "only some words, no database at all", 35, &errors), WH_OK);
    assert_non_null(strstr(look(arena, "text.db"), "no store of this program"));
    assert_int_equal(wh_arena_run(16 << 20, make_filled, "newer.db"), WH_OK);
    alter("newer.db", "PRAGMA user_version = 99");
    assert_int_equal(wh_store_open(arena, "newer.db", WH_STORE_WRITE, &store, &errors), WH_ERR_INPUT);
    assert_non_null(strstr(wh_errors_text(arena, &errors), "newer program: its form is 99"));
    assert_int_equal(wh_store_open(arena, "none.db", WH_STORE_READ, &store, &errors), WH_ERR_FILE);
    assert_int_equal(access("none.db", F_OK), -1);
    return WH_OK;
}

ARENA_TEST(a_reader_writes_nothing)
{
    struct wh_errors errors = wh_errors_in(arena);
    struct wh_store *store;
    assert_int_equal(wh_arena_run(16 << 20, make_filled, "read.db"), WH_OK);
    assert_int_equal(wh_store_open(arena, "read.db", WH_STORE_READ, &store, &errors), WH_OK);
    assert_int_equal(count_of(store, arena, 1), 40);
    if (wh_store_begin(store, &errors) == WH_OK) assert_int_not_equal(add(store, arena, 1, "new", "{}"), WH_OK);
    wh_store_rollback(store);
    assert_int_equal(count_of(store, arena, 1), 40);
    return WH_OK;
}

/* Another program holds the write lock: told after the wait; it works again once that is over. */
ARENA_TEST(a_locked_store_is_told)
{
    struct wh_errors errors = wh_errors_in(arena);
    struct wh_store *one = open_store(arena, "locked.db"), *two = open_store(arena, "locked.db");
    begin(one, arena);
    assert_int_equal(wh_store_begin(two, &errors), WH_ERR_FILE);
    assert_non_null(strstr(wh_errors_text(arena, &errors), "locked"));
    assert_false(wh_store_stands(two));
    assert_int_equal(add(one, arena, 1, "a", "{}"), WH_OK);
    commit(one, arena);
    begin(two, arena);
    assert_int_equal(add(two, arena, 1, "b", "{}"), WH_OK);
    commit(two, arena);
    assert_int_equal(count_of(one, arena, 1), 2);
    return WH_OK;
}

ARENA_TEST(a_copy_is_made_while_in_use)
{
    struct wh_errors errors = wh_errors_in(arena);
    struct wh_store *store = open_store(arena, "used.db"), *reader;
    struct wh_hash hash;
    char *bytes;
    size_t size;
    fill(store, arena, 1, 10);
    assert_int_equal(wh_store_keep(store, arena, "photo", 5, &hash, &errors), WH_OK);
    begin(store, arena);
    assert_int_equal(add(store, arena, 1, "not yet", "{}"), WH_OK);
    assert_int_equal(wh_store_open(arena, "used.db", WH_STORE_READ, &reader, &errors), WH_OK);
    assert_int_equal(wh_store_backup(reader, arena, "copies/monday.db", &errors), WH_OK);
    commit(store, arena);
    struct wh_store *copy = open_store(arena, "copies/monday.db");
    assert_int_equal(count_of(copy, arena, 1), 10);
    assert_int_equal(count_of(store, arena, 1), 11);
    assert_int_equal(wh_store_fetch(copy, arena, &hash, &bytes, &size, &errors), WH_OK);
    assert_string_equal(look(arena, "copies/monday.db"), "");
    assert_int_equal(wh_store_backup(reader, arena, "copies/monday.db", &errors), WH_ERR_INPUT);
    return WH_OK;
}

ARENA_TEST(a_spoilt_photo_is_told_and_kept_anew)
{
    struct wh_errors errors = wh_errors_in(arena);
    struct wh_store *store = open_store(arena, "photo.db");
    struct wh_hash hash;
    char *bytes;
    size_t size;
    const char *says;
    assert_int_equal(wh_store_keep(store, arena, "photo", 5, &hash, &errors), WH_OK);
    const char *path = wh_arena_print(arena, "photo.db.files/%s", wh_hash_text(arena, &hash));
    assert_int_equal(wh_file_write(arena, path, "phot", 4, &errors), WH_OK);
    assert_int_equal(wh_store_fetch(store, arena, &hash, &bytes, &size, &errors), WH_ERR_FILE);
    assert_int_equal(check(store, arena, &says), WH_ERR_FILE);
    assert_non_null(strstr(says, wh_hash_text(arena, &hash)));
    assert_int_equal(wh_store_keep(store, arena, "photo", 5, &hash, &errors), WH_OK);
    assert_int_equal(check(store, arena, &says), WH_OK);
    return WH_OK;
}

ARENA_TEST(what_is_no_record_is_refused)
{
    struct wh_store *store = open_store(arena, "refused.db");
    begin(store, arena);
    assert_int_equal(add(store, arena, -1, "k", "{}"), WH_ERR_INPUT);
    assert_int_equal(add(store, arena, 1, "", "{}"), WH_ERR_INPUT);
    assert_int_equal(add(store, arena, 1, "k\x01", "{}"), WH_ERR_INPUT);
    assert_int_equal(add(store, arena, 1, "k", "\xff"), WH_ERR_INPUT);
    char *large = memset(wh_arena_get(arena, WH_RECORD_BODY + 2), 'a', WH_RECORD_BODY + 1);
    assert_int_equal(add(store, arena, 1, "k", large), WH_ERR_INPUT);
    assert_int_equal(add(store, arena, 1, "k", large + 1), WH_OK);
    commit(store, arena);
    struct wh_errors errors = wh_errors_in(arena);
    struct wh_head head;
    assert_int_equal(wh_store_head(store, arena, 1, &head, &errors), WH_OK);
    assert_int_equal(head.seq, 1);
    return WH_OK;
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(memory_keeps_its_promises),     cmocka_unit_test(a_file_keeps_its_promises),
        cmocka_unit_test(hashes_are_read_back),          cmocka_unit_test(what_was_altered_is_found_and_named),
        cmocka_unit_test(a_cut_or_flipped_file_is_told), cmocka_unit_test(other_files_are_refused),
        cmocka_unit_test(a_reader_writes_nothing),       cmocka_unit_test(a_locked_store_is_told),
        cmocka_unit_test(a_copy_is_made_while_in_use),   cmocka_unit_test(a_spoilt_photo_is_told_and_kept_anew),
        cmocka_unit_test(what_is_no_record_is_refused),
    };
    return cmocka_run_group_tests(tests, enter_folder, leave_folder);
}
