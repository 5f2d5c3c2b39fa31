/* replan_text.c - a plan that goes on from another, in words
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "plan/replan.h"

#include "base/memory.h"
#include "base/text.h"
#include "view/cuts.h"
#include "view/figures.h"
#include "view/order.h"
#include "view/proof.h"

#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

#define WIDTH_DEFAULT 80
#define WIDTH_LEAST 40
#define WIDTH_MOST 160

/* ---- What changes -------------------------------------------------------- */

static void
add_staying (sw_text *out, const sw_replan *r, size_t width)
{
  const sw_replan_figures *f = &r->figures;
  const int64_t all = f->fixed + f->cut + f->same;
  sw_text line = { 0 };
  sw_text_printf (&line, "%" PRId64 " %s as before", all, all == 1 ? "piece is" : "pieces are");
  const struct
  {
    int64_t count;
    const char *word;
  } parts[] = { { f->fixed, "fixed" }, { f->cut, "cut already" }, { f->same, "still to be cut" } };
  const char *between = ": ";
  for (size_t i = 0; i < sizeof parts / sizeof parts[0]; i++)
    if (parts[i].count > 0)
      {
        sw_text_printf (&line, "%s%" PRId64 " %s", between, parts[i].count, parts[i].word);
        between = ", ";
      }
  sw_text_add (&line, f->changed + f->gone == 0 ? ". No label changes." : ".");
  sw_view_paragraph (out, &line, 2, 2, width);
}

/* Write "front/top/3-5: 4820, was 4800". */
static void
add_changed (sw_text *out, const sw_replan *r, size_t p, size_t width)
{
  const sw_piece *piece = &r->plan->pieces[p];
  char length[SW_LENGTH_TEXT];
  sw_text line = { 0 };
  sw_view_name (&line, piece->label);
  sw_view_length (r->job, piece->cut, length);
  sw_text_printf (&line, ": %s", length);
  if (r->fates[p] == SW_FATE_LENGTH)
    {
      sw_view_length (r->job, r->old.pieces[r->was[p]].cut, length);
      sw_text_printf (&line, ", was %s", length);
    }
  else
    sw_text_add (&line, ", new");
  sw_view_paragraph (out, &line, 4, 6, width);
}

static void
add_gone (sw_text *out, const sw_replan *r, size_t width)
{
  sw_text line = { 0 };
  size_t count = 0;
  for (size_t p = 0; p < r->old.piece_count; p++)
    if (!r->stays[p])
      {
        sw_text_add (&line, count++ == 0 ? "No longer in the plan: " : ", ");
        sw_view_name (&line, r->old.pieces[p].label);
      }
  sw_text_add (&line, ".");
  if (count > 0)
    sw_view_paragraph (out, &line, 2, 4, width);
  sw_text_drop (&line);
}

/* List the pieces that were cut for one place and go to another, and so need another mark. */
static void
add_pencilled_anew (sw_text *out, const sw_replan *r, size_t width)
{
  bool any = false;
  for (size_t p = 0; p < r->plan->piece_count; p++)
    {
      const sw_piece *piece = &r->plan->pieces[p];
      if (piece->placed || r->fates[p] == SW_FATE_CUT || r->plan->boards[piece->board].timber == NULL)
        continue;
      const sw_timber *timber = r->plan->boards[piece->board].timber;
      if (timber->kind != SW_TIMBER_PIECE || (timber->ends != NULL ? timber->cut : timber->length) != piece->cut)
        continue;
      sw_text line = { 0 };
      if (!any)
        sw_text_add (out, "  Cut already, to be pencilled anew:\n");
      any = true;
      sw_view_name (&line, timber->name);
      sw_text_add (&line, " becomes ");
      sw_view_name (&line, piece->label);
      sw_view_paragraph (out, &line, 4, 6, width);
    }
}

static void
add_changes (sw_text *out, const sw_replan *r, size_t width)
{
  const sw_replan_figures *f = &r->figures;
  const size_t begun = out->length;
  sw_text_add (out, "CHANGES\n");
  add_staying (out, r, width);
  if (f->changed > 0)
    sw_text_printf (out, "  %" PRId64 " %s:\n", f->changed, f->changed == 1 ? "piece changes" : "pieces change");
  for (size_t p = 0; p < r->plan->piece_count; p++)
    {
      if (r->fates[p] != SW_FATE_LENGTH && r->fates[p] != SW_FATE_NEW)
        continue;
      if (sw_view_room (out, begun, SW_VIEW_LINES) == 0)
        {
          sw_text rest = { 0 };
          sw_text_add (&rest, "the other pieces that change");
          sw_view_left_out (out, &rest, "cuts", width);
          break;
        }
      add_changed (out, r, p, width);
    }
  add_pencilled_anew (out, r, width);
  add_gone (out, r, width);
}

/* ---- What is left -------------------------------------------------------- */

/* List the whole boards that are not cut. */
static int64_t
add_whole (sw_text *out, const sw_replan *r, size_t width)
{
  const sw_job *job = r->job;
  int64_t all = 0;
  for (size_t s = 0; s < job->stocks.count; s++)
    {
      const sw_stock *stock = &job->stocks.items[s];
      int64_t left = stock->sawn ? 0 : stock->hand;
      for (size_t b = 0; b < r->plan->board_count; b++)
        left -= !stock->sawn && r->plan->boards[b].stock == s && r->plan->boards[b].hand ? 1 : 0;
      if (left <= 0)
        continue;
      all += left;
      char length[SW_LENGTH_TEXT];
      sw_text line = { 0 };
      sw_view_stock (job, stock->length, length);
      sw_text_printf (&line, "%" PRId64 " whole, %s: ", left, length);
      sw_order_title (&line, job, stock->section);
      sw_view_paragraph (out, &line, 2, 4, width);
    }
  return all;
}

/* Write what is left of the boards from FIRST on that all leave the same length, where it is worth keeping; returns how
 * many boards these are. */
static size_t
add_rests (sw_text *out, const sw_replan *r, size_t first, size_t width)
{
  const sw_plan *plan = r->plan;
  const sw_job *job = r->job;
  const size_t section = job->stocks.items[plan->boards[first].stock].section;
  const sw_length left = plan->boards[first].left;
  size_t end = first + 1;
  while (end < plan->board_count && plan->boards[end].left == left
         && job->stocks.items[plan->boards[end].stock].section == section)
    end++;
  if (left <= 0 || left < job->settings->keep)
    return end - first;
  char length[SW_LENGTH_TEXT];
  sw_text line = { 0 };
  sw_view_length (job, left, length);
  if (end > first + 1)
    sw_text_printf (&line, "%zu x %s, of boards %zu to %zu: ", end - first, length, first + 1, end);
  else
    sw_text_printf (&line, "%s, of board %zu: ", length, first + 1);
  sw_order_title (&line, job, section);
  sw_view_paragraph (out, &line, 2, 4, width);
  return end - first;
}

/* Write a piece of timber on hand that is not cut. */
static void
add_unused (sw_text *out, const sw_replan *r, const sw_timber *timber, size_t width)
{
  char length[SW_LENGTH_TEXT];
  sw_text line = { 0 };
  sw_view_length (r->job, timber->ends != NULL ? timber->cut : timber->length, length);
  sw_text_printf (&line, timber->kind == SW_TIMBER_PIECE ? "%s, the piece " : "%s, ", length);
  sw_view_name (&line, timber->name);
  sw_text_add (&line, ": ");
  sw_order_title (&line, r->job, timber->section);
  sw_view_paragraph (out, &line, 2, 4, width);
}

/* List the offcuts and pieces on hand that are not cut, and what is left of boards, where it is worth keeping.
 * *SHORTER: how many are too short for that. */
static int64_t
add_offcuts (sw_text *out, const sw_replan *r, size_t width, int64_t *shorter)
{
  const sw_job *job = r->job;
  const sw_length keep = job->settings->keep;
  bool *used = sw_alloc (job->on_hand.count, sizeof *used);
  int64_t all = 0;
  *shorter = 0;
  if (used == NULL)
    {
      out->failed = true;
      return 0;
    }
  for (size_t b = 0, count; b < r->plan->board_count; b += count)
    {
      count = add_rests (out, r, b, width);
      const sw_length left = r->plan->boards[b].left;
      *(left > 0 && left >= keep ? &all : shorter) += left > 0 ? (int64_t)count : 0;
    }
  for (size_t b = 0; b < r->plan->board_count; b++)
    if (r->plan->boards[b].timber != NULL)
      used[r->plan->boards[b].timber - job->on_hand.items] = true;
  for (size_t t = 0; t < job->on_hand.count; t++)
    {
      const sw_timber *timber = &job->on_hand.items[t];
      if (timber->kind == SW_TIMBER_BOARD || used[t])
        continue;
      const bool kept = timber->length >= keep;
      if (kept)
        add_unused (out, r, timber, width);
      *(kept ? &all : shorter) += 1;
    }
  free (used);
  return all;
}

static void
add_left (sw_text *out, const sw_replan *r, size_t width)
{
  int64_t shorter;
  char keep[SW_LENGTH_TEXT];
  sw_text_add (out, "LEFT OVER\n");
  int64_t all = add_whole (out, r, width);
  all += add_offcuts (out, r, width, &shorter);
  sw_view_length (r->job, r->job->settings->keep, keep);
  sw_text line = { 0 };
  if (shorter > 0)
    sw_text_printf (&line, "%s%" PRId64 " shorter than %s.", all > 0 ? "and " : "", shorter, keep);
  else if (all == 0)
    sw_text_add (&line, "Nothing.");
  if (line.length > 0)
    sw_view_paragraph (out, &line, 2, 2, width);
}

/* ---- How good it is ------------------------------------------------------ */

/* Say what fixed pieces do to the rules. */
static void
add_apart (sw_text *line, const sw_replan *r)
{
  const sw_replan_figures *f = &r->figures;
  if (f->aligned_fixed > 0)
    sw_text_printf (line, " Of what is fixed %" PRId64 " %s of joins %s up, which is counted apart.", f->aligned_fixed,
                    f->aligned_fixed == 1 ? "pair" : "pairs", f->aligned_fixed == 1 ? "lines" : "line");
  if (f->turns_fixed > 0)
    sw_text_printf (line, " For what is fixed %" PRId64 " %s of levels %s not long and short in turn.", f->turns_fixed,
                    f->turns_fixed == 1 ? "pair" : "pairs", f->turns_fixed == 1 ? "is" : "are");
}

static void
add_proof (sw_text *out, const sw_replan *r, size_t width)
{
  const sw_plan *plan = r->plan;
  sw_text line = { 0 };
  sw_text_add (out, "PROOF\n");
  if (r->figures.bought == 0)
    sw_text_add (&line, "Nothing is bought, and no plan buys less.");
  else
    sw_proof_sentence (&line, plan);
  if (plan->changes == 0)
    sw_text_add (&line, " No piece past posts changes.");
  else if (plan->changes_proved)
    sw_text_printf (&line, " %" PRId64 " %s past posts %s; where fewer do, more is bought.", plan->changes,
                    plan->changes == 1 ? "piece" : "pieces", plan->changes == 1 ? "changes" : "change");
  else
    sw_text_printf (&line, " %" PRId64 " %s past posts %s; that fewer would do is not ruled out.", plan->changes,
                    plan->changes == 1 ? "piece" : "pieces", plan->changes == 1 ? "changes" : "change");
  if (plan->summary.aligned > 0)
    sw_text_printf (&line, " %" PRId64 " %s of joins %s up.", plan->summary.aligned,
                    plan->summary.aligned == 1 ? "pair" : "pairs", plan->summary.aligned == 1 ? "lines" : "line");
  add_apart (&line, r);
  sw_view_paragraph (out, &line, 2, 2, width);
}

sw_status
sw_replan_text (const sw_replan *r, unsigned width, char **out)
{
  sw_text text = { 0 };
  *out = NULL;
  width = width == 0 ? WIDTH_DEFAULT : width < WIDTH_LEAST ? WIDTH_LEAST : width > WIDTH_MOST ? WIDTH_MOST : width;
  sw_status status = sw_order_text (r->plan, width, &text);
  sw_text_add (&text, "\n");
  if (status == SW_OK && r->plan->board_count > 0)
    {
      status = sw_cuts_text (r->plan, width, &text);
      sw_text_add (&text, "\n");
    }
  if (status == SW_OK)
    {
      add_changes (&text, r, width);
      sw_text_add (&text, "\n");
      add_left (&text, r, width);
      sw_text_add (&text, "\n");
      add_proof (&text, r, width);
    }
  if (status != SW_OK)
    {
      sw_text_drop (&text);
      return status;
    }
  *out = sw_text_take (&text);
  return *out != NULL ? SW_OK : SW_NO_MEMORY;
}
