/* Files: written whole or not at all, read up to a cap, and no failed call goes unseen. */
#include "base/file.h"

#include "base/fault.h"
#include "check.h"

#include <dirent.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static char folder[] = "file-test-XXXXXX";

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

static size_t entries(const char *path)
{
    size_t n = 0;
    DIR *dir = opendir(path);
    assert_non_null(dir);
    for (struct dirent *entry; (entry = readdir(dir));) n += entry->d_name[0] != '.';
    closedir(dir);
    return n;
}

static enum wh_status write_text(struct wh_arena *arena, const char *path, const char *text)
{
    struct wh_errors errors = wh_errors_in(arena);
    enum wh_status status = wh_file_write(arena, path, text, strlen(text), &errors);
    assert_int_equal(status, wh_errors_status(&errors));
    return status;
}

static void expect_text(struct wh_arena *arena, const char *path, const char *text)
{
    struct wh_errors errors = wh_errors_in(arena);
    char *bytes;
    size_t size;
    assert_int_equal(wh_file_read(arena, path, 1000, &bytes, &size, &errors), WH_OK);
    assert_string_equal(bytes, text);
    assert_int_equal(size, strlen(text));
}

ARENA_TEST(what_was_written_is_read_and_folders_are_made)
{
    assert_int_equal(write_text(arena, "out/deep/sheet.txt", "one\n"), WH_OK);
    expect_text(arena, "out/deep/sheet.txt", "one\n");
    assert_int_equal(write_text(arena, "out/deep/sheet.txt", ""), WH_OK);
    expect_text(arena, "out/deep/sheet.txt", "");
    assert_int_equal(entries("out/deep"), 1);
    return WH_OK;
}

ARENA_TEST(a_cap_is_kept_to_the_byte)
{
    struct wh_errors errors = wh_errors_in(arena);
    char *bytes = "untouched";
    size_t size = 99;
    assert_int_equal(write_text(arena, "ten.txt", "0123456789"), WH_OK);
    assert_int_equal(wh_file_read(arena, "ten.txt", 9, &bytes, &size, &errors), WH_ERR_INPUT);
    assert_string_equal(bytes, "untouched");
    assert_int_equal(size, 99);
    assert_non_null(strstr(errors.first->says, "9 bytes"));
    assert_int_equal(wh_file_read(arena, "ten.txt", 10, &bytes, &size, &errors), WH_OK);
    assert_int_equal(size, 10);
    return WH_OK;
}

ARENA_TEST(what_cannot_be_read_is_said_with_its_path)
{
    struct wh_errors errors = wh_errors_in(arena);
    char *bytes;
    size_t size;
    assert_int_equal(wh_file_read(arena, "none.yaml", 10, &bytes, &size, &errors), WH_ERR_FILE);
    assert_int_equal(wh_file_read(arena, ".", 10, &bytes, &size, &errors), WH_ERR_FILE);
    assert_int_equal(errors.count, 2);
    assert_string_equal(errors.first->place.file, "none.yaml");
    return WH_OK;
}

ARENA_TEST(what_cannot_be_written_leaves_nothing)
{
    assert_int_equal(write_text(arena, "plain", "a file"), WH_OK);
    assert_int_equal(write_text(arena, "plain/below.txt", "text"), WH_ERR_FILE);
    assert_int_equal(mkdir("taken", 0777), 0);
    assert_int_equal(write_text(arena, "taken", "text"), WH_ERR_FILE);
    assert_int_equal(entries("taken"), 0);
    expect_text(arena, "plain", "a file");
    return WH_OK;
}

/* The k-th call of a write fails, for k = 1, 2, … until it passes: the old file stands until the new one does. */
ARENA_TEST(a_write_is_whole_or_nothing)
{
    unsigned long k = 0;
    enum wh_status status = WH_ERR_FILE;
    assert_int_equal(write_text(arena, "kept/sheet.txt", "old"), WH_OK);
    while (status != WH_OK) {
        wh_fault_arm(WH_FAULT_FILE, ++k);
        status = write_text(arena, "kept/sheet.txt", "new and longer");
        wh_fault_arm(WH_FAULT_FILE, 0);
        assert_int_equal(entries("kept"), 1);
        expect_text(arena, "kept/sheet.txt", status == WH_OK ? "new and longer" : "old");
        assert_true(k < 100);
    }
    assert_true(k > 5); /* open, write, sync, close, rename at least */
    return WH_OK;
}

ARENA_TEST(a_failed_read_is_seen)
{
    assert_int_equal(write_text(arena, "read.txt", "text"), WH_OK);
    unsigned long k = 0;
    enum wh_status status = WH_ERR_FILE;
    while (status != WH_OK) {
        struct wh_errors errors = wh_errors_in(arena);
        char *bytes;
        size_t size;
        wh_fault_arm(WH_FAULT_FILE, ++k);
        status = wh_file_read(arena, "read.txt", 100, &bytes, &size, &errors);
        assert_int_equal(status, wh_errors_status(&errors));
        assert_true(k < 100);
    }
    assert_int_equal(k, 4); /* open, read, read the end */
    wh_fault_arm(WH_FAULT_FILE, 0);
    return WH_OK;
}

static void a_failed_print_is_seen(void **state)
{
    (void)state;
    wh_fault_arm(WH_FAULT_FILE, 1);
    assert_int_equal(wh_file_print(1, "lost", 4), WH_ERR_FILE);
    wh_fault_arm(WH_FAULT_FILE, 0);
    assert_int_equal(wh_file_print(1, "", 0), WH_OK);
}

ARENA_TEST(a_folder_is_listed_and_a_file_renamed)
{
    struct wh_errors errors = wh_errors_in(arena);
    struct wh_words names;
    assert_int_equal(wh_file_list(arena, "listed", &names, &errors), WH_OK);
    assert_int_equal(names.count, 0);
    assert_int_equal(write_text(arena, "listed/b", "b"), WH_OK);
    assert_int_equal(write_text(arena, "listed/a", "a"), WH_OK);
    assert_int_equal(write_text(arena, "listed/.c", "c"), WH_OK);
    assert_int_equal(wh_file_rename(arena, "listed/b", "listed/z", &errors), WH_OK);
    assert_int_equal(wh_file_settle(arena, "listed/z", &errors), WH_OK);
    assert_int_equal(wh_file_list(arena, "listed", &names, &errors), WH_OK);
    assert_int_equal(names.count, 2);
    assert_string_equal(names.at[0], "a");
    assert_string_equal(names.at[1], "z");
    assert_true(wh_file_there("listed/z"));
    wh_file_remove("listed/z");
    assert_false(wh_file_there("listed/z"));
    assert_int_equal(wh_file_rename(arena, "listed/none", "listed/y", &errors), WH_ERR_FILE);
    assert_int_equal(wh_file_list(arena, "listed/a", &names, &errors), WH_ERR_FILE);
    return WH_OK;
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_folder_is_listed_and_a_file_renamed),
        cmocka_unit_test(what_was_written_is_read_and_folders_are_made),
        cmocka_unit_test(a_cap_is_kept_to_the_byte),
        cmocka_unit_test(what_cannot_be_read_is_said_with_its_path),
        cmocka_unit_test(what_cannot_be_written_leaves_nothing),
        cmocka_unit_test(a_write_is_whole_or_nothing),
        cmocka_unit_test(a_failed_read_is_seen),
        cmocka_unit_test(a_failed_print_is_seen),
    };
    return cmocka_run_group_tests(tests, enter_folder, leave_folder);
}
