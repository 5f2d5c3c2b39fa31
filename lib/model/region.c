/* region.c - a part of a model as a model of its own
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "model/region.h"

#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

/* What is looked up while a region is made. */
typedef struct making
{
  sw_region *region;
  const sw_model *whole;
  const sw_patterns *pool;
  const sw_solution *plan;
  const int64_t *stays;      /* NULL: all */
  const uint8_t *free_strip; /* NULL: none */
  int64_t *open;             /* for each need of the whole: pieces of the kept layout that the region has to cut */
} making;

static bool
is_free (const making *m, size_t strip)
{
  return m->free_strip != NULL && m->free_strip[strip] != 0;
}

static int64_t
copies_that_stay (const making *m, size_t i)
{
  return m->stays != NULL ? m->stays[i] : m->plan->boards[i].copies;
}

/* Keep the layout and the boards that stay, and count the pieces of that layout for which no board stays. */
static sw_status
keep_rest (making *m)
{
  sw_solution *kept = &m->region->kept;
  for (size_t o = 0; o < m->whole->option_count; o++)
    kept->used[o] = m->plan->used[o] && !is_free (m, m->whole->options[o].strip);
  for (size_t i = 0; i < m->plan->count; i++)
    {
      /* A pattern of which no board stays keeps its place too, so that boards which come back find it. */
      sw_status status = sw_solution_append (kept, m->plan->boards[i].pattern, copies_that_stay (m, i));
      if (status != SW_OK)
        return status;
    }
  sw_solution_lacking (kept, m->whole, m->pool, m->open);
  for (size_t n = 0; n < m->whole->need_count; n++)
    if (m->open[n] < 0)
      m->open[n] = 0;
  return SW_OK;
}

/* Add the needs that the region has pieces of, and the sections of those needs. */
static void
add_needs (making *m)
{
  const sw_model *whole = m->whole;
  sw_region *r = m->region;
  sw_model *part = &r->model;
  for (size_t n = 0; n < whole->need_count; n++)
    r->need_at[n] = m->open[n] > 0 ? 0 : SIZE_MAX;
  for (size_t o = 0; o < whole->option_count; o++)
    if (is_free (m, whole->options[o].strip))
      r->need_at[whole->options[o].need] = 0;
  for (size_t g = 0; g < whole->section_count; g++)
    {
      part->sections[g] = whole->sections[g];
      part->sections[g].need_first = part->need_count;
      for (size_t n = whole->sections[g].need_first; n < whole->sections[g].need_first + whole->sections[g].need_count;
           n++)
        {
          if (r->need_at[n] == SIZE_MAX)
            continue;
          r->need_at[n] = part->need_count;
          r->need_of[part->need_count] = n;
          part->needs[part->need_count] = whole->needs[n];
          part->needs[part->need_count].demand = part->needs[part->need_count].most = m->open[n];
          part->need_count++;
        }
      part->sections[g].need_count = part->need_count - part->sections[g].need_first;
    }
}

/* Add the stocks, less the boards that stay. */
static void
add_stocks (making *m)
{
  sw_model *part = &m->region->model;
  part->stock_count = m->whole->stock_count;
  memcpy (part->stocks, m->whole->stocks, part->stock_count * sizeof *part->stocks);
  for (size_t i = 0; i < m->plan->count; i++)
    {
      sw_model_stock *stock = &part->stocks[m->pool->items[m->plan->boards[i].pattern].stock];
      if (stock->limit >= 0)
        stock->limit -= copies_that_stay (m, i);
    }
  for (size_t s = 0; s < part->stock_count; s++)
    if (part->stocks[s].whole != 0)
      {
        const size_t need = m->region->need_at[part->stocks[s].whole - 1];
        part->stocks[s].whole = need == SIZE_MAX ? 0 : (uint32_t)need + 1;
      }
}

/* Add strip FROM of the whole, which is free. */
static sw_status
add_strip (making *m, const sw_strip *from)
{
  sw_model *part = &m->region->model;
  sw_strip *to = &part->strips[part->strip_count];
  const size_t first = part->option_count, before = sw_strip_first (from);
  for (size_t o = before; o < sw_strip_end (from); o++)
    {
      sw_option *option = &part->options[part->option_count];
      *option = m->whole->options[o];
      option->strip = (uint32_t)part->strip_count;
      option->need = m->region->need_at[option->need];
      part->needs[option->need].most++;
      m->region->start.used[part->option_count] = m->plan->used[o];
      m->region->option_of[part->option_count++] = o;
    }
  part->strip_count++;
  *to = *from;
  to->levels = sw_alloc (from->level_count, sizeof *to->levels);
  sw_status status = to->levels != NULL ? SW_OK : SW_NO_MEMORY;
  for (uint32_t r = 0; r < from->level_count && status == SW_OK; r++)
    {
      const sw_strip_level *level = &from->levels[r];
      to->levels[r] = (sw_strip_level){ .of_job = level->of_job,
                                        .option_first = first + level->option_first - before,
                                        .option_count = level->option_count };
      status = sw_level_index (part, to->bays, &to->levels[r]);
    }
  return status;
}

/* Translate COUNT entries FROM of the whole into entries of the region, and leave out pieces that the region does not
 * need; returns how many entries are left. */
static uint32_t
translate (const sw_region *r, const sw_entry *from, uint32_t count)
{
  uint32_t kept = 0;
  for (uint32_t c = 0; c < count; c++)
    if (r->need_at[from[c].need] != SIZE_MAX)
      r->entries[kept++] = (sw_entry){ .need = (uint32_t)r->need_at[from[c].need], .copies = from[c].copies };
  return kept;
}

/* Add the patterns of the whole that yield only pieces which the region needs. */
static sw_status
add_patterns (making *m)
{
  sw_region *r = m->region;
  sw_status status = SW_OK;
  for (size_t i = 0; i < m->pool->count && status == SW_OK; i++)
    {
      const sw_pattern *p = &m->pool->items[i];
      bool fits = !p->listed && translate (r, &m->pool->entries[p->first], p->count) == p->count;
      for (uint32_t c = 0; c < p->count && fits; c++)
        fits = r->entries[c].copies <= r->model.needs[r->entries[c].need].most;
      if (fits)
        status = sw_patterns_add (&r->pool, p->stock, r->entries, p->count, NULL, NULL);
    }
  return status;
}

/* Make the boards of the plan that do not stay a solution of the region. */
static sw_status
add_start (making *m)
{
  sw_region *r = m->region;
  sw_status status = SW_OK;
  for (size_t i = 0; i < m->plan->count && status == SW_OK; i++)
    {
      const sw_pattern *p = &m->pool->items[m->plan->boards[i].pattern];
      const int64_t copies = m->plan->boards[i].copies - copies_that_stay (m, i);
      const uint32_t count = copies > 0 ? translate (r, &m->pool->entries[p->first], p->count) : 0;
      if (count > 0)
        status = sw_solution_cut (&r->start, &r->pool, p->stock, r->entries, count, copies);
    }
  return status;
}

/* Make room for as many parts as the whole model has; of strips only where one is free. */
static sw_status
alloc_region (making *m)
{
  const sw_model *whole = m->whole;
  sw_region *r = m->region;
  sw_model *part = &r->model;
  const bool layouts = m->free_strip != NULL;
  const size_t options = layouts ? whole->option_count : 0;
  part->sections = sw_alloc (whole->section_count, sizeof *part->sections);
  part->needs = sw_alloc (whole->need_count, sizeof *part->needs);
  part->stocks = sw_alloc (whole->stock_count, sizeof *part->stocks);
  part->strips = sw_alloc (layouts ? whole->strip_count : 0, sizeof *part->strips);
  part->options = sw_alloc (options, sizeof *part->options);
  r->need_of = sw_alloc (whole->need_count, sizeof *r->need_of);
  r->need_at = sw_alloc (whole->need_count, sizeof *r->need_at);
  r->option_of = sw_alloc (options, sizeof *r->option_of);
  r->entries = sw_alloc (whole->need_count, sizeof *r->entries);
  r->start.used = sw_alloc (options, 1);
  if (!part->sections || !part->needs || !part->stocks || !part->strips || !part->options || !r->need_of || !r->need_at
      || !r->option_of || !r->entries || !r->start.used)
    return SW_NO_MEMORY;
  part->layout = whole->layout;
  part->section_count = whole->section_count;
  part->stagger = whole->stagger && layouts;
  part->turn = whole->turn && layouts;
  part->priced_pairs = whole->priced_pairs && layouts;
  part->granule = whole->granule;
  part->join_cost = whole->join_cost;
  part->change = whole->change;
  part->longest = whole->longest;
  return sw_solution_init (&r->kept, whole);
}

sw_status
sw_region_new (sw_region *region, const sw_model *whole, const sw_patterns *pool, const sw_solution *plan,
               const int64_t *stays, const uint8_t *free_strip, bool all_patterns)
{
  making m = { .region = region, .whole = whole, .pool = pool, .plan = plan, .stays = stays, .free_strip = free_strip };
  *region = (sw_region){ .whole = whole };
  m.open = sw_alloc (whole->need_count, sizeof *m.open);
  sw_status status = m.open != NULL ? alloc_region (&m) : SW_NO_MEMORY;
  if (status == SW_OK)
    status = keep_rest (&m);
  if (status == SW_OK)
    {
      add_needs (&m);
      add_stocks (&m);
    }
  for (size_t i = 0; i < whole->strip_count && status == SW_OK; i++)
    if (is_free (&m, i))
      status = add_strip (&m, &whole->strips[i]);
  if (status == SW_OK && all_patterns)
    status = add_patterns (&m);
  if (status == SW_OK)
    status = add_start (&m);
  free (m.open);
  if (status != SW_OK)
    sw_region_clear (region);
  return status;
}

void
sw_region_clear (sw_region *region)
{
  sw_model_clear (&region->model);
  free (region->need_of);
  free (region->need_at);
  free (region->option_of);
  free (region->entries);
  sw_solution_clear (&region->kept);
  sw_solution_clear (&region->start);
  sw_patterns_clear (&region->pool);
  *region = (sw_region){ 0 };
}

/* Drop the patterns that have no boards. */
static void
drop_empty (sw_solution *solution)
{
  size_t count = 0;
  for (size_t i = 0; i < solution->count; i++)
    if (solution->boards[i].copies > 0)
      solution->boards[count++] = solution->boards[i];
  solution->count = count;
}

sw_status
sw_region_whole (const sw_region *region, const sw_solution *solution, const sw_patterns *from, sw_patterns *pool,
                 sw_solution *all)
{
  sw_status status = sw_solution_copy (all, &region->kept, region->whole);
  for (size_t o = 0; o < region->model.option_count && status == SW_OK; o++)
    all->used[region->option_of[o]] = solution->used[o];
  for (size_t i = 0; i < solution->count && status == SW_OK; i++)
    {
      const sw_pattern *p = &from->items[solution->boards[i].pattern];
      /* Needs have the same order in the region and in the whole, so entries stay sorted. */
      for (uint32_t c = 0; c < p->count; c++)
        region->entries[c] = (sw_entry){ .need = (uint32_t)region->need_of[from->entries[p->first + c].need],
                                         .copies = from->entries[p->first + c].copies };
      status = sw_solution_cut (all, pool, p->stock, region->entries, p->count, solution->boards[i].copies);
    }
  drop_empty (all);
  return status;
}
