/* Fills the words of a kind's step for one thing. */
#include "base/text.h"
#include "plan/tasks.h"

#include <string.h>

/* "50 mm" as "50" where a unit follows once more at the end is left to the template's writer: values stand as written.
 */
static const char *word_of(const struct wh_machine *machine, size_t thing, const char *name)
{
    const struct wh_thing *t = &machine->things[thing];
    if (wh_same(name, "title")) return t->title;
    if (wh_same(name, "round")) return t->round ? t->round : "the way round it was";
    const struct wh_given_value *value = wh_thing_value(t, name);
    if (value && value->written) return value->written;
    size_t role = wh_thing_role(machine, thing, name);
    if (role != WH_NONE) return machine->things[role].title;
    return wh_thing_words(t, name);
}

const char *wh_words_fill(struct wh_arena *arena, const struct wh_machine *machine, size_t thing, const char *template)
{
    struct wh_text text = {.arena = arena};
    while (*template) {
        size_t n = strcspn(template, "{");
        wh_text_add_slice(&text, template, n);
        template += n;
        const char *end = strchr(template, '}');
        if (!end) {
            wh_text_add(&text, template);
            break;
        }
        const char *name = wh_arena_slice(arena, template + 1, (size_t)(end - template - 1));
        const char *word = word_of(machine, thing, name);
        wh_text_add(&text, word ? word : "-");
        template = end + 1;
    }
    return wh_text_of(&text);
}
