/* The handbook as Markdown: an index, a page a subject with a heading a rule, a glossary. */
#include "view/handbook.h"

#include <string.h>

/* Words that Markdown would take for marks. */
static const char *plain(struct wh_arena *arena, const char *words)
{
    struct wh_text text = {.arena = arena};
    for (const char *c = words; *c; c++) {
        if (strchr("|*_[]<`", *c)) wh_text_add(&text, "\\");
        wh_text_add_slice(&text, c, 1);
    }
    return wh_text_of(&text);
}

/* The anchor of a heading: its letters without the dots. */
static const char *anchor(struct wh_arena *arena, const char *name)
{
    char *slug = wh_arena_text(arena, name), *to = slug;
    for (const char *c = name; *c; c++)
        if (*c != '.') *to++ = *c;
    *to = '\0';
    return slug;
}

static void add_link(struct wh_text *text, const struct wh_tree *rule, const char *subject)
{
    const char *name = wh_tree_text(rule, "name", ""), *its = wh_tree_text(rule, "subject", "");
    wh_text_print(text, "[%s](%s%s#%s)", name, strcmp(its, subject) == 0 ? "" : its,
                  strcmp(its, subject) == 0 ? "" : ".md", anchor(text->arena, name));
}

static void add_links(struct wh_text *text, const char *lead, const struct wh_tree *rule, const char *key)
{
    const struct wh_tree *list = wh_tree_get(rule, key);
    if (!list->first) return;
    wh_text_print(text, "%s ", lead);
    for (const struct wh_tree *link = list->first; link; link = link->next) {
        if (link != list->first) wh_text_add(text, ", ");
        add_link(text, link, wh_tree_text(rule, "subject", ""));
    }
    wh_text_add(text, ".\n");
}

static void add_slots(struct wh_text *text, const struct wh_tree *slots, const char *lead)
{
    for (const struct wh_tree *s = slots->first; s; s = s->next) {
        const char *many = wh_tree_text(s, "many", ""), *range = wh_tree_text(s, "range", "");
        wh_text_print(text, "| %s | `%s` | %s | %s | %s | %s%s%s | %s |\n", s == slots->first ? lead : "",
                      wh_tree_text(s, "name", ""), plain(text->arena, wh_tree_text(s, "symbol", "")),
                      plain(text->arena, wh_tree_text(s, "title", "")), plain(text->arena, wh_tree_text(s, "unit", "")),
                      plain(text->arena, range), *many && *range ? ", " : "", many,
                      plain(text->arena, wh_tree_text(s, "usual", "")));
    }
}

static void add_rule(struct wh_text *text, const struct wh_tree *rule)
{
    const struct wh_tree *example = wh_tree_get(rule, "example");
    wh_text_print(text, "\n### %s\n\n%s.\n\n    %s\n\n", wh_tree_text(rule, "name", ""),
                  plain(text->arena, wh_tree_text(rule, "title", "")), wh_tree_text(rule, "formula", ""));
    wh_text_add(text, "| | name | symbol | what it is | unit | range | usual |\n|---|---|---|---|---|---|---|\n");
    add_slots(text, wh_tree_get(rule, "takes"), "takes");
    add_slots(text, wh_tree_get(rule, "gives"), "gives");
    wh_text_print(text, "\nFrom: %s.\n\n", plain(text->arena, wh_tree_text(rule, "source", "")));
    if (example) {
        const char *remark = wh_tree_text(example, "remark", "");
        wh_text_print(text, "Example, %s: %s; wanted %s.\n\n    $ %s\n    %s\n", wh_tree_text(example, "kind", ""),
                      plain(text->arena, wh_tree_text(example, "source", "")),
                      plain(text->arena, wh_tree_text(example, "expected", "")), wh_tree_text(example, "command", ""),
                      wh_tree_text(example, "result", ""));
        if (*remark) wh_text_print(text, "    note: %s\n", remark);
    }
    if (wh_tree_get(rule, "comes from")->first || wh_tree_get(rule, "goes into")->first ||
        wh_tree_get(rule, "see also")->first)
        wh_text_add(text, "\n");
    add_links(text, "Comes from", rule, "comes from");
    add_links(text, "Goes into", rule, "goes into");
    add_links(text, "See also", rule, "see also");
}

static const char *const made = "Printed by `wharve rules --markdown`; not edited by hand.";

const char *wh_handbook_subject(struct wh_arena *arena, const struct wh_tree *subject)
{
    struct wh_text text = {.arena = arena};
    wh_text_print(&text, "# Handbook: %s\n\n%s [Index](README.md), [glossary](glossary.md).\n",
                  wh_tree_text(subject, "name", ""), made);
    for (const struct wh_tree *s = wh_tree_get(subject, "sections")->first; s; s = s->next) {
        wh_text_print(&text, "\n## %s\n", wh_tree_text(s, "title", ""));
        for (const struct wh_tree *rule = wh_tree_get(s, "rules")->first; rule; rule = rule->next)
            add_rule(&text, rule);
    }
    return wh_text_of(&text);
}

const char *wh_handbook_index(struct wh_arena *arena, const struct wh_tree *book)
{
    struct wh_text text = {.arena = arena};
    wh_text_print(
        &text,
        "# Handbook\n\n%s %s calculations, each with its formula, units, ranges, source and a worked example that "
        "is a test.\nWords: [glossary](glossary.md).\n",
        made, wh_tree_text(book, "count", ""));
    for (const struct wh_tree *subject = wh_tree_get(book, "subjects")->first; subject; subject = subject->next)
        for (const struct wh_tree *s = wh_tree_get(subject, "sections")->first; s; s = s->next) {
            wh_text_print(&text, "\n## %s\n\n", wh_tree_text(s, "title", ""));
            for (const struct wh_tree *rule = wh_tree_get(s, "rules")->first; rule; rule = rule->next) {
                wh_text_add(&text, "- ");
                add_link(&text, rule, "");
                wh_text_print(&text, ": %s\n", plain(arena, wh_tree_text(rule, "title", "")));
            }
        }
    return wh_text_of(&text);
}

const char *wh_handbook_glossary(struct wh_arena *arena, const struct wh_tree *book)
{
    struct wh_text text = {.arena = arena};
    wh_text_print(&text, "# Glossary\n\n%s [Index](README.md).\n\n| word | means |\n|---|---|\n", made);
    for (const struct wh_tree *term = wh_tree_get(book, "terms")->first; term; term = term->next)
        wh_text_print(&text, "| %s | %s |\n", plain(arena, wh_tree_text(term, "word", "")),
                      plain(arena, wh_tree_text(term, "means", "")));
    return wh_text_of(&text);
}
