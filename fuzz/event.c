/* Any bytes as the events of a job, a line each: the kind, a tab, the body. They fold, or are refused with words; what
 * folds can be asked everything, shown, and answers entries. */
#include "base/text.h"
#include "fuzz.h"
#include "job/entry.h"
#include "view/job.h"

#include <string.h>

enum { CAP = 256 << 20 };

struct input {
    const char *bytes;
    size_t size;
};

/* Everything a page or a report would ask. */
static void ask(struct wh_arena *arena, const struct wh_job *job)
{
    const struct wh_job_step *next = wh_job_next(job);
    if (next) wh_job_bars(arena, job, next, "Ada");
    wh_job_open(arena, job);
    struct wh_tree *tree = wh_view_job(arena, job), *back = NULL;
    struct wh_errors errors = wh_errors_in(arena);
    const char *line = wh_tree_line(arena, tree);
    must(wh_tree_read(arena, "job", line, strlen(line), &back, &errors) == WH_OK);
    must(strlen(wh_view_job_text(arena, tree, true)) > 0 && strlen(wh_view_report_text(arena, tree)) > 0);
}

/* The body as something a person sends: refused with words, or taken, and then it folds. */
static void enter(struct wh_arena *arena, struct wh_job *job, const struct wh_workshop *workshop, const char *kind,
                  const char *body)
{
    struct wh_errors errors = wh_errors_in(arena);
    struct wh_tree *said = NULL;
    struct wh_accepted accepted;
    struct wh_entry_round round = {workshop, 1764100000000, "wharve fuzz", "rules", true};
    if (wh_tree_read(arena, "said", body, strlen(body), &said, &errors) != WH_OK) return;
    struct wh_entry entry = {1, "Ada", "key", kind, said, job->seq / 2};
    enum wh_status status = wh_entry_accept(arena, job, &round, &entry, &accepted, &errors);
    must((status == WH_OK) == (errors.count == 0));
    if (status != WH_OK) return;
    struct wh_event_in event = {1, job->seq + 1, 0, "Ada", "key", accepted.kind, accepted.body, strlen(accepted.body)};
    must(wh_entry_same(arena, &event, &entry));
    must(wh_job_fold(arena, job, &event, &errors) == WH_OK);
}

static enum wh_status check(struct wh_arena *arena, void *context)
{
    const struct input *input = context;
    struct wh_job job = {0};
    struct wh_workshop workshop = {0};
    struct wh_words lines = wh_split(arena, wh_arena_slice(arena, input->bytes, input->size), '\n');
    for (size_t i = 0; i < lines.count && i < 60; i++) {
        struct wh_errors errors = wh_errors_in(arena);
        const char *tab = strchr(lines.at[i], '\t'), *body = tab ? tab + 1 : lines.at[i];
        const char *kind = tab ? wh_arena_slice(arena, lines.at[i], (size_t)(tab - lines.at[i])) : "opened";
        struct wh_event_in event = {1, job.seq + 1, 1764100000000 + (int64_t)i, "Ada", "key", kind, body, strlen(body)};
        enum wh_status status = wh_job_fold(arena, &job, &event, &errors);
        must((status == WH_OK) == (errors.count == 0));
        struct wh_event_in own = {0, workshop.seq + 1, 0, "Ada", "key", kind, body, strlen(body)};
        wh_workshop_fold(arena, &workshop, &own, &errors);
        if (job.seq > 0) enter(arena, &job, &workshop, kind, body);
    }
    if (job.seq > 0) ask(arena, &job);
    return WH_OK;
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size)
{
    struct input input = {(const char *)bytes, size};
    enum wh_status status = wh_arena_run(CAP, check, &input);
    must(status == WH_OK || status == WH_ERR_NOMEM);
    return 0;
}
