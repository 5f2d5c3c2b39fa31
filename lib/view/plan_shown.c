/* plan_shown.c - a plan as tables and as text
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "view/care.h"
#include "view/cuts.h"
#include "view/fit.h"
#include "view/order.h"
#include "view/proof.h"
#include "view/figures.h"
#include "view/setout.h"

/* The tables do not fit side by side on a narrower line. */
#define WIDTH_LEAST 40

sw_status
sw_plan_table (const sw_plan *plan, sw_table_kind kind, sw_table **out)
{
  *out = NULL;
  switch (kind)
    {
    case SW_TABLE_ORDER:
      return sw_order_table (plan, out);
    case SW_TABLE_CUTS:
      return sw_cuts_table (plan, out);
    case SW_TABLE_FIT:
      return sw_fit_table (plan, out);
    case SW_TABLE_SETOUT:
      return sw_setout_table (plan, out);
    }
  return SW_USAGE;
}

static sw_status
add_part (const sw_plan *plan, unsigned part, size_t width, sw_text *out)
{
  if (out->length > 0)
    sw_text_add (out, "\n");
  switch (part)
    {
    case SW_TEXT_ORDER:
      return sw_order_text (plan, width, out);
    case SW_TEXT_CUTS:
      return sw_cuts_text (plan, width, out);
    case SW_TEXT_FIT:
      return sw_fit_text (plan, width, out);
    case SW_TEXT_SETOUT:
      return sw_setout_text (plan, width, out);
    case SW_TEXT_PROOF:
      sw_proof_text (plan, width, out);
      return SW_OK;
    case SW_TEXT_CARE:
      return sw_care_brief (plan, width, out);
    case SW_TEXT_AGAIN:
      return sw_order_again (plan, width, out);
    default:
      return sw_order_message (plan, out);
    }
}

sw_status
sw_plan_text (const sw_plan *plan, unsigned parts, unsigned width, char **out)
{
  static const unsigned order[]
      = { SW_TEXT_ORDER, SW_TEXT_CUTS, SW_TEXT_FIT,     SW_TEXT_SETOUT,
          SW_TEXT_PROOF, SW_TEXT_CARE, SW_TEXT_MESSAGE, SW_TEXT_AGAIN };
  sw_text text = { 0 };
  sw_status status = SW_OK;
  *out = NULL;
  if ((parts & ~(unsigned)(SW_TEXT_ALL | SW_TEXT_MESSAGE | SW_TEXT_AGAIN)) != 0)
    return SW_USAGE;
  width = sw_view_width (width, WIDTH_LEAST);
  /* A job that has only extras has nothing to fit. */
  if (plan->job->fence.run_count == 0)
    parts &= ~(unsigned)(SW_TEXT_FIT | SW_TEXT_SETOUT);
  for (size_t i = 0; i < sizeof order / sizeof *order && status == SW_OK; i++)
    if ((parts & order[i]) != 0)
      status = add_part (plan, order[i], width, &text);
  if (status != SW_OK)
    {
      sw_text_drop (&text);
      return status;
    }
  *out = sw_text_take (&text);
  return *out != NULL ? SW_OK : SW_NO_MEMORY;
}
