/* check_pencil.c - the short marks that are pencilled on pieces
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "view/pencil.h"

#include "plan_fixture.h"
#include "suite.h"

#include <stdlib.h>
#include <string.h>

/* As the columns of a spreadsheet are named. */
START_TEST (runs_have_letters)
{
  static const struct
  {
    size_t run;
    const char *letters;
  } known[] = { { 0, "A" },   { 1, "B" },   { 25, "Z" },   { 26, "AA" },
                { 51, "AZ" }, { 52, "BA" }, { 701, "ZZ" }, { 702, "AAA" } };
  for (size_t i = 0; i < sizeof known / sizeof *known; i++)
    {
      char letters[SW_PENCIL_RUN];
      sw_pencil_run (known[i].run, letters);
      ck_assert_str_eq (letters, known[i].letters);
    }
}
END_TEST

/* The mark of the piece that is labelled LABEL. */
static void
check_mark (const sw_pencils *pencils, const char *label, const char *mark)
{
  const sw_plan *plan = pencils->plan;
  size_t i = 0;
  sw_text text = { 0 };
  while (i < plan->piece_count && strcmp (plan->pieces[i].label, label) != 0)
    i++;
  ck_assert_msg (i < plan->piece_count, "no %s", label);
  sw_pencil_add (&text, pencils, i);
  ck_assert (!text.failed);
  ck_assert_msg (strcmp (text.data, mark) == 0, "%s is marked %s", label, text.data);
  sw_text_drop (&text);
}

static int
compare (const void *a, const void *b)
{
  return strcmp (*(char *const *)a, *(char *const *)b);
}

/* No two pieces have the same mark. */
static void
check_all_differ (const sw_pencils *pencils)
{
  const size_t count = pencils->plan->piece_count;
  char **marks = calloc (count, sizeof *marks);
  ck_assert_ptr_nonnull (marks);
  for (size_t i = 0; i < count; i++)
    {
      sw_text text = { 0 };
      sw_pencil_add (&text, pencils, i);
      marks[i] = sw_text_take (&text);
      ck_assert_ptr_nonnull (marks[i]);
    }
  qsort (marks, count, sizeof *marks, compare);
  for (size_t i = 1; i < count; i++)
    ck_assert_msg (strcmp (marks[i - 1], marks[i]) != 0, "two pieces are marked %s", marks[i]);
  for (size_t i = 0; i < count; i++)
    free (marks[i]);
  free (marks);
}

START_TEST (pieces_have_marks)
{
  static const fixture_texts texts
      = { .spans = "run,span\nfront,2000\nfront,2000\nside,2000\n",
          .levels = "level,section,runs,blocks,block_length\nplinth,rail,between,2,100\ntop block rail,rail,,,\n",
          .stock = "section,length\nrail,5.4\n",
          .extras = "label,section,length,quantity\nbrace,rail,700,1\nleg,rail,600,2\nleg 2 b,rail,500,1\n",
          .settings = "round=0",
          .plan = "between front/plinth\nthrough front/top block rail: 1-2 2-3\nbetween side/plinth\n"
                  "through side/top block rail: 1-2\nblocks front/plinth\nblocks side/plinth\nextras\n"
                  "board rail 5.4: front/top block rail/1-2, front/top block rail/2-3, leg 1, leg 2\n"
                  "board rail 5.4: side/top block rail/1-2, front/plinth/1-2, brace, leg 2 b\n"
                  "board rail 5.4: front/plinth/2-3, side/plinth/1-2, front/plinth/block 1, front/plinth/block 2, "
                  "front/plinth/block 3, front/plinth/block 4, side/plinth/block 1, side/plinth/block 2\n" };
  fixture made;
  sw_pencils pencils;
  fixture_make (&made, &texts);
  ck_assert_int_eq (sw_pencils_make (&pencils, made.plan), SW_OK);
  check_mark (&pencils, "front/plinth/2-3", "A1 2-3");
  check_mark (&pencils, "front/top block rail/1-2", "A2 1-2");
  check_mark (&pencils, "side/top block rail/1-2", "B2 1-2");
  check_mark (&pencils, "front/plinth/block 3", "A1 b3");
  check_mark (&pencils, "side/plinth/block 2", "B1 b2");
  check_mark (&pencils, "brace", "+1");
  check_mark (&pencils, "leg 1", "+2.1");
  check_mark (&pencils, "leg 2 b", "+3");
  check_all_differ (&pencils);
  sw_pencils_clear (&pencils);
  fixture_drop (&made);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("pencil");
  TCase *tests = tcase_create ("pencil");
  tcase_add_test (tests, runs_have_letters);
  tcase_add_test (tests, pieces_have_marks);
  suite_add_tcase (suite, tests);
  return suite_run (suite);
}
