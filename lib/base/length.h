/* length.h - lengths as whole nanometres: checked arithmetic, parse, format
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_LENGTH_H
#define SW_LENGTH_H

#include "spanwright.h"

/* No length of a job may be longer (100 km): sums of many stay far from overflow. */
#define SW_LENGTH_MAX ((sw_length) 100000 * SW_METRE)

/* A bare number of stock up to this is metres. */
#define SW_BARE_METRES 30
/* What a bare number means. */
typedef enum sw_bare
{
  SW_BARE_MM,     /* millimetres */
  SW_BARE_STOCK,  /* up to SW_BARE_METRES: metres; else millimetres */
  SW_BARE_SPAN    /* millimetres; under 50 refused with the hint to write the unit */
} sw_bare;

/* Read a length: 2400, 2400mm, 2.4m, 240cm, 7' 10 1/2", 94.5in, 3/4in, 8ft 6in,
 * a sign in front; primes and curly quotes do for ' and ".  At most 18
 * decimals; fractions only of inches; after feet less than 12 inches, with
 * their unit.  COMMA: a decimal comma is accepted too.  The value must be a
 * whole number of nanometres, or is rounded to the nearest (half away from
 * zero), and is at most SW_LENGTH_MAX.  A negative one is fine here.
 * Failure: false, and *EXPECTED (when not NULL) says what was expected, as a
 * phrase that follows "expected ". */
bool sw_length_parse (const char *text, sw_bare bare, bool comma, sw_length *out, const char **expected);

/* False: out of int64; *OUT then means nothing. */
bool sw_length_add (sw_length a, sw_length b, sw_length *out);
bool sw_length_sub (sw_length a, sw_length b, sw_length *out);
bool sw_length_mul (sw_length a, int64_t times, sw_length *out);

#define SW_LENGTH_TEXT 48
/* "2400", "2451.5": millimetres with at most one decimal, half away from zero. */
void sw_length_format_mm (sw_length length, char out[SW_LENGTH_TEXT]);
/* "4.8", "4.8768": metres, as many decimals as needed (at most 6), at least one when FIXED ("4.8", "6.0"). */
void sw_length_format_m (sw_length length, bool fixed, char out[SW_LENGTH_TEXT]);
/* "94 1/2": inches to the nearest 1/16, for the eye. */
void sw_length_format_inches (sw_length length, char out[SW_LENGTH_TEXT]);
/* Do A and B look the same in millimetres, or with INCHES in inches for the eye? */
bool sw_length_looks_like (sw_length a, sw_length b, bool inches);
/* "94.5": inches as an exact decimal (at most 6 decimals). */
void sw_length_format_inches_exact (sw_length length, char out[SW_LENGTH_TEXT]);

/* Length along the slope of LEVEL, measured in a bay of SPAN that rises by
 * RISE: LEVEL * sqrt (SPAN^2 + RISE^2) / SPAN, to the nearest nanometre (half
 * away from zero, exact in integers over the whole range of int64_t).  SPAN > 0.
 * RISE 0: LEVEL itself.  LEVEL and RISE may be negative.  A result that does
 * not fit comes back as INT64_MAX (-INT64_MAX), which is over SW_LENGTH_MAX.
 * O(log LEVEL * RISE / SPAN). */
sw_length sw_length_on_slope (sw_length level, sw_length span, sw_length rise);

#endif
