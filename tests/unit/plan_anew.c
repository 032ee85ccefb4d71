/* Plans made anew in the middle of a job, each told as the ids of what is still ahead; and why steps stand where. */
#include "base/text.h"
#include "check.h"
#include "plan/plan.h"

#include <string.h>

#define HEAD "format: 1\nmachine:\n  title: Trial\n  speed: 1000 rpm\nparts:\n"
#define PART(id, more) "  - id: " id "\n    is: plate\n" more
#define MINUTES(off, on) "    off: " off " min\n    on: " on " min\n"
#define FIRST(ids) "    off first: " ids "\n"
#define STACK                                                                                                          \
    PART("cover", MINUTES("1", "2"))                                                                                   \
    PART("ring", FIRST("cover") MINUTES("2", "3"))                                                                     \
    PART("gear", FIRST("ring") MINUTES("4", "5"))                                                                      \
    PART("bush", FIRST("gear") MINUTES("2", "2")) PART("side", MINUTES("1", "1"))
#define READ_BEFORE_COVER                                                                                              \
    "checks:\n  - id: gap\n    title: gap\n    of: ring\n    phase: rebuild\n    after: on ring\n"                     \
    "    before: on cover\n    expects: even\n"                                                                        \
    "  - id: found\n    title: as found\n    of: gear\n    phase: strip\n    before: off gear\n    expects: even\n"

#define JACK "fixtures:\n  - id: jack\n    stands on: cover\n    off: 1 min\n    on: 1 min\n"
#define PROP "fixtures:\n  - id: prop\n    stands on: cover\n    stays: yes\n    off: 1 min\n    on: 1 min\n"
#define UNDER(off_with)                                                                                                \
    PART("cover", MINUTES("1", "2"))                                                                                   \
    PART("gear", off_with MINUTES("4", "5")) PART("bush", FIRST("cover") MINUTES("2", "2"))
#define TWO_WAYS                                                                                                       \
    PART("cover", MINUTES("9", "9"))                                                                                   \
    PART("plug", MINUTES("2", "2"))                                                                                    \
    PART("gear", "    one way:\n      title: up\n      off with: jack\n      off: 1 min\n      on: 1 min\n"            \
                 "    other way:\n      title: down\n      off first: plug\n      off: 2 min\n      on: 2 min\n")      \
    PART("bush", FIRST("cover") MINUTES("2", "2"))

struct anew {
    const char *text, *renew, *done, *also, *ahead, *note;
};

static const struct anew cases[] = {
    /* what is done stays; a part found while it lies open costs only itself */
    {HEAD STACK, "gear", "off cover;off ring", NULL, "off gear;wash;clean;on gear;on ring;on cover;whole", NULL},
    {HEAD STACK, "gear", "off cover;off ring;off gear", "bush",
     "off bush;wash;clean;on bush;on gear;on ring;on cover;whole", NULL},
    /* found once the cover is on again: it comes off a second time, and dirty work ends a second time; only what has
       not been washed is */
    {HEAD STACK, "gear", "off cover;off ring;off gear;wash;clean;on gear;on ring;on cover", "ring",
     "off cover again;off ring again;wash again;clean again;on ring again;on cover again;whole", NULL},
    {HEAD STACK, "gear", "off cover;off ring;off gear;wash;clean;on gear", "side",
     "off side;clean again;on side;on ring;on cover;whole", NULL},
    /* the gear still lies on the bench, the ring is on: it comes off again */
    {HEAD STACK, "bush", "off cover;off ring;off gear;off bush;wash;clean;on bush;on ring", NULL,
     "off ring again;wash again;clean again;on gear;on ring again;on cover;whole",
     "take the ring off again: the gear goes on before"},
    /* a reading that was left out before the cover went on */
    {HEAD STACK READ_BEFORE_COVER, "gear",
     "check found;off cover;off ring;off gear;wash;clean;on gear;on ring;on cover", NULL,
     "off cover again;wash again;clean again;check gap;on cover again;whole",
     "take the cover off again: \"gap\" is read before"},
    /* found already off: what had to be read before can no longer be */
    {HEAD STACK READ_BEFORE_COVER, "bush", "off cover;off ring;off gear", NULL,
     "off bush;wash;clean;on bush;on gear;on ring;check gap;on cover;whole", "\"as found\" can no longer be read"},
    /* what the jack stands on is off: it goes on for that, and off again where something goes on before it */
    {HEAD UNDER("    off with: jack\n") JACK, "gear", "off cover", NULL,
     "on cover;set jack;off gear;away jack;clean;on gear;whole",
     "the jack stands on the cover, which is off: it goes on for that"},
    {HEAD UNDER("    off with: jack\n") JACK, "gear, bush", "off cover;off bush", NULL,
     "on cover;set jack;off gear;away jack;off cover again;wash;clean;on bush;on gear;on cover again;whole",
     "the jack stands on the cover, which is off: it goes on for that, and off again after"},
    /* or another way is gone, where that is quicker */
    {HEAD TWO_WAYS JACK, "gear, bush", "off cover;off bush", NULL,
     "off plug;off gear, other way;wash;clean;on bush;on gear, other way;on plug;on cover;whole", NULL},
    /* a prop that stays is away before what it stands on comes off */
    {HEAD UNDER("    off with: prop\n") PROP, "gear", "set prop;off gear", "cover",
     "away prop;off cover;clean;on gear;on cover;whole", NULL},
};

static enum wh_status plan_anew(struct wh_arena *arena, const struct anew *c, struct wh_plan **ret,
                                struct wh_errors *errors)
{
    struct wh_machine *machine;
    struct wh_sheet *sheet;
    struct wh_indices named;
    struct wh_plan_ask ask = {.fitters = 1, .most_nodes = WH_PLAN_NODES, .done = wh_split(arena, c->done, ';')};
    enum wh_status status = wh_machine_read_text(arena, "trial.yaml", c->text, strlen(c->text), &machine, errors);
    if (status == WH_OK) status = wh_sheet_make(arena, machine, NULL, 0, &sheet, errors);
    if (status == WH_OK) status = wh_plan_parts(arena, machine, c->renew, &named, errors);
    if (status == WH_OK && c->also) status = wh_plan_parts(arena, machine, c->also, &ask.also, errors);
    if (status != WH_OK) return status;
    return wh_plan_make(arena, machine, sheet, named.at, named.count, &ask, ret, errors);
}

static const char *ids(struct wh_arena *arena, const struct wh_plan *plan, size_t from, size_t to)
{
    struct wh_text text = {.arena = arena};
    for (size_t s = from; s < to; s++) wh_text_print(&text, "%s%s", s > from ? ";" : "", plan->steps[s].task->id);
    return wh_text_of(&text);
}

ARENA_TEST(what_is_done_stands_and_the_rest_follows)
{
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct wh_errors errors = wh_errors_in(arena);
        struct wh_plan *plan = NULL;
        if (plan_anew(arena, &cases[i], &plan, &errors) != WH_OK)
            fail_msg("%zu: %s", i, wh_errors_text(arena, &errors));
        if (strcmp(ids(arena, plan, 0, plan->done_count), cases[i].done) != 0)
            fail_msg("%zu, done: %s", i, ids(arena, plan, 0, plan->done_count));
        if (strcmp(ids(arena, plan, plan->done_count, plan->step_count), cases[i].ahead) != 0)
            fail_msg("%zu, ahead: %s\nwanted: %s", i, ids(arena, plan, plan->done_count, plan->step_count),
                     cases[i].ahead);
        assert_int_equal(plan->notes.count, cases[i].note ? 1 : 0);
        if (cases[i].note) assert_string_equal(plan->notes.at[0], cases[i].note);
    }
    return WH_OK;
}

ARENA_TEST(a_step_that_the_job_does_not_have_is_refused)
{
    static const struct anew wrong = {HEAD STACK, "gear", "off cover;off rign", NULL, NULL, NULL};
    struct wh_errors errors = wh_errors_in(arena);
    struct wh_plan *none = NULL;
    assert_int_equal(plan_anew(arena, &wrong, &none, &errors), WH_ERR_INPUT);
    assert_int_equal(errors.count, 1);
    assert_string_equal(errors.first->says, "no step of trial.yaml is \"off rign\"");
    assert_string_equal(errors.first->right, "did you mean \"off ring\"?");
    return WH_OK;
}

ARENA_TEST(a_step_says_why_it_stands_there)
{
    static const struct anew stack = {HEAD STACK, "gear", "", NULL, NULL, NULL};
    struct wh_errors errors = wh_errors_in(arena);
    struct wh_plan *plan = NULL;
    assert_int_equal(plan_anew(arena, &stack, &plan, &errors), WH_OK);
    assert_string_equal(ids(arena, plan, 0, plan->step_count),
                        "off cover;off ring;off gear;wash;clean;on gear;on ring;on cover;whole");
    struct wh_why ring = wh_plan_why(arena, plan, 1);
    assert_string_equal(ring.asked_by->task->id, "off gear");
    assert_true(ring.asked_before);
    assert_string_equal(plan->machine->things[ring.toward].id, "gear");
    assert_string_equal(ring.after[0]->task->id, "off cover");
    assert_string_equal(ring.before[0]->task->id, "off gear");
    assert_null(ring.earliest);
    assert_null(ring.latest);
    check_close(ring.lengthens, 1, 1e-9, 0);
    check_close(ring.spare, 0, 1e-9, 0);
    assert_null(wh_plan_why(arena, plan, 2).asked_by);
    return WH_OK;
}

/* While the sleeve warms for 15 min another part is fitted, which takes 7: it may take 8 longer; and where it could
 * stand as well, after the sleeve, that would take as many minutes more as it takes. */
#define WARM                                                                                                           \
    PART("other", MINUTES("1", "7"))                                                                                   \
    "  - id: sleeve\n    is: sleeve\n    seat: land\n    bore: 30 mm H7\n    outside: 40 mm\n    width: 20 mm\n"       \
    "    fitted: warm\n" MINUTES("2", "3") "features:\n  - id: land\n    is: seat\n    diameter: 30 mm n6\n"

ARENA_TEST(minutes_inside_a_wait_do_not_matter_until_it_is_full)
{
    static const struct anew warm = {HEAD WARM, "other, sleeve", "", NULL, NULL, NULL};
    struct wh_errors errors = wh_errors_in(arena);
    struct wh_plan *plan = NULL;
    assert_int_equal(plan_anew(arena, &warm, &plan, &errors), WH_OK);
    assert_string_equal(ids(arena, plan, 0, plan->step_count),
                        "off other;off sleeve;clean;warm sleeve;on other;on sleeve;whole");
    const double *spare = wh_plan_spare(arena, plan);
    check_close(spare[4], 480, 61, 0);
    check_close(spare[5], 0, 1e-9, 0);
    struct wh_why other = wh_plan_why(arena, plan, 4);
    assert_string_equal(other.latest->task->id, "on sleeve");
    check_close(other.later_costs, 420, 1, 0);
    check_close(other.lengthens, 0, 1e-9, 0);
    return WH_OK;
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_is_done_stands_and_the_rest_follows),
        cmocka_unit_test(a_step_that_the_job_does_not_have_is_refused),
        cmocka_unit_test(a_step_says_why_it_stands_there),
        cmocka_unit_test(minutes_inside_a_wait_do_not_matter_until_it_is_full),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
