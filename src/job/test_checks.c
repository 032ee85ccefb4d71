#include "job/test_checks.h"

static struct wh_test_check of_machine(const struct wh_machine *machine, const struct wh_check *check)
{
    return (struct wh_test_check){.id = check->id,
                                  .title = check->title,
                                  .limits = check->limits,
                                  .expects = check->expects,
                                  .outside = check->outside,
                                  .has_limits = check->has_limits,
                                  .hold = check->hold,
                                  .least = check->least,
                                  .most = check->most,
                                  .stop_at = check->stop_at,
                                  .unit = check->unit,
                                  .U = check->gauge == WH_NONE ? 0 : machine->gauges[check->gauge].uncertainty.best,
                                  .readings = (size_t)check->readings,
                                  .places = (size_t)check->places,
                                  .level_within = check->level_within,
                                  .from_record = check->from_record,
                                  .place = check->at_place == WH_NONE ? NULL : machine->things[check->at_place].id};
}

struct wh_test_check *wh_test_checks(struct wh_arena *arena, const struct wh_machine *machine, size_t *ret_count)
{
    struct wh_test_check *checks = WH_NEW(arena, machine->check_count + 1, struct wh_test_check);
    *ret_count = 0;
    for (size_t i = 0; i < machine->check_count; i++)
        if (machine->checks[i].phase == WH_PHASE_TEST)
            checks[(*ret_count)++] = of_machine(machine, &machine->checks[i]);
    return checks;
}
