/* on_hand.h - timber that is there already: boards bought, offcuts, pieces cut
 *
 * A plan that goes on from another one keeps this list with its job.  Where
 * there is one it stands for all that is on hand, stock.csv's own column too.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_ON_HAND_H
#define SW_ON_HAND_H

#include "job/stock.h"
#include "job/yard.h"

typedef enum sw_timber_kind
{
  SW_TIMBER_BOARD,  /* as it came from the yard: its ends are docked like any board's */
  SW_TIMBER_OFFCUT, /* its ends are sawn: no end is docked */
  SW_TIMBER_PIECE   /* the same, and it was cut for a place */
} sw_timber_kind;

typedef struct sw_timber
{
  char *name;       /* "offcut of board 7", "front/top/1-3"; NULL: boards */
  sw_timber_kind kind;
  size_t section;
  sw_length length; /* that can be cut, square ends */
  int64_t count;    /* boards; else 1 */
  int64_t bought;   /* boards: so many have been bought so far, of those that the yard can give */
  size_t yard;      /* boards: of which yard; SW_NO_YARD: of none in particular */
  char *ends;       /* a piece whose ends are not square: how they are sawn; else NULL */
  sw_length cut;    /* of such a piece, to the long point; else 0 */
  sw_length take;   /* and what it took of its board */
  size_t stock;     /* row of the job's stock, once that is worked out */
  size_t line;      /* of the file; 0: none */
} sw_timber;

/* A fitting that is there. */
typedef struct sw_had
{
  char *item;
  int64_t count;
} sw_had;

typedef struct sw_on_hand
{
  bool given;       /* there is such a list, though it may be empty */
  size_t count;
  size_t capacity;
  sw_timber *items;
  size_t had_count;
  size_t had_capacity;
  sw_had *had;      /* fittings that were on earlier orders */
} sw_on_hand;

/* on-hand.csv.  As in every reader of this room faults go to REPORT. */
sw_status sw_on_hand_read (sw_on_hand *out, const sw_sections *sections, const sw_yards *yards, const sw_table *table,
                           sw_report *report);
/* The list as a table that the reader reads back to the same; lengths are exact. */
sw_status sw_on_hand_table (const sw_on_hand *list, const sw_sections *sections, const sw_yards *yards,
                            const sw_settings *settings, sw_table **out);
/* COUNT more of the fitting ITEM. */
sw_status sw_on_hand_have (sw_on_hand *list, const char *item, int64_t count);
/* How many of the fitting ITEM are there.  O(fittings). */
int64_t sw_on_hand_had (const sw_on_hand *list, const char *item);
/* TIMBER at the end of LIST, its texts copied. */
sw_status sw_on_hand_add (sw_on_hand *list, const sw_timber *timber);
/* Make the rows of STOCKS what LIST says: of each length what is on hand and
 * what the yard still has, a row of its own for what has sawn ends.  Does
 * nothing where no list was given.  O(timbers * rows). */
sw_status sw_on_hand_apply (sw_on_hand *list, sw_stocks *stocks, bool priced);
void sw_on_hand_clear (sw_on_hand *list);

#endif
