/* Papers: pictures are well-formed and lined to the edge, documents are printed whole or not at all. */
#include "paper/paper.h"

#include "base/fault.h"
#include "base/file.h"
#include "check.h"
#include "paper/ink.h"
#include "paper/lining.h"
#include "paper_sample.h"

#include <ctype.h>
#include <dirent.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

enum { DEEP = 16, LARGE = 4 << 20 };

static char folder[] = "paper-test-XXXXXX";

static int enter_folder(void **state)
{
    (void)state;
    return mkdtemp(folder) && chdir(folder) == 0 ? 0 : -1;
}

static size_t entries(void)
{
    size_t n = 0;
    DIR *dir = opendir(".");

    assert_non_null(dir);
    for (struct dirent *entry; (entry = readdir(dir));) n += entry->d_name[0] != '.' || strlen(entry->d_name) > 2;
    closedir(dir);
    return n;
}

static int leave_folder(void **state)
{
    (void)state;
    remove("a.pdf");
    remove("b.pdf");
    remove("a.png");
    return chdir("..") == 0 && rmdir(folder) == 0 ? 0 : -1;
}

/* Reads `name="value"` pairs up to the end of a tag; NULL: not well-formed. */
static const char *attributes(const char *at)
{
    while (*at && *at != '>' && *at != '/') {
        if (isspace((unsigned char)*at)) {
            at++;
            continue;
        }
        at += strcspn(at, "=<>\"");
        if (at[0] != '=' || at[1] != '"') return NULL;
        at += 2;
        at += strcspn(at, "\"<");
        if (*at++ != '"') return NULL;
    }
    return *at ? at : NULL;
}

static bool entity(const char *at)
{
    static const char *const KNOWN[] = {"&amp;", "&lt;", "&gt;", "&quot;"};

    for (size_t i = 0; i < sizeof KNOWN / sizeof *KNOWN; i++) {
        if (strncmp(at, KNOWN[i], strlen(KNOWN[i])) == 0) return true;
    }
    return false;
}

/* Every tag closed in its turn, every value in quotes, every ampersand an entity. */
static bool well_formed(const char *text)
{
    const char *open[DEEP];
    size_t deep = 0, count = 0;

    for (const char *at = text; *at; at++) {
        if (*at == '&' && !entity(at)) return false;
        if (*at != '<') continue;
        bool closing = at[1] == '/';
        const char *name = at + 1 + closing, *rest;
        size_t length = strspn(name, "abcdefghijklmnopqrstuvwxyz");

        if (length == 0 || !(rest = attributes(name + length))) return false;
        if (closing) {
            if (deep == 0 || strncmp(open[--deep], name, length) != 0) return false;
        } else if (*rest != '/') {
            if (deep == DEEP) return false;
            open[deep++] = name;
        }
        at = rest + (*rest == '/');
        count++;
    }
    return deep == 0 && count > 0;
}

ARENA_TEST(the_check_itself_can_fail)
{
    assert_true(well_formed("<a x=\"1\"><b/>&amp;</a>"));
    assert_false(well_formed("<a><b></a></b>"));
    assert_false(well_formed("<a>&</a>"));
    assert_false(well_formed("<a x=1></a>"));
    assert_false(well_formed("<a>"));
    assert_false(well_formed("words"));
    return WH_OK;
}

ARENA_TEST(a_scene_becomes_well_formed_svg)
{
    struct wh_scene *scene = paper_sample_section(arena);
    struct wh_text svg = {.arena = arena};

    wh_scene_label(scene, 0, 0, 3.5, WH_ANCHOR_MIDDLE, "</text><script>\"&")->part = "a\" onload=\"b";
    assert_int_equal(wh_paper_svg(arena, scene, &svg), WH_OK);
    assert_true(well_formed(wh_text_of(&svg)));
    assert_non_null(strstr(svg.at, "<title>Section of the spindle, &quot;neck&quot; &amp; foot</title>"));
    assert_non_null(strstr(svg.at, "data-part=\"neck-bearing\""));
    assert_null(strstr(svg.at, "<script"));
    assert_null(strstr(svg.at, "onload=\""));
    assert_null(strstr(svg.at, "nan"));
    assert_null(strstr(svg.at, "inf"));
    return WH_OK;
}

ARENA_TEST(a_scene_without_strokes_is_an_empty_picture)
{
    struct wh_text svg = {.arena = arena};

    assert_int_equal(wh_paper_svg(arena, wh_scene_new(arena, "nothing"), &svg), WH_OK);
    assert_true(well_formed(wh_text_of(&svg)));
    assert_null(strstr(svg.at, "nan"));
    assert_null(strstr(svg.at, "inf"));
    return WH_OK;
}

ARENA_TEST(a_scene_knows_its_bounds_and_keeps_its_own_points)
{
    struct wh_scene *scene = wh_scene_new(arena, "bounds");
    struct wh_point corners[] = {{1, 2}, {5, 3}, {4, 9}};
    struct wh_stroke *area = wh_scene_area(scene, WH_PEN_WIDE, WH_FILL_SOLID, corners, 3);

    wh_scene_circle(scene, WH_PEN_NARROW, WH_FILL_NONE, 0, 0, 2);
    corners[0].x = 100;
    check_close(area->at[0].x, 1, 0, 0);
    check_close(scene->left, -2, 0, 0);
    check_close(scene->bottom, -2, 0, 0);
    check_close(scene->right, 5, 0, 0);
    check_close(scene->top, 9, 0, 0);
    return WH_OK;
}

static double lined(struct wh_arena *arena, const struct wh_stroke *stroke)
{
    struct wh_paper_fit fit = {.scale = 1};
    size_t n;
    const struct wh_point *outline = wh_paper_outline(arena, &fit, stroke, &n);
    struct wh_paper_segments lines = wh_paper_lines(arena, stroke, outline, n);
    double length = 0;

    for (size_t i = 0; i < lines.count; i++) {
        length += hypot(lines.at[i].to.x - lines.at[i].from.x, lines.at[i].to.y - lines.at[i].from.y);
    }
    return length * wh_paper_lining(stroke->fill)[0].spacing;
}

/* Lines a spacing apart, as long together as the area divided by the spacing: none outside, none left out. */
ARENA_TEST(section_lining_fills_its_area_and_no_more)
{
    struct wh_scene *scene = wh_scene_new(arena, "lining");
    const struct wh_point hook[] = {{0, 0}, {90, 0}, {90, 80}, {60, 80}, {60, 30}, {30, 30}, {30, 80}, {0, 80}};

    check_close(lined(arena, wh_scene_box(scene, WH_PEN_WIDE, WH_FILL_HATCH_A, 3, 5, 123, 65)), 7200, 0, 0.002);
    check_close(lined(arena, wh_scene_area(scene, WH_PEN_WIDE, WH_FILL_HATCH_B, hook, 8)), 5700, 0, 0.005);
    check_close(lined(arena, wh_scene_circle(scene, WH_PEN_WIDE, WH_FILL_HATCH_WIDE, 7, 9, 50)), 7854, 0, 0.005);
    check_close(lined(arena, wh_scene_box(scene, WH_PEN_WIDE, WH_FILL_CROSS, 0, 0, 100, 50)), 10000, 0, 0.002);
    check_close(lined(arena, wh_scene_box(scene, WH_PEN_WIDE, WH_FILL_SOLID, 0, 0, 100, 50)), 0, 0, 0);
    return WH_OK;
}

ARENA_TEST(a_scene_is_scaled_until_its_labels_fit_too)
{
    struct wh_scene *scene = wh_scene_new(arena, "fit");
    struct wh_paper_fit fit;

    wh_scene_box(scene, WH_PEN_WIDE, WH_FILL_NONE, 0, 0, 500, 300);
    fit = wh_paper_fit(scene, 180, 240, 1);
    check_close(fit.width, 180, 1.6, 0);
    check_close(fit.scale, 178.5 / 500, 1e-9, 0);
    wh_scene_label(scene, 500, 150, 3.5, WH_ANCHOR_LEFT, "a leader with words to it");
    fit = wh_paper_fit(scene, 180, 240, 1);
    assert_true(fit.width <= 180 && fit.height <= 240);
    assert_true(fit.scale > 0.15 && fit.scale < 0.25);
    check_close(wh_paper_fit(scene, 5000, 5000, 1).scale, 1, 0, 0);
    return WH_OK;
}

static char *printed(struct wh_arena *arena, const char *paper, const char *path, size_t *ret_size)
{
    struct wh_errors errors = wh_errors_in(arena);
    char *bytes = NULL;

    assert_int_equal(wh_paper_pdf(arena, paper_sample(arena, paper), path, &errors), WH_OK);
    assert_int_equal(wh_file_read(arena, path, LARGE / 4, &bytes, ret_size, &errors), WH_OK);
    return bytes;
}

ARENA_TEST(equal_documents_are_equal_bytes)
{
    size_t size, again;
    const char *first = printed(arena, "A4", "a.pdf", &size), *second = printed(arena, "A4", "b.pdf", &again);

    assert_int_equal(memcmp(first, "%PDF-", 5), 0);
    assert_true(size > 20000);
    assert_int_equal(size, again);
    assert_memory_equal(first, second, size);
    return WH_OK;
}

ARENA_TEST(both_formats_are_printed)
{
    size_t size;

    assert_non_null(strstr(printed(arena, "A4", "a.pdf", &size), "%PDF-"));
    printed(arena, "Letter", "b.pdf", &size);
    assert_true(size > 20000);
    return WH_OK;
}

/* A JPEG goes into the paper as it came: nothing of a photo is lost by printing it. */
ARENA_TEST(photos_are_printed_as_they_came)
{
    size_t size, found = 0;
    const char *pdf = printed(arena, "A4", "a.pdf", &size);

    for (size_t i = 0; i + sample_jpeg_size <= size; i++)
        if (memcmp(pdf + i, sample_jpeg, sample_jpeg_size) == 0) found++;
    assert_true(found >= 1);
    return WH_OK;
}

/* The sample with one more block; what it has to say. */
static const char *complaint(struct wh_arena *arena, const char *key, const char *value, const char *key2,
                             const char *value2)
{
    struct wh_tree *document = paper_sample(arena, "A4");
    struct wh_tree *blocks = wh_tree_get(wh_tree_get(document, "sheets")->last, "blocks");
    struct wh_tree *block = wh_tree_add_new(arena, blocks, NULL, WH_TREE_MAP);
    struct wh_errors errors = wh_errors_in(arena);

    wh_tree_add_text(arena, block, key, value);
    wh_tree_add_text(arena, block, key2, value2);
    assert_int_equal(wh_paper_pdf(arena, document, "none.pdf", &errors), WH_ERR_INPUT);
    assert_int_equal(access("none.pdf", F_OK), -1);
    return wh_errors_text(arena, &errors);
}

ARENA_TEST(an_unknown_block_or_signal_is_named)
{
    const char *says = complaint(arena, "is", "tabel", "text", "");

    assert_non_null(strstr(says, "\"tabel\""));
    assert_non_null(strstr(says, "table"));
    assert_non_null(strstr(complaint(arena, "is", "caution", "signal", "beware"), "\"beware\""));
    return WH_OK;
}

ARENA_TEST(an_unknown_sign_or_a_drawing_of_nothing_is_named)
{
    assert_non_null(strstr(complaint(arena, "is", "caution", "sign", "hott"), "\"hott\""));
    assert_non_null(strstr(complaint(arena, "is", "drawing", "caption", "x"), "scene"));
    return WH_OK;
}

static enum wh_status with_head(struct wh_arena *arena, const char *paper, const char *date)
{
    struct wh_tree *document = wh_tree_new(arena, WH_TREE_MAP);
    struct wh_errors errors = wh_errors_in(arena);
    enum wh_status status;

    wh_tree_add_text(arena, document, "paper", paper);
    wh_tree_add_text(arena, document, "date", date);
    status = wh_paper_pdf(arena, document, "none.pdf", &errors);
    assert_int_equal(status, wh_errors_status(&errors));
    assert_int_equal(access("none.pdf", F_OK), -1);
    return status;
}

ARENA_TEST(a_document_needs_a_format_a_date_and_sheets)
{
    assert_int_equal(with_head(arena, "A5", "2026-11-25"), WH_ERR_INPUT);
    assert_int_equal(with_head(arena, "A4", "25 Nov 2026"), WH_ERR_INPUT);
    assert_int_equal(with_head(arena, "A4", ""), WH_ERR_INPUT);
    assert_int_equal(with_head(arena, "A4", "2026-11-25"), WH_ERR_INPUT);
    return WH_OK;
}

ARENA_TEST(a_path_that_cannot_be_written_leaves_nothing)
{
    struct wh_errors errors = wh_errors_in(arena);
    size_t before, size;

    printed(arena, "A4", "a.pdf", &size);
    before = entries();
    assert_int_equal(wh_paper_pdf(arena, paper_sample(arena, "A4"), "a.pdf/b.pdf", &errors), WH_ERR_FILE);
    assert_int_equal(errors.count, 1);
    assert_int_equal(entries(), before);
    return WH_OK;
}

ARENA_TEST(a_picture_is_a_png_or_refused)
{
    struct wh_errors errors = wh_errors_in(arena);
    struct wh_scene *scene = paper_sample_section(arena);
    char *bytes = NULL;
    size_t size;

    assert_int_equal(wh_paper_png(arena, scene, 3, "a.png", &errors), WH_OK);
    assert_int_equal(wh_file_read(arena, "a.png", LARGE / 4, &bytes, &size, &errors), WH_OK);
    assert_memory_equal(bytes, "\x89PNG\r\n", 6);
    assert_int_equal(wh_paper_png(arena, scene, 1e9, "b.png", &errors), WH_ERR_INPUT);
    assert_int_equal(wh_paper_png(arena, scene, -1, "b.png", &errors), WH_ERR_INPUT);
    assert_int_equal(wh_paper_png(arena, scene, NAN, "b.png", &errors), WH_ERR_INPUT);
    return WH_OK;
}

static enum wh_status print_once(struct wh_arena *arena, void *context)
{
    struct wh_errors errors = wh_errors_in(arena);

    (void)context;
    return wh_paper_pdf(arena, paper_sample(arena, "Letter"), "a.pdf", &errors);
}

/* Fails the k-th allocation, then the k-th file call, for every k until all is well. */
static void every_failure_is_survived(void **state)
{
    static const enum wh_status WANT[WH_FAULT_KINDS] = {
        [WH_FAULT_MEMORY] = WH_ERR_NOMEM, [WH_FAULT_FILE] = WH_ERR_FILE};

    (void)state;
    for (int kind = 0; kind < WH_FAULT_KINDS; kind++) {
        enum wh_status status = WANT[kind];
        unsigned long k = 1;

        for (; status != WH_OK; k++) {
            wh_fault_arm((enum wh_fault)kind, k);
            status = wh_arena_run((size_t)16 << 20, print_once, NULL);
            assert_true(status == WH_OK || status == WANT[kind]);
        }
        wh_fault_arm((enum wh_fault)kind, 0);
        assert_true(k > 2);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_check_itself_can_fail),
        cmocka_unit_test(a_scene_becomes_well_formed_svg),
        cmocka_unit_test(a_scene_without_strokes_is_an_empty_picture),
        cmocka_unit_test(a_scene_knows_its_bounds_and_keeps_its_own_points),
        cmocka_unit_test(section_lining_fills_its_area_and_no_more),
        cmocka_unit_test(a_scene_is_scaled_until_its_labels_fit_too),
        cmocka_unit_test(equal_documents_are_equal_bytes),
        cmocka_unit_test(both_formats_are_printed),
        cmocka_unit_test(photos_are_printed_as_they_came),
        cmocka_unit_test(an_unknown_block_or_signal_is_named),
        cmocka_unit_test(an_unknown_sign_or_a_drawing_of_nothing_is_named),
        cmocka_unit_test(a_document_needs_a_format_a_date_and_sheets),
        cmocka_unit_test(a_path_that_cannot_be_written_leaves_nothing),
        cmocka_unit_test(a_picture_is_a_png_or_refused),
        cmocka_unit_test(every_failure_is_survived),
    };

    return cmocka_run_group_tests(tests, enter_folder, leave_folder);
}
