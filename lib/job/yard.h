/* yard.h - the yards that timber is bought from
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_YARD_H
#define SW_YARD_H

#include "base/name_index.h"
#include "csv/table.h"
#include "job/settings.h"

/* A job with more yards has something wrong in its file. */
#define SW_YARDS_MAX 30
/* The yard of what is sold at no yard in particular; the job has no yards then. */
#define SW_NO_YARD SIZE_MAX

typedef struct sw_yard
{
  char *name;
  sw_money delivery; /* paid once, when anything is ordered there */
  sw_money minimum;  /* an order there must be worth so much, without delivery; 0: it need not */
  char *description; /* or NULL */
  size_t line;       /* line of yards.csv; 0: only stock.csv names the yard */
} sw_yard;

/* In the order of yards.csv, or else in that of their first mention in stock.csv. */
typedef struct sw_yards
{
  size_t count;
  size_t capacity;
  sw_yard *items;
  sw_name_index names;
  bool listed; /* there is a yards.csv, so no other yard may be named */
} sw_yards;

/* yards.csv. */
sw_status sw_yards_read (sw_yards *out, const sw_table *table, sw_report *report);
/* Find the yard called NAME.  Where it is not known it is added; SW_REJECTED: it is not known, and the yards are
 * LISTED. */
sw_status sw_yards_intern (sw_yards *yards, const char *name, size_t *index);
void sw_yards_clear (sw_yards *yards);

#endif
