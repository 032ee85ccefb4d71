/* Balance without phase: with c the effect of a unit of unbalance over the bare reading, the square of an amplitude
 * over that of the bare one is 1 + |c|^2 u^2 + 2 u Re(c exp(j angle)). */
#include "study/balance.h"
#include "study/least_squares.h"

#include <math.h>

/* Two runs half a turn apart: the swing is known along that line only, across it by what the mean leaves. */
static bool from_two(double bare, const double complex on[], const double amplitude[], struct wh_balance_phaseless *ret)
{
    double u = cabs(on[0]), first = pow(amplitude[0] / bare, 2), second = pow(amplitude[1] / bare, 2);
    if (cabs(on[0] + on[1]) > 0.02 * u) return false;
    double square = ((first + second) / 2 - 1) / (u * u), along = (first - second) / (4 * u);
    if (!(square > along * along)) return false;
    double complex turn = u / on[0], way = along, side = sqrt(square - along * along) * I;
    ret->wanted = -1 / ((way + side) * turn);
    ret->other = -1 / ((way - side) * turn);
    ret->by_mean = bare * sqrt(square);
    ret->by_swing = NAN;
    return true;
}

bool wh_balance_without_phase(double bare, size_t n, const double complex on[], const double amplitude[],
                              struct wh_balance_phaseless *ret)
{
    double complex a[WH_LEAST_ROWS][WH_LEAST_COLUMNS], b[WH_LEAST_ROWS], x[3];
    if (!(bare > 0)) return false;
    if (n == 2) return from_two(bare, on, amplitude, ret);
    if (n < 3 || n > WH_LEAST_ROWS) return false;
    for (size_t i = 0; i < n; i++) {
        a[i][0] = cabs(on[i]) * cabs(on[i]);
        a[i][1] = 2 * creal(on[i]);
        a[i][2] = -2 * cimag(on[i]);
        b[i] = pow(amplitude[i] / bare, 2) - 1;
    }
    if (wh_least_squares(n, 3, a, b, x) < 3 || !(creal(x[0]) > 0)) return false;
    double complex c = creal(x[1]) + creal(x[2]) * I;
    if (!(cabs(c) > 0)) return false;
    ret->by_mean = bare * sqrt(creal(x[0]));
    ret->by_swing = bare * cabs(c);
    ret->wanted = -(cabs(c) / c) / sqrt(creal(x[0]));
    ret->other = NAN;
    return true;
}
