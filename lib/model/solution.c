/* solution.c - a whole-number solution, checked against the model
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "model/solution.h"

#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "model/tuning.h"

int64_t
sw_stock_adds (const sw_model *model, size_t stock, sw_aim aim)
{
  if (aim == SW_AIM_COST)
    return model->stocks[stock].cost;
  /* The use of an offcut breaks into no new board. */
  return aim == SW_AIM_BOARDS && !model->stocks[stock].sawn ? 1 : 0;
}

int64_t
sw_option_adds (const sw_model *model, size_t option, sw_aim aim)
{
  const sw_option *o = &model->options[option];
  const int64_t join = o->to == model->strips[o->strip].bays ? 0 : 1;
  if (aim == SW_AIM_COST)
    return join * model->join_cost;
  return aim == SW_AIM_JOINS ? join + (o->changed ? model->change : 0) : 0;
}

sw_status
sw_solution_init (sw_solution *solution, const sw_model *model)
{
  *solution = (sw_solution){ 0 };
  solution->used = sw_alloc (model->option_count, 1);
  return solution->used ? SW_OK : SW_NO_MEMORY;
}

void
sw_solution_clear (sw_solution *solution)
{
  free (solution->used);
  free (solution->boards);
  *solution = (sw_solution){ 0 };
}

sw_status
sw_solution_add (sw_solution *solution, size_t pattern, int64_t copies)
{
  for (size_t i = 0; i < solution->count; i++)
    if (solution->boards[i].pattern == pattern)
      {
        solution->boards[i].copies += copies;
        return SW_OK;
      }
  return sw_solution_append (solution, pattern, copies);
}

sw_status
sw_solution_append (sw_solution *solution, size_t pattern, int64_t copies)
{
  sw_status status
      = sw_grow ((void **)&solution->boards, &solution->capacity, solution->count + 1, sizeof *solution->boards);
  if (status != SW_OK)
    return status;
  solution->boards[solution->count].pattern = pattern;
  solution->boards[solution->count++].copies = copies;
  return SW_OK;
}

sw_status
sw_solution_cut (sw_solution *solution, sw_patterns *pool, uint32_t stock, const sw_entry *entries, uint32_t count,
                 int64_t copies)
{
  size_t pattern;
  bool is_new;
  sw_status status = sw_patterns_add (pool, stock, entries, count, &pattern, &is_new);
  if (status != SW_OK)
    return status;
  return is_new ? sw_solution_append (solution, pattern, copies) : sw_solution_add (solution, pattern, copies);
}

sw_status
sw_solution_copy (sw_solution *to, const sw_solution *from, const sw_model *model)
{
  sw_status status = sw_grow ((void **)&to->boards, &to->capacity, from->count, sizeof *to->boards);
  if (status != SW_OK)
    return status;
  memcpy (to->used, from->used, model->option_count);
  if (from->count > 0)
    memcpy (to->boards, from->boards, from->count * sizeof *to->boards);
  to->count = from->count;
  to->valid = from->valid;
  memcpy (to->value, from->value, sizeof to->value);
  return SW_OK;
}

void
sw_solution_lacking (const sw_solution *solution, const sw_model *model, const sw_patterns *pool, int64_t *lacking)
{
  for (size_t n = 0; n < model->need_count; n++)
    lacking[n] = model->needs[n].demand;
  for (size_t o = 0; o < model->option_count; o++)
    lacking[model->options[o].need] += solution->used[o];
  for (size_t i = 0; i < solution->count; i++)
    sw_pattern_count (pool, solution->boards[i].pattern, -solution->boards[i].copies, lacking);
}

int64_t
sw_pattern_lack (const sw_model *model, const sw_patterns *pool, size_t pattern)
{
  const sw_model_stock *stock = &model->stocks[pool->items[pattern].stock];
  const sw_job *job = model->layout->job;
  if (model->sections[stock->section].of_job == SW_SECTION_IN_PLACE)
    return 0;
  /* The stock's room cannot be used here, because it is rounded down. */
  const sw_length usable = sw_job_usable (job, &job->stocks.items[stock->of_job]);
  const sw_length left = usable - sw_pattern_size (model, pool, pattern) * model->sections[stock->section].unit;
  /* Squares are taken of these parts, or of millimetres where those are fewer. */
  const sw_length part = model->longest / SW_OFFCUT_PARTS > SW_MM ? model->longest / SW_OFFCUT_PARTS : SW_MM;
  /* An offcut that stays whole lacks nothing: only what is cut off it counts. */
  const int64_t most = (stock->sawn ? usable : model->longest) / part, parts = left > 0 ? left / part : 0;
  return most * most - parts * parts;
}

/* ---- Rules ------------------------------------------------------------------- */

/* Do the pieces of LEVEL form one path over so many BAYS? */
static bool
path_holds (const sw_solution *solution, const sw_model *model, const sw_strip_level *level, uint32_t bays)
{
  uint32_t post = 0;
  for (size_t o = level->option_first; o < level->option_first + level->option_count; o++)
    {
      if (!solution->used[o])
        continue;
      if (model->options[o].from != post)
        return false;
      post = model->options[o].to;
    }
  return post == bays;
}

/* The bays of the first piece of LEVEL, which has a path of pieces. */
static uint32_t
first_bays (const sw_solution *solution, const sw_model *model, const sw_strip_level *level)
{
  size_t o = level->option_first;
  while (!solution->used[o])
    o++;
  return model->options[o].to;
}

/* Are the first pieces of STRIP, whose paths hold, long and short in turn? */
static bool
in_turn (const sw_solution *solution, const sw_model *model, const sw_strip *strip)
{
  bool may[2] = { true, true };
  for (uint32_t r = 0; r + 1 < strip->level_count; r++)
    {
      const uint32_t lower = first_bays (solution, model, &strip->levels[r]);
      const uint32_t upper = first_bays (solution, model, &strip->levels[r + 1]);
      if (lower == strip->bays || upper == strip->bays || !sw_strip_turns (strip, r))
        continue;
      /* Either the even levels are the long ones or the odd ones. */
      may[r % 2] = may[r % 2] && lower >= upper;
      may[(r + 1) % 2] = may[(r + 1) % 2] && lower <= upper;
    }
  return may[0] || may[1];
}

int64_t
sw_strip_pairs (const sw_model *model, const sw_strip *strip, const uint8_t *used)
{
  int64_t pairs = 0;
  for (uint32_t r = 0; model->stagger && r + 1 < strip->level_count; r++)
    for (size_t o = strip->levels[r].option_first; o < strip->levels[r].option_first + strip->levels[r].option_count;
         o++)
      {
        const sw_strip_level *above = &strip->levels[r + 1];
        const uint32_t post = model->options[o].to;
        if (!used[o] || post == strip->bays || !sw_strip_counts (strip, post, r))
          continue;
        for (uint32_t d = 1; d <= above->reach; d++)
          {
            int32_t other = above->at[(size_t)post * above->reach + d - 1];
            pairs += other >= 0 && used[other] ? 1 : 0;
          }
      }
  return pairs;
}

int64_t
sw_solution_aligned (const sw_solution *solution, const sw_model *model)
{
  int64_t pairs = 0;
  for (size_t s = 0; s < model->strip_count; s++)
    pairs += sw_strip_pairs (model, &model->strips[s], solution->used);
  return pairs;
}

static bool
strips_hold (const sw_solution *solution, const sw_model *model)
{
  int64_t allowed = model->aligned_cap;
  for (size_t s = 0; s < model->strip_count; s++)
    {
      const sw_strip *strip = &model->strips[s];
      allowed += strip->aligned_floor;
      for (uint32_t r = 0; r < strip->level_count; r++)
        if (!path_holds (solution, model, &strip->levels[r], strip->bays))
          return false;
      if (model->turn && !in_turn (solution, model, strip))
        return false;
    }
  return sw_solution_aligned (solution, model) <= allowed;
}

/* Check that no board is overfull, that no more boards are used than there are, and that every piece has a board. */
static bool
boards_hold (const sw_solution *solution, const sw_model *model, const sw_patterns *pool, int64_t *lacking,
             int64_t *taken)
{
  for (size_t i = 0; i < solution->count; i++)
    {
      const size_t pattern = solution->boards[i].pattern;
      const sw_pattern *p = &pool->items[pattern];
      const sw_model_stock *stock = &model->stocks[p->stock];
      const sw_entry *entries = &pool->entries[p->first];
      for (uint32_t c = 0; c < p->count; c++)
        if (model->needs[entries[c].need].section != stock->section)
          return false;
      if (solution->boards[i].copies < 0
          || (sw_pattern_size (model, pool, pattern) > stock->room && !SW_IS_WHOLE (stock, entries, p->count)))
        return false;
      taken[p->stock] += solution->boards[i].copies;
    }
  for (size_t s = 0; s < model->stock_count; s++)
    if (model->stocks[s].limit >= 0 && taken[s] > model->stocks[s].limit)
      return false;
  sw_solution_lacking (solution, model, pool, lacking);
  for (size_t n = 0; n < model->need_count; n++)
    if (lacking[n] > 0)
      return false;
  return true;
}

bool
sw_solution_check (sw_solution *solution, const sw_model *model, const sw_patterns *pool)
{
  memset (solution->value, 0, sizeof solution->value);
  int64_t *lacking = sw_alloc (model->need_count, sizeof *lacking);
  int64_t *taken = sw_alloc (model->stock_count, sizeof *taken);
  solution->valid
      = lacking && taken && boards_hold (solution, model, pool, lacking, taken) && strips_hold (solution, model);
  free (lacking);
  free (taken);
  for (size_t i = 0; i < solution->count; i++)
    {
      const size_t pattern = solution->boards[i].pattern;
      const int64_t copies = solution->boards[i].copies;
      for (int a = 0; a < SW_AIM_COUNT; a++)
        solution->value[a] += copies * sw_stock_adds (model, pool->items[pattern].stock, (sw_aim)a);
      solution->value[SW_AIM_OFFCUTS] += copies * sw_pattern_lack (model, pool, pattern);
    }
  for (size_t o = 0; o < model->option_count; o++)
    for (int a = 0; a < SW_AIM_COUNT && solution->used[o]; a++)
      solution->value[a] += sw_option_adds (model, o, (sw_aim)a);
  return solution->valid;
}
