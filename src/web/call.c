#include "web/call.h"

#include "web/pages.h"
#include "web/session.h"

#include <microhttpd.h>
#include <stdio.h>
#include <string.h>

enum { MEMORY = 64 << 20 };

/* Nothing but what this program serves itself; no script in a page; in no frame. */
static const char policy[] = "default-src 'none'; style-src 'self'; script-src 'self'; img-src 'self'; connect-src "
                             "'self'; form-action 'self'; frame-ancestors 'none'; base-uri 'none'";

struct context {
    const struct wh_house *house;
    const struct wh_server_ask *ask;
    struct wh_call *call;
};

/* The name without the port: "localhost:8080", "[::1]:8080". */
static size_t host_length(const char *host)
{
    return host[0] == '[' ? strcspn(host, "]") + (strchr(host, ']') != NULL) : strcspn(host, ":");
}

static bool host_known(struct wh_arena *arena, const struct wh_server_ask *ask, const char *host)
{
    size_t n = host_length(host);
    struct wh_words names =
        wh_split(arena, wh_arena_print(arena, "%s,localhost,%s", ask->host, ask->names ? ask->names : ""), ',');
    for (size_t i = 0; i < names.count; i++)
        if (strlen(names.at[i]) == n && strncmp(names.at[i], host, n) == 0) return true;
    return false;
}

/* A form has to come from a page of ours: browsers say where from. */
static bool origin_fits(const struct wh_server_ask *ask, const struct wh_call *call)
{
    const char *scheme = ask->certificate ? "https://" : "http://";
    if (*call->site && !wh_same(call->site, "same-origin") && !wh_same(call->site, "none")) return false;
    if (!*call->origin) return true;
    return wh_starts(call->origin, scheme) && wh_same(call->origin + strlen(scheme), call->host);
}

static bool read_forms(struct wh_call *call, struct wh_request *request)
{
    if (!wh_form_read_line(request->arena, call->query, strlen(call->query), &request->query)) return false;
    if (call->body.count == 0) return true;
    if (wh_starts(call->type, "multipart/form-data"))
        return wh_form_read_parts(request->arena, call->type, call->body.at, call->body.count, &request->form);
    return wh_starts(call->type, "application/x-www-form-urlencoded") &&
           wh_form_read_line(request->arena, call->body.at, call->body.count, &request->form);
}

struct visit {
    char word[WH_VISIT + 1], token[WH_TOKEN + 1], person[WH_PERSON + 1];
    bool fresh;
};

/* Where nobody is set up the machine's own user does everything, under the name that each entry gives. */
static void read_visit(const struct context *c, struct visit *visit, struct wh_request *request)
{
    visit->fresh = !wh_visit_read(c->call->cookie, visit->word);
    if (visit->fresh) wh_visit_new(visit->word);
    wh_visit_token(visit->word, visit->token);
    request->token = visit->token;
    request->visit = visit->word;
    if (!visit->fresh && wh_signed_in(visit->word, visit->person, &request->standing)) request->person = visit->person;
    struct wh_house_person person;
    int people = wh_house_people(c->house, request->arena, request->person, &person);
    if (people == 0)
        request->standing = WH_STANDING_CHARGE_HAND;
    else if (request->person && person.name)
        request->standing = wh_standing_of(person.role);
    else
        request->standing = WH_STANDING_NOBODY, request->person = NULL;
}

struct refusal {
    int code;
    const char *says; /* NULL: not refused */
};

static struct refusal refuse(const struct context *c, const struct wh_request *request, const struct visit *visit,
                             bool readable)
{
    const struct wh_call *call = c->call;
    bool post = wh_same(request->method, "POST");
    if (call->refused == MHD_HTTP_CONTENT_TOO_LARGE)
        return (struct refusal){call->refused, "That is more than this page takes."};
    if (call->refused == MHD_HTTP_SERVICE_UNAVAILABLE)
        return (struct refusal){call->refused, "The program has no memory for this now; nothing was kept. Try again."};
    if (call->refused) return (struct refusal){call->refused, "The address is too long."};
    if (!host_known(request->arena, c->ask, call->host))
        return (struct refusal){MHD_HTTP_MISDIRECTED_REQUEST, "This program is not known by that name."};
    if (post && !origin_fits(c->ask, call))
        return (struct refusal){MHD_HTTP_FORBIDDEN, "The form did not come from a page of this program."};
    if (!readable) return (struct refusal){MHD_HTTP_BAD_REQUEST, "What was sent cannot be read."};
    if (post && (visit->fresh || !wh_token_fits(visit->token, wh_form_text(&request->form, "token", ""))))
        return (struct refusal){MHD_HTTP_FORBIDDEN, "The form is from another visit: load its page again."};
    return (struct refusal){0, NULL};
}

static void find_page(const struct context *c, struct wh_request *request, struct wh_reply *reply)
{
    bool known;
    const struct wh_route *route = wh_route_find(request->arena, request->method, request->path, request->held, &known);
    if (!route)
        wh_page_wrong(c->house, request, known ? MHD_HTTP_METHOD_NOT_ALLOWED : MHD_HTTP_NOT_FOUND,
                      known ? "This page cannot be used that way." : "There is no such page.", NULL, reply);
    else if (request->standing >= route->least && (request->person || route->least < WH_STANDING_FITTER))
        route->page(c->house, request, reply);
    else if (!request->person)
        wh_page_go(reply,
                   wh_arena_print(request->arena, "/sign-in?back=%s", wh_address_text(request->arena, request->path)));
    else
        wh_page_wrong(c->house, request, MHD_HTTP_FORBIDDEN, "Your part in the workshop does not allow that.",
                      "Ask the charge hand.", reply);
}

static void add_headers(struct MHD_Response *response, const struct wh_reply *reply, struct wh_arena *arena,
                        const struct wh_server_ask *ask)
{
    MHD_add_response_header(response, "Content-Type", reply->type ? reply->type : "text/html; charset=utf-8");
    MHD_add_response_header(response, "Content-Security-Policy", policy);
    MHD_add_response_header(response, "X-Content-Type-Options", "nosniff");
    MHD_add_response_header(response, "Referrer-Policy", "same-origin");
    MHD_add_response_header(response, "Cross-Origin-Opener-Policy", "same-origin");
    MHD_add_response_header(response, "Cache-Control", reply->lasting ? "max-age=86400" : "no-store");
    if (reply->location) MHD_add_response_header(response, "Location", reply->location);
    if (reply->file)
        MHD_add_response_header(response, "Content-Disposition",
                                wh_arena_print(arena, "inline; filename=\"%s\"", reply->file));
    if (reply->cookie)
        MHD_add_response_header(response, "Set-Cookie",
                                wh_arena_print(arena, "visit=%s; Path=/; HttpOnly; SameSite=Strict%s", reply->cookie,
                                               ask->certificate ? "; Secure" : ""));
    if (reply->units)
        MHD_add_response_header(
            response, "Set-Cookie",
            wh_arena_print(arena, "units=%s; Path=/; Max-Age=31536000; SameSite=Strict", reply->units));
}

static enum wh_status work(struct wh_arena *arena, void *context)
{
    const struct context *c = context;
    struct wh_call *call = c->call;
    struct visit visit = {0};
    struct wh_reply reply = {.code = MHD_HTTP_OK};
    struct wh_request request = {.arena = arena,
                                 .method = wh_same(call->method, "HEAD") ? "GET" : call->method,
                                 .path = call->path,
                                 .part = *call->part != 0,
                                 .inch = strstr(call->cookie, "units=inch") != NULL,
                                 .now = c->house->clock(NULL)};
    read_visit(c, &visit, &request);
    struct refusal refusal = refuse(c, &request, &visit, read_forms(call, &request));
    if (refusal.says)
        wh_page_wrong(c->house, &request, refusal.code, refusal.says, NULL, &reply);
    else
        find_page(c, &request, &reply);
    if (visit.fresh && !reply.cookie && !reply.lasting) reply.cookie = visit.word;
    call->response = MHD_create_response_from_buffer(reply.size, (void *)(size_t)reply.bytes, MHD_RESPMEM_MUST_COPY);
    if (!call->response) return WH_ERR_NOMEM;
    call->code = reply.code;
    add_headers(call->response, &reply, arena, c->ask);
    return WH_OK;
}

void wh_call_work(const struct wh_house *house, const struct wh_server_ask *ask, struct wh_call *call)
{
    static const char words[] = "The program has run out of memory for this page. Nothing was lost; try again.\n";
    struct context context = {house, ask, call};
    if (wh_arena_run(MEMORY, work, &context) == WH_OK) return;
    if (call->response) MHD_destroy_response(call->response);
    call->code = MHD_HTTP_SERVICE_UNAVAILABLE;
    call->response = MHD_create_response_from_buffer(sizeof words - 1, (void *)(size_t)words, MHD_RESPMEM_PERSISTENT);
}
