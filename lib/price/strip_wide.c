/* strip_wide.c - strips with too many levels for the exact method
 *
 * A bound comes from blocks of neighbouring levels that are laid out apart
 * from each other, which relaxes the rules between blocks.  A layout comes
 * from blocks that are each laid out best next to the levels beside them.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "price/strip_parts.h"

#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "model/tuning.h"

/* The levels of STRIP from FIRST on that are done quickly: at least one, and MOST at most. */
static sw_strip
block_from (const sw_model *model, const sw_strip *strip, uint32_t first, uint32_t most)
{
  sw_strip block = sw_strip_part (strip, first, 1);
  while (block.level_count < most && first + block.level_count < strip->level_count)
    {
      block.level_count++;
      if (sw_strip_moves (model, &block) <= SW_QUICK_MOVES)
        continue;
      block.level_count--;
      break;
    }
  return block;
}

/* Add BY to the sums through the options from FIRST on, before END. */
static void
lift_through (size_t first, size_t end, sw_wide by, sw_wide *through)
{
  for (size_t o = first; o < end; o++)
    if (through[o] < SW_STRIP_NONE)
      through[o] += by;
}

/* Add up the sums of all blocks, which have MOST levels at most.  A sum through an option of one block counts the other
 * blocks at their least. */
static sw_status
add_blocks (const sw_strip_task *whole, uint32_t most, sw_strip_work *work, sw_wide *value, int64_t *aligned,
            sw_wide *through)
{
  sw_wide total = 0;
  int64_t pairs = 0;
  for (uint32_t first = 0; first < whole->strip->level_count;)
    {
      sw_strip block = block_from (whole->model, whole->strip, first, most);
      sw_strip_task task = *whole;
      sw_wide least;
      int64_t some = 0;
      task.strip = &block;
      sw_status status = sw_strip_solve (&task, work, &least, &some, NULL, through);
      if (status != SW_OK)
        return status;
      if (through != NULL)
        {
          lift_through (sw_strip_first (whole->strip), sw_strip_first (&block), least, through);
          lift_through (sw_strip_first (&block), sw_strip_end (&block), total, through);
        }
      total += least;
      pairs += some;
      first += block.level_count;
    }
  if (value != NULL)
    *value = total;
  if (aligned != NULL)
    *aligned = pairs;
  return SW_OK;
}

/* ---- Layouts --------------------------------------------------------------------------- */

static sw_wide
value_of (const sw_strip_task *task, const uint8_t *used)
{
  const sw_strip *strip = task->strip;
  sw_wide value = sw_strip_pairs (task->model, strip, used) * task->aligned_weight;
  for (size_t o = sw_strip_first (strip); o < sw_strip_end (strip); o++)
    value += used[o] ? task->price[o] : 0;
  return value;
}

/* LEVEL of the strip as it is laid out in USED, for the level next to it, which is the one ABOVE it or below it. */
static sw_beside
beside (const sw_strip_task *whole, unsigned turn, uint32_t level, bool above, const uint8_t *used, uint8_t *joins)
{
  const sw_strip *strip = whole->strip;
  const sw_strip_level *l = &strip->levels[level];
  const uint32_t lower = above ? level : level - 1;
  uint32_t first = strip->bays;
  memset (joins, 0, strip->bays + 1);
  for (size_t o = l->option_first; o < l->option_first + l->option_count; o++)
    if (used[o])
      {
        const sw_option *option = &whole->model->options[o];
        first = option->from == 0 ? option->to : first;
        joins[option->to] = option->to < strip->bays && sw_strip_counts (strip, option->to, lower);
      }
  /* A piece as long as the whole level is exempt from the long-and-short rule. */
  const bool any = !whole->model->turn || !sw_strip_turns (strip, lower) || first == strip->bays;
  const bool longer = (level + turn) % 2 == 0;
  return (sw_beside){ .joins = joins, .least = any || longer ? 0 : first, .most = any || !longer ? UINT32_MAX : first };
}

/* Lay the levels of STRIP out in USED block by block, at most MOST levels a block, each on top of the level below it.
 * ANEW: all levels are laid out already, and each block looks at the level above it too. */
static sw_status
lay_out_blocks (const sw_strip_task *whole, unsigned turn, uint32_t most, bool anew, sw_strip_work *work, uint8_t *used)
{
  const sw_strip *strip = whole->strip;
  const size_t posts = (size_t)strip->bays + 1;
  uint8_t *joins = sw_alloc (2 * posts, 1);
  sw_status status = joins != NULL ? SW_OK : SW_NO_MEMORY;
  for (uint32_t first = 0; first < strip->level_count && status == SW_OK;)
    {
      sw_strip block = block_from (whole->model, strip, first, most);
      const uint32_t end = first + block.level_count;
      sw_strip_task task = *whole;
      task.strip = &block;
      task.turns = 1U << (turn + first) % 2;
      if (first > 0)
        task.below = beside (whole, turn, first - 1, true, used, joins);
      if (anew && end < strip->level_count)
        task.above = beside (whole, turn, end, false, used, joins + posts);
      status = sw_strip_solve (&task, work, NULL, NULL, used, NULL);
      /* Blocks that are laid out anew overlap, so that each level has been between every two others. */
      first = anew && end < strip->level_count ? first + 1 : end;
    }
  free (joins);
  return status;
}

/* Lay the whole strip out in USED, with its lowest level a long one (TURN 0) or a short one; then some levels at a time
 * anew between their neighbours, while that helps.  *VALUE: the sum of that layout; a sum of ENOUGH will do. */
static sw_status
lay_out (const sw_strip_task *whole, unsigned turn, sw_wide enough, sw_strip_work *work, uint8_t *used, sw_wide *value)
{
  sw_status status = lay_out_blocks (whole, turn, SW_LEVELS_IN_ONE, false, work, used);
  if (status == SW_NO_PLAN)
    status = lay_out_blocks (whole, turn, 1, false, work, used);
  sw_wide before = SW_STRIP_NONE;
  *value = status == SW_OK ? value_of (whole, used) : SW_STRIP_NONE;
  /* What a level gains from another one far away takes as many passes as there are levels between them. */
  for (uint32_t pass = 0; pass < whole->strip->level_count && status == SW_OK && *value > enough && *value < before;
       pass++)
    {
      before = *value;
      status = lay_out_blocks (whole, turn, SW_LEVELS_IN_ONE, true, work, used);
      *value = value_of (whole, used);
    }
  return status;
}

/* Lay a strip that is not exact out with either turn, and leave the better layout in USED. */
static sw_status
lay_out_wide (const sw_strip_task *task, sw_wide enough, sw_strip_work *work, uint8_t *used)
{
  sw_wide value[2] = { SW_STRIP_NONE, SW_STRIP_NONE };
  /* Without the long-and-short rule both turns are the same. */
  const unsigned turns = task->model->turn ? 2 : 1;
  for (unsigned turn = 0; turn < turns && (turn == 0 || value[0] > enough); turn++)
    {
      sw_status status = lay_out (task, turn, enough, work, used, &value[turn]);
      if (status != SW_OK && status != SW_NO_PLAN)
        return status;
    }
  if (value[0] >= SW_STRIP_NONE && value[1] >= SW_STRIP_NONE)
    return SW_NO_PLAN;
  /* USED holds the layout of the last turn now. */
  if (turns == 1 || value[0] <= enough || value[1] < value[0])
    return SW_OK;
  return lay_out (task, 0, enough, work, used, &value[0]);
}

/* ---- Bound and layout ------------------------------------------------------------------ */

sw_status
sw_strip_best (const sw_model *model, const sw_strip *strip, const int64_t *price, sw_wide aligned_weight,
               sw_strip_work *work, sw_wide *value, int64_t *aligned, uint8_t *used, sw_wide *through)
{
  const sw_strip_task task
      = { .model = model, .strip = strip, .price = price, .aligned_weight = aligned_weight, .turns = 3 };
  sw_status status = sw_strip_solve (&task, work, value, aligned, used, through);
  if (status != SW_USAGE)
    return status;
  status = SW_OK;
  if (value != NULL || aligned != NULL || through != NULL)
    status = add_blocks (&task, UINT32_MAX, work, value, aligned, through);
  return status == SW_OK && used != NULL ? lay_out_wide (&task, -SW_STRIP_NONE, work, used) : status;
}

sw_status
sw_strip_quickly (const sw_model *model, const sw_strip *strip, const int64_t *price, sw_strip_work *work,
                  sw_wide *value, uint8_t *used)
{
  const sw_strip_task task = { .model = model, .strip = strip, .price = price, .aligned_weight = SW_ALIGNED_FIRST };
  sw_status status = value != NULL ? add_blocks (&task, 1, work, value, NULL, NULL) : SW_OK;
  if (status != SW_OK || used == NULL)
    return status;
  status = lay_out_blocks (&task, 0, 1, false, work, used);
  return status == SW_NO_PLAN && model->turn ? lay_out_blocks (&task, 1, 1, false, work, used) : status;
}

/* ---- The fewest pairs ------------------------------------------------------------------ */

/* Each block shares a level with the next, so that every pair of levels is in just one block.  No layout has fewer
 * pairs than the blocks' fewest together. */
static sw_status
least_pairs (const sw_strip_task *whole, sw_strip_work *work, int64_t *low)
{
  const sw_strip *strip = whole->strip;
  *low = 0;
  for (uint32_t first = 0; first + 1 < strip->level_count;)
    {
      sw_strip block = block_from (whole->model, strip, first, UINT32_MAX);
      sw_strip_task task = *whole;
      int64_t some = 0;
      task.strip = &block;
      if (block.level_count > 1)
        {
          sw_status status = sw_strip_solve (&task, work, NULL, &some, NULL, NULL);
          if (status != SW_OK)
            return status;
        }
      *low += some;
      first += block.level_count > 1 ? block.level_count - 1 : 1;
    }
  return SW_OK;
}

sw_status
sw_strip_fewest (const sw_model *model, const sw_strip *strip, const int64_t *nothing, sw_strip_work *work,
                 int64_t *low, int64_t *high, uint8_t *used)
{
  const sw_strip_task task
      = { .model = model, .strip = strip, .price = nothing, .aligned_weight = SW_ALIGNED_FIRST, .turns = 3 };
  sw_status status = sw_strip_solve (&task, work, NULL, low, used, NULL);
  if (status == SW_OK)
    *high = *low;
  if (status != SW_USAGE)
    return status;
  status = least_pairs (&task, work, low);
  if (status == SW_OK)
    status = lay_out_wide (&task, *low * SW_ALIGNED_FIRST, work, used);
  if (status == SW_OK)
    *high = sw_strip_pairs (model, strip, used);
  return status;
}

/* ---- Blocks ---------------------------------------------------------------------------- */

sw_block
sw_strip_block (const sw_model *model, size_t index, uint32_t first)
{
  const sw_strip *strip = &model->strips[index];
  const uint32_t levels = sw_strip_is_exact (model, strip) ? strip->level_count
                                                           : block_from (model, strip, first, UINT32_MAX).level_count;
  return (sw_block){ .strip = index, .first = first, .count = levels };
}

sw_strip
sw_block_strip (const sw_model *model, const sw_block *block)
{
  return sw_strip_part (&model->strips[block->strip], block->first, block->count);
}
