/* on_hand.h - timber that is there already: boards bought, offcuts, pieces cut
 *
 * A plan that goes on from another one keeps this list with its job.  Where
 * there is such a list, it has all that is on hand, and the column in
 * stock.csv does not count.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_ON_HAND_H
#define SW_ON_HAND_H

#include "job/stock.h"
#include "job/yard.h"

typedef enum sw_timber_kind
{
  SW_TIMBER_BOARD,  /* as it came from the yard: its ends are trimmed like those of any board */
  SW_TIMBER_OFFCUT, /* its ends are sawn, so they are not trimmed */
  SW_TIMBER_PIECE   /* the same, and it was cut for some place */
} sw_timber_kind;

typedef struct sw_timber
{
  char *name;       /* "offcut of board 7", "front/top/1-3"; NULL: boards */
  sw_timber_kind kind;
  size_t section;
  sw_length length; /* that can be cut, with square ends */
  int64_t count;    /* of boards; of others 1 */
  int64_t bought;   /* of boards: how many of those that the yard can give have been bought so far */
  size_t yard;      /* of boards: the yard; SW_NO_YARD: no yard in particular */
  char *ends;       /* of a piece whose ends are not square: how they are sawn; else NULL */
  sw_length cut;    /* of such a piece: its length to the long point; else 0 */
  sw_length take;   /* of such a piece: what it took of its board */
  size_t stock;     /* index of the job's stock, once that is worked out */
  size_t line;      /* line of the file; 0: none */
} sw_timber;

/* A fitting that is there already. */
typedef struct sw_had
{
  char *item;
  int64_t count;
} sw_had;

typedef struct sw_on_hand
{
  bool given;       /* there is such a list, although it may be empty */
  size_t count;
  size_t capacity;
  sw_timber *items;
  size_t had_count;
  size_t had_capacity;
  sw_had *had;      /* fittings of earlier orders */
} sw_on_hand;

/* Read on-hand.csv.  As in every reader of this room, faults go to REPORT. */
sw_status sw_on_hand_read (sw_on_hand *out, const sw_sections *sections, const sw_yards *yards, const sw_table *table,
                           sw_report *report);
/* Write the list as a table from which the reader makes the same list; its lengths are exact. */
sw_status sw_on_hand_table (const sw_on_hand *list, const sw_sections *sections, const sw_yards *yards,
                            const sw_settings *settings, sw_table **out);
/* Add COUNT to the fittings ITEM that are there. */
sw_status sw_on_hand_have (sw_on_hand *list, const char *item, int64_t count);
/* How many fittings ITEM are there.  O(fittings). */
int64_t sw_on_hand_had (const sw_on_hand *list, const char *item);
/* Add TIMBER at the end of LIST; its texts are copied. */
sw_status sw_on_hand_add (sw_on_hand *list, const sw_timber *timber);
/* Change the rows of STOCKS to what LIST says: for each length, what is on hand and what the yard still has.  Timber
 * with sawn ends gets rows of its own.  Where no list was given, nothing is changed.  O(timbers * rows). */
sw_status sw_on_hand_apply (sw_on_hand *list, sw_stocks *stocks, bool priced);
void sw_on_hand_clear (sw_on_hand *list);

#endif
