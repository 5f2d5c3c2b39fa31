/* remarks.c - what a report holds, for tests
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "remarks.h"
#include "base/text.h"

#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

char *
remarks_list (const sw_report *report)
{
  static const char *const words[] = { [SW_NOTE] = "note", [SW_WARNING] = "warning", [SW_FAULT] = "fault" };
  sw_text list = { 0 };
  for (size_t i = 0; i < sw_report_count (report); i++)
    {
      const sw_remark *remark = sw_report_get (report, i);
      const char *slash = remark->file == NULL ? NULL : strrchr (remark->file, '/');
      sw_text_printf (&list, "%s ", words[remark->severity]);
      if (remark->file != NULL)
        sw_text_add (&list, slash == NULL ? remark->file : slash + 1);
      if (remark->line > 0)
        sw_text_printf (&list, ":%zu", remark->line);
      if (remark->column != NULL)
        sw_text_printf (&list, ":%s", remark->column);
      sw_text_add (&list, "\n");
    }
  char *text = sw_text_take (&list);
  ck_assert_ptr_nonnull (text);
  return text;
}

void
remarks_expect (const sw_report *report, const char *expected, const char *what)
{
  char *list = remarks_list (report);
  if (strcmp (list, expected) != 0)
    for (size_t i = 0; i < sw_report_count (report); i++)
      fprintf (stderr, "%zu: %s\n", sw_report_get (report, i)->line, sw_report_get (report, i)->message);
  ck_assert_msg (strcmp (list, expected) == 0, "%s\nexpected:\n%sfound:\n%s", what, expected, list);
  free (list);
}

void
remarks_say (const sw_report *report, const char *fragment)
{
  for (size_t i = 0; i < sw_report_count (report); i++)
    if (strstr (sw_report_get (report, i)->message, fragment) != NULL)
      return;
  for (size_t i = 0; i < sw_report_count (report); i++)
    fprintf (stderr, "%zu: %s\n", sw_report_get (report, i)->line, sw_report_get (report, i)->message);
  ck_abort_msg ("no remark says \"%s\"", fragment);
}

sw_table *
remarks_table (const char *csv, const char *file, sw_report *report)
{
  sw_table *table = NULL;
  sw_status status = sw_table_read_bytes (&table, csv, strlen (csv), file, report);
  for (size_t i = 0; status != SW_OK && i < sw_report_count (report); i++)
    fprintf (stderr, "%zu: %s\n", sw_report_get (report, i)->line, sw_report_get (report, i)->message);
  ck_assert_int_eq (status, SW_OK);
  return table;
}
