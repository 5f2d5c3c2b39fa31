/* verify_site.c - what a plan that goes on from another one found in its place and on hand
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "base/memory.h"
#include "verify/verify.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

const sw_placed *
sw_verify_fixed (const sw_verifier *verifier, size_t run, size_t level, size_t from, size_t to)
{
  const sw_in_place *list = &verifier->job->in_place;
  for (size_t i = 0; i < list->count; i++)
    {
      const sw_placed *p = &list->items[i];
      if (p->kind == SW_PLACED_TIMBER && p->run == run && p->level == level && p->from == from && p->to == to)
        return p;
    }
  return NULL;
}

bool
sw_verify_stays_joined (const sw_verifier *verifier, size_t run, size_t level, size_t post)
{
  const sw_in_place *list = &verifier->job->in_place;
  for (size_t i = 0; i < list->count; i++)
    {
      const sw_placed *p = &list->items[i];
      if (p->kind == SW_PLACED_TIMBER && p->run == run && p->level == level && (p->from == post || p->to == post))
        return true;
    }
  return false;
}

bool
sw_verify_any_fixed (const sw_verifier *verifier, size_t run, size_t level, size_t first, size_t last)
{
  const sw_in_place *list = &verifier->job->in_place;
  for (size_t i = 0; i < list->count; i++)
    {
      const sw_placed *p = &list->items[i];
      if (p->kind == SW_PLACED_TIMBER && p->run == run && p->level == level && p->from >= first && p->to <= last)
        return true;
    }
  return false;
}

int64_t
sw_verify_blocks_fixed (const sw_verifier *verifier, size_t run, size_t level)
{
  int64_t count = 0;
  for (size_t i = 0; i < verifier->job->in_place.count; i++)
    {
      const sw_placed *p = &verifier->job->in_place.items[i];
      count += p->kind == SW_PLACED_BLOCK && p->run == run && p->level == level ? 1 : 0;
    }
  return count;
}

int64_t
sw_verify_extras_fixed (const sw_verifier *verifier, size_t extra)
{
  int64_t count = 0;
  for (size_t i = 0; i < verifier->job->in_place.count; i++)
    {
      const sw_placed *p = &verifier->job->in_place.items[i];
      count += p->kind == SW_PLACED_EXTRA && p->extra == extra ? 1 : 0;
    }
  return count;
}

void
sw_verify_all_fixed (sw_verifier *verifier)
{
  const sw_in_place *list = &verifier->job->in_place;
  for (size_t i = 0; i < list->count; i++)
    {
      const sw_placed *p = &list->items[i];
      bool there = p->kind != SW_PLACED_TIMBER;
      for (size_t k = 0; k < verifier->placed_count && !there; k++)
        {
          const sw_place *place = verifier->placed[k];
          there = place->run == p->run && place->level == p->level && place->from == p->from && place->to == p->to;
        }
      if (!there)
        SW_VERIFY_FAULT (verifier, &verifier->fit, SW_UNKNOWN, -1,
                         "run %s, level %s: the piece from post %zu to %zu is fixed, and is not in this list",
                         p->run_name, p->level_name, p->from + 1, p->to + 1);
    }
}

size_t
sw_verify_timber (sw_verifier *verifier, size_t row)
{
  const sw_listing *cuts = &verifier->cuts;
  const sw_on_hand *list = &verifier->job->on_hand;
  if (cuts->columns[SW_CUTS_TIMBER] < 0)
    return SW_UNKNOWN;
  const char *name = sw_listing_text (cuts, row, SW_CUTS_TIMBER);
  if (name[0] == '\0')
    return SW_UNKNOWN;
  for (size_t t = 0; t < list->count; t++)
    {
      const sw_timber *timber = &list->items[t];
      if (timber->name == NULL || strcmp (timber->name, name) != 0)
        continue;
      if (verifier->timber_row[t] != SW_UNKNOWN)
        SW_VERIFY_FAULT (verifier, cuts, row, SW_CUTS_TIMBER, "\"%s\" is cut up on line %zu already", name,
                         sw_listing_line (cuts, verifier->timber_row[t]));
      else
        verifier->timber_row[t] = row;
      return t;
    }
  SW_VERIFY_FAULT (verifier, cuts, row, SW_CUTS_TIMBER, "\"%s\": no such timber is on hand", name);
  return SW_UNKNOWN;
}

sw_status
sw_verify_site_prepare (sw_verifier *verifier)
{
  const size_t count = verifier->job->on_hand.count;
  verifier->timber_row = sw_alloc (count, sizeof *verifier->timber_row);
  for (size_t t = 0; t < count && verifier->timber_row != NULL; t++)
    verifier->timber_row[t] = SW_UNKNOWN;
  return verifier->timber_row != NULL ? SW_OK : SW_NO_MEMORY;
}

bool
sw_verify_as_it_is (const sw_verifier *verifier, size_t row)
{
  const sw_sawn *sawn = &verifier->sawn[row];
  int start = 0, finish = 0, plumb = 0;
  char start_side, finish_side, way;
  for (size_t t = 0; t < verifier->job->on_hand.count; t++)
    {
      const sw_timber *timber = &verifier->job->on_hand.items[t];
      if (verifier->timber_row[t] != row || timber->ends == NULL)
        continue;
      /* A tenth of a millimetre of what it was is what it is. */
      const sw_length off = sawn->cut > timber->cut ? sawn->cut - timber->cut : timber->cut - sawn->cut;
      /* NOLINTNEXTLINE(cert-err34-c): a word of ours, and what does not fit it is unlike every piece. */
      const int read = sscanf (timber->ends, "%d%c %d%c %d%c", &start, &start_side, &finish, &finish_side, &plumb, &way);
      const int64_t steep = sawn->plumb == SW_BLANK ? 0 : sawn->plumb;
      return read == 6 && off <= SW_VERIFY_TOLERANCE && sawn->start_saw == start && sawn->finish_saw == finish
             && steep >= plumb - 1 && steep <= plumb + 1;
    }
  return false;
}
