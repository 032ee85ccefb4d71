/* Memory by lifetime: the cap holds, running out jumps back, handles are closed in reverse order. */
#include "base/fault.h"
#include "check.h"

#include <stdalign.h>
#include <string.h>

enum { CAP = 1 << 20 };

struct trail {
    char letters[8];
    size_t count, used;
};
struct handle {
    struct trail *trail;
    char letter;
};

static void release(void *handle)
{
    struct handle *h = handle;
    h->trail->letters[h->trail->count++] = h->letter;
}

static void defer_three(struct wh_arena *arena, struct trail *trail)
{
    for (char letter = 'a'; letter <= 'c'; letter++) {
        struct handle *handle = WH_NEW(arena, 1, struct handle);
        *handle = (struct handle){trail, letter};
        wh_arena_defer(arena, release, handle);
    }
}

static enum wh_status finish(struct wh_arena *arena, void *trail)
{
    defer_three(arena, trail);
    return WH_ERR_LIMIT;
}

static enum wh_status run_out(struct wh_arena *arena, void *context)
{
    struct trail *trail = context;
    defer_three(arena, trail);
    for (int i = 0; i < CAP; i++) {
        memset(wh_arena_get(arena, 1000), 1, 1000);
        trail->used = wh_arena_used(arena);
    }
    return WH_OK;
}

static enum wh_status ask_too_much(struct wh_arena *arena, void *context)
{
    (void)context;
    wh_arena_get_many(arena, SIZE_MAX / 4, 8);
    return WH_OK;
}

static enum wh_status ask_nearly_all_there_is(struct wh_arena *arena, void *context)
{
    (void)context;
    wh_arena_get(arena, SIZE_MAX - 3);
    return WH_OK;
}

static void the_body_s_status_comes_back_and_handles_close_in_reverse(void **state)
{
    (void)state;
    struct trail trail = {0};
    assert_int_equal(wh_arena_run(CAP, finish, &trail), WH_ERR_LIMIT);
    assert_string_equal(trail.letters, "cba");
}

static void running_out_jumps_back_and_closes_the_handles(void **state)
{
    (void)state;
    struct trail trail = {0};
    assert_int_equal(wh_arena_run(CAP, run_out, &trail), WH_ERR_NOMEM);
    assert_string_equal(trail.letters, "cba");
    assert_in_range(trail.used, CAP / 2, CAP);
}

struct nest {
    struct wh_arena *outer;
    struct trail trail;
    bool went_on;
};

static enum wh_status ask_the_outer(struct wh_arena *arena, void *context)
{
    struct nest *nest = context;
    defer_three(arena, &nest->trail);
    wh_arena_give_up(nest->outer);
}

static enum wh_status open_two(struct wh_arena *arena, void *context)
{
    struct nest *nest = context;
    defer_three(arena, &nest->trail);
    wh_arena_run(CAP, ask_the_outer, nest);
    nest->went_on = true;
    return WH_OK;
}

static enum wh_status open_three(struct wh_arena *arena, void *context)
{
    struct nest *nest = context;
    nest->outer = arena;
    wh_arena_run(CAP, open_two, nest);
    nest->went_on = true;
    return WH_OK;
}

/* An outer arena without room ends all runs inside it: they are closed, the innermost first. */
static void runs_that_are_jumped_out_of_are_closed(void **state)
{
    (void)state;
    struct nest nest = {0};
    assert_int_equal(wh_arena_run(CAP, open_three, &nest), WH_ERR_NOMEM);
    assert_string_equal(nest.trail.letters, "cbacba");
    assert_false(nest.went_on);
    struct trail trail = {0};
    assert_int_equal(wh_arena_run(CAP, finish, &trail), WH_ERR_LIMIT); /* and the next one is as any other */
    assert_string_equal(trail.letters, "cba");
}

static void sizes_that_overflow_are_out_of_memory(void **state)
{
    (void)state;
    assert_int_equal(wh_arena_run(CAP, ask_too_much, NULL), WH_ERR_NOMEM);
    assert_int_equal(wh_arena_run(CAP, ask_nearly_all_there_is, NULL), WH_ERR_NOMEM);
}

ARENA_TEST(memory_is_zero_and_aligned)
{
    for (size_t size = 0; size < 300; size++) {
        unsigned char *at = wh_arena_get(arena, size);
        assert_int_equal((uintptr_t)at % alignof(max_align_t), 0);
        for (size_t i = 0; i < size; i++) assert_int_equal(at[i], 0);
        memset(at, 0xFF, size);
    }
    return WH_OK;
}

ARENA_TEST(a_large_piece_leaves_the_open_block_open)
{
    char *before = wh_arena_get(arena, 16);
    wh_arena_get(arena, 1 << 19);
    char *after = wh_arena_get(arena, 16);
    assert_ptr_equal(after, before + 16);
    return WH_OK;
}

ARENA_TEST(a_list_keeps_what_was_pushed)
{
    WH_LIST(size_t) list = {0};
    for (size_t i = 0; i < 10000; i++) *WH_PUSH(arena, &list) = i * i;
    assert_int_equal(list.count, 10000);
    for (size_t i = 0; i < list.count; i++) assert_int_equal(list.at[i], i * i);
    return WH_OK;
}

ARENA_TEST(texts_are_copied_cut_and_printed)
{
    char word[] = "seat";
    const char *copy = wh_arena_text(arena, word);
    word[0] = 'h';
    assert_string_equal(copy, "seat");
    assert_string_equal(wh_arena_slice(arena, "neck-bearing", 4), "neck");
    assert_string_equal(wh_arena_print(arena, "%s %d %.3f", "step", 14, 30.0065), "step 14 30.006");
    char *empty = wh_arena_slice(arena, "x", 0);
    assert_string_equal(empty, "");
    return WH_OK;
}

static void the_kth_block_can_be_made_to_fail(void **state)
{
    (void)state;
    unsigned long passed = 0;
    for (unsigned long k = 1; passed == 0; k++) {
        assert_true(k < 100);
        wh_fault_arm(WH_FAULT_MEMORY, k);
        enum wh_status status = wh_arena_run((size_t)16 << 20, a_list_keeps_what_was_pushed_body, NULL);
        if (status == WH_OK)
            passed = k;
        else
            assert_int_equal(status, WH_ERR_NOMEM);
    }
    assert_true(passed > 2);
    assert_int_equal(wh_fault_calls(WH_FAULT_MEMORY), passed - 1);
    wh_fault_arm(WH_FAULT_MEMORY, 0);
}

static void fault_texts_are_read(void **state)
{
    (void)state;
    assert_true(wh_fault_arm_text("memory:2"));
    assert_false(wh_fault_strikes(WH_FAULT_MEMORY));
    assert_true(wh_fault_strikes(WH_FAULT_MEMORY));
    assert_false(wh_fault_strikes(WH_FAULT_MEMORY));
    assert_true(wh_fault_arm_text("file:1"));
    assert_true(wh_fault_strikes(WH_FAULT_FILE));
    static const char *const wrong[] = {"", "memory", "memory:", "memory:x", "file:1x", "disk:1", "memory: 1"};
    for (size_t i = 0; i < sizeof wrong / sizeof *wrong; i++) assert_false(wh_fault_arm_text(wrong[i]));
}

static enum wh_status take_much(struct wh_arena *arena, void *context)
{
    *(int *)context += 1;
    wh_arena_get(arena, 1 << 20);
    return WH_OK;
}

/* A body that runs out of memory ends alone; what stood in the arena before is still there. */
ARENA_TEST(a_body_within_ends_alone)
{
    int runs = 0;
    struct wh_arena *kept = wh_arena_new(1 << 21);
    assert_non_null(kept);
    while (wh_arena_within(kept, take_much, &runs) == WH_OK) assert_true(runs < 100);
    assert_int_equal(runs, 3);
    assert_int_equal(wh_arena_used(kept), 1 << 21);
    wh_arena_free(kept);
    wh_arena_free(NULL);
    wh_arena_get(arena, 100); /* the run's own way out is in place again */
    return WH_OK;
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_body_within_ends_alone),
        cmocka_unit_test(the_body_s_status_comes_back_and_handles_close_in_reverse),
        cmocka_unit_test(running_out_jumps_back_and_closes_the_handles),
        cmocka_unit_test(runs_that_are_jumped_out_of_are_closed),
        cmocka_unit_test(sizes_that_overflow_are_out_of_memory),
        cmocka_unit_test(memory_is_zero_and_aligned),
        cmocka_unit_test(a_large_piece_leaves_the_open_block_open),
        cmocka_unit_test(a_list_keeps_what_was_pushed),
        cmocka_unit_test(texts_are_copied_cut_and_printed),
        cmocka_unit_test(the_kth_block_can_be_made_to_fail),
        cmocka_unit_test(fault_texts_are_read),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
