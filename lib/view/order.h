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
  int64_t spare;    /* bought besides: as spare, and what packs, falling prices and least orders bring */
  int64_t asked;    /* of those: as spare */
  int64_t hand;     /* taken from hand; such a line may have nothing to buy */
  sw_length bought; /* (count + spare) lengths */
  sw_money each;    /* what one of so many costs */
  sw_money price;   /* of all; 0 where the job has no prices */
} sw_order_line;

/* What is bought at one yard. */
typedef struct sw_order_yard
{
  size_t yard; /* index into job->yards */
  int64_t count;
  int64_t spare;
  sw_length bought;
  sw_money timber;
  sw_money price; /* with delivery, without tax */
} sw_order_yard;

/* An item of fittings.csv that the plan needs some of. */
typedef struct sw_order_fitting
{
  size_t fitting; /* index into job->fittings: the item's first row */
  int64_t count;  /* as many as are needed */
  int64_t packs;  /* bought; of one where it comes singly */
  int64_t spare;  /* so many more come in them */
  sw_money price; /* 0 where it has none */
} sw_order_fitting;

typedef struct sw_order
{
  const sw_plan *plan;
  size_t line_count;
  sw_order_line *lines; /* by section, shortest first, then by yard */
  size_t yard_count;
  sw_order_yard *yards; /* those that something is ordered from; none where the job names none */
  size_t fitting_count;
  sw_order_fitting *fittings;
  int64_t count;        /* sums over the lines */
  int64_t spare;
  int64_t hand;
  sw_length bought;       /* spare included */
  sw_money timber;        /* spare included */
  sw_money delivery;      /* of all yards */
  sw_money fitting_price; /* of those that have a price */
  bool fittings_unpriced; /* some have none */
  sw_money price;         /* of it all, without tax */
} sw_order;

/* Count a plan's boards by stock.  The spare lengths of a section go on the line that orders most,
 * and of several on the longest.  A section of which nothing is bought gets none.  SW_FAILED: a sum
 * is out of range.  O(boards + stocks). */
sw_status sw_order_make (sw_order *out, const sw_plan *plan);
void sw_order_clear (sw_order *order);
/* Are there prices to print? */
bool sw_order_has_money (const sw_order *order);
/* order_fittings.c: a part of sw_order_make. */
sw_status sw_order_add_fittings (sw_order *order);
/* "post cap: 12", "nail 75: 3 packs of 100 (250 needed)" */
void sw_order_fitting_words (sw_text *out, const sw_order *order, const sw_order_fitting *line);

/* The order's price *EX and the tax *TAX on it, each rounded to a hundredth so that the printed sum
 * adds up.  False: out of range. */
bool sw_order_tax (const sw_order *order, sw_money *ex, sw_money *tax);
/* The same of PRICE. */
bool sw_order_tax_on (const sw_job *job, sw_money price, sw_money *ex, sw_money *tax);

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
/* The same of what is bought at one YARD; SW_NO_YARD: at any, named behind each length where there are several. */
bool sw_order_section_of (sw_text *out, const sw_order *order, size_t yard, size_t *first, sw_length *bought,
                          sw_money *price);

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
