/* Copies input.txt to copy.txt in the way its argument names: honestly, or with one of the mistakes that the fault
 * harness is there to catch. */
#include "base/fault.h"
#include "base/file.h"
#include "base/text.h"

#include <stdio.h>
#include <stdlib.h>

enum { CAP = 1 << 20, LARGE = 1 << 17 };

struct copying {
    const char *way;
    const char *bytes;
    size_t size;
};

static void put(const char *path, const char *bytes, size_t size)
{
    FILE *file = fopen(path, "w");
    if (!file) return;
    fwrite(bytes, 1, size, file);
    fclose(file);
}

/* Writes in place, or into a temporary that it forgets, and fails in the middle when it is asked to. */
static enum wh_status write_badly(const struct copying *copying, struct wh_errors *reterr)
{
    bool litter = wh_same(copying->way, "litter");
    put(litter ? "copy.txt.new" : "copy.txt", copying->bytes, copying->size / 2);
    if (wh_fault_strikes(WH_FAULT_FILE))
        return wh_errors_add(reterr, WH_ERR_FILE, (struct wh_place){"copy.txt", 0, 0}, NULL, "cannot be written");
    put("copy.txt", copying->bytes, copying->size);
    if (litter) remove("copy.txt.new");
    return WH_OK;
}

static enum wh_status copy(struct wh_arena *arena, void *context)
{
    struct copying *copying = context;
    struct wh_errors errors = wh_errors_in(arena);
    char *bytes;
    enum wh_status status = wh_file_read(arena, "input.txt", CAP, &bytes, &copying->size, &errors);
    copying->bytes = bytes;
    if (status == WH_OK) {
        wh_arena_get(arena, LARGE);
        if (wh_same(copying->way, "hasty")) wh_fault_strikes(WH_FAULT_FILE); /* a call whose failure it does not heed */
        bool badly = wh_same(copying->way, "half") || wh_same(copying->way, "litter");
        status = badly ? write_badly(copying, &errors)
                       : wh_file_write(arena, "copy.txt", copying->bytes, copying->size, &errors);
    }
    const char *says = wh_errors_text(arena, &errors);
    if (!wh_same(copying->way, "silent") && !wh_same(copying->way, "blind")) fputs(says, stderr);
    return status;
}

int main(int argc, char **argv)
{
    const char *fault = getenv("WHARVE_FAULT");
    struct copying copying = {.way = argc > 1 ? argv[1] : "honest"};
    bool deaf = wh_same(copying.way, "deaf");
    if (fault && !deaf && !wh_fault_arm_text(fault)) return 2;
    enum wh_status status = wh_arena_run((size_t)4 << 20, copy, &copying);
    if (status == WH_ERR_NOMEM) fputs("wharve: out of memory\n", stderr);
    if (status == WH_ERR_NOMEM && wh_same(copying.way, "crash")) abort();
    if (status != WH_OK && wh_same(copying.way, "muddled")) return 1;
    return wh_same(copying.way, "blind") ? 0 : wh_status_exit(status);
}
