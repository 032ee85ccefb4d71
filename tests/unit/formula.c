/* The printed formula of every rule, worked out here from its text and held against the code at random inputs.
 *
 * One line for each rule that fails, with the inputs; the rules whose formula is plain words are listed and counted.
 * A rule may refuse inputs inside its ranges, with a remark; one that never gives a number has wrong ranges. */
#include "base/text.h"
#include "draw.h"

#include <ctype.h>
#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

enum { ROWS = 400, NAMES = 40, ENOUGH = 8 };
static const double CLOSE = 1e-9;

/* ---- the notation of rule.h ------------------------------------------------------------------------------------ */

struct name {
    const char *text;
    size_t length;
    double value;
    bool used;
};

struct reading {
    const char *at;
    struct name names[NAMES];
    size_t count;
    const char *wrong; /* the first thing that is not the notation */
};

static double sum(struct reading *r);

static double wrong(struct reading *r, const char *says)
{
    if (!r->wrong) r->wrong = says;
    r->at += strlen(r->at);
    return NAN;
}

static void skip(struct reading *r)
{
    while (*r->at == ' ') r->at++;
}

static bool next_is(struct reading *r, char c)
{
    skip(r);
    if (*r->at != c) return false;
    r->at++;
    return true;
}

static bool is_letter(char c)
{
    return isalpha((unsigned char)c) || (unsigned char)c >= 0x80;
}

static size_t word_length(const char *at)
{
    size_t n = 0;
    if (!is_letter(*at)) return 0;
    while (is_letter(at[n]) || isdigit((unsigned char)at[n]) || at[n] == '_' || at[n] == '\'') n++;
    return n;
}

static struct name *find(struct reading *r, const char *text, size_t n)
{
    for (size_t i = 0; i < r->count; i++)
        if (r->names[i].length == n && memcmp(r->names[i].text, text, n) == 0) return &r->names[i];
    return NULL;
}

static void set(struct reading *r, const char *text, size_t n, double value)
{
    struct name *name = find(r, text, n);
    if (!name && r->count < NAMES) name = &r->names[r->count++];
    if (name) *name = (struct name){.text = text, .length = n, .value = value};
}

static double one_of(double x) { return x; }
static const struct function {
    const char *name;
    double (*of)(double);
    double (*of_two)(double, double);
} functions[] = {
    {"sqrt", sqrt, NULL}, {"sin", sin, NULL},   {"cos", cos, NULL},   {"tan", tan, NULL},    {"asin", asin, NULL},
    {"acos", acos, NULL}, {"atan", atan, NULL}, {"exp", exp, NULL},   {"ln", log, NULL},     {"lg", log10, NULL},
    {"abs", fabs, NULL},  {"", one_of, NULL},   {"min", NULL, fmin},  {"max", NULL, fmax},   {"atan2", NULL, atan2},
};

/* "a < b, x, y" after "if(". Both sides are worked out; only one counts. */
static double condition(struct reading *r)
{
    double a = sum(r);
    skip(r);
    char sign = *r->at;
    if (sign != '<' && sign != '>') return wrong(r, "a condition without < or >");
    r->at++;
    bool also_equal = next_is(r, '=');
    double b = sum(r);
    bool holds = sign == '<' ? (also_equal ? a <= b : a < b) : (also_equal ? a >= b : a > b);
    if (!next_is(r, ',')) return wrong(r, "if() wants a condition and two values");
    double x = sum(r);
    if (!next_is(r, ',')) return wrong(r, "if() wants a condition and two values");
    double y = sum(r);
    return holds ? x : y;
}

static double call(struct reading *r, const char *word, size_t n)
{
    double value = NAN;
    size_t f = 0, count = sizeof functions / sizeof functions[0];
    while (f < count && (strlen(functions[f].name) != n || memcmp(functions[f].name, word, n) != 0)) f++;
    if (n == 2 && memcmp(word, "if", 2) == 0) {
        value = condition(r);
    } else if (f == count) {
        return wrong(r, "a function that is not in the notation");
    } else if (functions[f].of) {
        value = functions[f].of(sum(r));
    } else {
        double a = sum(r);
        if (!next_is(r, ',')) return wrong(r, "a function of two with one value");
        value = functions[f].of_two(a, sum(r));
    }
    return next_is(r, ')') ? value : wrong(r, "a bracket is not closed");
}

static bool is_function(const char *word, size_t n)
{
    if (n == 2 && memcmp(word, "if", 2) == 0) return true;
    for (size_t f = 0; f < sizeof functions / sizeof functions[0]; f++)
        if (strlen(functions[f].name) == n && memcmp(functions[f].name, word, n) == 0) return true;
    return false;
}

/* A number, a symbol, a function or a bracket; *symbol tells which, for what may follow a division. */
static double primary(struct reading *r, bool *symbol)
{
    skip(r);
    *symbol = false;
    if (isdigit((unsigned char)*r->at)) {
        double number;
        r->at = wh_number_read(r->at, &number);
        return number;
    }
    const char *word = r->at;
    size_t n = word_length(word);
    r->at += n;
    if (*r->at == '(' && (n == 0 || is_function(word, n))) {
        r->at++;
        return call(r, word, n);
    }
    if (n == 2 && memcmp(word, "pi", 2) == 0) return WH_PI;
    struct name *name = n ? find(r, word, n) : NULL;
    if (!name) return wrong(r, n ? "a symbol of no slot and no equation before" : "a value is missing");
    name->used = *symbol = true;
    return name->value;
}

static double power(struct reading *r, bool *symbol)
{
    double base = primary(r, symbol);
    if (!next_is(r, '^')) return base;
    bool minus = next_is(r, '-'), ignored;
    double exponent = power(r, &ignored);
    return pow(base, minus ? -exponent : exponent);
}

static bool factor_follows(struct reading *r)
{
    skip(r);
    return isdigit((unsigned char)*r->at) || is_letter(*r->at) || *r->at == '(';
}

/* Left to right: "d/2 c", "a/(b) c". After a division by a bare symbol nothing may follow: "a / b c" reads two ways. */
static double product(struct reading *r)
{
    bool symbol, divided = false;
    double value = power(r, &symbol);
    for (;;) {
        if (next_is(r, '/')) {
            value /= power(r, &symbol);
            divided = symbol;
        } else if (factor_follows(r)) {
            if (divided) return wrong(r, "\"a / b c\" can be read two ways: write brackets");
            value *= power(r, &symbol);
        } else {
            return value;
        }
    }
}

static double sum(struct reading *r)
{
    double value = next_is(r, '-') ? -product(r) : product(r);
    for (;;) {
        if (next_is(r, '+')) value += product(r);
        else if (next_is(r, '-')) value -= product(r);
        else return value;
    }
}

/* All equations of a formula in their order; each gives its left side a value for those after it. */
static void equations(struct reading *r, const char *formula)
{
    r->at = formula;
    do {
        skip(r);
        const char *symbol = r->at;
        size_t n = word_length(symbol);
        r->at += n;
        if (n == 0 || !next_is(r, '=')) {
            wrong(r, "an equation without a symbol before =");
            return;
        }
        set(r, symbol, n, sum(r));
    } while (next_is(r, ';'));
    if (*r->at) wrong(r, "something after the end of an equation");
}

/* ---- one rule -------------------------------------------------------------------------------------------------- */

struct trial {
    const struct wh_rule *rule;
    size_t inputs, results;
    double in[WH_RULE_IN][ROWS], out[WH_RULE_OUT][ROWS];
};

static const char *fill(struct trial *trial)
{
    uint64_t state = 20;
    for (const char *c = trial->rule->name; *c; c++) state = state * 31 + (uint64_t)(unsigned char)*c;
    if (trial->rule->arity != trial->inputs) return "the function takes another number of inputs than there are slots";
    for (size_t c = 0; c < trial->inputs; c++) {
        struct wh_form form;
        if (trial->rule->in[c].many) return "a list of readings has no formula: say it in words";
        if (!wh_form_read(trial->rule->in[c].range, &form)) return "a range that cannot be read";
        for (size_t i = 0; i < ROWS; i++) trial->in[c][i] = wh_draw(&trial->rule->in[c], &form, &state);
    }
    return NULL;
}

static void work(struct trial *trial)
{
    const double *in[WH_RULE_IN];
    double *out[WH_RULE_OUT];
    for (size_t c = 0; c < trial->inputs; c++) in[c] = trial->in[c];
    for (size_t c = 0; c < trial->results; c++) out[c] = trial->out[c];
    trial->rule->work(ROWS, trial->inputs, in, out);
}

static bool remarked(const struct trial *trial, size_t row)
{
    double in[WH_RULE_IN], out[WH_RULE_OUT];
    for (size_t c = 0; c < trial->inputs; c++) in[c] = trial->in[c][row];
    for (size_t c = 0; c < trial->results; c++) out[c] = trial->out[c][row];
    return trial->rule->remark && trial->rule->remark(in, out);
}

static void fail(const struct trial *trial, size_t row, const char *says)
{
    printf("%s: %s", trial->rule->name, says);
    for (size_t c = 0; row < ROWS && c < trial->inputs; c++)
        printf("%s %s=%.9g", c ? "" : ";", trial->rule->in[c].symbol, trial->in[c][row]);
    printf("\n    %s\n", trial->rule->formula);
}

/* What is wrong with the formula of one row, or NULL. */
static const char *row_fault(const struct trial *trial, size_t row, bool *number)
{
    struct reading r = {0};
    for (size_t c = 0; c < trial->inputs; c++)
        set(&r, trial->rule->in[c].symbol, strlen(trial->rule->in[c].symbol), trial->in[c][row]);
    if (r.count != trial->inputs) return "two slots have the same symbol";
    equations(&r, trial->rule->formula);
    if (r.wrong) return r.wrong;
    for (size_t c = 0; c < trial->inputs; c++)
        if (!r.names[c].used) return "an input stands nowhere in the formula";
    *number = true;
    for (size_t o = 0; o < trial->results; o++) {
        struct name *wanted = find(&r, trial->rule->out[o].symbol, strlen(trial->rule->out[o].symbol));
        if (!wanted || (size_t)(wanted - r.names) < trial->inputs) return "a result without an equation";
        double got = trial->out[o][row];
        bool answer = !isnan(got), expected = isfinite(wanted->value);
        *number &= answer;
        if (isinf(got)) return "the code gives infinity: it should be NaN with a remark";
        if (answer && !expected) return "the code gives a number, the formula none";
        if (!answer && expected && !remarked(trial, row)) return "the code gives no number and no remark says why";
        if (answer && fabs(got - wanted->value) > CLOSE * fmax(fabs(got), fabs(wanted->value)))
            return "code and formula differ";
    }
    return NULL;
}

static bool holds(const struct wh_rule *rule)
{
    static struct trial trial;
    trial = (struct trial){.rule = rule, .inputs = wh_rule_inputs(rule), .results = wh_rule_results(rule)};
    const char *fault = fill(&trial);
    size_t row = ROWS, numbers = 0;
    if (!fault) {
        work(&trial);
        for (row = 0; row < ROWS; row++) {
            bool number = false;
            fault = row_fault(&trial, row, &number);
            if (fault) break;
            numbers += number;
        }
        if (!fault && numbers < ENOUGH) fault = "hardly ever gives a number inside its ranges";
    }
    if (fault) fail(&trial, row, fault);
    return !fault;
}

int main(void)
{
    size_t checked = 0, failed = 0, words = 0;
    for (size_t s = 0; s < wh_subject_count; s++)
        for (size_t i = 0; i < wh_subjects[s]->rule_count; i++) {
            const struct wh_rule *rule = &wh_subjects[s]->rules[i];
            if (strchr(rule->formula, '=')) {
                checked++;
                failed += !holds(rule);
            } else {
                words++;
                failed += rule->arity != wh_rule_inputs(rule);
                printf("in words: %s: %s\n", rule->name, rule->formula);
            }
        }
    printf("%zu formulas checked, %zu failed; %zu rules have one in words\n", checked, failed, words);
    return failed || !checked ? 1 : 0;
}
