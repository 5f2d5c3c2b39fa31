/* plan_why.h - says why a model has no plan
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_PLAN_WHY_H
#define SW_PLAN_WHY_H

#include "model/model.h"

/* MODEL provably has no plan: report what is missing, and how much of which section where that is
 * known exactly.  SW_OK or SW_NO_MEMORY. */
sw_status sw_plan_why (const sw_model *model, sw_report *report);

/* Is it certain without a search that limited stock does not make MODEL's pieces?  It is if metres
 * are missing, or pieces of some length or more.  *TOLD: yes, and REPORT says so for each such
 * section.  O(options) a section, for a bounded number of lengths. */
sw_status sw_plan_short (const sw_model *model, sw_report *report, bool *told);

#endif
