/* length.h - lengths as whole nanometres: checked arithmetic, parse, format
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_LENGTH_H
#define SW_LENGTH_H

#include "spanwright.h"

/* The longest length that a job may have, 100 km: the sum of many such lengths stays far from overflow. */
#define SW_LENGTH_MAX ((sw_length) 100000 * SW_METRE)

/* A bare number of stock up to this means metres, because no board is only 30 mm long. */
#define SW_BARE_METRES 30
/* What a bare number means. */
typedef enum sw_bare
{
  SW_BARE_MM,     /* millimetres */
  SW_BARE_STOCK,  /* metres up to SW_BARE_METRES, millimetres above */
  SW_BARE_SPAN    /* millimetres; a number under 50 is refused with the hint to write the unit */
} sw_bare;

/* Read a length: 2400, 2400mm, 2.4m, 240cm, 7' 10 1/2", 94.5in, 3/4in, 8ft 6in.  A sign may stand
 * in front, and primes or curly quotes in place of ' and ".  A number has at most 18 decimals; with
 * COMMA it may have a decimal comma.  Only inches have fractions; after feet, inches have their
 * unit and are less than 12.  The value is rounded to the nearest nanometre (half away from zero)
 * and is at most SW_LENGTH_MAX; it may be negative.  Failure: false, and *EXPECTED (when not NULL)
 * says what was expected, as a phrase that follows "expected ". */
bool sw_length_parse (const char *text, sw_bare bare, bool comma, sw_length *out, const char **expected);

/* False: the result does not fit int64, and *OUT means nothing. */
bool sw_length_add (sw_length a, sw_length b, sw_length *out);
bool sw_length_sub (sw_length a, sw_length b, sw_length *out);
bool sw_length_mul (sw_length a, int64_t times, sw_length *out);

#define SW_LENGTH_TEXT 48
/* "2400", "2451.5": millimetres with at most one decimal, rounded half away from zero. */
void sw_length_format_mm (sw_length length, char out[SW_LENGTH_TEXT]);
/* "4.8", "4.8768": metres with as many decimals as needed (at most 6); with FIXED at least one ("4.8", "6.0"). */
void sw_length_format_m (sw_length length, bool fixed, char out[SW_LENGTH_TEXT]);
/* "94 1/2": inches to the nearest 1/16, for the eye. */
void sw_length_format_inches (sw_length length, char out[SW_LENGTH_TEXT]);
/* Do A and B look the same when they are shown in millimetres (with INCHES: in inches, for the eye)? */
bool sw_length_looks_like (sw_length a, sw_length b, bool inches);
/* "94.5": inches as an exact decimal of at most 6 decimals. */
void sw_length_format_inches_exact (sw_length length, char out[SW_LENGTH_TEXT]);

/* The length along the slope of what is LEVEL long on the level, in a bay of SPAN (> 0) that rises
 * by RISE: LEVEL * sqrt (SPAN^2 + RISE^2) / SPAN, to the nearest nanometre, half away from zero.
 * It is exact in integers over the whole range of int64_t.  LEVEL and RISE may be negative.  A
 * result that does not fit comes back as INT64_MAX (-INT64_MAX), which is over SW_LENGTH_MAX.
 * O(log LEVEL * RISE / SPAN). */
sw_length sw_length_on_slope (sw_length level, sw_length span, sw_length rise);

#endif
