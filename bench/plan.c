/* What one `wharve plan` costs as a whole process, beside a bare process start: processor time (least and middle of
 * several runs) and greatest memory. */
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

enum { RUNS = 15 };

struct cost {
    double seconds;
    long kib;
};

static struct cost run(char *const line[])
{
    struct rusage usage;
    int state;
    pid_t child = fork();
    if (child == 0) {
        int quiet = open("/dev/null", O_WRONLY);
        if (quiet < 0 || dup2(quiet, STDOUT_FILENO) < 0) _exit(127);
        execv(line[0], line);
        _exit(127);
    }
    if (child < 0 || wait4(child, &state, 0, &usage) != child || !WIFEXITED(state) || WEXITSTATUS(state) != 0) {
        fprintf(stderr, "%s did not run well\n", line[0]);
        exit(1);
    }
    double user = (double)usage.ru_utime.tv_sec + 1e-6 * (double)usage.ru_utime.tv_usec;
    double system = (double)usage.ru_stime.tv_sec + 1e-6 * (double)usage.ru_stime.tv_usec;
    return (struct cost){user + system, usage.ru_maxrss};
}

static int by_seconds(const void *a, const void *b)
{
    const struct cost *x = a, *y = b;
    return x->seconds < y->seconds ? -1 : x->seconds > y->seconds;
}

static void measure(const char *name, char *const line[])
{
    struct cost costs[RUNS];
    long kib = 0;
    for (int i = 0; i < RUNS; i++) {
        costs[i] = run(line);
        if (costs[i].kib > kib) kib = costs[i].kib;
    }
    qsort(costs, RUNS, sizeof *costs, by_seconds);
    printf("%-40s %6.1f ms of processor time (middle %.1f), %.1f MiB\n", name, costs[0].seconds * 1e3,
           costs[RUNS / 2].seconds * 1e3, (double)kib / 1024);
}

int main(int argc, char **argv)
{
    if (argc != 4) {
        fputs("usage: plan WHARVE MACHINE-FILE PARTS\n", stderr);
        return 2;
    }
    char *bare[] = {"/bin/true", NULL}, *start[] = {argv[1], "--version", NULL};
    char *plan[] = {argv[1], "plan", argv[2], "--renew", argv[3], NULL};
    measure("a bare process", bare);
    measure("wharve --version", start);
    measure("wharve plan", plan);
    return 0;
}
