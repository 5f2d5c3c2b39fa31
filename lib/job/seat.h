/* seat.h - how timber sits on its posts, seen from above
 *
 * Timber on through levels is let into the outer face of its posts, nailed on
 * that face, or laid flat on top.  Where its two faces lie decides how far it
 * reaches at a corner; what the seat cuts out of a post is its housing.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_SEAT_H
#define SW_SEAT_H

#include "job/job.h"

/* Faces (of timber laid flat: edges), measured from the line of post centres
 * towards the outside; OUTER > INNER. */
typedef struct sw_faces
{
  sw_length outer;
  sw_length inner;
} sw_faces;

/* Faces of LEVEL's timber at a post POST_WIDTH wide.  A thickness or width
 * that is not known counts as 0; sw_job_check_seats refuses jobs to which
 * that would make a difference. */
sw_faces sw_seat_faces (const sw_job *job, const sw_level *level, sw_length post_width);

/* How deep LEVEL is let into its posts; 0: not at all, or not known. */
sw_length sw_seat_check (const sw_job *job, const sw_level *level);

/* A post's size across the fence: --post-depth, or else its width along it. */
sw_length sw_seat_post_depth (const sw_job *job, sw_length post_width);

/* How timber of LEVEL ends where spans.csv says KIND: on top of the posts
 * there is no face to stop at and no housing, so both mean flush. */
sw_end_kind sw_seat_end (const sw_level *level, sw_end_kind kind);

/* How far END reaches past the centre of its post POST_WIDTH wide, away from
 * its own bay, for LEVEL; level measure. */
sw_length sw_seat_reach (const sw_job *job, const sw_level *level, const sw_end *end, sw_length post_width);

/* How high LEVEL's timber stands: its width, of timber laid flat its thickness; 0: not known. */
sw_length sw_seat_height (const sw_job *job, const sw_level *level);

/* What the saw goes through at a corner: the thickness of timber on edge, the width of timber laid flat; 0: not known. */
sw_length sw_seat_sawn_through (const sw_job *job, const sw_level *level);

#endif
