/* value.h - what a user wrote, as a checked value
 *
 * Each function reads TEXT, which has no outer spaces.  On failure it leaves
 * *OUT alone and writes into EXPECTED what was expected, as a phrase that
 * follows "expected ".
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_VALUE_H
#define SW_VALUE_H

#include "base/length.h"
#include "base/money.h"

#define SW_PHRASE 200
#define SW_COMMA_TEXT 48

/* The longest name of a run, a level, a section or a piece.  Labels are put together of these
 * names, a million times over. */
#define SW_NAME_BYTES 255

/* The smallest length: as MIN it reads "over 0". */
#define SW_LENGTH_OVER_0 ((sw_length) 1)

bool sw_value_length (const char *text, sw_bare bare, bool comma, sw_length min, sw_length max, sw_length *out,
                      char expected[SW_PHRASE]);
bool sw_value_money (const char *text, bool comma, sw_money *out, char expected[SW_PHRASE]);
bool sw_value_whole (const char *text, int64_t min, int64_t max, int64_t *out, char expected[SW_PHRASE]);
/* Read a number that is not below 0, with at most PLACES (0 to 6) decimals, as a whole number of
 * 10^-PLACES.  MIN and MAX are in whole units. */
bool sw_value_decimal (const char *text, bool comma, int places, int64_t min, int64_t max, int64_t *out,
                       char expected[SW_PHRASE]);
/* The place of TEXT in CHOICES; letter case is ignored. */
bool sw_value_choice (const char *text, const char *const *choices, size_t count, size_t *out,
                      char expected[SW_PHRASE]);

/* What a number such as "2,355" may mean where no comma is accepted (value_comma.c).  "": it cannot mean that. */
typedef struct sw_comma
{
  char thousands[SW_COMMA_TEXT]; /* "2355" */
  char decimal[SW_COMMA_TEXT];   /* "2.355" */
} sw_comma;

/* False: TEXT is not a number with a comma, with or without a unit. */
bool sw_value_comma (const char *text, sw_comma *out);
/* Write what COMMA may mean as a phrase.  False: it cannot mean anything. */
bool sw_value_comma_expected (const sw_comma *comma, char expected[SW_PHRASE]);

/* Are A and B the same but for the case of ASCII letters?  The locale does not matter. */
bool sw_same_word (const char *a, const char *b);

/* Is TEXT sound UTF-8 (RFC 3629) without noncharacters? */
bool sw_value_is_utf8 (const char *text);

#define SW_SHOWN 72
/* TEXT for a message.  Long text is cut short, between characters. */
void sw_show_text (const char *text, char out[SW_SHOWN]);
/* LENGTH for a message: "2400 mm", "94 1/2 in". */
void sw_show_length (sw_length length, bool inches, char out[SW_SHOWN]);
/* Two lengths for one message.  If they differ they are shown with as many decimals as it takes to look different. */
void sw_show_lengths (sw_length a, sw_length b, bool inches, char a_out[SW_SHOWN], char b_out[SW_SHOWN]);

#endif
