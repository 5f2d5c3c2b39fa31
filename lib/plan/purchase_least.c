/* purchase_least.c - orders that no yard takes, since they are worth too little
 *
 * Some yards get less than their least order.  Cell by cell, the ways to buy
 * at those yards that are worth most for their cost are kept; the rest is
 * bought at the other yards.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "plan/purchase_least.h"

#include "base/memory.h"
#include "plan/purchase_parts.h"

#include <stdlib.h>
#include <string.h>

/* The most yards that may be short of their least order at once, the ways that are kept, and the lengths of one cell
 * over what is needed. */
#define MOST_LACKING 2
#define MOST_WAYS 2000
#define MOST_OVER 2000

/* A way to buy so many of one cell, or of all cells so far. */
typedef struct way
{
  int64_t value[MOST_LACKING]; /* at each of the yards, counted up to its least order */
  int64_t cost;
  int64_t amount[MOST_LACKING]; /* lengths of the last cell at each of the yards */
  size_t before;                /* index of the way that it continues */
} way;

typedef struct ways
{
  size_t count, capacity;
  way *items;
} ways;

typedef struct reaching
{
  sw_buying *buying;
  sw_yard_set rest; /* the other yards */
  size_t yard_count;
  size_t yards[MOST_LACKING];
  int64_t least[MOST_LACKING];
  const int64_t *needed;
  int64_t most;
  bool exact;
} reaching;

sw_yard_set
sw_buying_lacking (const sw_buying *b, const sw_purchase *purchases, sw_yard_set *used)
{
  const sw_job *job = b->job;
  sw_yard_set lacking = 0;
  *used = 0;
  for (size_t s = 0; s < job->stocks.count; s++)
    *used |= purchases[s].bought > 0 ? sw_yard_bit (&job->stocks.items[s]) : 0;
  for (size_t y = 0; y < job->yards.count; y++)
    {
      int64_t value = 0;
      for (size_t s = 0; s < job->stocks.count; s++)
        if (job->stocks.items[s].yard == y)
          value += purchases[s].bought * sw_job_cost_of (job, &job->stocks.items[s], purchases[s].bought);
      if (*used >> y & 1 && value < job->yards.items[y].minimum)
        lacking |= (sw_yard_set)1 << y;
    }
  return lacking;
}

static sw_status
add_way (ways *list, const way *new_one)
{
  sw_status status = sw_grow ((void **)&list->items, &list->capacity, list->count + 1, sizeof *list->items);
  if (status == SW_OK)
    list->items[list->count++] = *new_one;
  return status;
}

static int
cheaper_first (const void *a, const void *b)
{
  const way *x = a;
  const way *y = b;
  if (x->cost != y->cost)
    return x->cost < y->cost ? -1 : 1;
  for (size_t v = 0; v < MOST_LACKING; v++)
    if (x->value[v] != y->value[v])
      return x->value[v] > y->value[v] ? -1 : 1;
  /* The same bytes must come out, however the sort orders equals. */
  for (size_t v = 0; v < MOST_LACKING; v++)
    if (x->amount[v] != y->amount[v])
      return x->amount[v] < y->amount[v] ? -1 : 1;
  return (x->before > y->before) - (x->before < y->before);
}

/* Drop ways that cost more than another one and are worth no more, and those over the number that is kept. */
static void
prune (reaching *r, ways *list)
{
  size_t kept = 0;
  if (list->count > 1)
    qsort (list->items, list->count, sizeof *list->items, cheaper_first);
  for (size_t i = 0; i < list->count; i++)
    {
      bool dominated = false;
      for (size_t k = kept; k-- > 0 && !dominated;)
        {
          dominated = true;
          for (size_t v = 0; v < r->yard_count; v++)
            dominated = dominated && list->items[k].value[v] >= list->items[i].value[v];
        }
      if (dominated)
        continue;
      if (kept == MOST_WAYS)
        {
          r->exact = false;
          break;
        }
      list->items[kept++] = list->items[i];
    }
  list->count = kept;
}

/* The row of CELL at yard number V of R, or NULL. */
static const sw_stock *
row_at (const reaching *r, const sw_purchase_cell *cell, size_t v)
{
  for (size_t s = cell->first; v < r->yard_count && s < cell->end && cell->most > 0; s++)
    if (r->buying->job->stocks.items[s].yard == r->yards[v] && r->buying->job->stocks.items[s].limit != 0)
      return &r->buying->job->stocks.items[s];
  return NULL;
}

/* Go from AMOUNT to the next number of ROW that may be bought; false: no further number is of use. */
static bool
next_amount (reaching *r, const sw_stock *row, size_t v, int64_t needed, int64_t *amount)
{
  if (row == NULL)
    return false;
  const int64_t first = (row->from + row->pack - 1) / row->pack * row->pack;
  const int64_t worth = *amount * sw_job_cost_of (r->buying->job, row, *amount > 0 ? *amount : row->from);
  /* It is all that is needed and worth enough, so more is of no use. */
  if (*amount >= needed && worth >= r->least[v])
    return false;
  *amount = *amount == 0 ? first : *amount + row->pack;
  if (row->limit >= 0 && *amount > row->limit)
    return false;
  if (*amount > needed + MOST_OVER)
    {
      r->exact = false;
      return false;
    }
  return true;
}

/* Add the way that buys AMOUNTS of cell C at the yards that are short, and the rest elsewhere. */
static sw_status
add_option (const reaching *r, size_t c, const sw_costs *costs, const int64_t *amounts, ways *options)
{
  const sw_purchase_cell *cell = &r->buying->cells[c];
  way option = { .cost = 0 };
  int64_t left = r->needed[c];
  for (size_t v = 0; v < r->yard_count; v++)
    {
      const sw_stock *row = row_at (r, cell, v);
      option.amount[v] = amounts[v];
      if (row == NULL || amounts[v] == 0)
        continue;
      const int64_t worth = amounts[v] * sw_job_cost_of (r->buying->job, row, amounts[v]);
      option.cost += worth;
      option.value[v] = worth < r->least[v] ? worth : r->least[v];
      left -= amounts[v];
    }
  const int64_t rest = costs->of[c][left > 0 ? left : 0];
  option.cost += rest;
  return rest >= SW_NOT_TO_BE_HAD || option.cost >= r->most ? SW_OK : add_way (options, &option);
}

static sw_status
list_options (reaching *r, size_t c, const sw_costs *costs, ways *options)
{
  const sw_purchase_cell *cell = &r->buying->cells[c];
  int64_t amounts[MOST_LACKING] = { 0 };
  sw_status status = SW_OK;
  options->count = 0;
  do
    {
      amounts[1] = 0;
      do
        status = add_option (r, c, costs, amounts, options);
      while (status == SW_OK && next_amount (r, row_at (r, cell, 1), 1, r->needed[c], &amounts[1]));
    }
  while (status == SW_OK && next_amount (r, row_at (r, cell, 0), 0, r->needed[c], &amounts[0]));
  prune (r, options);
  return status;
}

/* Combine each way of BEFORE with each of OPTIONS. */
static sw_status
combine (reaching *r, const ways *before, const ways *options, ways *after)
{
  sw_status status = SW_OK;
  for (size_t i = 0; i < before->count && status == SW_OK; i++)
    for (size_t k = 0; k < options->count && status == SW_OK; k++)
      {
        way sum = options->items[k];
        sum.cost += before->items[i].cost;
        sum.before = i;
        for (size_t v = 0; v < r->yard_count; v++)
          {
            sum.value[v] += before->items[i].value[v];
            sum.value[v] = sum.value[v] < r->least[v] ? sum.value[v] : r->least[v];
          }
        if (sum.cost < r->most)
          status = add_way (after, &sum);
      }
  prune (r, after);
  return status;
}

/* Find the cheapest of the last ways that reaches every least order, and follow it back to what is bought of each
 * cell. */
static sw_status
read_back (const reaching *r, const ways *layers, sw_purchase *purchases, int64_t *cost)
{
  const sw_buying *b = r->buying;
  const ways *last = &layers[b->cell_count];
  size_t at = SIZE_MAX;
  for (size_t i = 0; i < last->count && at == SIZE_MAX; i++)
    {
      bool enough = true;
      for (size_t v = 0; v < r->yard_count; v++)
        enough = enough && last->items[i].value[v] >= r->least[v];
      at = enough ? i : at;
    }
  if (at == SIZE_MAX)
    return SW_OK;
  *cost = last->items[at].cost;
  memset (purchases, 0, b->job->stocks.count * sizeof *purchases);
  sw_status status = SW_OK;
  for (size_t c = b->cell_count; c-- > 0 && status == SW_OK;)
    {
      const way *here = &layers[c + 1].items[at];
      int64_t left = r->needed[c];
      for (size_t v = 0; v < r->yard_count; v++)
        if (here->amount[v] > 0)
          {
            const size_t s = (size_t)(row_at (r, &b->cells[c], v) - b->job->stocks.items);
            purchases[s].bought = here->amount[v];
            purchases[s].count = here->amount[v] < left ? here->amount[v] : left;
            left -= purchases[s].count;
          }
      status = sw_buying_split (b, c, r->rest, left, purchases);
      at = here->before;
    }
  return status;
}

static sw_status
reach (reaching *r, sw_purchase *purchases, int64_t *cost)
{
  sw_buying *b = r->buying;
  ways *layers = sw_alloc (b->cell_count + 1, sizeof *layers);
  ways options = { 0 };
  sw_costs costs;
  if (layers == NULL)
    return SW_NO_MEMORY;
  sw_status status = sw_buying_costs (b, r->rest, &costs);
  const way nothing = { .cost = 0 };
  if (status == SW_OK)
    status = add_way (&layers[0], &nothing);
  for (size_t c = 0; c < b->cell_count && status == SW_OK; c++)
    {
      status = list_options (r, c, &costs, &options);
      if (status == SW_OK)
        status = combine (r, &layers[c], &options, &layers[c + 1]);
    }
  if (status == SW_OK)
    status = read_back (r, layers, purchases, cost);
  for (size_t c = 0; c <= b->cell_count; c++)
    free (layers[c].items);
  free (layers);
  free (options.items);
  return status;
}

sw_status
sw_buying_reach_least (sw_buying *b, sw_yard_set yards, sw_yard_set lacking, const int64_t *needed, int64_t most,
                       sw_purchase *purchases, int64_t *cost, bool *exact)
{
  const int64_t delivery = sw_buying_delivery (b, yards);
  reaching r = { .buying = b, .needed = needed, .most = most - delivery, .exact = true };
  sw_status status = SW_OK;
  *cost = SW_NOT_TO_BE_HAD;
  /* What goes to one yard may then be missing at another, so that yard is watched too from then on. */
  for (sw_yard_set watched = lacking; status == SW_OK && watched != 0;)
    {
      sw_yard_set used;
      r.rest = yards & ~watched;
      r.yard_count = 0;
      for (size_t y = 0; y < b->job->yards.count; y++)
        if (watched >> y & 1)
          {
            if (r.yard_count == MOST_LACKING)
              {
                *exact = false;
                return SW_OK;
              }
            r.least[r.yard_count] = b->job->yards.items[y].minimum;
            r.yards[r.yard_count++] = y;
          }
      int64_t timber = SW_NOT_TO_BE_HAD;
      status = reach (&r, purchases, &timber);
      if (timber >= SW_NOT_TO_BE_HAD)
        break;
      const sw_yard_set more = sw_buying_lacking (b, purchases, &used) & ~watched;
      *cost = more == 0 ? timber + delivery : SW_NOT_TO_BE_HAD;
      watched = more == 0 ? 0 : watched | more;
    }
  *exact = *exact && r.exact;
  return status;
}
