/* statistics.h - the distributions that uncertainty budgets and lives are judged with. Pure: no state, and always the
 * same number of steps. */
#ifndef WH_TRADE_STATISTICS_H
#define WH_TRADE_STATISTICS_H

/* Share of the normal distribution below z. */
double wh_normal_below(double z);

/* The z below which a share lies. 0 < share < 1. */
double wh_normal_quantile(double share);

/* ln of the gamma function. x > 0. */
double wh_log_gamma(double x);

/* Lower incomplete gamma function, integral of t^(a-1) exp(-t) from 0 to x. 0 < a <= 20, x >= 0. */
double wh_gamma_lower(double a, double x);

/* Share of Student's distribution outside -t to t. 1 <= freedom <= 1000, t >= 0. */
double wh_student_outside(double t, double freedom);

/* The t between -t and t of which a share lies: the coverage factor. 0.5 <= share <= 0.9999, freedom >= 1. */
double wh_student_quantile(double share, double freedom);

/* Probability of at most `most` events where `mean` are expected. most a whole number >= 0, mean >= 0. */
double wh_poisson_at_most(double most, double mean);

/* The mean that makes at most `most` events just so likely. 0 < share < 1, most <= 1000. */
double wh_poisson_mean(double most, double share);

#endif
