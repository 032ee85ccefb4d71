/* Machine files: a small one is read as it stands, and each mistake a newcomer makes is told with its place and what
 * would be right. */
#include "base/text.h"
#include "check.h"
#include "machine/machine.h"

#include <string.h>

static const char good[] = "format: 1\n"
                           "machine:\n"
                           "  title: Bench fan\n"
                           "  speed: 1450 rpm\n"
                           "gauges:\n"
                           "  - id: feeler\n"
                           "    title: Feeler gauge\n"
                           "    uncertainty: 0.02 mm\n"
                           "features:\n"
                           "  - id: shaft-seat\n"
                           "    is: seat\n"
                           "    diameter: 25 mm k6\n"
                           "parts:\n"
                           "  - id: guard\n"
                           "    is: guard\n"
                           "    off: 3 min\n"
                           "    on: 4 min\n"
                           "  - id: shaft-bearing\n"
                           "    is: bearing\n"
                           "    designation: 6205\n"
                           "    seat: shaft-seat\n"
                           "    mass: 0.13 kg\n"
                           "    off first: guard\n"
                           "    off: 5 min\n"
                           "    on: 6 min\n"
                           "checks:\n"
                           "  - id: gap\n"
                           "    title: Gap at the wheel\n"
                           "    of: shaft-bearing\n"
                           "    limits: 1.0..1.5 mm\n"
                           "    gauge: feeler\n"
                           "    phase: rebuild\n"
                           "    hold: yes\n"
                           "    at: bench\n";

/* The good file with one piece of text put in the place of another. */
static const char *with(struct wh_arena *arena, const char *old, const char *instead)
{
    const char *at = strstr(good, old);
    if (!at) fail_msg("the good file does not hold \"%s\"", old);
    return wh_arena_print(arena, "%.*s%s%s", (int)(at - good), good, instead, at + strlen(old));
}

static struct wh_machine *read(struct wh_arena *arena, const char *text, struct wh_errors *errors)
{
    struct wh_machine *machine = NULL;
    enum wh_status status = wh_machine_read_text(arena, "fan.yaml", text, strlen(text), &machine, errors);
    assert_true((status == WH_OK) == (machine != NULL));
    assert_true((status == WH_OK) == (errors->count == 0));
    return machine;
}

ARENA_TEST(a_good_file_is_read_as_it_stands)
{
    struct wh_errors errors = wh_errors_in(arena);
    struct wh_machine *machine = read(arena, good, &errors);
    if (!machine) fail_msg("%s", wh_errors_text(arena, &errors));
    const struct wh_thing *bearing = &machine->things[wh_machine_thing(machine, "shaft-bearing")];
    assert_string_equal(machine->title, "Bench fan");
    assert_string_equal(bearing->kind->name, "bearing");
    check_close(bearing->mass, 0.13, 1e-12, 0);
    check_close(bearing->ways[0].on, 360, 1e-9, 0);
    assert_int_equal(bearing->ways[0].off_first.count, 1);
    assert_int_equal(wh_thing_role(machine, wh_machine_thing(machine, "shaft-bearing"), "seat"),
                     wh_machine_thing(machine, "shaft-seat"));
    const struct wh_check *gap = &machine->checks[wh_machine_check(machine, "gap")];
    check_close(gap->least, 1e-3, 1e-15, 0);
    check_close(gap->most, 1.5e-3, 1e-15, 0);
    assert_true(gap->hold && gap->bench && !gap->power);
    return WH_OK;
}

struct mistake {
    const char *old, *instead; /* what is changed */
    const char *begins;        /* the error: its place and first words */
    const char *holds;         /* and what it has to say, too */
};

static const struct mistake mistakes[] = {
    {"mass:", "mas:", "fan.yaml:22:5: ", "did you mean \"mass\"?"},
    {"    hold: yes\n", "    hold: yes\n    hold: no\n", "fan.yaml:34:5: ", "\"hold\" is doubled"},
    {"0.13 kg", "0.13", "fan.yaml:22:11: ", "bare number"},
    {"0.13 kg", "0.13 mm", "fan.yaml:22:11: ", "wrong kind of unit"},
    {"0.13 kg", "0.13 kgs", "fan.yaml:22:11: ", "not known"},
    {"0.13 kg", "-2 kg", "fan.yaml:22:11: ", "out of range"},
    {"off first: guard", "off first: gaurd", "fan.yaml:23:16: ", "did you mean \"guard\"?"},
    {"seat: shaft-seat", "seat: saft-seat", "fan.yaml:21:11: ", "did you mean \"shaft-seat\"?"},
    {"of: shaft-bearing", "of: bearings", "fan.yaml:29:9: ", "no part \"bearings\""},
    {"gauge: feeler", "gauge: feler", "fan.yaml:31:12: ", "did you mean \"feeler\"?"},
    {"is: bearing", "is: baering", "fan.yaml:19:9: ", "did you mean \"bearing\"?"},
    {"seat: shaft-seat", "radial load: as shaft-bearing.axial-load\n    axial load: as shaft-bearing.radial-load",
     "fan.yaml:21:18: ", "\"as shaft-bearing.axial-load\" leads back to itself"},
    {"seat: shaft-seat", "radial load: as shaft-bearing.radial-load", "fan.yaml:21:18: ", "leads back to itself"},
    {"25 mm k6", "25 mm kk6", "fan.yaml:12:15: ", "kk6"},
    {"6205", "6205x", "fan.yaml:20:18: ", "6205x"},
    {"1.0..1.5 mm", "1.5..1.0 mm", "fan.yaml:30:13: ", "reversed"},
    {"1.0..1.5 mm", "1.0 mm", "fan.yaml:30:13: ", "not limits"},
    {"id: shaft-bearing", "id: guard", "fan.yaml:", "guard"},
    {"format: 1", "format: 2", "fan.yaml:1:9: ", "format: 1"},
    {"phase: rebuild", "phase: rebiuld", "fan.yaml:32:12: ", "running|strip|washed|rebuild"},
    {"  title: Bench fan\n", " title: Bench fan\n  of: b\n", "fan.yaml:", "\n  | "},
    {"mass: 0.13 kg", "mass: &m 0.13 kg", "fan.yaml:22:11: ", "anchors"},
    {"mass: 0.13 kg", "mass: {a: 1}", "fan.yaml:22:11: ", "braces"},
    {"    off: 3 min\n", "    off first: shaft-bearing\n    off: 3 min\n", "fan.yaml:", "can never come off"},
    {"    off: 3 min\n    on: 4 min\n", "", "fan.yaml:", "nobody can reach \"shaft-bearing\""},
};

ARENA_TEST(each_mistake_is_told_with_its_place)
{
    for (size_t i = 0; i < sizeof mistakes / sizeof *mistakes; i++) {
        const struct mistake *m = &mistakes[i];
        struct wh_errors errors = wh_errors_in(arena);
        read(arena, with(arena, m->old, m->instead), &errors);
        const char *text = wh_errors_text(arena, &errors);
        if (!wh_starts(text, m->begins) || !strstr(text, m->holds))
            fail_msg("\"%s\" to \"%s\" says:\n%swanted: %s…%s", m->old, m->instead, text, m->begins, m->holds);
    }
    return WH_OK;
}

ARENA_TEST(all_errors_of_sense_come_at_once)
{
    struct wh_errors errors = wh_errors_in(arena);
    const char *text = wh_arena_print(arena, "%s  - id: a\n    titel: b\n    of: nothing\n    limits: 3\n", good);
    assert_null(read(arena, text, &errors));
    assert_true(errors.count >= 4); /* the key, the title it leaves missing, the part, the limits */
    return WH_OK;
}

ARENA_TEST(a_missing_key_is_told)
{
    struct wh_errors errors = wh_errors_in(arena);
    assert_null(read(arena, "format: 1\nparts:\n  - id: a\n", &errors));
    assert_non_null(strstr(wh_errors_text(arena, &errors), "\"machine\" is missing"));
    return WH_OK;
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_good_file_is_read_as_it_stands),
        cmocka_unit_test(each_mistake_is_told_with_its_place),
        cmocka_unit_test(all_errors_of_sense_come_at_once),
        cmocka_unit_test(a_missing_key_is_told),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
