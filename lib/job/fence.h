/* fence.h - runs of posts and bays
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_FENCE_H
#define SW_FENCE_H

#include "job/settings.h"
#include "csv/table.h"
#include "csv/value.h"

typedef enum sw_end_kind
{
  SW_END_ON,      /* timber runs on past the post or is joined on it */
  SW_END_FLUSH,
  SW_END_CENTRE,
  SW_END_FACE,
  SW_END_HOUSED,
  SW_END_MITRE,
  SW_END_REACH
} sw_end_kind;

/* How timber ends at one side of a post. */
typedef struct sw_end
{
  sw_end_kind kind;
  bool written;      /* the user wrote this end; else it is the default */
  sw_length length;  /* housed: the depth D, also where it is the default; reach: X */
  int32_t angle;     /* mitre: internal angle in thousandths of a degree, over 0, under 360000, not 180000 */
} sw_end;

typedef enum sw_join_rule { SW_JOIN_MAY, SW_JOIN_NEVER, SW_JOIN_ALWAYS } sw_join_rule;

/* How the row's stretch is to be divided into bays. */
typedef enum sw_divide
{
  SW_DIVIDE_NOT,   /* the row is a bay: its posts are set */
  SW_DIVIDE_EQUAL, /* equal bays */
  SW_DIVIDE_ENDS,  /* the bays at its ends shorter by what timber reaches past their posts' centres */
  SW_DIVIDE_ODD,   /* equal bays and one odd one at the far end */
  SW_DIVIDE_BEST   /* any of these */
} sw_divide;

/* Between post b and post b + 1 (from 0). */
typedef struct sw_bay
{
  char *label;         /* never NULL; by default "1", "2" ... in the run */
  sw_length measured;  /* as written */
  sw_length span;      /* centre to centre, level measure, > 0 */
  sw_length rise;      /* far post's height minus near post's */
  sw_length step;      /* how much higher the fence goes on at the far post; 0 at the run's last */
  bool opening;        /* a gate: no timber */
  sw_divide divide;    /* not a bay yet: `posts` divides it */
  sw_end start;        /* at the near post; SW_END_ON where timber runs on */
  sw_end finish;       /* at the far post */
  size_t line;         /* its line in spans.csv */
} sw_bay;

typedef struct sw_post
{
  sw_length width;     /* along the fence, > 0 */
  bool width_written;  /* spans.csv gives the width; else it is the setting post-width */
  sw_join_rule join;
} sw_post;

/* A straight line of bay_count bays and bay_count + 1 posts.  Its ends are resolved: no end is left
 * without a kind.
 *
 * - At an inner post both sides are SW_END_ON or neither is.  Neither is beside an opening or at a
 *   step.
 * - At the run's first and last post the end is never SW_END_ON.
 * - A bay that is an opening has SW_END_FACE on both sides. */
typedef struct sw_run
{
  char *name;
  size_t bay_count;
  sw_bay *bays;
  sw_post *posts;
  sw_length overall;   /* measured from outer face to outer face; 0: not given */
} sw_run;

typedef struct sw_fence
{
  size_t run_count;
  sw_run *runs;
} sw_fence;

/* Read the fence of spans.csv, with all defaults of spanwright-csv(5) filled in.  SW_REJECTED:
 * REPORT has the faults. */
sw_status sw_fence_read (sw_fence *out, const sw_table *table, const sw_settings *settings, sw_report *report);
void sw_fence_clear (sw_fence *fence);

/* The first row that is not a bay yet; false: there is none. */
bool sw_fence_undivided (const sw_fence *fence, size_t *run, size_t *bay);
/* "equal", "ends", "odd", "best"; "" for SW_DIVIDE_NOT. */
const char *sw_divide_name (sw_divide divide);

/* Where timber ends, from the post's centre away from its own bay, level
 * measure (the table of ends in spanwright-csv(5)); SW_END_ON: 0.  A mitre's
 * depends on how the timber sits on its post: sw_seat_reach; here it is 0. */
sw_length sw_end_reach (const sw_end *end, sw_length post_width);
/* The saw setting of a mitre, |180 - A| / 2 in thousandths of a degree.  0 for other ends. */
int32_t sw_end_saw_setting (const sw_end *end);
/* "flush", "housed" ...; "join" for SW_END_ON. */
const char *sw_end_name (sw_end_kind kind);

/* Read an end as written in spans.csv, at a post POST_WIDTH wide.  Failure: false, and EXPECTED is
 * a phrase that follows "expected ". */
bool sw_end_parse (const char *text, bool comma, sw_length post_width, sw_end *out, char expected[SW_PHRASE]);

/* Does timber end at POST of RUN, which is neither its first nor its last? */
bool sw_run_breaks (const sw_run *run, size_t post);

/* Give an end to each side of a post that has none, after the run's rows have been read: SW_END_ON
 * stands where nothing is written.  Afterwards the rules of sw_run hold. */
void sw_run_resolve_ends (sw_run *run);

/* The span between the centres of two posts, NEAR and FAR wide, whose faces are CLEAR apart: CLEAR
 * and half of each post, with half a nanometre rounded up. */
sw_length sw_span_of_clear (sw_length clear, sw_length near, sw_length far);

/* The largest error of a class II tape over READING: 0.3 mm and 0.2 mm a metre, metres rounded up.
 * Source: Directive 2014/32/EU (measuring instruments), Annex X, chapter I, accuracy class II. */
sw_length sw_tape_error (sw_length reading);

/* The distance of post POST from the run's first post, and its height over it. */
sw_length sw_run_distance (const sw_run *run, size_t post);
sw_length sw_run_height (const sw_run *run, size_t post);
/* How much higher levels stand beyond POST than at the run's beginning: the sum of its steps up to
 * and with that at POST. */
sw_length sw_run_step (const sw_run *run, size_t post);
/* The length along the slope of BAY that is LEVEL in level measure. */
sw_length sw_bay_on_slope (const sw_bay *bay, sw_length level);
/* Do all posts between FROM and TO stand within BOW of the straight line between these two?
 * Heights are measured plumb.  O(TO - FROM). */
bool sw_run_is_straight (const sw_run *run, size_t from, size_t to, sw_length bow);

#endif
