/* Who is at the bench. Where people are set up each has a word of their own; where nobody is, a name is enough, since
 * then only this machine can reach the pages. */
#include "store/store.h"
#include "web/pages.h"

#include <pthread.h>
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
    wh_tree_add_truth(request->arena, page, "with word", wh_house_people(house, request->arena, NULL, NULL) != 0);
    if (wrong) reply->code = 422;
    wh_page_fill(house, request, "sign_in", page, reply);
}

void wh_page_sign_in_form(const struct wh_house *house, const struct wh_request *request, struct wh_reply *reply)
{
    show(house, request, "", back_of(&request->query), NULL, reply);
}

/* Slow hashes take memory: two at a time. */
static bool word_fits(const char *hash, const char *word)
{
    static pthread_mutex_t locks[2] = {PTHREAD_MUTEX_INITIALIZER, PTHREAD_MUTEX_INITIALIZER};
    pthread_mutex_t *lock = pthread_mutex_trylock(&locks[0]) == 0 ? &locks[0] : &locks[1];
    if (lock == &locks[1]) pthread_mutex_lock(lock);
    bool fits = wh_word_fits(hash, word);
    pthread_mutex_unlock(lock);
    return fits;
}

/* What is wrong with a name and its word, NULL for nothing. A name that is not there takes as long as a wrong word. */
static const char *wrong_word(const struct wh_request *request, const struct wh_house_person *person, const char *name)
{
    static const char nobody[] = "$argon2id$v=19$m=65536,t=2,p=1$c2FsdHNhbHRzYWx0c2FsdA$"
                                 "AAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAA";
    if (!wh_sign_in_may_try(name)) return "Too many wrong words for this name: wait a little, then try again.";
    bool fits = word_fits(person->hash ? person->hash : nobody, wh_form_text(&request->form, "word", ""));
    wh_sign_in_tried(name, fits && person->name);
    return fits && person->name ? NULL : "Name and word do not fit each other.";
}

/* A new visit for who signs in: what was known of the old one is worth nothing. */
static void sign_in(const struct wh_request *request, const char *name, enum wh_standing standing, const char *back,
                    struct wh_reply *reply)
{
    char *visit = wh_arena_get(request->arena, WH_VISIT + 1);
    wh_sign_out(request->visit);
    wh_visit_new(visit);
    wh_sign_in(visit, name, standing);
    reply->cookie = visit;
    wh_page_go(reply, back);
}

void wh_page_sign_in(const struct wh_house *house, const struct wh_request *request, struct wh_reply *reply)
{
    const char *name = wh_form_text(&request->form, "name", ""), *back = back_of(&request->form), *wrong = NULL;
    struct wh_house_person person;
    int people = wh_house_people(house, request->arena, name, &person);
    if (!*name || strlen(name) > WH_PERSON) wrong = "Write your name, of at most 80 letters.";
    if (people < 0) wrong = "The store cannot be read now; try again.";
    if (people > 0 && !wrong) wrong = wrong_word(request, &person, name);
    if (wrong)
        show(house, request, name, back, wrong, reply);
    else
        sign_in(request, name, people ? wh_standing_of(person.role) : WH_STANDING_CHARGE_HAND, back, reply);
}

void wh_page_sign_out(const struct wh_house *house, const struct wh_request *request, struct wh_reply *reply)
{
    (void)house;
    wh_sign_out(request->visit);
    reply->cookie = "";
    wh_page_go(reply, "/sign-in");
}

void wh_page_units(const struct wh_house *house, const struct wh_request *request, struct wh_reply *reply)
{
    (void)house;
    reply->units = wh_same(wh_form_text(&request->form, "to", ""), "inch") ? "inch" : "metric";
    wh_page_go(reply, back_of(&request->form));
}
