/* fuzz_length.c - fuzz target: any text as a length and as money
 *
 * The first byte chooses what a bare number means and whether a decimal comma
 * is accepted.  The rest is the text.  What is read must be the same after it
 * has been written and read again.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "fuzz.h"
#include "base/length.h"
#include "base/money.h"
#include "csv/value.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static sw_length
magnitude (sw_length length)
{
  return length < 0 ? -length : length;
}

/* Check that the text of LENGTH, with UNIT behind it, reads as LENGTH to within HALF. */
static void
check_again (sw_length length, const char *figure, const char *unit, sw_length half)
{
  char text[2 * SW_LENGTH_TEXT];
  snprintf (text, sizeof text, "%s%s", figure, unit);
  sw_length again = 0;
  /* Rounding may go beyond the limit. */
  if (magnitude (length) > SW_LENGTH_MAX - half)
    return;
  FUZZ_HOLDS (sw_length_parse (text, SW_BARE_MM, false, &again, NULL));
  FUZZ_HOLDS (magnitude (again - length) <= half);
}

static void
check_length (const char *text, sw_bare bare, bool comma)
{
  sw_length length = 0;
  const char *expected = NULL;
  if (!sw_length_parse (text, bare, comma, &length, &expected))
    {
      FUZZ_HOLDS (expected != NULL && *expected != '\0');
      return;
    }
  FUZZ_HOLDS (magnitude (length) <= SW_LENGTH_MAX);
  char figure[SW_LENGTH_TEXT];
  sw_length_format_mm (length, figure);
  check_again (length, figure, "mm", SW_MM / 20);
  sw_length_format_m (length, false, figure);
  check_again (length, figure, "m", 500);
  sw_length_format_m (length, true, figure);
  check_again (length, figure, "m", 500);
  sw_length_format_inches (length, figure);
  check_again (length, figure, "in", SW_INCH / 32);
  sw_length_format_inches_exact (length, figure);
  check_again (length, figure, "in", 13);
  char shown[SW_SHOWN];
  sw_show_length (length, comma, shown);
  FUZZ_HOLDS (strlen (shown) < SW_SHOWN);
  char phrase[SW_PHRASE];
  sw_length other = 0;
  bool within = length >= SW_MM && length <= SW_METRE;
  FUZZ_HOLDS (sw_value_length (text, bare, comma, SW_MM, SW_METRE, &other, phrase) == within);
  FUZZ_HOLDS (!within || other == length);
  sw_length slope = sw_length_on_slope (length, SW_METRE, length);
  FUZZ_HOLDS (magnitude (slope) >= magnitude (length));
}

static void
check_money (const char *text, bool comma)
{
  sw_money money = 0;
  const char *expected = NULL;
  if (!sw_money_parse (text, comma, &money, &expected))
    {
      FUZZ_HOLDS (expected != NULL && *expected != '\0');
      return;
    }
  FUZZ_HOLDS (money >= 0 && money <= SW_MONEY_MAX);
  char figure[SW_MONEY_TEXT];
  sw_money again = -1;
  sw_money_format_exact (money, figure);
  FUZZ_HOLDS (sw_money_parse (figure, false, &again, NULL) && again == money);
  sw_money_format (money, figure);
  FUZZ_HOLDS (sw_money_parse (figure, false, &again, NULL) || money > SW_MONEY_MAX - SW_MONEY_UNIT);
  FUZZ_HOLDS (magnitude (again - money) <= SW_MONEY_UNIT / 200);
  sw_money total = 0;
  if (sw_money_of_length (money, SW_LENGTH_MAX, &total))
    FUZZ_HOLDS (total >= money);
}

int
LLVMFuzzerTestOneInput (const uint8_t *data, size_t size)
{
  if (size == 0)
    return 0;
  static const sw_bare bares[] = { SW_BARE_MM, SW_BARE_STOCK, SW_BARE_SPAN, SW_BARE_MM };
  sw_bare bare = bares[data[0] & 3];
  bool comma = (data[0] & 4) != 0;
  char *text = fuzz_text (data + 1, size - 1);
  check_length (text, bare, comma);
  check_money (text, comma);
  char phrase[SW_PHRASE];
  int64_t number = 0;
  if (sw_value_whole (text, 1, INT64_MAX, &number, phrase))
    FUZZ_HOLDS (number >= 1);
  if (sw_value_decimal (text, comma, 6, 0, 5000, &number, phrase))
    FUZZ_HOLDS (number >= 0 && number <= INT64_C (5000000000));
  sw_settings *settings = sw_settings_new ();
  sw_report *report = sw_report_new ();
  FUZZ_HOLDS (settings != NULL && report != NULL);
  /* A list of lengths, a rate, a time and a word each have a reader of their own. */
  static const char *const keys[] = { "stock-length", "tax", "time-limit", "stagger", "kerf", "rails", "job" };
  for (size_t i = 0; i < sizeof keys / sizeof *keys; i++)
    {
      sw_status status = sw_settings_set (settings, keys[i], text, report);
      FUZZ_HOLDS (status == SW_OK || status == SW_REJECTED);
    }
  fuzz_check_report (report);
  sw_report_free (report);
  sw_settings_free (settings);
  free (text);
  return 0;
}
