/* divided.c - a job whose stretches have been divided into bays
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "job/divided.h"

#include "base/decimal.h"
#include "base/memory.h"
#include "csv/table.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

__extension__ typedef __int128 wide;

/* Columns of spans.csv that say something of only one bay or post of the stretch. */
enum
{
  SPAN,
  RISE,
  POST_WIDTH,
  NEAR_POST_WIDTH,
  OVERALL,
  STEP,
  NUMBERS, /* the columns before this one hold numbers */
  BAY = NUMBERS,
  START,
  FINISH,
  JOIN,
  COLUMNS
};

static const char *const names[COLUMNS]
    = { "span", "rise", "post_width", "near_post_width", "overall", "step", "bay", "start", "finish", "join" };

typedef struct writing
{
  const sw_job *job;
  const sw_table *from;
  sw_table *to;
  int divide; /* the column that is left out, or -1 */
  size_t row; /* of FROM */
} writing;

sw_length
sw_way_rise (const sw_division *division, const sw_way *way, sw_length rise, uint32_t bay)
{
  const wide from = (wide)rise * sw_way_post (division, way, bay);
  const wide to = (wide)rise * sw_way_post (division, way, bay + 1);
  return (sw_length)(to / division->span - from / division->span);
}

static int
which_column (const char *header)
{
  int c = 0;
  while (c < COLUMNS && !sw_same_word (header, names[c]))
    c++;
  return c;
}

static sw_status
put (writing *w, size_t column, int which, const char *text)
{
  const size_t to = column - (w->divide >= 0 && column > (size_t)w->divide ? 1 : 0);
  return which < NUMBERS ? sw_table_set (w->to, to, text) : sw_table_set_text (w->to, to, text);
}

static void
show_millimetres (sw_length length, char out[SW_DECIMAL_TEXT])
{
  sw_decimal_format (length, 6, 0, out);
}

/* What the row of bay BAY says in a column when the stretch is divided in WAY; TEXT is what the row of the stretch
 * says. */
static const char *
cell_of (const writing *w, const sw_division *d, const sw_way *way, uint32_t bay, int which, const char *text,
         char made[SW_NAME_BYTES + 16])
{
  const sw_run *run = &w->job->fence.runs[d->run];
  const bool first = bay == 0, last = bay + 1 == way->bays;
  sw_length length;
  switch (which)
    {
    case SPAN:
      length = sw_way_post (d, way, bay + 1) - sw_way_post (d, way, bay);
      if (w->job->settings->measured == SW_MEASURED_CLEAR)
        length -= sw_span_of_clear (0, first ? run->posts[d->bay].width : w->job->settings->post_width,
                                    last ? run->posts[d->bay + 1].width : w->job->settings->post_width);
      show_millimetres (length, made);
      return made;
    case RISE:
      length = sw_way_rise (d, way, run->bays[d->bay].rise, bay);
      show_millimetres (length, made);
      return run->bays[d->bay].rise == 0 ? text : made;
    case BAY:
      snprintf (made, SW_NAME_BYTES + 16, "%.*s.%u", SW_NAME_BYTES - 8, text, bay + 1);
      return *text == '\0' ? text : made;
    case START:
    case NEAR_POST_WIDTH:
    case OVERALL:
      return first ? text : "";
    case FINISH:
    case POST_WIDTH:
    case JOIN:
    case STEP:
      return last ? text : "";
    default:
      return text;
    }
}

/* Write the rows for the stretch in W's row. */
static sw_status
write_division (writing *w, const sw_division *d, const sw_way *way)
{
  sw_status status = SW_OK;
  for (uint32_t bay = 0; bay < way->bays && status == SW_OK; bay++)
    {
      status = sw_table_add_row (w->to);
      for (size_t c = 0; c < sw_table_columns (w->from) && status == SW_OK; c++)
        {
          char made[SW_NAME_BYTES + 16];
          const int which = which_column (sw_table_header (w->from, c));
          if ((int)c != w->divide)
            status = put (w, c, which, cell_of (w, d, way, bay, which, sw_table_cell (w->from, w->row, c), made));
        }
    }
  return status;
}

static sw_status
write_row (writing *w)
{
  sw_status status = sw_table_add_row (w->to);
  for (size_t c = 0; c < sw_table_columns (w->from) && status == SW_OK; c++)
    if ((int)c != w->divide)
      status = put (w, c, which_column (sw_table_header (w->from, c)), sw_table_cell (w->from, w->row, c));
  return status;
}

static sw_status
begin_table (writing *w)
{
  const size_t columns = sw_table_columns (w->from);
  const char **header = sw_alloc (columns + 1, sizeof *header);
  size_t count = 0;
  if (header == NULL)
    return SW_NO_MEMORY;
  w->divide = sw_table_find (w->from, "divide");
  for (size_t c = 0; c < columns; c++)
    if ((int)c != w->divide)
      header[count++] = sw_table_header (w->from, c);
  sw_status status = sw_table_new (&w->to, header, count);
  free (header);
  /* Cells are copied as they are, with a decimal comma where they have one. */
  if (status == SW_OK && sw_table_decimal_comma (w->from))
    sw_table_write_semicolons (w->to);
  return status;
}

static sw_status
write_all (writing *w, const sw_division *divisions, size_t count, const sw_way *ways)
{
  const sw_fence *fence = &w->job->fence;
  size_t next = 0;
  sw_status status = begin_table (w);
  for (size_t r = 0; r < fence->run_count; r++)
    for (size_t b = 0; b < fence->runs[r].bay_count && status == SW_OK; b++, w->row++)
      if (next < count && divisions[next].run == r && divisions[next].bay == b)
        {
          status = write_division (w, &divisions[next], &ways[next]);
          next++;
        }
      else
        status = write_row (w);
  return status;
}

sw_status
sw_divided_spans (char **bytes, const sw_job *job, const sw_division *divisions, size_t count, const sw_way *ways)
{
  const sw_bytes *read = &job->read[SW_FILE_SPANS];
  sw_table *from = NULL;
  sw_report *report = sw_report_new ();
  *bytes = NULL;
  if (report == NULL)
    return SW_NO_MEMORY;
  sw_status status = sw_table_read_bytes (&from, read->data, read->count, job->files[SW_FILE_SPANS], report);
  writing w = { .job = job, .from = from };
  if (status == SW_OK)
    status = write_all (&w, divisions, count, ways);
  if (status == SW_OK)
    status = sw_table_csv (w.to, bytes);
  sw_table_free (w.to);
  sw_table_free (from);
  sw_report_free (report);
  return status == SW_REJECTED ? SW_FAILED : status;
}

sw_status
sw_divided_job (sw_job **out, const sw_job *job, const sw_division *divisions, size_t count, const sw_way *ways,
                sw_report *report)
{
  char *bytes = NULL;
  *out = NULL;
  sw_status status = sw_divided_spans (&bytes, job, divisions, count, ways);
  if (status == SW_OK)
    status = sw_job_read_again (out, job, bytes, strlen (bytes), report);
  free (bytes);
  return status;
}

sw_status
sw_divided_check (const sw_job *job, sw_report *report)
{
  sw_status status = SW_OK;
  size_t told = 0;
  for (size_t r = 0; r < job->fence.run_count; r++)
    for (size_t b = 0; b < job->fence.runs[r].bay_count; b++)
      {
        const sw_bay *bay = &job->fence.runs[r].bays[b];
        if (bay->divide == SW_DIVIDE_NOT)
          continue;
        status = SW_REJECTED;
        if (told++ >= SW_REPORT_FILE_FAULTS)
          continue;
        sw_report_add (
            report, SW_FAULT, job->files[SW_FILE_SPANS], bay->line, "divide",
            "expected a blank cell, since this is for bays whose posts are set, found \"%s\"; run `spanwright "
            "posts` first, and take the spans.csv that it writes",
            sw_divide_name (bay->divide));
      }
  return status;
}
