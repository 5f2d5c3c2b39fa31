/* layout_job.c - jobs built by hand, for the tests of the layout
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "layout_job.h"

#include "base/memory.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* MEMORY, which must not be NULL: a test that cannot build its job has failed. */
static void *
need (void *memory)
{
  if (memory == NULL)
    abort ();
  return memory;
}

/* Give ARRAY room for one more element of SIZE, which is zeroed. */
static void *
one_more (void *array, size_t count, size_t size)
{
  char *larger = need (realloc (array, (count + 1) * size));
  memset (larger + count * size, 0, size);
  return larger;
}

sw_job *
job_make (void)
{
  static const char *const names[5] = { "spans.csv", "levels.csv", "stock.csv", "sections.csv", "extras.csv" };
  sw_job *job = need (sw_alloc (1, sizeof *job));
  job->settings = need (sw_alloc (1, sizeof *job->settings));
  job->settings->bow = 5 * SW_MM;
  for (size_t i = 0; i < 5; i++)
    job->files[i] = need (sw_copy_text (names[i]));
  return job;
}

void
job_drop (sw_job *job)
{
  for (size_t r = 0; r < job->fence.run_count; r++)
    {
      sw_run *run = &job->fence.runs[r];
      for (size_t b = 0; b < run->bay_count; b++)
        free (run->bays[b].label);
      free (run->bays);
      free (run->posts);
      free (run->name);
    }
  for (size_t l = 0; l < job->levels.count; l++)
    free (job->levels.items[l].name);
  for (size_t s = 0; s < job->sections.count; s++)
    free (job->sections.items[s].name);
  for (size_t e = 0; e < job->extras.count; e++)
    free (job->extras.items[e].label);
  for (size_t i = 0; i < 5; i++)
    free (job->files[i]);
  free (job->fence.runs);
  free (job->levels.items);
  free (job->sections.items);
  free (job->stocks.items);
  free (job->extras.items);
  free (job->settings);
  free (job);
}

/* ---- Runs ---- */

static sw_run *
last_run (sw_job *job)
{
  return &job->fence.runs[job->fence.run_count - 1];
}

static size_t
next_line (const sw_job *job)
{
  size_t line = 2;
  for (size_t r = 0; r < job->fence.run_count; r++)
    line += job->fence.runs[r].bay_count;
  return line;
}

void
job_run (sw_job *job, const char *name, sw_length width)
{
  job->fence.runs = one_more (job->fence.runs, job->fence.run_count++, sizeof *job->fence.runs);
  sw_run *run = last_run (job);
  run->name = need (sw_copy_text (name));
  run->posts = one_more (NULL, 0, sizeof *run->posts);
  run->posts[0].width = width;
}

sw_bay *
job_bay (sw_job *job, sw_length span, sw_length width)
{
  sw_run *run = last_run (job);
  size_t line = next_line (job);
  char label[24];
  run->bays = one_more (run->bays, run->bay_count, sizeof *run->bays);
  run->posts = one_more (run->posts, run->bay_count + 1, sizeof *run->posts);
  run->posts[run->bay_count + 1].width = width;
  sw_bay *bay = &run->bays[run->bay_count++];
  snprintf (label, sizeof label, "%zu", run->bay_count);
  bay->label = need (sw_copy_text (label));
  bay->measured = bay->span = span;
  bay->line = line;
  return bay;
}

sw_post *
job_last_post (sw_job *job)
{
  sw_run *run = last_run (job);
  return &run->posts[run->bay_count];
}

void
job_close (sw_job *job)
{
  sw_run *run = last_run (job);
  sw_bay *bays = run->bays;
  size_t count = run->bay_count;
  for (size_t b = 0; b < count; b++)
    if (bays[b].opening)
      {
        bays[b].start.kind = bays[b].finish.kind = SW_END_FACE;
        if (b > 0 && bays[b - 1].finish.kind == SW_END_ON)
          bays[b - 1].finish.kind = SW_END_FACE;
        if (b + 1 < count && bays[b + 1].start.kind == SW_END_ON)
          bays[b + 1].start.kind = SW_END_FACE;
      }
  for (size_t b = 0; b + 1 < count; b++)
    {
      sw_end *left = &bays[b].finish;
      sw_end *right = &bays[b + 1].start;
      if (left->kind != SW_END_ON && right->kind == SW_END_ON)
        right->kind = SW_END_CENTRE;
      if (right->kind != SW_END_ON && left->kind == SW_END_ON)
        left->kind = SW_END_CENTRE;
    }
  if (bays[0].start.kind == SW_END_ON)
    bays[0].start.kind = SW_END_FLUSH;
  if (bays[count - 1].finish.kind == SW_END_ON)
    bays[count - 1].finish.kind = SW_END_FLUSH;
}

void
job_even_run (sw_job *job, const char *name, size_t count, sw_length span, sw_length width)
{
  job_run (job, name, width);
  for (size_t b = 0; b < count; b++)
    job_bay (job, span, width);
  job_close (job);
}

/* ---- Levels, stock, extras ---- */

static size_t
section_of (sw_job *job, const char *name)
{
  for (size_t s = 0; s < job->sections.count; s++)
    if (strcmp (job->sections.items[s].name, name) == 0)
      return s;
  job->sections.items = one_more (job->sections.items, job->sections.count, sizeof *job->sections.items);
  job->sections.items[job->sections.count].name = need (sw_copy_text (name));
  return job->sections.count++;
}

sw_level *
job_level (sw_job *job, const char *name, const char *section, bool through)
{
  size_t index = section_of (job, section);
  job->levels.items = one_more (job->levels.items, job->levels.count, sizeof *job->levels.items);
  sw_level *level = &job->levels.items[job->levels.count++];
  level->name = need (sw_copy_text (name));
  level->section = level->block_section = index;
  level->through = through;
  level->line = job->levels.count + 1;
  return level;
}

sw_stock *
job_stock (sw_job *job, const char *section, sw_length length)
{
  size_t index = section_of (job, section);
  job->stocks.items = one_more (job->stocks.items, job->stocks.count, sizeof *job->stocks.items);
  sw_stock *stock = &job->stocks.items[job->stocks.count++];
  *stock = (sw_stock){ .section = index, .length = length, .limit = -1, .line = job->stocks.count + 1 };
  return stock;
}

sw_extra *
job_extra (sw_job *job, const char *label, const char *section, sw_length length)
{
  size_t index = section_of (job, section);
  job->extras.items = one_more (job->extras.items, job->extras.count, sizeof *job->extras.items);
  sw_extra *extra = &job->extras.items[job->extras.count++];
  *extra = (sw_extra){ .section = index, .length = length, .quantity = 1, .line = job->extras.count + 1 };
  extra->label = need (sw_copy_text (label));
  return extra;
}

const char *
job_arcs (const sw_layout *layout, size_t stretch, size_t t)
{
  static char text[4096];
  size_t used = 0;
  text[0] = '\0';
  const size_t *start = &layout->arc_start[stretch * layout->through_count + t];
  for (size_t a = start[0]; a < start[1] && used < sizeof text; a++)
    {
      char length[SW_LENGTH_TEXT];
      sw_length_format_mm (layout->arcs[a].cut, length);
      int n = snprintf (text + used, sizeof text - used, "%s%zu-%zu %s", a > start[0] ? ", " : "",
                        layout->arcs[a].from + 1, layout->arcs[a].to + 1, length);
      used += (size_t)n;
    }
  return text;
}
