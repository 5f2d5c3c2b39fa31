/* job.h - a job: the whole input, read and checked together
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_JOB_H
#define SW_JOB_H

#include "job/extra.h"
#include "job/fence.h"
#include "job/fitting.h"
#include "job/in_place.h"
#include "job/level.h"
#include "job/on_hand.h"
#include "job/settings.h"
#include "job/stock.h"

/* The most pieces of a job, with extras and blocks. */
#define SW_JOB_MAX_PIECES 2000000

/* The place of a file in sw_job.files. */
typedef enum sw_job_file
{
  SW_FILE_SPANS,
  SW_FILE_LEVELS,
  SW_FILE_STOCK,
  SW_FILE_SECTIONS,
  SW_FILE_EXTRAS,
  SW_FILE_YARDS,
  SW_FILE_FITTINGS,
  SW_FILE_SETTINGS,
  SW_FILE_ON_HAND,  /* on-hand.csv and in-place.csv: how far the job had come when it was planned on */
  SW_FILE_IN_PLACE,
  SW_FILES
} sw_job_file;

/* A file as it was read. */
typedef struct sw_bytes
{
  char *data; /* NULL: there is none */
  size_t count;
} sw_bytes;

struct sw_job
{
  sw_settings *settings;   /* its own copy */
  sw_fence fence;          /* without runs the job is extras alone */
  sw_levels levels;        /* empty when there are no runs */
  sw_sections sections;
  sw_stocks stocks;
  sw_extras extras;
  sw_yards yards;          /* none: nothing is said of where timber is bought */
  sw_fittings fittings;
  sw_on_hand on_hand;      /* taken into the stocks */
  sw_in_place in_place;
  bool priced;             /* every section in use has prices; else none has */
  bool all_free;           /* and each of these prices is 0, deliveries too */
  sw_report *warnings;     /* what reading it and its settings warned of; may be NULL: nothing (job_warning.h) */
  char *files[SW_FILES];   /* names as in sw_job_file, or NULL */
  sw_bytes read[SW_FILES]; /* what stood in them, but for the settings */
};

/* Is the bought length the cost?  It is when there are no prices, or when all prices are 0 and no
 * plan is cheaper than another. */
bool sw_job_by_length (const sw_job *job);

/* Read JOB once more out of the bytes that it keeps, but for its spans, which
 * are the COUNT bytes at SPANS, a file called spans.csv.  REPORT: as sw_job_read; not NULL. */
sw_status sw_job_read_again (sw_job **out, const sw_job *job, const char *spans, size_t count, sw_report *report);
/* The same with its own spans and other SETTINGS. */
sw_status sw_job_read_with (sw_job **out, const sw_job *job, const sw_settings *settings, sw_report *report);

/* What is docked off each end of the boards of SECTION. */
sw_length sw_job_trim (const sw_job *job, size_t section);
/* The same of a board of STOCK; 0 where its ends are sawn already. */
sw_length sw_job_board_trim (const sw_job *job, const sw_stock *stock);

/* What can be sawn out of a board of STOCK: all but the trim off both its ends; 0 where nothing is left. */
sw_length sw_job_usable (const sw_job *job, const sw_stock *stock);

/* What one length of STOCK counts for where COUNT are bought: its price, or where the length bought is what counts that. */
int64_t sw_job_cost_of (const sw_job *job, const sw_stock *stock, int64_t count);
/* The cheapest way to buy at least LEAST of STOCK: *COUNT, of several the fewest, and *COST, both 0 where LEAST is.
 * False: no more than its limit can be had, where LIMITED, or a sum is out of range.  O(prices). */
bool sw_job_buy (const sw_job *job, const sw_stock *stock, int64_t least, bool limited, int64_t *count, int64_t *cost);

/* Make the stocks what the timber on hand says, and find the places of the pieces that are in place.
 * SW_REJECTED: some piece has no place any more. */
sw_status sw_job_take_state (sw_job *job, sw_report *report);

/* Make a copy of JOB whose stocks and settings may be changed.  The rest is borrowed from JOB,
 * which must outlive the copy.  Free it with sw_job_variant_clear, never with sw_job_free, after a
 * failure, too. */
sw_status sw_job_variant (sw_job *out, const sw_job *job);
void sw_job_variant_clear (sw_job *variant);

#endif
