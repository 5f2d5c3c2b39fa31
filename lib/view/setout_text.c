/* setout_text.c - the set-out for the eye
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "view/setout.h"

#include "base/memory.h"
#include "view/figures.h"

#include <stdlib.h>

#define NAME_MAX 22
#define FIGURE 11
/* The columns of a name and of a figure, where the table of levels is too wide. */
#define NAME_NARROW 11
#define FIGURE_NARROW 9
/* The columns of a post's width, rise and step.  They are narrower when there is a step. */
#define SMALL 9
#define SMALL_WITH_STEP 7
#define SMALL_NARROW 6
/* The columns of a post's number with its indent. */
#define POST 8
#define POST_NARROW 6
#define LEVEL_LEAST 10 /* as wide as "stopped 33" */
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
  /* A figure is never cut short: the line becomes wider. */
  sw_text_printf (out, "%*s", (int)width, text);
}

static bool
is_narrow (size_t width)
{
  return width < 2 + NAME_MAX + 3 * FIGURE;
}

/* ---- Levels ---------------------------------------------------------------- */

/* Add the runs that LEVEL is on, unless it is on all.  They stand behind COLUMN if the line has room, or below. */
static void
add_only (sw_text *out, const sw_level *level, size_t column, size_t width)
{
  sw_text runs = { 0 };
  if (level->only == NULL)
    {
      sw_text_add (out, "\n");
      return;
    }
  sw_text_add (&runs, "only on ");
  sw_view_name (&runs, level->only);
  if (!runs.failed && column + 3 + sw_text_width (runs.data) <= width)
    {
      sw_text_add (out, "   ");
      sw_view_rest (out, &runs, column + 3, column + 3, width);
      return;
    }
  sw_text_add (out, "\n");
  sw_view_paragraph (out, &runs, 4, 4, width);
}

/* Add the marks of the levels once, because they are the same on every post. */
static void
add_levels (sw_text *out, const sw_job *job, size_t width)
{
  bool known = false;
  for (size_t l = 0; l < job->levels.count; l++)
    known = known || job->levels.items[l].has_height || sw_seat_check (job, &job->levels.items[l]) > 0;
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
      const sw_length tall = sw_seat_height (job, level);
      const sw_length check = sw_seat_check (job, level);
      char *name = level_name (out, job, l);
      if (name == NULL)
        return;
      sw_text_add (out, "  ");
      sw_view_cell (out, name, widest, false);
      add_figure (out, job, level->has_height, level->height, figure);
      add_figure (out, job, level->has_height && tall > 0, level->height + tall, figure);
      add_figure (out, job, check > 0, check, figure);
      add_only (out, level, 2 + widest + 3 * figure, width);
      free (name);
    }
}

/* ---- Posts ----------------------------------------------------------------- */

/* What the table of posts says of a level on a post. */
typedef enum term
{
  TERM_THROUGH,
  TERM_JOIN,
  TERM_STOPPED,
  TERM_NAILED,
  TERM_TOP,
  TERM_FACE,
  TERMS,
  TERM_NOTHING = TERMS
} term;

static const char *const term_words[TERMS] = { "through", "join", "stopped", "nailed", "on top", "face" };

static term
term_of (const sw_level *level, const sw_mark *mark)
{
  if (mark->join)
    return TERM_JOIN;
  if (mark->housing != SW_HOUSING_NONE)
    return mark->housing == SW_HOUSING_THROUGH ? TERM_THROUGH : TERM_STOPPED;
  if (!mark->timber)
    return TERM_NOTHING;
  if (!mark->over)
    return TERM_FACE;
  return level->seat == SW_SEAT_TOP ? TERM_TOP : TERM_NAILED;
}

/* Add MARK.  NULL: nothing is there. */
static void
add_mark (sw_text *out, const sw_job *job, const sw_level *level, const sw_mark *mark, size_t width)
{
  char depth[SW_LENGTH_TEXT];
  sw_text cell = { 0 };
  const term term = mark != NULL ? term_of (level, mark) : TERM_NOTHING;
  sw_text_add (&cell, term == TERM_NOTHING ? "-" : term_words[term]);
  if (term == TERM_STOPPED)
    {
      sw_view_length (job, mark->depth, depth);
      sw_text_printf (&cell, " %s", depth);
    }
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

static bool
steps (const sw_run *run)
{
  for (size_t b = 0; b < run->bay_count; b++)
    if (run->bays[b].step != 0)
      return true;
  return false;
}

/* The table of a run's posts for the levels SHOWN[0 ... COUNT - 1]. */
typedef struct posts
{
  const sw_setout *setout;
  size_t run;
  const size_t *shown;
  size_t count;
  size_t column; /* width of a level's column */
  size_t number, figure, small;
  bool width, rise, step; /* the table has such a column */
  size_t begun;           /* the byte of the text where the part begins */
  size_t stopped;         /* the first post that is not printed, as all lines are used; SW_NONE: there is none */
} posts;

/* Measure the columns for a line of WIDTH.  Returns the width of those before the levels. */
static size_t
measure_posts (posts *table, size_t width)
{
  const sw_run *run = &table->setout->plan->job->fence.runs[table->run];
  const bool narrow = is_narrow (width);
  table->number = narrow ? POST_NARROW : POST;
  table->figure = narrow ? FIGURE_NARROW : FIGURE;
  table->rise = rises (run);
  table->step = steps (run);
  table->small = narrow ? SMALL_NARROW : table->step ? SMALL_WITH_STEP : SMALL;
  /* If there is no room for all, the post's width is left out: it can be found elsewhere. */
  table->width = !narrow || !table->rise || !table->step;
  return table->number + table->figure
         + table->small * ((size_t)table->width + (size_t)table->rise + (size_t)table->step) + LEVEL_GAP;
}

static void
add_posts_heading (sw_text *out, const posts *table)
{
  sw_text_printf (out, "\n%*s%*s", (int)table->number, "post", (int)table->figure, "distance");
  if (table->width)
    sw_text_printf (out, "%*s", (int)table->small, "width");
  if (table->rise)
    sw_text_printf (out, "%*s", (int)table->small, "rise");
  if (table->step)
    sw_text_printf (out, "%*s", (int)table->small, "step");
  for (size_t i = 0; i < table->count; i++)
    {
      char *name = level_name (out, table->setout->plan->job, table->shown[i]);
      if (name == NULL)
        return;
      sw_text_repeat (out, ' ', LEVEL_GAP);
      sw_view_cell (out, name, table->column, false);
      free (name);
    }
  sw_view_end_line (out);
}

/* Where the fence steps with timber on both sides, add the far side's line below that of the near side. */
static void
add_far_side (sw_text *out, const posts *table, size_t post, sw_length step)
{
  const sw_job *job = table->setout->plan->job;
  const size_t before = table->number + table->figure + table->small * ((size_t)table->width + (size_t)table->rise);
  sw_text_repeat (out, ' ', before);
  add_figure (out, job, true, step, table->small);
  for (size_t i = 0; i < table->count; i++)
    add_mark (out, job, &job->levels.items[table->shown[i]],
              sw_setout_far_mark (table->setout, table->run, post, table->shown[i]), table->column);
  sw_view_end_line (out);
}

static void
add_posts (sw_text *out, posts *table)
{
  const sw_job *job = table->setout->plan->job;
  const sw_run *run = &job->fence.runs[table->run];
  sw_length distance = 0;
  sw_length height = 0;
  sw_length step = 0;
  add_posts_heading (out, table);
  for (size_t post = 0; post <= run->bay_count; post++)
    {
      const sw_bay *near = post > 0 ? &run->bays[post - 1] : NULL;
      const sw_bay *far = post < run->bay_count ? &run->bays[post] : NULL;
      if (sw_view_room (out, table->begun, SW_VIEW_LINES) == 0)
        {
          table->stopped = post;
          return;
        }
      const sw_length here = near != NULL ? near->step : 0;
      const bool two = here != 0 && !near->opening && far != NULL && !far->opening;
      /* If only the far side has timber, the post has that side's marks. */
      if (near == NULL || near->opening)
        step += here;
      sw_text_printf (out, "%*zu", (int)table->number, post + 1);
      add_figure (out, job, true, distance, table->figure);
      if (table->width)
        add_figure (out, job, true, run->posts[post].width, table->small);
      if (table->rise)
        add_figure (out, job, true, height, table->small);
      if (table->step)
        add_figure (out, job, true, step, table->small);
      for (size_t i = 0; i < table->count; i++)
        add_mark (out, job, &job->levels.items[table->shown[i]],
                  sw_setout_mark (table->setout, table->run, post, table->shown[i]), table->column);
      sw_view_end_line (out);
      if (near != NULL && !near->opening)
        step += here;
      if (two)
        add_far_side (out, table, post, step);
      distance += far != NULL ? far->span : 0;
      height += far != NULL ? far->rise : 0;
    }
}

/* ---- The legend ------------------------------------------------------------ */

/* Find which words the tables of posts use.  *LET_IN: a check has a join in it. */
static void
find_terms (const sw_setout *setout, bool used[TERMS], bool *let_in)
{
  const sw_job *job = setout->plan->job;
  *let_in = false;
  for (size_t r = 0; r < job->fence.run_count; r++)
    for (size_t post = 0; post <= job->fence.runs[r].bay_count; post++)
      for (size_t l = 0; l < job->levels.count; l++)
        {
          const sw_level *level = &job->levels.items[l];
          const sw_mark *marks[2] = { sw_setout_mark (setout, r, post, l), sw_setout_far_mark (setout, r, post, l) };
          for (int side = 0; side < 2 && level->through; side++)
            if (marks[side] != NULL && term_of (level, marks[side]) != TERM_NOTHING)
              {
                used[term_of (level, marks[side])] = true;
                *let_in = *let_in || (marks[side]->join && marks[side]->housing == SW_HOUSING_THROUGH);
              }
        }
}

static void
add_terms (sw_text *out, const sw_setout *setout, size_t width)
{
  static const char *const meanings[TERMS] = { "check the outer face across, as deep as its level's check",
                                               "two pieces meet on the post's centre",
                                               "a housing, as deep as shown",
                                               "nailed or screwed on the outer face, no check",
                                               "laid flat on the post, no check",
                                               "the timber only butts against the post" };
  bool used[TERMS] = { false };
  bool let_in;
  find_terms (setout, used, &let_in);
  for (int t = 0; t < TERMS; t++)
    {
      if (!used[t])
        continue;
      sw_text meaning = { 0 };
      sw_text_printf (out, "    %-9s", term_words[t]);
      sw_text_add (&meaning, meanings[t]);
      if (t == TERM_JOIN && let_in)
        sw_text_add (&meaning, ", checked as where one runs through");
      sw_view_rest (out, &meaning, 13, 13, width);
    }
}

static void
add_legend (sw_text *out, const sw_setout *setout, size_t width)
{
  const sw_job *job = setout->plan->job;
  bool rise = false;
  bool step = false;
  sw_text legend = { 0 };
  for (size_t r = 0; r < job->fence.run_count; r++)
    {
      rise = rise || rises (&job->fence.runs[r]);
      step = step || steps (&job->fence.runs[r]);
    }
  sw_text_printf (&legend,
                  "In %s. Distances are from the centre of post 1, with the tape held level: hook it there and read every"
                  " post off it. Heights are above the datum: mark one stick and set every post out from it.",
                  job->settings->inches ? "inches" : "mm");
  if (rise)
    sw_text_add (&legend, " rise: how much higher than post 1 the post stands, and its datum with it.");
  if (step)
    sw_text_add (&legend, " step: raise the stick by so much. Where a post has two lines the fence steps: the first is"
                          " for the timber that ends there, the second for what goes on.");
  sw_view_paragraph (out, &legend, 2, 2, width);
  add_terms (out, setout, width);
}

/* ---- All of it ------------------------------------------------------------- */

/* Add RUN, with as many of its through levels side by side as fit.  SHOWN has room for all levels.
 * Returns the first post that is not printed because the part that begins at byte BEGUN has all its
 * lines, or SW_NONE. */
static size_t
add_run (sw_text *out, const sw_setout *setout, size_t run, size_t *shown, size_t begun, size_t width)
{
  const sw_job *job = setout->plan->job;
  posts table = { .setout = setout, .run = run, .begun = begun, .stopped = SW_NONE };
  size_t count = 0;
  size_t column = LEVEL_LEAST;
  sw_text heading = { 0 };
  for (size_t l = 0; l < job->levels.count; l++)
    if (job->levels.items[l].through && sw_level_is_on (&job->levels.items[l], run))
      {
        const size_t name = sw_text_width (job->levels.items[l].name);
        shown[count++] = l;
        column = name > column ? name : column;
      }
  column = column < LEVEL_MOST ? column : LEVEL_MOST;
  sw_text_add (&heading, "Run ");
  sw_view_name (&heading, job->fence.runs[run].name);
  sw_text_add (out, "\n");
  sw_view_paragraph (out, &heading, 0, 2, width);
  const size_t before = measure_posts (&table, width);
  /* A long name of a level is shortened, so that its marks do not stand too far to the right. */
  const size_t room = width > before + LEVEL_LEAST ? width - before : LEVEL_LEAST;
  table.column = room < column ? room : column;
  const size_t fit = width > before + table.column ? (width - before + LEVEL_GAP) / (table.column + LEVEL_GAP) : 1;
  size_t first = 0;
  do
    {
      table.shown = shown + first;
      table.count = count - first < fit ? count - first : fit;
      add_posts (out, &table);
      first += table.count;
    }
  while (first < count && table.stopped == SW_NONE);
  return table.stopped;
}

sw_status
sw_setout_text (const sw_plan *plan, size_t width, sw_text *out)
{
  const sw_job *job = plan->job;
  size_t *shown = sw_alloc (job->levels.count, sizeof *shown);
  const size_t begun = out->length;
  sw_setout setout = { 0 };
  sw_status status = shown == NULL ? SW_NO_MEMORY : sw_setout_make (&setout, plan);
  if (status == SW_OK)
    {
      sw_text_add (out, "SETTING OUT\n");
      add_legend (out, &setout, width);
      add_levels (out, job, width);
      for (size_t r = 0, post = SW_NONE; r < job->fence.run_count && post == SW_NONE; r++)
        {
          post = add_run (out, &setout, r, shown, begun, width);
          if (post != SW_NONE)
            sw_view_runs_left_out (out, job, r, post, "setout", width);
        }
      sw_setout_clear (&setout);
    }
  free (shown);
  return status;
}
