/* field.h - the cells of a table's row as checked values
 *
 * A reader names its columns once and then asks, row by row, for values.
 * What is wrong goes to the report with file, line and column, and is counted.
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
  int where[SW_FIELDS_MAX];  /* column of the table, or -1 */
  size_t row;                /* the reader moves it */
  bool comma;                /* a decimal comma is accepted */
  size_t faults;             /* found so far */
} sw_fields;

/* Another word for choice number INDEX. */
typedef struct sw_other_word
{
  const char *word;
  size_t index;
} sw_other_word;

/* Find the columns NAMES (COUNT of them, at most SW_FIELDS_MAX) in TABLE.
 * The first NEEDED must be there: else false.  Columns that are not known
 * are reported once each as ignored. */
bool sw_fields_begin (sw_fields *fields, const sw_table *table, const char *const *names, size_t count,
                      size_t needed, sw_report *report);

/* Which of the COUNT columns that FIELDS knows and the file does not have was
 * perhaps meant by HEADER, which is not known: a hyphen for an underscore,
 * another word for the same, a misspelling.  NULL: none. */
const char *sw_field_meant (const sw_fields *fields, const char *header, size_t count);

/* Does what stands for the header of FIELDS' file, of whose COUNT columns it
 * names none, look like a row of data?  Then it is a fault, told here; the
 * first NEEDED columns are the example. */
bool sw_field_header_is_data (sw_fields *fields, size_t count, size_t needed);

/* Text of the cell; "" where blank or where the column is not there. */
const char *sw_field (const sw_fields *fields, size_t column);
/* Is it a number without a unit? */
bool sw_field_is_bare (const sw_fields *fields, size_t column);
/* Line of the file on which the row begins. */
size_t sw_field_line (const sw_fields *fields);

void sw_field_fault (sw_fields *fields, size_t column, const char *format, ...) SW_PRINTF (3, 4);
void sw_field_warn (sw_fields *fields, size_t column, const char *format, ...) SW_PRINTF (3, 4);
/* Warn that the bare number of the cell, taken for LENGTH, may be meant in
 * centimetres (INCHES: in inches).  MORE goes on with why a bare number is millimetres; "" says no more. */
void sw_field_warn_unit (sw_fields *fields, size_t column, sw_length length, bool inches, const char *more);
/* The fault "expected EXPECTED, found ...". */
void sw_field_expected (sw_fields *fields, size_t column, const char *expected);

/* A name that must be there: false after a fault. */
bool sw_field_name (sw_fields *fields, size_t column, const char *what, const char **out);

/* The others return false only after a fault; a blank cell leaves *OUT as it is. */
bool sw_field_length (sw_fields *fields, size_t column, sw_bare bare, sw_length min, sw_length max, sw_length *out);
bool sw_field_money (sw_fields *fields, size_t column, sw_money *out);
bool sw_field_whole (sw_fields *fields, size_t column, int64_t min, int64_t max, int64_t *out);
bool sw_field_decimal (sw_fields *fields, size_t column, int places, int64_t min, int64_t max, int64_t *out);
bool sw_field_choice (sw_fields *fields, size_t column, const char *const *choices, size_t count, size_t *out);
/* The same; the words OTHERS, up to one of NULL, are read too and not offered. */
bool sw_field_choice_too (sw_fields *fields, size_t column, const char *const *choices, size_t count,
                          const sw_other_word *others, size_t *out);
/* A cell that may not be blank: false after a fault. */
bool sw_field_needed (sw_fields *fields, size_t column, const char *what);

#endif
