/* wharve job: a job kept from the command line, from opening to signing. */
#include "base/file.h"
#include "cli/desk.h"
#include "job/entry.h"
#include "view/job.h"
#include "view/test_run.h"

#include <inttypes.h>
#include <string.h>

enum { PLACES = 3 };

/* A verb of the command line: the kind of entry, and the fields that the words after the job go into. */
struct verb {
    const char *name, *kind;
    const char *places[PLACES];
};

static const struct verb verbs[] = {
    {"step", "done", {"steps"}},
    {"start", "started", {"steps"}},
    {"leave", "left out", {"steps"}},
    {"read", "reading", {"check", "value"}},
    {"unmeasured", "not measured", {"check", "because"}},
    {"amend", "amended", {"entry", "value"}},
    {"decide", "decided", {"entry", "use"}},
    {"running", "running", {NULL}},
    {"found", "found", {"what"}},
    {"renewed", "renewed", {"part", "designation"}},
    {"condition", "condition", {"part", "words"}},
    {"photo", "photo", {"files"}},
    {"record", "record", {"files"}},
    {"note", "note", {"text"}},
    {"used", "used", {"what", "amount"}},
    {"hold", "released", {"hold", "tried"}},
    {"refuse", "refused", {"hold", "because"}},
    {"lapse", "lapsed", {"because"}},
    {"wait", "waiting", {"for"}},
    {"resume", "resumed", {NULL}},
    {"hand", "handed over", {"to"}},
    {"sign", "signed", {"as"}},
    {"settle", "settled", {"entry", "stands"}},
};
enum { VERBS = sizeof verbs / sizeof *verbs };

static bool has_field(const struct wh_entry_kind *kind, const char *word)
{
    const char *equals = strchr(word, '=');
    for (size_t f = 0; equals && f < WH_ENTRY_FIELDS && kind->fields[f].name; f++)
        if (strlen(kind->fields[f].name) == (size_t)(equals - word) && wh_starts(word, kind->fields[f].name))
            return true;
    return false;
}

/* A photo is named by its file: it is kept, and its hash entered. */
static enum wh_status keep_file(struct wh_cli *cli, struct wh_desk *desk, const char *path, const char **ret)
{
    char *bytes;
    size_t size;
    struct wh_hash hash;
    enum wh_status status = wh_file_read(cli->arena, path, WH_STORE_FILE, &bytes, &size, &cli->errors);
    if (status == WH_OK) status = wh_desk_keep(desk, cli->arena, bytes, size, &hash, &cli->errors);
    if (status == WH_OK) *ret = wh_hash_text(cli->arena, &hash);
    return status;
}

/* All open steps up to one, as hands do them in one go: no check, no hold, nothing that isolates. */
static enum wh_status steps_up_to(struct wh_cli *cli, const char *last, const char **ret)
{
    struct wh_tree *job;
    struct wh_text steps = {.arena = cli->arena};
    bool met = false;
    enum wh_status status = wh_cli_job_tree(cli, 1, &job);
    if (status != WH_OK) return status;
    for (const struct wh_tree *s = wh_tree_get(job, "steps")->first; s && !met; s = s->next) {
        const char *id = wh_tree_text(s, "id", ""), *mark = wh_tree_text(s, "mark", "");
        bool open = wh_same(mark, "to do") || wh_same(mark, "in hand"), gone = wh_tree_get(s, "no longer planned");
        bool alone = wh_tree_get(s, "check") || wh_tree_get(s, "hold") || wh_starts(id, "isolate");
        met = wh_same(id, last);
        if (open && !alone && !gone) wh_text_print(&steps, "%s%s", steps.count ? "; " : "", id);
    }
    if (!met)
        return wh_cli_error(cli, "they stand in wharve job show JOB --all", "there is no step \"%s\" in this job",
                            last);
    if (steps.count == 0) return wh_cli_error(cli, NULL, "no step up to \"%s\" is open", last);
    *ret = wh_arena_print(cli->arena, "steps=%s", steps.at);
    return WH_OK;
}

/* The words after the job's number, as "field=word": those that name a field, and the others into their places; the
 * last place takes what is left of a list. */
static enum wh_status texts_of(struct wh_cli *cli, struct wh_desk *desk, const struct verb *verb,
                               const struct wh_entry_kind *kind, const char ***ret, size_t *ret_count)
{
    const char **texts = WH_NEW(cli->arena, cli->word_count + 1, const char *), *placed[PLACES] = {0};
    size_t count = 0, place = 0, places = 0;
    while (places < PLACES && verb->places[places]) places++;
    for (size_t i = 2; i < cli->word_count; i++) {
        const char *word = cli->words[i];
        if (has_field(kind, word)) {
            texts[count++] = word;
            continue;
        }
        if (place >= places && places == 0)
            return wh_cli_error(cli, NULL, "\"%s\" is no field of \"%s\"", word, kind->name);
        size_t at = place < places ? place++ : places - 1;
        bool file = wh_same(verb->places[at], "files");
        if (file) {
            enum wh_status status = keep_file(cli, desk, word, &word);
            if (status != WH_OK) return status;
        }
        placed[at] = placed[at] ? wh_arena_print(cli->arena, "%s; %s", placed[at], word) : word;
    }
    const char *last = wh_cli_option(cli, "to");
    if (last && wh_same(verb->places[0], "steps")) {
        enum wh_status status = steps_up_to(cli, last, &texts[count]);
        if (status != WH_OK) return status;
        count++;
    }
    for (size_t p = 0; p < places; p++)
        if (placed[p]) texts[count++] = wh_arena_print(cli->arena, "%s=%s", verb->places[p], placed[p]);
    *ret = texts;
    *ret_count = count;
    return WH_OK;
}

static void print_texts(struct wh_cli *cli, const char *before, const struct wh_tree *list)
{
    for (const struct wh_tree *text = list->first; text; text = text->next)
        wh_text_print(&cli->out, "  %s%s\n", before, text->text);
}

static void print_answer(struct wh_cli *cli, const struct wh_answer *answer)
{
    struct wh_errors errors = wh_errors_in(cli->arena);
    struct wh_tree *body = NULL;
    wh_tree_read(cli->arena, "answer", answer->body, strlen(answer->body), &body, &errors);
    const struct wh_tree *judged = wh_tree_get(body, "judged");
    const struct wh_entry_kind *kind = wh_entry_kind(answer->kind);
    wh_text_print(&cli->out, "job %" PRId64 ", entry %" PRId64 ": %s%s\n", answer->job, answer->seq,
                  kind ? kind->title : answer->kind, answer->how == WH_TAKEN_BEFORE ? ", as entered before" : "");
    if (answer->how == WH_TAKEN_CONTESTED)
        wh_text_print(&cli->out, "  kept as contested with entry %" PRId64 ": %s\n", answer->against,
                      wh_tree_text(body, "because", ""));
    const struct wh_tree *run = wh_tree_get(body, "run");
    print_texts(cli, "", wh_view_run_sentences(cli->arena, run));
    print_texts(cli, "Mind: ", wh_view_run_warnings(cli->arena, run));
    if (judged)
        wh_text_print(&cli->out, "  %s: %s\n", wh_tree_text(judged, "value", ""), wh_tree_text(judged, "says", ""));
    if (wh_tree_get(judged, "settles"))
        wh_text_print(&cli->out, "  would settle it: %s\n", wh_tree_text(judged, "settles", ""));
    if (wh_tree_get(judged, "remark")) wh_text_print(&cli->out, "  %s\n", wh_tree_text(judged, "remark", ""));
    if (answer->remark) wh_text_print(&cli->out, "  %s\n", answer->remark);
}

/* The answer as JSON: how it was taken, and the body as stored. */
static void print_answer_json(struct wh_cli *cli, const struct wh_answer *answer)
{
    static const char *const how[] = {"taken", "taken before", "contested"};
    struct wh_errors errors = wh_errors_in(cli->arena);
    struct wh_tree *map = wh_tree_new(cli->arena, WH_TREE_MAP), *body;
    wh_tree_add_number(cli->arena, map, "job", (double)answer->job);
    wh_tree_add_number(cli->arena, map, "entry", (double)answer->seq);
    wh_tree_add_text(cli->arena, map, "how", how[answer->how]);
    wh_tree_add_text(cli->arena, map, "kind", answer->kind);
    if (answer->remark) wh_tree_add_text(cli->arena, map, "remark", answer->remark);
    if (wh_tree_read(cli->arena, "answer", answer->body, strlen(answer->body), &body, &errors) == WH_OK)
        wh_tree_add(cli->arena, map, "body", body);
    wh_cli_json(cli, map);
}

static void print(struct wh_cli *cli, const struct wh_answer *answer)
{
    if (wh_cli_option(cli, "json"))
        print_answer_json(cli, answer);
    else
        print_answer(cli, answer);
}

/* A record is read before it is entered: what it tells is part of the entry. */
static enum wh_status read_record(struct wh_cli *cli, struct wh_desk *desk, const struct wh_entry_kind *kind,
                                  int64_t job, struct wh_tree *said)
{
    char *bytes;
    size_t size, i = 2;
    while (i < cli->word_count && has_field(kind, cli->words[i])) i++;
    if (i == cli->word_count) return wh_cli_error(cli, "wharve job record 1 neck.wav", "name one record");
    if (!wh_tree_get(said, "what")) wh_tree_add_text(cli->arena, said, "what", "vibration");
    if (!wh_tree_get(said, "when")) wh_tree_add_text(cli->arena, said, "when", "as left");
    if (!wh_tree_get(said, "name")) wh_tree_add_text(cli->arena, said, "name", cli->words[i]);
    enum wh_status status = wh_file_read(cli->arena, cli->words[i], WH_STORE_FILE, &bytes, &size, &cli->errors);
    if (status == WH_OK) status = wh_desk_read_record(desk, cli->arena, job, said, bytes, size, &cli->errors);
    return status;
}

static enum wh_status enter(struct wh_cli *cli, const struct verb *verb)
{
    struct wh_desk *desk;
    struct wh_answer answer;
    const struct wh_entry_kind *kind = wh_entry_kind(verb->kind);
    const char **texts = NULL;
    size_t count = 0;
    struct wh_tree *said;
    struct wh_entry entry = {.kind = verb->kind, .who = wh_cli_option(cli, "who"), .key = wh_cli_option(cli, "key")};
    enum wh_status status = wh_cli_job(cli, &entry.job);
    if (status == WH_OK) status = wh_cli_seen(cli, &entry.seen);
    if (status == WH_OK) status = wh_cli_desk(cli, WH_CLI_DESK_WRITE, &desk);
    if (status == WH_OK) status = texts_of(cli, desk, verb, kind, &texts, &count);
    if (status == WH_OK) status = wh_entry_read(cli->arena, kind, texts, count, &said, &cli->errors);
    if (status == WH_OK && wh_same(kind->name, "record")) status = read_record(cli, desk, kind, entry.job, said);
    if (status != WH_OK) return status;
    if (!entry.key) entry.key = wh_key_new(cli->arena);
    entry.said = said;
    status = wh_desk_submit(desk, cli->arena, &entry, true, &answer, &cli->errors);
    if (status == WH_OK) print(cli, &answer);
    return status;
}

static enum wh_status open_job(struct wh_cli *cli)
{
    struct wh_desk *desk;
    struct wh_answer answer;
    char *bytes;
    if (cli->word_count != 2)
        return wh_cli_error(cli, "wharve job open machines/juice-clarifier.yaml --renew PARTS",
                            "name one machine file");
    struct wh_opening opening = {.who = wh_cli_option(cli, "who"),
                                 .key = wh_cli_option(cli, "key"),
                                 .machine = wh_cli_machine_id(cli, cli->words[1]),
                                 .renew = wh_cli_option(cli, "renew"),
                                 .title = wh_cli_option(cli, "title"),
                                 .brought = wh_cli_option(cli, "brought"),
                                 .hours = wh_cli_option(cli, "hours"),
                                 .starts = wh_cli_option(cli, "starts")};
    if (!opening.renew) opening.renew = "";
    if (!opening.key) opening.key = wh_key_new(cli->arena);
    enum wh_status status =
        wh_file_read(cli->arena, cli->words[1], WH_MACHINE_BYTES, &bytes, &opening.size, &cli->errors);
    opening.bytes = bytes;
    if (status == WH_OK) status = wh_cli_desk(cli, WH_CLI_DESK_WRITE, &desk);
    if (status == WH_OK) status = wh_desk_open_job(desk, cli->arena, &opening, &answer, &cli->errors);
    if (status != WH_OK) return status;
    if (wh_cli_option(cli, "json"))
        print_answer_json(cli, &answer);
    else
        wh_text_print(&cli->out, "job %" PRId64 " opened: %s\n", answer.job,
                      opening.title ? opening.title : opening.renew);
    return WH_OK;
}

static enum wh_status list(struct wh_cli *cli)
{
    struct wh_desk *desk;
    struct wh_heads heads = {0};
    enum wh_status status = wh_cli_desk(cli, WH_CLI_DESK_READ, &desk);
    if (status == WH_OK) status = wh_desk_jobs(desk, cli->arena, NULL, NULL, 1000, &heads, &cli->errors);
    if (status != WH_OK) return status;
    struct wh_tree *all = wh_tree_new(cli->arena, WH_TREE_LIST);
    for (size_t i = 0; i < heads.count; i++) {
        const struct wh_head *head = &heads.at[i];
        struct wh_tree *item = wh_tree_add_new(cli->arena, all, NULL, WH_TREE_MAP);
        wh_tree_add_number(cli->arena, item, "job", (double)head->job);
        wh_tree_add_text(cli->arena, item, "machine", head->machine);
        wh_tree_add_text(cli->arena, item, "title", head->title);
        wh_tree_add_text(cli->arena, item, "state", head->state);
        wh_tree_add_text(cli->arena, item, "changed", wh_view_clock(cli->arena, head->changed));
        if (!wh_cli_option(cli, "json"))
            wh_text_print(&cli->out, "%4" PRId64 "  %-18s %s, %s\n", head->job, head->state, head->machine,
                          head->title);
    }
    if (wh_cli_option(cli, "json")) wh_cli_json(cli, all);
    return WH_OK;
}

static enum wh_status show(struct wh_cli *cli)
{
    struct wh_tree *job;
    enum wh_status status = wh_cli_job_tree(cli, 1, &job);
    if (status != WH_OK) return status;
    if (wh_cli_option(cli, "json"))
        wh_cli_json(cli, job);
    else
        wh_text_add(&cli->out, wh_view_job_text(cli->arena, job, wh_cli_option(cli, "all") != NULL));
    return WH_OK;
}

static enum wh_status run(struct wh_cli *cli)
{
    const char *names[VERBS + 3] = {"open", "list", "show"}, *word = cli->word_count ? cli->words[0] : "list";
    if (wh_same(word, "open")) return open_job(cli);
    if (wh_same(word, "list")) return list(cli);
    if (wh_same(word, "show")) return show(cli);
    for (size_t v = 0; v < VERBS; v++) {
        if (wh_same(word, verbs[v].name)) return enter(cli, &verbs[v]);
        names[v + 3] = verbs[v].name;
    }
    const char *nearest = wh_nearest(word, names, VERBS + 3);
    return wh_cli_error(
        cli, nearest ? wh_arena_print(cli->arena, "did you mean \"wharve job %s\"?", nearest) : "see wharve job --help",
        "a job has no \"%s\"", word);
}

const struct wh_command wh_command_job = {
    .name = "job",
    .usage = "job [open FILE | list | show JOB | VERB JOB WORDS...] [--who NAME] [--store FILE]",
    .words =
        "Keeps a job: opens it with a plan, enters what is done at the bench, shows how it stands.\n"
        "  step, start, leave STEPS             done, started, left out (because=...); minutes=..., manner=...\n"
        "  read CHECK VALUES, unmeasured CHECK  a reading, parted by \";\" (gauge=...); why there is none\n"
        "  amend ENTRY VALUE, decide ENTRY USE  another value, because=...; the charge hand's word on a reading\n"
        "  hold HOLD TRIED, refuse HOLD WHY     a hold or an energy, released or refused by name; lapse WHY\n"
        "  found WHAT, renewed PART DESIGNATION on=..., add=PARTS; batch=..., make=..., instead of=...\n"
        "  record FILE what=run-down when=...   a record of a run, read at once; speed=..., unit=..., channels=...\n"
        "  running, condition, photo, note, used, wait, resume, hand, sign, settle\n"
        "Any field may be written name=value. What stands in a job, with all names: wharve job show JOB --all.",
    .example = "wharve job read 1 neck-seat \"45.006 mm\" gauge=comparator --who Ada",
    .options = {{"who", "NAME", "who enters it"},
                {"store", "FILE", "where the jobs are kept; workshop.db when it is not said"},
                {"renew", "PARTS", "of open: the parts to renew, their ids parted by commas"},
                {"title", "TEXT", "of open: what is to be done"},
                {"brought", "TEXT", "of open: what brought the machine in"},
                {"hours", "TEXT", "of open: hours run"},
                {"starts", "TEXT", "of open: number of starts"},
                {"key", "TEXT", "the same key again is the same entry, taken once"},
                {"seen", "ENTRY", "the last entry that was looked at; what was touched since is kept as contested"},
                {"to", "STEP", "of step, start and leave: all open steps up to this one, but checks and holds"},
                {"all", NULL, "of show: every step"},
                {"json", NULL, "prints JSON"}},
    .run = run};
