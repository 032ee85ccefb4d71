/* Works the reference tables: see README.md beside this file for their form. Prints a TAP line a row and, at the end,
 * how many rows stand on which kind of source.
 *
 * ref TABLE…             works the tables
 * ref --count N TABLE…   counts the rules by the best kind of figure that they meet in any table, and fails when one
 *                        meets none, or less than N % meet one that was read in a publication */
#include "base/file.h"
#include "base/text.h"
#include "sheet/ask.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

enum { KINDS = 5, FIELDS = 24 };
enum { SOURCE, HAND, MEMORY, PRACTICE, PINNED, NONE }; /* the better a check is, the sooner it stands */
static const char *const kind_words[KINDS + 1] = {"source", "hand", "memory", "practice", "pinned", "none"};

struct table {
    struct wh_arena *arena;
    const char *path;
    int line;
    const struct wh_rule *rule;
    const char *name; /* of the case */
    int kind;         /* of the source, -1: none yet */
    struct wh_given given[FIELDS];
    size_t givens;
    int rows, kinds[KINDS], differing;
    struct tally *tally; /* NULL where each row is printed */
};

/* The best kind of figure that each rule meets. */
enum { RULES = 2048 };
struct tally {
    const struct wh_rule *rules[RULES];
    int best[RULES];
    size_t count;
};

static void tally_all(struct tally *tally)
{
    for (size_t s = 0; s < wh_subject_count; s++)
        for (size_t r = 0; r < wh_subjects[s]->rule_count && tally->count < RULES; r++) {
            tally->rules[tally->count] = &wh_subjects[s]->rules[r];
            tally->best[tally->count++] = NONE;
        }
}

static void tally_met(struct tally *tally, const struct wh_rule *rule, int kind)
{
    for (size_t i = 0; i < tally->count; i++)
        if (tally->rules[i] == rule && kind < tally->best[i]) tally->best[i] = kind;
}

static const char *skip(const char *text)
{
    while (*text == ' ') text++;
    return text;
}

/* A line of a table that cannot be read is a failed row. */
static void broken(struct table *table, const char *why)
{
    if (table->tally) return;
    printf("not ok %d - %s:%d %s\n", ++table->rows, table->path, table->line, why);
}

static void set_field(struct table *table, const char *field)
{
    const char *equals = strchr(field, '=');
    if (!equals || table->givens == FIELDS) {
        broken(table, wh_arena_print(table->arena, "\"%s\" is not name=value", field));
        return;
    }
    const char *name = wh_arena_slice(table->arena, field, (size_t)(equals - field));
    size_t i = 0;
    while (i < table->givens && strcmp(table->given[i].name, name) != 0) i++;
    table->given[i] = (struct wh_given){name, equals + 1, {table->path, table->line, 0}};
    if (i == table->givens) table->givens++;
}

/* Fields are parted by two spaces or more. */
static void each_field(struct table *table, const char *text, void (*deed)(struct table *, const char *))
{
    for (text = skip(text); *text; text = skip(text)) {
        const char *end = strstr(text, "  ");
        size_t n = end ? (size_t)(end - text) : strlen(text);
        deed(table, wh_arena_slice(table->arena, text, n));
        text += n;
    }
}

struct wanted {
    const char *result;
    double value, tolerance;
    const char *because;
};

static double read_tolerance(struct table *table, const char *text, const struct wh_form *form, double value)
{
    struct wh_value tol;
    struct wh_unit percent = {0}, difference = form->unit;
    difference.offset = 0; /* a tolerance of temperature is a difference */
    if (strchr(text, '%') && wh_unit_read("%", 1, &percent) &&
        wh_value_read(text, &percent, &tol, NULL) == WH_READ_WELL)
        return tol.best * fabs(value);
    if (wh_value_read(text, &difference, &tol, NULL) == WH_READ_WELL) return tol.best;
    broken(table, wh_arena_print(table->arena, "tolerance \"%s\" cannot be read", text));
    return 0;
}

/* "x=12 um  tol 0.5 um  because …" */
static bool read_wanted(struct table *table, const char *text, const struct wh_asked *asked, struct wanted *ret,
                        size_t *o)
{
    const char *equals = strchr(text, '='), *tol = strstr(text, "  tol "), *because = strstr(text, "  because ");
    if (!equals || !tol) return false;
    ret->result = wh_arena_slice(table->arena, text, (size_t)(equals - text));
    for (*o = 0; *o < asked->results && strcmp(asked->out[*o].slot->name, ret->result) != 0;) ++*o;
    if (*o == asked->results) return false;
    const struct wh_form *form = &asked->out[*o].form;
    struct wh_errors errors = wh_errors_in(table->arena);
    struct wh_form anything = *form;
    anything.least = -INFINITY;
    anything.most = INFINITY;
    struct wh_value value;
    const char *written = wh_arena_slice(table->arena, equals + 1, (size_t)(tol - equals - 1));
    if (wh_form_value(&anything, ret->result, written, (struct wh_place){0}, &value, &errors) != WH_OK) return false;
    ret->value = value.best;
    const char *from = skip(tol + strlen("  tol "));
    size_t n = because ? (size_t)(because - from) : strlen(from);
    ret->tolerance = read_tolerance(table, wh_arena_slice(table->arena, from, n), form, ret->value);
    ret->because = because;
    return true;
}

static void report(struct table *table, bool passed, const char *says)
{
    if (table->tally) return;
    printf("%s %d - %s:%d %s%s%s %s\n", passed ? "ok" : "not ok", ++table->rows, table->path, table->line,
           table->rule->name, table->name ? " " : "", table->name ? table->name : "", says);
    table->kinds[table->kind]++;
}

static const char *row_of_value(struct table *table, const char *text, bool differs, const struct wh_asked *asked,
                                bool *passed)
{
    struct wanted wanted = {0};
    size_t o;
    if (!read_wanted(table, text, asked, &wanted, &o)) return "expects nothing that can be read";
    double got = asked->out[o].best, off = fabs(got - wanted.value);
    bool near = off <= wanted.tolerance * (1 + 1e-9) + 1e-12 * fabs(wanted.value);
    *passed = differs ? !near && wanted.because : near;
    table->differing += differs;
    if (table->tally && near && !differs) tally_met(table->tally, table->rule, table->kind);
    return wh_arena_print(table->arena, "%s: got %s, wanted %s", wanted.result,
                          wh_form_print(table->arena, &asked->out[o].form, got, 0),
                          wh_form_print(table->arena, &asked->out[o].form, wanted.value, 0));
}

static void expect(struct table *table, const char *text, bool differs)
{
    if (!table->rule || table->kind < 0) {
        broken(table, table->rule ? "a row without a source" : "a row before its call");
        return;
    }
    struct wh_errors errors = wh_errors_in(table->arena);
    struct wh_asked asked;
    enum wh_status status = wh_ask(table->arena, table->rule, table->given, table->givens, &asked, &errors);
    bool passed = false;
    const char *says;
    text = skip(text);
    if (strcmp(text, "error") == 0) {
        passed = status != WH_OK;
        says = "is refused";
    } else if (status != WH_OK) {
        says = errors.first->says;
    } else if (strcmp(text, "none") == 0) {
        passed = isnan(asked.out[0].best) && asked.remark;
        says = "has no answer, and says why";
    } else if (strcmp(text, "no remark") == 0) {
        passed = !asked.remark && !isnan(asked.out[0].best);
        says = asked.remark ? asked.remark : "no answer";
    } else if (wh_starts(text, "remark ")) {
        passed = asked.remark && strstr(asked.remark, skip(text + strlen("remark ")));
        says = asked.remark ? asked.remark : "no remark";
    } else {
        says = row_of_value(table, text, differs, &asked, &passed);
    }
    report(table, passed, says);
}

static bool read_kind(struct table *table, const char *word)
{
    for (int k = 0; k < KINDS; k++)
        if (strcmp(word, kind_words[k]) == 0) {
            table->kind = k;
            return true;
        }
    return false;
}

static void read_line(struct table *table, char *line)
{
    char *comment = strstr(line, " #");
    if (line[0] == '#') return;
    if (comment) *comment = '\0';
    size_t n = strlen(line);
    while (n > 0 && (line[n - 1] == ' ' || line[n - 1] == '\r')) line[--n] = '\0';
    const char *start = skip(line);
    if (!*start) return;
    size_t length = strcspn(start, " ");
    const char *word = wh_arena_slice(table->arena, start, length), *rest = start + length;
    if (strcmp(word, "call") == 0) {
        table->rule = wh_rule_find(skip(rest));
        table->givens = 0;
        table->name = NULL;
        if (!table->rule) broken(table, wh_arena_print(table->arena, "there is no rule \"%s\"", skip(rest)));
    } else if (strcmp(word, "case") == 0) {
        table->name = skip(rest);
    } else if (strcmp(word, "given") == 0) {
        each_field(table, rest, set_field);
    } else if (strcmp(word, "expect") == 0 || strcmp(word, "differs") == 0) {
        expect(table, rest, word[0] == 'd');
    } else if (!read_kind(table, word)) {
        broken(table, wh_arena_print(table->arena, "\"%s\" is no statement of a table", word));
    }
}

struct work {
    const char *path;
    struct tally *tally;
};

static enum wh_status work_table(struct wh_arena *arena, void *context)
{
    const struct work *work = context;
    struct table table = {.arena = arena, .path = work->path, .kind = -1, .tally = work->tally};
    struct wh_errors errors = wh_errors_in(arena);
    char *bytes;
    size_t size;
    if (wh_file_read(arena, work->path, 4 << 20, &bytes, &size, &errors) != WH_OK) {
        printf("Bail out! %s", wh_errors_text(arena, &errors));
        return WH_ERR_FILE;
    }
    for (char *line = bytes; line;) {
        char *end = strchr(line, '\n');
        if (end) *end = '\0';
        table.line++;
        read_line(&table, line);
        line = end ? end + 1 : NULL;
    }
    if (table.tally) return WH_OK;
    printf("1..%d\n# rows by source:", table.rows);
    for (int k = 0; k < KINDS; k++) printf(" %s %d", kind_words[k], table.kinds[k]);
    printf(" (of these %d differ from print)\n", table.differing);
    return WH_OK;
}

static void print_tally(const struct tally *tally, double least)
{
    size_t kinds[KINDS + 1] = {0};
    for (size_t i = 0; i < tally->count; i++) {
        kinds[tally->best[i]]++;
        if (tally->best[i] >= PINNED) printf("# %s: %s\n", kind_words[tally->best[i]], tally->rules[i]->name);
    }
    double share = 100.0 * (double)kinds[SOURCE] / (double)tally->count;
    printf("1..2\n# %zu rules by their best check:", tally->count);
    for (int k = 0; k <= NONE; k++) printf("%s %s %zu", k ? "," : "", kind_words[k], kinds[k]);
    printf("\n%s 1 - every rule meets a figure from outside this program\n",
           kinds[PINNED] + kinds[NONE] == 0 ? "ok" : "not ok");
    printf("%s 2 - at least %g %% of the rules meet a published figure: %.1f %%\n", share >= least ? "ok" : "not ok",
           least, share);
}

static int count(int tables, char **paths, const char *share)
{
    static struct tally tally;
    double least;
    if (!wh_number_read(share, &least)) return 1;
    tally_all(&tally);
    for (int i = 0; i < tables; i++)
        if (wh_arena_run(512u << 20, work_table, &(struct work){paths[i], &tally}) != WH_OK) return 1;
    print_tally(&tally, least);
    return 0;
}

int main(int argc, char **argv)
{
    if (argc > 3 && strcmp(argv[1], "--count") == 0) return count(argc - 3, argv + 3, argv[2]);
    for (int i = 1; i < argc; i++)
        if (wh_arena_run(512u << 20, work_table, &(struct work){argv[i], NULL}) != WH_OK) return 1;
    return 0;
}
