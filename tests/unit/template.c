/* Page templates: what is printed is always escaped; faults of a template are told with their line. */
#include "check.h"

#include "web/template.h"

#include <string.h>

static const char *filled_with(struct wh_arena *arena, const char *html, const struct wh_tree *tree)
{
    const struct wh_page_file files[] = {{"page.html", html, strlen(html)}, {"foot.html", "<{{name}}>", 10}};
    const struct wh_templates *templates;
    struct wh_errors errors = wh_errors_in(arena);
    struct wh_text text = {.arena = arena};
    assert_int_equal(wh_templates_read(arena, files, 2, &templates, &errors), WH_OK);
    assert_true(wh_templates_fill(templates, "page", tree, &text));
    return wh_text_of(&text);
}

static struct wh_tree *sample(struct wh_arena *arena)
{
    struct wh_tree *map = wh_tree_new(arena, WH_TREE_MAP), *list, *item;
    wh_tree_add_text(arena, map, "name", "neck & \"foot\" <b>'s");
    wh_tree_add_text(arena, map, "hangs on", "seat");
    wh_tree_add_text(arena, map, "empty", "");
    wh_tree_add_truth(arena, map, "no", false);
    list = wh_tree_add_new(arena, map, "words", WH_TREE_LIST);
    wh_tree_add_text(arena, list, NULL, "one");
    wh_tree_add_text(arena, list, NULL, "two");
    list = wh_tree_add_new(arena, map, "parts", WH_TREE_LIST);
    item = wh_tree_add_new(arena, list, NULL, WH_TREE_MAP);
    wh_tree_add_text(arena, item, "name", "belt");
    wh_tree_add_text(arena, item, "mark", "done");
    item = wh_tree_add_new(arena, list, NULL, WH_TREE_MAP);
    wh_tree_add_text(arena, item, "mark", "to do");
    wh_tree_add_new(arena, map, "none", WH_TREE_LIST);
    return map;
}

ARENA_TEST(escapes)
{
    assert_string_equal(filled_with(arena, "<p title=\"{{name}}\">{{hangs on}}{{absent}}</p>", sample(arena)),
                        "<p title=\"neck &amp; &quot;foot&quot; &lt;b&gt;&#39;s\">seat</p>");
    return WH_OK;
}

ARENA_TEST(loops)
{
    assert_string_equal(filled_with(arena, "{{for words}}[{{.}}]{{end}}", sample(arena)), "[one][two]");
    assert_string_equal(
        filled_with(arena, "{{for parts}}{{mark}}:{{hangs on}} {{end}}{{for none}}x{{end}}", sample(arena)),
        "done:seat to do:seat ");
    return WH_OK;
}

ARENA_TEST(chooses)
{
    assert_string_equal(filled_with(arena,
                                    "{{if name}}a{{else}}b{{end}}{{if empty}}a{{else}}b{{end}}{{if no}}a{{end}}"
                                    "{{if none}}a{{end}}{{if words}}c{{end}}",
                                    sample(arena)),
                        "abc");
    assert_string_equal(filled_with(arena, "{{for parts}}{{if mark is done}}x{{else}}-{{end}}{{end}}", sample(arena)),
                        "x-");
    return WH_OK;
}

ARENA_TEST(uses_another)
{
    assert_string_equal(filled_with(arena, "{{for parts}}{{if mark is done}}{{use foot}}{{end}}{{end}}", sample(arena)),
                        "<belt>");
    return WH_OK;
}

/* Each wrong template, the line of its fault and a word of what is said. */
ARENA_TEST(tells_faults)
{
    static const struct {
        const char *html;
        int line;
        const char *says;
    } wrong[] = {{"a\n{{for x}}b", 2, "not ended"},
                 {"{{end}}", 1, "ends nothing"},
                 {"\n\n{{name", 3, "not ended"},
                 {"{{else}}", 1, "belongs to nothing"},
                 {"{{for a}}{{else}}{{end}}", 1, "wrong place"},
                 {"{{if a}}{{else}}{{else}}{{end}}", 1, "second"},
                 {"{{}}", 1, "missing"},
                 {"{{use nowhere}}", 0, "no template"},
                 {"{{a\nb}}", 1, "not ended"}};
    for (size_t i = 0; i < sizeof wrong / sizeof *wrong; i++) {
        const struct wh_page_file file = {"page.html", wrong[i].html, strlen(wrong[i].html)};
        const struct wh_templates *templates;
        struct wh_errors errors = wh_errors_in(arena);
        assert_int_equal(wh_templates_read(arena, &file, 1, &templates, &errors), WH_ERR_INPUT);
        assert_int_equal(errors.first->place.line, wrong[i].line);
        assert_non_null(strstr(errors.first->says, wrong[i].says));
    }
    return WH_OK;
}

ARENA_TEST(a_ring_ends)
{
    const struct wh_page_file file = {"ring.html", "{{use ring}}", 12};
    const struct wh_templates *templates;
    struct wh_errors errors = wh_errors_in(arena);
    struct wh_text text = {.arena = arena};
    assert_int_equal(wh_templates_read(arena, &file, 1, &templates, &errors), WH_OK);
    assert_false(wh_templates_fill(templates, "ring", sample(arena), &text));
    assert_false(wh_templates_fill(templates, "absent", sample(arena), &text));
    return WH_OK;
}

ARENA_TEST(the_pages_read)
{
    const struct wh_templates *templates;
    struct wh_errors errors = wh_errors_in(arena);
    wh_templates_read(arena, wh_page_files, wh_page_file_count, &templates, &errors);
    assert_string_equal(wh_errors_text(arena, &errors), "");
    return WH_OK;
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(escapes),        cmocka_unit_test(loops),        cmocka_unit_test(chooses),
        cmocka_unit_test(uses_another),   cmocka_unit_test(tells_faults), cmocka_unit_test(a_ring_ends),
        cmocka_unit_test(the_pages_read),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
