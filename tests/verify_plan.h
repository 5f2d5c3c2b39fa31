/* verify_plan.h - a good job and its plan, to be copied and broken
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef VERIFY_PLAN_H
#define VERIFY_PLAN_H

#include <stdbool.h>
#include <stddef.h>

enum
{
  PLAN_ORDER,
  PLAN_CUTS,
  PLAN_FIT,
  PLAN_SETOUT,
  PLAN_SPANS,
  PLAN_LEVELS,
  PLAN_STOCK,
  PLAN_SECTIONS,
  PLAN_EXTRAS,
  PLAN_FILES
};

#define PLAN_MAX_ROWS 160
#define PLAN_MAX_COLUMNS 20

/* A file; row 0 is the header, on line 1.  No cell of it needs quotes. */
typedef struct plan_sheet
{
  size_t rows;
  size_t columns;
  char *cells[PLAN_MAX_ROWS][PLAN_MAX_COLUMNS];
} plan_sheet;

/* What is done to one file. */
typedef struct plan_edit
{
  int file;
  const char *row;     /* texts that stand in cells of one row, between bars; "" for the header */
  const char *column;  /* NULL: the whole row */
  const char *value;   /* new text of the cell; NULL: delete the row; "copy": add it again at the end */
} plan_edit;

/* How the files are written. */
typedef struct plan_style
{
  char separator;
  bool comma;          /* decimal comma in figures */
  bool reverse;        /* last column first */
  bool inches;         /* columns _in instead of _mm */
  bool mark;           /* byte order mark, CRLF */
} plan_style;

extern const char *const plan_names[PLAN_FILES];

void plan_load (plan_sheet *sheet, const char *dir, int file);
void plan_drop (plan_sheet *sheet);
/* The row that ROW names, at least 1; fails the test when there is none. */
size_t plan_find (const plan_sheet *sheet, const char *row);
void plan_apply (plan_sheet *sheet, const plan_edit *edit);
/* The last row first. */
void plan_reverse (plan_sheet *sheet);
/* Every cell of COLUMN but its name, or the whole column. */
void plan_blank (plan_sheet *sheet, const char *column);
void plan_remove (plan_sheet *sheet, const char *column);
void plan_save (const plan_sheet *sheet, const char *dir, int file, const plan_style *style);

#endif
