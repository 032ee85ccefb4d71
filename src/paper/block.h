/* block.h - the blocks of a document, one function a kind; each adds its pieces to the work.
 *
 * A block is a map with the key `is`. What is missing is left out; an unknown name of a block, a sign or a signal word
 * is an error that names it. */
#ifndef WH_PAPER_BLOCK_H
#define WH_PAPER_BLOCK_H

#include "paper/piece.h"

/* Any block, by its `is`; errors are added to the work's list. */
void wh_paper_block(struct wh_paper_work *work, const struct wh_tree *block);

void wh_paper_block_caution(struct wh_paper_work *work, const struct wh_tree *block);
void wh_paper_block_hold(struct wh_paper_work *work, const struct wh_tree *block);
void wh_paper_block_signatures(struct wh_paper_work *work, const struct wh_tree *block);
void wh_paper_block_step(struct wh_paper_work *work, const struct wh_tree *block);
void wh_paper_block_turn(struct wh_paper_work *work, const struct wh_tree *block);
void wh_paper_block_wait(struct wh_paper_work *work, const struct wh_tree *block);
void wh_paper_block_phase(struct wh_paper_work *work, const struct wh_tree *block);
void wh_paper_block_table(struct wh_paper_work *work, const struct wh_tree *block);
void wh_paper_block_list(struct wh_paper_work *work, const struct wh_tree *block);
void wh_paper_block_tags(struct wh_paper_work *work, const struct wh_tree *block);
void wh_paper_block_pictures(struct wh_paper_work *work, const struct wh_tree *block);
void wh_paper_block_drawing(struct wh_paper_work *work, const struct wh_tree *block);

/* A list of cautions in one frame, put into a piece; gives the height with the room after it, 0 for none. */
double wh_paper_put_cautions(const struct wh_paper_work *work, struct wh_paper_piece *piece, double y, double width,
                             const struct wh_tree *list);

/* The right margin of a step: its figures, then its readings; gives their height. */
double wh_paper_put_margin(const struct wh_paper_work *work, struct wh_paper_piece *piece, double y,
                           const struct wh_tree *step);

/* The sign a map names under `sign`, NULL for none; an unknown one is an error. */
const struct wh_paper_sign *wh_paper_sign_of(const struct wh_paper_work *work, const struct wh_tree *map);

/* The texts of a list of texts, joined. */
const char *wh_paper_joined(const struct wh_paper_work *work, const struct wh_tree *list, const char *between);

/* The whole number a map names, or `otherwise`. */
int wh_paper_whole(const struct wh_tree *map, const char *key, int otherwise);

#endif
