/* paper_sample.h - a document with every kind of block, as a fitter would get it, to test and to look at. */
#ifndef WH_TESTS_PAPER_SAMPLE_H
#define WH_TESTS_PAPER_SAMPLE_H

#include "base/scene.h"
#include "base/tree.h"

/* The document, on "A4" or "Letter". */
struct wh_tree *paper_sample(struct wh_arena *arena, const char *paper);

/* A section of a spindle in its housing: every fill, pen and anchor. */
struct wh_scene *paper_sample_section(struct wh_arena *arena);

/* A JPEG and a PNG of 2 x 1 dots. */
extern const char sample_jpeg[], sample_png[];
extern const size_t sample_jpeg_size, sample_png_size;

/* A sheet with photos, of them one that cannot be printed. */
void paper_sample_photos(struct wh_arena *arena, struct wh_tree *sheets);

#endif
