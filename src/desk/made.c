/* Machines of jobs and their figures, read and worked out once for all who look at them, kept while there is room. */
#include "base/text.h"
#include "desk/inside.h"

#include <string.h>

/* What a machine and its figures are made from, in one hash. */
static struct wh_hash key_of(struct wh_arena *arena, const struct wh_making *making)
{
    struct wh_text text = {.arena = arena};
    wh_text_print(&text, "%s\n%s\n", wh_hash_text(arena, &making->file), making->name);
    for (size_t i = 0; i < making->setting_count; i++)
        wh_text_print(&text, "%s\n%s\n", making->settings[i].name, making->settings[i].text);
    const char *whole = wh_text_of(&text);
    return wh_hash_of(whole, strlen(whole));
}

/* There are more places than threads that could use one, so that one is always free. */
static struct wh_made *take(struct wh_desk *desk, const struct wh_hash *key)
{
    struct wh_made *found = NULL, *oldest = NULL;
    pthread_mutex_lock(&desk->kept_lock);
    for (size_t i = 0; i < WH_DESK_MADE && !found; i++) {
        struct wh_made *made = &desk->made[i];
        if (made->used && wh_hash_same(&made->key, key)) found = made;
        if (made->users == 0 && (!oldest || made->used < oldest->used)) oldest = made;
    }
    if (!found && oldest) {
        found = oldest;
        wh_made_forget(found);
        found->key = *key;
    }
    if (found) {
        found->users++;
        found->used = ++desk->clock;
    }
    pthread_mutex_unlock(&desk->kept_lock);
    return found;
}

static void let_go(void *handle)
{
    struct wh_made *made = handle;
    pthread_mutex_lock(&made->desk->kept_lock);
    made->users--;
    pthread_mutex_unlock(&made->desk->kept_lock);
}

void wh_made_forget(struct wh_made *made)
{
    wh_arena_free(made->arena);
    made->arena = NULL;
    made->machine = NULL;
    made->sheet = NULL;
}

struct asking {
    struct wh_made *made;
    const struct wh_making *making;
    struct wh_errors *errors;
    bool held; /* the caller's arena will let go of it */
};

static enum wh_status make(struct wh_arena *arena, void *context)
{
    const struct asking *a = context;
    const struct wh_making *making = a->making;
    struct wh_setting *settings = WH_NEW(arena, making->setting_count + 1, struct wh_setting);
    struct wh_machine *machine;
    struct wh_sheet *sheet;
    char *bytes;
    size_t size;
    for (size_t i = 0; i < making->setting_count; i++)
        settings[i] = (struct wh_setting){wh_arena_text(arena, making->settings[i].name),
                                          wh_arena_text(arena, making->settings[i].text), making->settings[i].origin};
    enum wh_status status = wh_desk_fetch(a->made->desk, arena, &making->file, &bytes, &size, a->errors);
    if (status == WH_OK)
        status = wh_machine_read_text(arena, wh_arena_text(arena, making->name), bytes, size, &machine, a->errors);
    if (status == WH_OK) status = wh_sheet_make(arena, machine, settings, making->setting_count, &sheet, a->errors);
    if (status != WH_OK) return status;
    a->made->machine = machine;
    a->made->sheet = sheet;
    return WH_OK;
}

static enum wh_status hold(struct wh_arena *arena, void *context)
{
    struct asking *a = context;
    struct wh_made *made = a->made;
    wh_arena_defer(arena, let_go, made);
    a->held = true;
    if (made->sheet) return WH_OK;
    if (!made->arena && !(made->arena = wh_arena_new(WH_DESK_JOB_MEMORY))) return WH_ERR_NOMEM;
    return wh_arena_within(made->arena, make, a);
}

enum wh_status wh_made_take(struct wh_desk *desk, struct wh_arena *arena, const struct wh_making *making,
                            const struct wh_made **ret, struct wh_errors *reterr)
{
    struct wh_hash key = key_of(arena, making);
    struct asking asking = {take(desk, &key), making, reterr, false};
    struct wh_made *made = asking.made;
    if (!made) return wh_errors_add(reterr, WH_ERR_LIMIT, (struct wh_place){0}, "ask again", "too many jobs at once");
    pthread_mutex_lock(&made->lock);
    enum wh_status status = wh_arena_within(arena, hold, &asking);
    if (!made->sheet) wh_made_forget(made);
    pthread_mutex_unlock(&made->lock);
    if (!asking.held) let_go(made);
    if (status == WH_ERR_NOMEM) wh_arena_give_up(arena);
    *ret = made;
    return status;
}
