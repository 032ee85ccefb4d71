/* client.h - a browser as far as a measurement needs one: keeps its connection, its visit and its forms' token. */
#ifndef WH_BENCH_CLIENT_H
#define WH_BENCH_CLIENT_H

#include <stdbool.h>
#include <stddef.h>

struct client {
    unsigned port;
    int link; /* 0: not connected */
    size_t length;
    char cookie[160], token[160];
    char answer[256 * 1024]; /* head and body of the last answer, ended by a zero byte */
};

double seconds_now(void);

/* Sends a request (form NULL: GET; else POST with the token added) and reads the answer; its code, 0 when the
 * connection broke. A connection that was kept and has been closed meanwhile is made anew. */
int client_ask(struct client *client, const char *path, const char *form);

/* Takes up a visit and signs in under a name; nobody has to be set up. */
bool client_sign_in(struct client *client, unsigned port, const char *name);

/* Copies what stands in the last answer from after `start` up to a double quote; where it stood, or NULL. */
const char *client_find(const char *text, const char *start, char *to, size_t room);

#endif
