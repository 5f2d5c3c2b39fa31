/* model.c - a layout as an integer programme, split where nothing couples
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "model/model.h"

#include <stdlib.h>
#include <string.h>

#include "base/decimal.h"
#include "base/memory.h"

/* ---- Which sections belong together ------------------------------------ */

/* Set GROUP for each section: one of those that it belongs together with. */
static void
join_sections (const sw_layout *layout, size_t *group)
{
  const sw_job *job = layout->job;
  for (size_t s = 0; s < job->sections.count; s++)
    group[s] = s;
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
          const size_t from = group[level->section], to = below != SIZE_MAX ? group[below] : from;
          for (size_t s = 0; s < job->sections.count && from != to; s++)
            group[s] = group[s] == from ? to : group[s];
          below = level->section;
        }
    }
}

/* ---- One model ----------------------------------------------------------- */

/* How much of the layout goes into one model. */
typedef struct extent
{
  size_t needs, options;
  int64_t placed; /* pieces that are in their places */
} extent;

/* What building one model looks up in the layout. */
typedef struct build
{
  const sw_layout *layout;
  size_t *model_of;   /* for each section: its model; SIZE_MAX: it has no pieces */
  size_t *need_of;    /* for each layout item: its need in the model */
  int64_t *uses;      /* for each layout item: how many arcs have that length */
  extent *extents;    /* a model each */
  size_t self;        /* the model in hand */
  size_t placed_need; /* the need of what is in its place in that model */
} build;

/* The need + 1 of the pieces that a board of the job's stock ROW can serve as without a cut; 0: there is none. */
static uint32_t
whole_need (const sw_model *model, const sw_model_section *section, size_t row)
{
  for (size_t n = section->need_first; n < section->need_first + section->need_count; n++)
    if (model->layout->items[model->needs[n].item].kept == row + 1)
      return (uint32_t)n + 1;
  return 0;
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
      const uint32_t whole = whole_need (model, g, s);
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
add_placed_section (sw_model *model, build *b)
{
  const int64_t count = b->extents[b->self].placed;
  const size_t section = model->section_count, need = model->need_count;
  b->placed_need = need;
  if (count == 0)
    return;
  model->sections[section] = (sw_model_section){ .of_job = SW_SECTION_IN_PLACE,
                                                 .need_first = need,
                                                 .need_count = 1,
                                                 .stock_first = model->stock_count,
                                                 .stock_count = 1,
                                                 .unit = 1 };
  model->section_count++;
  model->needs[model->need_count++] = (sw_need){ .section = section, .item = SW_NO_ITEM, .size = 1, .most = count };
  model->stocks[model->stock_count++]
      = (sw_model_stock){ .section = section, .hand = true, .sawn = true, .room = count, .limit = -1 };
}

/* Add the section of the layout's items from FIRST on, before END. */
static void
add_section (sw_model *model, build *b, size_t first, size_t end)
{
  const sw_layout *layout = b->layout;
  const sw_length kerf = layout->job->settings->kerf;
  const size_t section = model->section_count++;
  sw_model_section *g = &model->sections[section];
  *g = (sw_model_section){ .of_job = layout->items[first].section,
                           .need_first = model->need_count,
                           .need_count = end - first };
  for (size_t i = first; i < end; i++)
    g->unit = sw_decimal_gcd (g->unit, layout->items[i].take + kerf);
  for (size_t i = first; i < end; i++)
    {
      const sw_item *item = &layout->items[i];
      b->need_of[i] = model->need_count;
      model->needs[model->need_count++] = (sw_need){ .section = section,
                                                     .item = i,
                                                     .size = (item->take + kerf) / g->unit,
                                                     .demand = item->demand,
                                                     .most = item->demand + b->uses[i] };
    }
  add_stocks (model, section, g->of_job);
}

static sw_status
add_sections (sw_model *model, build *b)
{
  const sw_layout *layout = b->layout;
  /* One more of each for what is in its place. */
  model->sections = sw_alloc (layout->job->sections.count + 1, sizeof *model->sections);
  model->needs = sw_alloc (b->extents[b->self].needs + 1, sizeof *model->needs);
  model->stocks = sw_alloc (2 * layout->job->stocks.count + 1, sizeof *model->stocks);
  if (!model->sections || !model->needs || !model->stocks)
    return SW_NO_MEMORY;
  for (size_t i = 0, end; i < layout->item_count; i = end)
    {
      for (end = i; end < layout->item_count && layout->items[end].section == layout->items[i].section;)
        end++;
      if (b->model_of[layout->items[i].section] == b->self)
        add_section (model, b, i, end);
    }
  add_placed_section (model, b);
  return SW_OK;
}

/* Set the weight of a changed piece: more than all joins together. */
static void
set_change (sw_model *model)
{
  int64_t most = 1;
  bool any = false;
  for (size_t s = 0; s < model->strip_count; s++)
    most += (int64_t)model->strips[s].bays * model->strips[s].level_count;
  for (size_t o = 0; o < model->option_count; o++)
    any = any || model->options[o].changed;
  model->change = any ? most : 0;
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

/* ---- Strips ---------------------------------------------------------------- */

/* Has STRETCH through level T, and does that level belong to the model in hand?  A run may lack some of the levels. */
static bool
has_level (const build *b, size_t stretch, size_t t)
{
  const sw_level *level = &b->layout->job->levels.items[b->layout->through[t]];
  return sw_level_is_on (level, b->layout->stretches[stretch].run) && b->model_of[level->section] == b->self;
}

sw_status
sw_level_index (const sw_model *model, uint32_t bays, sw_strip_level *level)
{
  const size_t end = level->option_first + level->option_count;
  level->reach = 0;
  for (size_t o = level->option_first; o < end; o++)
    if (model->options[o].to - model->options[o].from > level->reach)
      level->reach = model->options[o].to - model->options[o].from;
  const size_t cells = (size_t)(bays + 1) * level->reach;
  level->at = sw_alloc (cells, sizeof *level->at);
  if (level->at == NULL)
    return SW_NO_MEMORY;
  for (size_t i = 0; i < cells; i++)
    level->at[i] = -1;
  for (size_t o = level->option_first; o < end; o++)
    level->at[(size_t)model->options[o].to * level->reach + model->options[o].to - model->options[o].from - 1]
        = (int32_t)o;
  return SW_OK;
}

/* Add through level T to STRIP, the last one of MODEL. */
static sw_status
add_level (sw_model *model, const build *b, sw_strip *strip, size_t t)
{
  const sw_layout *layout = b->layout;
  const size_t first = layout->stretches[strip->stretch].first, k = strip->stretch * layout->through_count + t;
  sw_strip_level *level = &strip->levels[strip->level_count];
  *level = (sw_strip_level){ .of_job = layout->through[t],
                             .option_first = model->option_count,
                             .option_count = layout->arc_start[k + 1] - layout->arc_start[k] };
  for (size_t a = layout->arc_start[k]; a < layout->arc_start[k + 1]; a++)
    {
      const sw_arc *arc = &layout->arcs[a];
      model->options[model->option_count++]
          = (sw_option){ .need = arc->item == SW_NO_ITEM ? b->placed_need : b->need_of[arc->item],
                         .arc = a,
                         .strip = (uint32_t)(strip - model->strips),
                         .level = strip->level_count,
                         .from = (uint32_t)(arc->from - first),
                         .to = (uint32_t)(arc->to - first),
                         .changed = arc->changed };
    }
  strip->level_count++;
  return sw_level_index (model, strip->bays, level);
}

/* Mark where pieces of STRIP that are in their places join. */
static sw_status
mark_placed (const sw_model *model, sw_strip *strip)
{
  strip->rank = strip->level_count;
  for (size_t o = sw_strip_first (strip); o < sw_strip_end (strip); o++)
    {
      const sw_option *option = &model->options[o];
      if (model->layout->arcs[option->arc].item != SW_NO_ITEM)
        continue;
      if (strip->placed == NULL)
        strip->placed = sw_alloc ((size_t)(strip->bays + 1) * strip->rank, 1);
      if (strip->placed == NULL)
        return SW_NO_MEMORY;
      strip->placed[(size_t)option->from * strip->rank + option->level] = 1;
      strip->placed[(size_t)option->to * strip->rank + option->level] = 1;
    }
  return SW_OK;
}

/* Add a strip of STRETCH with its through levels from T on, before END. */
static sw_status
add_strip (sw_model *model, const build *b, size_t stretch, size_t t, size_t end)
{
  const sw_stretch *of = &b->layout->stretches[stretch];
  const sw_post *posts = &b->layout->job->fence.runs[of->run].posts[of->first];
  sw_strip *strip = &model->strips[model->strip_count++];
  *strip = (sw_strip){ .stretch = stretch, .bays = (uint32_t)(of->last - of->first) };
  strip->levels = sw_alloc (end - t, sizeof *strip->levels);
  strip->counted = sw_alloc (strip->bays + 1, 1);
  sw_status status = strip->levels && strip->counted ? SW_OK : SW_NO_MEMORY;
  for (uint32_t p = 0; p <= strip->bays && status == SW_OK; p++)
    strip->counted[p] = posts[p].join != SW_JOIN_ALWAYS;
  for (; t < end && status == SW_OK; t++)
    if (has_level (b, stretch, t))
      status = add_level (model, b, strip, t);
  return status == SW_OK ? mark_placed (model, strip) : status;
}

static sw_status
add_strips (sw_model *model, const build *b)
{
  const sw_layout *layout = b->layout;
  size_t capacity = 0;
  model->stagger = layout->job->settings->stagger != SW_STAGGER_OFF;
  model->turn = model->stagger && layout->job->settings->turn == SW_TURN_KEEP;
  model->options = sw_alloc (b->extents[b->self].options, sizeof *model->options);
  sw_status status = model->options != NULL ? SW_OK : SW_NO_MEMORY;
  for (size_t s = 0; s < layout->stretch_count; s++)
    for (size_t t = 0, end; t < layout->through_count && status == SW_OK; t = end)
      {
        /* With stagger, all levels of a stretch look at each other; without it, each level is alone. */
        end = model->stagger ? layout->through_count : t + 1;
        while (t < end && !has_level (b, s, t))
          t++;
        if (t == end)
          continue;
        status = sw_grow ((void **)&model->strips, &capacity, model->strip_count + 1, sizeof *model->strips);
        if (status == SW_OK)
          status = add_strip (model, b, s, t, end);
      }
  return status;
}

/* ---- All models ------------------------------------------------------------ */

static sw_status
fill_model (sw_model *model, build *b)
{
  model->layout = b->layout;
  sw_status status = add_sections (model, b);
  if (status == SW_OK)
    status = add_strips (model, b);
  if (status != SW_OK)
    return status;
  model->join_cost = b->layout->buys_first ? 0 : b->layout->job->settings->join_cost;
  set_change (model);
  set_granule (model);
  return SW_OK;
}

/* Number the models in the order of their first items, so that sections without pieces make none; returns how many
 * there are. */
static size_t
number_models (const build *b, size_t *group)
{
  const size_t sections = b->layout->job->sections.count;
  size_t models = 0;
  join_sections (b->layout, group);
  for (size_t s = 0; s < sections; s++)
    b->model_of[s] = SIZE_MAX;
  for (size_t i = 0; i < b->layout->item_count; i++)
    {
      size_t *model = &b->model_of[group[b->layout->items[i].section]];
      if (*model == SIZE_MAX)
        *model = models++;
    }
  for (size_t s = 0; s < sections; s++)
    b->model_of[s] = b->model_of[group[s]];
  return models;
}

static void
count_parts (build *b)
{
  const sw_layout *layout = b->layout;
  for (size_t i = 0; i < layout->item_count; i++)
    b->extents[b->model_of[layout->items[i].section]].needs++;
  for (size_t a = 0; a < layout->arc_count; a++)
    {
      const size_t model = b->model_of[layout->job->levels.items[layout->arcs[a].level].section];
      if (model == SIZE_MAX)
        continue; /* all of the section is in its place */
      b->extents[model].options++;
      if (layout->arcs[a].item != SW_NO_ITEM)
        b->uses[layout->arcs[a].item]++;
      else
        b->extents[model].placed++;
    }
}

static sw_status
build_all (sw_model **out, size_t *count, build *b, size_t *group)
{
  const size_t models = number_models (b, group);
  b->extents = sw_alloc (models, sizeof *b->extents);
  sw_model *all = sw_alloc (models, sizeof *all);
  sw_status status = all && b->extents ? SW_OK : SW_NO_MEMORY;
  if (status == SW_OK)
    count_parts (b);
  for (b->self = 0; b->self < models && status == SW_OK; b->self++)
    status = fill_model (&all[b->self], b);
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
  size_t *group = sw_alloc (sections, sizeof *group);
  build b = { .layout = layout };
  b.model_of = sw_alloc (sections, sizeof *b.model_of);
  b.need_of = sw_alloc (layout->item_count, sizeof *b.need_of);
  b.uses = sw_alloc (layout->item_count, sizeof *b.uses);
  sw_status status = SW_NO_MEMORY;
  if (group && b.model_of && b.need_of && b.uses)
    status = build_all (out, count, &b, group);
  free (group);
  free (b.model_of);
  free (b.need_of);
  free (b.uses);
  free (b.extents);
  return status;
}

void
sw_model_clear (sw_model *model)
{
  for (size_t s = 0; s < model->strip_count; s++)
    {
      for (uint32_t r = 0; model->strips[s].levels != NULL && r < model->strips[s].level_count; r++)
        free (model->strips[s].levels[r].at);
      free (model->strips[s].levels);
    }
  free (model->sections);
  free (model->needs);
  free (model->stocks);
  free (model->strips);
  free (model->options);
}

void
sw_models_free (sw_model *models, size_t count)
{
  for (size_t m = 0; models != NULL && m < count; m++)
    {
      for (size_t s = 0; s < models[m].strip_count; s++)
        {
          free (models[m].strips[s].counted);
          free (models[m].strips[s].placed);
        }
      sw_model_clear (&models[m]);
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
