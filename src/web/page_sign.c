/* Who is at the bench. Where people are set up each has a word of their own; where nobody is, a name is enough, since
 * then only this machine can reach the pages. */
#include "web/pages.h"

#include <string.h>

/* Only paths of our own are gone to. */
static const char *back_of(const struct wh_form_sent *form)
{
    const char *back = wh_form_text(form, "back", "/bench");
    return back[0] == '/' && back[1] != '/' && !strpbrk(back, "\\\n\r") ? back : "/bench";
}

static void show(const struct wh_house *house, const struct wh_request *request, const char *name, const char *back,
                 const char *wrong, struct wh_reply *reply)
{
    struct wh_tree *page = wh_page_new(house, request, "Who is at the bench?");
    wh_tree_add_text(request->arena, page, "name", name);
    wh_tree_add_text(request->arena, page, "back", back);
    if (wrong) wh_tree_add_text(request->arena, page, "wrong", wrong);
    wh_tree_add_truth(request->arena, page, "with word", house->people_count > 0);
    if (wrong) reply->code = 422;
    wh_page_fill(house, request, "sign_in", page, reply);
}

void wh_page_sign_in_form(const struct wh_house *house, const struct wh_request *request, struct wh_reply *reply)
{
    show(house, request, "", back_of(&request->query), NULL, reply);
}

void wh_page_sign_in(const struct wh_house *house, const struct wh_request *request, struct wh_reply *reply)
{
    const char *name = wh_form_text(&request->form, "name", ""), *back = back_of(&request->form);
    if (!*name || strlen(name) > WH_PERSON)
        show(house, request, name, back, "Write your name, of at most 80 letters.", reply);
    else if (wh_sign_in(request->visit, name, WH_STANDING_CHARGE_HAND))
        wh_page_go(reply, back);
}

void wh_page_sign_out(const struct wh_house *house, const struct wh_request *request, struct wh_reply *reply)
{
    (void)house;
    wh_sign_out(request->visit);
    reply->cookie = "";
    wh_page_go(reply, "/sign-in");
}
