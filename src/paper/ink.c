#include "paper/ink.h"

const double WH_PAPER_HATCH_WIDTH = 0.18;
const double WH_PAPER_HALO_WIDTH = 1.3;
const char WH_PAPER_LETTERING[] = "osifont, DejaVu Sans, sans-serif";
const char WH_PAPER_TEXT_FACE[] = "Andika, DejaVu Sans, sans-serif";

struct wh_paper_colour wh_paper_colour(enum wh_ink ink)
{
    static const struct wh_paper_colour COLOURS[] = {
        [WH_INK] = {0, 0, 0},
        [WH_INK_GREY] = {0.38, 0.38, 0.38},
        [WH_INK_PALE] = {0.74, 0.74, 0.74},
        [WH_INK_COPPER] = {0.702, 0.361, 0.180},
    };

    return COLOURS[ink];
}

/* Dashes are counted in line widths by ISO 128-2: a dash 12, a long dash 24, a gap 3, a dot half a width. */
struct wh_paper_pen wh_paper_pen(enum wh_pen pen)
{
    static const struct wh_paper_pen PENS[] = {
        [WH_PEN_NONE] = {0},
        [WH_PEN_WIDE] = {.width = 0.5},
        [WH_PEN_NARROW] = {.width = 0.25},
        [WH_PEN_DASHED] = {.width = 0.25, .dash = {3, 0.75}, .dashes = 2},
        [WH_PEN_CHAIN] = {.width = 0.25, .dash = {6, 0.75, 0.125, 0.75}, .dashes = 4},
        [WH_PEN_GONE] = {.width = 0.25, .dash = {6, 0.75, 0.125, 0.75, 0.125, 0.75}, .dashes = 6},
        [WH_PEN_DOTTED] = {.width = 0.25, .dash = {0.125, 0.75}, .dashes = 2},
    };

    return PENS[pen];
}

const struct wh_paper_lining *wh_paper_lining(enum wh_fill fill)
{
    static const struct wh_paper_lining LININGS[][WH_PAPER_LININGS] = {
        [WH_FILL_NONE] = {{0, 0}, {0, 0}},          [WH_FILL_PAPER] = {{0, 0}, {0, 0}},
        [WH_FILL_HATCH_A] = {{45, 1.4}, {0, 0}},    [WH_FILL_HATCH_B] = {{135, 1.4}, {0, 0}},
        [WH_FILL_HATCH_WIDE] = {{45, 2.6}, {0, 0}}, [WH_FILL_CROSS] = {{45, 1.1}, {135, 1.1}},
        [WH_FILL_SOLID] = {{0, 0}, {0, 0}},         [WH_FILL_TINT] = {{0, 0}, {0, 0}},
    };

    return LININGS[fill];
}

bool wh_paper_cover(enum wh_fill fill, enum wh_ink ink, struct wh_paper_colour *ret)
{
    switch (fill) {
    case WH_FILL_NONE:
        return false;
    case WH_FILL_SOLID:
        *ret = wh_paper_colour(ink);
        return true;
    case WH_FILL_TINT:
        *ret = (struct wh_paper_colour){0.965, 0.902, 0.863};
        return true;
    case WH_FILL_PAPER:
    case WH_FILL_HATCH_A:
    case WH_FILL_HATCH_B:
    case WH_FILL_HATCH_WIDE:
    case WH_FILL_CROSS:
        break;
    }
    *ret = (struct wh_paper_colour){1, 1, 1};
    return true;
}
