/* sheet_pack.c - which drawing goes where on which page
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "sheet/sheet_pack.h"

#include <math.h>
#include <stdlib.h>

#define HALVINGS 12 /* of the height that is looked for: far less than a point at the end */

/* One way through all items. */
typedef struct packing
{
  const sw_sheet_room *room;
  double bottom;
  size_t page;
  size_t column;
  double y;   /* of the row that is being filled */
  double x;   /* where its next item goes, from the column's left */
  double row; /* its height */
} packing;

static double
column_width (const sw_sheet_room *room)
{
  return (room->right - room->left + room->gap) / (double)room->columns - room->gap;
}

static double
first_y (const packing *p)
{
  return p->page == 0 ? p->room->begin : p->room->top;
}

/* The next column, or the first of the next page. */
static void
next_column (packing *p)
{
  p->column++;
  if (p->column == p->room->columns)
    {
      p->column = 0;
      p->page++;
    }
  p->y = first_y (p);
  p->x = p->row = 0;
}

/* In the row that is being filled. */
static void
put (packing *p, sw_sheet_item *item)
{
  item->placed = true;
  item->page = p->page;
  item->x = p->room->left + (column_width (p->room) + p->room->gap) * (double)p->column + p->x;
  item->y = p->y;
  p->x += item->width + p->room->gap;
  p->row = fmax (p->row, item->height);
}

/* The row has no room for the next item: perhaps for one of those after it, if it makes the row no higher. */
static void
fill_row (packing *p, sw_sheet_item *items, size_t count)
{
  const double width = column_width (p->room);
  for (size_t i = 0; i < count && i <= p->room->ahead; i++)
    if (!items[i].placed && !items[i].follows && !(i + 1 < count && items[i + 1].follows)
        && p->x + items[i].width <= width && items[i].height <= p->row)
      put (p, &items[i]);
}

/* A place for the first of COUNT items: in the row, else in a new row, else in a new column. */
static void
place (packing *p, sw_sheet_item *items, size_t count)
{
  if (p->x > 0 && p->x + items->width > column_width (p->room))
    {
      fill_row (p, items, count);
      p->y += p->row;
      p->x = p->row = 0;
    }
  /* The row is as high as its highest item, which may be the last.  The first page may have less room than others. */
  while (p->y + fmax (p->row, items->height) > p->bottom
         && (p->y > first_y (p) || p->x > 0 || first_y (p) > p->room->top))
    next_column (p);
  put (p, items);
}

static size_t
pack (sw_sheet_item *items, size_t count, const sw_sheet_room *room, double bottom)
{
  packing p = { .room = room, .bottom = bottom, .y = room->begin };
  for (size_t i = 0; i < count; i++)
    items[i].placed = false;
  for (size_t i = 0; i < count; i++)
    if (!items[i].placed)
      place (&p, items + i, count - i);
  return p.page + 1;
}

static int
by_index (const void *a, const void *b)
{
  const sw_sheet_item *x = a, *y = b;
  return x->index < y->index ? -1 : x->index > y->index;
}

static int
by_place (const void *a, const void *b)
{
  const sw_sheet_item *x = a, *y = b;
  if (x->page != y->page)
    return x->page < y->page ? -1 : 1;
  return by_index (a, b);
}

size_t
sw_sheet_pack (sw_sheet_item *items, size_t count, const sw_sheet_room *room)
{
  qsort (items, count, sizeof *items, by_index);
  const size_t pages = pack (items, count, room, room->bottom);
  double low = room->top, high = room->bottom;
  /* The last page would be left with what did not fit: the least height at which all goes on as many pages. */
  for (int i = 0; i < HALVINGS && (pages > 1 || room->columns > 1); i++)
    {
      const double middle = (low + high) / 2;
      if (pack (items, count, room, middle) > pages)
        low = middle;
      else
        high = middle;
    }
  pack (items, count, room, high);
  qsort (items, count, sizeof *items, by_place);
  return pages;
}
