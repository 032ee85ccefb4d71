/* Spectra and envelopes of signals from standard input, for a program that knows them otherwise. Asked:
 *     rate size window overlap count, then count numbers     answered: a line of the power of each line
 * with window the number of an enum wh_window. */
#include "study/spectrum.h"

#include <stdio.h>

static enum wh_status answer(struct wh_arena *arena, void *context)
{
    double rate, overlap;
    size_t size, count;
    unsigned window;
    (void)context;
    while (scanf("%lf %zu %u %lf %zu", &rate, &size, &window, &overlap, &count) == 5) {
        double *x = WH_NEW(arena, count, double);
        struct wh_spectrum spectrum;
        for (size_t i = 0; i < count; i++)
            if (scanf("%lf", &x[i]) != 1) return WH_ERR_INPUT;
        struct wh_welch *welch = wh_welch_open(arena, rate, size, window, overlap);
        wh_welch_add(welch, count, x);
        wh_welch_close(welch, &spectrum);
        for (size_t k = 0; k < spectrum.lines; k++) printf("%.17g ", spectrum.power[k]);
        printf("%.17g %.17g\n", spectrum.step, spectrum.bandwidth);
    }
    return WH_OK;
}

int main(void)
{
    return wh_arena_run((size_t)1 << 30, answer, NULL) == WH_OK ? 0 : 1;
}
