/* fingerprint.h - by which papers of one plan are told from those of another
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_FINGERPRINT_H
#define SW_FINGERPRINT_H

#include "plan/plan.h"
#include "base/text.h"

#define SW_FINGERPRINT 9 /* bytes of "3F7K-Q2M" */

/* The checksum of all that stands in the plan's four tables (order, cuts, fit,
 * setout), as seven figures and letters: the same plan has the same one on
 * every machine, whatever csv-style its tables are written in; another cut,
 * order or mark makes another one, but by chance in one of 4,000,000,000.
 * I, L, O and U are left out: in pencil they look like 1, 1, 0 and V.
 * O(cells of the tables). */
sw_status sw_fingerprint (const sw_plan *plan, char out[SW_FINGERPRINT]);

/* "Plan 3F7K-Q2M, revision 2, 3 March": the fingerprint, the revision where
 * the plan has one, the date that the settings give, to be printed. */
sw_status sw_fingerprint_line (sw_text *out, const sw_plan *plan);

#endif
