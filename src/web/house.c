#include "web/house.h"

#include "base/file.h"
#include "web/session.h"

#include <string.h>

const struct wh_shelf *wh_house_machine(const struct wh_house *house, const char *id)
{
    for (size_t i = 0; i < house->machine_count; i++)
        if (wh_same(house->machines[i].id, id)) return &house->machines[i];
    return NULL;
}

struct asking {
    const char *name;
    struct wh_house_person *person;
    int count;
};

static enum wh_status look_for_person(struct wh_arena *arena, struct wh_desk_look *look)
{
    struct asking *asking = look->context;
    const struct wh_workshop_person *person = asking->name ? wh_workshop_person(look->workshop, asking->name) : NULL;
    asking->count = (int)wh_workshop_people(look->workshop);
    if (person)
        *asking->person = (struct wh_house_person){
            wh_arena_text(arena, person->name), wh_arena_text(arena, person->hash), wh_arena_text(arena, person->role)};
    return WH_OK;
}

int wh_house_people(const struct wh_house *house, struct wh_arena *arena, const char *name, struct wh_house_person *ret)
{
    struct wh_errors errors = wh_errors_in(arena);
    struct asking asking = {.name = name, .person = ret};
    struct wh_desk_look look = {.context = &asking, .body = look_for_person};
    if (ret) *ret = (struct wh_house_person){0};
    return wh_desk_workshop(house->desk, arena, &look, &errors) == WH_OK ? asking.count : -1;
}

/* The short name of a machine file, NULL for another file. */
static const char *short_name(struct wh_arena *arena, const char *file)
{
    static const char end[] = ".yaml";
    size_t n = strlen(file), e = strlen(end);
    return n > e && wh_same(file + n - e, end) ? wh_arena_slice(arena, file, n - e) : NULL;
}

static enum wh_status read_machines(struct wh_arena *arena, const char *folder, struct wh_house *house,
                                    struct wh_errors *reterr)
{
    struct wh_words names;
    enum wh_status status = wh_file_list(arena, folder, &names, reterr);
    struct wh_shelf *shelves = WH_NEW(arena, names.count, struct wh_shelf);
    for (size_t i = 0; i < names.count && status == WH_OK; i++) {
        struct wh_machine *machine;
        struct wh_sheet *sheet;
        const char *id = short_name(arena, names.at[i]);
        if (!id) continue;
        char *bytes;
        size_t size;
        const char *path = wh_arena_print(arena, "%s/%s", folder, names.at[i]);
        status = wh_file_read(arena, path, WH_MACHINE_BYTES, &bytes, &size, reterr);
        if (status == WH_OK) status = wh_machine_read_text(arena, path, bytes, size, &machine, reterr);
        if (status == WH_OK) status = wh_sheet_make(arena, machine, NULL, 0, &sheet, reterr);
        if (status == WH_OK) shelves[house->machine_count++] = (struct wh_shelf){id, machine, sheet, bytes, size};
    }
    house->machines = shelves;
    if (status != WH_OK || house->machine_count > 0) return status;
    return wh_errors_add(reterr, WH_ERR_INPUT, (struct wh_place){.file = folder}, "name a folder of machine files",
                         "there is no file here that ends in .yaml");
}

enum wh_status wh_house_open(struct wh_arena *arena, const char *folder, struct wh_house *house,
                             struct wh_errors *reterr)
{
    if (!wh_sessions_start())
        return wh_errors_add(reterr, WH_ERR_FILE, (struct wh_place){0}, NULL,
                             "the library of ciphers cannot work here");
    enum wh_status status = wh_templates_read(arena, wh_page_files, wh_page_file_count, &house->templates, reterr);
    return status == WH_OK ? read_machines(arena, folder, house, reterr) : status;
}
