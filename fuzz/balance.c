/* Any bytes as a balancing sheet: it is refused with an error, or worked and shown; what is said to be fitted is a
 * number and was allowed. */
#include "base/error.h"
#include "fuzz.h"
#include "machine/balance_read.h"
#include "machine/yaml_tree.h"
#include "view/balance.h"

#include <math.h>
#include <string.h>

enum { CAP = 128 << 20 };

struct input {
    const char *bytes;
    size_t size;
};

static void check_result(const struct wh_balance_sheet *sheet, const struct wh_balance_result *result)
{
    must((result->next == WH_BALANCE_REFUSED) == (result->refused.count > 0));
    if (result->next != WH_BALANCE_FIT) return;
    must(sheet->allows <= WH_BALANCE_BY_DRILLING && !(sheet->speed > sheet->stamped));
    for (size_t p = 0; p < sheet->planes; p++)
        for (size_t i = 0; i < result->correction[p].places; i++) {
            const struct wh_balance_place *place = &result->correction[p].place[i];
            must(isfinite(place->mass) && isfinite(place->angle) && isfinite(place->pull) && place->mass > 0);
            must(place->hole <= sheet->plane[p].holes);
            must(place->hole == 0 || !sheet->plane[p].taken[place->hole - 1]);
        }
}

static enum wh_status check(struct wh_arena *arena, void *context)
{
    const struct input *input = context;
    struct wh_errors errors = wh_errors_in(arena);
    struct wh_tree *tree;
    struct wh_balance_sheet *sheet = NULL;
    const char *text = wh_arena_slice(arena, input->bytes, input->size);
    wh_errors_show(&errors, "fuzz.yaml", text);
    enum wh_status status = wh_yaml_read(arena, "fuzz.yaml", text, input->size, &tree, &errors);
    if (status == WH_OK) status = wh_balance_read(arena, tree, NULL, &sheet, &errors);
    must((status == WH_OK) == (sheet != NULL) && (status == WH_OK) == (errors.count == 0));
    must(status == WH_OK || strlen(wh_errors_text(arena, &errors)) > 0);
    if (!sheet) return WH_OK;
    struct wh_balance_result *result = WH_NEW(arena, 1, struct wh_balance_result);
    wh_balance_work(arena, sheet, result);
    check_result(sheet, result);
    const struct wh_tree *view = wh_view_balance(arena, sheet, result);
    must(strlen(wh_view_balance_text(arena, view)) > 0 && strlen(wh_tree_json(arena, view)) > 0);
    return WH_OK;
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size)
{
    struct input input = {(const char *)bytes, size};
    must(wh_arena_run(CAP, check, &input) == WH_OK);
    return 0;
}
