#include "paper/ink.h"
#include "paper/lining.h"
#include "paper/paper.h"

#include <math.h>
#include <string.h>

static const double MOST_WIDE = 180, MOST_HIGH = 240;
static const double CAPITAL = 0.737; /* height of a capital of the lettering, in its font size */

struct svg {
    struct wh_arena *arena;
    struct wh_text *out;
    struct wh_paper_fit fit;
};

static void add_escaped(struct wh_text *out, const char *text)
{
    for (; *text; text++) {
        switch (*text) {
        case '&':
            wh_text_add(out, "&amp;");
            break;
        case '<':
            wh_text_add(out, "&lt;");
            break;
        case '>':
            wh_text_add(out, "&gt;");
            break;
        case '"':
            wh_text_add(out, "&quot;");
            break;
        default:
            wh_text_add_slice(out, text, 1);
        }
    }
}

static const char *colour_words(struct wh_arena *arena, struct wh_paper_colour colour)
{
    return wh_arena_print(arena, "#%02x%02x%02x", (unsigned)lround(255 * colour.red),
                          (unsigned)lround(255 * colour.green), (unsigned)lround(255 * colour.blue));
}

/* Ink follows the page's own; greys are ink laid on thin, so that they follow it too. */
static void add_ink(struct svg *svg, const char *attribute, enum wh_ink ink)
{
    bool thin = ink == WH_INK_GREY || ink == WH_INK_PALE;
    const char *colour = ink == WH_INK_COPPER ? colour_words(svg->arena, wh_paper_colour(ink)) : "currentColor";

    wh_text_print(svg->out, " %s=\"%s\"", attribute, colour);
    if (thin) wh_text_print(svg->out, " %s-opacity=\"%.2f\"", attribute, 1 - wh_paper_colour(ink).red);
}

static void add_part(struct svg *svg, const struct wh_stroke *stroke)
{
    if (!stroke->part) return;
    wh_text_add(svg->out, " data-part=\"");
    add_escaped(svg->out, stroke->part);
    wh_text_add(svg->out, "\"");
}

static void add_pen(struct svg *svg, const struct wh_stroke *stroke)
{
    struct wh_paper_pen pen = wh_paper_pen(stroke->pen);

    if (stroke->pen == WH_PEN_NONE) return;
    add_ink(svg, "stroke", stroke->ink);
    wh_text_print(svg->out, " stroke-width=\"%.2f\" stroke-linejoin=\"round\" stroke-linecap=\"%s\"", pen.width,
                  pen.dashes ? "butt" : "round");
    for (int i = 0; i < pen.dashes; i++) {
        wh_text_print(svg->out, "%s%g", i ? " " : " stroke-dasharray=\"", pen.dash[i]);
    }
    if (pen.dashes) wh_text_add(svg->out, "\"");
}

static void add_fill(struct svg *svg, const struct wh_stroke *stroke)
{
    struct wh_paper_colour cover;

    if (stroke->fill == WH_FILL_SOLID) {
        add_ink(svg, "fill", stroke->ink);
    } else if (wh_paper_cover(stroke->fill, stroke->ink, &cover)) {
        wh_text_print(svg->out, " fill=\"%s\"", colour_words(svg->arena, cover));
    } else {
        wh_text_add(svg->out, " fill=\"none\"");
    }
}

static void add_lining(struct svg *svg, const struct wh_stroke *stroke)
{
    size_t n;
    const struct wh_point *outline = wh_paper_outline(svg->arena, &svg->fit, stroke, &n);
    struct wh_paper_segments lines = wh_paper_lines(svg->arena, stroke, outline, n);

    if (!lines.count) return;
    wh_text_add(svg->out, "<path d=\"");
    for (size_t i = 0; i < lines.count; i++) {
        wh_text_print(svg->out, "M%.2f %.2fL%.2f %.2f", lines.at[i].from.x, lines.at[i].from.y, lines.at[i].to.x,
                      lines.at[i].to.y);
    }
    wh_text_print(svg->out, "\" fill=\"none\" stroke-width=\"%.2f\"", WH_PAPER_HATCH_WIDTH);
    add_ink(svg, "stroke", stroke->ink);
    add_part(svg, stroke);
    wh_text_add(svg->out, "/>\n");
}

static void add_path(struct svg *svg, const struct wh_stroke *stroke)
{
    for (size_t i = 0; i < stroke->count; i++) {
        struct wh_point at = wh_paper_place(&svg->fit, stroke->at[i]);

        wh_text_print(svg->out, "%s%.2f %.2f", i ? "L" : "M", at.x, at.y);
    }
    if (stroke->is == WH_STROKE_AREA) wh_text_add(svg->out, "Z");
}

/* The cover goes below the lining, the outline above it; without a lining one element is both. */
static void add_shape(struct svg *svg, const struct wh_stroke *stroke, bool cover, bool outline)
{
    if (stroke->is == WH_STROKE_CIRCLE) {
        struct wh_point at = wh_paper_place(&svg->fit, *stroke->at);

        wh_text_print(svg->out, "<circle cx=\"%.2f\" cy=\"%.2f\" r=\"%.2f\"", at.x, at.y,
                      svg->fit.scale * stroke->radius);
    } else {
        wh_text_add(svg->out, "<path d=\"");
        add_path(svg, stroke);
        wh_text_add(svg->out, "\" fill-rule=\"evenodd\"");
    }
    if (cover) {
        add_fill(svg, stroke);
    } else {
        wh_text_add(svg->out, " fill=\"none\"");
    }
    if (outline) add_pen(svg, stroke);
    add_part(svg, stroke);
    wh_text_add(svg->out, "/>\n");
}

static void add_label(struct svg *svg, const struct wh_stroke *label)
{
    static const char *const ANCHORS[] = {"start", "middle", "end"};
    struct wh_point at = wh_paper_place(&svg->fit, *label->at);

    wh_text_print(svg->out, "<text transform=\"translate(%.2f %.2f)", at.x, at.y);
    if (fabs(label->turned) > 0) wh_text_print(svg->out, " rotate(%g)", -label->turned);
    wh_text_print(svg->out, "\" y=\"%.2f\" font-family=\"%s\" font-size=\"%.2f\" text-anchor=\"%s\"", label->height / 2,
                  WH_PAPER_LETTERING, label->height / CAPITAL, ANCHORS[label->anchor]);
    wh_text_print(svg->out,
                  " stroke=\"#ffffff\" stroke-width=\"%.2f\" stroke-linejoin=\"round\" paint-order=\"stroke\"",
                  WH_PAPER_HALO_WIDTH);
    add_ink(svg, "fill", label->ink);
    add_part(svg, label);
    wh_text_add(svg->out, ">");
    add_escaped(svg->out, label->text);
    wh_text_add(svg->out, "</text>\n");
}

static void add_stroke(struct svg *svg, const struct wh_stroke *stroke)
{
    bool lined = wh_paper_lining(stroke->fill)[0].spacing > 0;

    switch (stroke->is) {
    case WH_STROKE_LABEL:
        add_label(svg, stroke);
        return;
    case WH_STROKE_LINE:
        add_shape(svg, stroke, false, true);
        return;
    case WH_STROKE_AREA:
    case WH_STROKE_CIRCLE:
        break;
    }
    add_shape(svg, stroke, true, !lined);
    if (!lined) return;
    add_lining(svg, stroke);
    add_shape(svg, stroke, false, true);
}

enum wh_status wh_paper_svg(struct wh_arena *arena, const struct wh_scene *scene, struct wh_text *ret)
{
    struct svg svg = {arena, ret, wh_paper_fit(scene, MOST_WIDE, MOST_HIGH, 1)};

    wh_text_print(ret,
                  "<svg xmlns=\"http://www.w3.org/2000/svg\" role=\"img\" color=\"#000000\" width=\"%.2fmm\" "
                  "height=\"%.2fmm\" viewBox=\"0 0 %.2f %.2f\">\n<title>",
                  svg.fit.width, svg.fit.height, svg.fit.width, svg.fit.height);
    add_escaped(ret, scene->title);
    wh_text_add(ret, "</title>\n");
    for (size_t i = 0; i < scene->strokes.count; i++) add_stroke(&svg, &scene->strokes.at[i]);
    wh_text_add(ret, "</svg>\n");
    return WH_OK;
}
