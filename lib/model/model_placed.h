/* model_placed.h - what a plan that goes on from another adds to a model
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_MODEL_PLACED_H
#define SW_MODEL_PLACED_H

#include "model/model.h"

/* The need + 1 whose pieces a board of the stock row ROW is as it is; 0: there is none.  O(needs). */
uint32_t sw_model_whole_need (const sw_model *model, const sw_model_section *section, size_t row);
/* Mark in *PLACED where pieces of STRIP that are in their places join, and move it on past the strip's.  NULL: there
 * are none in the model. */
void sw_model_mark_placed (sw_model *model, sw_strip *strip, uint8_t **placed);
/* Set what a changed piece weighs: more than all joins. */
void sw_model_set_change (sw_model *model);

#endif
