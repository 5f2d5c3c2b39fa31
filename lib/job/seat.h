/* seat.h - how timber sits on its posts, seen from above
 *
 * Timber on through levels is let into the outer face of its posts, nailed on
 * that face, or laid flat on top.  The place of its two faces decides how far
 * it reaches at a corner.  The housing is what the seat cuts out of a post.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_SEAT_H
#define SW_SEAT_H

#include "job/job.h"

/* The faces of timber on edge, or the edges of timber laid flat.  They are measured from the line
 * of post centres towards the outside, so that OUTER > INNER. */
typedef struct sw_faces
{
  sw_length outer;
  sw_length inner;
} sw_faces;

/* The faces of LEVEL's timber at a post POST_WIDTH wide.  A thickness or width that is not known
 * counts as 0; sw_job_check_levels refuses jobs in which that would matter. */
sw_faces sw_seat_faces (const sw_job *job, const sw_level *level, sw_length post_width);

/* How deep LEVEL is let into its posts.  0: it is not let in, or the depth is not known. */
sw_length sw_seat_check (const sw_job *job, const sw_level *level);

/* A post's size across the fence: --post-depth, or else the post's width along the fence. */
sw_length sw_seat_post_depth (const sw_job *job, sw_length post_width);

/* How timber of LEVEL ends where spans.csv says KIND.  On top of the posts there is no face to stop
 * at and no housing, so that both become flush. */
sw_end_kind sw_seat_end (const sw_level *level, sw_end_kind kind);

/* How far LEVEL reaches at END past the centre of its post, POST_WIDTH wide, away from its own bay; level measure. */
sw_length sw_seat_reach (const sw_job *job, const sw_level *level, const sw_end *end, sw_length post_width);

/* The height that LEVEL's timber takes: the width of timber on edge, the thickness of timber laid
 * flat.  0: not known. */
sw_length sw_seat_height (const sw_job *job, const sw_level *level);

/* What the saw goes through at a corner: the thickness of timber on edge, the width of timber laid
 * flat.  0: not known. */
sw_length sw_seat_sawn_through (const sw_job *job, const sw_level *level);

#endif
