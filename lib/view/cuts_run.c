/* cuts_run.c - the cut list along the fence: which boards to drop at which post, and what to cut there
 *
 * A board is opened at the first place, by run and then post, that one of its
 * pieces goes to.  The rest of it is carried on to the places on its labels.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "view/cuts.h"

#include "base/memory.h"
#include "view/order.h"
#include "view/figures.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* The columns of "    post 12  " in the drop list, at least. */
#define DROP_INDENT 4
#define DROP_WIDTH 13

/* A board, and where it is opened. */
typedef struct place
{
  size_t run;  /* SW_NONE: none of the board's pieces has a run */
  size_t post; /* from 0 */
  const sw_plan *plan;
  size_t board;
} place;

/* The place where BOARD is opened: at the first post that its pieces go to.  If all of them are
 * blocks, which have a run but no post, it is that run's first post. */
static place
place_of (const sw_plan *plan, size_t board)
{
  const sw_board *from = &plan->boards[board];
  place best = { .run = SW_NONE, .post = 0, .plan = plan, .board = board };
  bool by_post = false;
  for (size_t c = 0; c < from->piece_count; c++)
    {
      const sw_piece *piece = &plan->pieces[from->pieces[c]];
      const bool has_post = piece->from != SW_NONE;
      const size_t post = has_post ? piece->from : 0;
      if (piece->run == SW_NONE || (by_post && !has_post))
        continue;
      if (best.run != SW_NONE && by_post == has_post
          && (piece->run > best.run || (piece->run == best.run && post >= best.post)))
        continue;
      best.run = piece->run;
      best.post = post;
      by_post = has_post;
    }
  return best;
}

static size_t
section_of (const place *place)
{
  return place->plan->job->stocks.items[place->plan->boards[place->board].stock].section;
}

static bool
is_from_hand (const place *place)
{
  return place->plan->boards[place->board].hand;
}

static int
along_the_fence (const void *a, const void *b)
{
  const place *x = a;
  const place *y = b;
  const size_t left[] = { x->run, x->post, section_of (x), is_from_hand (x), x->plan->boards[x->board].stock, x->board };
  const size_t right[] = { y->run, y->post, section_of (y), is_from_hand (y), y->plan->boards[y->board].stock, y->board };
  for (size_t i = 0; i < sizeof left / sizeof *left; i++)
    if (left[i] != right[i])
      return left[i] < right[i] ? -1 : 1;
  return 0;
}

/* ---- The drop list --------------------------------------------------------- */

static bool
same_kind (const place *a, const place *b)
{
  return a->plan->boards[a->board].stock == b->plan->boards[b->board].stock && is_from_hand (a) == is_from_hand (b);
}

/* Add the boards PLACES[0 ... COUNT - 1], which are dropped at one post: "100x38: 2/4.8 (12, 28), 1/5.4 (3)". */
static sw_status
add_dropped (sw_text *out, const place *places, size_t count)
{
  const sw_job *job = places->plan->job;
  const sw_order order = { .plan = places->plan };
  size_t *numbers = sw_alloc (count, sizeof *numbers);
  if (numbers == NULL)
    return SW_NO_MEMORY;
  for (size_t first = 0, end = 0; first < count; first = end)
    {
      const place *here = &places[first];
      const bool new_section = first == 0 || section_of (here) != section_of (here - 1);
      for (; end < count && same_kind (here, &places[end]); end++)
        numbers[end - first] = places[end].board;
      sw_text_add (out, first == 0 ? "" : new_section ? "; " : ", ");
      if (new_section)
        {
          sw_view_name (out, job->sections.items[section_of (here)].name);
          sw_text_add (out, ": ");
        }
      const sw_order_line line = { .stock = here->plan->boards[here->board].stock, .count = (int64_t)(end - first) };
      sw_order_count (out, &order, &line);
      sw_text_add (out, is_from_hand (here) ? SW_VIEW_HARD "from" SW_VIEW_HARD "hand" SW_VIEW_HARD "(" : SW_VIEW_HARD "(");
      sw_view_ranges (out, numbers, end - first, 1);
      sw_text_add (out, ")");
    }
  free (numbers);
  return SW_OK;
}

/* The number of PLACES from the first on, of COUNT, that are on the same run and, with POST, at the same post. */
static size_t
together (const place *places, size_t count, bool post)
{
  size_t end = 1;
  while (end < count && places[end].run == places->run && (!post || places[end].post == places->post))
    end++;
  return end;
}

/* Add the drop list.  It takes at most half of the lines, because the other half is for the cuts. */
static sw_status
add_drop_list (sw_text *out, const place *places, size_t count, size_t width)
{
  const size_t begun = out->length;
  sw_status status = SW_OK;
  sw_text_add (out, "  Drop at\n");
  for (size_t first = 0, end; first < count && status == SW_OK; first += end)
    {
      if (sw_view_room (out, begun, SW_VIEW_LINES / 2) == 0)
        {
          sw_text rest = { 0 };
          sw_text_printf (&rest, "the posts from %zu on", places[first].post + 1);
          sw_view_left_out (out, &rest, "cuts", width);
          return SW_OK;
        }
      char post[48];
      sw_text line = { 0 };
      end = together (places + first, count - first, true);
      snprintf (post, sizeof post, "%*spost %zu  ", DROP_INDENT, "", places[first].post + 1);
      const size_t column = strlen (post) > DROP_WIDTH ? strlen (post) : DROP_WIDTH;
      sw_text_printf (out, "%-*s", DROP_WIDTH, post);
      status = add_dropped (&line, places + first, end);
      sw_view_rest (out, &line, column, column, width);
    }
  return status;
}

/* ---- The list -------------------------------------------------------------- */

/* Add how the saw is set for each section that has mitres or plumb cuts. */
static sw_status
add_saw (sw_text *out, const sw_plan *plan, size_t width)
{
  sw_status status = SW_OK;
  for (size_t s = 0; s < plan->job->sections.count && status == SW_OK; s++)
    {
      sw_text saw = { 0 };
      sw_text title = { 0 };
      status = sw_cuts_short_points (&saw, plan, s, false, width);
      if (status == SW_OK)
        status = sw_cuts_short_points (&saw, plan, s, true, width);
      char *lines = sw_view_take (out, &saw);
      if (status == SW_OK && lines != NULL && lines[0] != '\0')
        {
          sw_order_title (&title, plan->job, s);
          sw_text_add (out, "\n");
          sw_view_paragraph (out, &title, 0, 2, width);
          sw_text_add (out, lines);
        }
      free (lines);
    }
  return status;
}

/* Add "Post 3, 100x38 H4 treated pine rail, from hand". */
static void
add_post_heading (sw_text *out, const place *here, size_t width)
{
  sw_text heading = { 0 };
  if (here->run != SW_NONE)
    sw_text_printf (&heading, "Post %zu, ", here->post + 1);
  sw_order_title (&heading, here->plan->job, section_of (here));
  sw_text_add (&heading, is_from_hand (here) ? ", from hand" : "");
  sw_text_add (out, "\n");
  sw_view_paragraph (out, &heading, 2, 4, width);
}

/* Add the boards PLACES[0 ... COUNT - 1] of one run, as long as there are lines for them.  *DONE is
 * the number added. */
static sw_status
add_run (sw_text *out, const place *places, size_t count, size_t begun, size_t width, size_t *done)
{
  const size_t column = sw_cuts_label_column (places->plan->job);
  const sw_plan *plan = places->plan;
  sw_status status = SW_OK;
  sw_text heading = { 0 };
  if (places->run != SW_NONE)
    {
      sw_text_add (&heading, "Run ");
      sw_view_name (&heading, plan->job->fence.runs[places->run].name);
    }
  else
    sw_text_add (&heading, "What has no place along the fence");
  sw_text_add (out, "\n");
  sw_view_paragraph (out, &heading, 0, 2, width);
  if (places->run != SW_NONE)
    status = add_drop_list (out, places, count, width);
  for (*done = 0; *done < count && status == SW_OK && sw_view_room (out, begun, SW_VIEW_LINES) > 0; ++*done)
    {
      const size_t i = *done;
      const place *here = &places[i];
      size_t one = 1;
      if (i == 0 || here->post != here[-1].post || section_of (here) != section_of (here - 1)
          || is_from_hand (here) != is_from_hand (here - 1))
        add_post_heading (out, here, width);
      status = sw_cuts_group (out, plan, here->board, &one, column, SW_VIEW_LINES, width);
    }
  return status;
}

/* Say that COUNT boards from HERE on are not printed. */
static void
add_rest (sw_text *out, const place *here, size_t count, size_t width)
{
  sw_text rest = { 0 };
  sw_text_printf (&rest, "%zu %s from here on", count, count == 1 ? "board" : "boards");
  if (here->run != SW_NONE)
    {
      sw_text_printf (&rest, ", post %zu of run ", here->post + 1);
      sw_view_name (&rest, here->plan->job->fence.runs[here->run].name);
    }
  sw_view_left_out (out, &rest, "cuts", width);
}

sw_status
sw_cuts_along (const sw_plan *plan, size_t begun, size_t width, sw_text *out)
{
  place *places = sw_alloc (plan->board_count, sizeof *places);
  sw_text legend = { 0 };
  if (places == NULL)
    return SW_NO_MEMORY;
  for (size_t b = 0; b < plan->board_count; b++)
    places[b] = place_of (plan, b);
  qsort (places, plan->board_count, sizeof *places, along_the_fence);
  sw_text_add (&legend, "By run and post: each board stands where the first of its pieces goes.");
  sw_view_paragraph (out, &legend, 2, 2, width);
  sw_status status = add_saw (out, plan, width);
  for (size_t first = 0, end = 0, done = 0; first < plan->board_count && status == SW_OK && done == end; first += done)
    {
      end = together (places + first, plan->board_count - first, false);
      status = add_run (out, places + first, end, begun, width, &done);
      if (status == SW_OK && done < end)
        add_rest (out, &places[first + done], plan->board_count - first - done, width);
    }
  free (places);
  return status;
}
