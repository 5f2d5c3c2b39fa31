/* length_parse.c - reading a length as a carpenter writes it
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "base/length.h"

#include "base/decimal.h"

#include <string.h>

__extension__ typedef __int128 int128;

static const char any_length[] = "a length such as 2400, 2400mm, 2.4m, 94.5in or 7' 10 1/2\"";
static const char whole_inches[] = "feet and inches such as 7' 10 1/2\" or 8ft 6in, with the inches below 12";
static const char span_unit[] = "a bay of 50 or more: a bare number is millimetres, else write the unit (2.4m, 8ft)";
static const char too_long[] = "a length of at most 100 km";

typedef enum unit
{
  NO_UNIT,
  MILLIMETRES,
  CENTIMETRES,
  METRES,
  FEET,
  INCHES
} unit;

static const struct
{
  const char *text;
  unit unit;
} units[] = {
  { "mm", MILLIMETRES },      { "cm", CENTIMETRES }, { "m", METRES },  { "ft", FEET },
  { "in", INCHES },           { "'", FEET },         { "\"", INCHES }, { "\xE2\x80\xB2", FEET }, /* prime */
  { "\xE2\x80\xB3", INCHES },                                                                    /* double prime */
  { "\xE2\x80\x99", FEET }, /* the curly quotes that telephones write */
  { "\xE2\x80\x9D", INCHES },
};

static sw_length
size_of (unit unit)
{
  switch (unit)
    {
    case CENTIMETRES:
      return 10 * SW_MM;
    case METRES:
      return SW_METRE;
    case FEET:
      return 12 * SW_INCH;
    case INCHES:
      return SW_INCH;
    case NO_UNIT:
    case MILLIMETRES:
      break;
    }
  return SW_MM;
}

/* A number and its unit: whole + fraction/10^18 + top/bottom. */
typedef struct quantity
{
  sw_decimal number;
  int64_t top;
  int64_t bottom; /* 0: no written fraction */
  unit unit;
} quantity;

static char
lower (char character)
{
  return character >= 'A' && character <= 'Z' ? (char)(character - 'A' + 'a') : character;
}

static const char *
scan_unit (const char *text, unit *out)
{
  for (size_t i = 0; i < sizeof units / sizeof units[0]; i++)
    {
      size_t n = 0;
      while (units[i].text[n] != '\0' && lower (text[n]) == units[i].text[n])
        n++;
      if (units[i].text[n] == '\0')
        {
          *out = units[i].unit;
          return text + n;
        }
    }
  *out = NO_UNIT;
  return text;
}

/* Read a fraction such as "1/2" at TEXT.  It must be less than 1 when a whole number stands before it. */
static const char *
scan_fraction (const char *text, bool proper, quantity *out)
{
  sw_decimal top;
  sw_decimal bottom;
  text = sw_decimal_scan (text, false, &top);
  if (text == NULL || *text != '/' || top.has_point)
    return NULL;
  text = sw_decimal_scan (text + 1, false, &bottom);
  if (text == NULL || bottom.has_point || bottom.whole == 0 || bottom.whole > 1000 || top.whole > 1000000
      || (proper && top.whole >= bottom.whole))
    return NULL;
  out->top = top.whole;
  out->bottom = bottom.whole;
  return text;
}

/* Read one number with its unit, if it has one.  NULL: there is none. */
static const char *
scan_quantity (const char *text, bool comma, quantity *out)
{
  *out = (quantity){ { 0, 0, false }, 0, 0, NO_UNIT };
  const char *after = sw_decimal_scan (text, comma, &out->number);
  if (after == NULL)
    return NULL;
  const char *next = sw_decimal_skip_spaces (after);
  if (*after == '/')
    {
      /* The number was the upper part of a fraction without a whole number. */
      out->number = (sw_decimal){ 0, 0, false };
      after = scan_fraction (text, false, out);
    }
  else if (next > after && *next >= '0' && *next <= '9' && !out->number.has_point)
    {
      const char *end = scan_fraction (next, true, out);
      if (end != NULL)
        after = end;
    }
  if (after == NULL)
    return NULL;
  after = scan_unit (sw_decimal_skip_spaces (after), &out->unit);
  /* Only inches are written as fractions. */
  return out->bottom != 0 && out->unit != INCHES ? NULL : after;
}

/* False: too long to say. */
static bool
to_length (const quantity *quantity, sw_length size, sw_length *out)
{
  sw_length whole;
  if (!sw_length_mul (quantity->number.whole, size, &whole))
    return false;
  int128 part = (int128)quantity->number.fraction * size;
  int128 scale = 1000000000000000000;
  if (quantity->bottom != 0)
    {
      part = (int128)quantity->top * size;
      scale = quantity->bottom;
    }
  return sw_length_add (whole, (sw_length)((2 * part + scale) / (2 * scale)), out);
}

/* Give a bare number its unit.  False: it is refused. */
static bool
bare_size (const quantity *quantity, sw_bare bare, sw_length *size)
{
  *size = SW_MM;
  if (bare == SW_BARE_SPAN)
    return quantity->number.whole >= 50;
  if (bare == SW_BARE_STOCK)
    if (quantity->number.whole < SW_BARE_METRES
        || (quantity->number.whole == SW_BARE_METRES && quantity->number.fraction == 0))
      *size = SW_METRE;
  return true;
}

/* Read a length without a sign.  Returns NULL, or what was expected. */
static const char *
parse_magnitude (const char *text, sw_bare bare, bool comma, sw_length *out)
{
  quantity first;
  text = scan_quantity (text, comma, &first);
  if (text == NULL)
    return any_length;
  sw_length size = size_of (first.unit);
  const char *next = sw_decimal_skip_spaces (text);
  if (*next != '\0' && first.unit != FEET)
    return any_length;
  if (first.unit == NO_UNIT && !bare_size (&first, bare, &size))
    return span_unit;
  if (!to_length (&first, size, out))
    return too_long;
  if (*next != '\0')
    {
      quantity second;
      sw_length inches;
      /* In 7'-10 1/2" the dash belongs to the notation and is not a sign. */
      if (*next == '-')
        next = sw_decimal_skip_spaces (next + 1);
      next = scan_quantity (next, comma, &second);
      if (next == NULL || *sw_decimal_skip_spaces (next) != '\0' || second.unit != INCHES || first.number.has_point)
        return whole_inches;
      if (!to_length (&second, SW_INCH, &inches) || inches >= 12 * SW_INCH)
        return whole_inches;
      if (!sw_length_add (*out, inches, out))
        return too_long;
    }
  return *out > SW_LENGTH_MAX ? too_long : NULL;
}

bool
sw_length_parse (const char *text, sw_bare bare, bool comma, sw_length *out, const char **expected)
{
  text = sw_decimal_skip_spaces (text);
  bool negative = *text == '-';
  if (*text == '-' || *text == '+')
    text++;
  else if (strncmp (text, "\xE2\x88\x92", 3) == 0) /* the true minus sign, which some spreadsheets write */
    {
      negative = true;
      text += 3;
    }
  sw_length length = 0;
  const char *wanted = parse_magnitude (text, bare, comma, &length);
  if (wanted != NULL)
    {
      if (expected != NULL)
        *expected = wanted;
      return false;
    }
  *out = negative ? -length : length;
  return true;
}
