/* test_checks.h - the checks of a machine's test run as testrun/verdict.h judges them. */
#ifndef WH_JOB_TEST_CHECKS_H
#define WH_JOB_TEST_CHECKS_H

#include "machine/machine.h"
#include "testrun/verdict.h"

/* Those of phase "test", in the file's order, without readings, answers and releases yet; the arena holds them. */
struct wh_test_check *wh_test_checks(struct wh_arena *arena, const struct wh_machine *machine, size_t *ret_count);

#endif
