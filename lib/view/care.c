/* care.c - weights, ends to seal, cautions
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "view/care.h"

#include "job/seat.h"
#include "view/figures.h"

#include <inttypes.h>
#include <math.h>
#include <stdio.h>

/* Kilograms of a metre.  A double is exact enough, because a weight is neither a length nor money. */
static double
metre (sw_length width, sw_length thickness, int64_t density)
{
  return (double)width / 1e9 * ((double)thickness / 1e9) * ((double)density / 1e3);
}

/* VALUE is raised by a hair, so that a half that is exact in decimals is not lost in binary. */
static int64_t
rounded (double value)
{
  return (int64_t)floor (value * (1 + 1e-12) + 0.5);
}

int64_t
sw_care_metre (sw_length width, sw_length thickness, int64_t density)
{
  return rounded (metre (width, thickness, density) * 100);
}

int64_t
sw_care_weight (sw_length width, sw_length thickness, int64_t density, sw_length length)
{
  return rounded (metre (width, thickness, density) * ((double)length / 1e9) * 10);
}

int64_t
sw_care_sawn_ends (const sw_plan *plan)
{
  int64_t ends = 0;
  for (size_t b = 0; b < plan->board_count; b++)
    {
      const sw_board *board = &plan->boards[b];
      if (board->piece_count == 0)
        continue;
      const sw_piece *first = &plan->pieces[board->pieces[0]];
      const sw_piece *last = &plan->pieces[board->pieces[board->piece_count - 1]];
      /* The length that the last piece is cut from.  If the piece takes all of it, the saw makes no end there. */
      sw_length rest = sw_board_left_after (plan, board, board->piece_count - 1);
      ends += 2 * (int64_t)board->piece_count;
      if (sw_job_board_trim (plan->job, &plan->job->stocks.items[board->stock]) > 0)
        continue;
      ends -= first->start_saw == 0 && first->plumb == 0 ? 1 : 0;
      ends -= rest == last->take && last->finish_saw == 0 && last->plumb == 0 ? 1 : 0;
    }
  return ends;
}

const char *
sw_care_caution (size_t index)
{
  static const char *const cautions[]
      = { "Treated timber: work in a dust mask (P1 or P2), gloves, eye and ear protection. Offcuts are never burnt.",
          "A check takes strength out of its post: go no deeper than shown.",
          "Have buried services located before a hole is dug. Long timber on a vehicle: the law limits what may stick"
          " out.",
          "Local rules for boundary, height and pool fences, the timber supplier's instructions and the advice of a"
          " licensed practitioner come before this plan. It plans timber; it is not the design of a structure." };
  return index < sizeof cautions / sizeof *cautions ? cautions[index] : NULL;
}

static void
add_kg (sw_text *out, int64_t tenths)
{
  if (tenths < 100)
    sw_text_printf (out, "%" PRId64 ".%" PRId64, tenths / 10, tenths % 10);
  else
    sw_text_printf (out, "%" PRId64, tenths / 10 + (tenths % 10 >= 5 ? 1 : 0));
}

static void
add_hundredths (sw_text *out, int64_t hundredths)
{
  sw_text_printf (out, "%" PRId64 ".%02" PRId64, hundredths / 100, hundredths % 100);
}

static void
add_weight (sw_text *out, const sw_section *section, sw_length length)
{
  const sw_length w = section->width;
  const sw_length t = section->thickness;
  char density[SW_LENGTH_TEXT];
  if (w == 0 || t == 0)
    sw_text_add (out, "not known (sections.csv gives no width and thickness)");
  else if (section->density > 0)
    {
      /* The density is kept in thousandths of kg/m3 and shown as whole kg/m3. */
      snprintf (density, sizeof density, "%" PRId64, (section->density + 500) / 1000);
      add_kg (out, sw_care_weight (w, t, section->density, length));
      sw_text_add (out, " kg (");
      add_hundredths (out, sw_care_metre (w, t, section->density));
      sw_text_printf (out, " kg a metre at %s kg/m3)", density);
    }
  else
    {
      add_kg (out, sw_care_weight (w, t, SW_CARE_PINE_DRY * 1000, length));
      sw_text_add (out, " kg dry to ");
      add_kg (out, sw_care_weight (w, t, SW_CARE_PINE_WET * 1000, length));
      sw_text_add (out, " kg wet if it is treated pine (");
      add_hundredths (out, sw_care_metre (w, t, SW_CARE_PINE_DRY * 1000));
      sw_text_add (out, " to ");
      add_hundredths (out, sw_care_metre (w, t, SW_CARE_PINE_WET * 1000));
      sw_text_add (out, " kg a metre)");
    }
}

static void
add_weights (sw_text *out, const sw_order *order, size_t width)
{
  const sw_job *job = order->plan->job;
  if (order->count > 0)
    sw_text_add (out, "  Weight of the order\n");
  for (size_t l = 0; l < order->line_count;)
    {
      const size_t section = order->lines[l].section;
      sw_length bought = 0;
      for (; l < order->line_count && order->lines[l].section == section; l++)
        bought += order->lines[l].bought; /* no overflow: it is part of the order's checked sum */
      if (bought == 0)
        continue;
      sw_text line = { 0 };
      sw_order_title (&line, job, section);
      sw_text_add (&line, ": ");
      add_weight (&line, &job->sections.items[section], bought);
      sw_view_paragraph (out, &line, 4, 6, width);
    }
}

/* Add "86 sawn ends to brush with preservative". */
static void
add_ends (sw_text *out, const sw_plan *plan)
{
  const int64_t ends = sw_care_sawn_ends (plan);
  sw_text_printf (out, "%" PRId64 " sawn %s to brush with preservative", ends, ends == 1 ? "end" : "ends");
}

sw_status
sw_care_text (const sw_plan *plan, size_t width, sw_text *out)
{
  sw_order order;
  sw_status status = sw_order_make (&order, plan);
  if (status != SW_OK)
    return status;
  sw_text line = { 0 };
  sw_text_add (out, "CARE\n");
  add_weights (out, &order, width);
  sw_order_clear (&order);
  add_ends (&line, plan);
  sw_text_add (&line, ", as the treater instructs.");
  sw_view_paragraph (out, &line, 2, 2, width);
  for (size_t i = 0; sw_care_caution (i) != NULL; i++)
    {
      sw_text_add (&line, sw_care_caution (i));
      sw_view_paragraph (out, &line, 2, 2, width);
    }
  return SW_OK;
}

/* ---- Below the order's message ---------------------------------------------- */

void
sw_care_message (const sw_order *order, sw_text *out)
{
  const sw_job *job = order->plan->job;
  sw_text_add (out, "\nFor whoever carries, cuts and builds, not for the yard:\n");
  for (size_t l = 0; l < order->line_count;)
    {
      const size_t section = order->lines[l].section;
      sw_length bought = 0;
      for (; l < order->line_count && order->lines[l].section == section; l++)
        bought += order->lines[l].bought;
      if (bought == 0)
        continue;
      sw_text_add (out, "- Weight of ");
      sw_order_title (out, job, section);
      sw_text_add (out, ": ");
      add_weight (out, &job->sections.items[section], bought);
      sw_text_add (out, "\n");
    }
  sw_text_add (out, "- ");
  add_ends (out, order->plan);
  sw_text_add (out, ", as the treater instructs.\n");
  for (size_t i = 0; sw_care_caution (i) != NULL; i++)
    sw_text_printf (out, "- %s\n", sw_care_caution (i));
}

/* ---- On the terminal -------------------------------------------------------- */

/* Is any check deeper than a third of its post? */
static bool
is_deep (const sw_job *job)
{
  for (size_t l = 0; l < job->levels.count; l++)
    for (size_t r = 0; r < job->fence.run_count; r++)
      {
        const sw_run *run = &job->fence.runs[r];
        const sw_length check = sw_seat_check (job, &job->levels.items[l]);
        if (check == 0 || !sw_level_is_on (&job->levels.items[l], r))
          continue;
        for (size_t p = 0; p <= run->bay_count; p++)
          if (((p > 0 && !run->bays[p - 1].opening) || (p < run->bay_count && !run->bays[p].opening))
              && 3 * check > sw_seat_post_depth (job, run->posts[p].width))
            return true;
      }
  return false;
}

/* Add "The order weighs 533 kg dry, 822 wet; ".  Without a given density, the weight is shown for
 * dry and for wet timber. */
static void
add_total (sw_text *out, const sw_order *order)
{
  const sw_job *job = order->plan->job;
  int64_t dry = 0;
  int64_t wet = 0;
  bool unknown = false;
  for (size_t l = 0; l < order->line_count; l++)
    {
      const sw_section *section = &job->sections.items[order->lines[l].section];
      const sw_length w = section->width;
      const sw_length t = section->thickness;
      const sw_length bought = order->lines[l].bought;
      const bool given = section->density > 0;
      unknown = unknown || (bought > 0 && (w == 0 || t == 0));
      dry += sw_care_weight (w, t, given ? section->density : SW_CARE_PINE_DRY * 1000, bought);
      wet += sw_care_weight (w, t, given ? section->density : SW_CARE_PINE_WET * 1000, bought);
    }
  if (wet == 0)
    return;
  sw_text_add (out, unknown ? "Timber whose size is known weighs " : "The order weighs ");
  add_kg (out, dry);
  sw_text_add (out, wet > dry ? " kg dry, " : " kg");
  if (wet > dry)
    {
      add_kg (out, wet);
      sw_text_add (out, " wet");
    }
  sw_text_add (out, "; ");
}

sw_status
sw_care_brief (const sw_plan *plan, size_t width, sw_text *out)
{
  sw_order order;
  sw_status status = sw_order_make (&order, plan);
  if (status != SW_OK)
    return status;
  sw_text line = { 0 };
  sw_text_add (out, "CARE\n");
  add_total (&line, &order);
  sw_order_clear (&order);
  add_ends (&line, plan);
  sw_text_add (&line, ".");
  sw_view_paragraph (out, &line, 2, 2, width);
  sw_text_add (&line, "Treated timber: mask, gloves, eyes and ears covered; never burn an offcut.");
  sw_view_paragraph (out, &line, 2, 2, width);
  if (is_deep (plan->job))
    {
      sw_text_add (&line, "Checks here go deeper than a third of a post: have that looked at first.");
      sw_view_paragraph (out, &line, 2, 2, width);
    }
  sw_text_add (&line, "Local codes and a licensed practitioner's advice come before this plan.");
  sw_view_paragraph (out, &line, 2, 2, width);
  return SW_OK;
}
