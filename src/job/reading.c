/* Readings: read against the limits of the plan as issued, amended with a reason, decided by the charge hand. */
#include "base/text.h"
#include "job/inside.h"
#include "job/verdict.h"
#include "sheet/ask.h"

#include <math.h>

enum { MOST_VALUES = 100 };

struct values {
    double at[MOST_VALUES];
    size_t count;
    const char *written; /* with the unit, parted by "; " */
};

/* One value; a bare number is in the unit that stands beside the field. */
static bool read_value(struct wh_accepting *a, const struct wh_job_check *check, const char *text, struct values *to)
{
    struct wh_value value;
    double bare;
    const char *rest = wh_number_read(text, &bare);
    const char *unit = wh_arena_slice(a->arena, check->unit.name, check->unit.length);
    if (rest && !*rest) text = wh_arena_print(a->arena, "%s %s", text, unit);
    enum wh_misread misread = wh_value_read(text, &check->unit, &value, NULL);
    if (misread != WH_READ_WELL) {
        wh_refuse(a, wh_arena_print(a->arena, "write it in %s", unit), "value \"%s\": %s", text,
                  wh_misread_words(a->arena, misread, text, &check->unit));
        return false;
    }
    if (value.shape != WH_EXACT) {
        wh_refuse(a, "the uncertainty is the gauge's", "value \"%s\": write one number", text);
        return false;
    }
    to->at[to->count++] = value.best;
    to->written = to->written ? wh_arena_print(a->arena, "%s; %s", to->written, text) : text;
    return true;
}

static bool read_values(struct wh_accepting *a, const struct wh_job_check *check, struct values *ret)
{
    struct wh_words texts = wh_body_words(a->arena, a->said, "value");
    *ret = (struct values){0};
    if (texts.count == 0 || texts.count > MOST_VALUES) {
        wh_refuse(a, NULL, "a reading has 1 to %d values", MOST_VALUES);
        return false;
    }
    for (size_t i = 0; i < texts.count; i++) {
        if (check->has_limits && !read_value(a, check, texts.at[i], ret)) return false;
        if (!check->has_limits)
            ret->written = ret->written ? wh_arena_print(a->arena, "%s; %s", ret->written, texts.at[i]) : texts.at[i];
    }
    if (!check->has_limits) return true;
    if ((int)ret->count >= check->readings) return true;
    wh_refuse(a, "part them with semicolons", "%s is read %d times, here are %zu", check->title, check->readings,
              ret->count);
    return false;
}

static void add_gauge(struct wh_accepting *a, const struct wh_job_check *check, const struct wh_gauge_used *gauge)
{
    if (!gauge->name) return;
    wh_tree_add_text(a->arena, a->judged, "gauge", gauge->name);
    wh_tree_add_text(a->arena, a->judged, "gauge title", gauge->title ? gauge->title : gauge->name);
    if (check->has_limits && !isnan(gauge->U))
        wh_tree_add_text(a->arena, a->judged, "gauge uncertainty",
                         wh_quantity_print(a->arena, gauge->U, &check->unit, 2));
    if (gauge->due) wh_tree_add_text(a->arena, a->judged, "calibration due", gauge->due);
    if (!gauge->registered) wh_tree_add_truth(a->arena, a->judged, "not in the register", true);
}

/* A seat that is hand-warm has grown: the temperatures are compared, and told. */
static void compare_temperatures(struct wh_accepting *a)
{
    const struct wh_unit celsius = {1, 273.15, {{0, 0, 0, 1}}, "degC", 4};
    struct wh_value part, gauge;
    const char *p = wh_tree_text(a->said, "part temperature", NULL),
               *g = wh_tree_text(a->said, "gauge temperature", NULL);
    if (!p || !g) return;
    if (wh_value_read(p, &celsius, &part, NULL) != WH_READ_WELL ||
        wh_value_read(g, &celsius, &gauge, NULL) != WH_READ_WELL) {
        wh_refuse(a, "write 19 degC", "temperature of part or gauge: \"%s\", \"%s\" is none", p, g);
        return;
    }
    double apart = fabs(part.best - gauge.best);
    if (apart > 2)
        wh_tree_add_text(
            a->arena, a->judged, "remark",
            wh_arena_print(a->arena, "part and gauge are %.0f K apart: read it again when they are alike", apart));
}

/* Without numbers the person says whether it is as it has to be. */
static struct wh_judged judge_words(struct wh_accepting *a, const struct wh_job_check *check)
{
    const char *as_expected = wh_tree_text(a->said, "as expected", NULL);
    if (!as_expected)
        wh_refuse(a, check->expects ? wh_arena_print(a->arena, "it has to be: %s", check->expects) : NULL,
                  "%s: say whether it is as it has to be, as expected=yes or no", check->title);
    bool yes = wh_same(as_expected, "yes");
    return (struct wh_judged){yes ? WH_WITHIN : WH_OUTSIDE,
                              yes ? "within: as it has to be" : "outside: not as it has to be", NULL};
}

/* What the rule makes of all readings takes their place, with the uncertainty that theirs gives it. */
static void reduce(struct wh_accepting *a, const struct wh_job_check *check, struct values *values,
                   struct wh_gauge_used *gauge)
{
    const struct wh_rule *rule = check->judged_by ? wh_rule_find(check->judged_by) : NULL;
    struct wh_asked_result result[WH_RULE_OUT];
    struct wh_value in[MOST_VALUES];
    if (!check->judged_by || isnan(gauge->U)) return;
    if (!rule || !rule->in[0].many || values->count > rule->in[0].many) {
        wh_refuse(a, NULL, "%s: this program has no rule \"%s\" for %zu readings", check->title, check->judged_by,
                  values->count);
        return;
    }
    for (size_t i = 0; i < values->count; i++) in[i] = wh_normal(values->at[i], gauge->U / 2);
    wh_ask_spread(a->arena, rule, in, values->count, result);
    if (isnan(result[0].best)) {
        wh_refuse(a, NULL, "%s: %s gives no answer for these readings", check->title, check->judged_by);
        return;
    }
    values->at[0] = result[0].best;
    values->count = 1;
    gauge->U = 2 * result[0].u;
    wh_tree_add_text(a->arena, a->judged, rule->out[0].name,
                     wh_quantity_print(a->arena, result[0].best, &check->unit, 3));
}

static enum wh_status judge(struct wh_accepting *a, const struct wh_job_check *check, const char *gauge_named)
{
    struct values values;
    if (!read_values(a, check, &values)) return WH_ERR_INPUT;
    struct wh_gauge_used gauge = wh_gauge_for(a->round->workshop, check, gauge_named, a->round->at);
    struct wh_gauge_used deciding = gauge;
    if (check->has_limits) reduce(a, check, &values, &deciding);
    struct wh_judged judged = check->has_limits ? wh_judge(a->arena, check, values.at, values.count, &deciding,
                                                           a->round->workshop, a->round->at)
                                                : judge_words(a, check);
    wh_tree_add_text(a->arena, a->judged, "value", values.written);
    wh_tree_add_text(a->arena, a->judged, "verdict", wh_verdict_words(judged.verdict));
    wh_tree_add_text(a->arena, a->judged, "says", judged.says);
    if (judged.settles) wh_tree_add_text(a->arena, a->judged, "settles", judged.settles);
    const char *limits = check->limits ? check->limits : check->expects;
    if (limits) wh_tree_add_text(a->arena, a->judged, "limits", limits);
    wh_tree_add_text(a->arena, a->judged, "when", check->when);
    add_gauge(a, check, &gauge);
    compare_temperatures(a);
    wh_tree_add_text(a->arena, a->judged, "program", a->round->program);
    wh_tree_add_text(a->arena, a->judged, "rules", a->round->rules);
    return wh_errors_status(a->errors);
}

/* What was read is never refused, but it is told when a hold should have kept the hand or the power away. */
static void tell_bars(struct wh_accepting *a, const struct wh_job_check *check)
{
    for (size_t s = 0; s < a->job->steps.count; s++) {
        const struct wh_job_step *step = &a->job->steps.at[s];
        if (!wh_same(step->check, check->id) || step->gone || wh_tree_get(a->judged, "hold")) continue;
        struct wh_words bars = wh_job_bars(a->arena, a->job, step, a->entry->who);
        if (bars.count)
            wh_tree_add_text(a->arena, a->judged, "hold", wh_arena_print(a->arena, "read although %s", bars.at[0]));
    }
}

enum wh_status wh_accept_reading(struct wh_accepting *a)
{
    const struct wh_job_check *check = wh_job_check(a->job, wh_tree_text(a->said, "check", ""));
    tell_bars(a, check);
    return judge(a, check, wh_tree_text(a->said, "gauge", NULL));
}

static struct wh_job_reading *reading_of(struct wh_accepting *a)
{
    int64_t seq = wh_body_seq(a->said, "entry");
    struct wh_job_reading *reading = wh_job_reading(a->job, seq);
    if (!reading)
        wh_refuse(a, "readings and their numbers: wharve job show", "entry %lld is no reading", (long long)seq);
    return reading;
}

enum wh_status wh_accept_amended(struct wh_accepting *a)
{
    struct wh_job_reading *reading = reading_of(a);
    const struct wh_job_check *check = reading ? wh_job_check(a->job, reading->check) : NULL;
    return check ? judge(a, check, reading->gauge) : WH_ERR_INPUT;
}

enum wh_status wh_accept_decided(struct wh_accepting *a)
{
    struct wh_job_reading *reading = reading_of(a);
    const char *use = wh_tree_text(a->said, "use", "");
    if (!reading) return WH_ERR_INPUT;
    if (reading->verdict == WH_OUTSIDE && wh_same(use, "use it"))
        return wh_refuse(a, "renew it, scrap it, or stop", "what is proven outside is not used");
    if (reading->verdict != WH_OUTSIDE && wh_same(use, "scrap it"))
        return wh_refuse(a, "renew it, or read it with a better gauge", "only what is proven outside is scrapped");
    return WH_OK;
}

static enum wh_verdict verdict_of(const struct wh_tree *judged)
{
    const char *word = wh_tree_text(judged, "verdict", "");
    return wh_same(word, "within") ? WH_WITHIN : wh_same(word, "outside") ? WH_OUTSIDE : WH_NOT_PROVEN;
}

static void take_verdict(struct wh_job_reading *reading, const struct wh_tree *judged)
{
    reading->value = wh_tree_text(judged, "value", "");
    reading->verdict = verdict_of(judged);
    reading->says = wh_tree_text(judged, "says", "");
    reading->settles = wh_tree_text(judged, "settles", NULL);
    reading->decided = reading->decided_by = NULL;
}

/* A reading does the step of its check, unless that is a hold and not within. */
static void mark_check(struct wh_folding *f, const struct wh_job_reading *reading)
{
    struct wh_job_check *check = wh_job_check(f->job, reading->check);
    if (check) check->touched = f->event->seq;
    for (size_t s = 0; s < f->job->steps.count; s++) {
        struct wh_job_step *step = &f->job->steps.at[s];
        if (!wh_same(step->check, reading->check)) continue;
        if (step->power) wh_job_lapse(f, false, true);
        f->job->tested |= step->power && wh_same(step->stage, "running it");
        bool passes = !check || !check->hold || reading->verdict == WH_WITHIN || reading->decided;
        step->mark = passes ? WH_MARK_DONE : WH_MARK_IN_HAND;
        step->who = f->event->who;
        step->touched = f->event->seq;
    }
}

void wh_fold_reading(struct wh_folding *f)
{
    const struct wh_tree *judged = wh_tree_get(f->body, "judged");
    struct wh_job_reading *reading = WH_PUSH(f->arena, &f->job->readings);
    *reading = (struct wh_job_reading){.seq = f->event->seq,
                                       .at = f->event->at,
                                       .who = f->event->who,
                                       .check = wh_tree_text(f->body, "check", ""),
                                       .first = wh_tree_text(judged, "value", ""),
                                       .when = wh_tree_text(judged, "when", ""),
                                       .gauge = wh_tree_text(judged, "gauge", NULL),
                                       .body = f->body};
    take_verdict(reading, judged);
    mark_check(f, reading);
}

void wh_fold_unmeasured(struct wh_folding *f)
{
    struct wh_job_check *check = wh_job_check(f->job, wh_tree_text(f->body, "check", ""));
    if (!check) return;
    check->unmeasured = wh_tree_text(f->body, "because", "");
    check->touched = f->event->seq;
    for (size_t s = 0; s < f->job->steps.count; s++) {
        struct wh_job_step *step = &f->job->steps.at[s];
        if (!wh_same(step->check, check->id) || check->hold || step->mark == WH_MARK_DONE) continue;
        step->mark = WH_MARK_LEFT_OUT;
        step->because = wh_arena_print(f->arena, "could not be measured: %s", check->unmeasured);
        step->who = f->event->who;
        step->touched = f->event->seq;
    }
}

void wh_fold_amended(struct wh_folding *f)
{
    struct wh_job_reading *reading = wh_job_reading(f->job, wh_body_seq(f->body, "entry"));
    const struct wh_tree *judged = wh_tree_get(f->body, "judged");
    if (!reading) return;
    *WH_PUSH(f->arena, &reading->amendments) = (struct wh_job_amendment){
        f->event->seq, f->event->who, wh_tree_text(judged, "value", ""), wh_tree_text(f->body, "because", "")};
    take_verdict(reading, judged);
    mark_check(f, reading);
}

void wh_fold_decided(struct wh_folding *f)
{
    struct wh_job_reading *reading = wh_job_reading(f->job, wh_body_seq(f->body, "entry"));
    if (!reading) return;
    reading->decided =
        wh_arena_print(f->arena, "%s: %s", wh_tree_text(f->body, "use", ""), wh_tree_text(f->body, "because", ""));
    reading->decided_by = f->event->who;
    mark_check(f, reading);
}
