#include "client.h"

#include <arpa/inet.h>
#include <netinet/in.h>
#include <netinet/tcp.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/socket.h>
#include <time.h>
#include <unistd.h>

double seconds_now(void)
{
    struct timespec t;
    clock_gettime(CLOCK_MONOTONIC, &t);
    return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

static bool join(struct client *client)
{
    int one = 1;
    struct sockaddr_in address = {.sin_family = AF_INET, .sin_port = htons((unsigned short)client->port)};
    address.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
    if (client->link > 0) return true;
    client->link = socket(AF_INET, SOCK_STREAM, 0);
    if (client->link <= 0) return false;
    setsockopt(client->link, IPPROTO_TCP, TCP_NODELAY, &one, sizeof one);
    return connect(client->link, (struct sockaddr *)&address, sizeof address) == 0;
}

static bool send_all(struct client *client, const char *bytes, size_t n)
{
    while (n > 0) {
        ssize_t sent = send(client->link, bytes, n, MSG_NOSIGNAL);
        if (sent <= 0) return false;
        bytes += sent, n -= (size_t)sent;
    }
    return true;
}

/* The length of the whole answer, once its head has come; else all that has room. */
static size_t whole_length(const struct client *client)
{
    const char *end = strstr(client->answer, "\r\n\r\n"), *says = strstr(client->answer, "Content-Length: ");
    if (!end) return sizeof client->answer - 1;
    size_t head = (size_t)(end + 4 - client->answer);
    return head + (says && says < end ? strtoul(says + strlen("Content-Length: "), NULL, 10) : 0);
}

static bool receive(struct client *client)
{
    client->length = 0;
    client->answer[0] = 0;
    while (client->length < whole_length(client)) {
        ssize_t n = recv(client->link, client->answer + client->length, sizeof client->answer - 1 - client->length, 0);
        if (n <= 0) return false;
        client->length += (size_t)n;
        client->answer[client->length] = 0;
    }
    return true;
}

int client_ask(struct client *client, const char *path, const char *form)
{
    char request[2048];
    const char *type = form ? "Content-Type: application/x-www-form-urlencoded\r\n" : "";
    size_t body = form ? strlen("token=&") + strlen(client->token) + strlen(form) : 0;
    int n = snprintf(request, sizeof request,
                     "%s %s HTTP/1.1\r\nHost: localhost\r\nCookie: %s\r\n%sContent-Length: %zu\r\n\r\n%s%s%s%s",
                     form ? "POST" : "GET", path, client->cookie, type, body, form ? "token=" : "",
                     form ? client->token : "", form ? "&" : "", form ? form : "");
    if (n < 0 || (size_t)n >= sizeof request) return 0;
    for (bool kept = true; kept;) {
        kept = client->link > 0;
        client->length = 0;
        if (join(client) && send_all(client, request, (size_t)n) && receive(client))
            return atoi(client->answer + strlen("HTTP/1.1 "));
        close(client->link);
        client->link = 0;
        if (client->length > 0) return 0;
    }
    return 0;
}

const char *client_find(const char *text, const char *start, char *to, size_t room)
{
    const char *at = strstr(text, start);
    if (!at) return NULL;
    at += strlen(start);
    size_t n = strcspn(at, "\"");
    if (n >= room) return NULL;
    memcpy(to, at, n);
    to[n] = 0;
    return at;
}

static void take_cookie(struct client *client)
{
    const char *cookie = strstr(client->answer, "Set-Cookie: ");
    if (!cookie) return;
    cookie += strlen("Set-Cookie: ");
    snprintf(client->cookie, sizeof client->cookie, "%.*s", (int)strcspn(cookie, ";"), cookie);
}

bool client_sign_in(struct client *client, unsigned port, const char *name)
{
    static const char token[] = "name=\"token\" content=\"";
    char form[200];
    client->port = port;
    if (client_ask(client, "/sign-in", NULL) != 200) return false;
    take_cookie(client);
    if (!client_find(client->answer, token, client->token, sizeof client->token)) return false;
    snprintf(form, sizeof form, "name=%s&word=", name);
    if (client_ask(client, "/sign-in", form) != 303) return false;
    take_cookie(client); /* signing in begins another visit */
    return client_ask(client, "/bench", NULL) == 200 &&
           client_find(client->answer, token, client->token, sizeof client->token);
}
