/* decimal.h - decimal numbers as whole multiples of a power of ten
 *
 * Lengths, money, rates and densities are read and printed by these functions,
 * without any floating point.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_DECIMAL_H
#define SW_DECIMAL_H

#include "spanwright.h"

/* A number with more decimals is refused. */
#define SW_DECIMAL_PLACES 18

/* A number without a sign: whole + fraction / 10^SW_DECIMAL_PLACES. */
typedef struct sw_decimal
{
  int64_t whole;    /* >= 0 */
  int64_t fraction; /* in 0 .. 10^SW_DECIMAL_PLACES - 1 */
  bool has_point;
} sw_decimal;

/* Read a number at TEXT: digits, then perhaps a point (or a comma, when COMMA) with digits after
 * it.  ".5" is accepted, "5." is not.  Returns the first character after the number, or NULL when
 * there is no number or it does not fit. */
const char *sw_decimal_scan (const char *text, bool comma, sw_decimal *out);

/* Read a number that is the whole of TEXT but for outer spaces and at most one sign.  It has at
 * most PLACES decimals (0 to SW_DECIMAL_PLACES; trailing zeros do not count); *OUT is the number
 * times 10^PLACES. */
bool sw_decimal_parse (const char *text, bool comma, int places, int64_t *out);

#define SW_DECIMAL_TEXT 48
/* Print VALUE / 10^PLACES with a point: at least MINIMUM decimals, and more as long as they are not all zero. */
void sw_decimal_format (int64_t value, int places, int minimum, char out[SW_DECIMAL_TEXT]);

/* VALUE / DIVISOR to the nearest whole number, half away from zero.  DIVISOR > 0. */
int64_t sw_decimal_round (int64_t value, int64_t divisor);

/* The greatest common divisor, not negative; of 0 and B it is B. */
int64_t sw_decimal_gcd (int64_t a, int64_t b);

/* The first character of TEXT that is not a space, a tab or one of the no-break spaces that
 * spreadsheets put between a number and its unit. */
const char *sw_decimal_skip_spaces (const char *text);

#endif
