/* What comes in is checked against the table of kinds and the job as it stands, and becomes a body to be stored. */
#include "base/text.h"
#include "job/inside.h"

#include <string.h>

enum { LONGEST_TEXT = 4000, MOST_WORDS = 500 };

enum wh_status wh_refuse(struct wh_accepting *a, const char *right, const char *format, ...)
{
    va_list args;
    va_start(args, format);
    const char *says = wh_arena_vprint(a->arena, format, args);
    va_end(args);
    return wh_errors_add(a->errors, WH_ERR_INPUT, (struct wh_place){0}, right, "%s", says);
}

static bool plain(const char *text)
{
    size_t n = strlen(text);
    return n <= LONGEST_TEXT && wh_text_is_plain(text, n);
}

/* The ids of a job that a word was probably meant for. */
static const char *meant(struct wh_accepting *a, const struct wh_entry_field *field, const char *word)
{
    const struct wh_job *job = a->job;
    const struct wh_tree *parts = wh_tree_get(job->plan, "parts");
    size_t most = job->steps.count + job->checks.count + job->holds.count + (parts ? parts->count : 0), n = 0;
    const char **ids = WH_NEW(a->arena, most + 1, const char *);
    if (field->form == WH_ENTRY_STEPS)
        for (size_t i = 0; i < job->steps.count; i++) ids[n++] = job->steps.at[i].id;
    if (field->form == WH_ENTRY_CHECK)
        for (size_t i = 0; i < job->checks.count; i++) ids[n++] = job->checks.at[i].id;
    if (field->form == WH_ENTRY_HOLD)
        for (size_t i = 0; i < job->holds.count; i++) ids[n++] = job->holds.at[i].id;
    if (field->form == WH_ENTRY_PARTS)
        for (const struct wh_tree *part = parts ? parts->first : NULL; part; part = part->next)
            ids[n++] = wh_tree_text(part, "id", "");
    const char *nearest = wh_nearest(word, ids, n);
    return nearest ? wh_arena_print(a->arena, "did you mean \"%s\"?", nearest) : "they stand in wharve job show";
}

/* A plan as issued that lists no parts, of an old program, knows any. */
static bool is_part(const struct wh_job *job, const char *id)
{
    const struct wh_tree *list = wh_tree_get(job->plan, "parts");
    for (const struct wh_tree *part = list ? list->first : NULL; part; part = part->next)
        if (wh_same(wh_tree_text(part, "id", ""), id)) return true;
    return !list;
}

static bool known(const struct wh_job *job, enum wh_entry_form form, const char *id)
{
    if (form == WH_ENTRY_PARTS) return is_part(job, id);
    return form == WH_ENTRY_STEPS   ? wh_job_step(job, id) != NULL
           : form == WH_ENTRY_CHECK ? wh_job_check(job, id) != NULL
           : form == WH_ENTRY_HOLD  ? wh_job_hold(job, id) != NULL
                                    : true;
}

static void check_words(struct wh_accepting *a, const struct wh_entry_field *field)
{
    struct wh_words words = wh_body_words(a->arena, a->said, field->name);
    if (words.count == 0 || words.count > MOST_WORDS)
        wh_refuse(a, NULL, "%s: nothing is named, or too much", field->title);
    for (size_t i = 0; i < words.count; i++) {
        if (!plain(words.at[i]))
            wh_refuse(a, NULL, "%s: too long, or no plain text", field->title);
        else if (!known(a->job, field->form, words.at[i]))
            wh_refuse(a, meant(a, field, words.at[i]), "there is no %s \"%s\" in this job", field->title, words.at[i]);
    }
}

static bool is_choice(struct wh_arena *arena, const char *choices, const char *text)
{
    struct wh_words words = wh_split(arena, choices, '|');
    for (size_t i = 0; i < words.count; i++)
        if (wh_same(words.at[i], text)) return true;
    return false;
}

static void check_text(struct wh_accepting *a, const struct wh_entry_field *field, const struct wh_tree *node)
{
    if (node->is != WH_TREE_TEXT || !*node->text || !plain(node->text))
        wh_refuse(a, NULL, "%s: empty, too long, or no plain text", field->title);
    else if (!known(a->job, field->form, node->text))
        wh_refuse(a, meant(a, field, node->text), "there is no %s \"%s\" in this job", field->title, node->text);
    else if (field->form == WH_ENTRY_CHOICE && !is_choice(a->arena, field->choices, node->text))
        wh_refuse(a, wh_arena_print(a->arena, "one of: %s", field->choices), "%s: \"%s\" is none", field->title,
                  node->text);
}

static void check_field(struct wh_accepting *a, const struct wh_entry_field *field, const struct wh_tree *node)
{
    switch (field->form) {
    case WH_ENTRY_TEXT:
    case WH_ENTRY_CHOICE:
    case WH_ENTRY_CHECK:
    case WH_ENTRY_HOLD: check_text(a, field, node); break;
    case WH_ENTRY_NUMBER:
        if (node->is != WH_TREE_NUMBER) wh_refuse(a, NULL, "%s: not a number", field->title);
        break;
    case WH_ENTRY_TRUTH:
        if (node->is != WH_TREE_TRUTH) wh_refuse(a, NULL, "%s: neither true nor false", field->title);
        break;
    case WH_ENTRY_SEQ:
        if (wh_body_seq(a->said, field->name) < 1 || wh_body_seq(a->said, field->name) > a->job->seq)
            wh_refuse(a, NULL, "%s: there is no such entry", field->title);
        break;
    case WH_ENTRY_WORDS:
    case WH_ENTRY_STEPS:
    case WH_ENTRY_PARTS:
    case WH_ENTRY_FILES: check_words(a, field); break;
    case WH_ENTRY_TREE:
        if (node->is != WH_TREE_MAP) wh_refuse(a, NULL, "%s: the program makes that, not a person", field->title);
        break;
    }
}

static const struct wh_entry_field *field_of(const struct wh_entry_kind *kind, const char *name)
{
    for (size_t i = 0; i < WH_ENTRY_FIELDS && kind->fields[i].name; i++)
        if (wh_same(kind->fields[i].name, name)) return &kind->fields[i];
    return NULL;
}

static const char *names_of(struct wh_arena *arena, const struct wh_entry_kind *kind)
{
    struct wh_text text = {.arena = arena};
    for (size_t i = 0; i < WH_ENTRY_FIELDS && kind->fields[i].name; i++)
        wh_text_print(&text, "%s%s", i ? ", " : "it has: ", kind->fields[i].name);
    return wh_text_of(&text);
}

enum wh_status wh_accept_fields(struct wh_accepting *a, const struct wh_entry_kind *kind)
{
    for (const struct wh_tree *node = a->said ? a->said->first : NULL; node; node = node->next) {
        const struct wh_entry_field *field = field_of(kind, node->key);
        if (field)
            check_field(a, field, node);
        else
            wh_refuse(a, names_of(a->arena, kind), "%s has no field \"%s\"", kind->name, node->key);
    }
    for (size_t i = 0; i < WH_ENTRY_FIELDS && kind->fields[i].name; i++)
        if (kind->fields[i].needed && !wh_tree_get(a->said, kind->fields[i].name))
            wh_refuse(a, NULL, "%s: \"%s\" is missing: %s", kind->title, kind->fields[i].name, kind->fields[i].title);
    return wh_errors_status(a->errors);
}

enum wh_status wh_accept_waiting(struct wh_accepting *a)
{
    return a->job->waiting ? wh_refuse(a, NULL, "the job waits already, for %s", a->job->waiting) : WH_OK;
}

enum wh_status wh_accept_resumed(struct wh_accepting *a)
{
    return a->job->waiting ? WH_OK : wh_refuse(a, NULL, "the job does not wait");
}

/* Nothing may be open but the later visits, and nothing contested. */
enum wh_status wh_accept_handed(struct wh_accepting *a)
{
    const struct wh_job_step *next = wh_job_next(a->job);
    if (a->job->handed) return wh_refuse(a, NULL, "the job is handed over already");
    if (next && !wh_same(next->stage, "come back"))
        wh_refuse(a, "enter what was done, or why it was left out", "steps are open, first: %s", next->what);
    for (size_t i = 0; i < a->job->contests.count; i++)
        if (!a->job->contests.at[i].settled)
            wh_refuse(a, "wharve job enter JOB settled", "entry %lld is contested",
                      (long long)a->job->contests.at[i].seq);
    return wh_errors_status(a->errors);
}

/* The charge hand signs after the fitter, the customer after both, each what is named as open. */
enum wh_status wh_accept_signed(struct wh_accepting *a)
{
    const char *as = wh_tree_text(a->said, "as", "");
    if (!a->job->handed) return wh_refuse(a, NULL, "the job is not handed over yet");
    if (!wh_same(as, "fitter") && !a->job->signed_by[WH_SIGN_FITTER])
        wh_refuse(a, NULL, "the fitter has not signed yet");
    if (wh_same(as, "customer") && !a->job->signed_by[WH_SIGN_CHARGE_HAND])
        wh_refuse(a, NULL, "the charge hand has not signed yet");
    if (wh_same(as, "charge hand") && wh_same(a->entry->who, a->job->signed_by[WH_SIGN_FITTER]))
        wh_refuse(a, NULL, "who signed as fitter does not sign as charge hand too");
    return wh_errors_status(a->errors);
}

/* Where the second stands it has to pass as an entry of its own. */
enum wh_status wh_accept_settled(struct wh_accepting *a)
{
    int64_t seq = wh_body_seq(a->said, "entry");
    const struct wh_job_contest *contest = NULL;
    for (size_t i = 0; i < a->job->contests.count; i++)
        if (a->job->contests.at[i].seq == seq) contest = &a->job->contests.at[i];
    if (!contest) return wh_refuse(a, NULL, "entry %lld is not contested", (long long)seq);
    if (contest->settled) return wh_refuse(a, NULL, "it is settled already: the %s stands", contest->settled);
    if (wh_same(wh_tree_text(a->said, "stands", ""), "first")) return WH_OK;
    struct wh_entry second = {a->entry->job, contest->who, a->entry->key, contest->kind, contest->entry, -1};
    struct wh_accepted accepted;
    enum wh_status status = wh_entry_accept(a->arena, a->job, a->round, &second, &accepted, a->errors);
    struct wh_tree *body;
    if (status == WH_OK)
        status = wh_tree_read(a->arena, "second", accepted.body, strlen(accepted.body), &body, a->errors);
    if (status == WH_OK) wh_tree_add(a->arena, a->judged, "second", body);
    return status;
}

/* The last entry about what this one is about, after the sender had looked; 0: none. */
static int64_t met(const struct wh_accepting *a)
{
    int64_t last = 0;
    struct wh_words steps = wh_body_words(a->arena, a->said, "steps");
    const struct wh_job_check *check = wh_job_check(a->job, wh_tree_text(a->said, "check", ""));
    for (size_t i = 0; i < steps.count; i++) {
        const struct wh_job_step *step = wh_job_step(a->job, steps.at[i]);
        if (step && step->touched > last) last = step->touched;
    }
    if (check && check->touched > last) last = check->touched;
    return a->entry->seen >= 0 && last > a->entry->seen ? last : 0;
}

/* The stored body: form, what was said, what the program made of it. */
static struct wh_tree *body_of(struct wh_arena *arena, const struct wh_tree *said)
{
    struct wh_tree *body = wh_tree_new(arena, WH_TREE_MAP);
    wh_tree_add_number(arena, body, "v", WH_JOB_FORM);
    for (const struct wh_tree *node = said ? said->first : NULL; node; node = node->next) {
        struct wh_tree *copy = wh_tree_new(arena, node->is);
        *copy = *node;
        copy->next = NULL;
        wh_tree_add(arena, body, node->key, copy);
    }
    return body;
}

void wh_entry_contest(struct wh_arena *arena, const struct wh_entry *entry, int64_t against, const char *why,
                      struct wh_accepted *ret)
{
    struct wh_tree *body = wh_tree_new(arena, WH_TREE_MAP), *inner = wh_tree_new(arena, WH_TREE_MAP);
    for (const struct wh_tree *node = entry->said ? entry->said->first : NULL; node; node = node->next) {
        struct wh_tree *copy = wh_tree_new(arena, node->is);
        *copy = *node;
        copy->next = NULL;
        wh_tree_add(arena, inner, node->key, copy);
    }
    wh_tree_add_number(arena, body, "v", WH_JOB_FORM);
    wh_tree_add_text(arena, body, "kind", entry->kind);
    wh_tree_add_text(arena, body, "because", why);
    wh_tree_add_number(arena, body, "against", (double)against);
    wh_tree_add(arena, body, "entry", inner);
    *ret = (struct wh_accepted){WH_TAKEN_CONTESTED, entry->key, "contested", wh_tree_line(arena, body), why, against};
}

enum wh_status wh_entry_accept(struct wh_arena *arena, const struct wh_job *job, const struct wh_entry_round *round,
                               const struct wh_entry *entry, struct wh_accepted *ret, struct wh_errors *reterr)
{
    const struct wh_entry_kind *kind = wh_entry_kind(entry->kind);
    struct wh_errors errors = wh_errors_in(arena);
    struct wh_accepting a = {arena, job, round, entry, entry->said, wh_tree_new(arena, WH_TREE_MAP), &errors};
    if (!kind || !kind->people)
        wh_refuse(&a, NULL, "\"%s\" is nothing that is entered", entry->kind);
    else if (job->seq == 0)
        wh_refuse(&a, "wharve job list", "there is no job %lld", (long long)entry->job);
    else if (!entry->who || !*entry->who || !plain(entry->who))
        wh_refuse(&a, NULL, "an entry has a name: who makes it");
    else if (wh_accept_fields(&a, kind) == WH_OK && !met(&a) && kind->accept)
        kind->accept(&a);
    if (errors.count) {
        for (const struct wh_error *e = errors.first; e; e = e->next)
            wh_errors_add(reterr, WH_ERR_INPUT, e->place, e->right, "%s", e->says);
        return WH_ERR_INPUT;
    }
    if (met(&a)) {
        wh_entry_contest(arena, entry, met(&a), "the step was touched meanwhile", ret);
        return WH_OK;
    }
    struct wh_tree *body = body_of(arena, entry->said);
    const struct wh_tree *second = wh_tree_get(a.judged, "second");
    if (second)
        wh_tree_add(arena, body, "second", (struct wh_tree *)(uintptr_t)second);
    else if (a.judged->first)
        wh_tree_add(arena, body, "judged", a.judged);
    *ret = (struct wh_accepted){WH_TAKEN, entry->key, kind->name, wh_tree_line(arena, body), NULL, 0};
    return WH_OK;
}

/* The next field that a person said: what the program made of it is left aside. */
static const struct wh_tree *said_from(const struct wh_tree *node)
{
    static const char *const made[] = {"v", "judged", "second", "run"};
    for (size_t i = 0; node && i < sizeof made / sizeof *made; i++)
        if (wh_same(node->key, made[i])) return said_from(node->next);
    return node;
}

bool wh_entry_same(struct wh_arena *arena, const struct wh_event_in *before, const struct wh_entry *entry)
{
    struct wh_errors errors = wh_errors_in(arena);
    struct wh_tree *body;
    const char *kind = before->kind;
    if (wh_tree_read(arena, "before", before->body, before->size, &body, &errors) != WH_OK) return false;
    const struct wh_tree *said = body;
    if (wh_same(kind, "contested")) kind = wh_tree_text(body, "kind", ""), said = wh_tree_get(body, "entry");
    if (!wh_same(kind, entry->kind) || !wh_same(before->who, entry->who)) return false;
    const struct wh_tree *then = said_from(said ? said->first : NULL),
                         *now = said_from(entry->said ? entry->said->first : NULL);
    while (then && now && wh_tree_same(then, now)) then = said_from(then->next), now = said_from(now->next);
    return !then && !now;
}
