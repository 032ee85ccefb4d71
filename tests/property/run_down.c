/* Fits run-downs for run_down.py: "COUNT FROM" and then COUNT lines of "time speed", each set answered by one line:
 * status, steady, viscous, air, first speed, the standard uncertainty of each, time from FROM to standstill and its
 * uncertainty. */
#include "study/rundown.h"

#include <math.h>
#include <stdio.h>

enum { MOST = 20000 };

int main(void)
{
    static double time[MOST], speed[MOST];
    size_t n;
    double from;
    while (scanf("%zu %lf", &n, &from) == 2 && n <= MOST) {
        struct wh_run_down_fit fit;
        for (size_t i = 0; i < n; i++)
            if (scanf("%lf %lf", &time[i], &speed[i]) != 2) return 1;
        enum wh_status status = wh_run_down_fit(n, time, speed, &fit);
        printf("%d", status);
        for (int i = 0; status == WH_OK && i < WH_SLOWING_TERMS; i++) printf(" %.17g", fit.slowing.of[i]);
        for (int i = 0; status == WH_OK && i < WH_SLOWING_TERMS; i++) printf(" %.17g", sqrt(fit.covariance[i][i]));
        double u = NAN, stands = status == WH_OK ? wh_run_down_time(&fit, from, 0, &u) : NAN;
        printf(" %.17g %.17g %.17g\n", stands, u, status == WH_OK ? wh_run_down_unseen(&fit) : NAN);
    }
    return 0;
}
