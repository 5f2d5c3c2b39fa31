/* value.c - what a user wrote, as a checked value
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "csv/value.h"
#include "base/decimal.h"
#include "base/text.h"

#include <inttypes.h>
#include <stdio.h>
#include <string.h>

static void
show_bound (sw_length length, char out[SW_SHOWN])
{
  char figure[SW_LENGTH_TEXT];
  bool metres = length % SW_METRE == 0 && length != 0;
  if (metres)
    sw_length_format_m (length, false, figure);
  else
    sw_length_format_mm (length, figure);
  snprintf (out, SW_SHOWN, "%s %s", figure, metres ? "m" : "mm");
}

static bool
is_length (const char *text, sw_bare bare, sw_length min, sw_length max)
{
  sw_length length;
  return *text != '\0' && sw_length_parse (text, bare, false, &length, NULL) && length >= min && length <= max;
}

/* Say what TEXT may mean, which is no length because of its comma. */
static bool
explain_length (const char *text, sw_bare bare, sw_length min, sw_length max, char expected[SW_PHRASE])
{
  sw_comma comma;
  if (!sw_value_comma (text, &comma))
    return false;
  if (!is_length (comma.thousands, bare, min, max))
    comma.thousands[0] = '\0';
  /* A few metres with decimals would be too short as millimetres. */
  size_t length = strlen (comma.decimal);
  if (length > 0 && !is_length (comma.decimal, bare, min, max))
    {
      if (comma.decimal[length - 1] >= '0' && comma.decimal[length - 1] <= '9')
        memcpy (comma.decimal + length, "m", 2);
      if (!is_length (comma.decimal, bare, min, max))
        comma.decimal[0] = '\0';
    }
  return sw_value_comma_expected (&comma, expected);
}

bool
sw_value_length (const char *text, sw_bare bare, bool comma, sw_length min, sw_length max, sw_length *out,
                 char expected[SW_PHRASE])
{
  sw_length length;
  const char *phrase = "a length";
  if (!sw_length_parse (text, bare, comma, &length, &phrase))
    {
      if (comma || !explain_length (text, bare, min, max, expected))
        snprintf (expected, SW_PHRASE, "%s", phrase);
      return false;
    }
  if (length < min || length > max)
    {
      char low[SW_SHOWN];
      char high[SW_SHOWN];
      show_bound (min, low);
      show_bound (max, high);
      if (min == SW_LENGTH_OVER_0)
        snprintf (expected, SW_PHRASE, "a length over 0 and not over %s", high);
      else
        snprintf (expected, SW_PHRASE, "a length from %s to %s%s", low, high,
                  bare == SW_BARE_MM && min > 0 ? " (a bare number is millimetres)" : "");
      return false;
    }
  *out = length;
  return true;
}

bool
sw_value_money (const char *text, bool comma, sw_money *out, char expected[SW_PHRASE])
{
  const char *phrase = "an amount of money";
  if (sw_money_parse (text, comma, out, &phrase))
    return true;
  sw_comma meant;
  if (comma || !sw_value_comma (text, &meant) || !sw_value_comma_expected (&meant, expected))
    snprintf (expected, SW_PHRASE, "%s", phrase);
  return false;
}

bool
sw_value_whole (const char *text, int64_t min, int64_t max, int64_t *out, char expected[SW_PHRASE])
{
  int64_t value = 0;
  bool good = *text != '\0';
  for (const char *c = text; good && *c != '\0'; c++)
    {
      good = *c >= '0' && *c <= '9' && value <= (max - (*c - '0')) / 10;
      if (good)
        value = value * 10 + (*c - '0');
    }
  if (!good || value < min || value > max)
    {
      sw_comma meant;
      if (sw_value_comma (text, &meant) && meant.thousands[0] != '\0')
        {
          meant.decimal[0] = '\0';
          sw_value_comma_expected (&meant, expected);
          return false;
        }
      snprintf (expected, SW_PHRASE, "a whole number from %" PRId64 " to %" PRId64, min, max);
      return false;
    }
  *out = value;
  return true;
}

bool
sw_value_decimal (const char *text, bool comma, int places, int64_t min, int64_t max, int64_t *out,
                  char expected[SW_PHRASE])
{
  int64_t scale = 1;
  for (int i = 0; i < places; i++)
    scale *= 10;
  int64_t value;
  if (sw_decimal_parse (text, comma, places, &value) && value >= min * scale && value <= max * scale)
    {
      *out = value;
      return true;
    }
  sw_comma meant;
  if (comma || !sw_value_comma (text, &meant) || !sw_value_comma_expected (&meant, expected))
    snprintf (expected, SW_PHRASE, "a number from %" PRId64 " to %" PRId64 " with at most %d decimals", min, max,
              places);
  return false;
}

bool
sw_value_choice (const char *text, const char *const *choices, size_t count, size_t *out, char expected[SW_PHRASE])
{
  for (size_t i = 0; i < count; i++)
    if (sw_same_word (text, choices[i]))
      {
        *out = i;
        return true;
      }
  size_t used = 0;
  expected[0] = '\0';
  for (size_t i = 0; i < count && used < SW_PHRASE; i++)
    {
      const char *before = i == 0 ? "" : i + 1 == count ? " or " : ", ";
      int added = snprintf (expected + used, SW_PHRASE - used, "%s\"%s\"", before, choices[i]);
      used += added > 0 ? (size_t)added : 0;
    }
  return false;
}

static char
lower (char c)
{
  return (char)(c >= 'A' && c <= 'Z' ? c - 'A' + 'a' : c);
}

bool
sw_same_word (const char *a, const char *b)
{
  while (*a != '\0' && lower (*a) == lower (*b))
    {
      a++;
      b++;
    }
  return *a == '\0' && *b == '\0';
}

bool
sw_value_is_utf8 (const char *text)
{
  size_t left = strlen (text);
  while (left > 0)
    {
      uint32_t code;
      size_t bytes = sw_text_decode (text, left, &code);
      if (bytes == 0 || sw_text_is_noncharacter (code))
        return false;
      text += bytes;
      left -= bytes;
    }
  return true;
}

void
sw_show_text (const char *text, char out[SW_SHOWN])
{
  static const char more[] = "...";
  size_t length = strlen (text);
  if (length < SW_SHOWN)
    {
      memcpy (out, text, length + 1);
      return;
    }
  size_t keep = SW_SHOWN - sizeof more;
  /* Bytes 10xxxxxx continue a character, so step back to the beginning of one. */
  while (keep > 0 && ((unsigned char)text[keep] & 0xC0) == 0x80)
    keep--;
  memcpy (out, text, keep);
  memcpy (out + keep, more, sizeof more);
}

void
sw_show_length (sw_length length, bool inches, char out[SW_SHOWN])
{
  char figure[SW_LENGTH_TEXT];
  if (inches)
    sw_length_format_inches (length, figure);
  else
    sw_length_format_mm (length, figure);
  snprintf (out, SW_SHOWN, "%s %s", figure, inches ? "in" : "mm");
}

/* Show LENGTH with PLACES decimals of a millimetre; with INCHES, to the millionth of an inch. */
static void
show_closer (sw_length length, bool inches, int places, char out[SW_SHOWN])
{
  char figure[SW_LENGTH_TEXT];
  int64_t unit = SW_MM;
  for (int p = 0; p < places; p++)
    unit /= 10;
  if (inches)
    sw_length_format_inches_exact (length, figure);
  else
    sw_decimal_format (sw_decimal_round (length, unit), places, 0, figure);
  snprintf (out, SW_SHOWN, "%s %s", figure, inches ? "in" : "mm");
}

void
sw_show_lengths (sw_length a, sw_length b, bool inches, char a_out[SW_SHOWN], char b_out[SW_SHOWN])
{
  sw_show_length (a, inches, a_out);
  sw_show_length (b, inches, b_out);
  for (int places = 2; a != b && strcmp (a_out, b_out) == 0 && places <= 6; places++)
    {
      show_closer (a, inches, places, a_out);
      show_closer (b, inches, places, b_out);
    }
  /* A millionth of an inch is 25 nanometres. */
  if (a != b && strcmp (a_out, b_out) == 0)
    {
      show_closer (a, false, 6, a_out);
      show_closer (b, false, 6, b_out);
    }
}
