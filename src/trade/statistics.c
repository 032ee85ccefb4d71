/* statistics.c - normal, Student's and Poisson's distributions and what inverts them, by a fixed number of steps. */
#include "trade/statistics.h"
#include "trade/rule.h"

#include <math.h>

double wh_normal_below(double z)
{
    return erfc(-z / sqrt(2)) / 2;
}

/* Halving: 80 steps leave less than a double tells. */
double wh_normal_quantile(double share)
{
    double low = -40, high = 40;
    for (int step = 0; step < 80; step++) {
        double z = (low + high) / 2;
        *(wh_normal_below(z) < share ? &low : &high) = z;
    }
    return (low + high) / 2;
}

/* Stirling's series after x is raised by 8: the first term left out is below 1e-15. */
double wh_log_gamma(double x)
{
    double product = 1;
    for (int i = 0; i < 8; i++) product *= x + i;
    double y = x + 8, z = 1 / (y * y);
    double series = (1.0 / 12 - z * (1.0 / 360 - z * (1.0 / 1260 - z * (1.0 / 1680 - z * (1.0 / 1188))))) / y;
    return (y - 0.5) * log(y) - y + log(2 * WH_PI) / 2 + series - log(product);
}

/* x^a exp(-x) times the sum of x^n / (a (a + 1) … (a + n)); nothing is missing beyond x = a + 60 that a double tells.
 */
double wh_gamma_lower(double a, double x)
{
    double reach = fmin(x, a + 60), term = 1 / a, sum = term;
    for (int n = 1; n < 500; n++) {
        term *= reach / (a + n);
        sum += term;
    }
    return exp(a * log(reach) - reach) * sum;
}

/* Continued fraction of the incomplete beta function from its end, its first factor ready made. */
static double beta_share(double x, double a, double b)
{
    double fraction = 1;
    for (int m = 150; m >= 1; m--) {
        double even = m * (b - m) * x / ((a + 2 * m - 1) * (a + 2 * m));
        double odd = -(a + m) * (a + b + m) * x / ((a + 2 * m) * (a + 2 * m + 1));
        fraction = 1 + even / (1 + odd / fraction);
    }
    double first = -(a + b) * x / (a + 1);
    double front = exp(wh_log_gamma(a + b) - wh_log_gamma(a) - wh_log_gamma(b) + a * log(x) + b * log1p(-x));
    return front / (a * (1 + first / fraction));
}

double wh_student_outside(double t, double freedom)
{
    double x = freedom / (freedom + t * t), a = freedom / 2;
    if (t * t < 3) return 1 - beta_share(1 - x, 0.5, a);
    return beta_share(x, a, 0.5);
}

/* Above 1,000 degrees of freedom by the series about the normal distribution. */
double wh_student_quantile(double share, double freedom)
{
    double low = 0, high = 1e5;
    if (freedom > 1000) {
        double z = wh_normal_quantile((1 + share) / 2), s = z * z, n = freedom;
        return z * (1 + (s + 1) / (4 * n) + ((5 * s + 16) * s + 3) / (96 * n * n) +
                    (((3 * s + 19) * s + 17) * s - 15) / (384 * n * n * n));
    }
    for (int step = 0; step < 80; step++) {
        double t = (low + high) / 2;
        *(wh_student_outside(t, freedom) > 1 - share ? &low : &high) = t;
    }
    return (low + high) / 2;
}

double wh_poisson_at_most(double most, double mean)
{
    double sum = 0, log_mean = log(mean);
    for (double j = 0; j <= most; j++) sum += exp(j > 0 ? j * log_mean - mean - wh_log_gamma(j + 1) : -mean);
    return fmin(sum, 1);
}

double wh_poisson_mean(double most, double share)
{
    double low = 0, high = 2 * most + 800;
    for (int step = 0; step < 80; step++) {
        double mean = (low + high) / 2;
        *(wh_poisson_at_most(most, mean) > share ? &low : &high) = mean;
    }
    return (low + high) / 2;
}
