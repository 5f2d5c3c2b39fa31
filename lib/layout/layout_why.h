/* layout_why.h - says why a job cannot be laid out
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_LAYOUT_WHY_H
#define SW_LAYOUT_WHY_H

#include "layout/layout.h"

/* Each of these functions adds one fault to REPORT, at the file and line to change.  They return
 * SW_OK or SW_NO_MEMORY. */

/* No piece of LEVEL (an index) in STRETCH can go from post FROM to TO, the next post that may have
 * a join.  It is too long, or the posts between are out of line. */
sw_status sw_layout_why_path (const sw_job *job, const sw_stretch *stretch, size_t level, size_t from, size_t to,
                              sw_report *report);

/* The ends of LEVEL (an index) are set back so far that they leave no timber in BAY. */
sw_status sw_layout_why_empty (const sw_job *job, const sw_stretch *stretch, size_t level, size_t bay,
                               sw_report *report);

/* No length of SECTION can be had. */
sw_status sw_layout_why_none (const sw_job *job, size_t section, sw_report *report);

/* A fixed piece is longer than all that can be had of its section, or its length is not over 0. */
sw_status sw_layout_why_fixed (const sw_job *job, const sw_fixed *fixed, sw_report *report);

#endif
