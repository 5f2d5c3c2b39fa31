/* model_placed.h - what a plan that goes on from another adds to a model
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_MODEL_PLACED_H
#define SW_MODEL_PLACED_H

#include "model/model.h"

/* The need + 1 of the pieces that a board of the job's stock ROW is without a cut; 0: there is none.  O(needs). */
uint32_t sw_model_whole_need (const sw_model *model, const sw_model_section *section, size_t row);
/* Mark in *PLACED where pieces of STRIP that are in their places join, and move *PLACED on to the next strip's marks.
 * NULL: the model has no such pieces. */
void sw_model_mark_placed (sw_model *model, sw_strip *strip, uint8_t **placed);
/* Set the weight of a changed piece: more than all joins together. */
void sw_model_set_change (sw_model *model);

#endif
