/* model.c - a layout as an integer programme, split where nothing couples
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "model/model_placed.h"

#include <stdlib.h>
#include <string.h>

#include "base/decimal.h"
#include "base/memory.h"

/* ---- Which sections belong together ------------------------------------ */

static size_t
root (size_t *parent, size_t node)
{
  while (parent[node] != node)
    {
      parent[node] = parent[parent[node]];
      node = parent[node];
    }
  return node;
}

static void
unite (size_t *parent, size_t one, size_t other)
{
  size_t a = root (parent, one);
  size_t b = root (parent, other);
  if (a < b)
    parent[b] = a;
  else
    parent[a] = b;
}

static void
join_sections (const sw_layout *layout, size_t *parent)
{
  const sw_job *job = layout->job;
  for (size_t s = 0; s < job->sections.count; s++)
    parent[s] = s;
  if (job->settings->stagger == SW_STAGGER_OFF || layout->stretch_count == 0)
    return;
  for (size_t r = 0; r < job->fence.run_count; r++)
    {
      size_t below = SIZE_MAX;
      for (size_t t = 0; t < layout->through_count; t++)
        {
          const sw_level *level = &job->levels.items[layout->through[t]];
          if (!sw_level_is_on (level, r))
            continue;
          if (below != SIZE_MAX)
            unite (parent, below, level->section);
          below = level->section;
        }
    }
}

/* ---- One model ----------------------------------------------------------- */

/* What building one model looks up in the layout. */
typedef struct build
{
  const sw_layout *layout;
  const size_t *model_of; /* for each section: its model */
  size_t *need_of;        /* for each layout item: its need in the model */
  int64_t *uses;          /* for each layout item: how many arcs have that length */
  int64_t *placed;        /* for each model: its pieces that are in their places */
  size_t placed_need;     /* the need of those pieces in the model in hand */
} build;

static sw_status
count_parts (sw_model *model, const build *b, size_t self)
{
  const sw_layout *layout = b->layout;
  const sw_job *job = layout->job;
  for (size_t i = 0; i < layout->item_count; i++)
    {
      bool new_section = i == 0 || layout->items[i].section != layout->items[i - 1].section;
      if (b->model_of[layout->items[i].section] != self)
        continue;
      model->need_count++;
      if (new_section)
        model->section_count++;
    }
  if (b->placed[self] > 0)
    {
      model->need_count++;
      model->section_count++;
    }
  model->stock_count = 2 * job->stocks.count + 1;
  model->sections = sw_alloc (model->section_count, sizeof *model->sections);
  model->needs = sw_alloc (model->need_count, sizeof *model->needs);
  model->stocks = sw_alloc (model->stock_count, sizeof *model->stocks);
  return model->sections && model->needs && model->stocks ? SW_OK : SW_NO_MEMORY;
}

/* Add the boards of a section, shortest first, but no length from the yard that another one always stands in for: no
 * shorter, no dearer, and to be had without limit.  Such a board holds the same pieces, costs no more, is one board as
 * well, and leaves an offcut that is no shorter, so that no aim has a better optimum with those that are left out. */
static void
add_stocks (sw_model *model, size_t section, size_t of_job)
{
  const sw_job *job = model->layout->job;
  sw_model_section *g = &model->sections[section];
  g->stock_first = model->stock_count;
  for (size_t s = 0; s < job->stocks.count; s++)
    {
      const sw_stock *row = &job->stocks.items[s];
      if (row->section != of_job)
        continue;
      const sw_length usable = sw_job_usable (job, row);
      int64_t fit = usable > 0 ? (usable + job->settings->kerf) / g->unit : 0;
      const uint32_t whole = sw_model_whole_need (model, g, s);
      if (fit < model->needs[g->need_first + g->need_count - 1].size && whole == 0)
        continue; /* no piece fits on it */
      sw_model_stock stock = { .section = section, .of_job = s, .room = fit };
      if (row->limit != 0)
        {
          stock.limit = row->limit;
          stock.cost = sw_job_by_length (job) ? row->length : row->price;
          model->stocks[model->stock_count++] = stock;
        }
      if (row->hand > 0)
        {
          stock.hand = true;
          stock.sawn = row->sawn;
          stock.whole = whole;
          stock.limit = row->hand;
          stock.cost = 0;
          model->stocks[model->stock_count++] = stock;
        }
    }
  sw_model_stock stand_in = { .cost = INT64_MAX }; /* the cheapest without limit of those that are no shorter */
  size_t kept = model->stock_count;
  for (size_t s = kept; s-- > g->stock_first;)
    {
      const sw_model_stock stock = model->stocks[s];
      if (job->stocks.items[stock.of_job].length > model->longest)
        model->longest = job->stocks.items[stock.of_job].length;
      if (!stock.hand && stock.cost >= stand_in.cost && stock.room <= stand_in.room)
        continue;
      if (stock.limit < 0 && stock.cost < stand_in.cost)
        stand_in = stock;
      model->stocks[--kept] = stock;
    }
  g->stock_count = model->stock_count - kept;
  memmove (&model->stocks[g->stock_first], &model->stocks[kept], g->stock_count * sizeof *model->stocks);
  model->stock_count = g->stock_first + g->stock_count;
}

/* Add the section of what is in its place; it comes after all others. */
static void
add_placed_section (sw_model *model, build *b, size_t self, size_t section, size_t need)
{
  const int64_t count = b->placed[self];
  b->placed_need = need;
  if (count == 0)
    return;
  model->sections[section] = (sw_model_section){ .of_job = SW_SECTION_IN_PLACE,
                                                 .need_first = need,
                                                 .need_count = 1,
                                                 .stock_first = model->stock_count,
                                                 .stock_count = 1,
                                                 .unit = 1 };
  model->needs[need] = (sw_need){ .section = section, .item = SW_NO_ITEM, .size = 1, .most = count };
  model->stocks[model->stock_count++]
      = (sw_model_stock){ .section = section, .hand = true, .sawn = true, .room = count, .limit = -1 };
}

static void
add_sections (sw_model *model, build *b, size_t self)
{
  const sw_layout *layout = b->layout;
  size_t section = 0, need = 0;
  model->stock_count = 0;
  for (size_t i = 0; i < layout->item_count;)
    {
      size_t of_job = layout->items[i].section, end = i;
      while (end < layout->item_count && layout->items[end].section == of_job)
        end++;
      if (b->model_of[of_job] == self)
        {
          sw_model_section *g = &model->sections[section];
          g->of_job = of_job;
          g->need_first = need;
          g->need_count = end - i;
          g->unit = 0;
          for (size_t k = i; k < end; k++)
            g->unit = sw_decimal_gcd (g->unit, layout->items[k].take + layout->job->settings->kerf);
          for (size_t k = i; k < end; k++, need++)
            {
              const sw_item *item = &layout->items[k];
              model->needs[need] = (sw_need){ .section = section,
                                              .item = k,
                                              .size = (item->take + layout->job->settings->kerf) / g->unit,
                                              .demand = item->demand,
                                              .most = item->demand + b->uses[k] };
              b->need_of[k] = need;
            }
          add_stocks (model, section, of_job);
          section++;
        }
      i = end;
    }
  add_placed_section (model, b, self, section, need);
}

/* Set the granule of costs: the greatest common divisor of all amounts that can be paid. */
static void
set_granule (sw_model *model)
{
  int64_t granule = 0;
  for (size_t s = 0; s < model->stock_count; s++)
    granule = sw_decimal_gcd (granule, model->stocks[s].cost);
  if (model->option_count > 0)
    granule = sw_decimal_gcd (granule, model->join_cost);
  if (granule == 0)
    granule = 1;
  for (size_t s = 0; s < model->stock_count; s++)
    model->stocks[s].cost /= granule;
  model->join_cost /= granule;
  model->granule = granule;
}

static void
set_unlimited (sw_model *model)
{
  model->unlimited = true;
  for (size_t g = 0; g < model->section_count; g++)
    {
      const sw_model_section *section = &model->sections[g];
      int64_t largest = 0;
      for (size_t s = section->stock_first; s < section->stock_first + section->stock_count; s++)
        if (model->stocks[s].limit < 0 && model->stocks[s].room > largest)
          largest = model->stocks[s].room;
      if (model->needs[section->need_first].size > largest)
        model->unlimited = false;
    }
}

/* Strips.  With stagger, all through levels of a stretch look at each other; without it, each level is alone.  A run
 * may lack some of the levels. */

static bool
is_on (const sw_layout *layout, size_t stretch, size_t t)
{
  return sw_level_is_on (&layout->job->levels.items[layout->through[t]], layout->stretches[stretch].run);
}

/* Find the next strip of STRETCH that belongs to model SELF: the through levels from *T on, before END; COUNT of them
 * go into ON.  False: there are no more. */
static bool
next_strip (const sw_layout *layout, const build *b, size_t self, bool stagger, size_t stretch, size_t *t, size_t *end,
            size_t *count)
{
  const sw_level *levels = layout->job->levels.items;
  while (*t < layout->through_count
         && (!is_on (layout, stretch, *t) || b->model_of[levels[layout->through[*t]].section] != self))
    ++*t;
  if (*t == layout->through_count)
    return false;
  *end = stagger ? layout->through_count : *t + 1;
  *count = 0;
  for (size_t r = *t; r < *end; r++)
    *count += is_on (layout, stretch, r) ? 1 : 0;
  return true;
}

static sw_status
alloc_strips (sw_model *model, const build *b, size_t self)
{
  const sw_layout *layout = b->layout;
  size_t strips = 0, levels = 0, posts = 0, cells = 0, options = 0, crossings = 0;
  for (size_t st = 0; st < layout->stretch_count; st++)
    for (size_t t = 0, end, count; next_strip (layout, b, self, model->stagger, st, &t, &end, &count); t = end)
      {
        size_t bays = layout->stretches[st].last - layout->stretches[st].first;
        strips++;
        levels += count;
        posts += bays + 1;
        crossings += (bays + 1) * count;
        for (size_t r = t; r < end; r++)
          {
            size_t k = st * layout->through_count + r, reach = 0;
            for (size_t a = layout->arc_start[k]; a < layout->arc_start[k + 1]; a++)
              if (layout->arcs[a].to - layout->arcs[a].from > reach)
                reach = layout->arcs[a].to - layout->arcs[a].from;
            options += layout->arc_start[k + 1] - layout->arc_start[k];
            cells += (bays + 1) * reach;
          }
      }
  model->strips = sw_alloc (strips, sizeof *model->strips);
  model->level_pool = sw_alloc (levels, sizeof *model->level_pool);
  model->counted_pool = sw_alloc (posts, 1);
  model->at_pool = sw_alloc (cells, sizeof *model->at_pool);
  model->options = sw_alloc (options, sizeof *model->options);
  if (!model->strips || !model->level_pool || !model->counted_pool || !model->at_pool || !model->options)
    return SW_NO_MEMORY;
  if (b->placed[self] > 0)
    {
      model->placed_pool = sw_alloc (crossings, 1);
      if (model->placed_pool == NULL)
        return SW_NO_MEMORY;
    }
  for (size_t i = 0; i < cells; i++)
    model->at_pool[i] = -1;
  return SW_OK;
}

static void
fill_level (sw_model *model, const build *b, sw_strip *strip, uint32_t level, size_t through, int32_t **cells)
{
  const sw_layout *layout = b->layout;
  const sw_stretch *stretch = &layout->stretches[strip->stretch];
  sw_strip_level *out = &strip->levels[level];
  size_t k = strip->stretch * layout->through_count + through;
  out->of_job = layout->through[through];
  out->option_first = model->option_count;
  out->option_count = layout->arc_start[k + 1] - layout->arc_start[k];
  out->at = *cells;
  for (size_t a = layout->arc_start[k]; a < layout->arc_start[k + 1]; a++)
    {
      const sw_arc *arc = &layout->arcs[a];
      sw_option option = { .need = arc->item == SW_NO_ITEM ? b->placed_need : b->need_of[arc->item],
                           .arc = a,
                           .strip = (uint32_t)(strip - model->strips),
                           .level = level,
                           .from = (uint32_t)(arc->from - stretch->first),
                           .to = (uint32_t)(arc->to - stretch->first),
                           .changed = arc->changed };
      if (option.to - option.from > out->reach)
        out->reach = option.to - option.from;
      model->options[model->option_count++] = option;
    }
  for (size_t o = out->option_first; o < model->option_count; o++)
    {
      const sw_option *option = &model->options[o];
      out->at[option->to * out->reach + (option->to - option->from) - 1] = (int32_t)o;
    }
  *cells += (size_t)(strip->bays + 1) * out->reach;
}

static sw_status
add_strips (sw_model *model, const build *b, size_t self)
{
  const sw_layout *layout = b->layout;
  const sw_job *job = layout->job;
  model->stagger = job->settings->stagger != SW_STAGGER_OFF;
  model->turn = model->stagger && job->settings->turn == SW_TURN_KEEP;
  sw_status status = alloc_strips (model, b, self);
  if (status != SW_OK)
    return status;
  sw_strip_level *levels = model->level_pool;
  uint8_t *counted = model->counted_pool;
  uint8_t *placed = model->placed_pool;
  int32_t *cells = model->at_pool;
  for (size_t st = 0; st < layout->stretch_count; st++)
    for (size_t t = 0, end, count; next_strip (layout, b, self, model->stagger, st, &t, &end, &count); t = end)
      {
        const sw_stretch *stretch = &layout->stretches[st];
        sw_strip *strip = &model->strips[model->strip_count++];
        strip->stretch = st;
        strip->bays = (uint32_t)(stretch->last - stretch->first);
        strip->level_count = (uint32_t)count;
        strip->levels = levels;
        levels += count;
        for (uint32_t p = 0; p <= strip->bays; p++)
          counted[p] = job->fence.runs[stretch->run].posts[stretch->first + p].join != SW_JOIN_ALWAYS;
        strip->counted = counted;
        counted += strip->bays + 1;
        uint32_t level = 0;
        for (size_t r = t; r < end; r++)
          if (is_on (layout, st, r))
            fill_level (model, b, strip, level++, r, &cells);
        sw_model_mark_placed (model, strip, &placed);
      }
  return SW_OK;
}

static sw_status
fill_model (sw_model *model, build *b, size_t self)
{
  model->layout = b->layout;
  sw_status status = count_parts (model, b, self);
  if (status != SW_OK)
    return status;
  add_sections (model, b, self);
  status = add_strips (model, b, self);
  if (status != SW_OK)
    return status;
  model->join_cost = b->layout->buys_first ? 0 : b->layout->job->settings->join_cost;
  sw_model_set_change (model);
  set_granule (model);
  set_unlimited (model);
  return SW_OK;
}

static sw_status
build_all (sw_model **out, size_t *count, const sw_layout *layout, size_t *parent, size_t *model_of, build *b)
{
  size_t sections = layout->job->sections.count, models = 0;
  join_sections (layout, parent);
  for (size_t s = 0; s < sections; s++)
    model_of[s] = SIZE_MAX;
  /* Number the models in order of their first item, so that sections without pieces make none. */
  for (size_t i = 0; i < layout->item_count; i++)
    {
      size_t top = root (parent, layout->items[i].section);
      if (model_of[top] == SIZE_MAX)
        model_of[top] = models++;
    }
  for (size_t s = 0; s < sections; s++)
    model_of[s] = model_of[root (parent, s)];
  b->placed = sw_alloc (models, sizeof *b->placed);
  sw_model *all = sw_alloc (models, sizeof *all);
  if (all == NULL || b->placed == NULL)
    {
      free (all);
      return SW_NO_MEMORY;
    }
  for (size_t a = 0; a < layout->arc_count; a++)
    {
      const size_t model = model_of[layout->job->levels.items[layout->arcs[a].level].section];
      if (layout->arcs[a].item != SW_NO_ITEM)
        b->uses[layout->arcs[a].item]++;
      else if (model != SIZE_MAX) /* no item, but a model: all of the section is in its place */
        b->placed[model]++;
    }
  sw_status status = SW_OK;
  for (size_t m = 0; m < models && status == SW_OK; m++)
    status = fill_model (&all[m], b, m);
  if (status != SW_OK)
    {
      sw_models_free (all, models);
      return status;
    }
  *out = all;
  *count = models;
  return SW_OK;
}

sw_status
sw_models_new (sw_model **out, size_t *count, const sw_layout *layout)
{
  size_t sections = layout->job->sections.count;
  size_t *parent = sw_alloc (sections, sizeof *parent);
  size_t *model_of = sw_alloc (sections, sizeof *model_of);
  build b = { .layout = layout, .model_of = model_of };
  b.need_of = sw_alloc (layout->item_count, sizeof *b.need_of);
  b.uses = sw_alloc (layout->item_count, sizeof *b.uses);
  sw_status status = SW_NO_MEMORY;
  if (parent && model_of && b.need_of && b.uses)
    status = build_all (out, count, layout, parent, model_of, &b);
  free (parent);
  free (model_of);
  free (b.need_of);
  free (b.uses);
  free (b.placed);
  return status;
}

void
sw_models_free (sw_model *models, size_t count)
{
  if (models == NULL)
    return;
  for (size_t m = 0; m < count; m++)
    {
      free (models[m].sections);
      free (models[m].needs);
      free (models[m].stocks);
      free (models[m].strips);
      free (models[m].options);
      free (models[m].level_pool);
      free (models[m].at_pool);
      free (models[m].counted_pool);
      free (models[m].placed_pool);
    }
  free (models);
}

size_t
sw_model_largest_within (const sw_model *model, const sw_model_section *section, int64_t size)
{
  size_t low = section->need_first, high = low + section->need_count;
  while (low < high)
    {
      size_t middle = low + (high - low) / 2;
      if (model->needs[middle].size <= size)
        high = middle;
      else
        low = middle + 1;
    }
  return low;
}
