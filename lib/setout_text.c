/* setout_text.c - setting out as a person reads it
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "setout.h"

#include "memory.h"
#include "view.h"

#include <stdlib.h>

#define NAME_MAX 22
#define FIGURE 11
/* Where the table of levels does not fit: columns of a name and of a figure. */
#define NAME_NARROW 11
#define FIGURE_NARROW 9
/* A post's width and its rise. */
#define SMALL 9
#define SMALL_NARROW 6
/* Columns of a post's number, indent included. */
#define POST 8
#define POST_NARROW 6
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
  /* Rather too wide than cut short. */
  sw_text_printf (out, "%*s", (int)width, text);
}

static bool
is_narrow (size_t width)
{
  return width < 2 + NAME_MAX + 3 * FIGURE;
}

/* The marks, once: they are the same on every post. */
static void
add_levels (sw_text *out, const sw_job *job, size_t width)
{
  bool known = false;
  for (size_t l = 0; l < job->levels.count; l++)
    known = known || job->levels.items[l].has_height || job->sections.items[job->levels.items[l].section].thickness > 0;
  if (!known)
    {
      sw_text note = { 0 };
      sw_text_add (&note, "Heights are not given (levels.csv, or --picket), nor sizes (sections.csv).");
      sw_text_add (out, "\n");
      sw_view_paragraph (out, &note, 2, 2, width);
      return;
    }
  const size_t figure = is_narrow (width) ? FIGURE_NARROW : FIGURE;
  const size_t widest = is_narrow (width) ? NAME_NARROW : NAME_MAX;
  sw_text_printf (out, "\n  %-*s%*s%*s%*s\n", (int)widest, "level", (int)figure,
                  is_narrow (width) ? "under" : "underside", (int)figure, "top", (int)figure, "check");
  for (size_t l = job->levels.count; l-- > 0;)
    {
      const sw_level *level = &job->levels.items[l];
      const sw_section *section = &job->sections.items[level->section];
      char *name = level_name (out, job, l);
      if (name == NULL)
        return;
      sw_text_add (out, "  ");
      sw_view_cell (out, name, widest, false);
      add_figure (out, job, level->has_height, level->height, figure);
      add_figure (out, job, level->has_height && section->width > 0, level->height + section->width, figure);
      add_figure (out, job, level->through && section->thickness > 0, section->thickness, figure);
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
add_posts (sw_text *out, const sw_setout *setout, size_t r, const size_t *shown, size_t count, size_t column,
           bool narrow)
{
  const sw_job *job = setout->plan->job;
  const sw_run *run = &job->fence.runs[r];
  const bool slope = rises (run);
  sw_length distance = 0;
  sw_length height = 0;
  const size_t number = narrow ? POST_NARROW : POST;
  const size_t figure = narrow ? FIGURE_NARROW : FIGURE;
  const size_t small = narrow ? SMALL_NARROW : SMALL;
  sw_text_printf (out, "\n%*s%*s%*s", (int)number, "post", (int)figure, "distance", (int)small, "width");
  if (slope)
    sw_text_printf (out, "%*s", (int)small, "rise");
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
      sw_text_printf (out, "%*zu", (int)number, post + 1);
      add_figure (out, job, true, distance, figure);
      add_figure (out, job, true, run->posts[post].width, small);
      if (slope)
        add_figure (out, job, true, height, small);
      for (size_t i = 0; i < count; i++)
        add_mark (out, job, sw_setout_mark (setout, r, post, shown[i]), column);
      sw_view_end_line (out);
      distance += post < run->bay_count ? run->bays[post].span : 0;
      height += post < run->bay_count ? run->bays[post].rise : 0;
    }
}

static void
add_legend (sw_text *out, const sw_job *job, bool through, size_t width)
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
  /* What is cut to fit between posts is not let into them. */
  for (size_t i = 0; i < sizeof terms / sizeof *terms && through; i++)
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
  add_legend (out, job, count > 0, width);
  add_levels (out, job, width);
  for (size_t r = 0; r < job->fence.run_count; r++)
    {
      sw_text heading = { 0 };
      sw_text_add (&heading, "Run ");
      sw_view_name (&heading, job->fence.runs[r].name);
      sw_text_add (out, "\n");
      sw_view_paragraph (out, &heading, 0, 2, width);
      const bool narrow = is_narrow (width);
      const size_t small = narrow ? SMALL_NARROW : SMALL;
      const size_t posts = (narrow ? POST_NARROW + FIGURE_NARROW : POST + FIGURE) + small
                           + (rises (&job->fence.runs[r]) ? small : 0) + LEVEL_GAP;
      /* A level's name is shortened before its marks stand too far to the right. */
      size_t here = width > posts + LEVEL_LEAST ? width - posts : LEVEL_LEAST;
      here = here < column ? here : column;
      size_t fit = width > posts + here ? (width - posts + LEVEL_GAP) / (here + LEVEL_GAP) : 1;
      size_t l = 0;
      do
        {
          size_t shown = count - l < fit ? count - l : fit;
          add_posts (out, &setout, r, through + l, shown, here, narrow);
          l += shown;
        }
      while (l < count);
    }
  sw_setout_clear (&setout);
  free (through);
  return SW_OK;
}
