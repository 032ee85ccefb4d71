#include "sheet/spread.h"

#include "sheet/matter.h"
#include "sheet/tally.h"

#include <math.h>
#include <pthread.h>
#include <stdatomic.h>

/* The trials are cut into so many batches whatever the threads: sums are added block by block in a batch, batch by
 * batch at the end, in their order. */
enum { BATCHES = 64 };

/* After so many batches the windows of bins are narrowed. */
static const size_t stages[] = {4, 16, BATCHES};

struct sums {
    double sum, square;
};

struct team {
    const struct wh_course *course;
    const struct wh_quest *quests;
    size_t figures, blocks, trials;
    struct sums *sums; /* BATCHES of figures */
    atomic_size_t next;
    size_t end; /* the batches now worked: next to end - 1 */
};

struct hand {
    struct team *team;
    struct wh_bench bench;
    struct wh_tally *tallies;
};

static void work_block(struct hand *hand, size_t block, struct sums sums[])
{
    const struct team *team = hand->team;
    uint64_t first = (uint64_t)block * WH_COURSE_ROWS;
    size_t left = team->trials - block * WH_COURSE_ROWS, n = left < WH_COURSE_ROWS ? left : WH_COURSE_ROWS;
    wh_course_draw(team->course, &hand->bench, first, n);
    wh_course_work(team->course, &hand->bench, n);
    for (size_t f = 0; f < team->figures; f++) {
        size_t column = team->quests[f].column;
        if (column == WH_NONE) continue;
        const struct wh_seen *seen = &hand->bench.seen[column];
        sums[f].sum += seen->sum;
        sums[f].square += seen->square;
        wh_tally_count(&team->quests[f], hand->bench.columns + column * WH_COURSE_ROWS, seen, n, &hand->tallies[f]);
    }
}

static void *work_batches(void *context)
{
    struct hand *hand = context;
    struct team *team = hand->team;
    for (size_t batch; (batch = atomic_fetch_add(&team->next, 1)) < team->end;) {
        size_t from = team->blocks * batch / BATCHES, to = team->blocks * (batch + 1) / BATCHES;
        for (size_t block = from; block < to; block++) work_block(hand, block, team->sums + batch * team->figures);
    }
    return NULL;
}

/* The first trials, kept whole: column k of `cells` at kept + k * WH_SPREAD_PILOT. */
static void run_pilot(const struct wh_course *course, struct wh_bench *bench, const size_t columns[], size_t count,
                      size_t trials, double *kept)
{
    for (size_t first = 0; first < trials; first += WH_COURSE_ROWS) {
        size_t n = trials - first < WH_COURSE_ROWS ? trials - first : WH_COURSE_ROWS;
        wh_course_draw(course, bench, first, n);
        wh_course_work(course, bench, n);
        for (size_t k = 0; k < count; k++)
            for (size_t i = 0; columns[k] != WH_NONE && i < n; i++)
                kept[k * WH_SPREAD_PILOT + first + i] = bench->columns[columns[k] * WH_COURSE_ROWS + i];
    }
}

static size_t drop_unanswered(double trials[], size_t n)
{
    size_t kept = 0;
    for (size_t i = 0; i < n; i++)
        if (isfinite(trials[i])) trials[kept++] = trials[i];
    return kept;
}

/* A figure that no uncertain input moves. */
static struct wh_spread steady(double value, const struct wh_limits *limits)
{
    if (!isfinite(value)) return (struct wh_spread){NAN, NAN, NAN, NAN, NAN, NAN, 1, {{0}}, 0};
    return (struct wh_spread){value, 0, value, value, value<limits->least, value> limits->most, 0, {{0}}, 0};
}

static struct wh_spread spread_of(const struct team *team, size_t f, const struct wh_tally *tally, double *pilot,
                                  size_t pilot_answers)
{
    const struct wh_quest *quest = &team->quests[f];
    double sum = 0, square = 0, n = tally->answers;
    for (size_t b = 0; b < BATCHES; b++) {
        sum += team->sums[b * team->figures + f].sum;
        square += team->sums[b * team->figures + f].square;
    }
    struct wh_spread spread = {NAN, NAN, NAN, NAN, NAN, NAN, 1 - n / (double)team->trials, {{0}}, 0};
    if (tally->answers < 2 || pilot_answers < 2) return spread;
    spread.mean = team->course->fixed[quest->column] + sum / n;
    spread.u = sqrt(fmax(square - sum * sum / n, 0) / (n - 1));
    bool whole = team->trials <= WH_SPREAD_PILOT;
    spread.low = whole ? wh_tally_exact(pilot, pilot_answers, 0.025) : wh_tally_low(quest, tally);
    spread.high = whole ? wh_tally_exact(pilot, pilot_answers, 0.975) : wh_tally_high(quest, tally);
    spread.below = tally->below / n;
    spread.above = tally->above / n;
    return spread;
}

/* Works the batches `from` to `end` - 1. All hands but the first get a thread; those that cannot start one leave their
 * share to the others. The counts come together in the first hand's. */
static void run_hands(struct hand hands[], size_t count, size_t from, size_t end)
{
    pthread_t threads[WH_SPREAD_THREADS];
    bool started[WH_SPREAD_THREADS] = {false};
    struct team *team = hands[0].team;
    atomic_store(&team->next, from);
    team->end = end;
    for (size_t h = 1; h < count; h++) started[h] = pthread_create(&threads[h], NULL, work_batches, &hands[h]) == 0;
    work_batches(&hands[0]);
    for (size_t h = 1; h < count; h++) {
        if (started[h]) pthread_join(threads[h], NULL);
        for (size_t f = 0; f < team->figures; f++) {
            wh_tally_add(&hands[0].tallies[f], &hands[h].tallies[f]);
            hands[h].tallies[f] = (struct wh_tally){0};
        }
    }
}

/* Memory is taken here, by the caller's thread, before any other starts: threads take none. */
static struct hand *make_hands(struct wh_arena *arena, struct team *team, size_t count)
{
    struct hand *hands = WH_NEW(arena, count, struct hand);
    for (size_t h = 0; h < count; h++)
        hands[h] = (struct hand){team, wh_course_bench(arena, team->course),
                                 WH_NEW(arena, team->figures + 1, struct wh_tally)};
    return hands;
}

void wh_sheet_trials(struct wh_arena *arena, const struct wh_sheet *sheet, const struct wh_spread_wish *wish,
                     struct wh_spread ret[])
{
    struct wh_course *course = wh_course_make(arena, sheet, wish->cells, wish->count, wish->seed);
    size_t count = wish->count, pilot = wish->trials < WH_SPREAD_PILOT ? wish->trials : WH_SPREAD_PILOT;
    size_t *columns = WH_NEW(arena, count + 1, size_t), *answers = WH_NEW(arena, count + 1, size_t);
    struct wh_quest *quests = WH_NEW(arena, count + 1, struct wh_quest);
    double *kept = WH_NEW(arena, count * WH_SPREAD_PILOT + 1, double);
    struct team team = {.course = course,
                        .quests = quests,
                        .figures = count,
                        .blocks = (wish->trials + WH_COURSE_ROWS - 1) / WH_COURSE_ROWS,
                        .trials = wish->trials,
                        .sums = WH_NEW(arena, BATCHES * count + 1, struct sums)};
    struct hand *hands = make_hands(arena, &team, wish->threads);
    for (size_t f = 0; f < count; f++) columns[f] = course->column[wish->cells[f]];
    run_pilot(course, &hands[0].bench, columns, count, pilot, kept);
    if (wish->matters) wh_matter_find(arena, course, columns, count, pilot, kept, ret);
    for (size_t f = 0; f < count; f++) {
        struct wh_limits none = {-INFINITY, INFINITY};
        quests[f] = (struct wh_quest){.column = columns[f], .limits = wish->limits ? wish->limits[f] : none};
        answers[f] = columns[f] == WH_NONE ? 0 : drop_unanswered(kept + f * WH_SPREAD_PILOT, pilot);
        if (answers[f] > 1) wh_tally_lay(&quests[f], kept + f * WH_SPREAD_PILOT, answers[f]);
    }
    for (size_t s = 0; s < sizeof stages / sizeof *stages; s++) {
        for (size_t f = 0; s > 0 && f < count; f++)
            if (answers[f] > 1) wh_tally_narrow(&quests[f], &hands[0].tallies[f]);
        run_hands(hands, wish->threads, s ? stages[s - 1] : 0, stages[s]);
    }
    for (size_t f = 0; f < count; f++) {
        struct wh_spread spread =
            columns[f] == WH_NONE ? steady(sheet->value[wish->cells[f]], &quests[f].limits)
                                  : spread_of(&team, f, &hands[0].tallies[f], kept + f * WH_SPREAD_PILOT, answers[f]);
        spread.matter_count = wish->matters ? ret[f].matter_count : 0;
        for (size_t m = 0; m < spread.matter_count; m++) spread.matters[m] = ret[f].matters[m];
        ret[f] = spread;
    }
}
