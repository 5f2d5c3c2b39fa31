/* setout_text.c - setting out as a person reads it
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "setout.h"

#include "memory.h"
#include "view.h"

#include <stdlib.h>

#define NAME_MAX 22
#define FIGURE 11
/* Columns before the levels of a run's table: post, distance, width. */
#define POST_COLUMNS 28
#define LEVEL_LEAST 10 /* "stopped 33" */
#define LEVEL_MOST 16
#define LEVEL_GAP 2

static char *
level_name (sw_text *out, const sw_job *job, size_t level)
{
  sw_text name = { 0 };
  sw_view_name (&name, job->levels.items[level].name);
  return sw_view_take (out, &name);
}

static void
add_figure (sw_text *out, const sw_job *job, bool known, sw_length length, size_t width)
{
  char text[SW_LENGTH_TEXT] = "-";
  if (known)
    sw_view_length (job, length, text);
  sw_view_cell (out, text, width, true);
}

/* The marks, once: they are the same on every post. */
static void
add_levels (sw_text *out, const sw_job *job)
{
  bool known = false;
  for (size_t l = 0; l < job->levels.count; l++)
    known = known || job->levels.items[l].has_height || job->sections.items[job->levels.items[l].section].thickness > 0;
  if (!known)
    {
      sw_text_add (out, "\n  Heights are not given (levels.csv, or --picket), nor sizes (sections.csv).\n");
      return;
    }
  sw_text_printf (out, "\n  %-*s%*s%*s%*s\n", NAME_MAX, "level", FIGURE, "underside", FIGURE, "top", FIGURE, "check");
  for (size_t l = job->levels.count; l-- > 0;)
    {
      const sw_level *level = &job->levels.items[l];
      const sw_section *section = &job->sections.items[level->section];
      char *name = level_name (out, job, l);
      if (name == NULL)
        return;
      sw_text_add (out, "  ");
      sw_view_cell (out, name, NAME_MAX, false);
      add_figure (out, job, level->has_height, level->height, FIGURE);
      add_figure (out, job, level->has_height && section->width > 0, level->height + section->width, FIGURE);
      add_figure (out, job, level->through && section->thickness > 0, section->thickness, FIGURE);
      sw_text_add (out, "\n");
      free (name);
    }
}

static void
add_mark (sw_text *out, const sw_job *job, const sw_mark *mark, size_t width)
{
  char depth[SW_LENGTH_TEXT];
  sw_text cell = { 0 };
  if (mark->join)
    sw_text_add (&cell, "join");
  else if (mark->housing == SW_HOUSING_THROUGH)
    sw_text_add (&cell, "through");
  else if (mark->housing == SW_HOUSING_STOPPED)
    {
      sw_view_length (job, mark->depth, depth);
      sw_text_printf (&cell, "stopped %s", depth);
    }
  else
    sw_text_add (&cell, mark->timber ? "face" : "-");
  char *text = sw_view_take (out, &cell);
  if (text == NULL)
    return;
  sw_text_repeat (out, ' ', LEVEL_GAP);
  sw_view_cell (out, text, width, false);
  free (text);
}

static bool
rises (const sw_run *run)
{
  for (size_t b = 0; b < run->bay_count; b++)
    if (run->bays[b].rise != 0)
      return true;
  return false;
}

/* The through levels SHOWN[0 ... COUNT - 1] of RUN, a column each. */
static void
add_posts (sw_text *out, const sw_setout *setout, size_t r, const size_t *shown, size_t count, size_t column)
{
  const sw_job *job = setout->plan->job;
  const sw_run *run = &job->fence.runs[r];
  const bool slope = rises (run);
  sw_length distance = 0;
  sw_length height = 0;
  sw_text_printf (out, "\n  %6s%*s%*s", "post", FIGURE, "distance", FIGURE - 2, "width");
  if (slope)
    sw_text_printf (out, "%*s", FIGURE - 2, "rise");
  for (size_t i = 0; i < count; i++)
    {
      char *name = level_name (out, job, shown[i]);
      if (name == NULL)
        return;
      sw_text_repeat (out, ' ', LEVEL_GAP);
      sw_view_cell (out, name, column, false);
      free (name);
    }
  sw_view_end_line (out);
  for (size_t post = 0; post <= run->bay_count; post++)
    {
      sw_text_printf (out, "  %6zu", post + 1);
      add_figure (out, job, true, distance, FIGURE);
      add_figure (out, job, true, run->posts[post].width, FIGURE - 2);
      if (slope)
        add_figure (out, job, true, height, FIGURE - 2);
      for (size_t i = 0; i < count; i++)
        add_mark (out, job, sw_setout_mark (setout, r, post, shown[i]), column);
      sw_view_end_line (out);
      distance += post < run->bay_count ? run->bays[post].span : 0;
      height += post < run->bay_count ? run->bays[post].rise : 0;
    }
}

static void
add_legend (sw_text *out, const sw_job *job, size_t width)
{
  static const struct
  {
    const char *term, *meaning;
  } terms[] = { { "through", "check the outer face across, as deep as the timber is thick" },
                { "join", "the same; two pieces meet on the post's centre" },
                { "stopped", "a housing, as deep as shown" },
                { "face", "the timber only butts against the post" } };
  sw_text legend = { 0 };
  sw_text_printf (&legend,
                  "In %s. Distances run from the centre of post 1, level measure: hold the tape there and read every"
                  " post off it. Heights are above the datum: mark one stick and set every post out from it.",
                  job->settings->inches ? "inches" : "mm");
  sw_view_paragraph (out, &legend, 2, 2, width);
  for (size_t i = 0; i < sizeof terms / sizeof *terms; i++)
    {
      sw_text_printf (out, "    %-9s", terms[i].term);
      sw_text_add (&legend, terms[i].meaning);
      sw_view_rest (out, &legend, 13, 13, width);
    }
}

sw_status
sw_setout_text (const sw_plan *plan, size_t width, sw_text *out)
{
  const sw_job *job = plan->job;
  size_t count = 0;
  size_t column = LEVEL_LEAST;
  size_t *through = sw_alloc (job->levels.count, sizeof *through);
  sw_setout setout = { 0 };
  sw_status status = through == NULL ? SW_NO_MEMORY : sw_setout_make (&setout, plan);
  if (status != SW_OK)
    {
      free (through);
      return status;
    }
  for (size_t l = 0; l < job->levels.count; l++)
    if (job->levels.items[l].through)
      {
        size_t name = sw_text_width (job->levels.items[l].name);
        through[count++] = l;
        column = name > column ? name : column;
      }
  column = column < LEVEL_MOST ? column : LEVEL_MOST;
  sw_text_add (out, "SETTING OUT\n");
  add_legend (out, job, width);
  add_levels (out, job);
  for (size_t r = 0; r < job->fence.run_count; r++)
    {
      sw_text heading = { 0 };
      sw_text_add (&heading, "Run ");
      sw_view_name (&heading, job->fence.runs[r].name);
      sw_text_add (out, "\n");
      sw_view_paragraph (out, &heading, 0, 2, width);
      size_t posts = POST_COLUMNS + (rises (&job->fence.runs[r]) ? FIGURE - 2 : 0);
      size_t fit = (width - posts) / (column + LEVEL_GAP);
      size_t l = 0;
      do
        {
          size_t here = count - l < fit ? count - l : fit;
          add_posts (out, &setout, r, through + l, here, column);
          l += here;
        }
      while (l < count);
    }
  sw_setout_clear (&setout);
  free (through);
  return SW_OK;
}
