/* sheet_pack.h - which drawing goes where on which page: figures only, nothing is drawn
 *
 * Drawings stand in their order: side by side in a row while there is room,
 * the rows one under the other, on one page after another.  One of the next
 * few may be moved up to fill a row.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_SHEET_PACK_H
#define SW_SHEET_PACK_H

#include <stdbool.h>
#include <stddef.h>

/* A rectangle on paper and its place; points. */
typedef struct sw_sheet_item
{
  double width;
  double height;
  double head;  /* so much of it is not needed at the head of a column */
  size_t index; /* of the drawing */
  bool follows; /* it stands after the one before it: only others may be moved up */
  bool placed;
  size_t page; /* from 0, of the part */
  double x;
  double y;
} sw_sheet_item;

/* Where there is room. */
typedef struct sw_sheet_room
{
  double left;
  double right;
  double top;     /* of a page */
  double begin;   /* of the first page */
  double bottom;  /* of every page */
  double gap;     /* between two side by side */
  size_t columns; /* of equal width, filled one after the other */
  size_t ahead;   /* so many items ahead are tried for the rest of a row */
} sw_sheet_room;

/* Give the COUNT items of ITEMS their places, on as few pages as that takes,
 * and those as evenly filled as can be; they are sorted by page, row, place in
 * it.  Returns the number of pages.  What is too high or wide for a page has
 * a row of its own.  O(COUNT * ahead + COUNT log COUNT). */
size_t sw_sheet_pack (sw_sheet_item *items, size_t count, const sw_sheet_room *room);

#endif
