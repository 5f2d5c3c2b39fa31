/* proof.h - how good a plan is, in words
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_PROOF_H
#define SW_PROOF_H

#include "plan/plan.h"
#include "base/text.h"

/* Add one line without a line feed.  It says "No plan can be cheaper ..." only if that is proved.
 * Otherwise it gives the bound, the gap and why the search ended.  If every price is 0, it says the
 * same of the bought length. */
void sw_proof_sentence (sw_text *out, const sw_plan *plan);
/* Add what the cost is made of, and what is proved of the joins, as one line.  It may be empty. */
void sw_proof_details (sw_text *out, const sw_plan *plan);
void sw_proof_text (const sw_plan *plan, size_t width, sw_text *out);

#endif
