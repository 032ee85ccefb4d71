/* The masses that make what is wanted, and what is then left against what is permissible. */
#include "study/balance_sheet.h"
#include "trade/rule.h"

#include <math.h>
#include <string.h>

static void place(const struct wh_balance_sheet *sheet, size_t plane, double mass, double angle, size_t hole,
                  struct wh_balance_correction *c)
{
    c->place[c->places++] = (struct wh_balance_place){mass, angle, hole, wh_balance_pull(sheet, plane, mass)};
    double complex made = mass * sheet->plane[plane].radius * cexp(I * angle);
    c->left -= sheet->plane[plane].drilled ? -made : made;
}

/* Any mass in the two holes beside the wanted place; taken holes are passed over. */
static void share(const struct wh_balance_sheet *sheet, size_t plane, struct wh_balance_correction *c)
{
    const struct wh_balance_plane *p = &sheet->plane[plane];
    double complex wanted = (p->drilled ? -c->wanted : c->wanted) / p->radius;
    size_t best[2] = {0, 0};
    double share[2] = {0, 0}, least = INFINITY;
    for (size_t i = 1; i <= p->holes; i++)
        for (size_t j = i + 1; j <= p->holes; j++) {
            double a = wh_balance_hole(p, i), b = wh_balance_hole(p, j), whole = sin(b - a);
            if (p->taken[i - 1] || p->taken[j - 1] || fabs(whole) < 1e-9) continue;
            double first = (creal(wanted) * sin(b) - cimag(wanted) * cos(b)) / whole;
            double second = (cimag(wanted) * cos(a) - creal(wanted) * sin(a)) / whole;
            bool fits = first >= -1e-12 && second >= -1e-12 && first + second < least * (1 - 1e-9);
            if (!fits) continue;
            least = first + second;
            best[0] = i, best[1] = j;
            share[0] = first, share[1] = second;
        }
    for (size_t k = 0; k < 2 && best[0] > 0; k++)
        if (share[k] > 1e-9 * least) place(sheet, plane, share[k], wh_balance_hole(p, best[k]), best[k], c);
}

/* What may be left without looking for more masses: a fifth of what is permissible, or the answer's own doubt. */
static double enough(const struct wh_balance_sheet *sheet, size_t plane, const struct wh_balance_result *ret,
                     const struct wh_balance_correction *c)
{
    double goal = fmax(0.2 * ret->allowed / (double)sheet->planes, ret->doubt.most[plane]);
    return isnan(goal) ? 0.02 * cabs(c->wanted) : goal;
}

/* The exact best choice of the masses at hand; where all ways are too many to look at, of fewer masses in all. */
static void choose(struct wh_arena *arena, const struct wh_balance_sheet *sheet, size_t plane,
                   struct wh_balance_result *ret, struct wh_balance_correction *c)
{
    const struct wh_balance_plane *p = &sheet->plane[plane];
    struct wh_split *split = WH_NEW(arena, 1, struct wh_split);
    size_t hole[WH_SPLIT_PLACES];
    *split = (struct wh_split){.wanted = p->drilled ? -c->wanted : c->wanted, .masses = p->masses, .most = p->most};
    memcpy(split->mass, p->mass, sizeof split->mass);
    memcpy(split->stock, p->stock, sizeof split->stock);
    for (size_t i = 1; i <= p->holes; i++) {
        if (p->taken[i - 1]) continue;
        hole[split->places] = i;
        split->arm[split->places++] = p->radius * cexp(I * wh_balance_hole(p, i));
    }
    if (split->most > split->places) split->most = split->places;
    size_t most = split->most;
    while (!wh_split_best(arena, split, c->best, &c->ways)) split->most--;
    c->most = split->most;
    if (c->most < most)
        wh_balance_mind(arena, ret,
                        (struct wh_balance_reason){WH_WHY_TOO_MANY_WAYS, p->id, (double)c->most, (double)most});
    const struct wh_split_choice *chosen = wh_split_choose(c->best, c->most, enough(sheet, plane, ret, c));
    for (size_t i = 0; i < split->places; i++)
        if (chosen->mass[i] >= 0)
            place(sheet, plane, p->mass[chosen->mass[i]], wh_balance_hole(p, hole[i]), hole[i], c);
}

void wh_balance_correct(struct wh_arena *arena, const struct wh_balance_sheet *sheet, size_t plane,
                        struct wh_balance_result *ret, struct wh_balance_correction *c)
{
    const struct wh_balance_plane *p = &sheet->plane[plane];
    c->left = c->wanted;
    if (!(cabs(c->wanted) > 0)) return;
    if (p->holes > 0 && p->masses > 0) {
        choose(arena, sheet, plane, ret, c);
        return;
    }
    if (p->holes > 0) {
        share(sheet, plane, c);
        return;
    }
    place(sheet, plane, cabs(c->wanted) / p->radius, carg(p->drilled ? -c->wanted : c->wanted), 0, c);
    c->left = 0;
}

static enum wh_balance_verdict verdict(double size, double doubt, double allowed)
{
    if (isnan(doubt)) return size <= allowed ? WH_BALANCE_NOT_PROVEN : WH_BALANCE_OUTSIDE;
    if (size + doubt <= allowed) return WH_BALANCE_WITHIN;
    return size - doubt > allowed ? WH_BALANCE_OUTSIDE : WH_BALANCE_NOT_PROVEN;
}

static void add_residual(struct wh_balance_result *ret, const char *name, double allowed, double complex before,
                         double complex left, double doubt)
{
    ret->residual[ret->residuals++] = (struct wh_balance_residual){name,
                                                                   allowed,
                                                                   cabs(before),
                                                                   cabs(left),
                                                                   doubt,
                                                                   verdict(cabs(left), doubt, allowed),
                                                                   verdict(cabs(before), doubt, allowed)};
}

/* The shares of the bearing planes, by the rules of ISO 21940-11. */
static bool bearing_shares(const struct wh_balance_sheet *sheet, double allowed, double *ret_a, double *ret_b)
{
    double centre = sheet->centre, span = sheet->span;
    bool near_b = centre > span / 2, between = centre > 0 && centre < span;
    const struct wh_rule *rule = wh_rule_find(between ? "balance.bearing-shares" : "balance.overhung-shares");
    double overhang = near_b ? centre - span : -centre;
    double in[3] = {allowed, between ? centre : overhang, between ? span - centre : span}, out[2];
    const double *const from[] = {&in[0], &in[1], &in[2]};
    double *const to[] = {&out[0], &out[1]};
    if (!rule) return false;
    rule->work(1, 3, from, to);
    *ret_a = between || !near_b ? out[0] : out[1];
    *ret_b = between || !near_b ? out[1] : out[0];
    return true;
}

/* What the planes' unbalances are at the bearings, by the levers. */
static void judge_bearings(const struct wh_balance_sheet *sheet, struct wh_balance_result *ret)
{
    static const char *const names[] = {"bearing A", "bearing B"};
    double allowed[2];
    if (!bearing_shares(sheet, ret->allowed, &allowed[0], &allowed[1])) return;
    for (size_t b = 0; b < 2; b++) {
        double complex before = 0, left = 0;
        double doubt = 0;
        for (size_t p = 0; p < sheet->planes; p++) {
            double lever = sheet->plane[p].at / sheet->span;
            if (b == 0) lever = 1 - lever;
            before += lever * ret->correction[p].wanted;
            left += lever * ret->correction[p].left;
            doubt = hypot(doubt, lever * ret->correction[p].size_doubt);
        }
        add_residual(ret, names[b], allowed[b], before, left, doubt);
    }
}

void wh_balance_judge(const struct wh_balance_sheet *sheet, struct wh_balance_result *ret)
{
    bool placed = !isnan(sheet->span) && !isnan(sheet->centre) && sheet->planes > 1;
    for (size_t p = 0; p < sheet->planes; p++) placed = placed && !isnan(sheet->plane[p].at);
    if (isnan(ret->allowed)) return;
    if (placed) {
        judge_bearings(sheet, ret);
    } else {
        for (size_t p = 0; p < sheet->planes; p++) {
            const struct wh_balance_correction *c = &ret->correction[p];
            add_residual(ret, sheet->plane[p].id, ret->allowed / (double)sheet->planes, c->wanted, c->left,
                         c->size_doubt);
        }
    }
    bool within = ret->residuals > 0;
    for (size_t i = 0; i < ret->residuals; i++) within = within && ret->residual[i].verdict_before == WH_BALANCE_WITHIN;
    if (within) ret->next = WH_BALANCE_LEAVE;
}
