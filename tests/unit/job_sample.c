#include "job_sample.h"

#include "base/text.h"
#include "check.h"

#include <string.h>

static const char plan[] =
    "{\"machine\":\"yard pump\",\"minutes\":60,\"steps\":["
    "{\"id\":\"hold energies\",\"is\":\"hold\",\"stage\":\"before you start\",\"what\":\"Each energy "
    "off\",\"hold\":\"energies\",\"minutes\":5},"
    "{\"id\":\"hold kit\",\"is\":\"hold\",\"stage\":\"before you start\",\"what\":\"Kit on the "
    "bench\",\"hold\":\"kit\",\"minutes\":5},"
    "{\"id\":\"check lean-found\",\"is\":\"check\",\"stage\":\"taking down\",\"what\":\"Lean as "
    "found\",\"check\":\"lean-found\",\"minutes\":2},"
    "{\"id\":\"off cover\",\"is\":\"off\",\"stage\":\"taking down\",\"what\":\"Take off the "
    "cover\",\"part\":\"cover\",\"minutes\":5},"
    "{\"id\":\"off bearing\",\"is\":\"off\",\"stage\":\"taking down\",\"what\":\"Take off the "
    "bearing\",\"part\":\"bearing\",\"minutes\":8},"
    "{\"id\":\"check seat\",\"is\":\"check\",\"stage\":\"on the "
    "bench\",\"what\":\"Seat\",\"check\":\"seat\",\"minutes\":2,\"bench\":true},"
    "{\"id\":\"check cracks\",\"is\":\"check\",\"stage\":\"on the "
    "bench\",\"what\":\"Cracks\",\"check\":\"cracks\",\"minutes\":2,\"bench\":true},"
    "{\"id\":\"on bearing\",\"is\":\"on\",\"stage\":\"building up\",\"what\":\"Fit the "
    "bearing\",\"part\":\"bearing\",\"minutes\":8},"
    "{\"id\":\"check rotation\",\"is\":\"check\",\"stage\":\"building up\",\"what\":\"Motor "
    "bumped\",\"check\":\"rotation\",\"power\":true,\"minutes\":2},"
    "{\"id\":\"isolate\",\"is\":\"isolate\",\"stage\":\"building up\",\"what\":\"Isolate again\",\"minutes\":5},"
    "{\"id\":\"on cover\",\"is\":\"on\",\"stage\":\"building up\",\"what\":\"Fit the "
    "cover\",\"part\":\"cover\",\"minutes\":5},"
    "{\"id\":\"hold guards\",\"is\":\"hold\",\"stage\":\"running it\",\"what\":\"Guards "
    "back\",\"hold\":\"guards\",\"minutes\":5},"
    "{\"id\":\"check current\",\"is\":\"check\",\"stage\":\"running "
    "it\",\"what\":\"Current\",\"check\":\"current\",\"power\":true,\"minutes\":1},"
    "{\"id\":\"check later\",\"is\":\"check\",\"stage\":\"come back\",\"what\":\"Belt after 8 "
    "h\",\"check\":\"later\",\"minutes\":1}],"
    "\"checks\":["
    "{\"id\":\"lean-found\",\"title\":\"lean\",\"of\":\"cover\",\"when\":\"as found\",\"limits\":\"at most 0.2 "
    "mm\",\"most\":0.0002,\"unit\":\"mm\","
    "\"gauge\":\"dial\",\"before off\":[\"cover\"]},"
    "{\"id\":\"seat\",\"title\":\"bearing seat\",\"of\":\"shaft\",\"when\":\"as found\",\"limits\":\"30.002..30.011 "
    "mm\",\"least\":0.030002,"
    "\"most\":0.030011,\"unit\":\"mm\",\"gauge\":\"micrometer\",\"sets\":\"seat.diameter\",\"hold\":true},"
    "{\"id\":\"cracks\",\"title\":\"cracks\",\"of\":\"shaft\",\"when\":\"as "
    "found\",\"expects\":\"none\",\"hold\":true},"
    "{\"id\":\"rotation\",\"title\":\"direction\",\"of\":\"motor\",\"when\":\"as left\",\"expects\":\"clockwise\"},"
    "{\"id\":\"current\",\"title\":\"current\",\"of\":\"motor\",\"when\":\"as left\",\"limits\":\"2.9..3.7 "
    "A\",\"least\":2.9,\"most\":3.7,"
    "\"unit\":\"A\",\"gauge\":\"clamp\",\"readings\":2},"
    "{\"id\":\"centre\",\"title\":\"centre\",\"of\":\"shaft\",\"when\":\"as left\",\"limits\":\"at most 0.25 "
    "mm\",\"most\":0.00025,\"unit\":\"mm\",\"gauge\":\"dial\",\"readings\":8,\"judged by\":\"spindle.eccentricity\"},"
    "{\"id\":\"later\",\"title\":\"belt\",\"of\":\"belt\",\"when\":\"as left\",\"expects\":\"tight\"}],"
    "\"energies\":[{\"id\":\"mains\",\"title\":\"mains\",\"off\":\"switch Q1\",\"tried\":\"start button pressed\"},"
    "{\"id\":\"water\",\"title\":\"water\",\"tried\":\"drain cock\"}],"
    "\"holds\":[{\"id\":\"energies\",\"title\":\"each energy off\",\"tried\":\"each line\"},"
    "{\"id\":\"kit\",\"title\":\"kit\",\"lasts\":true},{\"id\":\"guards\",\"title\":\"guards back\",\"power\":true}],"
    "\"gauges\":[{\"id\":\"dial\",\"title\":\"dial gauge\",\"uncertainty\":0.00001,\"unit\":\"mm\"},"
    "{\"id\":\"micrometer\",\"title\":\"micrometer\",\"uncertainty\":0.000003,\"unit\":\"mm\"},"
    "{\"id\":\"clamp\",\"title\":\"clamp meter\",\"uncertainty\":0.1,\"unit\":\"A\"}]}";

static void fold(struct sample *s, const char *who, const char *key, const char *kind, const char *body)
{
    struct wh_errors errors = wh_errors_in(s->arena);
    struct wh_event_in event = {1, s->job.seq + 1, s->at, who, key, kind, body, strlen(body)};
    enum wh_status status = wh_job_fold(s->arena, &s->job, &event, &errors);
    if (status != WH_OK) print_error("%s", wh_errors_text(s->arena, &errors));
    assert_int_equal(status, WH_OK);
}

struct sample sample_open(struct wh_arena *arena)
{
    struct sample s = {.arena = arena, .at = 1764100000000, .seen = -1, .live = true};
    fold(&s, "Ada", "k0", "opened",
         wh_arena_print(arena,
                        "{\"v\":1,\"machine\":\"yard-pump\",\"machine title\":\"yard pump\",\"file\":\"00\","
                        "\"title\":\"bearing\",\"renew\":[\"bearing\"],\"plan\":%s}",
                        plan));
    return s;
}

void sample_gauge(struct sample *s, const char *body)
{
    struct wh_errors errors = wh_errors_in(s->arena);
    struct wh_event_in event = {0, s->workshop.seq + 1, s->at, "Ada", "g", "gauge", body, strlen(body)};
    assert_int_equal(wh_workshop_fold(s->arena, &s->workshop, &event, &errors), WH_OK);
}

enum wh_status sample_enter(struct sample *s, const char *who, const char *kind, const char *fields,
                            struct wh_accepted *ret)
{
    struct wh_errors errors = wh_errors_in(s->arena);
    struct wh_words words = wh_split(s->arena, fields, '|');
    struct wh_tree *said = NULL;
    const char *key = wh_arena_print(s->arena, "k%d", (int)s->job.seq);
    struct wh_entry_round round = {&s->workshop, s->at, "wharve test", "rules", s->live};
    enum wh_status status = wh_entry_read(s->arena, wh_entry_kind(kind), words.at, words.count, &said, &errors);
    struct wh_entry entry = {1, who, key, kind, said, s->seen};
    if (status == WH_OK) status = wh_entry_accept(s->arena, &s->job, &round, &entry, ret, &errors);
    s->says = wh_errors_text(s->arena, &errors);
    if (status == WH_OK) fold(s, who, key, ret->kind, ret->body);
    return status;
}

void sample_take(struct sample *s, const char *who, const char *kind, const char *fields)
{
    struct wh_accepted accepted;
    enum wh_status status = sample_enter(s, who, kind, fields, &accepted);
    if (status != WH_OK) print_error("%s %s: %s", kind, fields, s->says);
    assert_int_equal(status, WH_OK);
    assert_int_equal(accepted.how, WH_TAKEN);
}

void sample_refuse(struct sample *s, const char *who, const char *kind, const char *fields, const char *says)
{
    struct wh_accepted accepted;
    int64_t seq = s->job.seq;
    assert_int_equal(sample_enter(s, who, kind, fields, &accepted), WH_ERR_INPUT);
    if (!strstr(s->says, says)) print_error("%s %s: %s", kind, fields, s->says);
    assert_non_null(strstr(s->says, says));
    assert_int_equal(s->job.seq, seq);
}

void sample_isolate(struct sample *s, const char *who)
{
    sample_take(s, who, "released", "hold=mains|tried=start button pressed, nothing");
    sample_take(s, who, "released", "hold=water|tried=drain cock dry");
    sample_take(s, who, "released", "hold=energies|tried=each line");
    sample_take(s, who, "released", "hold=kit|tried=labels read");
}
