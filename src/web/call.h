/* call.h - one request between network and page: private to web/. */
#ifndef WH_WEB_CALL_H
#define WH_WEB_CALL_H

#include "base/text.h"
#include "web/page.h"
#include "web/server.h"

#include <pthread.h>
#include <stddef.h>

struct MHD_Connection;
struct MHD_Response;

enum { WH_CALL_PATH = 1024, WH_CALL_QUERY = 4096, WH_CALL_HEADER = 300 };

/* What the network thread has read of a request. Headers that are longer than their place are left out. */
struct wh_call {
    struct MHD_Connection *connection;
    struct wh_call *next; /* in the queue, or among the free */
    char method[8], path[WH_CALL_PATH], query[WH_CALL_QUERY];
    char host[WH_CALL_HEADER], origin[WH_CALL_HEADER], site[32], type[WH_CALL_HEADER], cookie[WH_CALL_HEADER], part[8];
    struct wh_arena *arena; /* of the body; NULL: there is none */
    struct wh_text body;
    size_t most; /* that the body may have */
    int refused; /* an HTTP code where it is refused before its page; 0 */
    bool working, done;
    int code;
    struct MHD_Response *response;
};

/* Works a call: checks where it comes from and who asks, calls the page, makes the response. */
void wh_call_work(const struct wh_house *house, const struct wh_server_ask *ask, struct wh_call *call);

#endif
