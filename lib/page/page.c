/* page.c - the page for a telephone at the saw: its frame, its data, and what is filled in
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "page/page.h"

#include "view/cuts.h"
#include "view/figures.h"
#include "view/fingerprint.h"
#include "view/order.h"

#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

typedef struct frame
{
  const sw_plan *plan;
  char fingerprint[SW_FINGERPRINT]; /* worked out only once, because all tables go into it */
} frame;

/* ---- What the script works with ---- */

/* Write a length as a number of the script: millimetres, to the tenth. */
static void
add_number (sw_text *out, sw_length length)
{
  char text[SW_LENGTH_TEXT];
  sw_length_format_mm (length, text);
  sw_text_add (out, text);
}

static sw_status
add_data (sw_text *out, const frame *page)
{
  const sw_plan *plan = page->plan;
  const sw_settings *settings = plan->job->settings;
  sw_text_printf (out, "{\"plan\":\"%s\",\"revision\":%" PRId64 ",\"job\":", page->fingerprint, plan->revision);
  sw_page_string (out, settings->job != NULL ? settings->job : "");
  sw_text_printf (out, ",\"inches\":%s,\n\"boards\":[", settings->inches ? "true" : "false");
  for (size_t b = 0; b < plan->board_count; b++)
    {
      const sw_board *board = &plan->boards[b];
      sw_text_printf (out, "%s[%zu,", b > 0 ? ",\n" : "\n", b + 1);
      add_number (out, plan->job->stocks.items[board->stock].length);
      sw_text_add (out, ",[");
      for (size_t c = 0; c < board->piece_count; c++)
        sw_text_printf (out, "%s%zu", c > 0 ? "," : "", board->pieces[c]);
      sw_text_add (out, "]]");
    }
  sw_text_add (out, "],\n\"pieces\":[");
  for (size_t p = 0; p < plan->piece_count; p++)
    {
      sw_text_add (out, p > 0 ? ",\n" : "\n");
      if (plan->pieces[p].placed)
        sw_text_add (out, "null");
      else
        sw_page_string (out, plan->pieces[p].label);
    }
  sw_text_add (out, "]}");
  return SW_OK;
}

/* ---- What is filled in ---- */

static sw_status
add_title (sw_text *out, const frame *page)
{
  const char *job = page->plan->job->settings->job;
  sw_page_text (out, job != NULL ? job : "Timber");
  return SW_OK;
}

static sw_status
add_heading (sw_text *out, const frame *page)
{
  const char *job = page->plan->job->settings->job;
  sw_page_name (out, job != NULL ? job : "Timber");
  return SW_OK;
}

/* Add a text that ADD writes about PLAN, which has been made harmless for terminals, to the markup. */
static sw_status
add_plain (sw_text *out, const sw_plan *plan, sw_status (*add) (const sw_plan *plan, sw_text *out))
{
  sw_text plain = { 0 };
  sw_status status = add (plan, &plain);
  char *lines = sw_view_take (out, &plain);
  for (char *rest = lines, *line; status == SW_OK && rest != NULL && (line = strsep (&rest, "\n")) != NULL;)
    {
      sw_page_text (out, line);
      sw_text_add (out, rest != NULL ? "\n" : "");
    }
  free (lines);
  return status;
}

static sw_status
make_mark (const sw_plan *plan, sw_text *out)
{
  return sw_fingerprint_line (out, plan);
}

static sw_status
add_mark (sw_text *out, const frame *page)
{
  return add_plain (out, page->plan, make_mark);
}

static sw_status
add_order (sw_text *out, const frame *page)
{
  return add_plain (out, page->plan, sw_order_message);
}

/* A word for a script or style that nobody who names a run can know beforehand, so that markup that got in would not
 * run. */
static sw_status
add_nonce (sw_text *out, const frame *page)
{
  sw_text_add (out, page->fingerprint);
  return SW_OK;
}

static sw_status
add_unit (sw_text *out, const frame *page)
{
  sw_text_add (out, page->plan->job->settings->inches ? "in" : "mm");
  return SW_OK;
}

static sw_status
add_units (sw_text *out, const frame *page)
{
  sw_text_add (out, page->plan->job->settings->inches ? "inches" : "mm");
  return SW_OK;
}

static sw_status
add_kerf (sw_text *out, const frame *page)
{
  char text[SW_LENGTH_TEXT];
  sw_view_length (page->plan->job, page->plan->job->settings->kerf, text);
  sw_text_add (out, text);
  return SW_OK;
}

static sw_status
add_key (sw_text *out, const frame *page)
{
  if (sw_cuts_mitred (page->plan))
    sw_text_add (out, " White corner of a piece: a mitre, seen from above, the outer face (laid flat: edge) below.");
  if (sw_cuts_raked (page->plan))
    sw_text_add (out, " Grey corner: cut plumb, seen from the outside, the bottom edge below.");
  bool own = false;
  for (size_t s = 0; s < page->plan->job->sections.count; s++)
    own = own || page->plan->job->sections.items[s].own_trim;
  if (own)
    sw_text_add (out, " Dark: docked off each end first.");
  else if (page->plan->job->settings->end_trim > 0)
    {
      char text[SW_LENGTH_TEXT];
      sw_view_length (page->plan->job, page->plan->job->settings->end_trim, text);
      sw_text_printf (out, " Dark: %s docked off each end first.", text);
    }
  return SW_OK;
}

static sw_status
add_boards (sw_text *out, const frame *page)
{
  return sw_page_boards (out, page->plan);
}

static sw_status
add_runs (sw_text *out, const frame *page)
{
  return sw_page_runs (out, page->plan);
}

static sw_status
add_version (sw_text *out, const frame *page)
{
  (void)page;
  sw_text_add (out, PACKAGE_VERSION);
  return SW_OK;
}

static sw_status
add_style (sw_text *out, const frame *page)
{
  (void)page;
  sw_text_add (out, sw_page_css);
  return SW_OK;
}

static sw_status
add_script (sw_text *out, const frame *page)
{
  (void)page;
  sw_text_add (out, sw_page_js);
  return SW_OK;
}

/* What takes the place of @NAME@ in page.html. */
static const struct
{
  const char *name;
  sw_status (*add) (sw_text *out, const frame *page);
} blanks[] = {
  { "BOARDS", add_boards }, { "DATA", add_data },     { "HEADING", add_heading }, { "KERF", add_kerf },
  { "KEY", add_key },       { "MARK", add_mark },     { "NONCE", add_nonce },     { "ORDER", add_order },
  { "RUNS", add_runs },     { "SCRIPT", add_script }, { "STYLE", add_style },     { "TITLE", add_title },
  { "UNIT", add_unit },     { "UNITS", add_units },   { "VERSION", add_version },
};

static sw_status
fill (sw_text *out, const frame *page, const char *name, size_t count)
{
  for (size_t i = 0; i < sizeof blanks / sizeof *blanks; i++)
    if (strlen (blanks[i].name) == count && memcmp (blanks[i].name, name, count) == 0)
      return blanks[i].add (out, page);
  return SW_FAILED;
}

sw_status
sw_page (const sw_plan *plan, sw_text *out)
{
  frame page = { .plan = plan };
  sw_status status = sw_fingerprint (plan, page.fingerprint);
  const char *at = sw_page_html;
  for (const char *blank; status == SW_OK && (blank = strchr (at, '@')) != NULL;)
    {
      const char *end = strchr (blank + 1, '@');
      if (end == NULL)
        return SW_FAILED;
      sw_text_add_bytes (out, at, (size_t)(blank - at));
      status = fill (out, &page, blank + 1, (size_t)(end - blank - 1));
      at = end + 1;
    }
  sw_text_add (out, at);
  return status == SW_OK && out->failed ? SW_NO_MEMORY : status;
}
