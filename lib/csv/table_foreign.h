/* table_foreign.h - what a file is that is no CSV in UTF-8
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_TABLE_FOREIGN_H
#define SW_TABLE_FOREIGN_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* What a file of the COUNT bytes BYTES is, told by how it begins, as in "the
 * file is an .xlsx workbook"; NULL: it may be CSV in UTF-8. */
const char *sw_table_foreign (const char *bytes, size_t count);

/* The first place in TEXT, of COUNT bytes, that no plain text in UTF-8 holds:
 * a byte of another encoding, a NUL byte or a Unicode noncharacter; COUNT:
 * there is none.  *SIZE: its bytes; *CODE: its character, where it is one
 * (a byte of another encoding: UINT32_MAX). */
size_t sw_table_unsound (const char *text, size_t count, size_t *size, uint32_t *code);

/* Has TEXT, of COUNT bytes, a character that UTF-8 writes in several bytes? */
bool sw_table_has_utf8 (const char *text, size_t count);

/* Where PLACE stands: the line of the file, and which character of that line
 * it is, from 1.  FROM: where line number *LINE begins. */
size_t sw_table_place (const char *from, const char *place, size_t *line);

/* What is to be said of AT in the cell TEXT of COUNT bytes, where CODE is
 * unsound, character number PLACE of its line.  GUESS: it may be a letter of
 * another encoding.  NULL when memory runs out. */
char *sw_table_explain (const char *text, size_t count, size_t at, uint32_t code, size_t place, bool guess);

/* How many of the COUNT bytes at TEXT to show of a faulty cell: whole characters. */
int sw_table_shown (const char *text, size_t count);

#endif
