/* Walks every kind: what its keys, rules and steps name exists, and what is written for usual can be read. */
#include "base/text.h"
#include "check.h"
#include "kind/kind.h"

#include <stdbool.h>
#include <string.h>

/* Says which kind is wrong, and with what, before the test fails. */
#define expect(condition, kind, ...)                                                                                   \
    do {                                                                                                               \
        if (!(condition)) {                                                                                            \
            print_error("%s: %s\n", (kind)->name, wh_arena_print(arena, __VA_ARGS__));                                 \
            _fail(__FILE__, __LINE__);                                                                                 \
        }                                                                                                              \
    } while (0)

enum { FILLED = 32 };

/* The names that a kind's fill sets for an example of its designation. */
struct filled {
    struct wh_arena *arena;
    const char *names[FILLED];
    size_t count, complaints;
};

static const char *example(void *context, const char *key)
{
    static const char *const written[][2] = {{"designation", "6205/C3"}, {"set", "6 x M8x25 8.8"}, {"state", "oiled"}};
    (void)context;
    for (size_t i = 0; i < sizeof written / sizeof *written; i++)
        if (strcmp(written[i][0], key) == 0) return written[i][1];
    return NULL;
}

static void note_set(void *context, const char *name, const char *range, struct wh_value value, const char *source)
{
    struct filled *filled = context;
    struct wh_form form;
    assert_true(wh_form_read(range, &form));
    assert_non_null(source);
    assert_true(isfinite(value.best));
    assert_true(filled->count < FILLED);
    filled->names[filled->count++] = name;
}

static enum wh_status note_complaint(void *context, const char *key, const char *right, const char *says)
{
    (void)key, (void)right, (void)says;
    ((struct filled *)context)->complaints++;
    return WH_ERR_INPUT;
}

static void fill(const struct wh_kind *kind, struct filled *to)
{
    struct wh_filling filling = {example, note_set, note_complaint, to, to->arena};
    if (kind->fill) kind->fill(&filling);
    assert_int_equal(to->complaints, 0);
}

static bool among(const char *const names[], size_t n, const char *name)
{
    for (size_t i = 0; i < n; i++)
        if (strcmp(names[i], name) == 0) return true;
    return false;
}

static bool is_value(const struct wh_key *key)
{
    return strcmp(key->form, "text") != 0 && strcmp(key->form, "thing") != 0 && !wh_starts(key->form, "words ");
}

static const char *result_name(struct wh_arena *arena, const struct wh_kind_rule *bound, const struct wh_rule *rule,
                               size_t o)
{
    if (!bound->as) return rule->out[o].name;
    return o == 0 ? bound->as : wh_arena_print(arena, "%s-%s", bound->as, rule->out[o].name);
}

/* The names of all results of a kind's rules. */
static struct wh_words results_of(struct wh_arena *arena, const struct wh_kind *kind)
{
    const char **at = WH_NEW(arena, WH_KIND_RULES * WH_RULE_OUT, const char *);
    size_t count = 0;
    for (size_t r = 0; r < wh_kind_rules(kind); r++) {
        const struct wh_rule *rule = wh_kind_rule(&kind->rules[r]);
        expect(rule, kind, "there is no rule %s", kind->rules[r].rule);
        for (size_t o = 0; o < wh_rule_results(rule); o++) at[count++] = result_name(arena, &kind->rules[r], rule, o);
    }
    return (struct wh_words){at, count};
}

/* Can a thing of this kind have a value of that name: a key, the nominal of a size, filled in, or worked out? */
static bool has_value(struct wh_arena *arena, const struct wh_kind *kind, const char *name)
{
    struct filled filled = {.arena = arena};
    struct wh_words results = results_of(arena, kind);
    fill(kind, &filled);
    if (among(filled.names, filled.count, name) || among(results.at, results.count, name)) return true;
    for (size_t k = 0; k < wh_kind_keys(kind); k++) {
        const struct wh_key *key = &kind->keys[k];
        const char *nominal = wh_arena_print(arena, "%s-nominal", key->name);
        if (is_value(key) && strcmp(key->name, name) == 0) return true;
        if (strcmp(key->form, "size") == 0 && strcmp(nominal, name) == 0) return true;
    }
    return false;
}

static bool any_has_value(struct wh_arena *arena, const char *name)
{
    for (size_t i = 0; i < wh_kind_count; i++)
        if (has_value(arena, wh_kinds[i], name)) return true;
    return false;
}

/* "seat.diameter": the role is a key of the kind that names a thing, and some kind has such a value. */
static bool can_be_found(struct wh_arena *arena, const struct wh_kind *kind, const char *name)
{
    const char *dot = strchr(name, '.');
    if (!dot) return has_value(arena, kind, name);
    const char *role = wh_arena_slice(arena, name, (size_t)(dot - name));
    if (strcmp(role, "machine") == 0) return has_value(arena, wh_kind_find("machine"), dot + 1);
    const struct wh_key *key = wh_kind_key(kind, role);
    return key && strcmp(key->form, "thing") == 0 && any_has_value(arena, dot + 1);
}

ARENA_TEST(kinds_have_names_of_their_own)
{
    for (size_t i = 0; i < wh_kind_count; i++) {
        const struct wh_kind *kind = wh_kinds[i];
        expect(kind->title && *kind->title, kind, "has no title");
        expect(wh_kind_find(kind->name) == kind, kind, "the name is doubled");
        for (size_t k = 0; k < wh_kind_keys(kind); k++) {
            const struct wh_key *key = &kind->keys[k];
            expect(wh_kind_key(kind, key->name) == key, kind, "the key %s is doubled", key->name);
            expect(key->title && *key->title, kind, "the key %s has no title", key->name);
            expect(!strpbrk(key->name, " ._="), kind, "the key \"%s\" is not joined by hyphens", key->name);
        }
    }
    return WH_OK;
}

ARENA_TEST(forms_can_be_read_and_usual_values_in_them)
{
    for (size_t i = 0; i < wh_kind_count; i++)
        for (size_t k = 0; k < wh_kind_keys(wh_kinds[i]); k++) {
            const struct wh_key *key = &wh_kinds[i]->keys[k];
            struct wh_form form;
            struct wh_value value;
            struct wh_errors errors = wh_errors_in(arena);
            expect(!(key->needed && key->usual), wh_kinds[i], "%s is needed and has a usual value", key->name);
            expect(key->many == 0 || is_value(key), wh_kinds[i], "%s is a list of no values", key->name);
            if (wh_starts(key->form, "words ")) {
                struct wh_words words = wh_split(arena, key->form + 6, '|');
                expect(words.count >= 2, wh_kinds[i], "%s leaves no choice", key->name);
                expect(!key->usual || among(words.at, words.count, key->usual), wh_kinds[i], "%s: %s", key->name,
                       key->usual);
            } else if (is_value(key) && strcmp(key->form, "size") != 0) {
                expect(wh_form_read(key->form, &form), wh_kinds[i], "%s: \"%s\" is no form", key->name, key->form);
                expect(!key->usual ||
                           wh_form_value(&form, key->name, key->usual, (struct wh_place){0}, &value, &errors) == WH_OK,
                       wh_kinds[i], "usual %s: %s", key->name, wh_errors_text(arena, &errors));
            } else {
                expect(!key->usual || strcmp(key->form, "text") == 0, wh_kinds[i], "%s cannot have a usual value",
                       key->name);
            }
        }
    return WH_OK;
}

ARENA_TEST(every_result_has_one_maker)
{
    for (size_t i = 0; i < wh_kind_count; i++) {
        struct wh_words results = results_of(arena, wh_kinds[i]);
        for (size_t r = 0; r < results.count; r++)
            expect(!among(results.at, r, results.at[r]), wh_kinds[i], "%s is made by two rules", results.at[r]);
    }
    return WH_OK;
}

/* "with" gives inputs of the rule other names, each once, and each a name that can be found. */
static void check_with(struct wh_arena *arena, const struct wh_kind *kind, const struct wh_kind_rule *bound)
{
    const struct wh_rule *rule = wh_kind_rule(bound);
    struct wh_words pairs = bound->with ? wh_split(arena, bound->with, ',') : (struct wh_words){0};
    for (size_t p = 0; p < pairs.count; p++) {
        const char *equals = strchr(pairs.at[p], '=');
        bool known = false;
        expect(equals, kind, "%s: \"%s\" is no pair", rule->name, pairs.at[p]);
        const char *slot = wh_arena_slice(arena, pairs.at[p], (size_t)(equals - pairs.at[p]));
        for (size_t s = 0; s < wh_rule_inputs(rule); s++) known |= strcmp(rule->in[s].name, slot) == 0;
        expect(known, kind, "%s has no input %s", rule->name, slot);
        for (size_t q = 0; q < p; q++)
            expect(!wh_starts(pairs.at[q], wh_arena_print(arena, "%s=", slot)), kind, "%s: %s twice", rule->name, slot);
    }
}

static const char *bound_name(struct wh_arena *arena, const struct wh_kind_rule *bound, const char *slot)
{
    struct wh_words pairs = bound->with ? wh_split(arena, bound->with, ',') : (struct wh_words){0};
    const char *lead = wh_arena_print(arena, "%s=", slot);
    for (size_t p = 0; p < pairs.count; p++)
        if (wh_starts(pairs.at[p], lead)) return pairs.at[p] + strlen(lead);
    return slot;
}

ARENA_TEST(every_input_can_be_found)
{
    for (size_t i = 0; i < wh_kind_count; i++)
        for (size_t r = 0; r < wh_kind_rules(wh_kinds[i]); r++) {
            const struct wh_kind_rule *bound = &wh_kinds[i]->rules[r];
            const struct wh_rule *rule = wh_kind_rule(bound);
            expect(rule, wh_kinds[i], "there is no rule %s", bound->rule);
            check_with(arena, wh_kinds[i], bound);
            for (size_t s = 0; s < wh_rule_inputs(rule); s++) {
                const char *name = bound_name(arena, bound, rule->in[s].name);
                expect(rule->in[s].usual || can_be_found(arena, wh_kinds[i], name), wh_kinds[i],
                       "%s needs %s, which nothing gives", rule->name, name);
            }
        }
    return WH_OK;
}

/* Every {word} of a template: a key, a role, or what every thing has. */
static void check_words(struct wh_arena *arena, const struct wh_kind *kind, const char *template)
{
    for (const char *open = strchr(template, '{'); open; open = strchr(open + 1, '{')) {
        const char *close = strchr(open, '}');
        expect(close, kind, "\"%s\" has an open brace", template);
        const char *word = wh_arena_slice(arena, open + 1, (size_t)(close - open - 1));
        expect(strcmp(word, "title") == 0 || strcmp(word, "round") == 0 || wh_kind_key(kind, word), kind,
               "{%s} is no key: \"%s\"", word, template);
    }
}

static void check_condition(struct wh_arena *arena, const struct wh_kind *kind, const struct wh_kind_step *step)
{
    bool with_key = step->only == WH_ONLY_WITH_KEY || step->only == WH_ONLY_WITHOUT_KEY;
    bool by_heat = step->only == WH_ONLY_WARM || step->only == WH_ONLY_COLD;
    const char *equals = step->key ? strchr(step->key, '=') : NULL;
    expect(with_key == (step->key != NULL), kind, "a key without its condition, or the other way round: %s",
           step->words);
    expect(!by_heat || wh_kind_key(kind, "fitted"), kind, "fitted warm or cold, but has no key \"fitted\"");
    if (!step->key) return;
    const char *name = equals ? wh_arena_slice(arena, step->key, (size_t)(equals - step->key)) : step->key;
    const struct wh_key *key = wh_kind_key(kind, name);
    expect(key, kind, "a step hangs on %s, which is no key", name);
    if (!equals) return;
    expect(wh_starts(key->form, "words "), kind, "%s has no choice of words", name);
    struct wh_words words = wh_split(arena, key->form + 6, '|');
    expect(among(words.at, words.count, equals + 1), kind, "%s is never \"%s\"", name, equals + 1);
}

static void check_step(struct wh_arena *arena, const struct wh_kind *kind, const struct wh_kind_step *step)
{
    check_words(arena, kind, step->words);
    check_condition(arena, kind, step);
    for (size_t f = 0; f < WH_STEP_FIGURES && step->figures[f]; f++) {
        const char *figure = step->figures[f];
        figure += wh_starts(figure, "least ") ? 6 : wh_starts(figure, "most ") ? 5 : 0;
        expect(has_value(arena, kind, figure), kind, "a step names the figure %s, which nothing gives", figure);
    }
    for (size_t c = 0; c < WH_STEP_CAUTIONS && step->cautions[c]; c++)
        expect(wh_caution_find(step->cautions[c]), kind, "there is no caution %s", step->cautions[c]);
    expect((step->alone > 0) == (step->wait != NULL), kind,
           "passes by itself without a reason, or the other way round");
    expect(!(step->within > 0) || step->alone > 0, kind, "nothing passes, yet something must follow within minutes");
}

static void check_window(struct wh_arena *arena, const struct wh_kind *kind, const struct wh_kind_window *window)
{
    const char *const names[] = {window->figure, window->least, window->most};
    for (size_t i = 0; i < 3; i++) {
        struct wh_value value;
        const char *name = names[i];
        if (!name || (i > 0 && wh_value_read(name, NULL, &value, NULL) == WH_READ_WELL)) continue;
        name += wh_starts(name, "least ") ? 6 : wh_starts(name, "most ") ? 5 : 0;
        expect(has_value(arena, kind, name), kind, "a window names the figure %s, which nothing gives", name);
    }
    expect(window->least || window->most, kind, "the window of %s is open on both sides", window->figure);
}

ARENA_TEST(windows_name_what_exists)
{
    for (size_t i = 0; i < wh_kind_count; i++)
        for (size_t w = 0; w < WH_KIND_WINDOWS && wh_kinds[i]->windows[w].figure; w++)
            check_window(arena, wh_kinds[i], &wh_kinds[i]->windows[w]);
    return WH_OK;
}

ARENA_TEST(steps_name_what_exists)
{
    for (size_t i = 0; i < wh_kind_count; i++) {
        const struct wh_kind *kind = wh_kinds[i];
        if (kind->detail) check_words(arena, kind, kind->detail);
        for (size_t s = 0; s < wh_kind_steps(kind); s++) check_step(arena, kind, &kind->steps[s]);
    }
    return WH_OK;
}

/* What comes off says how it comes off and how it goes on; a part that is renewed whole says what to order. */
ARENA_TEST(parts_come_off_and_go_on)
{
    for (size_t i = 0; i < wh_kind_count; i++) {
        bool strip = false, rebuild = false;
        for (size_t s = 0; s < wh_kind_steps(wh_kinds[i]); s++) {
            strip |= wh_kinds[i]->steps[s].when == WH_WHEN_STRIP;
            rebuild |= wh_kinds[i]->steps[s].when == WH_WHEN_REBUILD;
        }
        expect(!wh_kinds[i]->part || (strip && rebuild), wh_kinds[i], "is a part without steps for both ways");
    }
    return WH_OK;
}

ARENA_TEST(cautions_have_a_signal_word_and_words)
{
    static const char *const signals[] = {"danger", "warning", "caution", "notice"};
    for (size_t i = 0; i < wh_kind_count; i++)
        for (size_t s = 0; s < wh_kind_steps(wh_kinds[i]); s++)
            for (size_t c = 0; c < WH_STEP_CAUTIONS && wh_kinds[i]->steps[s].cautions[c]; c++) {
                const struct wh_caution *caution = wh_caution_find(wh_kinds[i]->steps[s].cautions[c]);
                expect(caution && among(signals, 4, caution->signal) && *caution->text, wh_kinds[i], "%s",
                       wh_kinds[i]->steps[s].cautions[c]);
            }
    assert_null(wh_caution_find("no such caution"));
    return WH_OK;
}

/* The lists are fixed in size and end at the first without a name: the last place stays free, or one was lost. */
ARENA_TEST(no_list_is_cut_off)
{
    for (size_t i = 0; i < wh_kind_count; i++) {
        expect(wh_kind_keys(wh_kinds[i]) < WH_KIND_KEYS, wh_kinds[i], "has no room left for keys");
        expect(wh_kind_rules(wh_kinds[i]) < WH_KIND_RULES, wh_kinds[i], "has no room left for rules");
        expect(wh_kind_steps(wh_kinds[i]) < WH_KIND_STEPS, wh_kinds[i], "has no room left for steps");
    }
    return WH_OK;
}

/* The centre line is drawn once for the whole section: a shaft's two halves have no edge on it, on either side. */
ARENA_TEST(solid_rings_have_no_edge_on_the_axis)
{
    const struct wh_ring halves[] = {{0, 10, 0, 15, 0, 15}, {0, 10, 0, -15, 0, -12}};
    const struct wh_ring sleeve = {0, 10, -15, -20, -15, -20};
    struct wh_scene *scene = wh_scene_new(arena, "halves");
    for (size_t i = 0; i < 2; i++) {
        wh_outline_plain(scene, &halves[i], WH_PEN_WIDE, WH_FILL_NONE);
        assert_int_equal(scene->strokes.count, 2 * (i + 1));
        assert_int_equal(scene->strokes.at[2 * i].pen, WH_PEN_NONE);
        assert_int_equal(scene->strokes.at[2 * i + 1].is, WH_STROKE_LINE);
    }
    wh_outline_plain(scene, &sleeve, WH_PEN_WIDE, WH_FILL_HATCH_A);
    assert_int_equal(scene->strokes.at[4].is, WH_STROKE_AREA);
    assert_int_equal(scene->strokes.at[4].pen, WH_PEN_WIDE);
    return WH_OK;
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(kinds_have_names_of_their_own),
        cmocka_unit_test(forms_can_be_read_and_usual_values_in_them),
        cmocka_unit_test(every_result_has_one_maker),
        cmocka_unit_test(every_input_can_be_found),
        cmocka_unit_test(windows_name_what_exists),
        cmocka_unit_test(steps_name_what_exists),
        cmocka_unit_test(parts_come_off_and_go_on),
        cmocka_unit_test(cautions_have_a_signal_word_and_words),
        cmocka_unit_test(no_list_is_cut_off),
        cmocka_unit_test(solid_rings_have_no_edge_on_the_axis),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
