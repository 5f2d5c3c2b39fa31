/* plan_pieces.h - turns solved models into boards, pieces and places
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_PLAN_PIECES_H
#define SW_PLAN_PIECES_H

#include "plan/plan.h"
#include "solve/solve.h"

/* Set how PIECE of a through level ends and how it is sawn there, by its posts and those of STRETCH. */
void sw_piece_set_ends (const sw_job *job, const sw_stretch *stretch, sw_piece *piece);
/* Set how steep PIECE goes from post to post. */
void sw_piece_set_slope (const sw_job *job, sw_piece *piece);

/* plan_placed.c: count what pieces that are in their places do to the rules (the placed_ members of PLAN).  O(stretches
 * * levels * pieces) where there are such pieces. */
void sw_plan_count_placed (sw_plan *plan, const sw_layout *layout);

/* Fill PLAN, whose job is set, with pieces, boards and aligned joins.  SW_FAILED: the solution does
 * not cover the job, which is a defect of the program. */
sw_status sw_plan_fill (sw_plan *plan, const sw_layout *layout, const sw_model *models, const sw_solved *solved,
                        size_t model_count);

#endif
