/* sheet_pack.h - which drawing goes where on which page, worked out in figures; nothing is drawn
 *
 * Drawings keep their order.  They are put side by side in a row while there
 * is room, the rows one under the other, on one page after another.  One of
 * the next few drawings may be moved up to fill a row.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_SHEET_PACK_H
#define SW_SHEET_PACK_H

#include <stdbool.h>
#include <stddef.h>

/* A rectangle on paper, and its place; in points. */
typedef struct sw_sheet_item
{
  double width;
  double height;
  double head;  /* so much of its height is not needed at the head of a column */
  size_t index; /* which drawing it is */
  bool follows; /* it stays after the one before it; only others may be moved up */
  bool placed;
  size_t page; /* of the part, from 0 */
  double x;
  double y;
} sw_sheet_item;

/* The room on the pages. */
typedef struct sw_sheet_room
{
  double left;
  double right;
  double top;     /* of a page */
  double begin;   /* where the first page is free */
  double bottom;  /* of every page */
  double gap;     /* between two items side by side */
  size_t columns; /* columns of equal width, filled one after the other */
  size_t ahead;   /* how many items ahead are tried for the rest of a row */
} sw_sheet_room;

/* Place the COUNT items of ITEMS on as few pages as possible, filled as evenly as possible, and sort them by page, row
 * and place in the row.  Returns the number of pages.  An item that is too high or wide for a page has a row of its
 * own.  O(COUNT * ahead + COUNT log COUNT). */
size_t sw_sheet_pack (sw_sheet_item *items, size_t count, const sw_sheet_room *room);

#endif
