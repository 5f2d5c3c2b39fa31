/* stock.h - timber sections and the lengths they come in
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_STOCK_H
#define SW_STOCK_H

#include "base/name_index.h"
#include "job/settings.h"
#include "csv/table.h"

typedef struct sw_section
{
  char *name;
  sw_length width;       /* 0: not known */
  sw_length thickness;   /* 0: not known */
  char *description;     /* may be NULL */
  int64_t density;       /* thousandths of kg/m3; 0: not known */
  int64_t spare;         /* whole lengths that are ordered in addition */
  size_t line;           /* its line in sections.csv; 0: not listed there */
} sw_section;

/* One row of stock.csv. */
typedef struct sw_stock
{
  size_t section;        /* index of the job's section */
  sw_length length;      /* > 0 */
  bool priced;
  sw_money price;        /* price of one length, also where stock.csv gives it by the metre */
  int64_t limit;         /* the number that the yard has; -1: any number */
  int64_t hand;          /* on hand in addition */
  size_t line;           /* its line in stock.csv; 0: the stock comes from --stock-length */
} sw_stock;

/* The sections of a job, in the order in which they are first named: in sections.csv, then in
 * levels, extras and stock.  Names are compared byte for byte. */
typedef struct sw_sections
{
  size_t count;
  size_t capacity;
  sw_section *items;
  sw_name_index names;        /* index of the items' names; sw_sections_intern keeps it */
} sw_sections;

/* The index of the section called NAME, or -1. */
int sw_sections_find (const sw_sections *sections, const char *name);
/* The index of the section called NAME, which is added if it is not there. */
sw_status sw_sections_intern (sw_sections *sections, const char *name, size_t *index);
/* Read sections.csv.  This holds for every reader of this room: SW_REJECTED means that REPORT has
 * the faults; OUT then holds the sound rows, and must be cleared in any case. */
sw_status sw_sections_read (sw_sections *out, const sw_table *table, const sw_settings *settings, sw_report *report);
void sw_sections_clear (sw_sections *sections);

typedef struct sw_stocks
{
  size_t count;
  size_t capacity;
  sw_stock *items;       /* sorted by section, then length, shortest first */
} sw_stocks;

/* Read stock.csv.  A row that the yard has none of (limit 0) needs no price.  If other rows of its
 * section have prices, its price is 0. */
sw_status sw_stocks_read (sw_stocks *out, sw_sections *sections, const sw_table *table, const sw_settings *settings, sw_report *report);
/* Make the stocks that --stock-length asks for, for every section of SECTIONS. */
sw_status sw_stocks_default (sw_stocks *out, const sw_sections *sections, const sw_settings *settings);
void sw_stocks_clear (sw_stocks *stocks);

/* Does the yard sell any of it, or is some on hand? */
bool sw_stock_can_be_had (const sw_stock *stock);
/* The length of a board of STOCK that can be used: all but the trim off both its ends.  0: nothing is left. */
sw_length sw_stock_usable (const sw_stock *stock, const sw_settings *settings);
/* The length of SECTION's longest board that can be had, before its ends are docked.  0: there is none. */
sw_length sw_stocks_longest (const sw_stocks *stocks, size_t section);

#endif
