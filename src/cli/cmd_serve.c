/* wharve serve: the pages for a tablet at the bench. */
#include "base/file.h"
#include "cli/desk.h"
#include "web/server.h"

#include <signal.h>
#include <string.h>
#include <unistd.h>

enum { PORT = 8095 };

/* "127.0.0.1:8095", "8095" or nothing. */
static enum wh_status read_listen(struct wh_cli *cli, struct wh_server_ask *ask)
{
    const char *text = wh_cli_option(cli, "listen"), *colon = text ? strrchr(text, ':') : NULL;
    double port = PORT;
    ask->host = colon ? wh_arena_slice(cli->arena, text, (size_t)(colon - text)) : "127.0.0.1";
    const char *digits = colon ? colon + 1 : text, *rest = digits ? wh_number_read(digits, &port) : "";
    ask->port = (unsigned)port;
    if (rest && !*rest && port >= 0 && port < 65536 && ask->port >= port) return WH_OK;
    return wh_cli_error(cli, "write 127.0.0.1:8095", "--listen: \"%s\" is no address and port", text);
}

static enum wh_status say_where(struct wh_cli *cli, const struct wh_server *server, const struct wh_server_ask *ask)
{
    const char *words = wh_arena_print(cli->arena, "The pages are at http%s://%s:%u/\nStop with Ctrl-C.\n",
                                       ask->certificate ? "s" : "", ask->host, wh_server_port(server));
    return wh_file_print(STDOUT_FILENO, words, strlen(words));
}

static enum wh_status run(struct wh_cli *cli)
{
    struct wh_house house = {.clock = wh_cli_clock, .program = "wharve " WHARVE_VERSION};
    struct wh_server_ask ask = {0};
    struct wh_server *server;
    const char *folder = wh_cli_option(cli, "machines");
    sigset_t ends;
    int signal;
    sigemptyset(&ends);
    sigaddset(&ends, SIGINT);
    sigaddset(&ends, SIGTERM);
    sigprocmask(SIG_BLOCK, &ends, NULL); /* the threads to come inherit it: only the wait below takes them */
    enum wh_status status = read_listen(cli, &ask);
    if (status == WH_OK) status = wh_cli_desk(cli, WH_CLI_DESK_SERVE, &house.desk);
    if (status == WH_OK) status = wh_house_open(cli->arena, folder ? folder : "machines", &house, &cli->errors);
    if (status != WH_OK) return status;
    status = wh_server_start(cli->arena, &house, &ask, &server, &cli->errors);
    if (status != WH_OK) return status;
    status = say_where(cli, server, &ask);
    if (status == WH_OK) sigwait(&ends, &signal);
    wh_server_stop(server);
    return status;
}

const struct wh_command wh_command_serve = {
    .name = "serve",
    .usage = "serve [--machines FOLDER] [--store FILE] [--listen ADDRESS:PORT]",
    .words = "Serves the pages for a browser on this machine, until it is stopped.",
    .example = "wharve serve --machines machines",
    .options = {{"machines", "FOLDER", "the machine files; usual: machines"},
                {"store", "FILE", "where the jobs are kept; usual: workshop.db"},
                {"listen", "ADDRESS:PORT", "where to listen; usual: 127.0.0.1:8095"}},
    .run = run};
