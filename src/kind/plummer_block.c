/* The cap of a split plummer block; its base stays on the frame. */
#include "kind/kind.h"

const struct wh_kind wh_plummer_block_kind = {
    .name = "plummer block", .title = "split plummer block (ISO 113)", .detail = "{size}", .part = true,
    .keys = {{"size", "text", NULL, "size of the block", true, 0},
             {"bore", "size", NULL, "bore for the bearing", true, 0},
             {"place", "words located|free", NULL, "whether its bearing is held endways", true, 0},
             {"grease", "text", NULL, "grease in the block", false, 0}},
    .steps = {{.when = WH_WHEN_STRIP,
               .words = "Wipe the joint, see that cap and base carry the same mark, and lift the {title} off. Caps are "
                        "not changed about: each was bored with its base."},
              {.when = WH_WHEN_REBUILD, .only = WH_ONLY_WITH_KEY, .key = "place=located",
               .words = "Its bearing is held endways: locating rings on both sides of the outer ring, all of them in."},
              {.when = WH_WHEN_REBUILD, .only = WH_ONLY_WITH_KEY, .key = "place=free",
               .words = "Its bearing is free endways: outer ring in the middle of the bore, alike room on both sides, "
                        "no locating ring."},
              {.when = WH_WHEN_REBUILD, .only = WH_ONLY_WITH_KEY, .key = "grease",
               .words = "Grease in the block: {grease}. A full block runs hot.", .consumable = "grease for the blocks"},
              {.when = WH_WHEN_REBUILD,
               .words = "Joint clean, marks together, seal halves in their grooves: set the {title} down on its base, "
                        "no gap at the joint."}}};
