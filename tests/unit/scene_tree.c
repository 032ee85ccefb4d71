/* Drawings kept as trees. */
#include "base/scene_tree.h"

#include "check.h"
#include "paper/paper.h"
#include "paper_sample.h"

#include <string.h>

/* A drawing kept as a tree and read again is the same picture; a broken tree is none. */
ARENA_TEST(a_scene_is_kept_as_a_tree)
{
    struct wh_text before = {.arena = arena}, after = {.arena = arena};
    struct wh_errors errors = wh_errors_in(arena);
    struct wh_tree *tree = wh_scene_to_tree(arena, paper_sample_section(arena)), *read;
    const char *line = wh_tree_line(arena, tree);

    assert_int_equal(wh_tree_read(arena, "scene", line, strlen(line), &read, &errors), WH_OK);
    assert_int_equal(wh_paper_svg(arena, wh_scene_of_tree(arena, tree), &before), WH_OK);
    assert_int_equal(wh_paper_svg(arena, wh_scene_of_tree(arena, read), &after), WH_OK);
    assert_string_equal(wh_text_of(&before), wh_text_of(&after));
    assert_string_equal(line, wh_tree_line(arena, wh_scene_to_tree(arena, wh_scene_of_tree(arena, read))));
    return WH_OK;
}

ARENA_TEST(a_broken_tree_is_no_scene)
{
    static const char *const broken[] = {
        "{}",
        "{\"title\":\"x\",\"strokes\":[]}",
        "{\"frame\":\"0 0;1\",\"strokes\":[]}",
        "{\"frame\":\"0 0;1 1\",\"strokes\":[{\"is\":\"star\",\"at\":\"0 0\"}]}",
        "{\"frame\":\"0 0;1 1\",\"strokes\":[{\"is\":\"circle\",\"at\":\"0 0;1 1\"}]}",
        "{\"frame\":\"0 0;1 1\",\"strokes\":[{\"is\":\"line\",\"at\":\"0 inf\"}]}",
        "{\"frame\":\"0 0;1 1\",\"strokes\":[{\"is\":\"label\",\"at\":\"0 0\",\"text\":\"x\"}]}",
    };
    for (size_t i = 0; i < sizeof broken / sizeof *broken; i++) {
        struct wh_errors errors = wh_errors_in(arena);
        struct wh_tree *tree;

        assert_int_equal(wh_tree_read(arena, "scene", broken[i], strlen(broken[i]), &tree, &errors), WH_OK);
        assert_null(wh_scene_of_tree(arena, tree));
    }
    return WH_OK;
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(a_scene_is_kept_as_a_tree),
                                       cmocka_unit_test(a_broken_tree_is_no_scene)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
