/* stock.h - timber sections and the lengths they come in
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_STOCK_H
#define SW_STOCK_H

#include "base/name_index.h"
#include "job/settings.h"
#include "csv/table.h"
#include "job/yard.h"

/* All of a section's lengths, as a rate of spare ones. */
#define SW_SPARE_WHOLE 1000000

typedef struct sw_section
{
  char *name;
  sw_length width;       /* 0: not known */
  sw_length thickness;   /* 0: not known */
  char *description;     /* may be NULL */
  int64_t density;       /* thousandths of kg/m3; 0: not known */
  int64_t spare;         /* whole lengths to add to the order */
  int64_t spare_rate;    /* or this part of those needed, of SW_SPARE_WHOLE, rounded up */
  bool own_trim;         /* it says what is docked off each end of its boards; else the setting does (sw_job_trim) */
  sw_length end_trim;
  size_t line;           /* of sections.csv; 0: not listed there */
} sw_section;

/* What one length costs where at least FROM of them are bought. */
typedef struct sw_price
{
  int64_t from;
  sw_money price;
} sw_price;

/* A length of a section that can be had, from one yard where there are yards:
 * one row of stock.csv, or several of a price that falls. */
typedef struct sw_stock
{
  size_t section;        /* index of the job's section */
  sw_length length;      /* > 0 */
  bool priced;
  sw_money price;        /* of one length, "per metre" worked out; of the fewest that are sold */
  int64_t limit;         /* the most the yard has; -1: any number */
  int64_t hand;          /* on hand besides, at no yard; of several yards' rows of one length the sum counts */
  size_t yard;           /* index into the job's yards; SW_NO_YARD: there are none */
  int64_t from;          /* fewer are not sold: 1 unless the row of the least number says more */
  int64_t pack;          /* sold in packs of so many; 1: singly */
  size_t price_first;    /* its prices, the least number first, in the stocks' pool */
  size_t price_count;    /* 0 or 1: one price for any number */
  size_t line;           /* 0: from --stock-length */
  bool sawn;             /* only on hand; both ends are sawn already, so that none is docked */
  const char *ends;      /* of a piece whose ends are not square: how they are sawn; else NULL.  Borrowed */
  sw_length cut;         /* length of such a piece to the long point, while LENGTH is what is left of it square */
  sw_length take;        /* what such a piece took of its board */
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
  sw_stock *items;       /* sorted by section, then length, shortest first, then yard */
  size_t price_count;
  sw_price *prices;      /* of rows with several */
  bool offers;           /* where and in what numbers is bought matters: yards, packs or prices that fall */
} sw_stocks;

/* What one length of row STOCK costs when COUNT of them are bought. */
sw_money sw_stock_price (const sw_stocks *stocks, const sw_stock *stock, int64_t count);
/* Are A and B boards alike, of whatever yard: the same length of the same section, and the same ends? */
bool sw_stock_same (const sw_stock *a, const sw_stock *b);
/* Everything, to be cleared on its own; OUT may be cleared after a failure too. */
sw_status sw_stocks_copy (sw_stocks *out, const sw_stocks *stocks);

/* stock.csv.  A row that the yard has none of (limit 0) needs no price; where
 * the section's other rows have one, it is priced at 0. */
sw_status sw_stocks_read (sw_stocks *out, sw_sections *sections, sw_yards *yards, const sw_table *table,
                          const sw_settings *settings, sw_report *report);
/* --stock-length for every section of SECTIONS, at each of YARDS where there are any. */
sw_status sw_stocks_default (sw_stocks *out, const sw_sections *sections, const sw_yards *yards,
                             const sw_settings *settings);
/* By section, then length, shortest first; of one length those with sawn ends last. */
void sw_stocks_sort (sw_stocks *stocks);
void sw_stocks_clear (sw_stocks *stocks);

/* Does the yard sell any of it, or is some on hand? */
bool sw_stock_can_be_had (const sw_stock *stock);
/* The longest board of SECTION that can be had, before anything is docked; 0: none. */
sw_length sw_stocks_longest (const sw_stocks *stocks, size_t section);

/* stock_offer.c: a step of reading.  STOCKS, sorted, has a row each of
 * stock.csv: those of one offer, which differ in `from`, become one, and those
 * of no yard one a yard.  What is wrong is told of FIELDS, of whose columns
 * PRICE, LIMIT ... are the numbers. */
typedef struct sw_offer_columns
{
  size_t price, limit, hand, yard, from, pack;
} sw_offer_columns;
struct sw_fields;
sw_status sw_stocks_make_offers (sw_stocks *stocks, const sw_yards *yards, struct sw_fields *fields,
                                 const sw_offer_columns *columns);
/* Rows of no yard are had at each that has none of its own of that length; COLUMNS, FIELDS: NULL where there are no such
 * rows. */
sw_status sw_stocks_spread (sw_stocks *stocks, const sw_yards *yards, struct sw_fields *fields,
                            const sw_offer_columns *columns);
/* By section, length, yard, from, line. */
void sw_stocks_sort (sw_stocks *stocks);

#endif
