/* job_check.c - checks what needs all inputs of a job together
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "job/job_check.h"
#include "base/memory.h"
#include "base/text.h"
#include "csv/value.h"

#include <inttypes.h>
#include <stdlib.h>

/* The bound of the sums of lengths and of money over a whole plan. */
#define LARGEST_SUM (INT64_MAX / 8)
/* The number of unused sections that are named.  More are only counted. */
#define NAMED 5

/* How the job uses a section, and how it is sold. */
typedef struct usage
{
  bool used;     /* by a level, its blocks or an extra */
  bool offered;  /* stock.csv has a row of it */
  bool for_sale; /* the yard has some of such a row */
  bool priced;
  bool paid;   /* a row that is for sale has a price over 0 */
  size_t line; /* in stock.csv: of the first row that is for sale, or else of the first row */
  sw_length longest;
  sw_money dearest;
  int64_t at_once; /* what packs and prices that fall may bring besides */
} usage;

typedef struct checking
{
  sw_job *job;
  sw_report *report;
  usage *usage;
  size_t faults;
} checking;

static void
find_usage (checking *checking)
{
  const sw_job *job = checking->job;
  for (size_t i = 0; i < job->stocks.count; i++)
    {
      const sw_stock *stock = &job->stocks.items[i];
      usage *usage = &checking->usage[stock->section];
      bool for_sale = stock->limit != 0;
      if (!usage->offered || (for_sale && (!usage->for_sale || stock->line < usage->line)))
        usage->line = stock->line;
      usage->offered = true;
      usage->for_sale |= for_sale;
      usage->priced |= for_sale && stock->priced;
      usage->paid |= for_sale && stock->priced && stock->price > 0;
      usage->at_once += stock->pack - 1 + stock->from - 1;
      for (size_t p = 1; p < stock->price_count; p++)
        usage->at_once += job->stocks.prices[stock->price_first + p].from;
      if (stock->length > usage->longest)
        usage->longest = stock->length;
      if (stock->priced && stock->price > usage->dearest)
        usage->dearest = stock->price;
    }
  for (size_t i = 0; i < job->levels.count; i++)
    {
      const sw_level *level = &job->levels.items[i];
      checking->usage[level->section].used = true;
      if (level->blocks > 0)
        checking->usage[level->block_section].used = true;
    }
  for (size_t i = 0; i < job->extras.count; i++)
    checking->usage[job->extras.items[i].section].used = true;
}

/* ---- Sections ---- */

static void
check_offered (checking *checking, sw_job_file file, size_t line, const char *column, size_t section)
{
  const sw_job *job = checking->job;
  if (checking->usage[section].offered)
    return;
  char stock[SW_SHOWN];
  char name[SW_SHOWN];
  sw_show_text (job->files[SW_FILE_STOCK], stock);
  sw_show_text (job->sections.items[section].name, name);
  sw_report_add (checking->report, SW_FAULT, job->files[file], line, column,
                 "expected a section that %s offers, found \"%s\"", stock, name);
  checking->faults++;
}

/* Check that stock.csv offers all sections in use.  Default rails stand in no line of a file, so
 * that stock.csv is to blame. */
static void
check_all_offered (checking *checking)
{
  const sw_job *job = checking->job;
  for (size_t i = 0; i < job->levels.count; i++)
    {
      const sw_level *level = &job->levels.items[i];
      if (level->line > 0)
        check_offered (checking, SW_FILE_LEVELS, level->line, "section", level->section);
      if (level->line > 0 && level->blocks > 0 && level->block_section != level->section)
        check_offered (checking, SW_FILE_LEVELS, level->line, "block_section", level->block_section);
    }
  if (job->levels.count > 0 && job->levels.items[0].line == 0 && !checking->usage[job->levels.items[0].section].offered)
    {
      sw_report_add (checking->report, SW_FAULT, job->files[SW_FILE_STOCK], 0, "section",
                     "expected the section \"rail\", of which the levels are where no file of levels is given, found "
                     "none");
      checking->faults++;
    }
  for (size_t i = 0; i < job->extras.count; i++)
    check_offered (checking, SW_FILE_EXTRAS, job->extras.items[i].line, "section", job->extras.items[i].section);
}

static sw_status
note_unused (checking *checking)
{
  const sw_job *job = checking->job;
  sw_text names = { 0 };
  size_t count = 0;
  for (size_t i = 0; i < job->sections.count; i++)
    {
      if (checking->usage[i].used || !checking->usage[i].offered)
        continue;
      if (count++ < NAMED)
        {
          char name[SW_SHOWN];
          sw_show_text (job->sections.items[i].name, name);
          sw_text_printf (&names, "%s\"%s\"", count > 1 ? ", " : "", name);
        }
    }
  if (count > NAMED)
    sw_text_printf (&names, " and %zu more", count - NAMED);
  char *list = sw_text_take (&names);
  if (list == NULL)
    return SW_NO_MEMORY;
  if (count > 0)
    sw_report_add (checking->report, SW_NOTE, job->files[SW_FILE_STOCK], 0, NULL,
                   "not needed for this job: section%s %s", count > 1 ? "s" : "", list);
  free (list);
  return SW_OK;
}

/* ---- Prices ---- */

/* Are joins all that costs money?  Then cost is money, although nothing in use is for sale and has a price. */
static bool
only_joins_cost (const checking *checking)
{
  const sw_job *job = checking->job;
  for (size_t i = 0; i < job->sections.count; i++)
    if (checking->usage[i].used && checking->usage[i].for_sale)
      return false;
  return job->settings->join_cost > 0;
}

/* Check that all sections in use have prices or none has: prices could not be added to metres. */
static void
check_prices (checking *checking)
{
  sw_job *job = checking->job;
  size_t priced = job->sections.count;
  for (size_t i = job->sections.count; i-- > 0;)
    if (checking->usage[i].used && checking->usage[i].priced)
      priced = i;
  job->priced = priced < job->sections.count || only_joins_cost (checking);
  if (!job->priced)
    return;
  for (size_t i = 0; i < job->sections.count; i++)
    {
      const usage *usage = &checking->usage[i];
      if (!usage->used || !usage->for_sale || usage->priced)
        continue;
      char name[SW_SHOWN];
      char other[SW_SHOWN];
      sw_show_text (job->sections.items[i].name, name);
      sw_show_text (job->sections.items[priced].name, other);
      sw_report_add (checking->report, SW_FAULT, job->files[SW_FILE_STOCK], usage->line, "price",
                     "expected a price for section \"%s\", since section \"%s\" has prices, found a blank cell; give "
                     "prices for all sections or for none",
                     name, other);
      checking->faults++;
    }
  /* A section that is only on hand costs nothing. */
  for (size_t i = 0; i < job->stocks.count; i++)
    if (!checking->usage[job->stocks.items[i].section].for_sale)
      job->stocks.items[i].priced = true;
}

/* Warn where all prices are 0, because then no plan is cheaper than another, and set job->all_free. */
static void
check_free (checking *checking)
{
  sw_job *job = checking->job;
  /* If nothing is for sale, there is no price to choose by. */
  job->all_free = job->priced && !only_joins_cost (checking);
  for (size_t i = 0; i < job->sections.count; i++)
    if (checking->usage[i].used && checking->usage[i].paid)
      job->all_free = false;
  for (size_t y = 0; y < job->yards.count; y++)
    if (job->yards.items[y].delivery > 0)
      job->all_free = false;
  for (size_t i = 0; job->priced && i < job->sections.count; i++)
    {
      const usage *usage = &checking->usage[i];
      char name[SW_SHOWN];
      if (!usage->used || !usage->priced || usage->paid)
        continue;
      if (job->all_free)
        {
          sw_report_add (checking->report, SW_WARNING, job->files[SW_FILE_STOCK], usage->line, "price",
                         "every price is 0, so that any plan is the cheapest: of all plans, one that buys the least "
                         "timber is looked for");
          return;
        }
      sw_show_text (job->sections.items[i].name, name);
      sw_report_add (checking->report, SW_WARNING, job->files[SW_FILE_STOCK], usage->line, "price",
                     "every price of section \"%s\" is 0: how much of it is bought counts for nothing", name);
    }
}

/* Refuse a join cost without prices: money could not be added to metres. */
static void
check_join_cost (checking *checking)
{
  const sw_job *job = checking->job;
  if (job->settings->join_cost == 0 || !sw_job_by_length (job))
    return;
  sw_settings_remark (job->settings, checking->report, SW_FAULT, "join-cost",
                      "needs prices%s: without them cost is metres of timber, to which no money can be added; give "
                      "prices in the stock file, or no join-cost",
                      job->all_free ? " over 0" : "");
  checking->faults++;
}

/* Nor money for a delivery, nor can metres be worth a least order. */
static void
check_yards (checking *checking)
{
  const sw_job *job = checking->job;
  for (size_t y = 0; y < job->yards.count && sw_job_by_length (job); y++)
    {
      const sw_yard *yard = &job->yards.items[y];
      if (yard->delivery == 0 && yard->minimum == 0)
        continue;
      sw_report_add (checking->report, SW_FAULT, job->files[SW_FILE_YARDS], yard->line,
                     yard->delivery > 0 ? "delivery" : "minimum",
                     "needs prices%s in the stock file: without them cost is metres of timber, to which no money can be "
                     "added",
                     job->all_free ? " over 0" : "");
      checking->faults++;
    }
}

/* ---- Sizes ---- */

static int64_t
bays_with_timber (const sw_job *job)
{
  int64_t bays = 0;
  for (size_t r = 0; r < job->fence.run_count; r++)
    for (size_t bay = 0; bay < job->fence.runs[r].bay_count; bay++)
      bays += job->fence.runs[r].bays[bay].opening ? 0 : 1;
  return bays;
}

/* The most pieces that the job can have: one on every level of each bay, the blocks and the
 * extras.  There is no overflow, because a file has at most 2^22 rows, a level 1000 blocks a bay,
 * and an extra a quantity of 10^9. */
static int64_t
most_pieces (const sw_job *job)
{
  int64_t a_bay = (int64_t)job->levels.count;
  for (size_t i = 0; i < job->levels.count; i++)
    a_bay += job->levels.items[i].blocks;
  int64_t extras = 0;
  for (size_t i = 0; i < job->extras.count; i++)
    extras += job->extras.items[i].quantity;
  return bays_with_timber (job) * a_bay + extras;
}

/* SUM + COUNT * VALUE, at most LARGEST_SUM. */
static int64_t
add_product (int64_t sum, int64_t count, int64_t value)
{
  int64_t product;
  if (!sw_length_mul (value, count, &product) || !sw_length_add (sum, product, &sum) || sum > LARGEST_SUM)
    return LARGEST_SUM;
  return sum;
}

bool
sw_job_adds_up (const sw_job *job, int64_t cost)
{
  /* A piece needs at most one board and one join. */
  return add_product (0, 2 * most_pieces (job), cost) < LARGEST_SUM;
}

static void
check_sizes (checking *checking)
{
  const sw_job *job = checking->job;
  const char *file = job->files[job->files[SW_FILE_SPANS] != NULL ? SW_FILE_SPANS : SW_FILE_EXTRAS];
  int64_t pieces = most_pieces (job);
  if (pieces > SW_JOB_MAX_PIECES)
    {
      sw_report_add (checking->report, SW_FAULT, file, 0, NULL,
                     "expected a job of at most %d pieces, found one that may come to %" PRId64 "; plan it in parts",
                     SW_JOB_MAX_PIECES, pieces);
      checking->faults++;
      return;
    }
  sw_length length = 0;
  sw_money money = add_product (0, pieces, job->settings->join_cost);
  for (size_t y = 0; y < job->yards.count; y++)
    money = add_product (add_product (money, 1, job->yards.items[y].delivery), 1, job->yards.items[y].minimum);
  for (size_t i = 0; i < job->sections.count; i++)
    if (checking->usage[i].used)
      {
        /* No spare rate is over 100 per cent. */
        int64_t boards = (job->sections.items[i].spare_rate > 0 ? 2 : 1) * pieces + job->sections.items[i].spare
                         + checking->usage[i].at_once;
        length = add_product (length, boards, checking->usage[i].longest);
        money = add_product (money, boards, checking->usage[i].dearest);
      }
  if (length < LARGEST_SUM && money < LARGEST_SUM)
    return;
  sw_report_add (checking->report, SW_FAULT, file, 0, NULL,
                 "expected a job whose %s can be added up, found one of up to %" PRId64
                 " pieces from stock %s; plan it in "
                 "parts",
                 length < LARGEST_SUM ? "prices" : "lengths", pieces, length < LARGEST_SUM ? "as dear" : "as long");
  checking->faults++;
}

/* ---- Between levels ---- */

/* Find the first bay in which LEVEL's gap leaves no timber.  False: there is none. */
static bool
find_filled_bay (const sw_fence *fence, const sw_level *level, size_t *run, size_t *bay, sw_length *clear)
{
  for (*run = 0; *run < fence->run_count; ++*run)
    for (*bay = 0; *bay < fence->runs[*run].bay_count && sw_level_is_on (level, *run); ++*bay)
      {
        const sw_run *r = &fence->runs[*run];
        const sw_bay *b = &r->bays[*bay];
        *clear = sw_bay_on_slope (b, b->span - r->posts[*bay].width / 2 - r->posts[*bay + 1].width / 2);
        if (!b->opening && *clear <= level->gap)
          return true;
      }
  return false;
}

static void
check_gaps (checking *checking)
{
  const sw_job *job = checking->job;
  for (size_t i = 0; i < job->levels.count; i++)
    {
      const sw_level *level = &job->levels.items[i];
      size_t run;
      size_t bay;
      sw_length clear;
      if (level->gap == 0 || !find_filled_bay (&job->fence, level, &run, &bay, &clear))
        continue;
      char gap[SW_SHOWN];
      char opening[SW_SHOWN];
      char name[SW_SHOWN];
      char label[SW_SHOWN];
      sw_show_lengths (level->gap, clear, job->settings->inches, gap, opening);
      sw_show_text (job->fence.runs[run].name, name);
      sw_show_text (job->fence.runs[run].bays[bay].label, label);
      sw_report_add (
          checking->report, SW_FAULT, job->files[SW_FILE_LEVELS], level->line, "gap",
          "expected a gap that leaves some timber in every bay, found %s where bay %s of run \"%s\" is %s in "
          "the clear",
          gap, label, name, opening);
      checking->faults++;
    }
}

sw_status
sw_job_check (sw_job *job, sw_report *report)
{
  checking checking = { .job = job, .report = report };
  checking.usage = sw_alloc (job->sections.count, sizeof (usage));
  if (checking.usage == NULL)
    return SW_NO_MEMORY;
  find_usage (&checking);
  sw_status status = sw_job_check_names (job, report);
  if (status == SW_OK && job->files[SW_FILE_STOCK] != NULL)
    {
      check_all_offered (&checking);
      check_prices (&checking);
      check_free (&checking);
      status = note_unused (&checking);
    }
  check_join_cost (&checking);
  check_yards (&checking);
  check_sizes (&checking);
  sw_status levels = status == SW_OK ? sw_job_check_levels (job, report) : status;
  if (levels == SW_REJECTED)
    checking.faults++;
  else
    status = levels;
  if (status == SW_OK && levels == SW_OK)
    check_gaps (&checking);
  free (checking.usage);
  if (status == SW_OK)
    status = sw_job_check_bearing (job, report);
  if (status == SW_OK)
    status = sw_job_check_labels (job, report);
  return status == SW_OK && checking.faults > 0 ? SW_REJECTED : status;
}
