/* plan_why.h - why a model has no plan
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_PLAN_WHY_H
#define SW_PLAN_WHY_H

#include "model/model.h"

/* MODEL is proved to have no plan: tell REPORT what is lacking, and how much
 * of which section where that is known exactly. */
sw_status sw_plan_why (const sw_model *model, sw_report *report);

/* Is it plain without any search that stock with limits does not make MODEL's
 * pieces, by metres, or by pieces of some length and more?  *TOLD: yes, and
 * REPORT says so of each section that it is true of.  O(options) a section, and
 * that a length for a bounded number of lengths. */
sw_status sw_plan_short (const sw_model *model, sw_report *report, bool *told);

#endif
