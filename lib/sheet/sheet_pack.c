/* sheet_pack.c - which drawing goes where on which page
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "sheet/sheet_pack.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>

#define SHARING 6   /* so many pages at the end share what the last one lacks */
#define HALVINGS 12 /* halvings of the height that is looked for, after which it is known to far less than a point */

/* One way to place all items. */
typedef struct packing
{
  const sw_sheet_room *room;
  double bottom; /* of the pages before LATE */
  size_t late;
  double late_bottom; /* of the pages from LATE on */
  size_t page;
  size_t column;
  double y;   /* of the row that is being filled */
  double x;   /* where its next item goes, from the left of the column */
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

/* Go to the next column, or to the first of the next page. */
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

static double
bottom (const packing *p)
{
  return p->page >= p->late ? p->late_bottom : p->bottom;
}

/* The height that ITEM takes where the next item goes. */
static double
height_here (const packing *p, const sw_sheet_item *item)
{
  return item->height - (p->y <= first_y (p) && p->x <= 0 ? item->head : 0);
}

/* Put ITEM into the row that is being filled. */
static void
put (packing *p, sw_sheet_item *item)
{
  const double height = height_here (p, item);
  item->placed = true;
  item->page = p->page;
  item->x = p->room->left + (column_width (p->room) + p->room->gap) * (double)p->column + p->x;
  item->y = p->y;
  p->x += item->width + p->room->gap;
  p->row = fmax (p->row, height);
}

/* The row has no room for the next item.  Put some of the items after it there, where they do not make the row
 * higher. */
static void
fill_row (packing *p, sw_sheet_item *items, size_t count)
{
  const double width = column_width (p->room);
  for (size_t i = 0; i < count && i <= p->room->ahead; i++)
    if (!items[i].placed && !items[i].follows && !(i + 1 < count && items[i + 1].follows)
        && p->x + items[i].width <= width && items[i].height <= p->row)
      put (p, &items[i]);
}

/* Place the first of COUNT items: in the row, or in a new row, or in a new column. */
static void
place (packing *p, sw_sheet_item *items, size_t count)
{
  if (p->x > 0 && p->x + items->width > column_width (p->room))
    {
      fill_row (p, items, count);
      p->y += p->row;
      p->x = p->row = 0;
    }
  /* A row is as high as its highest item, which may be this one.  The first page may have less room than others. */
  while (p->y + fmax (p->row, height_here (p, items)) > bottom (p)
         && (p->y > first_y (p) || p->x > 0 || first_y (p) > p->room->top))
    next_column (p);
  put (p, items);
}

/* Place all items; START says how high pages may be filled.  Returns the number of pages. */
static size_t
pack (sw_sheet_item *items, size_t count, const packing *start)
{
  packing p = *start;
  p.y = p.room->begin;
  for (size_t i = 0; i < count; i++)
    items[i].placed = false;
  for (size_t i = 0; i < count; i++)
    if (!items[i].placed)
      place (&p, items + i, count - i);
  return p.page + 1;
}

/* Lower *BOTTOM, which belongs to START, as far as all items still go on PAGES pages. */
static void
lower (sw_sheet_item *items, size_t count, const packing *start, double *bottom, size_t pages)
{
  double low = start->room->top, high = *bottom;
  pack (items, count, start);
  const size_t first = items[0].page;
  for (int i = 0; i < HALVINGS; i++)
    {
      *bottom = (low + high) / 2;
      /* A first page that has less room than others must not stay empty. */
      if (pack (items, count, start) > pages || items[0].page > first)
        low = *bottom;
      else
        high = *bottom;
    }
  *bottom = high;
}

/* The area of the items on the last page, a measure of how full it is. */
static double
last_page (sw_sheet_item *items, size_t count, const packing *start)
{
  const size_t last = pack (items, count, start) - 1;
  double filled = 0;
  for (size_t i = 0; i < count; i++)
    if (items[i].page == last)
      filled += items[i].height * items[i].width;
  return filled;
}

/* The last page may still have little on it, so the pages before it give it some of their items. */
static void
share (sw_sheet_item *items, size_t count, packing *best, size_t pages)
{
  double most = last_page (items, count, best);
  for (size_t late = pages > SHARING ? pages - SHARING : 0; late < pages; late++)
    {
      packing other = *best;
      other.late = late;
      other.late_bottom = other.bottom;
      lower (items, count, &other, &other.late_bottom, pages);
      const double filled = last_page (items, count, &other);
      if (filled > most * 1.01)
        {
          most = filled;
          *best = other;
        }
    }
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
  packing start = { .room = room, .bottom = room->bottom, .late = SIZE_MAX };
  qsort (items, count, sizeof *items, by_index);
  const size_t pages = pack (items, count, &start);
  /* Without this the last page would get only what is left.  Find the least height at which all items still go on as
   * many pages. */
  if (count > 0 && (pages > 1 || room->columns > 1))
    lower (items, count, &start, &start.bottom, pages);
  if (pages > 1)
    share (items, count, &start, pages);
  pack (items, count, &start);
  qsort (items, count, sizeof *items, by_place);
  return pages;
}
