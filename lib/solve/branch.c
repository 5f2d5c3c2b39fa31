/* branch.c - branch and price over the pieces of one section: the tree
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "solve/branch.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "solve/steps.h"
#include "model/tuning.h"

/* How much of a board may be left over in a solution that costs TARGET: at the price of the cheapest unit of length, no
 * board loses more than all of them together.  Negative: no solution costs as little. */
static int64_t
most_waste (const sw_model *model, int64_t target)
{
  const sw_model_stock *least = &model->stocks[0];
  sw_wide size = 0;
  for (size_t i = 1; i < model->stock_count; i++)
    if ((sw_wide)model->stocks[i].cost * least->room < (sw_wide)least->cost * model->stocks[i].room)
      least = &model->stocks[i];
  for (size_t n = 0; n < model->need_count; n++)
    size += (sw_wide)model->needs[n].demand * model->needs[n].size;
  const sw_wide lost = (sw_wide)target * least->room - size * least->cost;
  if (lost < 0)
    return -1;
  return least->cost == 0 || lost / least->cost > INT64_MAX ? INT64_MAX : (int64_t)(lost / least->cost);
}

bool
sw_is_tight (const sw_search *s)
{
  const sw_model *model = s->model;
  const int64_t waste = most_waste (model, s->bound);
  const int64_t most = (int64_t)(SW_CELLS / (model->need_count + 1));
  return model->need_count > 0 && sw_model_longest (model, &model->sections[0]) < most && waste >= 0
         && waste < model->needs[model->need_count - 1].size;
}

/* From now on look for solutions that cost no more than TARGET. */
static void
aim_at (sw_tree *t, int64_t target)
{
  t->target = target;
  t->waste = most_waste (t->model, target);
}

static sw_status
begin (sw_tree *t, sw_search *s)
{
  const sw_model *model = s->model;
  const size_t rooms = model->need_count + SW_MORE_KINDS;
  *t = (sw_tree){ .search = s, .model = model, .wide = *model, .kind_room = rooms, .penalty = 1 };
  t->goal = (sw_goal){ .model = &t->wide, .aim = SW_AIM_COST, .caps = { -1, -1, -1 } };
  t->wide.need_count = rooms;
  t->wide.needs = sw_alloc (rooms, sizeof *t->wide.needs);
  t->wide.stocks = sw_alloc (model->stock_count, sizeof *t->wide.stocks);
  t->kinds = sw_alloc (rooms, sizeof *t->kinds);
  t->entries = sw_alloc (rooms, sizeof *t->entries);
  t->together = sw_alloc (rooms * rooms, sizeof *t->together);
  t->pieces = sw_alloc (model->need_count, sizeof *t->pieces);
  t->pricer = sw_pair_pricer_new (rooms);
  if (!t->wide.needs || !t->wide.stocks || !t->kinds || !t->entries || !t->together || !t->pieces || !t->pricer)
    return SW_NO_MEMORY;
  memcpy (t->wide.stocks, model->stocks, model->stock_count * sizeof *model->stocks);
  memcpy (t->wide.needs, model->needs, model->need_count * sizeof *model->needs);
  t->kind_count = model->need_count;
  for (size_t n = 0; n < model->need_count; n++)
    t->kinds[n] = (sw_kind){ .a = SIZE_MAX, .b = SIZE_MAX };
  for (size_t i = 0; i < model->stock_count; i++)
    t->penalty = fmax (t->penalty, (double)model->stocks[i].cost);
  sw_status status = sw_prices_init (&t->prices, &t->goal, true);
  if (status == SW_OK)
    status = sw_tree_programme (t, model->need_count + SW_FIRST_KINDS);
  sw_node *root = status == SW_OK ? sw_tree_push (t, NULL) : NULL;
  if (root == NULL)
    return status == SW_OK ? SW_NO_MEMORY : status;
  for (size_t n = 0; n < model->need_count; n++)
    root->demand[n] = model->needs[n].demand;
  for (size_t i = 0; i < model->stock_count; i++)
    root->high[i] = model->stocks[i].limit;
  return SW_OK;
}

/* Take in the patterns of POOL, or those of them that MASTER has where it is not NULL, that a solution as good as the
 * target could use, as PRICES tell. */
static sw_status
take_useful (sw_tree *t, const sw_prices *prices, const sw_patterns *pool, const sw_master *master)
{
  const sw_wide spare = (sw_wide)t->target * prices->scale - prices->bound;
  const size_t count = master != NULL ? sw_master_patterns (master) : pool->count;
  for (size_t i = 0; i < count && t->status == SW_OK; i++)
    {
      const size_t pattern = master != NULL ? sw_master_pattern (master, i) : i;
      const sw_pattern *p = &pool->items[pattern];
      t->stock = p->stock;
      if (t->model->stocks[p->stock].room - sw_pattern_size (t->model, pool, pattern) <= t->waste
          && sw_prices_loss (prices, pool, pattern) <= spare)
        sw_tree_take (&pool->entries[p->first], p->count, 0, t);
    }
  /* Add an empty board of each stock, so that a least number of boards can always be reached. */
  for (t->stock = 0; t->stock < t->model->stock_count && t->status == SW_OK; t->stock++)
    sw_tree_take (t->entries, 0, 0, t);
  return t->status;
}

/* The root is solved: leave out what its prices show to be of no use, because fewer columns take less time. */
static sw_status
drop_useless (sw_tree *t)
{
  sw_patterns all = t->pool;
  t->pool = (sw_patterns){ 0 };
  sw_status status = sw_tree_programme (t, t->wide.need_count);
  if (status == SW_OK)
    status = take_useful (t, &t->prices, &all, NULL);
  sw_patterns_clear (&all);
  return status;
}

static void
end (sw_tree *t)
{
  while (t->stack != NULL)
    {
      sw_node *node = t->stack;
      t->stack = node->next;
      free (node);
    }
  sw_master_free (t->master);
  sw_patterns_clear (&t->pool);
  sw_pair_pricer_free (t->pricer);
  sw_prices_clear (&t->prices);
  free (t->wide.needs);
  free (t->wide.stocks);
  free (t->kinds);
  free (t->entries);
  free (t->together);
  free (t->pieces);
}

static sw_status
run (sw_tree *t, uint64_t work)
{
  sw_search *s = t->search;
  sw_status status = SW_OK;
  bool at_root = true;
  while (t->stack != NULL && status == SW_OK)
    {
      sw_node *node = t->stack;
      sw_node_fate fate;
      if (sw_search_best (s) <= t->target && !s->hard_way)
        aim_at (t, sw_search_best (s) - 1);
      if (t->waste < 0 || (sw_search_done (s) && !s->hard_way))
        return SW_OK;
      if (t->past_work + sw_master_work (t->master) > work || sw_watch_stop (s->watch))
        {
          t->incomplete = true;
          return SW_OK;
        }
      t->stack = node->next;
      status = sw_tree_solve (t, node, &fate);
      if (at_root && status == SW_OK && fate == SW_OPEN)
        {
          status = drop_useless (t);
          if (status == SW_OK)
            status = sw_tree_solve (t, node, &fate);
        }
      at_root = false;
      if (status == SW_OK && fate == SW_OPEN)
        status = sw_tree_split (t, node);
      free (node);
      if (fate == SW_GIVEN_UP)
        {
          t->incomplete = true;
          return status;
        }
    }
  return status;
}

sw_status
sw_branch (const sw_programme *p, uint64_t work)
{
  sw_search *s = p->search;
  const sw_model *model = s->model;
  for (size_t i = 0; i < model->stock_count; i++)
    if (model->stocks[i].whole != 0)
      return SW_OK; /* pairs say nothing of boards that are used without a cut */
  if (s->goal.aim != SW_AIM_COST || !s->best.valid || !s->root.valid || model->option_count > 0
      || model->section_count != 1 || model->need_count > SW_KINDS_NEEDS)
    return SW_OK;
  sw_tree t;
  sw_status status = begin (&t, s);
  /* The less waste there may be the smaller is the tree. */
  aim_at (&t, s->hard_way ? sw_search_best (s) : sw_is_tight (s) ? s->bound : sw_search_best (s) - 1);
  if (status == SW_OK)
    status = take_useful (&t, &s->root, &s->pool, p->master);
  if (status == SW_OK)
    status = run (&t, work);
  if (status == SW_OK && !t.incomplete && s->bound < sw_search_best (s))
    s->bound = t.target < sw_search_best (s) ? t.target + 1 : sw_search_best (s);
  sw_search_show (s);
  end (&t);
  return status;
}
