/* The spread of a machine's whole sheet, for bench/spread.py: what its figures are made of, a timed run, draws alone.
 *
 *     spread dump MACHINE READINGS               cells, rules bound to cells, limits: a line each, parted by tabs
 *     spread run MACHINE READINGS TRIALS THREADS     seconds of processor and of clock, KiB, then each figure
 *     spread draw MACHINE READINGS TRIALS THREADS    the same for drawing every input and nothing else
 *
 * READINGS has a value a line, as for --set. Each figure that varies by more than the last bit of a sum has limits 1.5
 * standard uncertainties to each side. */
#include "base/file.h"
#include "base/text.h"
#include "sheet/course.h"
#include "sheet/spread.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

static const uint64_t seed = 1;

struct line {
    char **words;
    int count;
};

/* All figures that can vary, and their limits. */
struct figures {
    size_t *cells, count;
    struct wh_limits *limits;
};

static double now(clockid_t clock)
{
    struct timespec t;
    clock_gettime(clock, &t);
    return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

static enum wh_status read_settings(struct wh_arena *arena, const char *path, struct wh_setting **ret, size_t *count,
                                    struct wh_errors *reterr)
{
    char *bytes;
    size_t size;
    enum wh_status status = wh_file_read(arena, path, 1 << 20, &bytes, &size, reterr);
    if (status != WH_OK) return status;
    struct wh_words lines = wh_split(arena, bytes, '\n');
    *ret = WH_NEW(arena, lines.count + 1, struct wh_setting);
    for (size_t i = 0; i < lines.count; i++) {
        const char *equals = strchr(lines.at[i], '=');
        if (lines.at[i][0] == '#' || !equals) continue;
        const char *name = wh_arena_slice(arena, lines.at[i], (size_t)(equals - lines.at[i]));
        (*ret)[(*count)++] = (struct wh_setting){name, equals + 1, WH_ORIGIN_SET};
    }
    return WH_OK;
}

static struct figures find_figures(struct wh_arena *arena, const struct wh_sheet *sheet)
{
    size_t n = sheet->cell_count;
    struct figures figures = {WH_NEW(arena, n, size_t), 0, WH_NEW(arena, n, struct wh_limits)};
    for (size_t c = 0; c < n; c++) {
        if (sheet->cells[c].use == WH_NONE || !(sheet->u[c] > 1e-9 * fabs(sheet->value[c]))) continue;
        figures.limits[figures.count] =
            (struct wh_limits){sheet->value[c] - 1.5 * sheet->u[c], sheet->value[c] + 1.5 * sheet->u[c]};
        figures.cells[figures.count++] = c;
    }
    return figures;
}

static void dump_use(const struct wh_use *use)
{
    printf("use\t%s\t%s\t", use->rule->name, use->rule->formula);
    for (size_t i = 0; i < use->inputs; i++) printf("%s%s %zu", i ? " " : "", use->slot[i]->symbol, use->in[i]);
    printf("\t");
    for (size_t o = 0; o < use->results; o++) printf("%s%s %zu", o ? " " : "", use->rule->out[o].symbol, use->out[o]);
    printf("\n");
}

static void dump(const struct wh_sheet *sheet, const struct figures *figures)
{
    for (size_t c = 0; c < sheet->cell_count; c++) {
        const struct wh_value *v = &sheet->cells[c].given;
        int shape = sheet->cells[c].use == WH_NONE ? (int)v->shape : -1;
        printf("cell\t%zu\t%s\t%d\t%.17g\t%.17g\t%.17g\t%.17g\n", c, sheet->cells[c].name, shape, sheet->value[c],
               v->least, v->most, v->u);
    }
    for (size_t u = 0; u < sheet->use_count; u++) dump_use(&sheet->uses[u]);
    for (size_t f = 0; f < figures->count; f++)
        printf("limits\t%zu\t%.17g\t%.17g\n", figures->cells[f], figures->limits[f].least, figures->limits[f].most);
}

/* The most memory this process held, KiB. (getrusage would tell of the larger process that started it.) */
static unsigned long most_memory(void)
{
    static const char word[] = "VmHWM:";
    char line[256];
    unsigned long kib = 0;
    FILE *status = fopen("/proc/self/status", "r");
    while (status && fgets(line, sizeof line, status))
        if (strncmp(line, word, sizeof word - 1) == 0) kib = strtoul(line + sizeof word - 1, NULL, 10);
    if (status) fclose(status);
    return kib;
}

static void report(double processor, double clock)
{
    printf("cost\t%.6f\t%.6f\t%lu\n", now(CLOCK_PROCESS_CPUTIME_ID) - processor, now(CLOCK_MONOTONIC) - clock,
           most_memory());
}

static void run(struct wh_arena *arena, const struct wh_sheet *sheet, const struct figures *figures, size_t trials,
                size_t threads)
{
    struct wh_spread *spreads = WH_NEW(arena, figures->count, struct wh_spread);
    struct wh_spread_wish wish = {.cells = figures->cells,
                                  .count = figures->count,
                                  .limits = figures->limits,
                                  .trials = trials,
                                  .seed = seed,
                                  .threads = threads};
    double processor = now(CLOCK_PROCESS_CPUTIME_ID), clock = now(CLOCK_MONOTONIC);
    wh_sheet_trials(arena, sheet, &wish, spreads);
    report(processor, clock);
    for (size_t f = 0; f < figures->count; f++) {
        const struct wh_spread *s = &spreads[f];
        printf("figure\t%zu\t%.17g\t%.17g\t%.17g\t%.17g\t%.17g\t%.17g\n", figures->cells[f], s->mean, s->u, s->low,
               s->high, s->below + s->above, s->none);
    }
}

static void draw(struct wh_arena *arena, const struct wh_sheet *sheet, const struct figures *figures, size_t trials)
{
    struct wh_course *course = wh_course_make(arena, sheet, figures->cells, figures->count, seed);
    struct wh_bench bench = wh_course_bench(arena, course);
    double processor = now(CLOCK_PROCESS_CPUTIME_ID), clock = now(CLOCK_MONOTONIC);
    for (size_t first = 0; first < trials; first += WH_COURSE_ROWS)
        wh_course_draw(course, &bench, first, trials - first < WH_COURSE_ROWS ? trials - first : WH_COURSE_ROWS);
    report(processor, clock);
}

static enum wh_status work(struct wh_arena *arena, void *context)
{
    const struct line *line = context;
    struct wh_errors errors = wh_errors_in(arena);
    struct wh_setting *settings;
    struct wh_machine *machine;
    struct wh_sheet *sheet;
    size_t count = 0;
    enum wh_status status = read_settings(arena, line->words[3], &settings, &count, &errors);
    if (status == WH_OK) status = wh_machine_read(arena, line->words[2], &machine, &errors);
    if (status == WH_OK) status = wh_sheet_make(arena, machine, settings, count, &sheet, &errors);
    if (status != WH_OK) {
        fputs(wh_errors_text(arena, &errors), stderr);
        return status;
    }
    struct figures figures = find_figures(arena, sheet);
    size_t trials = line->count > 4 ? strtoul(line->words[4], NULL, 10) : 0;
    size_t threads = line->count > 5 ? strtoul(line->words[5], NULL, 10) : 1;
    if (strcmp(line->words[1], "dump") == 0) dump(sheet, &figures);
    else if (strcmp(line->words[1], "run") == 0) run(arena, sheet, &figures, trials, threads);
    else draw(arena, sheet, &figures, trials);
    return WH_OK;
}

int main(int argc, char **argv)
{
    struct line line = {argv, argc};
    if (argc < 4) {
        fputs("usage: spread dump|run|draw MACHINE READINGS [TRIALS THREADS]\n", stderr);
        return 2;
    }
    return wh_status_exit(wh_arena_run((size_t)64 << 20, work, &line));
}
