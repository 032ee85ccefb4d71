/* Designations and what no designation stands for. Every vocabulary reads back what it lists and prints, and nothing
 * else that looks like it; a rule that takes a designation gives no answer for a code that stands for none, and says
 * why wherever it has remarks; the other inputs are tried at and beyond their ends, where a rule may have no answer but
 * must not run wild. */
#include "base/text.h"
#include "trade/conformity.h"
#include "trade/form.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static size_t wrong, tried;

static void expect(bool good, const char *what, const char *word)
{
    tried++;
    if (good) return;
    wrong++;
    printf("not ok - %s: %s\n", what, word);
}

/* ---- vocabularies ---------------------------------------------------------------------------------------------- */

/* A word with one character more, less or other: what it is read as is printed and read back alike, or it is refused.
 */
static void spoil(const struct wh_vocabulary *vocabulary, const char *word, size_t n)
{
    static const char others[] = "\0 0 1 9 : @ A J Z [ a j x z { . , / - _ \xc3\x97 \x7f";
    char text[80], again[80];
    double code, same;
    for (size_t at = 0; at <= n; at++)
        for (size_t o = 0; o < sizeof others; o++)
            for (int way = 0; way < 3; way++) {
                size_t length = way == 0 ? n : way == 1 ? n + 1 : n - 1;
                if (way == 2 && (at == n || o > 0)) continue;
                if (way == 0 && at == n) continue;
                memcpy(text, word, at);
                if (way < 2) text[at] = others[o];
                memcpy(text + at + (way < 2), word + at + (way != 1), n - at - (way != 1));
                if (!vocabulary->read(text, length, &code)) continue;
                size_t printed = vocabulary->print(code, again, sizeof again);
                expect(printed > 0 && vocabulary->read(again, printed, &same) && !(same < code || same > code),
                       vocabulary->name, again);
            }
}

enum { LISTED = 20000 };
static char listed[LISTED][80];

static int by_spelling(const void *left, const void *right)
{
    return strcmp(left, right);
}

/* What a list ends with, and what stands in its middle, is not left out. */
static void find_listed(const struct wh_vocabulary *vocabulary, const char *word)
{
    char other[80];
    bool found = false;
    for (size_t i = 0; !found && vocabulary->list(i, other, sizeof other) > 0; i++) found = strcmp(word, other) == 0;
    expect(found, vocabulary->name, word);
}

static void walk_vocabulary(const struct wh_vocabulary *vocabulary)
{
    char word[80], again[80];
    double code;
    size_t count = 0;
    for (size_t n; count < LISTED && (n = vocabulary->list(count, word, sizeof word)) > 0; count++) {
        bool read = vocabulary->read(word, n, &code);
        memcpy(listed[count], word, sizeof word);
        expect(read, vocabulary->name, word);
        size_t printed = read ? vocabulary->print(code, again, sizeof again) : 0;
        expect(printed > 0 && vocabulary->read(again, printed, &code), vocabulary->name, again);
        if (count % 7 == 0 || count < 20) spoil(vocabulary, word, n);
    }
    expect(count > 0 && count < LISTED, vocabulary->name, "lists nothing, or no end of it");
    qsort(listed, count, sizeof listed[0], by_spelling);
    for (size_t i = 1; i < count; i++)
        expect(strcmp(listed[i - 1], listed[i]) != 0, listed[i], "stands in its list twice");
    expect(vocabulary->read(vocabulary->example, strlen(vocabulary->example), &code), vocabulary->name, "its example");
    expect(!vocabulary->read("", 0, &code), vocabulary->name, "takes nothing for something");
    size_t longer = (size_t)snprintf(word, sizeof word, "%s99999999", vocabulary->example);
    expect(!vocabulary->read(word, longer, &code), vocabulary->name, word);
}

/* ---- rules ----------------------------------------------------------------------------------------------------- */

static double good_value(const struct wh_slot *slot, const struct wh_form *form)
{
    struct wh_value value;
    double code = NAN;
    if (form->vocabulary) {
        form->vocabulary->read(form->vocabulary->example, strlen(form->vocabulary->example), &code);
        return code;
    }
    if (slot->usual && wh_value_read(slot->usual, &form->unit, &value, NULL) == WH_READ_WELL) return value.best;
    double low = isfinite(form->least) ? form->least : form->unit.offset;
    return isfinite(form->most) ? (low + form->most) / 2 : low + form->unit.factor;
}

/* One row, and a second one that is not to be touched. */
static void work(const struct wh_rule *rule, size_t k, const double row[], double out[])
{
    const double *in[WH_RULE_COLUMNS];
    double *to[WH_RULE_OUT], cells[WH_RULE_OUT][2];
    for (size_t c = 0; c < k; c++) in[c] = &row[c];
    for (size_t o = 0; o < WH_RULE_OUT; o++) {
        to[o] = cells[o];
        cells[o][1] = -987654321;
    }
    rule->work(1, k, in, to);
    for (size_t o = 0; o < WH_RULE_OUT; o++) {
        out[o] = cells[o][0];
        expect(!(cells[o][1] < -987654321 || cells[o][1] > -987654321), rule->name, "writes a row too many");
    }
}

/* One input of a rule at its ends: a number, or none and a remark. */
static void try_input(const struct wh_rule *rule, size_t k, double row[], size_t i, const struct wh_form *form)
{
    const double ends[] = {form->least, form->most};
    double good = row[i], out[WH_RULE_OUT];
    for (size_t e = 0; e < 2; e++) {
        if (form->vocabulary || !isfinite(ends[e])) continue;
        row[i] = ends[e];
        work(rule, k, row, out);
        const char *remark = rule->remark ? rule->remark(row, out) : NULL;
        for (size_t o = 0; o < wh_rule_results(rule); o++)
            expect(!isinf(out[o]), rule->name, "gives infinity at the end of a range");
        expect(!isnan(out[0]) || remark, rule->name, "gives no answer at the end of a range and says nothing");
    }
    row[i] = good;
}

static void walk_rule(const struct wh_rule *rule)
{
    double row[WH_RULE_COLUMNS];
    struct wh_form forms[WH_RULE_IN], form;
    char word[80];
    for (size_t o = 0; o < wh_rule_results(rule); o++)
        if (wh_form_read(rule->out[o].range, &form) && form.vocabulary)
            expect(form.vocabulary->print(NAN, word, sizeof word) == 0, rule->name, "prints an answer that is none");
    size_t inputs = wh_rule_inputs(rule), k = inputs;
    for (size_t i = 0; i < inputs; i++) {
        if (!wh_form_read(rule->in[i].range, &forms[i])) return;
        row[i] = good_value(&rule->in[i], &forms[i]);
    }
    for (size_t i = 0; i < inputs; i++) try_input(rule, k, row, i, &forms[i]);
    for (; rule->in[inputs - 1].many && k < WH_RULE_COLUMNS; k++)
        row[k] = row[inputs - 1] * (1 + 0.1 * (double)(k % 5));
    for (size_t more = inputs; more < k; more++) try_input(rule, more, row, inputs - 1, &forms[inputs - 1]);
}

int main(void)
{
    for (size_t s = 0; s < wh_subject_count; s++) {
        for (size_t v = 0; v < wh_subjects[s]->vocabulary_count; v++) walk_vocabulary(&wh_subjects[s]->vocabularies[v]);
        for (size_t r = 0; r < wh_subjects[s]->rule_count; r++) walk_rule(&wh_subjects[s]->rules[r]);
    }
    const struct wh_vocabulary *thread = wh_vocabulary_find("thread", 6), *zone = wh_vocabulary_find("zone", 4);
    const char *const threads[] = {"M10", "M10x1.25", "M15x1", "M25x2", "M36"};
    const char *const zones[] = {"H3", "H11", "h11"};
    for (size_t i = 0; i < sizeof threads / sizeof *threads; i++) find_listed(thread, threads[i]);
    for (size_t i = 0; i < sizeof zones / sizeof *zones; i++) find_listed(zone, zones[i]);
    expect(strcmp(wh_verdict_words(WH_WITHIN), "within") == 0, "a verdict", "within");
    expect(strcmp(wh_verdict_words(WH_OUTSIDE), "outside") == 0, "a verdict", "outside");
    expect(strcmp(wh_verdict_words(WH_NOT_PROVEN), "not proven") == 0, "a verdict", "not proven");
    printf("# %zu words and values tried\n%s 1 - designations are read back, and rules hold to the ends of their "
           "ranges\n1..1\n",
           tried, wrong ? "not ok" : "ok");
    return 0;
}
