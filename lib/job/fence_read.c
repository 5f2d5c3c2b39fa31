/* fence_read.c - reads spans.csv into a fence
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "base/decimal.h"
#include "job/fence_apart.h"
#include "job/fence_doubt.h"
#include "base/memory.h"
#include "base/name_index.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define WIDEST_POST (2 * SW_METRE)  /* a brick pier is at most as wide */
#define HIGHEST_STEP (5 * SW_METRE) /* a higher step probably has a wrong unit */
/* Saws swing as far as this: common practice, no source. */
#define STEEPEST_SAW 45000 /* thousandths of a degree */

enum
{
  RUN,
  SPAN,
  BAY,
  POST_WIDTH,
  NEAR_POST_WIDTH,
  START,
  FINISH,
  JOIN,
  RISE,
  OPENING,
  OVERALL,
  STEP,
  DIVIDE,
  COLUMNS
};

typedef struct reading
{
  sw_fence *out;
  const sw_settings *settings;
  sw_fields fields;
  sw_name_index names; /* names of runs, each with the line on which the run begins */
  size_t run_capacity;
  size_t first_row; /* the first row of the run that is being read */
  size_t blamed;    /* see sw_fence_blame_apart */
  char run_shown[SW_SHOWN];
} reading;

static void
show (const reading *reading, sw_length length, char out[SW_SHOWN])
{
  sw_show_length (length, reading->settings->inches, out);
}

/* ---- One bay ---- */

/* The number of rows from ROW on that belong to one run.  They have the same name or none; a
 * missing name is reported with its row. */
static size_t
rows_of_run (reading *reading, size_t row, size_t rows)
{
  reading->fields.row = row;
  const char *name = sw_field (&reading->fields, RUN);
  size_t count = 1;
  for (; row + count < rows; count++)
    {
      reading->fields.row = row + count;
      const char *other = sw_field (&reading->fields, RUN);
      if (*other != '\0' && strcmp (other, name) != 0)
        break;
    }
  return count;
}

/* Read the columns that describe the run's near end or the whole run. */
static void
read_run_columns (reading *reading, sw_run *run, bool first_bay)
{
  sw_fields *fields = &reading->fields;
  if (first_bay)
    {
      run->posts[0].width = reading->settings->post_width;
      run->posts[0].width_written = *sw_field (fields, NEAR_POST_WIDTH) != '\0';
      sw_field_length (fields, NEAR_POST_WIDTH, SW_BARE_MM, SW_LENGTH_OVER_0, WIDEST_POST, &run->posts[0].width);
      sw_field_length (fields, OVERALL, SW_BARE_SPAN, SW_LENGTH_OVER_0, SW_LENGTH_MAX, &run->overall);
      return;
    }
  if (*sw_field (fields, NEAR_POST_WIDTH) != '\0')
    sw_field_expected (fields, NEAR_POST_WIDTH,
                       "a blank cell, since only a run's first bay has a near post of its own");
  if (*sw_field (fields, OVERALL) != '\0')
    sw_field_expected (fields, OVERALL, "a blank cell, since the overall stands on a run's first bay");
}

/* Check that the span between centres leaves a clear opening between the posts. */
static bool
check_span (reading *reading, const sw_bay *bay, const sw_post *near, const sw_post *far)
{
  if (2 * bay->span > near->width + far->width)
    return true;
  char span[SW_SHOWN];
  char half[SW_SHOWN];
  sw_show_lengths (bay->span, (near->width + far->width + 1) / 2, reading->settings->inches, span, half);
  sw_field_fault (&reading->fields, SPAN,
                  "expected a bay of more than %s from centre to centre, which its posts alone take up, found %s", half,
                  span);
  return false;
}

static void
read_span (reading *reading, sw_bay *bay, const sw_post *near, const sw_post *far)
{
  sw_fields *fields = &reading->fields;
  bool good = sw_field_needed (fields, SPAN, "a bay's length")
              && sw_field_length (fields, SPAN, SW_BARE_SPAN, SW_LENGTH_OVER_0, SW_LENGTH_MAX, &bay->measured);
  if (good)
    {
      bay->span = bay->measured;
      if (reading->settings->measured == SW_MEASURED_CLEAR)
        bay->span = sw_span_of_clear (bay->measured, near->width, far->width);
      good = check_span (reading, bay, near, far);
    }
  if (!sw_field_length (fields, RISE, SW_BARE_MM, -SW_LENGTH_MAX, SW_LENGTH_MAX, &bay->rise) || !good)
    return;
  if (bay->rise > 2 * bay->span || bay->rise < -2 * bay->span)
    {
      char most[SW_SHOWN];
      show (reading, 2 * bay->span, most);
      char expected[SW_PHRASE];
      snprintf (expected, sizeof expected,
                "a rise of at most %s, twice the bay (is it in the right column, and in the right unit?)", most);
      sw_field_expected (fields, RISE, expected);
      bay->rise = 0;
    }
}

static void
check_housing (reading *reading, size_t column, const sw_end *end, sw_length width, size_t post)
{
  if (3 * end->length <= width)
    return;
  char depth[SW_SHOWN];
  char post_width[SW_SHOWN];
  show (reading, end->length, depth);
  show (reading, width, post_width);
  if (2 * end->length > width)
    sw_field_fault (&reading->fields, column,
                    "expected a housing of at most half the post, found one of %s in post %zu of run \"%s\", which is "
                    "%s wide",
                    depth, post + 1, reading->run_shown, post_width);
  else
    sw_field_warn (&reading->fields, column,
                   "a housing of %s in post %zu of run \"%s\" is deeper than a third of the post, which is %s wide",
                   depth, post + 1, reading->run_shown, post_width);
}

static void
check_mitre (reading *reading, size_t column, const sw_end *end, size_t post)
{
  int32_t setting = sw_end_saw_setting (end);
  if (setting <= STEEPEST_SAW)
    return;
  char degrees[SW_DECIMAL_TEXT];
  char angle[SW_DECIMAL_TEXT];
  sw_decimal_format (setting, 3, 0, degrees);
  sw_decimal_format (end->angle, 3, 0, angle);
  if (end->angle == STEEPEST_SAW)
    sw_field_warn (&reading->fields, column,
                   "the number after \"mitre\" is the angle between the two fences, so the mitre at post %zu of run "
                   "\"%s\" is a corner as sharp as %s degrees and needs the saw set %s off square; a square corner, "
                   "sawn at 45, is \"mitre 90\"",
                   post + 1, reading->run_shown, angle, degrees);
  else
    sw_field_warn (&reading->fields, column,
                   "the mitre at post %zu of run \"%s\", a corner of %s degrees, needs the saw set %s degrees off "
                   "square; few saws go beyond %d",
                   post + 1, reading->run_shown, angle, degrees, STEEPEST_SAW / 1000);
}

/* Read an end in column START or FINISH.  Its post is number POST (from 0) and WIDTH wide. */
static void
read_end (reading *reading, size_t column, sw_bay *bay, sw_end *end, sw_length width, size_t post)
{
  sw_fields *fields = &reading->fields;
  const char *text = sw_field (fields, column);
  if (*text == '\0')
    return;
  char expected[SW_PHRASE];
  if (bay->opening)
    sw_field_expected (fields, column,
                       "a blank cell, since nothing ends in an opening: write the end on the bay beside it");
  else if (!sw_end_parse (text, fields->comma, width, end, expected))
    sw_field_expected (fields, column, expected);
  else if (end->kind == SW_END_HOUSED)
    check_housing (reading, column, end, width, post);
  else if (end->kind == SW_END_MITRE)
    check_mitre (reading, column, end, post);
}

static sw_status
read_label (reading *reading, sw_bay *bay, size_t index)
{
  const char *label = NULL;
  char number[32];
  if (*sw_field (&reading->fields, BAY) == '\0' || !sw_field_name (&reading->fields, BAY, "a label", &label))
    {
      snprintf (number, sizeof number, "%zu", index + 1);
      label = number;
    }
  bay->label = sw_copy_text (label);
  return bay->label != NULL ? SW_OK : SW_NO_MEMORY;
}

/* Read how much higher the fence goes on.  At a run's last post it does not go on. */
static void
read_step (reading *reading, const sw_run *run, sw_bay *bay, size_t index)
{
  sw_fields *fields = &reading->fields;
  sw_field_length (fields, STEP, SW_BARE_MM, -HIGHEST_STEP, HIGHEST_STEP, &bay->step);
  if (index + 1 < run->bay_count || bay->step == 0)
    return;
  sw_field_warn (fields, STEP, "has no effect, since run \"%s\" ends at its far post", reading->run_shown);
  bay->step = 0;
}

/* A stretch whose posts are not set yet. */
static void
read_divide (reading *reading, sw_bay *bay)
{
  static const char *const words[] = { "equal", "ends", "odd", "best" };
  sw_fields *fields = &reading->fields;
  size_t choice = 0;
  if (*sw_field (fields, DIVIDE) == '\0' || !sw_field_choice (fields, DIVIDE, words, 4, &choice))
    return;
  bay->divide = (sw_divide)(choice + 1);
  if (bay->opening)
    sw_field_expected (fields, DIVIDE, "a blank cell, since an opening stays whole: a gate has its place");
}

static sw_status
read_bay (reading *reading, sw_run *run, size_t index)
{
  static const char *const join_words[] = { "may", "never", "always" };
  static const char *const opening_words[] = { "no", "yes" };
  static const sw_other_word other_openings[] = { { "n", 0 }, { "y", 1 }, { "gate", 1 }, { NULL, 0 } };
  sw_fields *fields = &reading->fields;
  sw_bay *bay = &run->bays[index];
  sw_post *near = &run->posts[index];
  sw_post *far = &run->posts[index + 1];
  bay->line = sw_field_line (fields);
  if (*sw_field (fields, RUN) == '\0')
    sw_field_expected (fields, RUN, "a run's name");
  read_run_columns (reading, run, index == 0);
  far->width = reading->settings->post_width;
  far->width_written = *sw_field (fields, POST_WIDTH) != '\0';
  sw_field_length (fields, POST_WIDTH, SW_BARE_MM, SW_LENGTH_OVER_0, WIDEST_POST, &far->width);
  read_span (reading, bay, near, far);
  size_t choice = 0;
  sw_field_choice_too (fields, OPENING, opening_words, 2, other_openings, &choice);
  bay->opening = choice == 1;
  read_divide (reading, bay);
  read_step (reading, run, bay, index);
  read_end (reading, START, bay, &bay->start, near->width, index);
  read_end (reading, FINISH, bay, &bay->finish, far->width, index + 1);
  choice = 0;
  sw_field_choice (fields, JOIN, join_words, 3, &choice);
  far->join = (sw_join_rule)choice;
  return read_label (reading, bay, index);
}

/* ---- One run ---- */

/* Let the next remarks point at the row of BAY. */
static void
go_to_bay (reading *reading, size_t bay)
{
  reading->fields.row = reading->first_row + bay;
}

static void
check_openings (reading *reading, const sw_run *run)
{
  for (size_t bay = 0; bay < run->bay_count; bay++)
    if (!run->bays[bay].opening)
      return;
  go_to_bay (reading, 0);
  sw_field_fault (&reading->fields, OPENING, "expected timber in at least one bay of run \"%s\", found only openings",
                  reading->run_shown);
}

/* Check that the sums along a run fit a length. */
static bool
check_total (reading *reading, const sw_run *run)
{
  sw_length total = 0;
  for (size_t bay = 0; bay < run->bay_count; bay++)
    {
      total += run->bays[bay].span;
      if (total > SW_LENGTH_MAX)
        {
          go_to_bay (reading, bay);
          sw_field_fault (&reading->fields, SPAN, "expected a run of at most 100 km, found more in run \"%s\"",
                          reading->run_shown);
          return false;
        }
    }
  return true;
}

/* Warn of a join rule at a post where timber ends anyway, and drop the rule. */
static void
check_joins (reading *reading, sw_run *run)
{
  for (size_t bay = 0; bay < run->bay_count; bay++)
    {
      sw_post *far = &run->posts[bay + 1];
      if (far->join == SW_JOIN_MAY || run->bays[bay].finish.kind == SW_END_ON)
        continue;
      go_to_bay (reading, bay);
      sw_field_warn (&reading->fields, JOIN, "has no effect, since timber ends at post %zu of run \"%s\" anyway",
                     bay + 2, reading->run_shown);
      far->join = SW_JOIN_MAY;
    }
}

/* Check that an end that stops short leaves some timber in its bay. */
static void
check_reaches (reading *reading, const sw_run *run)
{
  for (size_t b = 0; b < run->bay_count; b++)
    {
      const sw_bay *bay = &run->bays[b];
      sw_length start = sw_end_reach (&bay->start, run->posts[b].width);
      sw_length finish = sw_end_reach (&bay->finish, run->posts[b + 1].width);
      /* A mitre's reach depends on its level; layout_arcs checks it. */
      sw_length off_start = start < 0 ? -start : 0;
      sw_length off_finish = finish < 0 ? -finish : 0;
      if (bay->span > off_start + off_finish)
        continue;
      bool at_start = bay->start.kind == SW_END_REACH && (bay->finish.kind != SW_END_REACH || off_start >= off_finish);
      char span[SW_SHOWN];
      show (reading, bay->span, span);
      char expected[SW_PHRASE];
      snprintf (expected, sizeof expected, "a reach that leaves some timber in its bay of %s", span);
      go_to_bay (reading, b);
      sw_field_expected (&reading->fields, at_start ? START : FINISH, expected);
    }
}

/* Compare the bays' sum with the measured total of the run. */
static void
check_overall (reading *reading, const sw_run *run)
{
  if (run->overall == 0)
    return;
  size_t posts = run->bay_count + 1;
  sw_length sum = sw_run_distance (run, run->bay_count) + (run->posts[0].width + run->posts[posts - 1].width) / 2;
  sw_length allowed = sw_tape_error (run->overall);
  for (size_t bay = 0; bay < run->bay_count; bay++)
    allowed += sw_tape_error (run->bays[bay].measured);
  sw_length apart = sum > run->overall ? sum - run->overall : run->overall - sum;
  if (apart <= allowed)
    return;
  char sum_shown[SW_SHOWN];
  char overall[SW_SHOWN];
  char apart_shown[SW_SHOWN];
  char allowed_shown[SW_SHOWN];
  sw_show_lengths (sum, run->overall, reading->settings->inches, sum_shown, overall);
  sw_show_lengths (apart, allowed, reading->settings->inches, apart_shown, allowed_shown);
  go_to_bay (reading, 0);
  sw_field_warn (
      &reading->fields, OVERALL,
      "the bays of run \"%s\" add up to %s over its outer faces, but %s was measured: %s apart, more than the "
      "%s that a class II tape may be wrong over %zu readings; measure again",
      reading->run_shown, sum_shown, overall, apart_shown, allowed_shown, run->bay_count + 1);
}

/* Check what needs all rows of the run, once they are sound. */
static void
finish_run (reading *reading, sw_run *run)
{
  check_openings (reading, run);
  if (!check_total (reading, run))
    return;
  sw_run_resolve_ends (run);
  check_joins (reading, run);
  check_reaches (reading, run);
  check_overall (reading, run);
}

/* Read the run's name.  No rows elsewhere may have it. */
static sw_status
read_run_name (reading *reading, sw_run *run)
{
  sw_fields *fields = &reading->fields;
  const char *name = "";
  /* A blank name is reported with its row. */
  if (*sw_field (fields, RUN) != '\0' && !sw_field_name (fields, RUN, "a run's name", &name))
    name = "";
  sw_show_text (name, reading->run_shown);
  run->name = sw_copy_text (name);
  if (run->name == NULL)
    return SW_NO_MEMORY;
  size_t line;
  if (*name == '\0' || !sw_name_index_find (&reading->names, name, &line))
    return *name == '\0' ? SW_OK : sw_name_index_add (&reading->names, name, sw_field_line (fields));
  bool told = false;
  if (fields->faults < SW_REPORT_FILE_FAULTS)
    {
      sw_status status = sw_fence_blame_apart (reading->out, fields, RUN, &reading->blamed, &told);
      if (status != SW_OK || told)
        return status;
    }
  sw_field_fault (fields, RUN, "the rows of one run must stand together, but run \"%s\" began on line %zu already",
                  reading->run_shown, line);
  return SW_OK;
}

static sw_status
read_run (reading *reading, size_t row, size_t count)
{
  sw_fence *fence = reading->out;
  void *runs = fence->runs;
  sw_status status = sw_grow (&runs, &reading->run_capacity, fence->run_count + 1, sizeof (sw_run));
  fence->runs = runs;
  if (status != SW_OK)
    return status;
  sw_run *run = &fence->runs[fence->run_count++];
  *run = (sw_run){ .bays = sw_alloc (count, sizeof (sw_bay)), .posts = sw_alloc (count + 1, sizeof (sw_post)) };
  if (run->bays == NULL || run->posts == NULL)
    return SW_NO_MEMORY;
  run->bay_count = count;

  size_t faults = reading->fields.faults;
  reading->first_row = row;
  go_to_bay (reading, 0);
  status = read_run_name (reading, run);
  for (size_t bay = 0; status == SW_OK && bay < count; bay++)
    {
      go_to_bay (reading, bay);
      status = read_bay (reading, run, bay);
    }
  if (status == SW_OK && reading->fields.faults == faults)
    finish_run (reading, run);
  return status;
}

sw_status
sw_fence_read (sw_fence *out, const sw_table *table, const sw_settings *settings, sw_report *report)
{
  static const char *const names[COLUMNS] = { "run",    "span", "bay",  "post_width", "near_post_width", "start",
                                              "finish", "join", "rise", "opening",    "overall",         "step",
                                              "divide" };
  reading reading = { .out = out, .settings = settings };
  if (!sw_fields_begin (&reading.fields, table, names, COLUMNS, 2, report))
    return SW_REJECTED;
  size_t rows = sw_table_rows (table);
  if (rows == 0)
    {
      sw_report_add (report, SW_FAULT, sw_table_file (table), 0, NULL, "expected at least one bay, found none");
      return SW_REJECTED;
    }
  sw_status status = SW_OK;
  for (size_t row = 0; status == SW_OK && row < rows;)
    {
      size_t count = rows_of_run (&reading, row, rows);
      status = read_run (&reading, row, count);
      row += count;
    }
  sw_name_index_clear (&reading.names);
  if (status == SW_OK && reading.fields.faults == 0)
    sw_fence_doubt (out, &reading.fields, (sw_span_columns){ .run = RUN, .bay = BAY, .span = SPAN }, settings);
  return status == SW_OK && reading.fields.faults > 0 ? SW_REJECTED : status;
}
