/* length.c - lengths as whole nanometres: arithmetic, format, slopes
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "base/length.h"

#include "base/decimal.h"

#include <stdio.h>
#include <string.h>

__extension__ typedef unsigned __int128 uint128;

bool
sw_length_add (sw_length a, sw_length b, sw_length *out)
{
  return !__builtin_add_overflow (a, b, out);
}

bool
sw_length_sub (sw_length a, sw_length b, sw_length *out)
{
  return !__builtin_sub_overflow (a, b, out);
}

bool
sw_length_mul (sw_length a, int64_t times, sw_length *out)
{
  return !__builtin_mul_overflow (a, times, out);
}

void
sw_length_format_mm (sw_length length, char out[SW_LENGTH_TEXT])
{
  sw_decimal_format (sw_decimal_round (length, SW_MM / 10), 1, 0, out);
}

void
sw_length_format_m (sw_length length, bool fixed, char out[SW_LENGTH_TEXT])
{
  sw_decimal_format (sw_decimal_round (length, SW_METRE / 1000000), 6, fixed ? 1 : 0, out);
}

void
sw_length_format_inches (sw_length length, char out[SW_LENGTH_TEXT])
{
  int64_t sixteenths = sw_decimal_round (length, SW_INCH / 16);
  int numerator = (int)(sixteenths % 16);
  int64_t whole = sixteenths / 16;
  if (whole != 0 || numerator == 0)
    {
      sw_decimal_format (whole, 0, 0, out);
      if (numerator == 0)
        return;
    }
  /* The sign is written once: a fraction bears it only when no whole number stands before it. */
  size_t used = whole != 0 ? strlen (out) : 0;
  const char *front = whole != 0 ? " " : numerator < 0 ? "-" : "";
  int denominator = 16;
  for (; numerator % 2 == 0; numerator /= 2)
    denominator /= 2;
  snprintf (out + used, SW_LENGTH_TEXT - used, "%s%d/%d", front, numerator < 0 ? -numerator : numerator, denominator);
}

bool
sw_length_looks_like (sw_length a, sw_length b, bool inches)
{
  return sw_decimal_round (a, SW_MM / 10) == sw_decimal_round (b, SW_MM / 10)
         || (inches && sw_decimal_round (a, SW_INCH / 16) == sw_decimal_round (b, SW_INCH / 16));
}

void
sw_length_format_inches_exact (sw_length length, char out[SW_LENGTH_TEXT])
{
  /* A millionth of an inch is 25.4 nm.  The whole inches are split off, so that the rest times ten cannot overflow. */
  int64_t whole = length / SW_INCH;
  int64_t rest = length % SW_INCH;
  sw_decimal_format (whole * 1000000 + sw_decimal_round (rest * 10, 254), 6, 0, out);
}

/* ---- Slopes -------------------------------------------------------------- */

typedef struct product
{
  uint128 high;
  uint128 low;
} product;

static product
multiply (uint128 a, uint128 b)
{
  const uint128 mask = UINT64_MAX;
  uint128 low = (a & mask) * (b & mask);
  uint128 middle = (a >> 64) * (b & mask) + (low >> 64);
  uint128 other = (a & mask) * (b >> 64) + (middle & mask);
  return (product){ (a >> 64) * (b >> 64) + (middle >> 64) + (other >> 64), (other << 64) | (low & mask) };
}

static bool
is_at_most (product a, product b)
{
  return a.high != b.high ? a.high < b.high : a.low <= b.low;
}

static uint64_t
magnitude (sw_length length)
{
  if (length == INT64_MIN)
    return INT64_MAX;
  return (uint64_t)(length < 0 ? -length : length);
}

/* The rounded result is the largest q with
 *
 *      q - 1/2 <= level * sqrt (span^2 + rise^2) / span,
 *
 * that is
 *
 *      ((2 q - 1) span)^2 <= (2 level)^2 (span^2 + rise^2).
 *
 * It is found by halving.  Every factor is below 2^128, so that 256 bits hold each side and nothing
 * is rounded. */
sw_length
sw_length_on_slope (sw_length level, sw_length span, sw_length rise)
{
  if (rise == 0 || level == 0 || span <= 0)
    return level;
  uint64_t length = magnitude (level);
  uint128 climb = magnitude (rise);
  uint128 across = (uint128)span;
  product right = multiply ((uint128)length * 2 * ((uint128)length * 2), across * across + climb * climb);
  /* level <= result < level + level * rise / span + 1, because sqrt (s^2 + r^2) <= s + r. */
  uint128 limit = length + (uint128)length * climb / across + 1;
  uint64_t low = length;
  uint64_t high = limit < INT64_MAX ? (uint64_t)limit : INT64_MAX;
  while (low < high)
    {
      uint64_t middle = high - (high - low) / 2;
      uint128 side = ((uint128)middle * 2 - 1) * across;
      if (is_at_most (multiply (side, side), right))
        low = middle;
      else
        high = middle - 1;
    }
  return level < 0 ? -(sw_length)low : (sw_length)low;
}
