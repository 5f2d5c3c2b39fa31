/* release.c - choosing what of a plan is set free to be solved anew
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "solve/steps.h"

#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "model/tuning.h"

void
sw_free_strips (const sw_model *model, size_t options, uint64_t *chance, uint8_t *marked)
{
  const size_t strips = model->strip_count;
  size_t have = 0;
  memset (marked, 0, strips);
  for (size_t count = 0; have < options && count + 1 < strips; count++)
    {
      size_t at = (size_t)(sw_search_chance (chance) * (double)strips) % strips;
      while (marked[at])
        at = (at + 1) % strips;
      marked[at] = 1;
      have += sw_strip_end (&model->strips[at]) - sw_strip_first (&model->strips[at]);
    }
}

/* How many of the COPIES boards of PATTERN must go so that the OPEN pieces (for each need; not over 0: none) can be cut
 * from them. */
static int64_t
boards_of_open (const sw_search *s, size_t pattern, int64_t copies, const int64_t *open)
{
  const sw_pattern *p = &s->pool.items[pattern];
  int64_t boards = 0;
  for (uint32_t c = 0; c < p->count; c++)
    {
      const sw_entry *entry = &s->pool.entries[p->first + c];
      int64_t some = (open[entry->need] + entry->copies - 1) / entry->copies;
      boards = some > boards ? some : boards;
    }
  return boards < copies ? boards : copies;
}

sw_status
sw_free_boards_of (const sw_search *s, const uint8_t *marked, sw_wide spare, uint64_t *chance, int64_t *stays)
{
  const sw_model *model = s->model;
  int64_t *open = sw_alloc (model->need_count, sizeof *open);
  if (open == NULL)
    return SW_NO_MEMORY;
  for (size_t o = 0; o < model->option_count; o++)
    if (s->best.used[o] && marked[model->options[o].strip])
      open[model->options[o].need]++;
  for (size_t i = 0; i < s->best.count; i++)
    {
      const size_t pattern = s->best.boards[i].pattern;
      int64_t copies = s->best.boards[i].copies, freed = boards_of_open (s, pattern, copies, open);
      if (sw_search_chance (chance) < SW_ALSO_FREE || sw_prices_loss (&s->root, &s->pool, pattern) > spare)
        freed = copies;
      sw_pattern_count (&s->pool, pattern, -freed, open);
      stays[i] = copies - freed;
    }
  free (open);
  return SW_OK;
}
