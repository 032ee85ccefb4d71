/* How long the figures of a machine take: reading, binding, settling, every standard uncertainty. Prints the least of
 * many runs. */
#include "sheet/sheet.h"

#include <stdio.h>
#include <time.h>

enum { RUNS = 2000, READS = 30 };

static double now(void)
{
    struct timespec t;
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t);
    return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

static double least(double a, double b)
{
    return a < b ? a : b;
}

struct spreading {
    struct wh_sheet *sheet;
    double seconds;
};

static enum wh_status spread(struct wh_arena *arena, void *context)
{
    struct spreading *spreading = context;
    double start = now();
    wh_sheet_spread(spreading->sheet, arena);
    spreading->seconds = least(spreading->seconds, now() - start);
    return WH_OK;
}

static enum wh_status read_and_bind(struct wh_arena *arena, void *context)
{
    struct wh_errors errors = wh_errors_in(arena);
    struct wh_machine *machine;
    struct wh_sheet *sheet;
    double start = now();
    enum wh_status status = wh_machine_read(arena, context, &machine, &errors);
    double read = now() - start;
    if (status == WH_OK) status = wh_sheet_make(arena, machine, NULL, 0, &sheet, &errors);
    if (status != WH_OK) {
        fputs(wh_errors_text(arena, &errors), stderr);
        return status;
    }
    double bind = now() - start - read, settle = 1;
    for (int run = 0; run < RUNS; run++) {
        start = now();
        wh_sheet_settle(sheet);
        settle = least(settle, now() - start);
    }
    struct spreading spreading = {sheet, 1};
    for (int run = 0; run < RUNS / 4; run++) wh_arena_run(64u << 20, spread, &spreading);
    size_t figures = 0;
    for (size_t c = 0; c < sheet->cell_count; c++) figures += sheet->cells[c].use != WH_NONE;
    printf("%zu figures of %zu rules from %zu values: read %.2f ms, bind %.2f ms, settle %.2f us, all standard "
           "uncertainties %.0f us\n",
           figures, sheet->use_count, sheet->cell_count - figures, read * 1e3, bind * 1e3, settle * 1e6,
           spreading.seconds * 1e6);
    return WH_OK;
}

int main(int argc, char **argv)
{
    if (argc != 2) {
        fputs("usage: sheet MACHINE-FILE\n", stderr);
        return 2;
    }
    return wh_status_exit(wh_arena_run(256u << 20, read_and_bind, argv[1]));
}
