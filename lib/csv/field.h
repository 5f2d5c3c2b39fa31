/* field.h - the cells of one row at a time as checked values
 *
 * sw_fields is a reader of a table: the columns that the reader named, the row
 * that it stands on, and its faults.  The reader names its columns once and
 * then asks, row by row, for values.  What is wrong goes to the report with
 * file, line and column, and is counted.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_FIELD_H
#define SW_FIELD_H

#include "csv/table.h"
#include "csv/value.h"

#define SW_FIELDS_MAX 16

typedef struct sw_fields
{
  const sw_table *table;
  sw_report *report;
  const char *const *names;
  int where[SW_FIELDS_MAX];  /* of each name: the column of the table, or -1 */
  size_t row;                /* the row that is read; the reader moves on by changing it */
  bool comma;                /* numbers may have a decimal comma */
  size_t faults;             /* found so far */
} sw_fields;

/* Another word that means the same as the word number INDEX of a list. */
typedef struct sw_other_word
{
  const char *word;
  size_t index;
} sw_other_word;

/* Find the columns NAMES (COUNT of them, at most SW_FIELDS_MAX) in TABLE.  False: one of the first
 * NEEDED is missing.  Each unknown column is reported once as ignored. */
bool sw_fields_begin (sw_fields *fields, const sw_table *table, const char *const *names, size_t count,
                      size_t needed, sw_report *report);

/* Guess which of the first COUNT columns HEADER was meant to name.  HEADER is unknown, and the
 * column is missing from the file.  HEADER may have a hyphen for an underscore, be another word for
 * the same, or be misspelt.  NULL: there is no likely column. */
const char *sw_field_meant (const sw_fields *fields, const char *header, size_t count);

/* Report a fault when the file has a row of data where its header should be.  FIELDS has found none
 * of its COUNT columns in that row.  The message shows the first NEEDED columns as an example.
 * Returns whether it is a fault. */
bool sw_field_header_is_data (sw_fields *fields, size_t count, size_t needed);

/* The text of the cell; "" when the cell is blank or the file does not have the column. */
const char *sw_field (const sw_fields *fields, size_t column);
/* Is the cell a number without a unit? */
bool sw_field_is_bare (const sw_fields *fields, size_t column);
/* The line of the file on which the row begins. */
size_t sw_field_line (const sw_fields *fields);

void sw_field_fault (sw_fields *fields, size_t column, const char *format, ...) SW_PRINTF (3, 4);
void sw_field_warn (sw_fields *fields, size_t column, const char *format, ...) SW_PRINTF (3, 4);
/* Warn that the bare number of the cell may be meant in centimetres (INCHES: in inches), where it
 * was taken for LENGTH.  MORE ends the message with the reason why a bare number means millimetres;
 * it may be "". */
void sw_field_warn_unit (sw_fields *fields, size_t column, sw_length length, bool inches, const char *more);
/* Report the fault "expected EXPECTED, found ...". */
void sw_field_expected (sw_fields *fields, size_t column, const char *expected);

/* Read a name, which may not be blank.  False after a fault. */
bool sw_field_name (sw_fields *fields, size_t column, const char *what, const char **out);

/* These read a value; a blank cell leaves *OUT as it is.  False after a fault. */
bool sw_field_length (sw_fields *fields, size_t column, sw_bare bare, sw_length min, sw_length max, sw_length *out);
bool sw_field_money (sw_fields *fields, size_t column, sw_money *out);
bool sw_field_whole (sw_fields *fields, size_t column, int64_t min, int64_t max, int64_t *out);
bool sw_field_decimal (sw_fields *fields, size_t column, int places, int64_t min, int64_t max, int64_t *out);
bool sw_field_choice (sw_fields *fields, size_t column, const char *const *choices, size_t count, size_t *out);
/* As sw_field_choice, but the words OTHERS are read, too.  A message does not offer them.  The last
 * of OTHERS has a NULL word. */
bool sw_field_choice_too (sw_fields *fields, size_t column, const char *const *choices, size_t count,
                          const sw_other_word *others, size_t *out);
/* Refuse a blank cell: false after a fault. */
bool sw_field_needed (sw_fields *fields, size_t column, const char *what);

#endif
