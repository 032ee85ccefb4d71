#include "study/least_squares.h"

#include <lapacke.h>
#include <math.h>

enum { WORK = 512 };

/* Below this share of the greatest, what is left of a column is rounding. */
static const double NOTHING = 1e-10;

static double norm(size_t rows, double complex a[][WH_LEAST_COLUMNS], size_t column)
{
    double sum = 0;
    for (size_t r = 0; r < rows; r++) sum = hypot(sum, cabs(a[r][column]));
    return sum;
}

size_t wh_least_squares(size_t rows, size_t columns, double complex a[][WH_LEAST_COLUMNS], const double complex b[],
                        double complex x[])
{
    double complex matrix[WH_LEAST_ROWS * WH_LEAST_COLUMNS], side[WH_LEAST_ROWS], work[WORK];
    double size[WH_LEAST_COLUMNS], more[2 * WH_LEAST_COLUMNS];
    lapack_int pivot[WH_LEAST_COLUMNS] = {0}, rank = 0, m = (lapack_int)rows, n = (lapack_int)columns;
    for (size_t c = 0; c < columns; c++) {
        size[c] = norm(rows, a, c);
        if (!(size[c] > 0)) return 0;
        for (size_t r = 0; r < rows; r++) matrix[c * rows + r] = a[r][c] / size[c];
    }
    for (size_t r = 0; r < rows; r++) side[r] = b[r];
    lapack_int failed =
        LAPACKE_zgelsy_work(LAPACK_COL_MAJOR, m, n, 1, matrix, m, side, m, pivot, NOTHING, &rank, work, WORK, more);
    if (failed || rank < n) return failed ? 0 : (size_t)rank;
    for (size_t c = 0; c < columns; c++) x[c] = side[c] / size[c];
    return columns;
}
