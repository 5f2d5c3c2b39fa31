/* sheet_boards.c - all boards: how they go into columns and on pages
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "sheet/sheet_board.h"

#include "base/memory.h"
#include "view/cuts.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#define BESIDE 22.0   /* between two columns */
#define ROOMY_PAGES 2 /* boards in one column may take so many pages */
#define MOST_COLUMNS 2
#define KEY 40.0       /* for the words about angles over the first board */
#define MOST_HIGH 0.35 /* part of a page; a pile that is higher is cut */

struct sw_sheet_boards
{
  size_t columns;
  size_t count;
  size_t capacity;
  sw_sheet_pile *piles;
  size_t item_capacity;
  sw_sheet_item *items;
  size_t pages;
  double least; /* what the first pile takes of a page */
};

void
sw_sheet_boards_free (struct sw_sheet_boards *boards)
{
  if (boards == NULL)
    return;
  free (boards->piles);
  free (boards->items);
  free (boards);
}

static sw_length
longest_board (const sw_plan *plan)
{
  sw_length longest = 0;
  for (size_t i = 0; i < plan->board_count; i++)
    {
      sw_length length = plan->job->stocks.items[plan->boards[i].stock].length;
      longest = length > longest ? length : longest;
    }
  return longest;
}

static double
column_width (const sw_sheet *sheet, size_t columns)
{
  return (sheet->right - sheet->left + BESIDE) / (double)columns - BESIDE;
}

static sw_sheet_stack
stack_of (sw_sheet *sheet, const sw_sheet_pile *pile, size_t columns, double left, sw_length longest)
{
  sw_sheet_stack s = { .sheet = sheet, .pile = pile, .board = &sheet->plan->boards[pile->first], .left = left };
  s.stock = &sheet->job->stocks.items[s.board->stock];
  s.right = left + column_width (sheet, columns);
  s.scale = (s.right - left - SW_SHEET_NUMBER - SW_SHEET_LEFT_OVER) / (double)longest;
  return s;
}

/* ---- Laying out ---- */

static void
add_pile (sw_sheet *sheet, struct sw_sheet_boards *boards, const sw_sheet_pile *pile, double height)
{
  void *piles = boards->piles, *items = boards->items;
  sw_status status = sw_grow (&piles, &boards->capacity, boards->count + 1, sizeof *boards->piles);
  boards->piles = piles;
  if (status == SW_OK)
    status = sw_grow (&items, &boards->item_capacity, boards->count + 1, sizeof *boards->items);
  boards->items = items;
  if (status != SW_OK)
    {
      sw_sheet_fail (sheet, status);
      return;
    }
  boards->piles[boards->count] = *pile;
  boards->items[boards->count] = (sw_sheet_item){ .width = column_width (sheet, boards->columns),
                                                  .height = height,
                                                  .head = pile->heading ? SW_SHEET_STOCK_ROW : 0,
                                                  .index = boards->count,
                                                  .follows = true };
  boards->count++;
}

/* So many rows of a pile never fit on a page. */
#define MOST_BOARDS 256

/* Add PILE in parts where it is too high: half of its boards, or half of one board's pieces, and so on; depth:
 * logarithmic. */
static void
add_in_parts (sw_sheet *sheet, struct sw_sheet_boards *boards, sw_sheet_pile *pile, sw_length longest)
{
  const double most = MOST_HIGH * (sheet->bottom - sheet->top);
  /* What is still to be added, from PILE's first board or cut on. */
  size_t count = pile->count, end = pile->cut_end;
  while (sheet->status == SW_OK)
    {
      /* More of them would be too high anyway, and each part would measure again all that is left. */
      if (pile->count > MOST_BOARDS)
        pile->count = MOST_BOARDS;
      sw_sheet_stack s = stack_of (sheet, pile, boards->columns, 0, longest);
      sw_sheet_pile_choose (&s, pile);
      const double height = sw_sheet_pile_height (&s);
      const bool whole = pile->count == 1 && pile->cut_end - pile->cut_first == 1;
      if (height > most && !whole)
        {
          if (pile->count > 1)
            pile->count = (pile->count + 1) / 2;
          else
            pile->cut_end = pile->cut_first + (pile->cut_end - pile->cut_first + 1) / 2;
          continue;
        }
      add_pile (sheet, boards, pile, height);
      pile->heading = false;
      if (pile->cut_end < end)
        {
          pile->continued = true;
          pile->cut_first = pile->cut_end;
          pile->cut_end = end;
          continue;
        }
      if (pile->count == count)
        return;
      count -= pile->count;
      pile->first += pile->count;
      pile->count = count;
      pile->cut_first = 0;
      pile->continued = false;
    }
}

/* Place the piles on pages of which the first is free from BEGIN on.  A line at the head of each column says what its
 * boards are of. */
static void
pack (const sw_sheet *sheet, struct sw_sheet_boards *boards, double begin)
{
  const sw_sheet_room room = { .left = sheet->left,
                               .right = sheet->right,
                               .top = sheet->top + SW_SHEET_STOCK_ROW,
                               .begin = begin + SW_SHEET_STOCK_ROW,
                               .bottom = sheet->bottom,
                               .gap = BESIDE,
                               .columns = boards->columns };
  boards->pages = sheet->status == SW_OK ? sw_sheet_pack (boards->items, boards->count, &room) : 0;
}

static bool
is_first_of_stock (const sw_plan *plan, size_t board)
{
  const sw_board *boards = plan->boards;
  return board == 0 || boards[board - 1].stock != boards[board].stock || boards[board - 1].hand != boards[board].hand
         || boards[board - 1].timber != boards[board].timber;
}

static void
lay_out (sw_sheet *sheet, struct sw_sheet_boards *boards, size_t columns)
{
  const sw_plan *plan = sheet->plan;
  const sw_length longest = longest_board (plan);
  const double most = 2.0 * SW_SHEET_MOST_PAGES * (sheet->bottom - sheet->top) * (double)columns;
  double height = 0;
  boards->columns = columns;
  boards->count = 0;
  for (size_t first = 0, count; first < plan->board_count && sheet->status == SW_OK && height < most; first += count)
    {
      const size_t before = boards->count;
      count = sw_cuts_alike (plan, first);
      sw_sheet_pile pile = { .first = first,
                             .count = count,
                             .cut_end = plan->boards[first].piece_count,
                             .heading = is_first_of_stock (plan, first) };
      add_in_parts (sheet, boards, &pile, longest);
      for (size_t i = before; i < boards->count; i++)
        height += boards->items[i].height;
    }
  pack (sheet, boards, sheet->top);
}

/* Use one column where that does not take many pages, because it can be read from farther away. */
static void
choose_columns (sw_sheet *sheet, struct sw_sheet_boards *boards)
{
  for (size_t columns = 1; columns <= MOST_COLUMNS && sheet->status == SW_OK; columns++)
    {
      lay_out (sheet, boards, columns);
      if (boards->pages <= ROOMY_PAGES)
        break;
    }
}

/* ---- Drawing ---- */

static void
draw_piles (sw_sheet *sheet, const struct sw_sheet_boards *boards)
{
  const sw_length longest = longest_board (sheet->plan);
  size_t page = 0;
  for (size_t i = 0; i < boards->count && sw_sheet_goes_on (sheet); i++)
    {
      const sw_sheet_item *item = &boards->items[i];
      for (; page < item->page; page++)
        if (!sw_sheet_next_page (sheet))
          return;
      const sw_sheet_stack s = stack_of (sheet, &boards->piles[i], boards->columns, item->x, longest);
      const bool begins = i == 0 || item->page != item[-1].page || item->x > item[-1].x + 1;
      /* The first pile of a column says what its boards are of, in the line that is kept for that. */
      if (begins && !boards->piles[i].heading)
        sw_sheet_pile_stock (&s, item->y - SW_SHEET_STOCK_ROW + 11, true);
      sw_sheet_pile_draw (&s, begins && boards->piles[i].heading ? item->y - SW_SHEET_STOCK_ROW : item->y);
      sheet->y = fmax (sheet->y, item->y + item->height - (begins ? item->head : 0));
    }
}

void
sw_sheet_boards (sw_sheet *sheet)
{
  const sw_job *job = sheet->job;
  if (sheet->plan->board_count == 0)
    return;
  char kerf[SW_LENGTH_TEXT], note[200];
  sw_view_length (job, job->settings->kerf, kerf);
  snprintf (note, sizeof note,
            "cut from left to right;  lengths in %s, to the long point;  saw cut %s;  hatched: waste;  key: page %zu",
            job->settings->inches ? "inches" : "mm", kerf, sheet->key_page);
  const bool first = sheet->laid_boards == NULL;
  if (first)
    {
      sheet->laid_boards = sw_alloc (1, sizeof *sheet->laid_boards);
      if (sheet->laid_boards == NULL)
        {
          sw_sheet_fail (sheet, SW_NO_MEMORY);
          return;
        }
      choose_columns (sheet, sheet->laid_boards);
      sheet->laid_boards->least
          = SW_SHEET_STOCK_ROW + KEY + (sheet->status == SW_OK ? sheet->laid_boards->items[0].height : 0);
    }
  sw_sheet_new_part (sheet, "Boards", note, "cuts.csv", sheet->laid_boards->least);
  sw_sheet_saw_key (sheet);
  if (first)
    pack (sheet, sheet->laid_boards, sheet->y);
  if (sheet->status == SW_OK)
    draw_piles (sheet, sheet->laid_boards);
}
