/* ways_begin.c - the programme over ways, made and freed
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "plan/ways_lp_parts.h"

#include <math.h>
#include <stdlib.h>

#include "base/decimal.h"
#include "base/memory.h"

/* About how many rows a section has to begin with. */
#define FIRST_ROWS 48

static void
find_granule (sw_ways_lp *lp)
{
  const sw_job *job = lp->all->job;
  int64_t granule = job->settings->join_cost;
  for (size_t s = 0; s < job->stocks.count; s++)
    {
      const sw_stock *stock = &job->stocks.items[s];
      const int64_t cost = sw_job_by_length (job) ? stock->length : stock->price;
      if (stock->limit == 0)
        continue;
      granule = sw_decimal_gcd (granule, cost);
      lp->dearest = cost > lp->dearest ? cost : lp->dearest;
    }
  lp->timber = granule > 0 ? granule : 1;
  lp->granule = sw_decimal_gcd (lp->timber, job->settings->post_cost);
  lp->timber /= lp->granule;
  lp->dearest = lp->dearest / lp->granule + 1;
  /* Scaled values stay far from 2^62 even where pieces have the penalty for their value. */
  const double scale = ldexp (1, 44) / (double)lp->dearest;
  lp->scale = scale < 1 ? 1 : (int64_t)scale;
}

/* One more board or join: what it costs, in granules of timber, and how much can be sawn out of it. */
typedef struct coin
{
  int64_t cost;
  sw_length room;
} coin;

/* List the coins that cost something; *FREE_ROOM: how much can be sawn out of boards that cost nothing. */
static size_t
list_coins (const sw_ways_lp *lp, coin *coins, sw_wide *free_room)
{
  const sw_job *job = lp->all->job;
  const int64_t unit = lp->timber * lp->granule;
  size_t count = 0;
  for (size_t s = 0; s < job->stocks.count; s++)
    {
      const sw_stock *stock = &job->stocks.items[s];
      const sw_length usable = sw_job_usable (job, stock), room = usable > 0 ? usable + job->settings->kerf : 0;
      const int64_t cost = (sw_job_by_length (job) ? stock->length : stock->price) / unit;
      if (room <= 0)
        continue;
      *free_room += (sw_wide)room * stock->hand;
      if (stock->limit != 0 && cost == 0)
        *free_room += (sw_wide)room * (stock->limit < 0 ? SW_WAYS_SUMS * 1000 : stock->limit);
      else if (stock->limit != 0)
        coins[count++] = (coin){ .cost = cost, .room = room };
    }
  if (job->settings->join_cost > 0)
    coins[count++] = (coin){ .cost = job->settings->join_cost / unit };
  return count;
}

/* The least room that all pieces take, with their kerfs, however the stretches are divided and wherever the joins
 * lie. */
static sw_status
least_material (sw_ways_lp *lp, sw_wide *least)
{
  sw_status status = SW_OK;
  *least = 0;
  for (size_t g = 0; g < lp->all->group_count && status == SW_OK; g++)
    {
      const sw_group *group = &lp->all->groups[g];
      sw_wide of_group = SW_STRIP_NONE;
      for (size_t i = group->first; i < group->first + group->count && status == SW_OK; i++)
        {
          sw_wide sum;
          status = sw_ways_material (lp, i, &sum);
          of_group = sum < of_group ? sum : of_group;
        }
      *least += of_group;
    }
  return status;
}

/* Find the sums that enough boards and joins can cost; of the small sums few are possible. */
static sw_status
find_sums (sw_ways_lp *lp)
{
  coin *coins = sw_alloc (lp->all->job->stocks.count + 1, sizeof *coins);
  sw_length *most = sw_alloc ((size_t)SW_WAYS_SUMS, sizeof *most);
  sw_wide free_room = 0, need = 0;
  lp->next_sum = sw_alloc ((size_t)SW_WAYS_SUMS, sizeof *lp->next_sum);
  sw_status status = coins != NULL && most != NULL && lp->next_sum != NULL ? least_material (lp, &need) : SW_NO_MEMORY;
  if (status == SW_OK)
    {
      const size_t count = list_coins (lp, coins, &free_room);
      /* For each sum, find the most that can be sawn out of boards of that cost; -1: no boards and joins cost just
       * that. */
      for (int64_t x = 1; x < SW_WAYS_SUMS; x++)
        {
          most[x] = -1;
          for (size_t k = 0; k < count; k++)
            if (x >= coins[k].cost && most[x - coins[k].cost] >= 0 && most[x - coins[k].cost] + coins[k].room > most[x])
              most[x] = most[x - coins[k].cost] + coins[k].room;
        }
      int32_t next = (int32_t)SW_WAYS_SUMS;
      for (int64_t x = SW_WAYS_SUMS; x-- > 0;)
        {
          next = most[x] >= 0 && most[x] + free_room >= need ? (int32_t)x : next;
          lp->next_sum[x] = next;
        }
    }
  free (coins);
  free (most);
  return status;
}

static int
compare_takes (const void *left, const void *right)
{
  const sw_item *a = left, *b = right;
  if (a->section != b->section)
    return a->section < b->section ? -1 : 1;
  return a->take < b->take ? -1 : a->take > b->take;
}

/* The first price of a length: the least price of a metre of its section, times the length. */
static int64_t
first_price (const sw_ways_lp *lp, size_t section, sw_length take)
{
  const sw_job *job = lp->all->job;
  double least = -1;
  for (size_t s = 0; s < job->stocks.count; s++)
    {
      const sw_stock *stock = &job->stocks.items[s];
      const sw_length usable = sw_job_usable (job, stock), room = usable > 0 ? usable + job->settings->kerf : 0;
      const double cost = (double)((sw_job_by_length (job) ? stock->length : stock->price) / lp->granule);
      if (stock->section == section && room > 0 && stock->limit != 0 && (least < 0 || cost / (double)room < least))
        least = cost / (double)room;
    }
  return least < 0 ? 0 : (int64_t)(least * (double)(take + job->settings->kerf) * (double)lp->scale);
}

/* Choose some lengths, evenly spaced in the order of all lengths, as the first rows. */
static sw_status
first_rows (sw_ways_lp *lp)
{
  const sw_alternatives *all = lp->all;
  size_t count = 0;
  for (size_t i = 0; i < all->count; i++)
    count += all->items[i].layout->item_count;
  sw_item *takes = sw_alloc (count, sizeof *takes);
  if (takes == NULL)
    return SW_NO_MEMORY;
  count = 0;
  for (size_t i = 0; i < all->count; i++)
    for (size_t n = 0; n < all->items[i].layout->item_count; n++)
      takes[count++] = all->items[i].layout->items[n];
  qsort (takes, count, sizeof *takes, compare_takes);
  size_t kept = 0;
  for (size_t t = 0; t < count; t++)
    if (t == 0 || compare_takes (&takes[t], &takes[kept - 1]) != 0)
      takes[kept++] = takes[t];
  sw_status status = SW_OK;
  for (size_t t = 0; t < kept;)
    {
      size_t end = t;
      while (end < kept && takes[end].section == takes[t].section)
        end++;
      const size_t step = (end - t + FIRST_ROWS - 1) / FIRST_ROWS;
      for (; t < end && status == SW_OK; t += step)
        {
          size_t row;
          status = sw_ways_row (lp, takes[t].section, takes[t].take, &row);
          if (status == SW_OK)
            {
              lp->rows[row].row = -1;
              lp->rows[row].price = first_price (lp, takes[t].section, takes[t].take);
            }
        }
      t = end;
      if (status != SW_OK)
        break;
    }
  free (takes);
  return status;
}

sw_status
sw_ways_lp_new (sw_ways_lp **out, const sw_alternatives *all, sw_watch *watch)
{
  *out = NULL;
  sw_ways_lp *lp = sw_alloc (1, sizeof *lp);
  if (lp == NULL)
    return SW_NO_MEMORY;
  lp->all = all;
  lp->watch = watch;
  lp->knapsack = sw_knapsack_new ();
  lp->strips = sw_strip_work_new ();
  lp->section_first = sw_alloc (all->job->sections.count + 1, sizeof *lp->section_first);
  lp->limit_price = sw_alloc (2 * all->job->stocks.count, sizeof *lp->limit_price);
  lp->limit_row = sw_alloc (2 * all->job->stocks.count, sizeof *lp->limit_row);
  lp->group_row = sw_alloc (all->group_count, sizeof *lp->group_row);
  lp->value = sw_alloc (all->count, sizeof *lp->value);
  lp->root_value = sw_alloc (all->count, sizeof *lp->root_value);
  lp->share = sw_alloc (all->count, sizeof *lp->share);
  sw_status status = SW_NO_MEMORY;
  if (lp->knapsack && lp->strips && lp->section_first && lp->limit_price && lp->limit_row && lp->group_row && lp->value
      && lp->root_value && lp->share)
    {
      find_granule (lp);
      status = find_sums (lp);
    }
  if (status == SW_OK)
    {
      status = first_rows (lp);
    }
  if (status == SW_OK)
    *out = lp;
  else
    sw_ways_lp_free (lp);
  return status;
}

void
sw_ways_lp_free (sw_ways_lp *lp)
{
  if (lp == NULL)
    return;
  sw_master_free (lp->programme);
  sw_models_free (lp->boards, lp->board_models);
  sw_knapsack_free (lp->knapsack);
  sw_strip_work_free (lp->strips);
  free (lp->items);
  free (lp->rows);
  free (lp->order);
  free (lp->worth);
  free (lp->section_first);
  free (lp->columns);
  free (lp->entries);
  free (lp->limit_price);
  free (lp->limit_row);
  free (lp->group_row);
  free (lp->next_sum);
  free (lp->value);
  free (lp->root_value);
  free (lp->share);
  free (lp->option_price);
  free (lp->used);
  free (lp->pieces);
  free (lp);
}
