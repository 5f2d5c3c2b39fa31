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
  char *description;     /* or NULL */
  int64_t density;       /* thousandths of kg/m3; 0: not known */
  int64_t spare;         /* whole lengths to add to the order */
  size_t line;           /* of sections.csv; 0: not listed there */
} sw_section;

/* One row of stock.csv. */
typedef struct sw_stock
{
  size_t section;        /* index into the job's sections */
  sw_length length;      /* > 0 */
  bool priced;
  sw_money price;        /* of one length, "per metre" worked out */
  int64_t limit;         /* the most the yard has; -1: any number */
  int64_t hand;          /* on hand besides */
  size_t line;           /* 0: from --stock-length */
} sw_stock;

/* The sections of a job, in order of first mention: sections.csv, then
 * levels, extras, stock.  Names are compared byte for byte. */
typedef struct sw_sections
{
  size_t count;
  size_t capacity;
  sw_section *items;
  sw_name_index names;        /* of items; kept by sw_sections_intern */
} sw_sections;

/* Index of the section called NAME, or -1. */
int sw_sections_find (const sw_sections *sections, const char *name);
/* The same, added if need be. */
sw_status sw_sections_intern (sw_sections *sections, const char *name, size_t *index);
/* sections.csv.  Like every reader of this room: faults go to REPORT; then
 * SW_REJECTED, and OUT holds the rows that were sound; clear it in any case. */
sw_status sw_sections_read (sw_sections *out, const sw_table *table, const sw_settings *settings, sw_report *report);
void sw_sections_clear (sw_sections *sections);

typedef struct sw_stocks
{
  size_t count;
  size_t capacity;
  sw_stock *items;       /* sorted by section, then length, shortest first */
} sw_stocks;

/* stock.csv.  A row that the yard has none of (limit 0) needs no price; where
 * the section's other rows have one, it is priced at 0. */
sw_status sw_stocks_read (sw_stocks *out, sw_sections *sections, const sw_table *table, const sw_settings *settings, sw_report *report);
/* --stock-length for every section of SECTIONS. */
sw_status sw_stocks_default (sw_stocks *out, const sw_sections *sections, const sw_settings *settings);
void sw_stocks_clear (sw_stocks *stocks);

/* Does the yard sell it, or is some on hand? */
bool sw_stock_can_be_had (const sw_stock *stock);
/* What can be sawn out of a board of STOCK: all but the trim off both its ends; 0 where nothing is left. */
sw_length sw_stock_usable (const sw_stock *stock, const sw_settings *settings);
/* The longest board of SECTION that can be had, before anything is docked; 0: none. */
sw_length sw_stocks_longest (const sw_stocks *stocks, size_t section);

#endif
