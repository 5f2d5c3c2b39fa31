/* text.h - builds strings, and shows text from a user safely
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_TEXT_H
#define SW_TEXT_H

#include "spanwright.h"

#include <stdarg.h>

/* A growing string; { 0 } is an empty one.  Once an allocation has failed, later calls do nothing
 * and sw_text_take returns NULL. */
typedef struct sw_text
{
  char *data;
  size_t length;
  size_t capacity;
  bool failed;
} sw_text;

void sw_text_add (sw_text *text, const char *string);
void sw_text_add_bytes (sw_text *text, const char *bytes, size_t count);
void sw_text_printf (sw_text *text, const char *format, ...) SW_PRINTF (2, 3);
void sw_text_vprintf (sw_text *text, const char *format, va_list arguments) SW_PRINTF (2, 0);
void sw_text_repeat (sw_text *text, char character, size_t count);
/* Hand the string over to the caller (never NULL unless an allocation failed).  TEXT is empty afterwards. */
char *sw_text_take (sw_text *text);
void sw_text_drop (sw_text *text);

/* The path of NAME in the folder DIR ("" is the folder that the program runs in).  NULL when memory runs out. */
char *sw_text_path (const char *dir, const char *name);

/* Add text that came from a user in a form that a terminal only shows: control characters, bytes
 * that are not UTF-8, line separators and marks that turn the writing direction become \xNN or
 * \u{NNNN}. */
void sw_text_add_shown (sw_text *text, const char *bytes, size_t count);

/* The number of bytes of the UTF-8 character at BYTES, where COUNT (> 0) bytes are left; its code
 * goes to *CODE.  0: the bytes are not valid (over-long forms and surrogates are not). */
size_t sw_text_decode (const char *bytes, size_t count, uint32_t *code);

/* Is CODE one of the 66 codes that Unicode reserves for no character (U+FDD0 to U+FDEF, and the
 * last two of every plane)?  No text may hold them, because XML, and so the sheet's SVG, forbids
 * some. */
bool sw_text_is_noncharacter (uint32_t code);

#define SW_TEXT_ERROR 128
/* The system's words for ERROR, a value of errno; they may stand in BUFFER.  Unlike strerror it can
 * be called from any thread. */
const char *sw_text_error (int error, char buffer[SW_TEXT_ERROR]);

/* The number of columns that a UTF-8 string takes on a terminal: wide characters count 2, combining marks 0. */
size_t sw_text_width (const char *utf8);

/* The number of bytes to insert, drop or change to make A of B (Levenshtein's distance).  ROW has
 * room for one number more than B has bytes.  O(bytes of A * bytes of B). */
size_t sw_text_distance (const char *a, const char *b, size_t *row);

#endif
