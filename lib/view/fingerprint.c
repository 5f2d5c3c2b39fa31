/* fingerprint.c - the fingerprint, which tells the papers of one plan from those of another
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "view/fingerprint.h"

#include "base/checksum.h"
#include "view/cuts.h"
#include "view/figures.h"
#include "view/fit.h"
#include "view/order.h"
#include "view/setout.h"

#include <inttypes.h>

/* Each cell ends with this, so that "1" and "23" differ from "12" and "3". */
#define CELL_END "\x1f"
#define ROW_END "\n"

static void
add_cells (sw_text *out, const sw_table *table)
{
  const size_t columns = sw_table_columns (table);
  for (size_t c = 0; c < columns; c++)
    {
      sw_text_add (out, sw_table_header (table, c));
      sw_text_add (out, CELL_END);
    }
  for (size_t row = 0; row < sw_table_rows (table); row++)
    {
      sw_text_add (out, ROW_END);
      for (size_t c = 0; c < columns; c++)
        {
          sw_text_add (out, sw_table_cell (table, row, c));
          sw_text_add (out, CELL_END);
        }
    }
  sw_text_add (out, ROW_END);
}

/* Each character stands for five bits, the highest bits first. */
static void
spell (uint32_t sum, char out[SW_FINGERPRINT])
{
  static const char figures[] = "0123456789ABCDEFGHJKMNPQRSTVWXYZ";
  _Static_assert(sizeof figures == 33, "five bits a character");
  size_t used = 0;
  for (int shift = 30; shift >= 0; shift -= 5)
    {
      out[used++] = figures[sum >> shift & 31];
      if (used == 4)
        out[used++] = '-';
    }
  out[used] = '\0';
}

sw_status
sw_fingerprint (const sw_plan *plan, char out[SW_FINGERPRINT])
{
  static sw_status (*const tables[]) (const sw_plan *plan, sw_table **out)
      = { sw_order_table, sw_cuts_table, sw_fit_table, sw_setout_table };
  sw_text cells = { 0 };
  sw_status status = SW_OK;
  out[0] = '\0';
  for (size_t i = 0; i < sizeof tables / sizeof *tables && status == SW_OK; i++)
    {
      sw_table *table = NULL;
      status = tables[i](plan, &table);
      if (status == SW_OK)
        add_cells (&cells, table);
      sw_table_free (table);
    }
  if (status == SW_OK && cells.failed)
    status = SW_NO_MEMORY;
  if (status == SW_OK)
    spell (sw_checksum (cells.data, cells.length), out);
  sw_text_drop (&cells);
  return status;
}

sw_status
sw_fingerprint_line (sw_text *out, const sw_plan *plan)
{
  char fingerprint[SW_FINGERPRINT];
  const char *date = plan->job->settings->date;
  sw_status status = sw_fingerprint (plan, fingerprint);
  if (status != SW_OK)
    return status;
  sw_text_printf (out, "Plan %s", fingerprint);
  if (plan->revision > 0)
    sw_text_printf (out, ", revision %" PRId64, plan->revision);
  if (date != NULL)
    {
      sw_text_add (out, ", ");
      sw_view_name (out, date);
    }
  return SW_OK;
}
