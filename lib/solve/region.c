/* region.c - some strips of a model and their boards as a model of its own
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "solve/region.h"

#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

/* Of the other boards this part is set free too. */
#define ALSO_FREE 0.1

/* What is needed while a region is made. */
typedef struct making
{
  const sw_search *search;
  const sw_model *whole;
  sw_region *region;
  const uint8_t *free_strip;
  int64_t *open;   /* a need of the whole: pieces that boards set free must still hold; then: needed of the region */
  int64_t *stays;  /* of the best solution's boards, copies that stay */
  size_t *need_at; /* a need of the whole: its place in the region, or SIZE_MAX */
} making;

static bool
is_free (const making *m, size_t option)
{
  return m->free_strip[m->whole->options[option].strip] != 0;
}

/* Boards out of COPIES of PATTERN that the open pieces are cut from. */
static int64_t
boards_of_open (making *m, size_t pattern, int64_t copies)
{
  const sw_patterns *pool = &m->search->pool;
  const sw_pattern *p = &pool->items[pattern];
  int64_t boards = 0;
  for (uint32_t c = 0; c < p->count; c++)
    {
      const sw_entry *entry = &pool->entries[p->first + c];
      int64_t some = (m->open[entry->need] + entry->copies - 1) / entry->copies;
      boards = some > boards ? some : boards;
    }
  return boards < copies ? boards : copies;
}

/* Which boards stay. */
static void
choose_boards (making *m, sw_wide spare, uint64_t *chance)
{
  const sw_search *s = m->search;
  for (size_t o = 0; o < m->whole->option_count; o++)
    if (s->best.used[o] && is_free (m, o))
      m->open[m->whole->options[o].need]++;
  for (size_t i = 0; i < s->best.count; i++)
    {
      size_t pattern = s->best.boards[i].pattern;
      const sw_pattern *p = &s->pool.items[pattern];
      int64_t copies = s->best.boards[i].copies, freed = boards_of_open (m, pattern, copies);
      if (sw_search_chance (chance) < ALSO_FREE || sw_search_loss (s, &s->root, pattern) > spare)
        freed = copies;
      for (uint32_t c = 0; c < p->count; c++)
        {
          const sw_entry *entry = &s->pool.entries[p->first + c];
          m->open[entry->need] -= freed * entry->copies;
          if (m->open[entry->need] < 0)
            m->open[entry->need] = 0;
        }
      m->stays[i] = copies - freed;
    }
}

/* The layout and boards that stay; OPEN: fixed pieces that the region has to cut. */
static sw_status
keep_rest (making *m)
{
  const sw_search *s = m->search;
  sw_solution *kept = &m->region->kept;
  for (size_t n = 0; n < m->whole->need_count; n++)
    m->open[n] = m->whole->needs[n].demand;
  for (size_t o = 0; o < m->whole->option_count; o++)
    {
      kept->used[o] = s->best.used[o] && !is_free (m, o);
      m->open[m->whole->options[o].need] += kept->used[o];
    }
  for (size_t i = 0; i < s->best.count; i++)
    {
      if (m->stays[i] == 0)
        continue;
      const sw_pattern *p = &s->pool.items[s->best.boards[i].pattern];
      for (uint32_t c = 0; c < p->count; c++)
        m->open[s->pool.entries[p->first + c].need] -= m->stays[i] * s->pool.entries[p->first + c].copies;
      sw_status status = sw_solution_add (kept, s->best.boards[i].pattern, m->stays[i]);
      if (status != SW_OK)
        return status;
    }
  for (size_t n = 0; n < m->whole->need_count; n++)
    if (m->open[n] < 0)
      m->open[n] = 0;
  return SW_OK;
}

/* Needs that the region has pieces of, and the sections they are in. */
static void
add_needs (making *m)
{
  const sw_model *whole = m->whole;
  sw_model *part = &m->region->model;
  for (size_t n = 0; n < whole->need_count; n++)
    m->need_at[n] = m->open[n] > 0 ? 0 : SIZE_MAX;
  for (size_t o = 0; o < whole->option_count; o++)
    if (is_free (m, o))
      m->need_at[whole->options[o].need] = 0;
  for (size_t g = 0; g < whole->section_count; g++)
    {
      part->sections[g] = whole->sections[g];
      part->sections[g].need_first = part->need_count;
      for (size_t n = whole->sections[g].need_first; n < whole->sections[g].need_first + whole->sections[g].need_count; n++)
        {
          if (m->need_at[n] == SIZE_MAX)
            continue;
          m->need_at[n] = part->need_count;
          m->region->need_of[part->need_count] = n;
          part->needs[part->need_count] = whole->needs[n];
          part->needs[part->need_count].demand = part->needs[part->need_count].most = m->open[n];
          part->need_count++;
        }
      part->sections[g].need_count = part->need_count - part->sections[g].need_first;
    }
}

static void
add_stocks (making *m)
{
  const sw_search *s = m->search;
  sw_model *part = &m->region->model;
  part->stock_count = m->whole->stock_count;
  memcpy (part->stocks, m->whole->stocks, part->stock_count * sizeof *part->stocks);
  for (size_t i = 0; i < s->best.count; i++)
    {
      sw_model_stock *stock = &part->stocks[s->pool.items[s->best.boards[i].pattern].stock];
      if (stock->limit >= 0)
        stock->limit -= m->stays[i];
    }
}

static void
add_level (making *m, const sw_strip_level *from, sw_strip_level *to, const sw_strip *strip, int32_t **cells)
{
  sw_model *part = &m->region->model;
  size_t count = (size_t)(strip->bays + 1) * from->reach;
  *to = *from;
  to->option_first = part->option_count;
  to->at = *cells;
  for (size_t i = 0; i < count; i++)
    to->at[i] = from->at[i] < 0 ? -1 : from->at[i] - (int32_t)from->option_first + (int32_t)part->option_count;
  *cells += count;
  for (size_t o = from->option_first; o < from->option_first + from->option_count; o++)
    {
      sw_option *option = &part->options[part->option_count];
      *option = m->whole->options[o];
      option->strip = (uint32_t)part->strip_count;
      option->need = m->need_at[option->need];
      part->needs[option->need].most++;
      m->region->start.used[part->option_count] = m->search->best.used[o];
      m->region->option_of[part->option_count++] = o;
    }
}

static void
add_strips (making *m)
{
  sw_model *part = &m->region->model;
  sw_strip_level *levels = part->level_pool;
  int32_t *cells = part->at_pool;
  for (size_t i = 0; i < m->whole->strip_count; i++)
    {
      if (!m->free_strip[i])
        continue;
      const sw_strip *from = &m->whole->strips[i];
      sw_strip *to = &part->strips[part->strip_count];
      *to = *from;
      to->levels = levels;
      for (uint32_t r = 0; r < from->level_count; r++)
        add_level (m, &from->levels[r], levels++, from, &cells);
      part->strip_count++;
    }
}

/* What of the best solution does not stay, as a solution of the region. */
static sw_status
add_start (making *m)
{
  const sw_search *s = m->search;
  sw_status status = SW_OK;
  for (size_t i = 0; i < s->best.count && status == SW_OK; i++)
    {
      int64_t copies = s->best.boards[i].copies - m->stays[i];
      const sw_pattern *p = &s->pool.items[s->best.boards[i].pattern];
      uint32_t count = 0;
      size_t pattern;
      for (uint32_t c = 0; c < p->count; c++)
        {
          const sw_entry *entry = &s->pool.entries[p->first + c];
          /* A piece that is cut but not needed. */
          if (m->need_at[entry->need] != SIZE_MAX)
            s->entries[count++] = (sw_entry){ .need = (uint32_t)m->need_at[entry->need], .copies = entry->copies };
        }
      if (copies == 0 || count == 0)
        continue;
      status = sw_patterns_add (&m->region->pool, p->stock, s->entries, count, &pattern, NULL);
      if (status == SW_OK)
        status = sw_solution_add (&m->region->start, pattern, copies);
    }
  return status;
}

/* Room for as much as the whole model has. */
static sw_status
alloc_region (sw_region *region, const sw_model *whole)
{
  size_t levels = 0, cells = 0;
  sw_model *part = &region->model;
  for (size_t i = 0; i < whole->strip_count; i++)
    for (uint32_t r = 0; r < whole->strips[i].level_count; r++)
      {
        levels++;
        cells += (size_t)(whole->strips[i].bays + 1) * whole->strips[i].levels[r].reach;
      }
  part->sections = sw_alloc (whole->section_count, sizeof *part->sections);
  part->needs = sw_alloc (whole->need_count, sizeof *part->needs);
  part->stocks = sw_alloc (whole->stock_count, sizeof *part->stocks);
  part->strips = sw_alloc (whole->strip_count, sizeof *part->strips);
  part->options = sw_alloc (whole->option_count, sizeof *part->options);
  part->level_pool = sw_alloc (levels, sizeof *part->level_pool);
  part->at_pool = sw_alloc (cells, sizeof *part->at_pool);
  region->need_of = sw_alloc (whole->need_count, sizeof *region->need_of);
  region->option_of = sw_alloc (whole->option_count, sizeof *region->option_of);
  if (!part->sections || !part->needs || !part->stocks || !part->strips || !part->options || !part->level_pool
      || !part->at_pool || !region->need_of || !region->option_of)
    return SW_NO_MEMORY;
  part->layout = whole->layout;
  part->section_count = whole->section_count;
  part->stagger = whole->stagger;
  part->turn = whole->turn;
  part->priced_pairs = whole->priced_pairs;
  part->granule = whole->granule;
  part->join_cost = whole->join_cost;
  part->change = whole->change;
  part->longest = whole->longest;
  part->unlimited = whole->unlimited;
  sw_status status = sw_solution_init (&region->kept, whole);
  return status == SW_OK ? sw_solution_init (&region->start, whole) : status;
}

sw_status
sw_region_new (sw_region *region, const sw_search *s, const uint8_t *free_strip, sw_wide spare, uint64_t *chance)
{
  making m = { .search = s, .whole = s->model, .region = region, .free_strip = free_strip };
  *region = (sw_region){ 0 };
  sw_status status = alloc_region (region, s->model);
  m.open = sw_alloc (s->model->need_count, sizeof *m.open);
  m.need_at = sw_alloc (s->model->need_count, sizeof *m.need_at);
  m.stays = sw_alloc (s->best.count, sizeof *m.stays);
  if (status == SW_OK && (!m.open || !m.need_at || !m.stays))
    status = SW_NO_MEMORY;
  if (status == SW_OK)
    {
      choose_boards (&m, spare, chance);
      status = keep_rest (&m);
    }
  if (status == SW_OK)
    {
      region->model.section_count = s->model->section_count;
      add_needs (&m);
      add_stocks (&m);
      add_strips (&m);
      status = add_start (&m);
    }
  free (m.open);
  free (m.need_at);
  free (m.stays);
  if (status != SW_OK)
    sw_region_clear (region);
  return status;
}

void
sw_region_clear (sw_region *region)
{
  free (region->model.sections);
  free (region->model.needs);
  free (region->model.stocks);
  free (region->model.strips);
  free (region->model.options);
  free (region->model.level_pool);
  free (region->model.at_pool);
  free (region->need_of);
  free (region->option_of);
  sw_solution_clear (&region->kept);
  sw_solution_clear (&region->start);
  sw_patterns_clear (&region->pool);
  *region = (sw_region){ 0 };
}

sw_status
sw_region_offer (const sw_region *region, sw_search *s, const sw_solution *solution, const sw_patterns *pool)
{
  sw_solution all;
  sw_status status = sw_solution_init (&all, s->model);
  if (status == SW_OK)
    status = sw_solution_copy (&all, &region->kept, s->model);
  for (size_t o = 0; o < region->model.option_count && status == SW_OK; o++)
    all.used[region->option_of[o]] = solution->used[o];
  for (size_t i = 0; i < solution->count && status == SW_OK; i++)
    {
      const sw_pattern *p = &pool->items[solution->boards[i].pattern];
      size_t pattern;
      /* Needs are in the same order in both. */
      for (uint32_t c = 0; c < p->count; c++)
        s->entries[c] = (sw_entry){ .need = (uint32_t)region->need_of[pool->entries[p->first + c].need],
                               .copies = pool->entries[p->first + c].copies };
      status = sw_patterns_add (&s->pool, p->stock, s->entries, p->count, &pattern, NULL);
      if (status == SW_OK)
        status = sw_solution_add (&all, pattern, solution->boards[i].copies);
    }
  if (status == SW_OK)
    status = sw_search_offer (s, &all);
  sw_solution_clear (&all);
  return status;
}
