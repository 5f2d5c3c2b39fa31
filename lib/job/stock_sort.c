/* stock_sort.c - the order in which rows of stock stand
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "job/stock.h"

#include <stdlib.h>
#include <string.h>

static int
compare_stocks (const void *a, const void *b)
{
  const sw_stock *left = a;
  const sw_stock *right = b;
  if (left->section != right->section)
    return left->section < right->section ? -1 : 1;
  if (left->length != right->length)
    return left->length < right->length ? -1 : 1;
  if (left->sawn != right->sawn)
    return left->sawn ? 1 : -1;
  if (left->cut != right->cut)
    return left->cut < right->cut ? -1 : 1;
  const int ends = left->ends != NULL && right->ends != NULL ? strcmp (left->ends, right->ends) : 0;
  if (ends != 0)
    return ends;
  if (left->yard != right->yard)
    return left->yard < right->yard ? -1 : 1;
  if (left->from != right->from)
    return left->from < right->from ? -1 : 1;
  return left->line < right->line ? -1 : left->line > right->line;
}

void
sw_stocks_sort (sw_stocks *stocks)
{
  if (stocks->count > 1)
    qsort (stocks->items, stocks->count, sizeof (sw_stock), compare_stocks);
}
