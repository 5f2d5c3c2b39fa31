/* layout_why.h - saying why a job cannot be laid out
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_LAYOUT_WHY_H
#define SW_LAYOUT_WHY_H

#include "layout/layout.h"

/* Each adds one fault to REPORT, at the file and line to change.
 * SW_OK, or SW_NO_MEMORY. */

/* No piece of LEVEL (an index) in STRETCH can go from post FROM to the next post that may
 * have a join, TO: it is too long, or the posts between stand out of line. */
sw_status sw_layout_why_path (const sw_job *job, const sw_stretch *stretch, size_t level, size_t from, size_t to,
                              sw_report *report);

/* The ends that are set back leave nothing of LEVEL (an index) in BAY. */
sw_status sw_layout_why_empty (const sw_job *job, const sw_stretch *stretch, size_t level, size_t bay,
                               sw_report *report);

/* Not one length of SECTION can be had. */
sw_status sw_layout_why_none (const sw_job *job, size_t section, sw_report *report);

/* A fixed piece is too long for all that can be had of its section, or <= 0. */
sw_status sw_layout_why_fixed (const sw_job *job, const sw_fixed *fixed, sw_report *report);

#endif
