/* value_comma.c - a number with a comma in it, where no comma is accepted
 *
 * "2,355" means 2355 to some and 2.355 to others.  It is refused, and the
 * message names both.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "csv/value.h"

#include <stdio.h>
#include <string.h>

/* A number is not as long as that. */
#define LONGEST 40

static const char digit[] = "0123456789";

/* Do the commas of TEXT, which is COUNT digits and commas, stand between thousands?  Then one to
 * three digits stand in front, and three follow each comma. */
static bool
parts_thousands (const char *text, size_t count)
{
  size_t first = strspn (text, digit);
  if (first == 0 || first > 3 || *text == '0' || (count - first) % 4 != 0)
    return false;
  for (size_t at = first; at < count; at += 4)
    if (text[at] != ',' || strspn (text + at + 1, digit) != 3)
      return false;
  return true;
}

bool
sw_value_comma (const char *text, sw_comma *out)
{
  *out = (sw_comma){ "", "" };
  size_t sign = *text == '-' || *text == '+' ? 1 : 0;
  size_t count = strspn (text + sign, "0123456789,");
  const char *rest = text + sign + count;
  const char *number = text + sign;
  const char *comma = memchr (number, ',', count);
  if (comma == NULL || comma == number || number[count - 1] == ',' || strlen (text) > LONGEST
      || strchr (rest, ',') != NULL)
    return false;
  if (parts_thousands (number, count))
    {
      size_t used = 0;
      for (const char *p = text; *p != '\0'; p++)
        if (*p != ',')
          out->thousands[used++] = *p;
      out->thousands[used] = '\0';
    }
  if (memchr (comma + 1, ',', (size_t)(rest - comma) - 1) == NULL && *rest != '.')
    {
      memcpy (out->decimal, text, strlen (text) + 1);
      out->decimal[comma - text] = '.';
    }
  return out->thousands[0] != '\0' || out->decimal[0] != '\0';
}

bool
sw_value_comma_expected (const sw_comma *comma, char expected[SW_PHRASE])
{
  if (comma->thousands[0] != '\0' && comma->decimal[0] != '\0')
    snprintf (expected, SW_PHRASE, "%s (if the comma stands between thousands) or %s (if it is a decimal comma)",
              comma->thousands, comma->decimal);
  else if (comma->thousands[0] != '\0')
    snprintf (expected, SW_PHRASE, "%s, without a comma between thousands", comma->thousands);
  else if (comma->decimal[0] != '\0')
    snprintf (expected, SW_PHRASE, "%s, with a decimal point", comma->decimal);
  return comma->thousands[0] != '\0' || comma->decimal[0] != '\0';
}
