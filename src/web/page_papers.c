/* Papers of a job: the service report as a page and as a PDF. */
#include "base/file.h"
#include "desk/desk.h"
#include "view/bench.h"
#include "view/machine.h"
#include "view/test_run.h"
#include "web/pages.h"

#include <spawn.h>
#include <string.h>
#include <sys/wait.h>

enum { PDF = 32 << 20 };

struct looking {
    struct wh_tree *page;
    bool inch;
    const struct wh_machine *machine;
};

static enum wh_status look(struct wh_arena *arena, struct wh_desk_look *look)
{
    struct looking *l = look->context;
    struct wh_tree *report = wh_view_job(arena, look->job);
    wh_tree_add(arena, report, "centres", wh_view_centres(arena, look->job));
    wh_tree_add(arena, report, "run", wh_view_test_run(arena, look->job, l->machine));
    wh_view_units(arena, report);
    if (l->inch) wh_view_also_in_inches(arena, report);
    wh_tree_add(arena, l->page, "job", wh_view_bench_head(arena, look->job));
    wh_tree_add(arena, l->page, "contests", wh_view_bench_contests(arena, look->job));
    wh_tree_add(arena, l->page, "lines", wh_view_bench_lines(arena, look->job));
    wh_tree_add(arena, l->page, "report", report);
    wh_tree_add_text(arena, l->page, "machine id", look->job->machine);
    return WH_OK;
}

void wh_page_job_papers(const struct wh_house *house, const struct wh_request *request, struct wh_reply *reply)
{
    struct wh_errors errors = wh_errors_in(request->arena);
    struct looking l = {.page = wh_page_new(house, request, "Service report"), .inch = request->inch};
    struct wh_desk_look desk_look = {.context = &l, .body = look};
    int64_t number;
    wh_tree_add_text(request->arena, l.page, "number", request->held[0]);
    if (!wh_job_number(request->held[0], &number) ||
        wh_desk_machine(house->desk, request->arena, number, NULL, &l.machine, NULL, &errors) != WH_OK ||
        wh_desk_state(house->desk, request->arena, number, &desk_look, &errors) != WH_OK) {
        wh_page_wrong(house, request, 404, "There is no such job.", NULL, reply);
        return;
    }
    wh_page_fill(house, request, "report", l.page, reply);
}

/* Another process makes the paper: a library that aborts takes nothing with it. */
static bool make_pdf(const struct wh_house *house, const struct wh_request *request, const char *path)
{
    const char *const words[] = {"wharve", "report", request->held[0], "--store", house->store, "--pdf", path, NULL};
    static char *const surroundings[] = {NULL};
    pid_t child;
    int state;
    if (posix_spawn(&child, "/proc/self/exe", NULL, NULL, (char *const *)(size_t)words, surroundings) != 0)
        return false;
    return waitpid(child, &state, 0) == child && WIFEXITED(state) && WEXITSTATUS(state) == 0;
}

void wh_page_job_report(const struct wh_house *house, const struct wh_request *request, struct wh_reply *reply)
{
    struct wh_arena *arena = request->arena;
    struct wh_errors errors = wh_errors_in(arena);
    const char *path = wh_arena_print(arena, "%s.report.%s.pdf", house->store, wh_key_new(arena));
    char *bytes;
    size_t size;
    int64_t number;
    bool made = wh_job_number(request->held[0], &number) && make_pdf(house, request, path);
    if (made && wh_file_read(arena, path, PDF, &bytes, &size, &errors) != WH_OK) made = false;
    wh_file_remove(path);
    if (!made) {
        wh_page_wrong(house, request, 503, "The report could not be made.", "Is there such a job? Then try again.",
                      reply);
        return;
    }
    reply->type = "application/pdf";
    reply->bytes = bytes;
    reply->size = size;
    reply->file = wh_arena_print(arena, "service-report-%lld.pdf", (long long)number);
}
