/* job.h - the whole input, cross-checked
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_JOB_H
#define SW_JOB_H

#include "job/extra.h"
#include "job/fence.h"
#include "job/in_place.h"
#include "job/level.h"
#include "job/on_hand.h"
#include "job/settings.h"
#include "job/stock.h"

/* No job may ask for more pieces than this, extras and blocks included. */
#define SW_JOB_MAX_PIECES 2000000

/* Where a file's name stands in sw_job.files. */
typedef enum sw_job_file
{
  SW_FILE_SPANS,
  SW_FILE_LEVELS,
  SW_FILE_STOCK,
  SW_FILE_SECTIONS,
  SW_FILE_EXTRAS,
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
  sw_settings *settings;   /* a copy */
  sw_fence fence;          /* no runs: extras alone */
  sw_levels levels;        /* empty when there are no runs */
  sw_sections sections;
  sw_stocks stocks;
  sw_extras extras;
  sw_on_hand on_hand;      /* taken into the stocks */
  sw_in_place in_place;
  bool priced;             /* every section in use has prices; else none has */
  bool all_free;           /* and each of these prices is 0 */
  sw_report *warnings;     /* what reading it and its settings warned of; may be NULL: nothing (job_warning.h) */
  char *files[SW_FILES];   /* names of spans, levels, stock, sections, extras, settings ..., or NULL */
  sw_bytes read[SW_FILES]; /* what stood in them, but for the settings */
};

/* Is the length bought what counts?  There are no prices, or they tell no plan from another. */
bool sw_job_by_length (const sw_job *job);

/* What is on hand and in its place: make the stocks what the one says, find the
 * places of the other.  SW_REJECTED: some piece has none any more. */
sw_status sw_job_take_state (sw_job *job, sw_report *report);

/* JOB with stock rows and settings of its own, which may be changed; all else
 * is borrowed from JOB, which must outlive it.  Clear it with
 * sw_job_variant_clear, never with sw_job_free; after a failure too. */
sw_status sw_job_variant (sw_job *out, const sw_job *job);
void sw_job_variant_clear (sw_job *variant);

#endif
