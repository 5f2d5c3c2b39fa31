/* care.c - weights, ends to seal, cautions
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "care.h"

#include "order.h"
#include "view.h"

#include <inttypes.h>
#include <math.h>
#include <stdio.h>

/* Kilograms of a metre.  A weight is neither a length nor money: a double will do. */
static double
metre (sw_length width, sw_length thickness, int64_t density)
{
  return (double)width / 1e9 * ((double)thickness / 1e9) * ((double)density / 1e3);
}

/* A hair up, so that a half that is exact in decimals is not lost to binary. */
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
  const sw_settings *settings = plan->job->settings;
  int64_t ends = 0;
  for (size_t b = 0; b < plan->board_count; b++)
    {
      const sw_board *board = &plan->boards[b];
      if (board->piece_count == 0)
        continue;
      const sw_piece *first = &plan->pieces[board->pieces[0]];
      const sw_piece *last = &plan->pieces[board->pieces[board->piece_count - 1]];
      /* What the last piece may be cut from: is it the piece itself? */
      sw_length rest = sw_board_left_after (plan, board, board->piece_count - 1);
      ends += 2 * (int64_t)board->piece_count;
      if (settings->end_trim > 0)
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

/* What LENGTH of SECTION weighs. */
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
      /* Thousandths of kg/m3, shown whole. */
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
        bought += order->lines[l].bought; /* part of the order's checked sum */
      if (bought == 0)
        continue;
      sw_text line = { 0 };
      sw_order_title (&line, job, section);
      sw_text_add (&line, ": ");
      add_weight (&line, &job->sections.items[section], bought);
      sw_view_paragraph (out, &line, 4, 6, width);
    }
}

sw_status
sw_care_text (const sw_plan *plan, size_t width, sw_text *out)
{
  sw_order order;
  sw_status status = sw_order_make (&order, plan);
  if (status != SW_OK)
    return status;
  sw_text line = { 0 };
  int64_t ends = sw_care_sawn_ends (plan);
  sw_text_add (out, "CARE\n");
  add_weights (out, &order, width);
  sw_order_clear (&order);
  sw_text_printf (&line, "%" PRId64 " sawn %s to brush with preservative, as the treater instructs.", ends,
                  ends == 1 ? "end" : "ends");
  sw_view_paragraph (out, &line, 2, 2, width);
  for (size_t i = 0; sw_care_caution (i) != NULL; i++)
    {
      sw_text_add (&line, sw_care_caution (i));
      sw_view_paragraph (out, &line, 2, 2, width);
    }
  return SW_OK;
}
