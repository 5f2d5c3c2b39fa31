/* text.h - building a string (layer 0)
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_TEXT_H
#define SW_TEXT_H

#include "spanwright.h"

/* A growing string; { 0 } is an empty one.  A failed allocation sticks:
 * later calls do nothing, sw_text_take returns NULL. */
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
void sw_text_repeat (sw_text *text, char character, size_t count);
/* Hand the string over (never NULL unless an allocation failed); TEXT is empty afterwards. */
char *sw_text_take (sw_text *text);
void sw_text_drop (sw_text *text);

/* Columns that a UTF-8 string takes on a terminal (wide characters count 2, combining marks 0). */
size_t sw_text_width (const char *utf8);

#endif
