/* paper_sample.h - a document with every kind of block, as a fitter would get it, to test and to look at. */
#ifndef WH_TESTS_PAPER_SAMPLE_H
#define WH_TESTS_PAPER_SAMPLE_H

#include "base/scene.h"
#include "base/tree.h"

/* The document, on "A4" or "Letter". */
struct wh_tree *paper_sample(struct wh_arena *arena, const char *paper);

/* A section of a spindle in its housing: every fill, pen and anchor. */
struct wh_scene *paper_sample_section(struct wh_arena *arena);

#endif
