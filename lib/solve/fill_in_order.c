/* fill_in_order.c - boards for a layout when the time is up: no choice, only an order
 *
 * Each board takes the longest piece that is left, then the longest that still
 * fits, again and again (first fit decreasing; D. S. Johnson et al., SIAM
 * Journal on Computing 3, 1974).  Of the boards, those on hand before the
 * cheapest a metre, a few are tried.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "solve/search.h"

#include <stdlib.h>

#include "base/memory.h"

/* Boards that are tried each time. */
#define MOST_TRIED 8

typedef struct quick
{
  sw_search *search;
  const sw_model_section *section;
  /* need, counted from the section's first: where to look for the next one of which something is left */
  size_t *next;
  sw_rated *ranked;
} quick;

/* The first need from N on of which something is left; need_count: none. */
static size_t
next_left (quick *q, size_t n)
{
  size_t found = n;
  while (found < q->section->need_count && q->search->left[q->section->need_first + found] == 0)
    found = q->next[found];
  /* So that the way is short the next time. */
  while (n < found)
    {
      size_t then = q->next[n];
      q->next[n] = found;
      n = then;
    }
  return found;
}

/* Into s->entries what goes on a board of STOCK; *COUNT of them.  What they take up. */
static int64_t
fill_board (quick *q, size_t stock, uint32_t *count)
{
  sw_search *s = q->search;
  int64_t room = s->model->stocks[stock].room;
  *count = 0;
  for (size_t from = 0;;)
    {
      size_t n = sw_model_largest_within (s->model, q->section, room) - q->section->need_first;
      n = next_left (q, n > from ? n : from);
      if (n == q->section->need_count)
        return s->model->stocks[stock].room - room;
      from = n + 1;
      size_t need = q->section->need_first + n;
      int64_t copies = room / s->model->needs[need].size;
      if (copies > s->left[need])
        copies = s->left[need];
      if (copies > UINT32_MAX)
        copies = UINT32_MAX;
      s->entries[(*count)++] = (sw_entry){ .need = (uint32_t)need, .copies = (uint32_t)copies };
      room -= copies * s->model->needs[need].size;
    }
}

/* Of the first boards of the ranking that take SIZE the one that costs least for what goes on it; SIZE_MAX: none is
 * left. */
static size_t
choose_board (quick *q, int64_t size)
{
  sw_rated best = { .stock = SIZE_MAX };
  int tried = 0;
  for (size_t i = 0; i < q->section->stock_count && tried < MOST_TRIED; i++)
    {
      sw_rated now = q->ranked[i];
      uint32_t count;
      if (q->search->stocked[now.stock] <= 0 || now.room < size)
        continue;
      now.room = fill_board (q, now.stock, &count);
      if (tried++ == 0 || sw_rated_order (&now, &best) < 0)
        best = now;
    }
  return best.stock;
}

sw_status
sw_search_fill_quickly (sw_search *s, size_t g, sw_solution *solution, bool *filled)
{
  const sw_model_section *section = &s->model->sections[g];
  quick q = { .search = s, .section = section };
  q.next = sw_alloc (section->need_count, sizeof *q.next);
  sw_status status = sw_search_rank (s, section, SW_AIM_COST, &q.ranked);
  if (q.next == NULL)
    status = SW_NO_MEMORY;
  for (size_t n = 0; status == SW_OK && n < section->need_count; n++)
    q.next[n] = n + 1;
  while (status == SW_OK && *filled)
    {
      size_t n = next_left (&q, 0);
      if (n == section->need_count)
        break;
      size_t stock = choose_board (&q, s->model->needs[section->need_first + n].size);
      *filled = stock != SIZE_MAX;
      if (!*filled)
        break;
      uint32_t count;
      fill_board (&q, stock, &count);
      status = sw_search_cut_boards (s, stock, s->entries, count, solution);
    }
  free (q.next);
  free (q.ranked);
  return status;
}
