/* fingerprint.h - the fingerprint, which tells the papers of one plan from those of another
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_FINGERPRINT_H
#define SW_FINGERPRINT_H

#include "plan/plan.h"
#include "base/text.h"

#define SW_FINGERPRINT 9 /* bytes of "3F7K-Q2M", with its end */

/* The checksum of the plan's four tables (order, cuts, fit, setout) as seven figures and letters.  The same plan has
 * the same fingerprint on every machine, whatever csv-style its tables are written in.  A changed cut, order or mark
 * changes the fingerprint, except by chance in one of 4,000,000,000 cases.  The letters I, L, O and U are not used,
 * because in pencil they look like 1, 1, 0 and V.  O(cells of the tables). */
sw_status sw_fingerprint (const sw_plan *plan, char out[SW_FINGERPRINT]);

/* Add "Plan 3F7K-Q2M, revision 2, 3 March": the fingerprint, the revision if the plan has one, and
 * the date of the settings. */
sw_status sw_fingerprint_line (sw_text *out, const sw_plan *plan);

#endif
