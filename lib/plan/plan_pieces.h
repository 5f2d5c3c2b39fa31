/* plan_pieces.h - boards, pieces and places of solved models
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_PLAN_PIECES_H
#define SW_PLAN_PIECES_H

#include "plan/plan.h"
#include "solve/solve.h"

/* Fill PLAN (its job set) with pieces, boards and aligned joins.
 * SW_FAILED: the solution does not cover the job (a defect). */
sw_status sw_plan_fill (sw_plan *plan, const sw_layout *layout, const sw_model *models, const sw_solved *solved,
                        size_t model_count);

#endif
