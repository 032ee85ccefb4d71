/* server.h - the door for browsers: takes requests, hands each to its page, sends the answer.
 *
 * One thread talks to the network; a fixed number of workers work the pages, each request in an arena of its own. */
#ifndef WH_WEB_SERVER_H
#define WH_WEB_SERVER_H

#include "web/house.h"

struct wh_server_ask {
    const char *host;  /* to listen at: "127.0.0.1" */
    unsigned port;     /* 0: any that is free */
    const char *names; /* hosts that a browser may call it by, parted by commas; NULL: only host and localhost */
    const char *certificate, *key; /* PEM texts for TLS, or NULL */
    int workers;                   /* 0: the usual */
};

struct wh_server;

/* Starts to listen. Errors: WH_ERR_INPUT for an address that is none, WH_ERR_FILE where it cannot listen. */
enum wh_status wh_server_start(struct wh_arena *arena, const struct wh_house *house, const struct wh_server_ask *ask,
                               struct wh_server **ret, struct wh_errors *reterr);

/* The port it listens at. */
unsigned wh_server_port(const struct wh_server *server);

/* Takes no more requests, ends those in work, closes. */
void wh_server_stop(struct wh_server *server);

#endif
