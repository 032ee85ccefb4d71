/* A job: holds and their lapsing, readings and their verdicts, amendments, contests, what asks for a new plan. */
#include "job_sample.h"

#include "base/text.h"
#include "check.h"

#include <string.h>

ARENA_TEST(no_hand_goes_in_before_every_energy_is_released_by_that_hand)
{
    struct sample s = sample_open(arena);
    assert_int_equal(wh_job_state(&s.job), WH_JOB_PLANNED);
    sample_take(&s, "Ada", "reading", "check=lean-found|value=0.05");
    sample_refuse(&s, "Ada", "done", "steps=off cover", "energy \"mains\" is to be released by Ada");
    sample_refuse(&s, "Ada", "released", "hold=mains", "\"tried\" is missing");
    sample_refuse(&s, "", "released", "hold=mains|tried=button", "an entry has a name");
    sample_isolate(&s, "Ada");
    sample_refuse(&s, "Ben", "done", "steps=off cover", "energy \"water\" is to be released by Ben");
    sample_take(&s, "Ada", "done", "steps=off cover|minutes=6");
    assert_int_equal(wh_job_state(&s.job), WH_JOB_ON_BENCH);
    check_close(wh_job_step(&s.job, "off cover")->actual, 6, 0, 0);
    return WH_OK;
}

ARENA_TEST(a_hold_is_never_taken_from_a_queue_and_can_be_refused)
{
    struct sample s = sample_open(arena);
    s.live = false;
    sample_refuse(&s, "Ada", "released", "hold=mains|tried=button", "not taken from a queue");
    sample_take(&s, "Ada", "reading", "check=lean-found|value=0.05"); /* a reading is */
    s.live = true;
    sample_isolate(&s, "Ada");
    sample_take(&s, "Ada", "refused", "hold=water|because=valve drips");
    sample_refuse(&s, "Ada", "done", "steps=off cover", "energy \"water\"");
    assert_non_null(strstr(wh_job_open(arena, &s.job).at[0], "refused by Ada because valve drips"));
    s.seen = s.job.seq - 1; /* a form made before the refusal */
    sample_refuse(&s, "Ada", "released", "hold=water|tried=drain cock", "was made meanwhile");
    s.seen = -1;
    sample_take(&s, "Ada", "released", "hold=water|tried=drain cock dry after a new seal");
    sample_take(&s, "Ada", "done", "steps=off cover");
    return WH_OK;
}

/* Bump, test run, change of shift and wait: each time all over again; what lasts, lasts. */
ARENA_TEST(releases_lapse)
{
    static const char *const ways[][2] = {{"lapsed", "because=bump"},
                                          {"lapsed", "because=test run"},
                                          {"lapsed", "because=shift change"},
                                          {"waiting", "for=a sleeve"}};
    for (size_t i = 0; i < 4; i++) {
        struct sample s = sample_open(arena);
        sample_take(&s, "Ada", "reading", "check=lean-found|value=0.05");
        sample_isolate(&s, "Ada");
        sample_take(&s, "Ada", ways[i][0], ways[i][1]);
        if (i == 3) {
            assert_int_equal(wh_job_state(&s.job), WH_JOB_WAITING);
            sample_refuse(&s, "Ada", "done", "steps=off cover", "the job waits for a sleeve");
            sample_take(&s, "Ada", "resumed", "");
        }
        sample_refuse(&s, "Ada", "done", "steps=off cover", "energy \"mains\" is to be released again by Ada");
        assert_false(wh_job_released(wh_job_hold(&s.job, "mains"), NULL));
        assert_true(wh_job_released(wh_job_hold(&s.job, "kit"), NULL));
    }
    return WH_OK;
}

static void strip(struct sample *s)
{
    sample_take(s, "Ada", "reading", "check=lean-found|value=0.05");
    sample_isolate(s, "Ada");
    sample_take(s, "Ada", "done", "steps=off cover, off bearing");
}

ARENA_TEST(power_ends_the_isolation_and_a_hand_ends_the_guards)
{
    struct sample s = sample_open(arena);
    strip(&s);
    sample_take(&s, "Ada", "reading", "check=seat|value=30.0065");
    sample_take(&s, "Ada", "reading", "check=cracks|value=none|as expected=yes");
    sample_take(&s, "Ada", "done", "steps=on bearing");
    sample_take(&s, "Ada", "reading", "check=rotation|value=clockwise|as expected=yes");
    sample_refuse(&s, "Ada", "done", "steps=on cover", "energy \"mains\" is to be released again");
    sample_refuse(&s, "Ada", "done", "steps=isolate", "energy \"mains\" is to be released again");
    sample_refuse(&s, "Ada", "released", "hold=guards|tried=pulled",
                  "2 steps before it are open, first: Isolate again");
    sample_isolate(&s, "Ada");
    sample_take(&s, "Ada", "done", "steps=isolate");
    sample_take(&s, "Ada", "done", "steps=on cover");
    sample_refuse(&s, "Ada", "started", "steps=check current", "hold \"guards back\" is to be released");
    sample_take(&s, "Ben", "reading", "check=current|value=3.3; 3.3 A"); /* kept, and told */
    const struct wh_tree *judged = wh_tree_get(wh_job_read(&s.job, "current")->body, "judged");
    assert_non_null(strstr(wh_tree_text(judged, "hold", ""), "although hold \"guards back\" is to be released"));
    sample_isolate(&s, "Ada");
    sample_take(&s, "Ada", "released", "hold=guards|tried=pulled at each");
    sample_take(&s, "Ada", "reading", "check=current|value=3.1; 3.2 A");
    judged = wh_tree_get(wh_job_read(&s.job, "current")->body, "judged");
    assert_null(wh_tree_get(judged, "hold"));
    assert_int_equal(wh_job_state(&s.job), WH_JOB_ON_TEST);
    assert_true(wh_job_released(wh_job_hold(&s.job, "guards"), NULL));
    sample_isolate(&s, "Ada");
    sample_take(&s, "Ada", "started", "steps=off cover"); /* it is opened once more */
    assert_false(wh_job_released(wh_job_hold(&s.job, "guards"), NULL));
    return WH_OK;
}

ARENA_TEST(as_found_is_read_before_the_part_comes_off)
{
    struct sample s = sample_open(arena);
    sample_isolate(&s, "Ada");
    sample_refuse(&s, "Ada", "done", "steps=off cover", "reading \"lean\" comes first");
    sample_take(&s, "Ada", "not measured", "check=lean-found|because=the cover was loose");
    sample_take(&s, "Ada", "done", "steps=off cover");
    assert_int_equal(wh_job_step(&s.job, "check lean-found")->mark, WH_MARK_LEFT_OUT);
    struct sample off = sample_open(arena);
    sample_take(&off, "Ada", "done", "steps=off cover|manner=already off");
    assert_int_equal(off.job.replan, off.job.seq);
    sample_refuse(&off, "Ada", "done", "steps=on cover|manner=already off", "only what comes off");
    return WH_OK;
}

ARENA_TEST(a_reading_is_judged_with_its_gauge)
{
    struct sample s = sample_open(arena);
    sample_take(&s, "Ada", "reading", "check=seat|value=30,0065 mm"); /* ± 3 um of the machine file */
    struct wh_job_reading *r = wh_job_read(&s.job, "seat");
    assert_int_equal(r->verdict, WH_WITHIN);
    assert_string_equal(r->says, "within by 0.0045 mm");
    assert_string_equal(r->value, "30,0065 mm");
    sample_take(&s, "Ada", "reading", "check=seat|value=30.0155 mm");
    assert_string_equal(wh_job_read(&s.job, "seat")->says, "outside by 0.0045 mm");
    sample_take(&s, "Ada", "reading", "check=seat|value=30.001 mm");
    r = wh_job_read(&s.job, "seat");
    assert_int_equal(r->verdict, WH_NOT_PROVEN);
    assert_non_null(strstr(r->settles, "0.0010 mm or better; none is in the register"));
    sample_gauge(&s, "{\"name\":\"block-dial\",\"title\":\"dial on blocks\",\"uncertainty\":\"0.0005 mm\"}");
    sample_gauge(&s,
                 "{\"name\":\"old-dial\",\"title\":\"old dial\",\"uncertainty\":\"0.0008 mm\",\"due\":\"2025-11-24\"}");
    sample_take(&s, "Ada", "reading", "check=seat|value=30.001");
    assert_string_equal(wh_job_read(&s.job, "seat")->settles, "dial on blocks, ± 0.0005 mm");
    sample_take(&s, "Ada", "reading", "check=seat|value=30.001|gauge=block-dial");
    assert_int_equal(wh_job_read(&s.job, "seat")->verdict, WH_OUTSIDE);
    sample_take(&s, "Ada", "reading", "check=seat|value=30.0065|gauge=old-dial"); /* 2025-11-25, one day over */
    assert_int_equal(wh_job_read(&s.job, "seat")->verdict, WH_NOT_PROVEN);
    assert_non_null(strstr(wh_job_read(&s.job, "seat")->says, "calibration of old-dial was due on 2025-11-24"));
    sample_take(&s, "Ada", "reading", "check=seat|value=30.0065|gauge=somebody's");
    assert_int_equal(wh_job_read(&s.job, "seat")->verdict, WH_NOT_PROVEN);
    return WH_OK;
}

/* Dial readings all round: the limit is for how far the middle stands off, not for each. Worked by hand: readings of
 * e cos(phi) about any mean have the eccentricity e; that of 8 of them has the uncertainty of one times sqrt(2/8). */
ARENA_TEST(dial_readings_are_judged_by_what_they_make_together)
{
    struct sample s = sample_open(arena);
    sample_take(&s, "Ada", "reading", "check=centre|value=1.2; 1.14142; 1; 0.85858; 0.8; 0.85858; 1; 1.14142");
    struct wh_job_reading *r = wh_job_read(&s.job, "centre");
    assert_int_equal(r->verdict, WH_WITHIN);
    assert_string_equal(r->says, "within by 0.050 mm");
    assert_string_equal(wh_tree_text(wh_tree_get(r->body, "judged"), "eccentricity", ""), "0.200 mm");
    sample_take(&s, "Ada", "reading", "check=centre|value=-0.7; -0.78787; -1; -1.21213; -1.3; -1.21213; -1; -0.78787");
    assert_string_equal(wh_job_read(&s.job, "centre")->says, "outside by 0.050 mm");
    sample_take(&s, "Ada", "reading", "check=centre|value=0.254; 0.1796; 0; -0.1796; -0.254; -0.1796; 0; 0.1796");
    assert_string_equal(wh_job_read(&s.job, "centre")->says,
                        "not proven: 0.0040 mm from the limit, the gauge is ± 0.0050 mm");
    return WH_OK;
}

ARENA_TEST(a_calibration_holds_on_its_last_day)
{
    struct sample s = sample_open(arena);
    sample_gauge(&s, "{\"name\":\"m-1\",\"is\":\"micrometer\",\"uncertainty\":\"0.002 mm\",\"due\":\"2025-11-25\"}");
    sample_take(&s, "Ada", "reading", "check=seat|value=30.0065");
    assert_int_equal(wh_job_read(&s.job, "seat")->verdict, WH_WITHIN);
    assert_string_equal(wh_job_read(&s.job, "seat")->gauge, "m-1");
    s.at += 86400000;
    sample_take(&s, "Ada", "reading", "check=seat|value=30.0065");
    assert_int_equal(wh_job_read(&s.job, "seat")->verdict, WH_NOT_PROVEN);
    assert_string_equal(wh_day(arena, 951782400000), "2000-02-29");
    assert_string_equal(wh_day(arena, -1), "1969-12-31");
    assert_string_equal(wh_day(arena, 4107542400000), "2100-03-01");
    return WH_OK;
}

ARENA_TEST(what_is_no_reading_is_refused_with_what_would_be_right)
{
    struct sample s = sample_open(arena);
    sample_refuse(&s, "Ada", "reading", "check=seet|value=1", "did you mean \"seat\"?");
    sample_refuse(&s, "Ada", "reading", "check=seat|value=30.0065 A", "wrong kind of unit");
    sample_refuse(&s, "Ada", "reading", "check=seat|value=thick", "is not a number");
    sample_refuse(&s, "Ada", "reading", "check=seat|value=30.0 +- 0.1 mm", "write one number");
    sample_refuse(&s, "Ada", "reading", "check=current|value=3.1 A", "is read 2 times, here are 1");
    sample_refuse(&s, "Ada", "reading", "check=cracks|value=none", "say whether it is as it has to be");
    sample_refuse(&s, "Ada", "reading", "check=seat|valeu=30", "did you mean \"value\"?");
    sample_take(&s, "Ada", "reading", "check=seat|value=30.0065|part temperature=28 degC|gauge temperature=18 degC");
    const struct wh_tree *judged = wh_tree_get(wh_job_read(&s.job, "seat")->body, "judged");
    assert_non_null(strstr(wh_tree_text(judged, "remark", ""), "10 K apart"));
    return WH_OK;
}

ARENA_TEST(an_amendment_keeps_the_first_value)
{
    struct sample s = sample_open(arena);
    sample_take(&s, "Ada", "reading", "check=seat|value=30.0650");
    int64_t seq = s.job.seq;
    sample_refuse(&s, "Ada", "amended", wh_arena_print(arena, "entry=%d|value=30.0065", (int)seq),
                  "\"because\" is missing");
    sample_refuse(&s, "Ada", "amended", "entry=1|value=30.0065|because=slip", "entry 1 is no reading");
    sample_take(&s, "Ben", "amended", wh_arena_print(arena, "entry=%d|value=30.0065|because=digits swapped", (int)seq));
    struct wh_job_reading *r = wh_job_read(&s.job, "seat");
    assert_int_equal(r->seq, seq);
    assert_string_equal(r->first, "30.0650 mm");
    assert_string_equal(r->value, "30.0065 mm");
    assert_int_equal(r->verdict, WH_WITHIN);
    assert_int_equal(r->amendments.count, 1);
    assert_string_equal(r->amendments.at[0].because, "digits swapped");
    return WH_OK;
}

ARENA_TEST(a_hold_that_is_not_within_is_decided_by_name)
{
    struct sample s = sample_open(arena);
    strip(&s);
    sample_take(&s, "Ada", "reading", "check=seat|value=30.001");
    const char *entry = wh_arena_print(arena, "entry=%d", (int)s.job.seq);
    sample_refuse(&s, "Ada", "done", "steps=check seat", "the charge hand decides by name");
    sample_refuse(&s, "Ada", "left out", "steps=check seat|because=late", "a hold is not left out");
    sample_refuse(&s, "Cay", "decided", wh_arena_print(arena, "%s|use=scrap it|because=worn", entry),
                  "only what is proven outside");
    sample_take(&s, "Cay", "decided", wh_arena_print(arena, "%s|use=use it|because=six readings on blocks", entry));
    assert_int_equal(wh_job_step(&s.job, "check seat")->mark, WH_MARK_DONE);
    sample_take(&s, "Ada", "reading", "check=seat|value=30.02");
    assert_int_equal(wh_job_step(&s.job, "check seat")->mark, WH_MARK_IN_HAND);
    sample_refuse(&s, "Cay", "decided", wh_arena_print(arena, "entry=%d|use=use it|because=hurry", (int)s.job.seq),
                  "what is proven outside is not used");
    return WH_OK;
}

/* Two forms made at the same time: the second is kept as contested, shown, and settled by a person. */
ARENA_TEST(a_step_touched_meanwhile_makes_a_contest)
{
    struct sample s = sample_open(arena);
    struct wh_accepted accepted;
    int64_t before = s.job.seq;
    sample_take(&s, "Ada", "reading", "check=seat|value=30.0065");
    s.seen = before;
    assert_int_equal(sample_enter(&s, "Ben", "reading", "check=seat|value=30.0165", &accepted), WH_OK);
    assert_int_equal(accepted.how, WH_TAKEN_CONTESTED);
    assert_int_equal(accepted.against, before + 1);
    s.seen = -1;
    int contested = (int)s.job.seq;
    assert_string_equal(wh_job_read(&s.job, "seat")->value, "30.0065 mm");
    assert_int_equal(s.job.contests.count, 1);
    assert_non_null(strstr(wh_job_open(arena, &s.job).at[0], "by Ben is contested"));
    sample_refuse(&s, "Cay", "settled", "entry=1|stands=first|because=x", "is not contested");
    sample_take(&s, "Cay", "settled", wh_arena_print(arena, "entry=%d|stands=second|because=read together", contested));
    struct wh_job_reading *r = wh_job_read(&s.job, "seat");
    assert_string_equal(r->value, "30.0165 mm");
    assert_string_equal(r->who, "Ben");
    assert_int_equal(r->verdict, WH_OUTSIDE);
    assert_int_equal(s.job.readings.count, 2);
    sample_refuse(&s, "Cay", "settled", wh_arena_print(arena, "entry=%d|stands=first|because=x", contested),
                  "settled already");
    return WH_OK;
}

ARENA_TEST(the_same_entry_again_is_known_another_is_not)
{
    struct sample s = sample_open(arena);
    struct wh_accepted accepted;
    assert_int_equal(sample_enter(&s, "Ada", "reading", "check=seat|value=30.0065", &accepted), WH_OK);
    struct wh_event_in stored = {1, 2, 0, "Ada", "k", accepted.kind, accepted.body, strlen(accepted.body)};
    struct wh_tree *same = wh_tree_new(arena, WH_TREE_MAP);
    wh_tree_add_text(arena, same, "check", "seat");
    wh_tree_add_text(arena, wh_tree_add_new(arena, same, "value", WH_TREE_LIST), NULL, "30.0065");
    struct wh_entry again = {1, "Ada", "k", "reading", same, -1};
    assert_true(wh_entry_same(arena, &stored, &again));
    again.who = "Ben";
    assert_false(wh_entry_same(arena, &stored, &again));
    again.who = "Ada";
    wh_tree_add_text(arena, same, "note", "more");
    assert_false(wh_entry_same(arena, &stored, &again));
    again.said = NULL;
    assert_false(wh_entry_same(arena, &stored, &again));
    struct wh_accepted contest;
    again.said = same;
    wh_entry_contest(arena, &again, 2, "sent before", &contest);
    struct wh_event_in kept = {1, 3, 0, "Ada", "k~1", contest.kind, contest.body, strlen(contest.body)};
    assert_true(wh_entry_same(arena, &kept, &again));
    return WH_OK;
}

ARENA_TEST(what_turns_up_asks_for_a_new_plan_and_keeps_what_was_done)
{
    struct sample s = sample_open(arena);
    strip(&s);
    sample_take(&s, "Ada", "found", "what=a note only");
    assert_int_equal(s.job.replan, 0);
    sample_take(&s, "Ada", "found", "what=seal lip worn|on=seal|add=seal");
    assert_int_equal(s.job.replan, s.job.seq);
    const char *body = wh_arena_print(
        arena,
        "{\"v\":1,\"plan\":{\"steps\":[{\"id\":\"off cover\",\"is\":\"off\"},{\"id\":\"off seal\",\"is\":\"off\","
        "\"stage\":\"taking down\",\"what\":\"Take off the seal\"}]},\"renew\":[\"bearing\",\"seal\"],"
        "\"because\":\"seal\",\"asked\":%d}",
        (int)s.job.replan);
    struct wh_event_in event = {1, s.job.seq + 1, 0, "wharve", "r", "replanned", body, strlen(body)};
    struct wh_errors errors = wh_errors_in(arena);
    assert_int_equal(wh_job_fold(arena, &s.job, &event, &errors), WH_OK);
    assert_int_equal(s.job.replan, 0);
    assert_int_equal(wh_job_step(&s.job, "off cover")->mark, WH_MARK_DONE);
    assert_true(wh_job_step(&s.job, "off bearing")->gone);
    assert_string_equal(wh_job_next(&s.job)->id, "off seal");
    assert_null(wh_job_step(&s.job, "on cover"));
    assert_true(wh_job_released(wh_job_hold(&s.job, "mains"), "Ada"));
    return WH_OK;
}

ARENA_TEST(a_job_is_handed_over_with_a_visit_open_and_signed_by_three)
{
    struct sample s = sample_open(arena);
    sample_refuse(&s, "Ada", "handed over", "to=the co-operative", "steps are open, first: Each energy off");
    strip(&s);
    sample_take(&s, "Ada", "reading", "check=seat|value=30.0065");
    sample_take(&s, "Ada", "reading", "check=cracks|value=none|as expected=yes");
    sample_take(&s, "Ada", "done", "steps=on bearing");
    sample_take(&s, "Ada", "reading", "check=rotation|value=clockwise|as expected=yes");
    sample_isolate(&s, "Ada");
    sample_take(&s, "Ada", "done", "steps=isolate, on cover");
    sample_take(&s, "Ada", "released", "hold=guards|tried=pulled");
    sample_refuse(&s, "Ada", "signed", "as=fitter", "not handed over yet");
    sample_take(&s, "Ada", "reading", "check=current|value=3.1; 3.2");
    sample_take(&s, "Ada", "handed over", "to=the co-operative|open=belt after 8 h");
    assert_int_equal(wh_job_state(&s.job), WH_JOB_HANDED_BACK);
    sample_refuse(&s, "Cay", "signed", "as=charge hand", "the fitter has not signed yet");
    sample_take(&s, "Ada", "signed", "as=fitter");
    sample_refuse(&s, "Ada", "signed", "as=charge hand", "does not sign as charge hand too");
    sample_refuse(&s, "Dan", "signed", "as=customer", "the charge hand has not signed yet");
    sample_take(&s, "Cay", "signed", "as=charge hand");
    sample_take(&s, "Dan", "signed", "as=customer");
    assert_int_equal(wh_job_state(&s.job), WH_JOB_HANDED_BACK); /* a visit is open */
    assert_non_null(strstr(wh_job_open(arena, &s.job).at[0], "visit open: Belt after 8 h"));
    sample_take(&s, "Ada", "reading", "check=later|value=tight|as expected=yes");
    assert_int_equal(wh_job_state(&s.job), WH_JOB_PUT_AWAY);
    return WH_OK;
}

/* Every kind has a fold, and its fields read back through the same table. */
static void every_kind_is_whole(void **state)
{
    (void)state;
    for (size_t i = 0; i < wh_entry_kind_count; i++) {
        assert_non_null(wh_entry_kinds[i].fold);
        assert_ptr_equal(wh_entry_kind(wh_entry_kinds[i].name), &wh_entry_kinds[i]);
        for (size_t f = 0; f < WH_ENTRY_FIELDS && wh_entry_kinds[i].fields[f].name; f++)
            assert_int_equal(wh_entry_kinds[i].fields[f].form == WH_ENTRY_CHOICE,
                             wh_entry_kinds[i].fields[f].choices != NULL);
    }
    assert_null(wh_entry_kind("forged"));
}

ARENA_TEST(bodies_of_newer_programs_are_told)
{
    struct sample s = sample_open(arena);
    struct wh_errors errors = wh_errors_in(arena);
    struct wh_event_in newer = {1, 2, 0, "Ada", "k", "note", "{\"v\":2,\"text\":\"x\"}", 18};
    assert_int_equal(wh_job_fold(arena, &s.job, &newer, &errors), WH_ERR_INPUT);
    struct wh_event_in unknown = {1, 2, 0, "Ada", "k", "sung", "{\"v\":1}", 7};
    assert_int_equal(wh_job_fold(arena, &s.job, &unknown, &errors), WH_ERR_INPUT);
    struct wh_event_in gap = {1, 4, 0, "Ada", "k", "note", "{\"v\":1}", 7};
    assert_int_equal(wh_job_fold(arena, &s.job, &gap, &errors), WH_ERR_INPUT);
    assert_int_equal(s.job.seq, 1);
    assert_int_equal(errors.count, 3);
    return WH_OK;
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(no_hand_goes_in_before_every_energy_is_released_by_that_hand),
        cmocka_unit_test(a_hold_is_never_taken_from_a_queue_and_can_be_refused),
        cmocka_unit_test(releases_lapse),
        cmocka_unit_test(power_ends_the_isolation_and_a_hand_ends_the_guards),
        cmocka_unit_test(as_found_is_read_before_the_part_comes_off),
        cmocka_unit_test(a_reading_is_judged_with_its_gauge),
        cmocka_unit_test(dial_readings_are_judged_by_what_they_make_together),
        cmocka_unit_test(a_calibration_holds_on_its_last_day),
        cmocka_unit_test(what_is_no_reading_is_refused_with_what_would_be_right),
        cmocka_unit_test(an_amendment_keeps_the_first_value),
        cmocka_unit_test(a_hold_that_is_not_within_is_decided_by_name),
        cmocka_unit_test(a_step_touched_meanwhile_makes_a_contest),
        cmocka_unit_test(the_same_entry_again_is_known_another_is_not),
        cmocka_unit_test(what_turns_up_asks_for_a_new_plan_and_keeps_what_was_done),
        cmocka_unit_test(a_job_is_handed_over_with_a_visit_open_and_signed_by_three),
        cmocka_unit_test(every_kind_is_whole),
        cmocka_unit_test(bodies_of_newer_programs_are_told),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
