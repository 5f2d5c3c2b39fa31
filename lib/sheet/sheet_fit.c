/* sheet_fit.c - which piece goes where, a line a piece, to look up what has no room in the drawings
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "view/fit.h"
#include "sheet/sheet.h"

#include <string.h>

#define COLUMNS 100 /* of figures under one another, across the page */
#define GAP 6.0     /* points for a blank line in them */
/* A heading is not left alone at the foot of a page: so many lines go with it. */
#define TOGETHER 4

static void
draw_line (sw_sheet *sheet, const char *line)
{
  const sw_sheet_style style = line[0] == ' ' ? SW_SHEET_FIXED : SW_SHEET_STRONG;
  const double width = sheet->right - sheet->left;
  const double height = sw_sheet_paragraph_height (sheet, style, width, line);
  sw_sheet_need (sheet, style == SW_SHEET_STRONG ? height + TOGETHER * SW_SHEET_LINE : height);
  sw_sheet_paragraph (sheet, style, sheet->left, sheet->y, width, line);
  sheet->y += height + 0.5;
}

void
sw_sheet_fit (sw_sheet *sheet)
{
  if (sheet->job->fence.run_count == 0)
    return;
  sw_text text = { 0 };
  sw_status status = sw_fit_list (sheet->plan, COLUMNS, &text);
  char *list = status == SW_OK ? sw_text_take (&text) : NULL;
  sw_text_drop (&text);
  if (list == NULL)
    {
      if (sheet->status == SW_OK)
        sheet->status = status == SW_OK ? SW_NO_MEMORY : status;
      return;
    }
  sw_sheet_new_part (sheet, "Fit list", NULL, "fit.csv");
  for (char *rest = list, *line; sheet->status == SW_OK && (line = strsep (&rest, "\n")) != NULL;)
    if (line[0] != '\0')
      draw_line (sheet, line);
    else
      {
        sheet->y += GAP;
        if (rest != NULL && rest[0] == ' ')
          /* A level's heading and the first of its pieces. */
          sw_sheet_need (sheet, TOGETHER * SW_SHEET_LINE);
      }
  sw_text_free (list);
}
