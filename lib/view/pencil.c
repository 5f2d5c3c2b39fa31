/* pencil.c - the short mark that is pencilled on a piece
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "view/pencil.h"

#include "base/memory.h"

#include <stdlib.h>

void
sw_pencil_run (size_t run, char out[SW_PENCIL_RUN])
{
  char reversed[SW_PENCIL_RUN];
  size_t count = 0;
  /* Letters as a spreadsheet names its columns: after Z comes AA, so there is no nought. */
  for (size_t n = run + 1; n > 0 && count < sizeof reversed - 1; n = (n - 1) / 26)
    reversed[count++] = (char)('A' + (n - 1) % 26);
  for (size_t i = 0; i < count; i++)
    out[i] = reversed[count - 1 - i];
  out[count] = '\0';
}

sw_status
sw_pencils_make (sw_pencils *out, const sw_plan *plan)
{
  const sw_extras *extras = &plan->job->extras;
  *out = (sw_pencils){ .plan = plan, .extras = sw_alloc (extras->count, sizeof *out->extras) };
  if (out->extras == NULL)
    return SW_NO_MEMORY;
  while (out->first_extra < plan->piece_count && plan->pieces[out->first_extra].kind != SW_PIECE_EXTRA)
    out->first_extra++;
  /* The extras are the plan's last pieces, in the order of their file. */
  size_t at = out->first_extra;
  for (size_t i = 0; i < extras->count; i++)
    {
      out->extras[i] = at;
      at += (size_t)extras->items[i].quantity;
    }
  return SW_OK;
}

void
sw_pencils_clear (sw_pencils *pencils)
{
  free (pencils->extras);
  pencils->extras = NULL;
}

/* Blocks of one run and level stand together, so the mark counts from the first of them. */
static size_t
block_number (const sw_plan *plan, size_t index)
{
  const sw_piece *pieces = plan->pieces;
  size_t low = 0, high = index;
  /* The first piece from which on all, up to INDEX, are blocks of this run and level: they stand by run, then level. */
  while (low < high)
    {
      size_t middle = low + (high - low) / 2;
      const sw_piece *p = &pieces[middle];
      bool before = p->kind != SW_PIECE_BLOCK || p->run < pieces[index].run
                    || (p->run == pieces[index].run && p->level < pieces[index].level);
      if (before)
        low = middle + 1;
      else
        high = middle;
    }
  return index - low + 1;
}

static void
add_extra (sw_text *out, const sw_pencils *pencils, size_t index)
{
  const sw_extras *extras = &pencils->plan->job->extras;
  size_t low = 0, high = extras->count;
  while (high - low > 1)
    {
      size_t middle = low + (high - low) / 2;
      if (pencils->extras[middle] <= index)
        low = middle;
      else
        high = middle;
    }
  sw_text_printf (out, "+%zu", low + 1);
  if (low < extras->count && extras->items[low].quantity > 1)
    sw_text_printf (out, ".%zu", index - pencils->extras[low] + 1);
}

void
sw_pencil_add (sw_text *out, const sw_pencils *pencils, size_t index)
{
  const sw_piece *piece = &pencils->plan->pieces[index];
  char run[SW_PENCIL_RUN];
  if (piece->kind == SW_PIECE_EXTRA)
    {
      add_extra (out, pencils, index);
      return;
    }
  sw_pencil_run (piece->run, run);
  sw_text_printf (out, "%s%zu ", run, piece->level + 1);
  if (piece->kind == SW_PIECE_BLOCK)
    sw_text_printf (out, "b%zu", block_number (pencils->plan, index));
  else
    sw_text_printf (out, "%zu-%zu", piece->from + 1, piece->to + 1);
}
