#include "web/server.h"

#include "web/call.h"
#include "web/pages.h"

#include <arpa/inet.h>
#include <microhttpd.h>
#include <netinet/in.h>
#include <stdio.h>
#include <string.h>

enum { CALLS = 512, WORKERS = 24, PATIENCE = 30, ARENA = 256 * 1024 };

struct wh_server {
    const struct wh_house *house;
    struct wh_server_ask ask;
    struct MHD_Daemon *daemon;
    pthread_mutex_t lock;
    pthread_cond_t some;
    struct wh_call *free, *head, *tail;
    pthread_t workers[WORKERS];
    int worker_count;
    bool ending;
};

/* Copies a header; one that is too long is left out, as if it had not come. */
static void read_header(struct MHD_Connection *connection, const char *name, char *to, size_t room)
{
    const char *text = MHD_lookup_connection_value(connection, MHD_HEADER_KIND, name);
    size_t n = text ? strlen(text) : 0;
    if (n < room) memcpy(to, text ? text : "", n + 1);
}

/* A call begins with its address as it was sent, with its query and its escapes. */
static struct wh_call *begin(struct wh_server *server, struct MHD_Connection *connection, const char *address)
{
    pthread_mutex_lock(&server->lock);
    struct wh_call *call = server->free;
    if (call) server->free = call->next;
    pthread_mutex_unlock(&server->lock);
    if (!call) return NULL;
    *call = (struct wh_call){.connection = connection};
    size_t n = strcspn(address, "?"), query = strlen(address + n);
    if (n >= sizeof call->path || query >= sizeof call->query) {
        call->refused = MHD_HTTP_URI_TOO_LONG;
        return call;
    }
    memcpy(call->path, address, n);
    if (query > 0) memcpy(call->query, address + n + 1, query);
    return call;
}

static void *keep_address(void *context, const char *address, struct MHD_Connection *connection)
{
    return begin(context, connection, address);
}

static bool read_head(struct wh_call *call, const char *method)
{
    struct MHD_Connection *connection = call->connection;
    size_t n = strlen(method);
    if (n >= sizeof call->method) return false;
    memcpy(call->method, method, n + 1);
    call->most = wh_route_most(call->path);
    read_header(connection, MHD_HTTP_HEADER_HOST, call->host, sizeof call->host);
    read_header(connection, MHD_HTTP_HEADER_ORIGIN, call->origin, sizeof call->origin);
    read_header(connection, "Sec-Fetch-Site", call->site, sizeof call->site);
    read_header(connection, MHD_HTTP_HEADER_CONTENT_TYPE, call->type, sizeof call->type);
    read_header(connection, MHD_HTTP_HEADER_COOKIE, call->cookie, sizeof call->cookie);
    read_header(connection, "HX-Request", call->part, sizeof call->part);
    return true;
}

static void *work(void *context)
{
    struct wh_server *server = context;
    while (true) {
        pthread_mutex_lock(&server->lock);
        while (!server->head && !server->ending) pthread_cond_wait(&server->some, &server->lock);
        struct wh_call *call = server->head;
        if (call) server->head = call->next;
        pthread_mutex_unlock(&server->lock);
        if (!call) return NULL;
        wh_call_work(server->house, &server->ask, call);
        call->done = true;
        MHD_resume_connection(call->connection);
    }
}

static bool put_to_work(struct wh_server *server, struct wh_call *call)
{
    pthread_mutex_lock(&server->lock);
    bool taken = !server->ending;
    if (taken) {
        MHD_suspend_connection(call->connection);
        call->working = true;
        call->next = NULL;
        if (server->head)
            server->tail->next = call;
        else
            server->head = call;
        server->tail = call;
    }
    pthread_mutex_unlock(&server->lock);
    if (taken) pthread_cond_signal(&server->some); /* who wakes up finds the lock free */
    return taken;
}

struct more {
    struct wh_call *call;
    const char *data;
    size_t n;
};

static enum wh_status add_body(struct wh_arena *arena, void *context)
{
    const struct more *more = context;
    more->call->body.arena = arena;
    wh_text_add_slice(&more->call->body, more->data, more->n);
    return WH_OK;
}

/* Takes the next part of a body; what is too long is read and thrown away, so that the answer can be heard. */
static void take_body(struct wh_call *call, const char *data, size_t n)
{
    struct more more = {call, data, n};
    if (call->refused) return;
    if (n > call->most || call->body.count > call->most - n) {
        call->refused = MHD_HTTP_CONTENT_TOO_LARGE;
        return;
    }
    if (!call->arena) call->arena = wh_arena_new(4 * call->most + ARENA);
    if (!call->arena || wh_arena_within(call->arena, add_body, &more) != WH_OK)
        call->refused = MHD_HTTP_SERVICE_UNAVAILABLE;
}

static enum MHD_Result answer(void *context, struct MHD_Connection *connection, const char *path, const char *method,
                              const char *version, const char *data, size_t *size, void **of)
{
    struct wh_server *server = context;
    struct wh_call *call = *of;
    (void)path;
    (void)version;
    if (!call) return MHD_NO;
    if (!*call->method) return read_head(call, method) ? MHD_YES : MHD_NO; /* the first of several calls */
    if (*size > 0) {
        take_body(call, data, *size);
        *size = 0;
        return MHD_YES;
    }
    if (!call->working) return put_to_work(server, call) ? MHD_YES : MHD_NO;
    if (!call->done || !call->response) return MHD_NO;
    return MHD_queue_response(connection, (unsigned)call->code, call->response);
}

static void end_call(void *context, struct MHD_Connection *connection, void **of, enum MHD_RequestTerminationCode how)
{
    struct wh_server *server = context;
    struct wh_call *call = *of;
    (void)connection;
    (void)how;
    if (!call) return;
    if (call->response) MHD_destroy_response(call->response);
    if (call->arena) wh_arena_free(call->arena);
    pthread_mutex_lock(&server->lock);
    call->next = server->free;
    server->free = call;
    pthread_mutex_unlock(&server->lock);
    *of = NULL;
}

static bool read_address(const char *host, unsigned port, struct sockaddr_in *ret)
{
    *ret = (struct sockaddr_in){.sin_family = AF_INET, .sin_port = htons((uint16_t)port)};
    return port < 65536 && inet_pton(AF_INET, host, &ret->sin_addr) == 1;
}

static void start_workers(struct wh_server *server)
{
    int wanted = server->ask.workers > 0 && server->ask.workers < WORKERS ? server->ask.workers : WORKERS;
    while (server->worker_count < wanted &&
           pthread_create(&server->workers[server->worker_count], NULL, work, server) == 0)
        server->worker_count++;
}

static struct MHD_Daemon *listen_at(struct wh_server *server, struct sockaddr_in *address)
{
    const struct wh_server_ask *ask = &server->ask;
    struct MHD_OptionItem tls[] = {{MHD_OPTION_HTTPS_MEM_CERT, 0, (void *)(size_t)ask->certificate},
                                   {MHD_OPTION_HTTPS_MEM_KEY, 0, (void *)(size_t)ask->key},
                                   {MHD_OPTION_END, 0, NULL}};
    unsigned flags = MHD_USE_EPOLL_INTERNAL_THREAD | MHD_ALLOW_SUSPEND_RESUME | (ask->certificate ? MHD_USE_TLS : 0);
    return MHD_start_daemon(flags, (uint16_t)ask->port, NULL, NULL, answer, server, MHD_OPTION_SOCK_ADDR, address,
                            MHD_OPTION_NOTIFY_COMPLETED, end_call, server, MHD_OPTION_URI_LOG_CALLBACK, keep_address,
                            server, MHD_OPTION_CONNECTION_LIMIT, (unsigned)CALLS, MHD_OPTION_CONNECTION_TIMEOUT,
                            (unsigned)PATIENCE, MHD_OPTION_LISTENING_ADDRESS_REUSE, 1u, MHD_OPTION_ARRAY,
                            ask->certificate ? tls : tls + 2, MHD_OPTION_END);
}

enum wh_status wh_server_start(struct wh_arena *arena, const struct wh_house *house, const struct wh_server_ask *ask,
                               struct wh_server **ret, struct wh_errors *reterr)
{
    struct wh_server *server = WH_NEW(arena, 1, struct wh_server);
    struct wh_call *calls = WH_NEW(arena, CALLS, struct wh_call);
    struct sockaddr_in address;
    *server = (struct wh_server){.house = house, .ask = *ask};
    pthread_mutex_init(&server->lock, NULL);
    pthread_cond_init(&server->some, NULL);
    for (size_t i = 0; i < CALLS; i++) calls[i].next = i + 1 < CALLS ? &calls[i + 1] : NULL;
    server->free = calls;
    if (!read_address(ask->host, ask->port, &address))
        return wh_errors_add(reterr, WH_ERR_INPUT, (struct wh_place){0}, "write 127.0.0.1:8080",
                             "\"%s:%u\" is no address to listen at", ask->host, ask->port);
    start_workers(server);
    server->daemon = server->worker_count > 0 ? listen_at(server, &address) : NULL;
    if (!server->daemon) {
        wh_server_stop(server);
        return wh_errors_add(reterr, WH_ERR_FILE, (struct wh_place){0},
                             ask->certificate
                                 ? "is another program there already, do certificate and key belong together?"
                                 : "is another program there already?",
                             "cannot listen at %s:%u", ask->host, ask->port);
    }
    *ret = server;
    return WH_OK;
}

unsigned wh_server_port(const struct wh_server *server)
{
    const union MHD_DaemonInfo *info = MHD_get_daemon_info(server->daemon, MHD_DAEMON_INFO_BIND_PORT);
    return info ? info->port : server->ask.port;
}

void wh_server_stop(struct wh_server *server)
{
    MHD_socket socket = server->daemon ? MHD_quiesce_daemon(server->daemon) : MHD_INVALID_SOCKET;
    pthread_mutex_lock(&server->lock);
    server->ending = true;
    pthread_cond_broadcast(&server->some);
    pthread_mutex_unlock(&server->lock);
    for (int i = 0; i < server->worker_count; i++) pthread_join(server->workers[i], NULL);
    if (server->daemon) MHD_stop_daemon(server->daemon);
    if (socket != MHD_INVALID_SOCKET) shutdown(socket, SHUT_RDWR);
    pthread_cond_destroy(&server->some);
    pthread_mutex_destroy(&server->lock);
}
