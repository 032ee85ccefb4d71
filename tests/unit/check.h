/* check.h - what every unit test needs: cmocka with the headers it wants before it, doubles, tests with an arena. */
#ifndef WH_TESTS_UNIT_CHECK_H
#define WH_TESTS_UNIT_CHECK_H

#include "base/arena.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

/* cmocka 1.1.5 compares no doubles. Near within the larger of an absolute and a relative tolerance. */
#define check_close(got, want, absolute, relative) \
    check_close_at((got), (want), (absolute), (relative), #got, __FILE__, __LINE__)
static inline void check_close_at(double got, double want, double absolute, double relative, const char *what,
                                  const char *file, int line)
{
    if (fabs(got - want) <= fmax(absolute, relative * fabs(want))) return;
    print_error("%s is %.17g, wanted %.17g\n", what, got, want);
    _fail(file, line);
}

/* `ARENA_TEST(name) { … return WH_OK; }`: a test whose body has an `arena` of 16 MiB. */
#define ARENA_TEST(name)                                                                     \
    static enum wh_status name##_body(struct wh_arena *arena, void *context);                \
    static void name(void **state)                                                           \
    {                                                                                        \
        (void)state;                                                                         \
        assert_int_equal(wh_arena_run((size_t)16 << 20, name##_body, NULL), WH_OK);          \
    }                                                                                        \
    static enum wh_status name##_body(__attribute__((unused)) struct wh_arena *arena,        \
                                      __attribute__((unused)) void *context)

#endif
