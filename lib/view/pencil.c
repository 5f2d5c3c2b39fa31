/* pencil.c - the short mark that is pencilled on a piece
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "view/pencil.h"

#include "base/memory.h"

#include <stdlib.h>
#include <string.h>

void
sw_pencil_run (size_t run, char out[SW_PENCIL_RUN])
{
  char reversed[SW_PENCIL_RUN];
  size_t count = 0;
  /* Letters count as a spreadsheet names its columns: AA follows Z, so there is no digit nought. */
  for (size_t n = run + 1; n > 0 && count < sizeof reversed - 1; n = (n - 1) / 26)
    reversed[count++] = (char)('A' + (n - 1) % 26);
  for (size_t i = 0; i < count; i++)
    out[i] = reversed[count - 1 - i];
  out[count] = '\0';
}

/* The number that follows BEFORE and a space in LABEL.  0: there is none, and LABEL ends there or goes on in brackets.
 * Under 0: LABEL does not begin with BEFORE. */
static long long
number_after (const char *label, const char *before)
{
  const size_t length = strlen (before);
  long long number = 0;
  if (strncmp (label, before, length) != 0)
    return -1;
  const char *rest = label + length;
  if (*rest == '\0' || strncmp (rest, " (", 2) == 0)
    return 0;
  if (*rest++ != ' ')
    return -1;
  for (; *rest >= '0' && *rest <= '9' && number < 100000000; rest++)
    number = 10 * number + *rest - '0';
  return *rest == '\0' || strncmp (rest, " (", 2) == 0 ? number : -1;
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
  /* The extras are the last pieces of the plan, in the order of their file.  A plan that goes on from another may lack
   * some of them. */
  size_t at = out->first_extra;
  for (size_t i = 0; i < extras->count; i++)
    {
      const size_t most = at + (size_t)extras->items[i].quantity;
      out->extras[i] = at;
      while (at < plan->piece_count && at < most && number_after (plan->pieces[at].label, extras->items[i].label) >= 0)
        at++;
    }
  return SW_OK;
}

void
sw_pencils_clear (sw_pencils *pencils)
{
  free (pencils->extras);
  pencils->extras = NULL;
}

/* The number at the end of a block's label, "front/plinth/block 2". */
static long long
block_number (const char *label)
{
  static const char word[] = "block";
  const char *last = NULL;
  for (const char *at = strstr (label, word); at != NULL; at = strstr (at + 1, word))
    last = at;
  return last != NULL ? number_after (last, word) : 0;
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
  const long long number
      = low < extras->count ? number_after (pencils->plan->pieces[index].label, extras->items[low].label) : 0;
  if (number > 0)
    sw_text_printf (out, ".%lld", number);
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
    sw_text_printf (out, "b%lld", block_number (piece->label));
  else
    sw_text_printf (out, "%zu-%zu", piece->from + 1, piece->to + 1);
}
