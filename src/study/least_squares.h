/* least_squares.h - the best answer to more complex equations than unknowns, by LAPACK. */
#ifndef WH_STUDY_LEAST_SQUARES_H
#define WH_STUDY_LEAST_SQUARES_H

#include <complex.h>
#include <stddef.h>

enum { WH_LEAST_ROWS = 64, WH_LEAST_COLUMNS = 8 };

/* Minimises |a x - b|. a: rows of WH_LEAST_COLUMNS places of which the first `columns` count; 1 <= columns <= rows.
 * Columns may differ much in size. Returns how many of the unknowns the rows tell apart (the rank); with fewer than
 * `columns` x is not set. */
size_t wh_least_squares(size_t rows, size_t columns, double complex a[][WH_LEAST_COLUMNS], const double complex b[],
                        double complex x[]);

#endif
