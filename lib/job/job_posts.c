/* job_posts.c - warns of posts too narrow for a join, and refuses names that would give two pieces the same
 * label
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "job/job_check.h"
#include "base/memory.h"
#include "base/text.h"
#include "csv/value.h"

#include <stdlib.h>
#include <stdio.h>
#include <string.h>

/* The most ranges of posts that a list shows. */
#define LISTED 12

/* ---- Bearing ---- */

static bool
bears_too_little (const sw_run *run, size_t post, sw_length least)
{
  return run->bays[post].start.kind == SW_END_ON && run->posts[post].join != SW_JOIN_NEVER
         && run->posts[post].width < 2 * least;
}

/* List the inner posts that bear too little, as "2-5, 7".  *FIRST is the first of them, *SMALLEST
 * their least width.  Returns their number. */
static size_t
list_posts (const sw_run *run, sw_length least, sw_text *list, size_t *first, sw_length *smallest)
{
  size_t posts = 0;
  size_t ranges = 0;
  for (size_t post = 1, end; post < run->bay_count; post = end)
    {
      end = post + 1;
      if (!bears_too_little (run, post, least))
        continue;
      if (posts == 0)
        {
          *first = post;
          *smallest = run->posts[post].width;
        }
      for (end = post; end < run->bay_count && bears_too_little (run, end, least); end++)
        if (run->posts[end].width < *smallest)
          *smallest = run->posts[end].width;
      posts += end - post;
      if (++ranges > LISTED)
        continue;
      sw_text_printf (list, "%s%zu", ranges > 1 ? ", " : "", post + 1);
      if (end > post + 1)
        sw_text_printf (list, "-%zu", end);
    }
  if (ranges > LISTED)
    sw_text_add (list, " ...");
  return posts;
}

/* The setting to blame for a post whose width no row gives.  With both settings at their defaults
 * the post is wide enough, so that one has been set. */
static const char *
blamed_setting (const sw_settings *settings)
{
  return sw_settings_is_set (settings, "post-width") ? "post-width" : "min-bearing";
}

static sw_status
check_run_bearing (const sw_job *job, const sw_run *run, sw_report *report)
{
  sw_text list = { 0 };
  size_t first = 0;
  sw_length smallest = 0;
  size_t posts = list_posts (run, job->settings->min_bearing, &list, &first, &smallest);
  char *posts_shown = sw_text_take (&list);
  if (posts_shown == NULL)
    return SW_NO_MEMORY;
  if (posts > 0)
    {
      char name[SW_SHOWN];
      char bearing[SW_SHOWN];
      char least[SW_SHOWN];
      sw_show_text (run->name, name);
      sw_show_lengths (smallest / 2, job->settings->min_bearing, job->settings->inches, bearing, least);
      static const char says[]
          = "two rails that join on post%s %s of run \"%s\" bear%s %s each, under the %s they should have";
      const char *as_little = posts > 1 ? " as little as" : "";
      /* The row of a bay gives the width of the post at its far end. */
      if (run->posts[first].width_written)
        sw_report_add (report, SW_WARNING, job->files[SW_FILE_SPANS], run->bays[first - 1].line, "post_width", says,
                       posts > 1 ? "s" : "", posts_shown, name, as_little, bearing, least);
      else
        sw_settings_remark (job->settings, report, SW_WARNING, blamed_setting (job->settings), says,
                            posts > 1 ? "s" : "", posts_shown, name, as_little, bearing, least);
    }
  free (posts_shown);
  return SW_OK;
}

sw_status
sw_job_check_bearing (const sw_job *job, sw_report *report)
{
  bool through = false;
  for (size_t i = 0; i < job->levels.count; i++)
    through |= job->levels.items[i].through;
  sw_status status = SW_OK;
  for (size_t r = 0; through && status == SW_OK && r < job->fence.run_count; r++)
    status = check_run_bearing (job, &job->fence.runs[r], report);
  return status;
}

/* ---- Labels ---- */

typedef struct places
{
  const sw_job *job;
  sw_report *report;
  sw_name_index runs;
  sw_name_index levels;
  sw_name_index extras;
  size_t faults;
} places;

static sw_status
collect_names (places *places)
{
  const sw_job *job = places->job;
  sw_status status = SW_OK;
  for (size_t i = 0; status == SW_OK && i < job->fence.run_count; i++)
    status = sw_name_index_add (&places->runs, job->fence.runs[i].name, i);
  for (size_t i = 0; status == SW_OK && i < job->levels.count; i++)
    status = sw_name_index_add (&places->levels, job->levels.items[i].name, i);
  for (size_t i = 0; status == SW_OK && i < job->extras.count; i++)
    status = sw_name_index_add (&places->extras, job->extras.items[i].label, i);
  return status;
}

/* Is TEXT the name of a run, "/" and the name of a level?  TEXT is changed on the way, but comes back as it was. */
static bool
is_place (const places *places, char *text)
{
  for (char *slash = strchr (text, '/'); slash != NULL; slash = strchr (slash + 1, '/'))
    {
      *slash = '\0';
      bool found = sw_name_index_find (&places->runs, text, NULL) && sw_name_index_find (&places->levels, slash + 1, NULL);
      *slash = '/';
      if (found)
        return true;
    }
  return false;
}

/* The text "b" where levels "c" and "b/c" exist.  Then run "a/b" with level "c" and run "a" with
 * level "b/c" would make the same labels. */
typedef struct tail
{
  const char *text; /* the beginning of the level "b/c" */
  size_t length;
  const char *level; /* the level "c" */
} tail;

static sw_status
collect_tails (const places *places, tail **tails, size_t *count)
{
  size_t capacity = 0;
  for (size_t i = 0; i < places->job->levels.count; i++)
    {
      const char *name = places->job->levels.items[i].name;
      for (const char *slash = strchr (name, '/'); slash != NULL; slash = strchr (slash + 1, '/'))
        {
          if (!sw_name_index_find (&places->levels, slash + 1, NULL))
            continue;
          void *grown = *tails;
          sw_status status = sw_grow (&grown, &capacity, *count + 1, sizeof (tail));
          *tails = grown;
          if (status != SW_OK)
            return status;
          (*tails)[(*count)++] = (tail){ name, (size_t)(slash - name), slash + 1 };
        }
    }
  return SW_OK;
}

/* Is RUN's name the name of another run, "/" and TAIL? */
static bool
ends_in_tail (const places *places, const sw_run *run, const tail *tail)
{
  char start[SW_NAME_BYTES + 1];
  size_t length = strlen (run->name);
  if (length <= tail->length || run->name[length - tail->length - 1] != '/'
      || memcmp (run->name + length - tail->length, tail->text, tail->length) != 0)
    return false;
  length -= tail->length + 1;
  memcpy (start, run->name, length);
  start[length] = '\0';
  return sw_name_index_find (&places->runs, start, NULL);
}

static void
check_run (places *places, const sw_run *run, const tail *tails, size_t tail_count)
{
  size_t i = 0;
  while (i < tail_count && !ends_in_tail (places, run, &tails[i]))
    i++;
  if (i == tail_count)
    return;
  char name[SW_SHOWN];
  char level[SW_SHOWN];
  sw_show_text (run->name, name);
  sw_show_text (tails[i].level, level);
  sw_report_add (places->report, SW_FAULT, places->job->files[SW_FILE_SPANS], run->bays[0].line, "run",
                 "run \"%s\" with level \"%s\" makes the same labels for pieces as another run and level; choose other "
                 "names",
                 name, level);
  places->faults++;
}

static sw_status
check_runs (places *places)
{
  tail *tails = NULL;
  size_t count = 0;
  sw_status status = collect_tails (places, &tails, &count);
  for (size_t i = 0; status == SW_OK && count > 0 && i < places->job->fence.run_count; i++)
    check_run (places, &places->job->fence.runs[i], tails, count);
  free (tails);
  return status;
}

/* Does END look like the end of a piece's label, after run and level? */
static bool
ends_like_place (const char *end)
{
  return (*end >= '0' && *end <= '9') || strncmp (end, "block", 5) == 0;
}

/* Is LABEL also that of a numbered piece of another extra: that extra's label, a blank and a number
 * up to its quantity? */
static bool
is_numbered (const places *places, const char *label)
{
  char start[SW_NAME_BYTES + 1];
  snprintf (start, sizeof start, "%s", label);
  char *blank = strrchr (start, ' ');
  size_t index;
  int64_t number;
  char expected[SW_PHRASE];
  if (blank == NULL || blank[1] == '0')
    return false;
  *blank = '\0';
  if (!sw_name_index_find (&places->extras, start, &index))
    return false;
  int64_t quantity = places->job->extras.items[index].quantity;
  return quantity > 1 && sw_value_whole (blank + 1, 1, quantity, &number, expected);
}

static void
check_extra (places *places, const sw_extra *extra)
{
  char start[SW_NAME_BYTES + 1];
  snprintf (start, sizeof start, "%s", extra->label);
  char *slash = strrchr (start, '/');
  bool taken = extra->quantity == 1 && is_numbered (places, extra->label);
  if (!taken && slash != NULL && ends_like_place (slash + 1))
    {
      *slash = '\0';
      taken = is_place (places, start);
    }
  if (!taken)
    return;
  char label[SW_SHOWN];
  sw_show_text (extra->label, label);
  sw_report_add (places->report, SW_FAULT, places->job->files[SW_FILE_EXTRAS], extra->line, "label",
                 "expected a label that no other piece gets, found \"%s\"", label);
  places->faults++;
}

sw_status
sw_job_check_labels (const sw_job *job, sw_report *report)
{
  places places = { .job = job, .report = report };
  sw_status status = collect_names (&places);
  if (status == SW_OK)
    status = check_runs (&places);
  for (size_t i = 0; status == SW_OK && i < job->extras.count; i++)
    check_extra (&places, &job->extras.items[i]);
  sw_name_index_clear (&places.runs);
  sw_name_index_clear (&places.levels);
  sw_name_index_clear (&places.extras);
  return status == SW_OK && places.faults > 0 ? SW_REJECTED : status;
}
