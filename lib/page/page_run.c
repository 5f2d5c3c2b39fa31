/* page_run.c - the runs of the page: each drawn with its posts and pieces, its pieces in lists
 *
 * Each run has one scale along the fence, in per cent of the drawing, which is
 * as wide as its bays need or wider. Upwards it has no scale: levels are
 * evenly spaced, so that each piece is thick enough to be read, and the ground
 * rises and falls.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "page/page.h"

#include "base/memory.h"
#include "view/figures.h"
#include "view/fit.h"

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>

/* Pixels. */
#define BAY_USUAL 60 /* a bay of the usual width, BAY_LENGTH */
#define BAY_LENGTH (2400 * SW_MM)
#define BAY_LEAST 44 /* the shortest bay of the run, so that the posts' distances do not run into each other */
#define LEAST 328    /* width on the narrowest screens */
#define MARGIN 24    /* beside the first and the last post */
#define LEVEL 38     /* from one level to the next */
#define FOOT 40      /* room for post numbers and distances */
#define HIGH 10      /* posts above the top level */
#define CHARACTER 9
/* The ground rises and falls by at most so much. */
#define GROUND 90
/* No drawing is wider; a run that needs more is drawn closer. */
#define WIDEST 24000

typedef struct drawing
{
  sw_text *out;
  const sw_plan *plan;
  size_t r;
  const sw_run *run;
  size_t first; /* pieces that have a place on the run */
  size_t end;
  size_t *row; /* for each level: its place on this run, from the top; SW_NONE: it is not on it */
  size_t rows;
  sw_length *along; /* for each post: its distance from the first */
  sw_length *near;  /* for each post: the ground over that of the first post, before the step at this one, */
  sw_length *far;   /* and after it */
  sw_length lowest;
  sw_length highest;
  int64_t width;  /* pixels, at least */
  int64_t ground; /* pixels from the lowest ground to the highest */
} drawing;

static void
clear (drawing *d)
{
  free (d->row);
  free (d->along);
  free (d->near);
  free (d->far);
}

/* Measure the posts' distances and heights, and the size of the drawing. */
static void
measure (drawing *d)
{
  sw_length shortest = SW_LENGTH_MAX;
  for (size_t post = 0; post <= d->run->bay_count; post++)
    {
      const sw_bay *bay = post > 0 ? &d->run->bays[post - 1] : NULL;
      if (bay != NULL)
        {
          d->along[post] = d->along[post - 1] + bay->span;
          d->near[post] = d->far[post - 1] + bay->rise;
          d->far[post] = d->near[post] + bay->step;
          shortest = bay->span < shortest ? bay->span : shortest;
        }
      const sw_length low = d->near[post] < d->far[post] ? d->near[post] : d->far[post];
      const sw_length high = d->near[post] < d->far[post] ? d->far[post] : d->near[post];
      d->lowest = low < d->lowest ? low : d->lowest;
      d->highest = high > d->highest ? high : d->highest;
    }
  const sw_length whole = d->along[d->run->bay_count];
  const int64_t usual = whole / SW_MM * BAY_USUAL / (BAY_LENGTH / SW_MM);
  const int64_t wanted = whole / SW_MM * BAY_LEAST / (shortest / SW_MM > 0 ? shortest / SW_MM : 1);
  d->width = (usual > wanted ? usual : wanted) + 2 * MARGIN;
  d->width = d->width > WIDEST ? WIDEST : d->width < LEAST ? LEAST : d->width;
  const int64_t ground = (d->highest - d->lowest) / SW_MM * BAY_USUAL / (BAY_LENGTH / SW_MM);
  d->ground = ground > GROUND ? GROUND : ground;
}

static sw_status
prepare (drawing *d)
{
  const sw_levels *levels = &d->plan->job->levels;
  const size_t posts = d->run->bay_count + 1;
  d->row = sw_alloc (levels->count, sizeof *d->row);
  d->along = sw_alloc (posts, sizeof *d->along);
  d->near = sw_alloc (posts, sizeof *d->near);
  d->far = sw_alloc (posts, sizeof *d->far);
  if (d->row == NULL || d->along == NULL || d->near == NULL || d->far == NULL)
    return SW_NO_MEMORY;
  for (size_t l = levels->count; l-- > 0;)
    d->row[l] = sw_level_is_on (&levels->items[l], d->r) ? d->rows++ : SW_NONE;
  measure (d);
  return SW_OK;
}

/* ---- The drawing ---- */

/* Add an attribute that is a place along the run. */
static void
add_x (const drawing *d, const char *name, sw_length at)
{
  const sw_length whole = d->along[d->run->bay_count];
  /* The margins have their width in pixels when the drawing is as narrow as can be, and grow with it. */
  const sw_length margin = whole / (d->width - 2 * MARGIN > 0 ? d->width - 2 * MARGIN : 1) * MARGIN;
  sw_text_printf (d->out, " %s=\"", name);
  sw_page_percent (d->out, margin + at, whole + 2 * margin);
  sw_text_add (d->out, "\"");
}

/* How many pixels ground of HEIGHT lies below the highest. */
static int64_t
drop (const drawing *d, sw_length height)
{
  const int64_t range = (d->highest - d->lowest) / SW_MM;
  return range > 0 ? (d->highest - height) / SW_MM * d->ground / range : 0;
}

/* Where the middle of line ROW of the drawing is on ground of HEIGHT. */
static int64_t
middle (const drawing *d, size_t row, sw_length height)
{
  return HIGH + LEVEL / 2 + (int64_t)row * LEVEL + drop (d, height);
}

static void
add_post (const drawing *d, size_t post)
{
  const sw_length high = d->near[post] > d->far[post] ? d->near[post] : d->far[post];
  const sw_length low = d->near[post] > d->far[post] ? d->far[post] : d->near[post];
  const int64_t foot = HIGH + (int64_t)d->rows * LEVEL + drop (d, low);
  char text[SW_LENGTH_TEXT];
  sw_text_add (d->out, "<line class=\"post\"");
  add_x (d, "x1", d->along[post]);
  add_x (d, "x2", d->along[post]);
  sw_text_printf (d->out, " y1=\"%" PRId64 "\" y2=\"%" PRId64 "\"/><text", drop (d, high), foot);
  add_x (d, "x", d->along[post]);
  sw_text_printf (d->out, " y=\"%" PRId64 "\">%zu</text><text class=\"small\"", foot + 17, post + 1);
  add_x (d, "x", d->along[post]);
  sw_view_length (d->plan->job, d->along[post], text);
  sw_text_printf (d->out, " y=\"%" PRId64 "\">%s</text>\n", foot + 32, text);
}

static void
add_gate (const drawing *d, size_t bay)
{
  const int64_t from = HIGH + drop (d, d->far[bay]);
  const int64_t to = HIGH + drop (d, d->near[bay + 1]);
  const int64_t tall = (int64_t)d->rows * LEVEL;
  for (int way = 0; way < 2; way++)
    {
      sw_text_add (d->out, "<line class=\"gate\"");
      add_x (d, "x1", d->along[bay]);
      add_x (d, "x2", d->along[bay + 1]);
      sw_text_printf (d->out, " y1=\"%" PRId64 "\" y2=\"%" PRId64 "\"/>", way == 0 ? from : from + tall,
                      way == 0 ? to + tall : to);
    }
  sw_text_add (d->out, "\n");
}

/* Add a line across the drawing from FROM to TO in line ROW, which ends so many thousandths of a bay SHORT of the
 * posts' centres. */
static void
add_bar (const drawing *d, const sw_piece *piece, size_t row, sw_length inset)
{
  sw_text_add (d->out, "<line");
  add_x (d, "x1", d->along[piece->from] + inset);
  add_x (d, "x2", d->along[piece->to] - inset);
  sw_text_printf (d->out, " y1=\"%" PRId64 "\" y2=\"%" PRId64 "\"/>", middle (d, row, d->far[piece->from]),
                  middle (d, row, d->near[piece->to]));
}

static void
add_piece (const drawing *d, size_t p)
{
  const sw_piece *piece = &d->plan->pieces[p];
  const size_t row = d->row[piece->level];
  const sw_length length = d->along[piece->to] - d->along[piece->from];
  const sw_length pixel = d->along[d->run->bay_count] / d->width;
  char text[SW_LENGTH_TEXT];
  char board[SW_LENGTH_TEXT];
  char words[2 * SW_LENGTH_TEXT + 4];
  sw_view_length (d->plan->job, piece->cut, text);
  sw_view_board (piece, board);
  snprintf (words, sizeof words, "%s: %s", board, text);
  if ((int64_t)sw_text_width (words) * CHARACTER * pixel > length)
    snprintf (words, sizeof words, "%s", board);
  sw_text_printf (d->out, "<g class=\"e%s\" id=\"e%zu\">", piece->placed ? " fixed" : "", p);
  /* Draw the outline, and the timber over it.  It ends a little short of the posts' centres, so that a join is seen. */
  add_bar (d, piece, row, piece->kind == SW_PIECE_BETWEEN ? 4 * pixel : pixel / 2);
  add_bar (d, piece, row, piece->kind == SW_PIECE_BETWEEN ? 5 * pixel : 2 * pixel);
  sw_text_add (d->out, "<text");
  add_x (d, "x", d->along[piece->from] + length / 2);
  sw_text_printf (d->out, " y=\"%" PRId64 "\">%s</text></g>\n",
                  (middle (d, row, d->far[piece->from]) + middle (d, row, d->near[piece->to])) / 2 + 5, words);
}

static void
add_drawing (const drawing *d)
{
  const int64_t tall = HIGH + (int64_t)d->rows * LEVEL + d->ground + FOOT;
  sw_text_add (d->out, "<div class=\"long\" tabindex=\"0\" role=\"region\" aria-label=\"Drawing of run ");
  sw_page_text (d->out, d->run->name);
  sw_text_printf (d->out, "\"><svg aria-hidden=\"true\" width=\"%" PRId64 "\" height=\"%" PRId64 "\">\n", d->width,
                  tall);
  for (size_t bay = 0; bay < d->run->bay_count; bay++)
    if (d->run->bays[bay].opening)
      add_gate (d, bay);
  for (size_t post = 0; post <= d->run->bay_count; post++)
    add_post (d, post);
  for (size_t p = d->first; p < d->end; p++)
    add_piece (d, p);
  sw_text_add (d->out, "</svg></div>\n");
}

/* ---- The lists ---- */

/* A piece that was in its place before this plan was made is neither ticked off nor written to site.csv. */
static void
begin_row (sw_text *out, const sw_plan *plan, size_t p)
{
  sw_text_printf (out, "<li class=\"row%s\" id=\"f%zu\"><label>", plan->pieces[p].placed ? " fixed" : "", p);
  if (!plan->pieces[p].placed)
    sw_text_add (out, "<input type=\"checkbox\" disabled>");
  sw_text_add (out, "<span class=\"t\"><b>");
}

static void
end_row (sw_text *out, const sw_plan *plan, size_t p)
{
  if (plan->pieces[p].placed)
    {
      sw_text_add (out, "<span class=\"s\">in its place</span></span></label></li>\n");
      return;
    }
  sw_text_printf (out, "board %zu <span class=\"s\"></span></span></label>", plan->pieces[p].board + 1);
  sw_page_mishap (out, plan, p);
  sw_text_add (out, "</li>\n");
}

static void
add_place (const drawing *d, size_t p)
{
  const sw_piece *piece = &d->plan->pieces[p];
  char text[SW_LENGTH_TEXT];
  sw_view_length (d->plan->job, piece->cut, text);
  begin_row (d->out, d->plan, p);
  sw_text_printf (d->out, "%zu\xe2\x80\x93%zu</b> %s, %s to %s, ", piece->from + 1, piece->to + 1, text,
                  sw_fit_start (piece), sw_fit_finish (piece));
  end_row (d->out, d->plan, p);
}

/* Add a piece that belongs to no posts: its place is shown under its label. */
static void
add_other (sw_text *out, const sw_plan *plan, size_t p)
{
  char text[SW_LENGTH_TEXT];
  sw_view_length (plan->job, plan->pieces[p].cut, text);
  begin_row (out, plan, p);
  sw_page_label (out, plan->pieces[p].label);
  sw_text_printf (out, "</b> %s, ", text);
  end_row (out, plan, p);
}

static void
add_level (const drawing *d, size_t level, size_t first, size_t end)
{
  const sw_job *job = d->plan->job;
  const sw_level *of = &job->levels.items[level];
  char text[SW_LENGTH_TEXT];
  sw_text seat = { 0 };
  sw_text_add (d->out, "<h4>");
  sw_page_name (d->out, of->name);
  sw_text_add (d->out, " <small>");
  sw_page_name (d->out, job->sections.items[of->section].name);
  sw_text_add (d->out, of->through ? "" : ", between the posts");
  sw_fit_seat (&seat, job, of);
  char *words = sw_view_take (d->out, &seat);
  if (words != NULL)
    sw_page_text (d->out, words);
  free (words);
  if (of->has_height)
    {
      sw_view_length (job, of->height, text);
      sw_text_printf (d->out, ", underside %s over the datum", text);
    }
  sw_text_add (d->out, "</small></h4>\n<ul class=\"places\">\n");
  for (size_t p = first; p < end; p++)
    add_place (d, p);
  sw_text_add (d->out, "</ul>\n");
}

/* The top level comes first, as one sees it before the fence; pieces of a level stand together. */
static void
add_levels (const drawing *d)
{
  for (size_t end = d->end; end > d->first;)
    {
      const size_t level = d->plan->pieces[end - 1].level;
      size_t first = end;
      while (first > d->first && d->plan->pieces[first - 1].level == level)
        first--;
      add_level (d, level, first, end);
      end = first;
    }
}

/* Add the pieces from *NEXT on that are blocks of run R, or with SW_NONE all that are left. */
static void
add_others (sw_text *out, const sw_plan *plan, size_t r, size_t *next, const char *heading)
{
  const size_t first = *next;
  while (*next < plan->piece_count && (r == SW_NONE || plan->pieces[*next].run == r))
    ++*next;
  if (*next == first)
    return;
  sw_text_printf (out, "%s\n<ul class=\"places\">\n", heading);
  for (size_t p = first; p < *next; p++)
    add_other (out, plan, p);
  sw_text_add (out, "</ul>\n");
}

sw_status
sw_page_runs (sw_text *out, const sw_plan *plan)
{
  const sw_fence *fence = &plan->job->fence;
  size_t first = 0;
  size_t block = 0;
  while (block < plan->piece_count && plan->pieces[block].kind != SW_PIECE_BLOCK
         && plan->pieces[block].kind != SW_PIECE_EXTRA)
    block++;
  for (size_t r = 0; r < fence->run_count; r++)
    {
      drawing d = { .out = out, .plan = plan, .r = r, .run = &fence->runs[r], .first = first };
      sw_fit_pieces (plan, r, first, &d.end);
      first = d.end;
      sw_text_add (out, "<article>\n<h3>Run ");
      sw_page_name (out, d.run->name);
      sw_text_add (out, "</h3>\n");
      sw_status status = prepare (&d);
      if (status == SW_OK)
        {
          add_drawing (&d);
          add_levels (&d);
        }
      clear (&d);
      if (status != SW_OK)
        return status;
      add_others (out, plan, r, &block, "<h4>Fixing blocks</h4>");
      sw_text_add (out, "</article>\n");
    }
  add_others (out, plan, SW_NONE, &block, "<h3>Other pieces</h3>");
  return out->failed ? SW_NO_MEMORY : SW_OK;
}
