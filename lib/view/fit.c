/* fit.c - where each piece goes
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "view/fit.h"

#include "base/memory.h"
#include "job/seat.h"
#include "csv/table.h"
#include "view/figures.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static bool
has_place (const sw_piece *piece)
{
  return piece->kind == SW_PIECE_THROUGH || piece->kind == SW_PIECE_BETWEEN;
}

static const char *
end_name (const sw_piece *piece, sw_end_kind kind)
{
  return piece->kind == SW_PIECE_BETWEEN ? "post" : sw_end_name (kind);
}

const char *
sw_fit_start (const sw_piece *piece)
{
  return end_name (piece, piece->start_end);
}

const char *
sw_fit_finish (const sw_piece *piece)
{
  return end_name (piece, piece->finish_end);
}

void
sw_fit_pieces (const sw_plan *plan, size_t run, size_t first, size_t *end)
{
  for (*end = first; *end < plan->piece_count; ++*end)
    if (!has_place (&plan->pieces[*end]) || plan->pieces[*end].run != run)
      break;
}

static sw_status
add_row (sw_table *table, const sw_plan *plan, const sw_piece *piece)
{
  const sw_job *job = plan->job;
  char saw[SW_VIEW_THOUSANDTHS];
  sw_status status = sw_table_add_row (table);
  sw_view_set_text (&status, table, SW_FIT_RUN, job->fence.runs[piece->run].name);
  sw_view_set_text (&status, table, SW_FIT_LEVEL, job->levels.items[piece->level].name);
  sw_view_set_text (&status, table, SW_FIT_SECTION, job->sections.items[piece->section].name);
  sw_view_set_count (&status, table, SW_FIT_FROM, (int64_t)piece->from + 1);
  sw_view_set_count (&status, table, SW_FIT_TO, (int64_t)piece->to + 1);
  sw_view_set_count (&status, table, SW_FIT_BAYS, (int64_t)(piece->to - piece->from));
  sw_view_set_text (&status, table, SW_FIT_PIECE, piece->label);
  if (!piece->placed)
    sw_view_set_count (&status, table, SW_FIT_BOARD, (int64_t)piece->board + 1);
  sw_view_set_length (&status, table, SW_FIT_CUT, job, piece->cut);
  sw_view_saw_cell (piece->start_saw, saw);
  sw_view_set (&status, table, SW_FIT_START_CUT, saw);
  sw_view_saw_cell (piece->finish_saw, saw);
  sw_view_set (&status, table, SW_FIT_FINISH_CUT, saw);
  sw_view_set (&status, table, SW_FIT_START_JOIN, sw_fit_start (piece));
  sw_view_set (&status, table, SW_FIT_FINISH_JOIN, sw_fit_finish (piece));
  sw_view_set_sawn (&status, table, SW_FIT_PLUMB, job, piece);
  return status;
}

sw_status
sw_fit_table (const sw_plan *plan, sw_table **out)
{
  sw_table *table = NULL;
  sw_status status = sw_view_table (&table, plan->job, sw_fit_columns, SW_FIT_COLUMNS);
  for (size_t p = 0; p < plan->piece_count && status == SW_OK; p++)
    if (has_place (&plan->pieces[p]))
      status = add_row (table, plan, &plan->pieces[p]);
  if (status == SW_OK)
    *out = table;
  else
    sw_table_free (table);
  return status;
}

/* ---- Text ------------------------------------------------------------------ */

/* Add how the timber of LEVEL sits on its posts, unless in the usual way. */
void
sw_fit_seat (sw_text *out, const sw_job *job, const sw_level *level)
{
  char depth[SW_LENGTH_TEXT];
  if (!level->through)
    return;
  if (level->seat == SW_SEAT_FACE)
    sw_text_add (out, ", on the face of the posts");
  else if (level->seat == SW_SEAT_TOP)
    sw_text_add (out, ", laid flat on top of the posts");
  else if (level->let_in > 0)
    {
      sw_view_length (job, level->let_in, depth);
      sw_text_printf (out, ", let in %s", depth);
    }
}

/* Add "rises 600 in all" or "rises and falls, 50 up in all". */
static void
add_rise (sw_text *out, const sw_job *job, const sw_run *run)
{
  bool up = false;
  bool down = false;
  char text[SW_LENGTH_TEXT];
  for (size_t b = 0; b < run->bay_count; b++)
    {
      up = up || run->bays[b].rise > 0;
      down = down || run->bays[b].rise < 0;
    }
  if (!up && !down)
    return;
  const sw_length rise = sw_run_height (run, run->bay_count);
  sw_view_length (job, rise < 0 ? -rise : rise, text);
  if (!up || !down)
    sw_text_printf (out, ", %s %s in all", up ? "rises" : "falls", text);
  else if (rise == 0)
    sw_text_add (out, ", rises and falls, ends as high as it begins");
  else
    sw_text_printf (out, ", rises and falls, ends %s %s", text, rise > 0 ? "higher" : "lower");
}

void
sw_fit_run_heading (sw_text *out, const sw_job *job, size_t run, size_t width)
{
  const sw_run *line = &job->fence.runs[run];
  char length[SW_LENGTH_TEXT];
  sw_text heading = { 0 };
  sw_text_add (&heading, "Run ");
  sw_view_name (&heading, line->name);
  sw_view_length (job, sw_run_distance (line, line->bay_count), length);
  sw_text_printf (&heading, ": posts 1 to %zu, %s from centre to centre", line->bay_count + 1, length);
  add_rise (&heading, job, line);
  for (size_t b = 0; b < line->bay_count; b++)
    if (line->bays[b].opening)
      sw_text_printf (&heading, ", opening %zu-%zu", b + 1, b + 2);
  sw_text_add (out, "\n");
  sw_view_paragraph (out, &heading, 0, 2, width);
}

/* Add "The fence steps up 300 at post 4, down 150 at post 7." */
static void
add_steps (sw_text *out, const sw_job *job, const sw_run *run, size_t width)
{
  sw_text line = { 0 };
  char text[SW_LENGTH_TEXT];
  for (size_t b = 0; b < run->bay_count; b++)
    {
      const sw_length step = run->bays[b].step;
      if (step == 0)
        continue;
      sw_view_length (job, step < 0 ? -step : step, text);
      sw_text_printf (&line, "%s %s %s at post %zu", line.length == 0 ? "The fence steps" : ",",
                      step > 0 ? "up" : "down", text, b + 2);
    }
  if (line.length == 0 && !line.failed)
    return;
  sw_text_add (&line, ".");
  sw_view_paragraph (out, &line, 2, 4, width);
}

/* ---- Ends ------------------------------------------------------------------ */

/* Add how timber of LEVEL ends, such as "housed 33".  The angle of a mitre is in the cut list. */
static void
add_end (sw_text *out, const sw_job *job, const sw_level *level, const sw_end *end)
{
  const sw_end_kind kind = sw_seat_end (level, end->kind);
  char text[SW_LENGTH_TEXT];
  sw_text_add (out, sw_end_name (kind));
  if (kind != SW_END_HOUSED && kind != SW_END_REACH)
    return;
  sw_view_length (job, end->length, text);
  sw_text_printf (out, " %s", text);
}

/* Add how timber on RUN ends at END.  Levels on which it ends otherwise follow in brackets. */
static void
add_ends_of_levels (sw_text *out, const sw_job *job, size_t run, const sw_end *end)
{
  const sw_level *usual = NULL;
  bool more = false;
  for (size_t l = 0; l < job->levels.count; l++)
    {
      const sw_level *level = &job->levels.items[l];
      if (!level->through || !sw_level_is_on (level, run))
        continue;
      if (usual == NULL)
        {
          usual = level;
          add_end (out, job, level, end);
        }
      else if (sw_seat_end (level, end->kind) != sw_seat_end (usual, end->kind))
        {
          sw_text_add (out, more ? ", " : " (");
          sw_view_name (out, level->name);
          sw_text_add (out, " ");
          add_end (out, job, level, end);
          more = true;
        }
    }
  sw_text_add (out, more ? ")" : "");
}

static bool
same_end (const sw_end *a, const sw_end *b)
{
  return a->kind == b->kind && (a->kind == SW_END_MITRE || a->length == b->length);
}

/* Add how timber of RUN ends on POST.  Nothing is added if all of it runs past, or there is none. */
static void
add_ends_of_post (sw_text *out, const sw_job *job, size_t run, size_t post)
{
  const sw_run *line = &job->fence.runs[run];
  const sw_bay *near = post > 0 && !line->bays[post - 1].opening ? &line->bays[post - 1] : NULL;
  const sw_bay *far = post < line->bay_count && !line->bays[post].opening ? &line->bays[post] : NULL;
  const sw_end *before = near != NULL && near->finish.kind != SW_END_ON ? &near->finish : NULL;
  const sw_end *after = far != NULL && far->start.kind != SW_END_ON ? &far->start : NULL;
  if (before != NULL || after != NULL)
    add_ends_of_levels (out, job, run, before != NULL ? before : after);
  if (before == NULL || after == NULL)
    return;
  if (same_end (before, after))
    sw_text_add (out, " on both sides");
  else
    {
      sw_text_add (out, ", beyond it ");
      add_ends_of_levels (out, job, run, after);
    }
}

/* Add "; posts 3, 5 centre on both sides".  All POSTS have the same ENDS.  Nothing is added if ENDS is empty. */
static void
add_posts_alike (sw_text *out, const size_t *posts, size_t count, const char *ends)
{
  if (ends[0] == '\0')
    return;
  sw_text_add (out, out->length == 0 ? "Ends: " : "; ");
  sw_text_add (out, count == 1 ? "post" SW_VIEW_HARD : "posts" SW_VIEW_HARD);
  sw_view_ranges (out, posts, count, 1);
  sw_text_printf (out, " %s", ends);
}

/* Add "Ends: post 1 flush; posts 3, 5 centre on both sides; post 7 face." */
static sw_status
add_ends (sw_text *out, const sw_job *job, size_t run, size_t width)
{
  const sw_run *line = &job->fence.runs[run];
  size_t *posts = sw_alloc (line->bay_count + 1, sizeof *posts);
  char *ends = sw_copy_text ("");
  size_t count = 0;
  sw_text list = { 0 };
  for (size_t post = 0; post <= line->bay_count && posts != NULL && ends != NULL; post++)
    {
      sw_text here = { 0 };
      add_ends_of_post (&here, job, run, post);
      if (here.length == 0 && !here.failed)
        {
          sw_text_drop (&here);
          continue;
        }
      char *words = sw_view_take (&list, &here);
      if (words != NULL && strcmp (words, ends) == 0)
        free (words);
      else if (words != NULL)
        {
          add_posts_alike (&list, posts, count, ends);
          free (ends);
          ends = words;
          count = 0;
        }
      posts[count++] = post;
    }
  const bool known = posts != NULL && ends != NULL && !list.failed;
  if (known)
    add_posts_alike (&list, posts, count, ends);
  free (ends);
  free (posts);
  if (known && list.length > 0)
    {
      sw_text_add (&list, ".");
      sw_text_add (out, "\n");
      sw_view_paragraph (out, &list, 2, 4, width);
      return SW_OK;
    }
  sw_text_drop (&list);
  return known ? SW_OK : SW_NO_MEMORY;
}

/* ---- All of it ------------------------------------------------------------- */

static bool
same_timber (const sw_level *a, const sw_level *b)
{
  return a->section == b->section && a->through == b->through
         && (!a->through || (a->seat == b->seat && a->let_in == b->let_in));
}

/* Add the timber of each level, from the top: "top rail, middle rail: 100x38, let in 30". */
static void
add_levels (sw_text *out, const sw_job *job, size_t width)
{
  sw_text_add (out, "\n");
  for (size_t l = job->levels.count; l > 0;)
    {
      const sw_level *level = &job->levels.items[l - 1];
      sw_text line = { 0 };
      for (size_t first = l; l > 0 && same_timber (level, &job->levels.items[l - 1]); l--)
        {
          sw_text_add (&line, l < first ? ", " : "");
          sw_view_name (&line, job->levels.items[l - 1].name);
        }
      sw_text_add (&line, ": ");
      sw_view_name (&line, job->sections.items[level->section].name);
      sw_text_add (&line, level->through ? "" : ", between the posts");
      sw_fit_seat (&line, job, level);
      sw_view_paragraph (out, &line, 2, 4, width);
    }
}

static void
add_legend (sw_text *out, const sw_plan *plan, size_t width)
{
  const sw_job *job = plan->job;
  sw_text legend = { 0 };
  bool between = false;
  for (size_t l = 0; l < job->levels.count; l++)
    between = between || !job->levels.items[l].through;
  sw_text_printf (&legend,
                  "Post 1 is on the left. | is an end or a join, + a post that a piece runs past%s. Lengths in %s, and"
                  " below each the board that it is cut from.",
                  between ? ", [ ] a piece cut to fit between two posts" : "", job->settings->inches ? "inches" : "mm");
  sw_view_paragraph (out, &legend, 2, 2, width);
}

sw_status
sw_fit_text (const sw_plan *plan, size_t width, sw_text *out)
{
  const sw_job *job = plan->job;
  const size_t begun = out->length;
  size_t first = 0;
  size_t post = SW_NONE;
  sw_status status = SW_OK;
  sw_text_add (out, "FIT\n");
  add_legend (out, plan, width);
  add_levels (out, job, width);
  for (size_t run = 0; run < job->fence.run_count && status == SW_OK && post == SW_NONE; run++)
    {
      size_t end;
      sw_fit_pieces (plan, run, first, &end);
      if (first == end)
        continue;
      sw_fit_run_heading (out, job, run, width);
      status = sw_fit_sketch (plan, run, first, end, begun, width, &post, out);
      if (status == SW_OK)
        status = add_ends (out, job, run, width);
      add_steps (out, job, &job->fence.runs[run], width);
      if (post != SW_NONE && status == SW_OK)
        sw_view_runs_left_out (out, job, run, post, "fit", width);
      first = end;
    }
  return status;
}
