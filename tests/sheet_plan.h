/* sheet_plan.h - a plan without a solver, for the tests of the sheet
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SHEET_PLAN_H
#define SHEET_PLAN_H

#include "plan.h"

/* A sound plan by rule of thumb: longest pieces, every second level begun with a short
 * one, longest pieces first into the longest stock.  Aborts where there is none.
 * Free it with sw_plan_free. */
sw_plan *sheet_plan (const sw_job *job);

#endif
