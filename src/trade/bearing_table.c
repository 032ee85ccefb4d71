#include "trade/bearing_table.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* Boundary dimensions of ISO 15 in mm, one row a bore. Outside diameters by diameter series (8, 9, 0, 2, 3, 4), widths
 * by dimension series; 0: none. From memory, but 60, 62 and 63 to 60 mm bore and 02, 03 to 95 mm as read in the tables
 * of ratings below. */
enum outside { D8, D9, D0, D2, D3, D4, OUTSIDES };
enum width { B18, B19, B00, B10, B02, B22, B32, B03, B23, B33, B04, WIDTHS };

struct row {
    short bore, outside[OUTSIDES];
    double width[WIDTHS];
};

static const struct row rows[WH_BEARING_BORES] = {
    /*      D8   D9   D0   D2   D3   D4     18  19  00  10  02  22    32  03  23    33  04 */
    {4,   {0,   0,   12,  13,  16,  0},   {0,  0,  0,  4,  5,  0,    0,  5,  0,    0,  0}},
    {5,   {0,   0,   14,  16,  19,  0},   {0,  0,  0,  5,  5,  0,    0,  6,  0,    0,  0}},
    {6,   {0,   0,   17,  19,  0,   0},   {0,  0,  0,  6,  6,  0,    0,  0,  0,    0,  0}},
    {7,   {0,   0,   19,  22,  0,   0},   {0,  0,  0,  6,  7,  0,    0,  0,  0,    0,  0}},
    {8,   {0,   0,   22,  24,  0,   0},   {0,  0,  0,  7,  8,  0,    0,  0,  0,    0,  0}},
    {9,   {0,   0,   24,  26,  0,   0},   {0,  0,  0,  7,  8,  0,    0,  0,  0,    0,  0}},
    {10,  {19,  22,  26,  30,  35,  0},   {5,  6,  0,  8,  9,  14,   14, 11, 17,   0,  0}},
    {12,  {21,  24,  28,  32,  37,  0},   {5,  6,  0,  8,  10, 14, 15.9, 12, 17,   0,  0}},
    {15,  {24,  28,  32,  35,  42,  0},   {5,  7,  8,  9,  11, 14, 15.9, 13, 17,   19, 0}},
    {17,  {26,  30,  35,  40,  47,  62},  {5,  7,  8,  10, 12, 16, 17.5, 14, 19, 22.2, 17}},
    {20,  {32,  37,  42,  47,  52,  72},  {7,  9,  8,  12, 14, 18, 20.6, 15, 21, 22.2, 19}},
    {25,  {37,  42,  47,  52,  62,  80},  {7,  9,  8,  12, 15, 18, 20.6, 17, 24, 25.4, 21}},
    {30,  {42,  47,  55,  62,  72,  90},  {7,  9,  9,  13, 16, 20, 23.8, 19, 27, 30.2, 23}},
    {35,  {47,  55,  62,  72,  80,  100}, {7,  10, 9,  14, 17, 23,   27, 21, 31, 34.9, 25}},
    {40,  {52,  62,  68,  80,  90,  110}, {7,  12, 9,  15, 18, 23, 30.2, 23, 33, 36.5, 27}},
    {45,  {58,  68,  75,  85,  100, 120}, {7,  12, 10, 16, 19, 23, 30.2, 25, 36, 39.7, 29}},
    {50,  {65,  72,  80,  90,  110, 130}, {7,  12, 10, 16, 20, 23, 30.2, 27, 40, 44.4, 31}},
    {55,  {72,  80,  90,  100, 120, 140}, {9,  13, 11, 18, 21, 25, 33.3, 29, 43, 49.2, 33}},
    {60,  {78,  85,  95,  110, 130, 150}, {10, 13, 11, 18, 22, 28, 36.5, 31, 46,   54, 35}},
    {65,  {85,  90,  100, 120, 140, 160}, {10, 13, 11, 18, 23, 31, 38.1, 33, 48, 58.7, 37}},
    {70,  {90,  100, 110, 125, 150, 180}, {10, 16, 13, 20, 24, 31, 39.7, 35, 51, 63.5, 42}},
    {75,  {95,  105, 115, 130, 160, 190}, {10, 16, 13, 20, 25, 31, 41.3, 37, 55, 68.3, 45}},
    {80,  {100, 110, 125, 140, 170, 200}, {10, 16, 14, 22, 26, 33, 44.4, 39, 58, 68.3, 48}},
    {85,  {110, 120, 130, 150, 180, 0},   {13, 18, 14, 22, 28, 36, 49.2, 41, 60,   73, 0}},
    {90,  {115, 125, 140, 160, 190, 0},   {13, 18, 16, 24, 30, 40, 52.4, 43, 64,   73, 0}},
    {95,  {120, 130, 145, 170, 200, 0},   {13, 18, 16, 24, 32, 43, 55.6, 45, 67,   0,  0}},
    {100, {125, 140, 150, 180, 215, 0},   {13, 20, 16, 24, 34, 46, 60.3, 47, 73,   0,  0}},
    {105, {130, 145, 160, 190, 225, 0},   {13, 20, 18, 26, 36, 50,    0, 49, 77,   0,  0}},
    {110, {140, 150, 170, 200, 240, 0},   {16, 20, 19, 28, 38, 53,    0, 50, 80,   0,  0}},
    {120, {150, 165, 180, 215, 260, 0},   {16, 22, 19, 28, 40, 58,    0, 55, 86,   0,  0}},
    {130, {165, 180, 200, 230, 280, 0},   {18, 24, 22, 33, 40, 64,    0, 58, 93,   0,  0}},
};

static const struct series {
    const char *name;
    enum wh_bearing_type type;
    enum outside outside;
    enum width width;
    short least, most; /* bores in mm */
} all_series[WH_BEARING_SERIES] = {
    {"60", WH_DEEP_GROOVE, D0, B10, 4, 130},
    {"62", WH_DEEP_GROOVE, D2, B02, 4, 130},
    {"63", WH_DEEP_GROOVE, D3, B03, 4, 130},
    {"64", WH_DEEP_GROOVE, D4, B04, 17, 80},
    {"160", WH_DEEP_GROOVE, D0, B00, 15, 130},
    {"618", WH_DEEP_GROOVE, D8, B18, 10, 130},
    {"68", WH_DEEP_GROOVE, D8, B18, 10, 130},
    {"619", WH_DEEP_GROOVE, D9, B19, 10, 130},
    {"69", WH_DEEP_GROOVE, D9, B19, 10, 130},
    {"622", WH_DEEP_GROOVE, D2, B22, 10, 60},
    {"623", WH_DEEP_GROOVE, D3, B23, 10, 60},
    {"12", WH_SELF_ALIGNING_BALL, D2, B02, 10, 110},
    {"13", WH_SELF_ALIGNING_BALL, D3, B03, 10, 110},
    {"22", WH_SELF_ALIGNING_BALL, D2, B22, 10, 110},
    {"23", WH_SELF_ALIGNING_BALL, D3, B23, 10, 110},
    {"719", WH_ANGULAR_CONTACT, D9, B19, 10, 130},
    {"70", WH_ANGULAR_CONTACT, D0, B10, 10, 130},
    {"72", WH_ANGULAR_CONTACT, D2, B02, 10, 130},
    {"73", WH_ANGULAR_CONTACT, D3, B03, 10, 130},
    {"32", WH_ANGULAR_CONTACT, D2, B32, 10, 100},
    {"33", WH_ANGULAR_CONTACT, D3, B33, 15, 90},
    {"NU10", WH_CYLINDRICAL_ROLLER, D0, B10, 25, 130},
    {"NU2", WH_CYLINDRICAL_ROLLER, D2, B02, 15, 130},
    {"NU22", WH_CYLINDRICAL_ROLLER, D2, B22, 15, 130},
    {"NU3", WH_CYLINDRICAL_ROLLER, D3, B03, 15, 130},
    {"NU23", WH_CYLINDRICAL_ROLLER, D3, B23, 20, 130},
    {"NU4", WH_CYLINDRICAL_ROLLER, D4, B04, 30, 80},
    {"NJ2", WH_CYLINDRICAL_ROLLER, D2, B02, 15, 130},
    {"NJ3", WH_CYLINDRICAL_ROLLER, D3, B03, 15, 130},
    {"NUP2", WH_CYLINDRICAL_ROLLER, D2, B02, 15, 130},
    {"NUP3", WH_CYLINDRICAL_ROLLER, D3, B03, 15, 130},
    {"N2", WH_CYLINDRICAL_ROLLER, D2, B02, 15, 130},
    {"N3", WH_CYLINDRICAL_ROLLER, D3, B03, 15, 130},
    {"213", WH_SPHERICAL_ROLLER, D3, B03, 20, 110},
    {"222", WH_SPHERICAL_ROLLER, D2, B22, 25, 130},
    {"223", WH_SPHERICAL_ROLLER, D3, B23, 40, 130},
};

/* Load ratings in kN. The ratings of rollers hold for all forms of their series. */
#define MOTT "Mott et al., Machine Elements in Mechanical Design, 6th ed., table 14-3"
#define SHIGLEY "Budynas & Nisbett, Shigley's Mechanical Engineering Design, 9th ed., tables 11-2 and 11-3"
#define SWAPPED MOTT ", its two columns swapped back"
#define INSIDE "ISO 281:2007 and ISO 76:2006 from the inside: 8 balls of 22.225 mm on 95 mm, these from memory"
#define KHURMI "Khurmi & Gupta, A Textbook of Machine Design, table 27.6, from memory; steel of its day"
static const struct rated {
    const char *name; /* series; of rollers its digits */
    short bore;
    double rating, static_rating;
    const char *source;
} ratings[] = {
    {"60", 10, 4.62, 1.96, MOTT},
    {"60", 12, 5.07, 2.36, MOTT},
    {"60", 15, 5.59, 2.85, MOTT},
    {"60", 17, 6.05, 3.25, MOTT},
    {"60", 20, 9.36, 5, MOTT},
    {"60", 25, 11.2, 6.55, MOTT},
    {"60", 30, 13.3, 8.3, MOTT},
    {"60", 35, 15.9, 10.2, MOTT},
    {"60", 40, 16.8, 11.6, MOTT},
    {"60", 45, 20.8, 14.6, MOTT},
    {"60", 50, 21.6, 16, MOTT},
    {"60", 55, 28.1, 21.2, MOTT},
    {"60", 60, 29.6, 23.2, MOTT},
    {"62", 10, 5.07, 2.36, MOTT},
    {"62", 12, 6.89, 3.1, MOTT},
    {"62", 15, 7.8, 3.75, MOTT},
    {"62", 17, 9.56, 4.75, MOTT},
    {"62", 20, 12.7, 6.55, MOTT},
    {"62", 25, 14, 7.8, MOTT},
    {"62", 30, 19.5, 11.2, MOTT},
    {"62", 35, 25.5, 15.3, MOTT},
    {"62", 40, 30.7, 19, MOTT},
    {"62", 45, 33.2, 21.6, MOTT},
    {"62", 50, 35.1, 23.2, MOTT},
    {"62", 55, 43.6, 29, MOTT},
    {"62", 60, 47.5, 32.5, MOTT},
    {"62", 65, 55.9, 34, SHIGLEY},
    {"62", 70, 61.8, 37.5, SHIGLEY},
    {"62", 75, 66.3, 40.5, SHIGLEY},
    {"62", 80, 70.2, 45, SHIGLEY},
    {"62", 85, 83.2, 53, SHIGLEY},
    {"62", 90, 95.6, 62, SHIGLEY},
    {"62", 95, 108, 69.5, SHIGLEY},
    {"63", 10, 8.06, 3.4, SWAPPED},
    {"63", 12, 9.75, 4.15, MOTT},
    {"63", 15, 11.4, 5.4, MOTT},
    {"63", 17, 13.5, 6.55, MOTT},
    {"63", 20, 15.9, 7.8, MOTT},
    {"63", 25, 22.5, 11.6, MOTT},
    {"63", 30, 28.1, 16, MOTT},
    {"63", 35, 33.2, 19, MOTT},
    {"63", 40, 41, 24, MOTT},
    {"63", 45, 52.7, 31.5, MOTT},
    {"63", 50, 61.8, 38, MOTT},
    {"63", 55, 71.5, 45, MOTT},
    {"63", 60, 81.8, 51.8, INSIDE},
    {"72", 10, 4.94, 2.12, SHIGLEY},
    {"72", 12, 7.02, 3.05, SHIGLEY},
    {"72", 15, 8.06, 3.65, SHIGLEY},
    {"72", 17, 9.95, 4.75, SHIGLEY},
    {"72", 20, 13.3, 6.55, SHIGLEY},
    {"72", 25, 14.8, 7.65, SHIGLEY},
    {"72", 30, 20.3, 11, SHIGLEY},
    {"72", 35, 27, 15, SHIGLEY},
    {"72", 40, 31.9, 18.6, SHIGLEY},
    {"72", 45, 35.8, 21.2, SHIGLEY},
    {"72", 50, 37.7, 22.8, SHIGLEY},
    {"72", 55, 46.2, 28.5, SHIGLEY},
    {"72", 60, 55.9, 35.5, SHIGLEY},
    {"72", 65, 63.7, 41.5, SHIGLEY},
    {"72", 70, 68.9, 45.5, SHIGLEY},
    {"72", 75, 71.5, 49, SHIGLEY},
    {"72", 80, 80.6, 55, SHIGLEY},
    {"72", 85, 90.4, 63, SHIGLEY},
    {"72", 90, 106, 73.5, SHIGLEY},
    {"72", 95, 121, 85, SHIGLEY},
    {"2", 25, 16.8, 8.8, SHIGLEY},
    {"2", 30, 22.4, 12, SHIGLEY},
    {"2", 35, 31.9, 17.6, SHIGLEY},
    {"2", 40, 41.8, 24, SHIGLEY},
    {"2", 45, 44, 25.5, SHIGLEY},
    {"2", 50, 45.7, 27.5, SHIGLEY},
    {"2", 55, 56.1, 34, SHIGLEY},
    {"2", 60, 64.4, 43.1, SHIGLEY},
    {"2", 65, 76.5, 51.2, SHIGLEY},
    {"2", 70, 79.2, 51.2, SHIGLEY},
    {"2", 75, 93.1, 63.2, SHIGLEY},
    {"2", 80, 106, 69.4, SHIGLEY},
    {"2", 85, 119, 78.3, SHIGLEY},
    {"2", 90, 142, 100, SHIGLEY},
    {"2", 95, 165, 112, SHIGLEY},
    {"2", 100, 183, 125, SHIGLEY},
    {"2", 110, 229, 167, SHIGLEY},
    {"2", 120, 260, 183, SHIGLEY},
    {"2", 130, 270, 193, SHIGLEY},
    {"3", 25, 28.6, 15, SHIGLEY},
    {"3", 30, 36.9, 20, SHIGLEY},
    {"3", 35, 44.6, 27.1, SHIGLEY},
    {"3", 40, 56.1, 32.5, SHIGLEY},
    {"3", 45, 72.1, 45.4, SHIGLEY},
    {"3", 50, 88, 52, SHIGLEY},
    {"3", 55, 102, 67.2, SHIGLEY},
    {"3", 60, 123, 76.5, SHIGLEY},
    {"3", 65, 138, 85, SHIGLEY},
    {"3", 70, 151, 102, SHIGLEY},
    {"3", 75, 183, 125, SHIGLEY},
    {"3", 80, 190, 125, SHIGLEY},
    {"3", 85, 212, 149, SHIGLEY},
    {"3", 90, 242, 160, SHIGLEY},
    {"3", 95, 264, 189, SHIGLEY},
    {"3", 100, 303, 220, SHIGLEY},
    {"3", 110, 391, 304, SHIGLEY},
    {"3", 120, 457, 340, SHIGLEY},
    {"3", 130, 539, 408, SHIGLEY},
    {"23", 30, 31.5, 8.7, "from memory, rounded"},
    {"12", 10, 5.7, 1.8, KHURMI},
    {"12", 12, 5.85, 2, KHURMI},
    {"12", 15, 6, 2.16, KHURMI},
    {"12", 17, 7.65, 2.8, KHURMI},
    {"12", 20, 9.8, 3.9, KHURMI},
    {"12", 25, 9.8, 4.25, KHURMI},
    {"12", 30, 12, 5.6, KHURMI},
    {"12", 35, 17, 8, KHURMI},
    {"12", 40, 17.6, 9.15, KHURMI},
    {"12", 45, 18, 10.2, KHURMI},
    {"12", 50, 18, 10.8, KHURMI},
    {"12", 55, 20.8, 12.7, KHURMI},
    {"12", 60, 26.5, 16, KHURMI},
    {"13", 12, 9.15, 3, KHURMI},
    {"13", 15, 9.3, 3.35, KHURMI},
    {"13", 17, 11.2, 4.15, KHURMI},
    {"13", 20, 14, 5.5, KHURMI},
    {"13", 25, 19, 7.65, KHURMI},
    {"13", 30, 24.5, 10.2, KHURMI},
    {"13", 35, 30.5, 13.2, KHURMI},
    {"13", 40, 35.5, 16, KHURMI},
    {"13", 45, 42.5, 19.6, KHURMI},
    {"13", 50, 50, 24, KHURMI},
    {"13", 55, 58.5, 28.5, KHURMI},
    {"13", 60, 68, 33.5, KHURMI},
    {"73", 17, 11.6, 7.2, KHURMI},
    {"73", 20, 13.7, 8.3, KHURMI},
    {"73", 25, 19.3, 12.5, KHURMI},
    {"73", 30, 24.5, 17, KHURMI},
    {"73", 35, 28.5, 20.4, KHURMI},
    {"73", 40, 35.5, 25.5, KHURMI},
    {"73", 45, 45.5, 34, KHURMI},
    {"73", 50, 53, 40.5, KHURMI},
    {"73", 55, 62, 47.5, KHURMI},
    {"73", 60, 71, 55, KHURMI},
};

const char *wh_bearing_series(size_t series)
{
    return series < WH_BEARING_SERIES ? all_series[series].name : NULL;
}

static void find_ratings(const struct series *series, int bore, struct wh_bearing *ret)
{
    const char *name = series->name;
    if (series->type == WH_CYLINDRICAL_ROLLER) name += strcspn(name, "0123456789");
    for (size_t i = 0; i < sizeof ratings / sizeof *ratings; i++) {
        bool rolls = ratings[i].name[1] == '\0';
        if (ratings[i].bore != bore || strcmp(ratings[i].name, name) != 0) continue;
        if (rolls != (series->type == WH_CYLINDRICAL_ROLLER)) continue;
        ret->rating = ratings[i].rating * 1e3;
        ret->static_rating = ratings[i].static_rating * 1e3;
        ret->rating_source = ratings[i].source;
    }
}

bool wh_bearing_dimensions(size_t series, size_t bore, struct wh_bearing *ret)
{
    if (series >= WH_BEARING_SERIES || bore >= WH_BEARING_BORES) return false;
    const struct series *of = &all_series[series];
    const struct row *row = &rows[bore];
    int outside = row->outside[of->outside];
    double width = row->width[of->width];
    if (row->bore < of->least || row->bore > of->most || outside == 0 || width <= 0) return false;
    ret->type = of->type;
    ret->bore = row->bore * 1e-3;
    ret->outside = outside * 1e-3;
    ret->width = width * 1e-3;
    ret->rating = ret->static_rating = NAN;
    ret->rating_source = NULL;
    find_ratings(of, row->bore, ret);
    return true;
}

static bool is_digit(char c)
{
    return c >= '0' && c <= '9';
}

size_t wh_bearing_bore_read(const char *text, size_t n)
{
    static const short first[] = {10, 12, 15, 17};
    int bore;
    size_t i = 0;
    if (n < 1 || n > 2 || !is_digit(text[0]) || (n == 2 && !is_digit(text[1]))) return WH_BEARING_BORES;
    if (n == 1) {
        bore = text[0] - '0';
    } else {
        int code = 10 * (text[0] - '0') + text[1] - '0';
        bore = code < 4 ? first[code] : 5 * code;
    }
    while (i < WH_BEARING_BORES && rows[i].bore != bore) i++;
    return i;
}

size_t wh_bearing_bore_print(size_t bore, char *to, size_t room)
{
    int d = rows[bore].bore;
    if (d < 10) return (size_t)snprintf(to, room, "%d", d);
    int code = d >= 20 ? d / 5 : d == 10 ? 0 : d == 12 ? 1 : d == 15 ? 2 : 3;
    return (size_t)snprintf(to, room, "%02d", code);
}
