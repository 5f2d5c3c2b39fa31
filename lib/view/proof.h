/* proof.h - how good a plan is, in words
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_PROOF_H
#define SW_PROOF_H

#include "plan/plan.h"
#include "base/text.h"

/* "No plan can be cheaper ..." only where that is proved; else the bound, the
 * gap and why the search ended.  Where every price is 0 the same of the length
 * bought.  One line, no line feed. */
void sw_proof_sentence (sw_text *out, const sw_plan *plan);
/* What the cost is made of and what is proved of the joins; one line, may be empty. */
void sw_proof_details (sw_text *out, const sw_plan *plan);
void sw_proof_text (const sw_plan *plan, size_t width, sw_text *out);

#endif
