/* order.h - what to ask the yard for
 *
 * A text is at most WIDTH columns wide where that can be done.  Functions that
 * return sw_status return SW_OK, SW_NO_MEMORY, or SW_FAILED when a sum of the
 * order is out of range.  The others leave a failed allocation in OUT.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_ORDER_H
#define SW_ORDER_H

#include "plan/plan.h"
#include "base/text.h"

/* The boards of one stock. */
typedef struct sw_order_line
{
  size_t stock; /* index of job->stocks */
  size_t section;
  int64_t count;    /* bought for the plan */
  int64_t spare;    /* bought in addition */
  int64_t hand;     /* taken from hand; such a line may have nothing to buy */
  sw_length bought; /* length of the count and the spare together */
  sw_money price;   /* price of the same; 0 if the job has no prices */
} sw_order_line;

typedef struct sw_order
{
  const sw_plan *plan;
  size_t line_count;
  sw_order_line *lines; /* sorted by section, shortest first */
  int64_t count;        /* sums over the lines */
  int64_t spare;
  int64_t hand;
  sw_length bought; /* with the spare lengths */
  sw_money price;   /* with the spare lengths, without tax */
} sw_order;

/* Count a plan's boards by stock.  The spare lengths of a section go on the line that orders most,
 * and of several on the longest.  A section of which nothing is bought gets none.  SW_FAILED: a sum
 * is out of range.  O(boards + stocks). */
sw_status sw_order_make (sw_order *out, const sw_plan *plan);
void sw_order_clear (sw_order *order);

/* The order's price *EX and the tax *TAX on it, each rounded to a hundredth so that the printed sum
 * adds up.  False: out of range. */
bool sw_order_tax (const sw_order *order, sw_money *ex, sw_money *tax);

/* Add what the yard calls SECTION: its description, or its name if it has none.  The size stands in
 * front if that text names none.  The size is the section's name if this is a size, or else its
 * width and thickness. */
void sw_order_title (sw_text *out, const sw_job *job, size_t section);
/* Add "12/4.8" or, with inches, "12 of 16 ft", so that the count never reads as part of the
 * section.  Its spaces are hard (figures.h), here and below. */
void sw_order_count (sw_text *out, const sw_order *order, const sw_order_line *line);
/* Find the next section, from line *FIRST on, whose spare lengths are not ordered because none of
 * it is bought, and say so in OUT.  *FIRST becomes the line after it.  False: there is none. */
bool sw_order_no_spare (sw_text *out, const sw_order *order, size_t *first);
/* Find the next line, from *FIRST on, that orders more than the yard has, and say so in OUT.  Only
 * spare lengths can cause that.  *FIRST becomes the line after it.  False: there is none. */
bool sw_order_short (sw_text *out, const sw_order *order, size_t *first);
/* Add a section's lines in the yard's notation, "90x45 H3 primed pine: 12/4.8, 3/5.4".  *FIRST is
 * the section's first line and becomes the one after its last.  False: none of it is bought. */
bool sw_order_section (sw_text *out, const sw_order *order, size_t *first, sw_length *bought, sw_money *price);

sw_status sw_order_table (const sw_plan *plan, sw_table **out);
/* The texts SW_TEXT_ORDER and, further below, SW_TEXT_MESSAGE. */
sw_status sw_order_text (const sw_plan *plan, size_t width, sw_text *out);
/* The text SW_TEXT_AGAIN: only what is to be ordered. */
sw_status sw_order_again (const sw_plan *plan, size_t width, sw_text *out);
/* The text SW_TEXT_ORDER without its heading. */
sw_status sw_order_lines (const sw_plan *plan, size_t width, sw_text *out);
sw_status sw_order_message (const sw_plan *plan, sw_text *out);
/* The part of SW_TEXT_ORDER on what is bought, used and wasted, and on how joins stand. */
sw_status sw_waste_text (const sw_plan *plan, size_t width, sw_text *out);

#endif
