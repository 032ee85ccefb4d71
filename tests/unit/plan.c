/* Plans of tiny machines, told as lines of steps: what the order has to be stands beside each. */
#include "base/text.h"
#include "check.h"
#include "plan/plan.h"

#include <string.h>

#define HEAD "format: 1\nmachine:\n  title: Trial\n  speed: 1000 rpm\n"
#define PART(id, more) "  - id: " id "\n    is: plate\n" more
#define MINUTES(off, on) "    off: " off " min\n    on: " on " min\n"
#define FIRST(ids) "    off first: " ids "\n"

static enum wh_status try(struct wh_arena *arena, const char *text, const char *renew, int fitters,
                          struct wh_plan **ret, struct wh_errors *errors)
{
    struct wh_machine *machine;
    struct wh_sheet *sheet;
    struct wh_indices named;
    struct wh_plan_ask ask = {fitters, WH_PLAN_NODES};
    enum wh_status status = wh_machine_read_text(arena, "trial.yaml", text, strlen(text), &machine, errors);
    if (status == WH_OK) status = wh_sheet_make(arena, machine, NULL, 0, &sheet, errors);
    if (status == WH_OK) status = wh_plan_parts(arena, machine, renew, &named, errors);
    if (status != WH_OK) return status;
    return wh_plan_make(arena, machine, sheet, named.at, named.count, &ask, ret, errors);
}

static struct wh_plan *plan(struct wh_arena *arena, const char *text, const char *renew, int fitters)
{
    struct wh_errors errors = wh_errors_in(arena);
    struct wh_plan *found = NULL;
    if (try(arena, text, renew, fitters, &found, &errors) != WH_OK)
        fail_msg("%s: %s", renew, wh_errors_text(arena, &errors));
    return found;
}

/* "off cover", "warm sleeve", "check gap": a step in a word and an id; "back: off foot" where the machine is turned. */
static const char *step_words(struct wh_arena *arena, const struct wh_plan *plan, const struct wh_step *step)
{
    static const char *const words[] = {"check", "hold", "off",  "wash",    "clean", "on",
                                        "set",   "away", "fill", "isolate", "turn",  "whole"};
    const struct wh_machine *machine = plan->machine;
    const struct wh_task *task = step->task;
    const char *word = task->is == WH_TASK_ON && !task->last_piece ? "warm" : words[task->is];
    const char *id = task->is == WH_TASK_CHECK  ? machine->checks[task->check].id
                     : task->is == WH_TASK_HOLD ? machine->holds[task->hold].id
                     : task->thing != WH_NONE   ? machine->things[task->thing].id
                                                : "";
    const char *turned = step->turned_to == WH_NONE ? "" : machine->ways_up[step->turned_to].id;
    return wh_arena_print(arena, "%s%s%s%s%s", turned, *turned ? ": " : "", word, *id ? " " : "", id);
}

static const char *line_of(struct wh_arena *arena, const struct wh_plan *plan)
{
    struct wh_text line = {.arena = arena};
    for (size_t s = 0; s < plan->step_count; s++)
        wh_text_print(&line, "%s%s", s ? ", " : "", step_words(arena, plan, &plan->steps[s]));
    return wh_text_of(&line);
}

/* The one step of these words. */
static const struct wh_step *step_of(struct wh_arena *arena, const struct wh_plan *plan, const char *words)
{
    const struct wh_step *found = NULL;
    for (size_t s = 0; s < plan->step_count; s++)
        if (strcmp(step_words(arena, plan, &plan->steps[s]), words) == 0) {
            if (found) fail_msg("\"%s\" stands twice: %s", words, line_of(arena, plan));
            found = &plan->steps[s];
        }
    if (!found) fail_msg("no \"%s\": %s", words, line_of(arena, plan));
    return found;
}

#define COVER_RING_GEAR                                                                                                \
    "parts:\n" PART("cover", MINUTES("1", "2")) PART("ring", FIRST("cover") MINUTES("2", "3"))                         \
        PART("gear", FIRST("ring") MINUTES("4", "5"))

#define GEAR_RING_COVER                                                                                                \
    "parts:\n" PART("gear", FIRST("ring") MINUTES("4", "5")) PART("ring", FIRST("cover") MINUTES("2", "3"))            \
        PART("cover", MINUTES("1", "2"))

struct job {
    const char *text, *renew, *steps;
};

/* Only what is in the way comes off, and it goes back in the mirrored sequence, however the file lists the parts. */
static const struct job mirrored[] = {
    {HEAD COVER_RING_GEAR, "gear", "off cover, off ring, off gear, wash, clean, on gear, on ring, on cover, whole"},
    {HEAD GEAR_RING_COVER, "gear", "off cover, off ring, off gear, wash, clean, on gear, on ring, on cover, whole"},
    {HEAD COVER_RING_GEAR, "cover", "off cover, clean, on cover, whole"},
    {HEAD COVER_RING_GEAR PART("lid", MINUTES("1", "1")) PART("foot", FIRST("ring or lid") MINUTES("1", "1")), "foot",
     "off lid, off foot, wash, clean, on foot, on lid, whole"}, /* lid 2 min; ring 5 min and its cover 3 */
};

#define TWO_WAYS                                                                                                       \
    "parts:\n" PART("lid", MINUTES("10", "11")) PART("plug", MINUTES("1", "2")) PART("bed", MINUTES("12", "13"))       \
        PART("gear", "    one way:\n      title: up\n      off first: lid\n      off: 4 min\n      on: 4 min\n"        \
                     "    other way:\n      title: down\n      off first: plug\n      off: 5 min\n      on: 6 min\n")

/* The cheaper of two ways is gone; a part to look at, or one that another disturbs, comes off too. */
static const struct job looked_at[] = {
    {HEAD TWO_WAYS, "gear", "off plug, off gear, wash, clean, on gear, on plug, whole"},
    {HEAD COVER_RING_GEAR PART("bush", "    look when renewed: gear\n" MINUTES("1", "1")), "ring",
     "off cover, off ring, wash, clean, on ring, on cover, whole"},
    {HEAD COVER_RING_GEAR PART("bush", FIRST("gear") "    look when renewed: ring\n" MINUTES("1", "1")), "ring",
     "off cover, off ring, off gear, off bush, wash, clean, on bush, on gear, on ring, on cover, whole"},
    {HEAD COVER_RING_GEAR PART("bush", "    disturbed by: cover\n" FIRST("cover") MINUTES("1", "1")), "cover",
     "off cover, off bush, wash, clean, on bush, on cover, whole"},
    {HEAD COVER_RING_GEAR PART("bush", "    disturbed by: ring\n" MINUTES("1", "1")), "cover",
     "off cover, clean, on cover, whole"},
};

#define JACK(more) "fixtures:\n  - id: jack\n    off: 1 min\n    on: 1 min\n" more

#define GAP_WITH_JACK                                                                                                  \
    "checks:\n  - id: gap\n    title: Gap\n    of: ring\n    phase: strip\n    after: off ring\n"                      \
    "    before: off gear\n    with: jack\n    expects: even\n"

static const struct job with_fixtures[] = {
    {HEAD "parts:\n" PART("gear", "    with: jack\n" MINUTES("1", "1")) JACK(""), "gear",
     "set jack, off gear, away jack, clean, set jack, on gear, away jack, whole"},
    {HEAD "parts:\n" PART("gear", "    off with: jack\n" MINUTES("1", "1")) JACK(""), "gear",
     "set jack, off gear, away jack, clean, on gear, whole"},
    {HEAD "parts:\n" PART("gear", "    on with: jack\n" MINUTES("1", "1")) JACK(""), "gear",
     "off gear, clean, set jack, on gear, away jack, whole"},
    {HEAD "parts:\n" PART("gear", "    with: jack\n" MINUTES("1", "1")) JACK("    stays: yes\n"), "gear",
     "set jack, off gear, clean, on gear, away jack, whole"},
    {HEAD "parts:\n" PART("gear", "    with: jack\n" MINUTES("1", "1")) PART("plug", MINUTES("1", "1"))
         JACK(FIRST("plug")),
     "gear", "off plug, set jack, off gear, away jack, wash, clean, set jack, on gear, away jack, on plug, whole"},
    {HEAD COVER_RING_GEAR JACK("    out before: off gear\n") GAP_WITH_JACK, "gear",
     "off cover, off ring, set jack, check gap, away jack, off gear, wash, clean, on gear, on ring, on cover, whole"},
};

/* The machine is turned only while what must be off is off; a sump that was drained is filled after the last turning.
 * A part that names no way up comes off as the machine stands. */
#define WAYS_UP(off)                                                                                                   \
    "ways up:\n  - id: upright\n    title: Upright\n"                                                                  \
    "  - id: back\n    title: On its back\n    turning: 6 min\n    off first: " off "\n"
#define FOOT                                                                                                           \
    "parts:\n" PART("motor", "    way up: upright\n" MINUTES("1", "1")) PART("plug", MINUTES("1", "1"))                \
        PART("foot", "    way up: back\n" MINUTES("1", "1")) "features:\n  - id: pot\n    is: sump\n    oil: ISO VG "  \
                                                             "46\n    drained by: plug\n    level: the mark\n"

static const struct job turned[] = {
    {HEAD WAYS_UP("motor") FOOT, "foot", "off motor, back: off foot, wash, clean, on foot, upright: on motor, whole"},
    {HEAD WAYS_UP("pot") FOOT, "foot",
     "off plug, back: off foot, wash, clean, on foot, upright: on plug, fill pot, whole"},
    {HEAD WAYS_UP("pot") FOOT, "motor", "off motor, clean, on motor, whole"},
};

#define CHECK(id, phase, more)                                                                                         \
    "  - id: " id "\n    title: T\n    of: gear\n    expects: good\n    takes: 1 min\n    phase: " phase "\n" more

#define AFTER_GEAR "    after: on gear\n    before: on ring\n"

static const struct job checked[] = {
    {HEAD COVER_RING_GEAR "checks:\n" CHECK("found", "strip", "    before: off gear\n    after: off ring\n")
         CHECK("left", "rebuild", "    after: on gear\n    before: on ring\n") CHECK("run", "test", "")
             CHECK("heard", "running", "") CHECK("size", "washed", "    after: off gear\n"),
     "gear",
     "check heard, off cover, off ring, check found, off gear, wash, check size, clean, on gear, check left, on ring, "
     "on cover, whole, check run"},
    {HEAD COVER_RING_GEAR "checks:\n" CHECK("left", "rebuild", "    after: on cover\n    needed when: on gear\n")
         CHECK("later", "later", "    needed when: off gear\n"),
     "ring", "off cover, off ring, wash, clean, on ring, on cover, whole"},
    {HEAD COVER_RING_GEAR "checks:\n" CHECK("left", "rebuild", "    after: on cover\n    needed when: on ring\n")
         CHECK("later", "later", "    needed when: off ring\n"),
     "ring", "off cover, off ring, wash, clean, on ring, on cover, check left, whole, check later"},
    {HEAD COVER_RING_GEAR "checks:\n" CHECK("bump", "rebuild", AFTER_GEAR "    power: yes\n")
         CHECK("gap", "rebuild", AFTER_GEAR),
     "gear",
     "off cover, off ring, off gear, wash, clean, on gear, check bump, isolate, check gap, on ring, on cover, whole"},
    {HEAD "holds:\n  - id: dead\n    title: Dead\n    text: Off.\n  - id: free\n    title: Free\n    text: Free.\n"
          "    before power: yes\n" COVER_RING_GEAR,
     "cover", "hold dead, off cover, clean, on cover, hold free"},
};

/* What leaves with another part is off before it and on after it where it comes off in the frame, later and earlier on
 * the bench; a flat gasket goes in right before what closes it, with what is set for that; a fixture is an event. */
#define CARRIED(at)                                                                                                    \
    "parts:\n" PART("key", "    look when renewed: gear\n" at MINUTES("1", "1"))                                       \
        PART("shaft", "    carries: key\n" MINUTES("1", "1")) PART("gear", FIRST("shaft") MINUTES("1", "1"))
#define GASKET                                                                                                         \
    PART("cover", "    on with: jack\n" MINUTES("1", "1"))                                                             \
    "  - id: gasket\n    is: gasket\n    disturbed by: cover\n" FIRST("cover") MINUTES("1", "1")

static const struct job together[] = {
    {HEAD CARRIED(""), "gear", "off key, off shaft, off gear, wash, clean, on gear, on shaft, on key, whole"},
    {HEAD CARRIED("    at: bench\n" FIRST("shaft")), "gear",
     "off shaft, off key, off gear, wash, clean, on gear, on key, on shaft, whole"},
    {HEAD "parts:\n" GASKET PART("gear", "    look when renewed: cover\n" MINUTES("1", "1")) JACK(""), "cover",
     "off cover, off gasket, off gear, wash, clean, on gear, on gasket, set jack, on cover, away jack, whole"},
    {HEAD COVER_RING_GEAR JACK("") "checks:\n" CHECK("gap", "rebuild", AFTER_GEAR "    with: jack\n")
         CHECK("back", "rebuild", "    after: off jack\n    before: on cover\n"),
     "gear",
     "off cover, off ring, off gear, wash, clean, on gear, set jack, check gap, away jack, check back, on ring, "
     "on cover, whole"},
};

/* Licensed work is gathered as far as nothing forbids it, and a check of it follows at once. */
#define LEADS(by)                                                                                                      \
    "parts:\n" PART("cover", MINUTES("1", "1")) PART("lamp", by MINUTES("1", "1")) PART("hood", MINUTES("1", "1"))     \
        PART("coil", by FIRST("hood") MINUTES("1", "1"))                                                               \
            PART("gear", "    renew: always\n" FIRST("cover, lamp, hood, coil") MINUTES("1", "1"))
#define TRADES "trades:\n  - id: electrician\n    title: electrician\n    call: 10 min\n"
#define BUMP "checks:\n" CHECK("bump", "rebuild", "    by: electrician\n    after: on coil\n    power: yes\n")

static const struct job licensed[] = {
    {HEAD LEADS(""), "gear",
     "off cover, off lamp, off hood, off coil, off gear, wash, clean, on gear, on coil, on hood, on lamp, on cover, "
     "whole"},
    {HEAD TRADES LEADS("    by: electrician\n"), "gear",
     "off cover, off hood, off lamp, off coil, off gear, wash, clean, on gear, on coil, on lamp, on hood, on cover, "
     "whole"},
    {HEAD TRADES LEADS("    by: electrician\n") BUMP, "gear",
     "off cover, off hood, off lamp, off coil, off gear, wash, clean, on gear, on coil, check bump, isolate, on lamp, "
     "on hood, on cover, whole"},
};

static void check_jobs(struct wh_arena *arena, const struct job jobs[], size_t n)
{
    for (size_t i = 0; i < n; i++) {
        const char *line = line_of(arena, plan(arena, jobs[i].text, jobs[i].renew, 1));
        if (strcmp(line, jobs[i].steps) != 0)
            fail_msg("%zu, --renew %s:\n  %s\nwanted:\n  %s", i, jobs[i].renew, line, jobs[i].steps);
    }
}

#define JOBS_TEST(name, jobs)                                                                                          \
    ARENA_TEST(name)                                                                                                   \
    {                                                                                                                  \
        check_jobs(arena, jobs, sizeof jobs / sizeof *jobs);                                                           \
        return WH_OK;                                                                                                  \
    }
JOBS_TEST(what_came_off_first_goes_on_last, mirrored)
JOBS_TEST(looks_and_disturbed_parts_come_off_too, looked_at)
JOBS_TEST(fixtures_stand_for_their_users_only, with_fixtures)
JOBS_TEST(turning_waits_for_what_must_be_off, turned)
JOBS_TEST(checks_stand_where_they_belong, checked)
JOBS_TEST(what_belongs_together_stays_together, together)
JOBS_TEST(licensed_work_is_gathered, licensed)

ARENA_TEST(the_other_way_is_priced)
{
    struct wh_plan *chosen = plan(arena, HEAD TWO_WAYS, "gear", 1);
    assert_int_equal(chosen->other_count, 1);
    assert_int_equal(chosen->others[0].way, 1);
    check_close(chosen->others[0].more, 15 * 60, 1e-6, 0); /* lid 21 and gear 8 against plug 3 and gear 11 */
    check_close(chosen->others[0].hands, 15 * 60, 1e-6, 0);
    struct wh_plan *looked = plan(arena, HEAD TWO_WAYS "    look when renewed: bed\n", "bed", 1);
    assert_true(looked->off[wh_machine_thing(looked->machine, "gear")]);
    assert_int_equal(looked->other_count, 0); /* only what was asked for by name is compared */
    return WH_OK;
}

ARENA_TEST(a_look_turns_the_choice)
{
    const char *text =
        HEAD "parts:\n" PART("lid", "    look when renewed: gear\n" MINUTES("10", "11")) PART("plug", MINUTES("1", "2"))
            PART("gear", "    one way:\n      off first: lid\n      off: 4 min\n      on: 4 min\n"
                         "    other way:\n      off first: plug\n      off: 5 min\n      on: 6 min\n");
    struct wh_plan *chosen = plan(arena, text, "gear", 1);
    assert_int_equal(chosen->others[0].way, 0);
    check_close(chosen->others[0].more, 6 * 60, 1e-6, 0); /* the lid is off both ways: 8 against 11 and plug 3 */
    return WH_OK;
}

ARENA_TEST(a_wait_keeps_its_time_and_says_why)
{
    const char *text = HEAD COVER_RING_GEAR "waits:\n  - id: cold\n    after: on gear\n    before: on ring\n"
                                            "    at least: 30 min\n    because: the gear cools\n";
    struct wh_plan *waiting = plan(arena, text, "gear", 1);
    const struct wh_step *ring = step_of(arena, waiting, "on ring");
    check_close(ring->start - step_of(arena, waiting, "on gear")->end, 1800, 1e-6, 0);
    check_close(ring->waited, 1800, 1e-6, 0);
    assert_string_equal(ring->wait_because, "the gear cools");
    return WH_OK;
}

#define WARM_SLEEVE                                                                                                    \
    "  - id: sleeve\n    is: sleeve\n    seat: land\n    bore: 30 mm H7\n    outside: 40 mm\n    width: 20 mm\n"       \
    "    fitted: warm\n" MINUTES("2", "3")
#define LAND "features:\n  - id: land\n    is: seat\n    diameter: 30 mm n6\n"

ARENA_TEST(a_warm_part_is_slid_on_once_it_is_warm)
{
    struct wh_plan *alone = plan(arena, HEAD "parts:\n" WARM_SLEEVE LAND, "sleeve", 1);
    assert_string_equal(line_of(arena, alone), "off sleeve, clean, warm sleeve, on sleeve, whole");
    const struct wh_step *slide = step_of(arena, alone, "on sleeve");
    check_close(slide->start - step_of(arena, alone, "warm sleeve")->end, 900, 1e-6, 0);
    assert_string_equal(slide->wait_because, "warming");
    return WH_OK;
}

/* Warming takes 15 min and holds for 10 more: 20 min of other work fit in, 40 min do not. */
ARENA_TEST(other_work_fits_the_warming_or_stays_out)
{
    struct wh_plan *fits =
        plan(arena, HEAD "parts:\n" WARM_SLEEVE PART("long", MINUTES("1", "20")) LAND, "sleeve,long", 1);
    check_close(step_of(arena, fits, "on long")->start, step_of(arena, fits, "warm sleeve")->end, 1e-6, 0);
    check_close(step_of(arena, fits, "on sleeve")->start, step_of(arena, fits, "on long")->end, 1e-6, 0);
    check_close(step_of(arena, fits, "on sleeve")->waited, 0, 1e-6, 0);
    struct wh_plan *stays =
        plan(arena, HEAD "parts:\n" WARM_SLEEVE PART("long", MINUTES("1", "40")) LAND, "sleeve,long", 1);
    check_close(step_of(arena, stays, "on sleeve")->start - step_of(arena, stays, "warm sleeve")->end, 900, 1e-6, 0);
    return WH_OK;
}

ARENA_TEST(two_fitters_share_what_can_be_shared)
{
    const char *text = HEAD "parts:\n" PART("left", MINUTES("10", "10")) PART("right", MINUTES("10", "10"));
    struct wh_plan *one = plan(arena, text, "left,right", 1), *two = plan(arena, text, "left,right", 2);
    check_close(one->total - two->total, 20 * 60, 1e-6, 0);
    assert_int_not_equal(step_of(arena, two, "off left")->fitter, step_of(arena, two, "off right")->fitter);
    check_close(step_of(arena, two, "off left")->start, step_of(arena, two, "off right")->start, 1e-6, 0);
    text = HEAD "parts:\n" PART("left", "    crew: 2\n" MINUTES("10", "10")) PART("right", MINUTES("10", "10"));
    struct wh_plan *crew = plan(arena, text, "left,right", 2);
    check_close(crew->total, one->total, 1e-6, 0);
    assert_int_equal(step_of(arena, crew, "off left")->crew, 2);
    return WH_OK;
}

struct refused {
    const char *renew, *says, *right;
};

ARENA_TEST(what_cannot_be_renewed_is_refused)
{
    static const char text[] =
        HEAD COVER_RING_GEAR PART("bowl", "    renew: never\n" MINUTES("1", "1")) PART("frame", "") JACK("");
    static const struct refused cases[] = {
        {"bowl", "\"bowl\" is renewed only with the maker", "ask the maker"},
        {"frame", "\"frame\" does not come off", NULL},
        {"jack", "\"jack\" does not come off", NULL},
        {"gaer", "there is no part \"gaer\"", "did you mean \"gear\"?"},
        {"", "no part is named", "--renew"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct wh_errors errors = wh_errors_in(arena);
        struct wh_plan *none = NULL;
        assert_int_equal(try(arena, text, cases[i].renew, 1, &none, &errors), WH_ERR_INPUT);
        assert_null(none);
        assert_int_equal(errors.count, 1);
        if (!strstr(errors.first->says, cases[i].says)) fail_msg("%s: %s", cases[i].renew, errors.first->says);
        assert_true(!cases[i].right || (errors.first->right && strstr(errors.first->right, cases[i].right)));
    }
    return WH_OK;
}

ARENA_TEST(the_kit_lists_what_is_renewed)
{
    const char *text = HEAD COVER_RING_GEAR PART("joint", FIRST("cover") "    disturbed by: cover\n"
                                                                         "    renew: always\n" MINUTES("1", "1"));
    struct wh_plan *made = plan(arena, text, "ring", 1);
    assert_int_equal(made->kit.part_count, 2);
    assert_string_equal(made->kit.parts[0].title, "ring");
    assert_true(made->kit.parts[0].named);
    assert_string_equal(made->kit.parts[1].title, "joint");
    assert_false(made->kit.parts[1].named);
    return WH_OK;
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_came_off_first_goes_on_last),
        cmocka_unit_test(looks_and_disturbed_parts_come_off_too),
        cmocka_unit_test(fixtures_stand_for_their_users_only),
        cmocka_unit_test(turning_waits_for_what_must_be_off),
        cmocka_unit_test(checks_stand_where_they_belong),
        cmocka_unit_test(what_belongs_together_stays_together),
        cmocka_unit_test(licensed_work_is_gathered),
        cmocka_unit_test(the_other_way_is_priced),
        cmocka_unit_test(a_look_turns_the_choice),
        cmocka_unit_test(a_wait_keeps_its_time_and_says_why),
        cmocka_unit_test(a_warm_part_is_slid_on_once_it_is_warm),
        cmocka_unit_test(other_work_fits_the_warming_or_stays_out),
        cmocka_unit_test(two_fitters_share_what_can_be_shared),
        cmocka_unit_test(what_cannot_be_renewed_is_refused),
        cmocka_unit_test(the_kit_lists_what_is_renewed),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
