#include "job/due.h"

#include "job/inside.h"

#include <math.h>
#include <string.h>

static const double HOUR = 3600, SOON = 0.1;

const char *wh_due_words(enum wh_due_state state)
{
    static const char *const words[] = {"not known", "later", "soon", "now"};
    return words[state];
}

static bool is_digit(char c)
{
    return c >= '0' && c <= '9';
}

/* A mark between a digit and exactly three more stands for thousands. */
static bool parts_thousands(const char *text, size_t i)
{
    if ((text[i] != ' ' && text[i] != ',' && text[i] != '\'') || i == 0 || !is_digit(text[i - 1])) return false;
    return is_digit(text[i + 1]) && is_digit(text[i + 2]) && is_digit(text[i + 3]) && !is_digit(text[i + 4]);
}

double wh_due_hours(const char *text)
{
    enum { MOST = 40 };
    char plain[MOST + 1];
    size_t n = 0;
    double hours;
    for (size_t i = 0; text && text[i]; i++) {
        if (n == MOST) return NAN;
        if (!parts_thousands(text, i)) plain[n++] = text[i];
    }
    plain[n] = '\0';
    const char *rest = wh_number_read(plain, &hours);
    while (rest && *rest == ' ') rest++;
    bool whole = rest && (!*rest || wh_same(rest, "h") || wh_same(rest, "hours"));
    return whole && hours >= 0 ? hours * HOUR : NAN;
}

/* ---- what a job tells ------------------------------------------------------------------------------------------ */

static void add(struct wh_arena *arena, struct wh_words *words, const char *text)
{
    const char **more = WH_NEW(arena, words->count + 1, const char *);
    if (words->count) memcpy(more, words->at, words->count * sizeof *more);
    more[words->count++] = wh_arena_text(arena, text);
    words->at = more;
}

static void add_remark(struct wh_arena *arena, struct wh_words *words, const char *thing, const char *says)
{
    if (thing && *thing) add(arena, words, wh_arena_print(arena, "%s|%s", thing, says));
}

/* The last word on each check: outside, or not proven and left so. */
static void take_readings(struct wh_arena *arena, struct wh_due_job *told, const struct wh_job *job)
{
    for (size_t i = 0; i < job->readings.count; i++) {
        const struct wh_job_reading *reading = &job->readings.at[i];
        const struct wh_job_check *check = wh_job_check(job, reading->check);
        if (!check || wh_job_read(job, reading->check) != reading || reading->verdict == WH_WITHIN) continue;
        const char *decided = reading->decided ? wh_arena_print(arena, ", decided: %s", reading->decided) : "";
        add_remark(arena, &told->remarks, check->of,
                   wh_arena_print(arena, "%s, %s: %s%s", check->title, reading->when, reading->says, decided));
    }
}

static void take_lines(struct wh_arena *arena, struct wh_due_job *told, const struct wh_job *job)
{
    for (size_t i = 0; i < job->lines.count; i++) {
        const struct wh_job_line *line = &job->lines.at[i];
        bool renewed = wh_same(line->kind, "renewed"), found = wh_same(line->kind, "found");
        struct wh_words parts =
            renewed || found ? wh_body_words(arena, line->body, renewed ? "part" : "on") : (struct wh_words){0};
        for (size_t p = 0; p < parts.count; p++) {
            if (renewed) add(arena, &told->renewed, parts.at[p]);
            if (found)
                add_remark(arena, &told->remarks, parts.at[p],
                           wh_arena_print(arena, "found: %s", wh_tree_text(line->body, "what", "")));
        }
    }
}

/* A part that the plan renews is new once it is on again, a sump once it is filled. */
static void take_steps(struct wh_arena *arena, struct wh_due_job *told, const struct wh_job *job)
{
    for (size_t i = 0; i < job->steps.count; i++) {
        const struct wh_job_step *step = &job->steps.at[i];
        if (step->mark != WH_MARK_DONE || !step->part) continue;
        if (wh_same(step->is, "fill")) add(arena, &told->renewed, step->part);
        for (size_t r = 0; wh_same(step->is, "on") && r < job->renew.count; r++)
            if (wh_same(job->renew.at[r], step->part)) add(arena, &told->renewed, step->part);
    }
}

struct wh_due_job wh_due_job(struct wh_arena *arena, const struct wh_job *job)
{
    struct wh_due_job told = {.job = job->number, .at = job->opened_at, .hours = wh_due_hours(job->hours)};
    take_lines(arena, &told, job);
    take_steps(arena, &told, job);
    take_readings(arena, &told, job);
    return told;
}

/* ---- when it is due -------------------------------------------------------------------------------------------- */

/* Figures that say after how many hours a thing comes round; some only where the machine file names the stuff. */
static const struct {
    const char *figure, *only_with;
} intervals[] = {{"grease-interval", "grease"}, {"life", NULL}, {"oil-interval", NULL}};

/* Above this fatigue does not decide. */
static const double LONGEST = 100000 * 3600.0;

static bool has_word(const struct wh_thing *thing, const char *key)
{
    for (size_t i = 0; key && i < thing->word_count; i++)
        if (wh_same(thing->words[i].key, key)) return true;
    return key == NULL;
}

static void take_figures(const struct wh_sheet *sheet, struct wh_due_line *line)
{
    const struct wh_thing *thing = &sheet->machine->things[line->thing];
    for (size_t i = 0; i < sizeof intervals / sizeof *intervals; i++) {
        size_t cell = wh_sheet_figure(sheet, line->thing, intervals[i].figure);
        if (cell == WH_NONE || sheet->cells[cell].use == WH_NONE || !has_word(thing, intervals[i].only_with)) continue;
        double value = sheet->value[cell];
        if (isnan(value) || value > LONGEST || value >= line->after) continue;
        line->after = value;
        line->by = sheet->cells[cell].title ? sheet->cells[cell].title : intervals[i].figure;
    }
}

static bool renewed_in(const struct wh_due_job *job, const char *id)
{
    for (size_t r = 0; r < job->renewed.count; r++)
        if (wh_same(job->renewed.at[r], id)) return true;
    return false;
}

/* The last job that renewed the thing, or all that it counts with. */
static const struct wh_due_job *renewed_last(const struct wh_machine *machine, const struct wh_thing *thing,
                                             const struct wh_due_job jobs[], size_t count)
{
    for (size_t j = count; j > 0; j--) {
        bool all = thing->due_with.count > 0;
        for (size_t w = 0; w < thing->due_with.count; w++)
            all &= renewed_in(&jobs[j - 1], machine->things[thing->due_with.at[w]].id);
        if (all || renewed_in(&jobs[j - 1], thing->id)) return &jobs[j - 1];
    }
    return NULL;
}

static enum wh_due_state later(double left, double whole)
{
    if (isnan(left)) return WH_DUE_NOT_KNOWN;
    return left <= 0 ? WH_DUE_NOW : left < SOON * whole ? WH_DUE_SOON : WH_DUE_LATER;
}

const char *wh_due_hours_words(struct wh_arena *arena, double seconds)
{
    return wh_arena_print(arena, "%.0f h", seconds / HOUR);
}

/* What the line says of the time before it was known. */
static void settle_unknown(struct wh_arena *arena, const struct wh_due *due, struct wh_due_line *line)
{
    bool over = due->hours >= line->after;
    line->state = over ? WH_DUE_NOW : WH_DUE_NOT_KNOWN;
    line->because =
        over ? wh_arena_print(arena, "%s run, and no renewal in a job kept here", wh_due_hours_words(arena, due->hours))
             : "no renewal in a job kept here";
}

static void settle(struct wh_arena *arena, const struct wh_due *due, const struct wh_due_job *last, int64_t now,
                   struct wh_due_line *line)
{
    if (!last) {
        settle_unknown(arena, due, line);
        return;
    }
    struct wh_text words = {.arena = arena};
    double run = due->hours - last->hours, aged = (double)(now - last->at) / 1000;
    line->job = last->job;
    line->since = last->at;
    line->hours_left = line->after - run;
    if (!isnan(line->age)) line->day = last->at + (int64_t)(line->age * 1000);
    enum wh_due_state by_hours = later(line->hours_left, line->after), by_age = later(line->age - aged, line->age);
    line->state = by_hours > by_age ? by_hours : by_age;
    wh_text_print(&words, "renewed in job %lld", (long long)last->job);
    if (!isnan(line->hours_left))
        wh_text_print(&words, ", %s run since", wh_due_hours_words(arena, run));
    else if (!isnan(line->after))
        wh_text_add(&words, ", hours run since are not known");
    line->because = wh_text_of(&words);
}

static void take_remarks(struct wh_arena *arena, struct wh_due *due, const struct wh_machine *machine,
                         const struct wh_due_job *last)
{
    for (size_t i = 0; i < last->remarks.count; i++) {
        const char *bar = strchr(last->remarks.at[i], '|');
        size_t n = (size_t)(bar - last->remarks.at[i]);
        size_t thing = wh_machine_thing(machine, wh_arena_slice(arena, last->remarks.at[i], n));
        *WH_PUSH(arena, &due->remarks) = (struct wh_due_remark){thing, last->job, bar + 1};
    }
}

struct wh_due *wh_due_make(struct wh_arena *arena, const struct wh_sheet *sheet, const struct wh_due_job jobs[],
                           size_t count, double hours, int64_t now)
{
    struct wh_due *due = WH_NEW(arena, 1, struct wh_due);
    due->hours = hours;
    due->hours_at = isnan(hours) ? 0 : now;
    for (size_t j = count; j > 0 && isnan(due->hours); j--) {
        due->hours = jobs[j - 1].hours;
        due->hours_at = isnan(due->hours) ? 0 : jobs[j - 1].at;
    }
    if (count) take_remarks(arena, due, sheet->machine, &jobs[count - 1]);
    for (size_t t = 0; t < sheet->machine->thing_count; t++) {
        const struct wh_thing *thing = &sheet->machine->things[t];
        struct wh_due_line line = {
            .thing = t, .after = thing->due_after, .age = thing->due_at_age, .by = "machine file", .hours_left = NAN};
        take_figures(sheet, &line);
        if (isnan(line.after) && isnan(line.age)) continue;
        settle(arena, due, renewed_last(sheet->machine, thing, jobs, count), now, &line);
        *WH_PUSH(arena, &due->lines) = line;
    }
    return due;
}
