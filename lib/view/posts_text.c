/* posts_text.c - where posts go, and what that saves, in words
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "view/pegs.h"

#include "base/decimal.h"
#include "view/figures.h"

#include <inttypes.h>
#include <stdio.h>

#define WIDTH_DEFAULT 80
#define WIDTH_LEAST 40
#define WIDTH_MOST 160
/* Characters for the number of a post, and for its distance. */
#define POST_WIDTH 6
#define DISTANCE_WIDTH 9

static void
show_cost (const sw_posts *posts, int64_t cost, char out[SW_LENGTH_TEXT])
{
  if (sw_job_by_length (posts->job))
    sw_view_bought (posts->job, cost, out);
  else
    sw_money_format (cost, out);
}

/* ---- What was chosen ---- */

void
sw_bays_shown (sw_text *out, const sw_job *job, const sw_run *run, size_t first, size_t last)
{
  const sw_length step = job->settings->inches ? SW_INCH / 16 : SW_MM;
  for (size_t b = first; b < last;)
    {
      sw_length low = run->bays[b].span, high = low;
      size_t end = b;
      /* Equal bays may differ by one step, because posts stand on whole steps. */
      for (; end < last; end++)
        {
          const sw_length span = run->bays[end].span;
          const sw_length lower = span < low ? span : low, upper = span > high ? span : high;
          if (upper - lower > step)
            break;
          low = lower;
          high = upper;
        }
      char from[SW_LENGTH_TEXT], to[SW_LENGTH_TEXT];
      sw_view_length (job, low, from);
      sw_view_length (job, high, to);
      if (b > first)
        sw_text_add (out, ", ");
      if (end > b + 1)
        sw_text_printf (out, "%zu" SW_VIEW_HARD "of" SW_VIEW_HARD, end - b);
      sw_text_add (out, from);
      if (low != high)
        sw_text_printf (out, SW_VIEW_HARD "to" SW_VIEW_HARD "%s", to);
      b = end;
    }
}

/* Write "front, posts 1 to 11"; *FIRST, *LAST: bays of the finished run. */
static void
add_stretch (sw_text *out, const sw_posts *posts, size_t d, size_t *first, size_t *last)
{
  const sw_division *division = &posts->divisions[d];
  *first = division->bay;
  for (size_t i = d; i-- > 0 && posts->divisions[i].run == division->run;)
    *first += posts->chosen.best.ways[i].bays - 1;
  *last = *first + posts->chosen.best.ways[d].bays;
  sw_view_name (out, posts->job->fence.runs[division->run].name);
  sw_text_printf (out, ", posts %zu to %zu", *first + 1, *last + 1);
}

static void
add_bays (sw_text *out, const sw_posts *posts, size_t width)
{
  static const char *const kinds[] = { [SW_DIVIDE_EQUAL] = "equal",
                                       [SW_DIVIDE_ENDS] = "equal but for shorter ones at the ends",
                                       [SW_DIVIDE_ODD] = "equal but for the last" };
  const sw_job *job = posts->chosen.best.job;
  sw_text line = { 0 };
  sw_text_printf (out, "BAYS\n");
  sw_text_printf (&line, "In %s, from centre to centre.", job->settings->inches ? "inches" : "mm");
  sw_view_paragraph (out, &line, 2, 2, width);
  for (size_t d = 0; d < posts->count; d++)
    {
      const sw_way *way = &posts->chosen.best.ways[d];
      char span[SW_LENGTH_TEXT];
      size_t first, last;
      add_stretch (&line, posts, d, &first, &last);
      sw_view_length (job, posts->divisions[d].span, span);
      sw_text_printf (&line, ": %s in %u %s", span, way->bays, way->bays == 1 ? "bay" : "bays");
      if (way->bays > 1)
        {
          sw_text_printf (&line, ", %s: ", kinds[way->kind]);
          sw_bays_shown (&line, job, &job->fence.runs[posts->divisions[d].run], first, last);
        }
      sw_text_add (&line, ".");
      sw_view_paragraph (out, &line, 2, 4, width);
    }
}

/* ---- Pegs ---- */

static void
add_pegs (sw_text *out, const sw_posts *posts, size_t width)
{
  const sw_job *job = posts->chosen.best.job;
  const size_t begun = out->length, across = (width - 2) / (POST_WIDTH + DISTANCE_WIDTH);
  sw_text line = { 0 };
  sw_text_add (out, "\nPEGS\n");
  sw_text_printf (&line,
                  "Every post's centre from that of its run's post 1, in %s, with the tape held level: hook it "
                  "there and peg every post off it.",
                  job->settings->inches ? "inches" : "whole mm");
  sw_view_paragraph (out, &line, 2, 2, width);
  for (size_t r = 0; r < job->fence.run_count; r++)
    {
      const sw_run *run = &job->fence.runs[r];
      if (sw_view_room (out, begun, SW_VIEW_LINES) == 0)
        {
          sw_view_runs_left_out (out, job, r, 0, "pegs", width);
          return;
        }
      sw_text_add (&line, "Run ");
      sw_view_name (&line, run->name);
      sw_text_add (out, "\n");
      sw_view_paragraph (out, &line, 2, 4, width);
      for (size_t post = 0; post <= run->bay_count; post++)
        {
          char number[32], distance[SW_LENGTH_TEXT];
          snprintf (number, sizeof number, "%zu", post + 1);
          sw_view_length (job, sw_peg_distance (job, run, post), distance);
          if (post % across == 0)
            sw_text_add (out, post > 0 ? "\n  " : "  ");
          sw_view_cell (out, number, POST_WIDTH, true);
          sw_view_cell (out, distance, DISTANCE_WIDTH, true);
        }
      sw_text_add (out, "\n");
    }
}

/* ---- What it saves ---- */

static void
add_difference (sw_text *line, int64_t difference, const char *one, const char *many)
{
  const int64_t count = difference < 0 ? -difference : difference;
  sw_text_printf (line, "%" PRId64 " %s %s", count, count == 1 ? one : many, difference < 0 ? "more" : "fewer");
}

static void
add_saving (sw_text *out, const sw_posts *posts, size_t width)
{
  const sw_divided *best = &posts->chosen.best, *habit = sw_posts_habit (posts);
  const sw_job *job = posts->job;
  sw_text line = { 0 };
  char longest[SW_LENGTH_TEXT], bought[SW_LENGTH_TEXT], less[SW_LENGTH_TEXT], cost[SW_LENGTH_TEXT];
  sw_text_add (out, "\nSAVING\n");
  sw_view_length (job, job->settings->max_bay, longest);
  if (posts->habit_is_best)
    {
      sw_text_printf (&line, "None: equal bays of at most %s are as good as any.", longest);
      sw_view_paragraph (out, &line, 2, 2, width);
      return;
    }
  sw_text_printf (&line, "Against equal bays of at most %s", longest);
  if (habit->plan == NULL)
    {
      sw_text_add (&line, ": those have no plan, or none was found in the time.");
      sw_view_paragraph (out, &line, 2, 2, width);
      return;
    }
  const sw_length timber = habit->plan->summary.bought - best->plan->summary.bought;
  const int64_t saved = habit->cost - best->cost;
  sw_view_bought (job, habit->plan->summary.bought, bought);
  sw_view_bought (job, timber < 0 ? -timber : timber, less);
  sw_text_printf (&line, ", which take %s of timber", bought);
  show_cost (posts, habit->cost, cost);
  if (!sw_job_by_length (job))
    sw_text_printf (&line, " and cost %s%s", cost, job->settings->post_cost > 0 ? " with their posts" : "");
  sw_text_printf (&line, ": %s %s", less, timber < 0 ? "more" : "less");
  show_cost (posts, saved < 0 ? -saved : saved, cost);
  if (!sw_job_by_length (job))
    sw_text_printf (&line, ", %s %s", cost, saved < 0 ? "more" : "less");
  sw_text_add (&line, ", ");
  if (habit->posts == best->posts)
    sw_text_add (&line, "as many posts");
  else
    add_difference (&line, habit->posts - best->posts, "post", "posts");
  if (habit->plan->summary.aligned != best->plan->summary.aligned)
    {
      sw_text_add (&line, ", ");
      add_difference (&line, habit->plan->summary.aligned - best->plan->summary.aligned, "pair of joins that lines up",
                      "pairs of joins that line up");
    }
  sw_text_add (&line, ".");
  if (habit->plan->summary.outcome != SW_PROVED)
    sw_text_add (&line, " That the plan of equal bays is the cheapest is not proved.");
  sw_view_paragraph (out, &line, 2, 2, width);
}

/* ---- One post more or less ---- */

static void
add_other (sw_text *line, const sw_posts *posts, const sw_posts_other *other, const char *what)
{
  const sw_divided *best = &posts->chosen.best;
  const int64_t less = sw_timber_cost (best->plan) - other->timber;
  const int64_t pairs = best->plan->summary.aligned - other->aligned;
  char cost[SW_LENGTH_TEXT];
  sw_text_printf (line, "one post %s ", what);
  if (!other->known)
    sw_text_add (line, "was not looked at in the time");
  else if (!other->possible)
    sw_text_add (line, "is not possible");
  else
    {
      show_cost (posts, less < 0 ? -less : less, cost);
      if (less == 0)
        sw_text_add (line, "takes the same timber");
      else
        sw_text_printf (line, "%s %s%s of timber", less > 0 ? "saves" : "takes", cost, less > 0 ? "" : " more");
      if (!other->proved)
        sw_text_add (line, " (not proved)");
      if (pairs != 0)
        {
          sw_text_add (line, ", and has ");
          add_difference (line, pairs, "pair of joins lined up", "pairs of joins lined up");
        }
    }
}

static void
add_others (sw_text *out, const sw_posts *posts, size_t width)
{
  const sw_job *job = posts->job;
  sw_text line = { 0 };
  char cost[SW_MONEY_TEXT];
  sw_text_add (out, "\nONE POST MORE OR LESS\n");
  if (job->settings->post_cost > 0)
    {
      sw_money_format (job->settings->post_cost, cost);
      sw_text_printf (&line, "A post costs %s. ", cost);
    }
  sw_text_add (&line, "In one stretch, all others as they are:");
  sw_view_paragraph (out, &line, 2, 2, width);
  for (size_t d = 0; d < posts->count; d++)
    {
      size_t first, last;
      add_stretch (&line, posts, d, &first, &last);
      sw_text_add (&line, ": ");
      add_other (&line, posts, &posts->fewer[d], "less");
      sw_text_add (&line, "; ");
      add_other (&line, posts, &posts->more[d], "more");
      sw_text_add (&line, ".");
      sw_view_paragraph (out, &line, 2, 4, width);
    }
}

/* ---- Proof ---- */

static void
add_proof (sw_text *out, const sw_posts *posts, size_t width)
{
  const sw_chosen *c = &posts->chosen;
  const sw_job *job = posts->job;
  sw_text line = { 0 };
  char cost[SW_LENGTH_TEXT], bound[SW_LENGTH_TEXT], gap[SW_LENGTH_TEXT], percent[SW_VIEW_PERCENT];
  const bool few_posts = job->settings->post_cost == 0;
  const bool pairs = job->settings->stagger != SW_STAGGER_OFF && sw_view_neighbours (job);
  show_cost (posts, c->best.cost, cost);
  show_cost (posts, c->bound, bound);
  show_cost (posts, c->best.cost - c->bound, gap);
  sw_text_add (out, "\nPROOF OF THE SPACING\n");
  if (c->outcome == SW_PROVED)
    sw_text_printf (&line, "No spacing among the %zu %s looked at gives a cheaper fence", c->looked_at,
                    c->looked_at == 1 ? "way" : "ways");
  else if (c->bound > 0)
    {
      sw_view_percent (c->best.cost - c->bound, c->bound, 2, percent);
      sw_text_printf (&line,
                      "This fence costs %s, and no spacing among the %zu ways looked at can cost less than %s: at "
                      "most %s too much (%s %%)",
                      cost, c->looked_at, bound, gap, percent);
    }
  else
    sw_text_printf (&line, "This fence costs %s; how much cheaper another spacing could be is not known yet", cost);
  if ((few_posts || pairs) && (c->outcome == SW_PROVED || c->bound > 0))
    sw_text_printf (&line, "%s%s%s", few_posts ? " with as few posts" : "",
                    few_posts && pairs ? " and"
                    : pairs            ? " with"
                                       : "",
                    pairs ? " as few joins lined up" : "");
  sw_text_add (&line, c->outcome == SW_PROVED        ? "."
                      : c->outcome == SW_TIMED_OUT   ? ". The time limit came first."
                      : c->outcome == SW_INTERRUPTED ? ". The search was stopped before it was done."
                                                     : ". The search gave up there.");
  sw_view_paragraph (out, &line, 2, 2, width);
}

sw_status
sw_posts_text (const sw_posts *posts, unsigned columns, char **out)
{
  const size_t width = columns == 0            ? WIDTH_DEFAULT
                       : columns < WIDTH_LEAST ? WIDTH_LEAST
                       : columns > WIDTH_MOST  ? WIDTH_MOST
                                               : columns;
  sw_text text = { 0 };
  add_bays (&text, posts, width);
  add_pegs (&text, posts, width);
  add_saving (&text, posts, width);
  add_others (&text, posts, width);
  add_proof (&text, posts, width);
  *out = sw_text_take (&text);
  return *out != NULL ? SW_OK : SW_NO_MEMORY;
}
