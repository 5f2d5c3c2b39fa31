/* check_purchase.c - what so many lengths cost, against every way to buy them
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "plan/purchase.h"

#include "base/text.h"
#include "chance.h"
#include "plan_fixture.h"
#include "suite.h"

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define YARDS 3
#define CELLS 2
#define MOST 6    /* pieces of the job */
#define NUMBERS 16 /* bought of one offer at most, where everything is tried */

/* One yard's offer of one length; count 0: it has none. */
typedef struct offer
{
  int count; /* of prices */
  int64_t from[2];
  int64_t price[2];
  int64_t pack;
  int64_t limit; /* -1: none */
} offer;

typedef struct order
{
  offer offers[CELLS][YARDS];
  int64_t delivery[YARDS];
  int64_t minimum[YARDS];
} order;

static void
make_order (uint64_t *state, order *out, bool minima)
{
  *out = (order){ .delivery = { 0 } };
  for (int y = 0; y < YARDS; y++)
    {
      out->delivery[y] = chance (state, 0, 2) * 7;
      out->minimum[y] = minima && chance (state, 0, 1) == 0 ? chance (state, 1, 40) : 0;
    }
  for (int c = 0; c < CELLS; c++)
    for (int y = 0; y < YARDS; y++)
      {
        offer *o = &out->offers[c][y];
        /* The first yard has all, so that there is always a way. */
        o->count = y > 0 && chance (state, 0, 3) == 0 ? 0 : (int)chance (state, 1, 2);
        o->pack = chance (state, 0, 2) == 0 ? chance (state, 2, 3) : 1;
        o->limit = y > 0 && chance (state, 0, 2) == 0 ? chance (state, 1, 5) : -1;
        o->from[0] = chance (state, 0, 5) == 0 ? 2 : 1;
        o->from[1] = o->from[0] + chance (state, 1, 4);
        o->price[0] = chance (state, 4, 12);
        o->price[1] = o->price[0] - chance (state, 1, 3);
      }
}

/* MOST pieces, which either of the lengths has room for one of. */
static sw_job *
read_job (const order *order)
{
  static const char *const names[YARDS] = { "north", "south", "east" };
  static const char *const lengths[CELLS] = { "2.0", "3.0" };
  sw_text stock = { 0 };
  sw_text yards = { 0 };
  sw_text_add (&stock, "section,length,price,limit,yard,from,pack\n");
  sw_text_add (&yards, "yard,delivery,minimum\n");
  for (int y = 0; y < YARDS; y++)
    sw_text_printf (&yards, "%s,%" PRId64 ",%" PRId64 "\n", names[y], order->delivery[y], order->minimum[y]);
  for (int c = 0; c < CELLS; c++)
    for (int y = 0; y < YARDS; y++)
      for (int p = 0; p < order->offers[c][y].count; p++)
        {
          const offer *o = &order->offers[c][y];
          sw_text_printf (&stock, "rail,%s,%" PRId64 ",", lengths[c], o->price[p]);
          if (o->limit >= 0)
            sw_text_printf (&stock, "%" PRId64, o->limit);
          sw_text_printf (&stock, ",%s,%" PRId64 ",%" PRId64 "\n", names[y], o->from[p], o->pack);
        }
  const fixture_texts texts
      = { .extras = "label,section,length,quantity\nx,rail,1900,6\n", .stock = stock.data, .yards = yards.data };
  sw_job *job = fixture_job (&texts);
  sw_text_drop (&stock);
  sw_text_drop (&yards);
  return job;
}

/* What exactly N of O cost; -1: they are not sold so. */
static int64_t
exactly (const offer *o, int64_t n)
{
  if (n == 0)
    return 0;
  if (o->count == 0 || n % o->pack != 0 || n < o->from[0] || (o->limit >= 0 && n > o->limit))
    return -1;
  return n * (o->count > 1 && n >= o->from[1] ? o->price[1] : o->price[0]);
}

/* The least that N of a cell cost from YARDS, by trying all. */
static int64_t
brute_cell (const order *order, int cell, unsigned yards, int64_t n)
{
  int64_t best = -1;
  int64_t a[YARDS];
  for (a[0] = 0; a[0] <= NUMBERS; a[0]++)
    for (a[1] = 0; a[1] <= NUMBERS; a[1]++)
      for (a[2] = 0; a[2] <= NUMBERS; a[2]++)
        {
          int64_t sum = 0;
          bool good = a[0] + a[1] + a[2] >= n;
          for (int y = 0; y < YARDS && good; y++)
            {
              const int64_t cost = a[y] > 0 && !(yards >> y & 1) ? -1 : exactly (&order->offers[cell][y], a[y]);
              good = cost >= 0;
              sum += cost;
            }
          if (good && (best < 0 || sum < best))
            best = sum;
        }
  return best;
}

START_TEST (costs)
{
  uint64_t state = 88172645463325252ULL + (unsigned)_i;
  order order;
  make_order (&state, &order, false);
  sw_job *job = read_job (&order);
  sw_buying buying;
  ck_assert_int_eq (sw_buying_begin (&buying, job), SW_OK);
  ck_assert_uint_eq (buying.cell_count, CELLS);
  for (unsigned yards = 0; yards < 1U << YARDS; yards++)
    {
      sw_costs costs;
      ck_assert_int_eq (sw_buying_costs (&buying, yards, &costs), SW_OK);
      for (int c = 0; c < CELLS; c++)
        for (int64_t n = 0; n <= MOST; n++)
          {
            const int64_t right = brute_cell (&order, c, yards, n);
            ck_assert_int_eq (costs.of[c][n], right < 0 ? SW_NOT_TO_BE_HAD : right * SW_MONEY_UNIT);
          }
    }
  sw_buying_clear (&buying);
  sw_job_free (job);
}
END_TEST

/* What is bought of both cells: AMOUNTS[cell][yard]; its cost with delivery, -1: no yard takes that order. */
static int64_t
cost_of_all (const order *order, int64_t amounts[CELLS][YARDS])
{
  int64_t sum = 0;
  for (int y = 0; y < YARDS; y++)
    {
      int64_t value = 0;
      bool used = false;
      for (int c = 0; c < CELLS; c++)
        {
          const int64_t cost = exactly (&order->offers[c][y], amounts[c][y]);
          if (cost < 0)
            return -1;
          value += cost;
          used = used || amounts[c][y] > 0;
        }
      if (used && value < order->minimum[y])
        return -1;
      sum += value + (used ? order->delivery[y] : 0);
    }
  return sum;
}

/* So many are tried of each: enough for any least order. */
#define TRIED 10

static int64_t
brute_bill (const order *order, const int64_t needed[CELLS])
{
  int64_t best = -1;
  int64_t a[CELLS][YARDS];
  for (int64_t all = 0; all < TRIED * TRIED * TRIED; all++)
    {
      a[0][0] = all % TRIED;
      a[0][1] = all / TRIED % TRIED;
      a[0][2] = all / TRIED / TRIED;
      if (a[0][0] + a[0][1] + a[0][2] < needed[0])
        continue;
      for (int64_t more = 0; more < TRIED * TRIED * TRIED; more++)
        {
          a[1][0] = more % TRIED;
          a[1][1] = more / TRIED % TRIED;
          a[1][2] = more / TRIED / TRIED;
          if (a[1][0] + a[1][1] + a[1][2] < needed[1])
            continue;
          const int64_t cost = cost_of_all (order, a);
          if (cost >= 0 && (best < 0 || cost < best))
            best = cost;
        }
    }
  return best;
}

START_TEST (bills)
{
  uint64_t state = 362436069ULL * ((unsigned)_i + 1);
  order order;
  make_order (&state, &order, true);
  sw_job *job = read_job (&order);
  sw_buying buying;
  ck_assert_int_eq (sw_buying_begin (&buying, job), SW_OK);
  sw_purchase *purchases = calloc (job->stocks.count, sizeof *purchases);
  const int64_t needed[CELLS] = { chance (&state, 0, 3), chance (&state, 0, 3) };
  sw_bill bill = { .purchases = purchases };
  ck_assert_int_eq (sw_buying_bill (&buying, buying.all, needed, &bill), SW_OK);
  const int64_t right = brute_bill (&order, needed);
  ck_assert_int_ge (right, 0);
  if (bill.exact)
    ck_assert_int_eq (bill.cost, right * SW_MONEY_UNIT);
  else
    ck_assert_int_ge (bill.cost, right * SW_MONEY_UNIT);
  /* It is a way to buy them, and costs that. */
  int64_t amounts[CELLS][YARDS] = { { 0 } };
  int64_t counted[CELLS] = { 0 };
  for (size_t s = 0; s < job->stocks.count; s++)
    {
      const int c = job->stocks.items[s].length == 2 * SW_METRE ? 0 : 1;
      amounts[c][job->stocks.items[s].yard] = purchases[s].bought;
      counted[c] += purchases[s].count;
      ck_assert_int_le (purchases[s].count, purchases[s].bought);
    }
  if (bill.cost < SW_NOT_TO_BE_HAD)
    {
      ck_assert_int_eq (cost_of_all (&order, amounts) * SW_MONEY_UNIT, bill.cost);
      ck_assert_mem_eq (counted, needed, sizeof counted);
    }
  free (purchases);
  sw_buying_clear (&buying);
  sw_job_free (job);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("purchase");
  TCase *tcase = tcase_create ("offers");
  tcase_set_timeout (tcase, 120);
  tcase_add_loop_test (tcase, costs, 0, 40);
  tcase_add_loop_test (tcase, bills, 0, 40);
  suite_add_tcase (suite, tcase);
  return suite_run (suite);
}
