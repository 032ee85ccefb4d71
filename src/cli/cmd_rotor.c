/* wharve rotor: at which speeds a spindle or shaft shakes, in which shape, how far from running. */
#include "cli/cli.h"
#include "view/whirling.h"

static enum wh_status choose_shaft(struct wh_cli *cli, const struct wh_sheet *sheet, size_t *ret)
{
    const char *id = wh_cli_option(cli, "of"), *why;
    *ret = id ? wh_machine_thing(sheet->machine, id) : wh_view_whirling_shaft(sheet, &why);
    if (*ret != WH_NONE) return WH_OK;
    if (id) return wh_cli_error(cli, NULL, "--of: there is no part \"%s\" in %s", id, sheet->machine->path);
    return wh_errors_add(&cli->errors, WH_ERR_NO_ANSWER, (struct wh_place){.file = sheet->machine->path},
                         "place a support on it: is: support, of: spindle, height, stiffness; bodies the same way",
                         "its whirling is not worked out: %s", why);
}

/* "--unbalance 100 g mm" at the first body, or at the one that --at names. */
static enum wh_status add_unbalance(struct wh_cli *cli, const struct wh_whirling *whirling, struct wh_tree *tree)
{
    const char *text = wh_cli_option(cli, "unbalance"), *at = wh_cli_option(cli, "at");
    struct wh_form form;
    struct wh_value value;
    size_t body = 0;
    if (!text) return at ? wh_cli_error(cli, "write --unbalance \"100 g mm\"", "--at: of which unbalance?") : WH_OK;
    wh_form_read("0..1000000000 g mm", &form);
    enum wh_status status = wh_form_value(&form, "--unbalance", text, (struct wh_place){0}, &value, &cli->errors);
    if (status != WH_OK) return status;
    size_t thing = at ? wh_machine_thing(whirling->sheet->machine, at) : WH_NONE;
    while (at && body < whirling->rotor->body_count && wh_view_about(whirling, "body", body) != thing) body++;
    if (body >= whirling->rotor->body_count)
        return wh_cli_error(cli, "name a body that is placed on the shaft", "there is no body %s", at ? at : "on it");
    wh_view_add_unbalance(cli->arena, tree, whirling, value.best, body);
    return WH_OK;
}

static enum wh_status run(struct wh_cli *cli)
{
    struct wh_machine *machine;
    struct wh_sheet *sheet;
    struct wh_whirling whirling;
    const char *why, *path = wh_cli_option(cli, "to"), *shapes = wh_cli_option(cli, "shapes");
    size_t shaft;
    enum wh_status status = wh_cli_machine(cli, &machine, &sheet);
    if (status == WH_OK) status = choose_shaft(cli, sheet, &shaft);
    if (status != WH_OK) return status;
    if (wh_view_whirling(cli->arena, sheet, shaft, &whirling, &why) != WH_OK)
        return wh_errors_add(&cli->errors, WH_ERR_NO_ANSWER, machine->things[shaft].place, NULL,
                             "the whirling of %s is not worked out: %s", machine->things[shaft].id, why);
    struct wh_tree *tree = wh_view_whirling_tree(cli->arena, &whirling);
    status = add_unbalance(cli, &whirling, tree);
    if (status == WH_OK && path) status = wh_cli_picture(cli, wh_view_whirl_map(cli->arena, &whirling), path);
    if (status == WH_OK && shapes) status = wh_cli_picture(cli, wh_view_whirl_shapes(cli->arena, &whirling), shapes);
    if (status != WH_OK) return status;
    if (wh_cli_option(cli, "json")) {
        wh_cli_json(cli, tree);
        return WH_OK;
    }
    wh_text_add(&cli->out, wh_view_whirling_text(cli->arena, tree));
    if (path) wh_text_print(&cli->out, "\nThe map lies in %s\n", path);
    if (shapes) wh_text_print(&cli->out, "\nThe shapes lie in %s\n", shapes);
    return WH_OK;
}

const struct wh_command wh_command_rotor = {
    .name = "rotor",
    .usage = "rotor FILE [--of PART] [--to FILE.svg] [--shapes FILE.svg] [--unbalance SIZE [--at BODY]] [--set "
             "NAME=VALUE] [--json]",
    .words =
        "Says at which speeds a spindle or shaft shakes, in which shape, and how far from its running speed: worked "
        "out from its section, from the bodies on it and from the supports that hold it.",
    .example = "wharve rotor machines/juice-clarifier.yaml --unbalance \"349 g mm\" --at bowl --to out/whirls.svg",
    .options = {{"of", "PART", "the spindle or shaft, where there are several"},
                {"to", "FILE.svg|.png", "where a map of its whirls over its speed goes"},
                {"shapes", "FILE.svg|.png", "where a drawing of its shapes at the critical speeds goes"},
                {"unbalance", "SIZE", "how far this much drives it, \"100 g mm\""},
                {"at", "BODY", "with --unbalance: the body it sits on; the first when it is not said"},
                {"set", "NAME=VALUE", "takes another value than the file's; may stand several times"},
                {"json", NULL, "prints JSON"}},
    .run = run};
