/* model_placed.h - what a plan that goes on from another adds to a model
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_MODEL_PLACED_H
#define SW_MODEL_PLACED_H

#include "model/model.h"

/* The need + 1 of the pieces that a board of the job's stock ROW can serve as without a cut; 0: there is none.
 * O(needs). */
uint32_t sw_model_whole_need (const sw_model *model, const sw_model_section *section, size_t row);
/* Mark where pieces of STRIP that are in their places join. */
sw_status sw_model_mark_placed (const sw_model *model, sw_strip *strip);
/* Set the weight of a changed piece: more than all joins together. */
void sw_model_set_change (sw_model *model);

#endif
