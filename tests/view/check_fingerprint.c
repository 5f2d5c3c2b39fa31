/* check_fingerprint.c - the papers of one plan are told from those of another
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "plan_fixture.h"
#include "suite.h"

#include "view/fingerprint.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static fixture front;

static void
setup (void)
{
  fixture_front (&front);
}

static void
teardown (void)
{
  fixture_drop (&front);
}

static void
take (char out[SW_FINGERPRINT])
{
  ck_assert_int_eq (sw_fingerprint (front.plan, out), SW_OK);
  ck_assert_uint_eq (strlen (out), SW_FINGERPRINT - 1);
  ck_assert_int_eq (out[4], '-');
  ck_assert_uint_eq (strspn (out, "0123456789ABCDEFGHJKMNPQRSTVWXYZ"), 4);
  ck_assert_uint_eq (strspn (out + 5, "0123456789ABCDEFGHJKMNPQRSTVWXYZ"), 3);
}

static void
ck_other (const char *wanted, const char *what, size_t index)
{
  char now[SW_FINGERPRINT];
  take (now);
  ck_assert_msg (strcmp (now, wanted) != 0, "%s %zu changed, and still %s", what, index, now);
}

START_TEST (same_plan)
{
  char first[SW_FINGERPRINT];
  char second[SW_FINGERPRINT];
  take (first);
  teardown ();
  setup ();
  take (second);
  ck_assert_str_eq (first, second);
  /* The style of the tables, and what is printed beside the plan, do not change the fingerprint. */
  front.plan->job->settings->csv_style = SW_CSV_SEMICOLON;
  front.plan->revision = 3;
  take (second);
  ck_assert_str_eq (first, second);
}
END_TEST

START_TEST (every_cut)
{
  char first[SW_FINGERPRINT];
  take (first);
  for (size_t p = 0; p < front.plan->piece_count; p++)
    {
      sw_piece *piece = &front.plan->pieces[p];
      const sw_piece kept = *piece;
      piece->cut += SW_MM;
      ck_other (first, "length of piece", p);
      *piece = kept;
      piece->start_saw += 500;
      ck_other (first, "saw of piece", p);
      *piece = kept;
      piece->take += SW_MM;
      ck_other (first, "what is taken by piece", p);
      *piece = kept;
    }
  for (size_t b = 0; b < front.plan->board_count; b++)
    {
      sw_board *board = &front.plan->boards[b];
      if (board->piece_count < 2)
        continue;
      size_t swapped = board->pieces[0];
      board->pieces[0] = board->pieces[1];
      board->pieces[1] = swapped;
      front.plan->pieces[board->pieces[0]].cut_number = 0;
      front.plan->pieces[board->pieces[1]].cut_number = 1;
      ck_other (first, "order of cuts of board", b);
      board->pieces[1] = board->pieces[0];
      board->pieces[0] = swapped;
      front.plan->pieces[board->pieces[0]].cut_number = 0;
      front.plan->pieces[board->pieces[1]].cut_number = 1;
    }
  char last[SW_FINGERPRINT];
  take (last);
  ck_assert_str_eq (first, last);
}
END_TEST

START_TEST (the_line)
{
  char fingerprint[SW_FINGERPRINT];
  char wanted[200];
  sw_text line = { 0 };
  take (fingerprint);
  ck_assert_int_eq (sw_fingerprint_line (&line, front.plan), SW_OK);
  snprintf (wanted, sizeof wanted, "Plan %s", fingerprint);
  ck_assert_str_eq (line.data, wanted);
  sw_text_drop (&line);

  sw_report *report = sw_report_new ();
  front.plan->revision = 2;
  ck_assert_int_eq (sw_settings_set (front.plan->job->settings, "date", " 3 March\x1b[2J ", report), SW_OK);
  sw_report_free (report);
  ck_assert_int_eq (sw_fingerprint_line (&line, front.plan), SW_OK);
  snprintf (wanted, sizeof wanted, "Plan %s, revision 2, 3 March\\x1B[2J", fingerprint);
  ck_assert_str_eq (line.data, wanted);
  sw_text_drop (&line);

  char *order = fixture_text (&front, SW_TEXT_ORDER, 80);
  ck_contains (order, wanted);
  free (order);
  char *message = fixture_text (&front, SW_TEXT_MESSAGE, 80);
  ck_contains (message, wanted);
  free (message);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("fingerprint");
  TCase *tests = tcase_create ("fingerprint");
  tcase_add_checked_fixture (tests, setup, teardown);
  tcase_add_test (tests, same_plan);
  tcase_add_test (tests, every_cut);
  tcase_add_test (tests, the_line);
  suite_add_tcase (suite, tests);
  return suite_run (suite);
}
