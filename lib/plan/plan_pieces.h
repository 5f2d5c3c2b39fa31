/* plan_pieces.h - turns solved models into boards, pieces and places
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_PLAN_PIECES_H
#define SW_PLAN_PIECES_H

#include "plan/plan.h"
#include "solve/solve.h"

/* Fill PLAN, whose job is set, with pieces, boards and aligned joins.  SW_FAILED: the solution does
 * not cover the job, which is a defect of the program. */
sw_status sw_plan_fill (sw_plan *plan, const sw_layout *layout, const sw_model *models, const sw_solved *solved,
                        size_t model_count);

#endif
