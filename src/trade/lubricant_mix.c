/* lubricant_mix.c - one oil or grease put to another: what bears what, blends, and how long an oil may stay in. */
#include "trade/rule.h"
#include "trade/words.h"

#include <math.h>

/* ---- what bears what ------------------------------------------------------------------------------------------- */

static const char *const mixing_words[] = {"incompatible", "borderline", "compatible"};
WH_WORDS(mixing, mixing_words)

static const char *const oil_words[] = {"mineral",  "polyalphaolefin", "ester",          "polyglycol",
                                        "silicone", "perfluoro",       "phosphate-ester"};
WH_WORDS(oil, oil_words)

/* The first three bear each other; of the others each bears only its own kind. */
static double mixing_oils(double first, double second)
{
    const double last_that_mixes = 2;
    bool same = fabs(first - second) < 0.5, mix = fmax(first, second) < last_that_mixes + 0.5;
    return same || mix ? 2 : 0;
}
WH_COLUMNS(2, mixing_oils)

static const char *const thickener_words[] = {"sodium",  "aluminium-complex", "barium",
                                              "calcium", "calcium-complex",   "clay",
                                              "lithium", "lithium-complex",   "polyurea"};
WH_WORDS(thickener, thickener_words)
enum { THICKENERS = sizeof thickener_words / sizeof thickener_words[0] };

/* C compatible, B borderline, I not, as printed row by row. */
static const char *const thickener_table[THICKENERS] = {"CIIIIIIII", "ICIIIIBCI", "IICIIIIII", "IIICIIBCI", "IIIICIIII",
                                                        "IIIIIBIII", "IBIBIICCI", "ICICIICCI", "IIIIIIIIC"};

static double mixing_greases(double first, double second)
{
    char mark = thickener_table[(size_t)first][(size_t)second];
    return mark == 'C' ? 2 : mark == 'B' ? 1 : 0;
}
WH_COLUMNS(2, mixing_greases)

static const char *mixing_remark(const double in[], const double out[])
{
    (void)in;
    if (out[0] > 1.5)
        return "the kinds bear each other; additives may still not: never mixed on purpose, only topped up in need";
    return out[0] > 0.5 ? "borderline: clean the old one out as far as it goes, and look again soon"
                        : "never together: all of the old one out, washed, before the new one goes in";
}

/* ---- blends ---------------------------------------------------------------------------------------------------- */

/* The scale on which shares add: ASTM D341's, its simple form. */
static double walther(double nu)
{
    return log10(log10(1e6 * nu + 0.7));
}

static double unwalther(double w)
{
    return 1e-6 * (pow(10, pow(10, w)) - 0.7);
}

static double blend_share(double nu1, double nu2, double wanted)
{
    double share = (walther(wanted) - walther(nu2)) / (walther(nu1) - walther(nu2));
    return share >= 0 && share <= 1 ? share : NAN;
}
WH_COLUMNS(3, blend_share)

static const char *share_remark(const double in[], const double out[])
{
    (void)in;
    return isnan(out[0]) ? "thicker or thinner than both: no share of these two makes it"
                         : "of one kind of oil only, and one maker's: ask whether they bear each other";
}

static double refutas(double nu)
{
    return 14.534 * log(log(1e6 * nu + 0.8)) + 10.975;
}

static double blend_by_mass(double nu1, double nu2, double share)
{
    double number = share * refutas(nu1) + (1 - share) * refutas(nu2);
    return 1e-6 * (exp(exp((number - 10.975) / 14.534)) - 0.8);
}
WH_COLUMNS(3, blend_by_mass)

/* ---- ASTM D341, the simple form -------------------------------------------------------------------------------- */

static double viscosity_simple(double nu1, double T1, double nu2, double T2, double T)
{
    if (!(T1 < T2 && nu2 < nu1)) return NAN;
    double slope = (walther(nu1) - walther(nu2)) / log10(T2 / T1);
    double nu = unwalther(walther(nu1) - slope * log10(T / T1));
    return nu < 1 ? nu : NAN;
}
WH_COLUMNS(5, viscosity_simple)

static const char *simple_remark(const double in[], const double out[])
{
    if (isnan(out[0])) return "the second temperature is the higher one, the oil is thinner there, and all are near";
    return out[0] < 2e-6 || in[2] < 2e-6
               ? "below 2 mm2/s the simple form is no longer good: lubricant.viscosity-between"
               : NULL;
}

/* ---- how long it may stay in ----------------------------------------------------------------------------------- */

static double oil_interval(double stated, double T, double reference, double dirt)
{
    return stated * dirt * fmin(1, pow(2, (reference - T) / 10));
}
WH_COLUMNS(4, oil_interval)

static const char *interval_remark(const double in[], const double out[])
{
    (void)out;
    return in[1] > 373.15 ? "above 100 degC the oil is the wrong one, or the bearing is in trouble"
                          : "a rule of thumb: never longer than stated, a sample tells more";
}

#define NU(name, symbol, title)                                                                                        \
    {                                                                                                                  \
        name, symbol, "1..100000 mm2/s", NULL, title                                                                   \
    }
#define TEMPERATURE(name, symbol, title)                                                                               \
    {                                                                                                                  \
        name, symbol, "-40..200 degC", NULL, title                                                                     \
    }

static const struct wh_rule rules[] = {
    {.name = "lubricant.mixing-oils",
     .formula = "mineral oil, polyalphaolefin and ester bear each other, all others only their own kind",
     .source = "Machinery Lubrication, effects of mixing synthetic gear oil with mineral gear oil; the silicones and "
               "perfluoro oils from memory",
     .in = {{"first-oil", "a", "base-oil", NULL, "base oil that is in"},
            {"second-oil", "b", "base-oil", NULL, "base oil that is put to it"}},
     .out = {{"mixing-oils", "m", "mixing", NULL, "whether they bear each other"}},
     WH_WORK(2, mixing_oils),
     .remark = mixing_remark},
    {.name = "lubricant.mixing-greases",
     .formula = "table of thickeners, 9 by 9",
     .source = "US Bureau of Reclamation, FIST vol. 2-4, Lubrication of Powerplant Equipment, 1990, table 2",
     .in = {{"first-grease", "a", "thickener", NULL, "thickener of the grease that is in"},
            {"second-grease", "b", "thickener", NULL, "thickener of the grease that is put to it"}},
     .out = {{"mixing-greases", "m", "mixing", NULL, "whether they bear each other"}},
     WH_WORK(2, mixing_greases),
     .remark = mixing_remark},

    {.name = "lubricant.blend-share",
     .formula =
         "w = lg(lg(10^6 nu + 0.7)); a = lg(lg(10^6 nu1 + 0.7)); b = lg(lg(10^6 nu2 + 0.7)); x = (w - b)/(a - b)",
     .source = "ASTM D7152 turned round, from memory",
     .in = {NU("first-viscosity", "nu1", "viscosity of the first oil"),
            NU("second-viscosity", "nu2", "viscosity of the second oil, at the same temperature"),
            NU("viscosity", "nu", "viscosity wanted, at the same temperature")},
     .out = {{"blend-share", "x", "%", NULL, "share of the first oil by volume"}},
     WH_WORK(3, blend_share),
     .remark = share_remark},
    {.name = "lubricant.blend-by-mass",
     .formula = "V = x (14.534 ln(ln(10^6 nu1 + 0.8)) + 10.975) + (1 - x) (14.534 ln(ln(10^6 nu2 + 0.8)) + 10.975); "
                "nu = 10^-6 (exp(exp((V - 10.975)/14.534)) - 0.8)",
     .source = "Maples, Petroleum Refinery Process Economics, 2nd ed., 2000",
     .in = {NU("first-viscosity", "nu1", "viscosity of the first oil"),
            NU("second-viscosity", "nu2", "viscosity of the second oil, at the same temperature"),
            {"share", "x", "0..1 1", NULL, "share of the first oil by mass"}},
     .out = {{"blend-by-mass", "nu", "mm2/s", NULL, "viscosity of the mixture"}},
     WH_WORK(3, blend_by_mass)},
    {.name = "lubricant.viscosity-simple",
     .formula = "a = lg(lg(10^6 nu1 + 0.7)); b = lg(lg(10^6 nu2 + 0.7)); "
                "nu = 10^-6 (10^(10^(a - (a - b) lg(T/T1)/lg(T2/T1))) - 0.7)",
     .source = "ASTM D341, simple form: from 2 mm2/s up",
     .in = {NU("first-viscosity", "nu1", "viscosity at the first temperature"),
            TEMPERATURE("first-temperature", "T1", "first temperature"),
            NU("second-viscosity", "nu2", "viscosity at the second temperature"),
            TEMPERATURE("second-temperature", "T2", "second temperature"),
            TEMPERATURE("temperature", "T", "temperature of the oil")},
     .out = {{"viscosity-simple", "nu", "mm2/s", NULL, "viscosity at that temperature"}},
     WH_WORK(5, viscosity_simple),
     .remark = simple_remark},
    {.name = "lubricant.oil-interval",
     .formula = "t = s k min(1, 2^((R - T)/10))",
     .source = "rule of thumb: each 10 K above the stated temperature halves it; dirt and water by judgement",
     .in = {{"stated-interval", "s", "1..100000 h", NULL, "interval stated by the maker"},
            TEMPERATURE("temperature", "T", "temperature of the oil"),
            {"reference-temperature", "R", "0..200 degC", "70 degC", "temperature it is stated for"},
            {"dirt", "k", "0.1..1 1", "1", "1 clean and dry, 0.5 dusty or damp"}},
     .out = {{"oil-interval", "t", "h", NULL, "hours between oil changes"}},
     WH_WORK(4, oil_interval),
     .remark = interval_remark},
};

static const struct wh_vocabulary vocabularies[] = {
    {"mixing", "answer whether two lubricants bear each other", "compatible", mixing_read, mixing_print, mixing_list},
    {"base-oil", "kind of base oil", "mineral", oil_read, oil_print, oil_list},
    {"thickener", "thickener of a grease", "lithium", thickener_read, thickener_print, thickener_list},
};

const struct wh_subject wh_lubricant_mix = {.name = "lubricant",
                                            .title = "Mixing and changing of oil and grease",
                                            .rules = rules,
                                            .rule_count = sizeof rules / sizeof rules[0],
                                            .vocabularies = vocabularies,
                                            .vocabulary_count = sizeof vocabularies / sizeof vocabularies[0]};
