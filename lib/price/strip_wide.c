/* strip_wide.c - strips with too many levels for the exact method
 *
 * A bound comes from blocks of neighbouring levels that are laid out apart
 * from each other, which relaxes the rules between blocks.  A layout comes
 * from blocks that each begin with the last level of the block below; where
 * two levels are too much for the exact method, it is made level by level.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "price/strip_parts.h"

#include <stdlib.h>

#include "base/memory.h"
#include "model/tuning.h"

/* The most times that all levels of a layout are gone over; more than a handful of passes has not been seen to help. */
#define MOST_PASSES 20

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

/* The least sum of a path to POST: the sum AHEAD to the post where its last piece begins, and the price of that
 * piece. */
static sw_wide
least_to (const sw_strip_level *level, const int64_t *price, const sw_wide *ahead, uint32_t post)
{
  sw_wide least = SW_STRIP_NONE;
  for (uint32_t d = 1; d <= level->reach && d <= post; d++)
    {
      int32_t o = level->at[(size_t)post * level->reach + d - 1];
      if (o >= 0 && ahead[post - d] < SW_STRIP_NONE && ahead[post - d] + price[o] < least)
        least = ahead[post - d] + price[o];
    }
  return least;
}

static sw_wide
least_from (const sw_strip *strip, const sw_strip_level *level, const int64_t *price, const sw_wide *behind,
            uint32_t post)
{
  sw_wide least = SW_STRIP_NONE;
  for (uint32_t d = 1; d <= level->reach && post + d <= strip->bays; d++)
    {
      int32_t o = level->at[(size_t)(post + d) * level->reach + d - 1];
      if (o >= 0 && behind[post + d] < SW_STRIP_NONE && behind[post + d] + price[o] < least)
        least = behind[post + d] + price[o];
    }
  return least;
}

/* Lay one level out by a shortest path over its posts, however far its pieces reach. */
static sw_status
solve_level (const sw_strip_task *task, sw_wide *value, sw_wide *through)
{
  const sw_strip *strip = task->strip;
  const sw_strip_level *level = &strip->levels[0];
  sw_wide *ahead = sw_alloc (2 * ((size_t)strip->bays + 1), sizeof *ahead);
  if (ahead == NULL)
    return SW_NO_MEMORY;
  sw_wide *behind = ahead + strip->bays + 1;
  ahead[0] = 0;
  behind[strip->bays] = 0;
  for (uint32_t p = 1; p <= strip->bays; p++)
    ahead[p] = least_to (level, task->price, ahead, p);
  for (uint32_t p = strip->bays; p-- > 0;)
    behind[p] = least_from (strip, level, task->price, behind, p);
  *value = ahead[strip->bays];
  for (size_t i = level->option_first; through != NULL && i < level->option_first + level->option_count; i++)
    {
      const sw_option *o = &task->model->options[i];
      bool any = ahead[o->from] < SW_STRIP_NONE && behind[o->to] < SW_STRIP_NONE;
      through[i] = any ? ahead[o->from] + task->price[i] + behind[o->to] : SW_STRIP_NONE;
    }
  free (ahead);
  return *value < SW_STRIP_NONE ? SW_OK : SW_NO_PLAN;
}

static void
lift_through (const sw_strip *block, sw_wide by, sw_wide *through)
{
  for (uint32_t r = 0; r < block->level_count; r++)
    for (size_t o = block->levels[r].option_first; o < block->levels[r].option_first + block->levels[r].option_count;
         o++)
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
      sw_status status = block.level_count == 1 ? solve_level (&task, &least, through)
                                                : sw_strip_solve (&task, work, &least, &some, NULL, through);
      if (status != SW_OK)
        return status;
      if (through != NULL)
        {
          sw_strip below = *whole->strip;
          below.level_count = first;
          lift_through (&below, least, through);
          lift_through (&block, total, through);
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

sw_status
sw_strip_relaxed (const sw_model *model, size_t index, const int64_t *price, sw_wide aligned_weight,
                  sw_strip_work *work, sw_wide *value, int64_t *aligned, sw_wide *through)
{
  sw_status status = sw_strip_best (model, index, price, aligned_weight, work, value, aligned, NULL, through);
  if (status != SW_USAGE)
    return status;
  sw_strip_task task = {
    .model = model, .strip = &model->strips[index], .price = price, .aligned_weight = aligned_weight, .turns = 3
  };
  return add_blocks (&task, UINT32_MAX, work, value, aligned, through);
}

sw_status
sw_strip_apart (const sw_model *model, size_t index, const int64_t *price, sw_wide *value)
{
  const sw_strip_task task = { .model = model, .strip = &model->strips[index], .price = price };
  return add_blocks (&task, 1, NULL, value, NULL, NULL);
}

/* ---- Layouts --------------------------------------------------------------------------- */

/* Does level LEVEL of STRIP join at POST in the layout USED? */
static bool
joins (const sw_strip_level *level, const uint8_t *used, uint32_t post)
{
  for (uint32_t d = 1; d <= level->reach && d <= post; d++)
    {
      int32_t o = level->at[(size_t)post * level->reach + d - 1];
      if (o >= 0 && used[o])
        return true;
    }
  return false;
}

static int64_t
count_pairs (const sw_strip *strip, const uint8_t *used)
{
  int64_t pairs = 0;
  for (uint32_t post = 1; post < strip->bays; post++)
    for (uint32_t r = 0; strip->counted[post] && r + 1 < strip->level_count; r++)
      pairs += sw_strip_counts (strip, post, r) && joins (&strip->levels[r], used, post)
                       && joins (&strip->levels[r + 1], used, post)
                   ? 1
                   : 0;
  return pairs;
}

static sw_wide
value_of (const sw_strip_task *task, const uint8_t *used)
{
  const sw_strip *strip = task->strip;
  sw_wide value = task->model->stagger ? count_pairs (strip, used) * task->aligned_weight : 0;
  for (uint32_t r = 0; r < strip->level_count; r++)
    for (size_t o = strip->levels[r].option_first; o < strip->levels[r].option_first + strip->levels[r].option_count;
         o++)
      value += used[o] ? task->price[o] : 0;
  return value;
}

/* Lay some levels at a time out anew between the level below and the level above them, which stay.  This is repeated
 * while it helps and *VALUE is over ENOUGH. */
static sw_status
improve (const sw_strip_task *whole, unsigned turn, sw_wide enough, sw_strip_work *work, uint8_t *used, sw_wide *value)
{
  const sw_strip *strip = whole->strip;
  for (int pass = 0; pass<MOST_PASSES && * value> enough; pass++)
    {
      const sw_wide before = *value;
      for (uint32_t first = 0; first + 1 < strip->level_count; first++)
        {
          sw_strip block = block_from (whole->model, strip, first, SW_LEVELS_IN_ONE + 1);
          const bool below = first > 0;
          const bool above = first + block.level_count < strip->level_count;
          sw_strip_task task = *whole;
          if (block.level_count <= (below ? 1U : 0U) + (above ? 1U : 0U))
            continue;
          task.strip = &block;
          task.turns = 1U << (turn + first) % 2;
          task.held_levels = (below ? 1U : 0U) | (above ? 1U << (block.level_count - 1) : 0U);
          task.held = used;
          sw_status status = sw_strip_solve (&task, work, NULL, NULL, used, NULL);
          if (status != SW_OK)
            return status;
          if (!above)
            break;
        }
      *value = value_of (whole, used);
      if (*value >= before)
        return SW_OK;
    }
  return SW_OK;
}

/* Lay the whole strip out in USED, with its lowest level a long one (TURN 0) or a short one.  *VALUE: the sum of that
 * layout; a sum of ENOUGH will do. */
static sw_status
lay_out (const sw_strip_task *whole, unsigned turn, sw_wide enough, sw_strip_work *work, uint8_t *used, sw_wide *value)
{
  const sw_strip *strip = whole->strip;
  sw_status status = SW_OK;
  for (uint32_t first = 0; status == SW_OK && (first == 0 || first + 1 < strip->level_count);)
    {
      sw_strip block = block_from (whole->model, strip, first, SW_LEVELS_IN_ONE);
      sw_strip_task task = *whole;
      if (block.level_count < 2)
        {
          status = SW_NO_PLAN;
          break;
        }
      task.strip = &block;
      task.turns = 1U << (turn + first) % 2;
      task.held_levels = first == 0 ? 0 : 1;
      task.held = used;
      status = sw_strip_solve (&task, work, NULL, NULL, used, NULL);
      first += block.level_count - 1;
    }
  if (status == SW_NO_PLAN)
    status = sw_strip_level_by_level (whole, turn, used, value);
  *value = SW_STRIP_NONE;
  if (status != SW_OK)
    return status;
  *value = value_of (whole, used);
  return improve (whole, turn, enough, work, used, value);
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

sw_status
sw_strip_layout (const sw_model *model, size_t index, const int64_t *price, sw_wide aligned_weight, sw_strip_work *work,
                 uint8_t *used)
{
  sw_status status = sw_strip_best (model, index, price, aligned_weight, work, NULL, NULL, used, NULL);
  if (status != SW_USAGE)
    return status;
  sw_strip_task task
      = { .model = model, .strip = &model->strips[index], .price = price, .aligned_weight = aligned_weight };
  return lay_out_wide (&task, -SW_STRIP_NONE, work, used);
}

sw_status
sw_strip_quickly (const sw_model *model, size_t index, const int64_t *price, uint8_t *used)
{
  sw_strip_task task
      = { .model = model, .strip = &model->strips[index], .price = price, .aligned_weight = SW_ALIGNED_FIRST };
  sw_wide value;
  sw_status status = sw_strip_level_by_level (&task, 0, used, &value);
  return status == SW_NO_PLAN && model->turn ? sw_strip_level_by_level (&task, 1, used, &value) : status;
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

int64_t
sw_strip_pairs (const sw_model *model, size_t index, const uint8_t *used)
{
  return model->stagger ? count_pairs (&model->strips[index], used) : 0;
}

sw_status
sw_strip_fewest (const sw_model *model, size_t index, const int64_t *nothing, sw_strip_work *work, int64_t *low,
                 int64_t *high, uint8_t *used)
{
  sw_strip_task task = {
    .model = model, .strip = &model->strips[index], .price = nothing, .aligned_weight = SW_ALIGNED_FIRST, .turns = 3
  };
  sw_status status = sw_strip_best (model, index, nothing, SW_ALIGNED_FIRST, work, NULL, low, used, NULL);
  if (status == SW_OK)
    *high = *low;
  if (status != SW_USAGE)
    return status;
  status = least_pairs (&task, work, low);
  if (status == SW_OK)
    status = lay_out_wide (&task, *low * SW_ALIGNED_FIRST, work, used);
  if (status == SW_OK)
    *high = count_pairs (task.strip, used);
  return status;
}

/* ---- Blocks ---------------------------------------------------------------------------- */

sw_block
sw_strip_block (const sw_model *model, size_t index, uint32_t first)
{
  const sw_strip *strip = &model->strips[index];
  const uint32_t levels = sw_strip_is_exact (model, index) ? strip->level_count
                                                           : block_from (model, strip, first, UINT32_MAX).level_count;
  return (sw_block){ .strip = index, .first = first, .count = levels };
}

sw_strip
sw_block_strip (const sw_model *model, const sw_block *block)
{
  return sw_strip_part (&model->strips[block->strip], block->first, block->count);
}

sw_status
sw_block_best (const sw_model *model, const sw_block *block, const int64_t *price, sw_wide aligned_weight,
               sw_strip_work *work, sw_wide *value, uint8_t *used)
{
  const sw_strip levels = sw_block_strip (model, block);
  sw_strip_task task
      = { .model = model, .strip = &levels, .price = price, .aligned_weight = aligned_weight, .turns = 3 };
  sw_status status = sw_strip_solve (&task, work, value, NULL, used, NULL);
  /* One level whose pieces reach too far for the exact method: a shortest path will do. */
  return status == SW_USAGE ? sw_strip_level_by_level (&task, 0, used, value) : status;
}

int64_t
sw_block_pairs (const sw_model *model, const sw_block *block, const uint8_t *used)
{
  const sw_strip levels = sw_block_strip (model, block);
  return model->stagger ? count_pairs (&levels, used) : 0;
}
