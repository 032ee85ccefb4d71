/* What people enter: any kind of entry of a job, photos with it; a new job; an answer to the same form sent again. */
#include "base/picture.h"
#include "desk/desk.h"
#include "view/bench.h"
#include "web/pages.h"

#include <string.h>

static bool takes_several(const struct wh_entry_field *field)
{
    return field->form == WH_ENTRY_WORDS || field->form == WH_ENTRY_PARTS || field->form == WH_ENTRY_STEPS ||
           field->form == WH_ENTRY_FILES;
}

/* Keeps the photo of a form; its hash goes into the entry. */
static enum wh_status add_photo(const struct wh_house *house, const struct wh_request *request, struct wh_tree *list,
                                struct wh_errors *errors)
{
    struct wh_hash hash;
    struct wh_picture picture;
    const struct wh_field *file = wh_form_file(&request->form, "photo");
    if (!file) return WH_OK;
    if (!wh_picture_read(file->bytes, file->size, &picture))
        return wh_errors_add(errors, WH_ERR_INPUT, (struct wh_place){0}, "send a JPEG or a PNG",
                             "the file is no photo");
    enum wh_status status = wh_desk_keep(house->desk, request->arena, file->bytes, file->size, &hash, errors);
    if (status == WH_OK) wh_tree_add_text(request->arena, list, NULL, wh_hash_text(request->arena, &hash));
    return status;
}

/* All texts sent under the name of a field; lines and semicolons part them. */
static void add_list(const struct wh_request *request, const char *name, struct wh_tree *list)
{
    for (size_t i = 0; i < request->form.count; i++) {
        const struct wh_field *sent = &request->form.fields[i];
        if (!wh_same(sent->name, name) || !sent->text) continue;
        struct wh_words words = wh_split(request->arena, sent->text, ';');
        for (size_t w = 0; w < words.count; w++) wh_tree_add_text(request->arena, list, NULL, words.at[w]);
    }
}

static enum wh_status read_said(const struct wh_house *house, const struct wh_request *request,
                                const struct wh_entry_kind *kind, struct wh_tree **ret, struct wh_errors *errors)
{
    struct wh_arena *arena = request->arena;
    struct wh_tree *said = *ret = wh_tree_new(arena, WH_TREE_MAP);
    enum wh_status status = WH_OK;
    for (const struct wh_entry_field *field = kind->fields; field->name && status == WH_OK; field++) {
        const char *text = wh_form_text(&request->form, field->name, "");
        if (takes_several(field)) {
            struct wh_tree *list = wh_tree_new(arena, WH_TREE_LIST);
            if (field->form == WH_ENTRY_FILES)
                status = add_photo(house, request, list, errors);
            else
                add_list(request, field->name, list);
            if (list->count) wh_tree_add(arena, said, field->name, list);
        } else if (*text && field->form == WH_ENTRY_NUMBER) {
            double number;
            const char *rest = wh_number_read(text, &number);
            if (rest && !*rest)
                wh_tree_add_number(arena, said, field->name, number);
            else
                status = wh_errors_add(errors, WH_ERR_INPUT, (struct wh_place){0}, "write a number",
                                       "%s: \"%s\" is none", field->title, text);
        } else if (*text && field->form == WH_ENTRY_SEQ) {
            int64_t seq;
            if (wh_job_number(text, &seq)) wh_tree_add_number(arena, said, field->name, (double)seq);
        } else if (*text) {
            wh_tree_add_text(arena, said, field->name, text);
        }
    }
    return status;
}

/* Only paths of our own are gone back to. */
static const char *back_to(const struct wh_request *request, const char *otherwise)
{
    const char *back = wh_form_text(&request->form, "back", otherwise);
    return back[0] == '/' && back[1] != '/' && !strpbrk(back, "\\\n\r") ? back : otherwise;
}

static void refuse(const struct wh_house *house, const struct wh_request *request, enum wh_status status,
                   const struct wh_errors *errors, const char *back, struct wh_reply *reply)
{
    struct wh_tree *page = wh_page_new(house, request, status == WH_ERR_INPUT ? "That is not taken" : "Not kept");
    struct wh_tree *list = wh_tree_add_new(request->arena, page, "reasons", WH_TREE_LIST);
    for (const struct wh_error *error = errors->first; error; error = error->next) {
        struct wh_tree *item = wh_tree_add_new(request->arena, list, NULL, WH_TREE_MAP);
        wh_tree_add_text(request->arena, item, "says", error->says);
        if (error->right) wh_tree_add_text(request->arena, item, "right", error->right);
    }
    wh_tree_add_text(request->arena, page, "back", back);
    reply->code = status == WH_ERR_INPUT ? 422 : 503;
    wh_page_fill(house, request, "refused", page, reply);
}

static bool may_enter(const struct wh_request *request, const char *kind, const char *as)
{
    bool hand = request->standing >= WH_STANDING_CHARGE_HAND;
    if (wh_same(kind, "decided") || wh_same(kind, "settled")) return hand;
    return !(wh_same(kind, "signed") && !wh_same(as, "fitter")) || hand;
}

void wh_page_enter(const struct wh_house *house, const struct wh_request *request, struct wh_reply *reply)
{
    struct wh_arena *arena = request->arena;
    struct wh_errors errors = wh_errors_in(arena);
    const struct wh_entry_kind *kind = wh_entry_kind(wh_form_text(&request->form, "kind", ""));
    const char *home = wh_arena_print(arena, "/jobs/%s", wh_address_text(arena, request->held[0]));
    const char *back = back_to(request, home);
    struct wh_entry entry = {.who = request->person, .seen = -1};
    struct wh_answer answer;
    struct wh_tree *said;
    enum wh_status status = WH_OK;
    int64_t seen;
    if (!wh_job_number(request->held[0], &entry.job) || !kind || !kind->people)
        status = wh_errors_add(&errors, WH_ERR_INPUT, (struct wh_place){0}, NULL, "there is no such job or entry");
    else if (!may_enter(request, kind->name, wh_form_text(&request->form, "as", "")))
        status = wh_errors_add(&errors, WH_ERR_INPUT, (struct wh_place){0}, NULL, "that is for the charge hand");
    if (status == WH_OK) status = read_said(house, request, kind, &said, &errors);
    if (status == WH_OK) {
        if (wh_job_number(wh_form_text(&request->form, "seen", ""), &seen)) entry.seen = seen;
        entry.kind = kind->name;
        entry.key = wh_form_text(&request->form, "key", "");
        entry.said = said;
        bool live = !wh_same(wh_form_text(&request->form, "queued", ""), "yes");
        status = wh_desk_submit(house->desk, arena, &entry, live, &answer, &errors);
    }
    if (status != WH_OK) {
        refuse(house, request, status, &errors, back, reply);
        return;
    }
    wh_page_go(reply, answer.how == WH_TAKEN_CONTESTED ? home : back);
}

void wh_page_open_job(const struct wh_house *house, const struct wh_request *request, struct wh_reply *reply)
{
    struct wh_arena *arena = request->arena;
    struct wh_errors errors = wh_errors_in(arena);
    const struct wh_shelf *shelf = wh_house_machine(house, request->held[0]);
    struct wh_answer answer;
    if (!shelf) {
        wh_page_wrong(house, request, 404, "There is no such machine here.", NULL, reply);
        return;
    }
    const char *fitters = wh_form_text(&request->form, "fitters", "1"),
               *title = wh_form_text(&request->form, "title", "");
    struct wh_opening opening = {.who = request->person,
                                 .key = wh_form_text(&request->form, "key", ""),
                                 .machine = shelf->id,
                                 .bytes = shelf->bytes,
                                 .size = shelf->size,
                                 .renew = wh_form_text(&request->form, "renew", ""),
                                 .title = *title ? title : NULL,
                                 .brought = wh_form_text(&request->form, "brought", NULL),
                                 .hours = wh_form_text(&request->form, "hours", NULL),
                                 .starts = wh_form_text(&request->form, "starts", NULL),
                                 .fitters = *fitters >= '1' && *fitters <= '4' ? *fitters - '0' : 1};
    enum wh_status status = wh_desk_open_job(house->desk, arena, &opening, &answer, &errors);
    if (status != WH_OK) {
        refuse(house, request, status, &errors, wh_arena_print(arena, "/machines/%s/start", shelf->id), reply);
        return;
    }
    wh_page_go(reply, wh_arena_print(arena, "/jobs/%lld", (long long)answer.job));
}

/* A photo that an entry of any job names: by its hash, which says what it holds. */
void wh_page_photo(const struct wh_house *house, const struct wh_request *request, struct wh_reply *reply)
{
    struct wh_errors errors = wh_errors_in(request->arena);
    struct wh_hash hash;
    struct wh_picture picture;
    char *bytes;
    size_t size;
    if (!wh_hash_read(request->held[0], &hash) ||
        wh_desk_fetch(house->desk, request->arena, &hash, &bytes, &size, &errors) != WH_OK) {
        wh_page_wrong(house, request, 404, "There is no such photo.", NULL, reply);
        return;
    }
    if (!wh_picture_read(bytes, size, &picture))
        reply->type = "application/octet-stream";
    else
        reply->type = picture.is == WH_PICTURE_PNG ? "image/png" : "image/jpeg";
    reply->bytes = bytes;
    reply->size = size;
    reply->lasting = true;
}
