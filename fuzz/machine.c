/* Any bytes as a machine file: it is read, or refused with an error that has a place and words. */
#include "base/error.h"
#include "fuzz.h"
#include "machine/machine.h"

#include <string.h>

enum { CAP = 64 << 20 };

struct input {
    const char *bytes;
    size_t size;
};

static void check_errors(struct wh_arena *arena, const struct wh_errors *errors)
{
    size_t count = 0;
    for (const struct wh_error *e = errors->first; e; e = e->next) {
        must(e->status == WH_ERR_INPUT && e->says && *e->says);
        must(e->place.line >= 0 && (e->place.line == 0 || e->place.column >= 1));
        count++;
    }
    must(count == errors->count);
    must(strlen(wh_errors_text(arena, errors)) > 0);
}

static void check_machine(struct wh_arena *arena, const struct wh_machine *machine)
{
    size_t count;
    const char **ids = wh_machine_ids(arena, machine, &count);
    for (size_t i = 0; i < count; i++) must(wh_machine_thing(machine, ids[i]) < machine->thing_count);
    for (size_t i = 0; i < machine->thing_count; i++) must(machine->things[i].kind || i == 0);
    for (size_t i = 0; i < machine->check_count; i++) must(machine->checks[i].of < machine->thing_count);
}

static enum wh_status check(struct wh_arena *arena, void *context)
{
    const struct input *input = context;
    struct wh_errors errors = wh_errors_in(arena);
    struct wh_machine *machine = NULL;
    const char *text = wh_arena_slice(arena, input->bytes, input->size); /* ended by a zero byte, as a file read is */
    enum wh_status status = wh_machine_read_text(arena, "fuzz.yaml", text, input->size, &machine, &errors);
    must((status == WH_OK) == (machine != NULL) && (status == WH_OK) == (errors.count == 0));
    if (machine) {
        check_machine(arena, machine);
    } else {
        must(status == WH_ERR_INPUT);
        check_errors(arena, &errors);
    }
    return WH_OK;
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size)
{
    struct input input = {(const char *)bytes, size};
    must(wh_arena_run(CAP, check, &input) == WH_OK);
    return 0;
}
