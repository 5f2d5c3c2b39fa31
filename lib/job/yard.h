/* yard.h - the yards that timber is bought from
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_YARD_H
#define SW_YARD_H

#include "base/name_index.h"
#include "csv/table.h"
#include "job/settings.h"

/* A job of more is a file gone wrong. */
#define SW_YARDS_MAX 30
/* Of what is sold from no yard in particular: the job has no yards. */
#define SW_NO_YARD SIZE_MAX

typedef struct sw_yard
{
  char *name;
  sw_money delivery; /* paid once where anything is ordered there */
  sw_money minimum;  /* no order there may be worth less, delivery apart; 0: any may */
  char *description; /* or NULL */
  size_t line;       /* of yards.csv; 0: only stock.csv names it */
} sw_yard;

/* In the order of yards.csv, else of first mention in stock.csv. */
typedef struct sw_yards
{
  size_t count;
  size_t capacity;
  sw_yard *items;
  sw_name_index names;
  bool listed; /* there is a yards.csv, so that no other yard may be named */
} sw_yards;

/* yards.csv. */
sw_status sw_yards_read (sw_yards *out, const sw_table *table, sw_report *report);
/* The yard called NAME, added where it is not known and yards are not LISTED; SW_REJECTED: they are. */
sw_status sw_yards_intern (sw_yards *yards, const char *name, size_t *index);
void sw_yards_clear (sw_yards *yards);

#endif
