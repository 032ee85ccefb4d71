/* Answers lines of "RULE input input …", numbers in SI, each with a line of the rule's results: for oracle.py. */
#include "base/quantity.h"
#include "trade/rule.h"

#include <stdio.h>
#include <string.h>

static void answer(char *line)
{
    double row[WH_RULE_COLUMNS] = {0}, out[WH_RULE_OUT];
    const double *in[WH_RULE_COLUMNS];
    double *to[WH_RULE_OUT];
    size_t k = 0;
    char *at = strchr(line, ' ');
    if (!at) return;
    *at++ = '\0';
    const struct wh_rule *rule = wh_rule_find(line);
    for (const char *next; rule && k < WH_RULE_COLUMNS && (next = wh_number_read(at, &row[k])); k++) {
        at += next - at;
        while (*at == ' ') at++;
    }
    for (size_t c = 0; c < WH_RULE_COLUMNS; c++) in[c] = &row[c];
    for (size_t o = 0; o < WH_RULE_OUT; o++) to[o] = &out[o];
    if (rule) rule->work(1, k, in, to);
    for (size_t o = 0; rule && o < wh_rule_results(rule); o++) printf("%s%.17g", o ? " " : "", out[o]);
    printf("\n");
}

int main(void)
{
    static char line[4096];
    while (fgets(line, sizeof line, stdin)) answer(line);
    return 0;
}
