/* table_foreign.h - says what a file is when it is not CSV in UTF-8
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_TABLE_FOREIGN_H
#define SW_TABLE_FOREIGN_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* Say what a file is by its first bytes, as in "the file is an .xlsx workbook".  NULL: it may be CSV in UTF-8. */
const char *sw_table_foreign (const char *bytes, size_t count);

/* The first place in TEXT, of COUNT bytes, that plain text in UTF-8 cannot hold: a byte of another
 * encoding, a NUL byte or a Unicode noncharacter.  COUNT: there is no such place.  *SIZE is the
 * number of bytes there; *CODE is the character, or UINT32_MAX for a byte of another encoding. */
size_t sw_table_unsound (const char *text, size_t count, size_t *size, uint32_t *code);

/* Does TEXT, of COUNT bytes, hold a character of several bytes in UTF-8? */
bool sw_table_has_utf8 (const char *text, size_t count);

/* The number of the character at PLACE in its line, from 1.  At first FROM is where line number
 * *LINE begins; at last *LINE is the line of PLACE. */
size_t sw_table_place (const char *from, const char *place, size_t *line);

/* Explain the unsound CODE at AT in the cell TEXT of COUNT bytes.  PLACE is the number of the
 * character in its line.  GUESS: say which letter of another encoding it may be.  NULL when memory
 * runs out. */
char *sw_table_explain (const char *text, size_t count, size_t at, uint32_t code, size_t place, bool guess);

/* How many of the COUNT bytes at TEXT to show of a faulty cell: only whole characters. */
int sw_table_shown (const char *text, size_t count);

#endif
