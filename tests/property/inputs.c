/* Every input of every rule, wrong in each way that there is: below its least, above its most, no number, a wrong unit,
 * a designation that nobody knows. Each is refused alone, by name, with the text and what would be right, in the same
 * words by both ways to a rule: the check itself (trade/form) and the rule asked for by name (sheet/ask). */
#include "base/text.h"
#include "sheet/ask.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

struct walk {
    struct wh_arena *arena;
    const struct wh_rule *rule;
    struct wh_given given[WH_RULE_IN];
    size_t rules, refused, wrong;
};

/* The form of a slot; one of any unit takes mm, as the first input is written in. */
static bool read_form(const struct wh_slot *slot, struct wh_form *ret)
{
    if (!wh_form_read(slot->range, ret)) return false;
    wh_form_take(ret, NULL, "1 mm");
    return true;
}

static const char *written(struct wh_arena *arena, const struct wh_form *form, double si)
{
    return wh_arena_print(arena, "%.15g %.*s", (si - form->unit.offset) / form->unit.factor, (int)form->unit.length,
                          form->unit.name);
}

/* A text that the slot takes. */
static const char *good_text(struct wh_arena *arena, const struct wh_slot *slot)
{
    struct wh_form form;
    if (slot->usual && !strstr(slot->range, "any")) return slot->usual;
    if (!read_form(slot, &form)) return "";
    if (form.vocabulary) return form.vocabulary->example;
    double low = isfinite(form.least)  ? form.least
                 : isfinite(form.most) ? form.most - form.unit.factor
                                       : form.unit.offset;
    double high = isfinite(form.most) ? form.most : low + form.unit.factor;
    return written(arena, &form, (low + high) / 2);
}

static void complain(struct walk *walk, const struct wh_slot *slot, const char *text, const char *says)
{
    if (!says) return;
    walk->wrong++;
    printf("not ok - %s, %s=\"%s\": %s\n", walk->rule->name, slot->name, text, says);
}

static const char *direct(struct walk *walk, const struct wh_slot *slot, const char *text)
{
    struct wh_errors errors = wh_errors_in(walk->arena);
    struct wh_form form;
    struct wh_value value;
    wh_form_read(slot->range, &form);
    wh_form_take(&form, NULL, slot == walk->rule->in ? text : "1 mm"); /* the first has the unit it is written in */
    return wh_form_value(&form, slot->name, text, (struct wh_place){0}, &value, &errors) == WH_OK ? NULL
                                                                                                  : errors.first->says;
}

/* What is wrong with the way a rule refuses one wrong input, or NULL; `range`: the range has to be told. */
static const char *fault(struct walk *walk, size_t i, const char *text, bool range)
{
    const struct wh_slot *slot = &walk->rule->in[i];
    struct wh_errors errors = wh_errors_in(walk->arena);
    struct wh_asked asked;
    struct wh_form form;
    const char *good = walk->given[i].text, *says = direct(walk, slot, text);
    read_form(slot, &form);
    walk->given[i].text = text;
    enum wh_status status = wh_ask(walk->arena, walk->rule, walk->given, wh_rule_inputs(walk->rule), &asked, &errors);
    walk->given[i].text = good;
    walk->refused++;
    if (status == WH_OK || !says) return "is taken";
    if (errors.count != 1) return "more is refused than the one input";
    if (!wh_same(errors.first->says, says)) return "the two ways say different words";
    if (!wh_starts(says, slot->name) || !strstr(says, text)) return says;
    return range && !strstr(says, wh_form_words(walk->arena, &form)) ? says : NULL;
}

static void refuse(struct walk *walk, size_t i, const char *text, bool range)
{
    complain(walk, &walk->rule->in[i], text, fault(walk, i, text, range));
}

static void walk_input(struct walk *walk, size_t i)
{
    struct wh_form form;
    if (!read_form(&walk->rule->in[i], &form))
        complain(walk, &walk->rule->in[i], walk->rule->in[i].range, "is no range");
    if (form.vocabulary) {
        refuse(walk, i, "no such thing", false);
        return;
    }
    const char *unit = wh_arena_slice(walk->arena, form.unit.name, form.unit.length);
    double span = isfinite(form.most) && isfinite(form.least) ? form.most - form.least : form.unit.factor;
    if (isfinite(form.least)) refuse(walk, i, written(walk->arena, &form, form.least - 0.001 * span), true);
    if (isfinite(form.most)) refuse(walk, i, written(walk->arena, &form, form.most + 0.001 * span), true);
    refuse(walk, i, wh_arena_print(walk->arena, "nan %s", unit), false);
    refuse(walk, i, wh_arena_print(walk->arena, "inf %s", unit), false);
    refuse(walk, i, wh_arena_print(walk->arena, "1e999 %s", unit), false);
    refuse(walk, i, wh_arena_print(walk->arena, "about 3 %s", unit), false);
    refuse(walk, i, "3 furlong", false);
    if (i == 0 && strstr(walk->rule->in[0].range, "any")) return; /* whose unit is the one that the others follow */
    struct wh_unit mass;
    bool is_mass = wh_unit_read("kg", 2, &mass) && wh_dimension_same(mass.dimension, form.unit.dimension);
    refuse(walk, i, is_mass ? "3 mm" : "3 kg", false);
}

static enum wh_status walk_rule(struct wh_arena *arena, void *context)
{
    struct walk *walk = context;
    size_t inputs = wh_rule_inputs(walk->rule);
    walk->arena = arena;
    for (size_t i = 0; i < inputs; i++)
        walk->given[i] = (struct wh_given){walk->rule->in[i].name, good_text(arena, &walk->rule->in[i]), {0}};
    for (size_t i = 0; i < inputs; i++) {
        if (direct(walk, &walk->rule->in[i], walk->given[i].text))
            complain(walk, &walk->rule->in[i], walk->given[i].text, "a text inside the range is refused");
        walk_input(walk, i);
    }
    return WH_OK;
}

int main(void)
{
    struct walk walk = {0};
    for (size_t s = 0; s < wh_subject_count; s++)
        for (size_t r = 0; r < wh_subjects[s]->rule_count; r++) {
            walk.rule = &wh_subjects[s]->rules[r];
            walk.rules++;
            if (wh_arena_run((size_t)64 << 20, walk_rule, &walk) != WH_OK) return 1;
        }
    printf("# %zu rules, %zu wrong inputs\n%s 1 - wrong inputs are refused alone and in the same words\n1..1\n",
           walk.rules, walk.refused, walk.wrong || walk.refused == 0 ? "not ok" : "ok");
    return 0;
}
