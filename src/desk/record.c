/* A record of a run read by another process: a library that aborts must not take the writer with it. */
#include "desk/desk.h"

#include "base/file.h"
#include "base/text.h"
#include "desk/inside.h"

#include <fcntl.h>
#include <spawn.h>
#include <string.h>
#include <sys/wait.h>

enum { RESULT = 8 << 20, MOST_WORDS = 32, MOST_JOBS = 10 };

/* The files of one reading, beside the store; taken away when its arena closes. */
struct reading {
    struct wh_arena *arena;
    const char *before; /* the beginning of all their names */
    const char *record, *machine, *last, *result, *complaint;
};

static const char *beside(const struct reading *r, const char *name)
{
    return wh_arena_print(r->arena, "%s%s", r->before, name);
}

/* A name that stays in its folder and tells nothing to the program that reads it. */
static const char *plain_name(struct wh_arena *arena, const char *name)
{
    const char *slash = name ? strrchr(name, '/') : NULL;
    char *plain = wh_arena_text(arena, slash ? slash + 1 : name && *name ? name : "record");
    for (char *c = plain; *c; c++)
        if (!strchr("abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-_.", *c)) *c = '-';
    return wh_arena_slice(arena, plain, strlen(plain) < 60 ? strlen(plain) : 60);
}

static void remove_all(void *reading)
{
    const struct reading *r = reading;
    const char *const paths[] = {r->record, r->machine, r->last, r->result, r->complaint};
    for (size_t i = 0; i < sizeof paths / sizeof *paths; i++)
        if (paths[i]) wh_file_remove(paths[i]);
}

/* ---- the last record of the machine ---------------------------------------------------------------------------- */

struct looking {
    const char *what;
    const char *json; /* of the newest record of that sort; or NULL */
};

static enum wh_status look(struct wh_arena *arena, struct wh_desk_look *look)
{
    struct looking *l = look->context;
    for (size_t i = look->job->lines.count; i > 0 && !l->json; i--) {
        const struct wh_job_line *line = &look->job->lines.at[i - 1];
        const struct wh_tree *run = wh_tree_get(line->body, "run");
        if (run && wh_same(line->kind, "record") && wh_same(wh_tree_text(line->body, "what", ""), l->what))
            l->json = wh_tree_json(arena, run);
    }
    return WH_OK;
}

struct heading {
    const char *machine;
};

static enum wh_status take_machine(struct wh_arena *arena, struct wh_desk_look *look)
{
    struct heading *heading = look->context;
    heading->machine = wh_arena_text(arena, look->job->machine);
    return WH_OK;
}

/* Of this job and of those before it on the same machine. */
static enum wh_status find_last(struct wh_desk *desk, struct wh_arena *arena, int64_t job, const char *what,
                                const char **ret, struct wh_errors *reterr)
{
    struct wh_heads heads = {0};
    struct heading heading = {NULL};
    struct looking looking = {what, NULL};
    struct wh_desk_look first = {.context = &heading, .body = take_machine}, each = {.context = &looking, .body = look};
    enum wh_status status = wh_desk_state(desk, arena, job, &first, reterr);
    if (status == WH_OK) status = wh_desk_jobs(desk, arena, heading.machine, NULL, MOST_JOBS, &heads, reterr);
    for (size_t i = 0; i < heads.count && status == WH_OK && !looking.json; i++)
        if (heads.at[i].job <= job) status = wh_desk_state(desk, arena, heads.at[i].job, &each, reterr);
    *ret = looking.json;
    return status;
}

/* ---- the other process ----------------------------------------------------------------------------------------- */

struct words {
    const char *at[MOST_WORDS];
    size_t count;
};

static void add(struct words *words, const char *word)
{
    if (words->count + 1 < MOST_WORDS) words->at[words->count++] = word;
}

static void add_option(struct words *words, const char *option, const char *value)
{
    if (!value || !*value) return;
    add(words, option);
    add(words, value);
}

static struct words words_of(const struct reading *r, const struct wh_tree *said)
{
    static const char *const options[][2] = {{"--speed", "speed"},
                                             {"--channels", "channels"},
                                             {"--unit", "unit"},
                                             {"--full-scale", "full scale"},
                                             {"--sensitivity", "sensitivity"}};
    struct words words = {{"wharve", "testrun"}, 2};
    const char *what = wh_tree_text(said, "what", "");
    bool down = wh_same(what, "run-down"), up = wh_same(what, "run-up");
    if (down || up)
        add_option(&words, down ? "--run-down" : "--run-up", r->record);
    else
        add(&words, r->record);
    add_option(&words, "--machine", r->machine);
    add_option(&words, "--last", r->last);
    for (size_t i = 0; i < sizeof options / sizeof *options; i++)
        add_option(&words, options[i][0], wh_tree_text(said, options[i][1], NULL));
    if (wh_same(wh_tree_text(said, "drive", ""), "off")) add(&words, "--drive-off");
    add(&words, "--json");
    add(&words, "--drawings");
    return words;
}

/* 0: it ended well; else its status; -1: it could not be run, or died. */
static int run(const struct reading *r, const struct words *words)
{
    static char *const surroundings[] = {NULL};
    posix_spawn_file_actions_t actions;
    pid_t child;
    int state, flags = O_WRONLY | O_CREAT | O_TRUNC;
    if (posix_spawn_file_actions_init(&actions) != 0) return -1;
    bool made =
        posix_spawn_file_actions_addopen(&actions, 1, r->result, flags, 0600) == 0 &&
        posix_spawn_file_actions_addopen(&actions, 2, r->complaint, flags, 0600) == 0 &&
        posix_spawn(&child, "/proc/self/exe", &actions, NULL, (char *const *)(size_t)words->at, surroundings) == 0;
    posix_spawn_file_actions_destroy(&actions);
    if (!made || waitpid(child, &state, 0) != child || !WIFEXITED(state)) return -1;
    return WEXITSTATUS(state);
}

/* What it said, without the names of files that are soon gone. */
static const char *without(struct wh_arena *arena, const char *text, const char *prefix)
{
    struct wh_text out = {.arena = arena};
    size_t n = strlen(prefix);
    for (const char *found; (found = strstr(text, prefix)); text = found + n)
        wh_text_add_slice(&out, text, (size_t)(found - text));
    wh_text_add(&out, text);
    return wh_text_of(&out);
}

static void clear_names(struct wh_arena *arena, struct wh_tree *tree, const char *prefix)
{
    if (tree->text && strstr(tree->text, prefix)) tree->text = without(arena, tree->text, prefix);
    for (struct wh_tree *node = tree->first; node; node = node->next) clear_names(arena, node, prefix);
}

static enum wh_status complain(const struct reading *r, struct wh_errors *reterr)
{
    struct wh_errors unread = wh_errors_in(r->arena);
    char *says;
    size_t size;
    if (wh_file_read(r->arena, r->complaint, RESULT, &says, &size, &unread) != WH_OK || size == 0)
        return wh_errors_add(reterr, WH_ERR_CHILD, (struct wh_place){0}, "send it again",
                             "the process that reads the record died");
    const char *text = without(r->arena, says, r->before);
    struct wh_words lines = wh_split(r->arena, wh_starts(text, "wharve: ") ? text + strlen("wharve: ") : text, '\n');
    return wh_errors_add(reterr, WH_ERR_INPUT, (struct wh_place){0}, lines.count > 1 ? lines.at[1] : NULL, "%s",
                         lines.count ? lines.at[0] : "the record cannot be read");
}

static enum wh_status read_result(const struct reading *r, const struct words *words, struct wh_tree **ret,
                                  struct wh_errors *reterr)
{
    char *bytes;
    size_t size;
    if (run(r, words) != 0) return complain(r, reterr);
    enum wh_status status = wh_file_read(r->arena, r->result, RESULT, &bytes, &size, reterr);
    if (status == WH_OK) status = wh_tree_read(r->arena, "record", bytes, size, ret, reterr);
    if (status == WH_OK) clear_names(r->arena, *ret, r->before);
    return status;
}

enum wh_status wh_desk_read_record(struct wh_desk *desk, struct wh_arena *arena, int64_t job, struct wh_tree *said,
                                   const char *bytes, size_t size, struct wh_errors *reterr)
{
    struct reading *r = WH_NEW(arena, 1, struct reading);
    const struct wh_machine *machine;
    struct wh_tree *run;
    const char *last;
    if (!desk->ask.path)
        return wh_errors_add(reterr, WH_ERR_INPUT, (struct wh_place){0}, NULL, "a store in memory keeps no records");
    r->arena = arena;
    r->before = wh_arena_print(arena, "%s.run.%s.", desk->ask.path, wh_key_new(arena));
    enum wh_status status = wh_desk_machine(desk, arena, job, NULL, &machine, NULL, reterr);
    if (status == WH_OK) status = find_last(desk, arena, job, wh_tree_text(said, "what", ""), &last, reterr);
    if (status != WH_OK) return status;
    r->record = beside(r, plain_name(arena, wh_tree_text(said, "name", NULL)));
    r->machine = beside(r, "machine.yaml");
    r->result = beside(r, "result.json");
    r->complaint = beside(r, "complaint.txt");
    if (last) r->last = beside(r, "last.json");
    wh_arena_defer(arena, remove_all, r);
    status = wh_file_write(arena, r->record, bytes, size, reterr);
    if (status == WH_OK) status = wh_file_write(arena, r->machine, machine->text, strlen(machine->text), reterr);
    if (status == WH_OK && last) status = wh_file_write(arena, r->last, last, strlen(last), reterr);
    struct words words = words_of(r, said);
    if (status == WH_OK) status = read_result(r, &words, &run, reterr);
    if (status == WH_OK) wh_tree_add(arena, said, "run", run);
    return status;
}
