/* verify_plan.h - a good job and its plan, for copying and breaking
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

/* A file.  Row 0 is the header, on line 1.  No cell needs quotes. */
typedef struct plan_sheet
{
  size_t rows;
  size_t columns;
  char *cells[PLAN_MAX_ROWS][PLAN_MAX_COLUMNS];
} plan_sheet;

/* A change to one file. */
typedef struct plan_edit
{
  int file;
  const char *row;     /* texts of cells of the row, between bars; "" for the header */
  const char *column;  /* NULL: the whole row */
  const char *value;   /* new text of the cell; NULL: delete the row; "copy": add the row again at the end */
} plan_edit;

/* The style in which the files are written. */
typedef struct plan_style
{
  char separator;
  bool comma;          /* figures have a decimal comma */
  bool reverse;        /* the last column comes first */
  bool inches;         /* columns end in _in instead of _mm */
  bool mark;           /* there are a byte order mark and CRLF */
} plan_style;

extern const char *const plan_names[PLAN_FILES];

void plan_load (plan_sheet *sheet, const char *dir, int file);
void plan_drop (plan_sheet *sheet);
/* The number of the row that ROW names, at least 1.  The test fails if there is none. */
size_t plan_find (const plan_sheet *sheet, const char *row);
void plan_apply (plan_sheet *sheet, const plan_edit *edit);
/* Turn the rows round. */
void plan_reverse (plan_sheet *sheet);
/* Blank every cell of COLUMN but its name, or remove the whole column. */
void plan_blank (plan_sheet *sheet, const char *column);
void plan_remove (plan_sheet *sheet, const char *column);
void plan_save (const plan_sheet *sheet, const char *dir, int file, const plan_style *style);

#endif
