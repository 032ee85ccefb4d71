/* The server under load, beside the bare database on the same disk in the same run.
 *
 *   serve WHARVE FOLDER MANY SECONDS     from the folder where machines/ stands; MANY: a store of many jobs, or -
 *
 * Sixteen writers post notes in turns with bare commits; then 200 tablets each look at a step, think for a second or
 * so, and at every third step enter a note or a reading. The server's memory and the work of its processor are told. */
#include "client.h"

#include <math.h>
#include <pthread.h>
#include <signal.h>
#include <sqlite3.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

enum { WRITERS = 16, TABLETS = 200, JOBS = 40, STEPS = 200, TIMES = 65536, TURNS = 6 };

static struct client clients[TABLETS];
static unsigned port;
static pid_t server;

struct times {
    double at[TIMES];
    size_t count;
};
static struct times bares, posts, pages, late; /* late: how much later than asked for a tablet woke up */
static pthread_mutex_t lock = PTHREAD_MUTEX_INITIALIZER;
static size_t wrong;

_Noreturn static void give_up(const char *words)
{
    fprintf(stderr, "serve: %s\n", words);
    if (server > 0) kill(server, SIGTERM);
    exit(1);
}

static void note(struct times *times, double time)
{
    pthread_mutex_lock(&lock);
    if (times->count < TIMES) times->at[times->count++] = time;
    pthread_mutex_unlock(&lock);
}

static void note_wrong(const struct client *client, const char *what)
{
    pthread_mutex_lock(&lock);
    if (wrong++ == 0) fprintf(stderr, "serve: %s: %.300s\n", what, client->answer);
    pthread_mutex_unlock(&lock);
}

static int by_size(const void *a, const void *b)
{
    double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

static double at_share(struct times *times, double share)
{
    if (times->count == 0) return 0;
    qsort(times->at, times->count, sizeof *times->at, by_size);
    return times->at[(size_t)(share * (double)(times->count - 1))];
}

static const char *met(bool good)
{
    return good ? "met" : "missed";
}

/* The most memory that the server has had, in MiB. */
static double server_memory(void)
{
    char path[64], line[200];
    double most = 0;
    snprintf(path, sizeof path, "/proc/%d/status", (int)server);
    FILE *file = fopen(path, "r");
    while (file && fgets(line, sizeof line, file))
        if (strncmp(line, "VmHWM:", 6) == 0) most = strtod(line + 6, NULL) / 1024;
    if (file) fclose(file);
    return most;
}

/* Seconds that the server's threads have worked. */
static double server_worked(void)
{
    char path[64], line[1000] = "";
    snprintf(path, sizeof path, "/proc/%d/stat", (int)server);
    FILE *file = fopen(path, "r");
    if (!file || !fgets(line, sizeof line, file)) give_up("/proc cannot be read");
    fclose(file);
    char *at = strrchr(line, ')');
    for (int field = 2; at && field < 14; field++) at = strchr(at + 1, ' ');
    if (!at) give_up("/proc cannot be read");
    double user = strtod(at, &at);
    return (user + strtod(at, NULL)) / (double)sysconf(_SC_CLK_TCK);
}

static void start_server(const char *wharve, const char *store)
{
    int ends[2];
    char line[200];
    if (pipe(ends) != 0 || (server = fork()) < 0) give_up("the server cannot be started");
    if (server == 0) {
        dup2(ends[1], STDOUT_FILENO);
        execl(wharve, wharve, "serve", "--listen", "127.0.0.1:0", "--store", store, (char *)NULL);
        _exit(127);
    }
    close(ends[1]);
    FILE *file = fdopen(ends[0], "r");
    const char *at = file && fgets(line, sizeof line, file) ? strrchr(line, ':') : NULL;
    port = at ? (unsigned)strtoul(at + 1, NULL, 10) : 0;
    if (port == 0) give_up("the server did not start");
    fclose(file);
}

static void stop_server(void)
{
    kill(server, SIGTERM);
    waitpid(server, NULL, 0);
    server = 0;
    for (size_t i = 0; i < TABLETS; i++)
        if (clients[i].link > 0) close(clients[i].link);
    memset(clients, 0, sizeof clients);
}

static void run(sqlite3 *db, const char *statement)
{
    if (sqlite3_exec(db, statement, NULL, NULL, NULL) != SQLITE_OK) give_up(sqlite3_errmsg(db));
}

/* Bare commits of a row of the size of a note's, for a while. */
static void commit_bare(sqlite3 *db, double seconds)
{
    sqlite3_stmt *insert;
    char body[401];
    memset(body, 'x', 400);
    if (sqlite3_prepare_v2(db, "INSERT INTO event (body) VALUES (?1)", -1, &insert, NULL) != SQLITE_OK)
        give_up(sqlite3_errmsg(db));
    for (double end = seconds_now() + seconds, start; (start = seconds_now()) < end;) {
        run(db, "BEGIN IMMEDIATE");
        sqlite3_bind_text(insert, 1, body, 400, SQLITE_STATIC);
        if (sqlite3_step(insert) != SQLITE_DONE) give_up(sqlite3_errmsg(db));
        sqlite3_reset(insert);
        run(db, "COMMIT");
        note(&bares, seconds_now() - start);
    }
    sqlite3_finalize(insert);
}

/* One thread's part: its client, its job, until when, and its own course of chance. */
struct part {
    struct client *client;
    size_t number, done;
    int job;
    double end;
    unsigned chance;
};

static void enter(struct part *part, const char *words)
{
    char path[64], form[400];
    snprintf(path, sizeof path, "/jobs/%d/enter", part->job);
    snprintf(form, sizeof form, "key=%zu-%zu-%u&%s", part->number, part->done++, part->chance, words);
    double start = seconds_now();
    if (client_ask(part->client, path, form) != 303) note_wrong(part->client, words);
    note(&posts, seconds_now() - start);
}

static void *write_on(void *context)
{
    struct part *part = context;
    while (seconds_now() < part->end) enter(part, "kind=note&text=the+belt+runs+quietly+again");
    return NULL;
}

static void run_parts(struct part parts[], size_t n, void *(*body)(void *))
{
    static pthread_t threads[TABLETS];
    for (size_t i = 0; i < n; i++)
        if (pthread_create(&threads[i], NULL, body, &parts[i]) != 0) give_up("no more threads");
    for (size_t i = 0; i < n; i++) pthread_join(threads[i], NULL);
}

static void open_jobs(void)
{
    char form[100], name[32];
    for (size_t i = 0; i < TABLETS; i++) {
        snprintf(name, sizeof name, "Fitter+%zu", i + 1);
        if (!client_sign_in(&clients[i], port, name)) give_up("nobody can sign in");
    }
    for (int job = 1; job <= JOBS; job++) {
        snprintf(form, sizeof form, "renew=foot-bearing&key=job-%d&brought=noise", job);
        if (client_ask(&clients[0], "/machines/juice-clarifier/start", form) != 303) give_up(clients[0].answer);
    }
}

static void compare_rates(sqlite3 *db, double seconds)
{
    static struct part parts[WRITERS];
    double turn = seconds / TURNS, worked = server_worked();
    for (size_t i = 0; i < WRITERS; i++) parts[i] = (struct part){&clients[i], i, 0, 1 + (int)(i % 4), 0, 0};
    for (unsigned t = 0; t < TURNS; t++) {
        commit_bare(db, turn);
        for (size_t i = 0; i < WRITERS; i++) parts[i].end = seconds_now() + turn;
        run_parts(parts, WRITERS, write_on);
    }
    worked = server_worked() - worked;
    double bare = (double)bares.count / seconds, ours = (double)posts.count / seconds;
    double commit = at_share(&bares, 0.5);
    printf("bare commits: %.0f a second, median %.0f us, p99 %.1f ms\n", bare, 1e6 * commit,
           1e3 * at_share(&bares, 0.99));
    printf("%d writers over HTTP: %.0f notes a second, %.2f times the bare rate (at least 1.5): ", WRITERS, ours,
           ours / bare);
    if (commit < 200e-6)
        printf("skipped: a bare commit takes less than 200 us, grouping has nothing to save\n");
    else
        printf("%s\n", met(ours >= 1.5 * bare));
    printf("  p99 %.1f ms; the server worked %.0f us a note\n", 1e3 * at_share(&posts, 0.99),
           1e6 * worked / (double)posts.count);
}

/* What the tablets look at and read. */
static char steps[STEPS][64], reading[240];
static size_t step_count;

/* A step's page shows which reading it takes; the first that takes a number in its unit serves. */
static void find_reading(struct client *client, const char *step)
{
    char path[128], check[64], keyed[240];
    snprintf(path, sizeof path, "/jobs/5?step=%.64s", step);
    if (client_ask(client, path, NULL) != 200) give_up(client->answer);
    if (*reading || !strstr(client->answer, ">Reading in ")) return;
    if (!client_find(client->answer, "name=\"check\" value=\"", check, sizeof check)) return;
    snprintf(keyed, sizeof keyed, "key=first&kind=reading&check=%s&value=0.02", check);
    if (client_ask(client, "/jobs/5/enter", keyed) == 303)
        snprintf(reading, sizeof reading, "%s", keyed + strlen("key=first&"));
}

static void find_steps(struct client *client)
{
    static char list[sizeof clients[0].answer];
    if (client_ask(client, "/jobs/5/steps", NULL) != 200) give_up(client->answer);
    memcpy(list, client->answer, sizeof list);
    for (const char *at = list; step_count < STEPS; step_count++)
        if (!(at = client_find(at, "?step=", steps[step_count], sizeof steps[0]))) break;
    for (size_t s = 0; s < step_count; s++) find_reading(client, steps[s]);
    if (step_count == 0 || !*reading) give_up("a job without steps and readings");
}

/* Half a second to one and a half. */
static void think(struct part *part)
{
    double wanted = seconds_now() + 0.5 + (rand_r(&part->chance) % 1000) / 1000.0;
    struct timespec until = {.tv_sec = (time_t)wanted, .tv_nsec = (long)(1e9 * (wanted - floor(wanted)))};
    clock_nanosleep(CLOCK_MONOTONIC, TIMER_ABSTIME, &until, NULL);
    note(&late, seconds_now() - wanted);
}

static void *be_tablet(void *context)
{
    struct part *part = context;
    char path[128];
    while (think(part), seconds_now() < part->end) {
        snprintf(path, sizeof path, "/jobs/%d?step=%s", part->job, steps[(size_t)rand_r(&part->chance) % step_count]);
        double start = seconds_now();
        if (client_ask(part->client, path, NULL) != 200) note_wrong(part->client, path);
        note(&pages, seconds_now() - start);
        if (rand_r(&part->chance) % 3 > 0) continue;
        think(part);
        enter(part, rand_r(&part->chance) % 2 ? reading : "kind=note&text=looked+at");
    }
    return NULL;
}

static void run_tablets(double seconds)
{
    static struct part parts[TABLETS];
    double bare = at_share(&bares, 0.99), worked = server_worked();
    posts.count = 0;
    for (size_t i = 0; i < TABLETS; i++)
        parts[i] =
            (struct part){&clients[i], i, 0, 5 + (int)(i % (JOBS - 4)), seconds_now() + seconds, (unsigned)i + 1};
    run_parts(parts, TABLETS, be_tablet);
    worked = server_worked() - worked;
    double page = at_share(&pages, 0.99), post = at_share(&posts, 0.99);
    printf("%d tablets for %.0f s on %d jobs: %zu step pages, %zu entries; %.2f processors' work, %zu wrong answers\n",
           TABLETS, seconds, JOBS - 4, pages.count, posts.count, worked / seconds, wrong);
    printf("  a step page: median %.1f ms, p99 %.1f ms (at most 20): %s\n", 1e3 * at_share(&pages, 0.5), 1e3 * page,
           met(page <= 20e-3));
    printf("  an entry: median %.1f ms, p99 %.1f ms (at most the bare p99 %.1f ms + 50): %s\n",
           1e3 * at_share(&posts, 0.5), 1e3 * post, 1e3 * bare, met(post <= bare + 50e-3));
    printf("  the machine itself: a sleeping tablet wakes up late, p99 %.1f ms\n", 1e3 * at_share(&late, 0.99));
    printf("  the server's memory: %.1f MiB at most (under 96): %s\n", server_memory(), met(server_memory() < 96));
}

/* Job pages of a store with many jobs, each opened for the first time. */
static void open_many(void)
{
    enum { TRIES = 200 };
    char path[64];
    pages.count = 0;
    double worked = server_worked();
    if (!client_sign_in(&clients[0], port, "Ada")) give_up("nobody can sign in");
    for (int i = 0; i < TRIES; i++) {
        snprintf(path, sizeof path, "/jobs/%d", 1 + (i * 7919 + 13) % 9973);
        double start = seconds_now();
        if (client_ask(&clients[0], path, NULL) != 200) note_wrong(&clients[0], path);
        note(&pages, seconds_now() - start);
    }
    double page = at_share(&pages, 0.99);
    worked = server_worked() - worked;
    printf("a store of many jobs: a job page opens in %.1f ms, p99 %.1f ms (under 20): %s\n"
           "  the server worked %.1f ms a page; its memory: %.1f MiB at most\n",
           1e3 * at_share(&pages, 0.5), 1e3 * page, met(page < 20e-3), 1e3 * worked / TRIES, server_memory());
}

int main(int argc, char **argv)
{
    sqlite3 *db;
    char path[1000];
    double seconds = argc == 5 ? strtod(argv[4], NULL) : 0;
    if (seconds < 1) return 2;
    setvbuf(stdout, NULL, _IOLBF, 0);
    snprintf(path, sizeof path, "%s/beside.db", argv[2]);
    if (sqlite3_open(path, &db) != SQLITE_OK) give_up(sqlite3_errmsg(db));
    run(db,
        "PRAGMA journal_mode = WAL; PRAGMA synchronous = FULL; CREATE TABLE event (n INTEGER PRIMARY KEY, body TEXT)");
    snprintf(path, sizeof path, "%s/served.db", argv[2]);
    start_server(argv[1], path);
    open_jobs();
    compare_rates(db, seconds / 3);
    find_steps(&clients[0]);
    run_tablets(seconds);
    stop_server();
    if (strcmp(argv[3], "-") != 0) {
        start_server(argv[1], argv[3]);
        open_many();
        stop_server();
    }
    sqlite3_close(db);
    return wrong > 0;
}
