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

enum { PEM = 64 * 1024 };

/* kind: what a PEM file of that sort has in its first line. */
static enum wh_status read_pem(struct wh_cli *cli, const char *path, const char *kind, const char **ret)
{
    char *bytes;
    size_t size;
    enum wh_status status = wh_file_read(cli->arena, path, PEM, &bytes, &size, &cli->errors);
    if (status != WH_OK) return status;
    *ret = bytes;
    if (strstr(bytes, wh_arena_print(cli->arena, "%s-----", kind))) return WH_OK;
    return wh_errors_add(&cli->errors, WH_ERR_INPUT, (struct wh_place){.file = path},
                         wh_arena_print(cli->arena, "a PEM file with a %s", kind), "there is no %s in it", kind);
}

static enum wh_status read_tls(struct wh_cli *cli, struct wh_server_ask *ask)
{
    const char *certificate = wh_cli_option(cli, "certificate"), *key = wh_cli_option(cli, "key");
    ask->names = wh_cli_option(cli, "names");
    if (!certificate && !key) return WH_OK;
    if (!certificate || !key) return wh_cli_error(cli, NULL, "--certificate and --key go together");
    enum wh_status status = read_pem(cli, certificate, "CERTIFICATE", &ask->certificate);
    return status == WH_OK ? read_pem(cli, key, "PRIVATE KEY", &ask->key) : status;
}

/* Other machines may only come in where everybody signs in. */
static enum wh_status ask_for_people(struct wh_cli *cli, const struct wh_house *house, const struct wh_server_ask *ask)
{
    if (wh_starts(ask->host, "127.") || wh_house_people(house, cli->arena, NULL, NULL) > 0) return WH_OK;
    return wh_cli_error(cli, "set people up first: wharve people NAME --role fitter",
                        "--listen: at %s other machines could come in, and nobody is set up to sign in", ask->host);
}

static enum wh_status say_where(struct wh_cli *cli, const struct wh_server *server, const struct wh_server_ask *ask)
{
    const char *words = wh_arena_print(cli->arena, "The pages are at http%s://%s:%u/\nStop with Ctrl-C.\n",
                                       ask->certificate ? "s" : "", ask->host, wh_server_port(server));
    return wh_file_print(STDOUT_FILENO, words, strlen(words));
}

static enum wh_status run(struct wh_cli *cli)
{
    const char *store = wh_cli_option(cli, "store");
    struct wh_house house = {
        .clock = wh_cli_clock, .store = store ? store : "workshop.db", .program = "wharve " WHARVE_VERSION};
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
    if (status == WH_OK) status = read_tls(cli, &ask);
    if (status == WH_OK) status = wh_cli_desk(cli, WH_CLI_DESK_SERVE, &house.desk);
    if (status == WH_OK) status = wh_house_open(cli->arena, folder ? folder : "machines", &house, &cli->errors);
    if (status == WH_OK) status = ask_for_people(cli, &house, &ask);
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
                {"listen", "ADDRESS:PORT", "where to listen; usual: 127.0.0.1:8095"},
                {"names", "HOSTS", "names that browsers may call it by, parted by commas"},
                {"certificate", "FILE.pem", "certificate for https"},
                {"key", "FILE.pem", "its key"}},
    .run = run};
