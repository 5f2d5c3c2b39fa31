/* check_page.c - the page for a telephone: texts that do no harm, when there is one, memory that runs out
 *
 * What stands in it is checked by tests/cli/check_page.py and check_page_driven.py, from outside.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "failing.h"
#include "plan_fixture.h"
#include "suite.h"

#include "page/page.h"

#include <stdlib.h>
#include <string.h>

static void
ck_made (void (*add) (sw_text *out, const char *text), const char *text, const char *wanted)
{
  sw_text out = { 0 };
  add (&out, text);
  char *made = sw_text_take (&out);
  ck_assert_str_eq (made, wanted);
  sw_text_free (made);
}

/* The five characters that markup knows as named references, by the HTML standard's section on serialising text; a
 * control character is shown. */
START_TEST (markup)
{
  ck_made (sw_page_text, "", "");
  ck_made (sw_page_text, "Å 柵 7/3", "Å 柵 7/3");
  ck_made (sw_page_text, "</script><b a=\"x\" c='y'>&amp;",
           "&lt;/script&gt;&lt;b a=&quot;x&quot; c=&#39;y&#39;&gt;&amp;amp;");
  ck_made (sw_page_text, "a\x01\n\xE2\x80\xAE", "a\\x01\\x0A\\u{202E}");
  ck_made (sw_page_name, "<", "<bdi>&lt;</bdi>");
  ck_made (sw_page_label, "a<b/top/12-14", "<bdi>a&lt;b/top/<span class=\"nb\">12-14</span></bdi>");
  ck_made (sw_page_label, "brace 2", "<bdi>brace 2</bdi>");
  ck_made (sw_page_label, "a/a name that is long enough to be broken",
           "<bdi>a/a name that is long enough to be broken</bdi>");
}
END_TEST

/* RFC 8259, section 7: surrogate pairs over U+FFFF.  Nothing is left that ends a script, a comment or a line. */
START_TEST (data)
{
  ck_made (sw_page_string, "", "\"\"");
  ck_made (sw_page_string, "front/rail 1/2-3", "\"front/rail 1/2-3\"");
  ck_made (sw_page_string, "</script><!--\"\\'&", "\"\\u003c/script\\u003e\\u003c!--\\u0022\\u005c\\u0027\\u0026\"");
  ck_made (sw_page_string, "\x01\t\r\n\x7f", "\"\\u0001\\u0009\\u000d\\u000a\\u007f\"");
  ck_made (sw_page_string, "ő\xE2\x80\xA8\xF0\x9D\x84\x9E", "\"\\u0151\\u2028\\ud834\\udd1e\"");
}
END_TEST

START_TEST (percent)
{
  static const struct
  {
    sw_length part;
    sw_length whole;
    const char *wanted;
  } cases[] = {
    { 0, 4800 * SW_MM, "0%" },
    { 4800 * SW_MM, 4800 * SW_MM, "100%" },
    { 600 * SW_MM, 4800 * SW_MM, "12.5%" },
    { 1600 * SW_MM, 4800 * SW_MM, "33.333%" },
    { 3200 * SW_MM, 4800 * SW_MM, "66.667%" },
    { 48 * SW_MM / 10, 4800 * SW_MM, "0.1%" },
    { SW_LENGTH_MAX, SW_LENGTH_MAX, "100%" },
    { SW_LENGTH_MAX / 4, SW_LENGTH_MAX, "25%" },
  };
  for (size_t i = 0; i < sizeof cases / sizeof *cases; i++)
    {
      sw_text out = { 0 };
      sw_page_percent (&out, cases[i].part, cases[i].whole);
      ck_assert_str_eq (out.data, cases[i].wanted);
      sw_text_drop (&out);
    }
}
END_TEST

static char *
page_of (const fixture *made)
{
  sw_text out = { 0 };
  ck_assert_int_eq (sw_page (made->plan, &out), SW_OK);
  return sw_text_take (&out);
}

/* Every blank of page.html is filled in, and the same plan gives the same bytes. */
START_TEST (whole)
{
  fixture front;
  fixture_front (&front);
  char *page = page_of (&front);
  ck_assert_int_eq (strncmp (page, "<!DOCTYPE html>\n", 16), 0);
  ck_contains (page, "</html>\n");
  for (const char *at = page; (at = strchr (at, '@')) != NULL; at++)
    ck_assert_msg (strncmp (at, "@media", 6) == 0 || strncmp (at, "@keyframes", 10) == 0
                       || strncmp (at, "@\\t", 3) == 0,
                   "not filled in: %.20s", at);
  char *again = page_of (&front);
  ck_assert_str_eq (page, again);
  sw_text_free (again);
  sw_text_free (page);
  fixture_drop (&front);
}
END_TEST

/* Written beside the tables, and gone with those of another plan. */
START_TEST (of_this_plan)
{
  fixture front;
  sw_papers *papers = NULL;
  sw_report *report = sw_report_new ();
  char *directory = fixture_directory ();
  fixture_front (&front);
  char *page = page_of (&front);
  ck_assert_int_eq (sw_papers_open (&papers, directory, report), SW_OK);
  ck_assert_int_eq (sw_papers_plan (papers, front.plan, report), SW_OK);
  ck_assert_ptr_null (fixture_bytes (directory, "page.html"));
  ck_assert_int_eq (sw_papers_page (papers, front.plan, report), SW_OK);
  char *written = fixture_bytes (directory, "page.html");
  ck_assert_str_eq (written, page);
  ck_assert_int_eq (sw_papers_plan (papers, front.plan, report), SW_OK);
  ck_assert_ptr_null (fixture_bytes (directory, "page.html"));
  ck_assert_uint_eq (sw_report_count (report), 0);
  sw_papers_free (papers);
  sw_report_free (report);
  free (written);
  sw_text_free (page);
  fixture_drop (&front);
  fixture_remove (directory);
}
END_TEST

/* One piece too many for a telephone: no page, also no older one, and a warning. */
START_TEST (too_many_pieces)
{
  sw_job *job = NULL;
  fixture front;
  sw_papers *papers = NULL;
  sw_report *report = sw_report_new ();
  char *directory = fixture_directory ();
  fixture_front (&front);
  const fixture_texts many
      = { .extras = "label,section,length,quantity\npale,rail,900,20001\n", .stock = "section,length\nrail,4.8\n" };
  job = fixture_job (&many);
  sw_plan *plan = NULL;
  ck_assert_int_eq (sw_plan_make (&plan, job, NULL, report), SW_OK);
  ck_assert_uint_eq (plan->piece_count, SW_PAGE_PIECES + 1);
  ck_assert_int_eq (sw_papers_open (&papers, directory, report), SW_OK);
  ck_assert_int_eq (sw_papers_plan (papers, front.plan, report), SW_OK);
  ck_assert_int_eq (sw_papers_page (papers, front.plan, report), SW_OK);
  ck_assert_int_eq (sw_papers_plan (papers, plan, report), SW_OK);
  sw_report_clear (report);
  ck_assert_int_eq (sw_papers_page (papers, plan, report), SW_OK);
  ck_assert_ptr_null (fixture_bytes (directory, "page.html"));
  ck_assert_uint_eq (sw_report_count (report), 2);
  ck_assert_int_eq (sw_report_get (report, 0)->severity, SW_WARNING);
  ck_contains (sw_report_get (report, 0)->message, "20001 pieces");
  ck_contains (sw_report_get (report, 1)->message, "the older page is removed");
  sw_papers_free (papers);
  sw_plan_free (plan);
  sw_job_free (job);
  sw_report_free (report);
  fixture_drop (&front);
  fixture_remove (directory);
}
END_TEST

/* A status or the whole page, and (under a sanitizer or valgrind) never a leak. */
START_TEST (memory_runs_out)
{
  fixture front;
  fixture_front (&front);
  char *page = page_of (&front);
  size_t failed = 0;
  for (size_t successes = 0;; successes++)
    {
      sw_text out = { 0 };
      failing_start_once (successes);
      sw_status status = sw_page (front.plan, &out);
      bool hit = failing_stop ();
      ck_assert_msg (status == (hit ? SW_NO_MEMORY : SW_OK), "allocation %zu: %d", successes, (int)status);
      if (!hit)
        ck_assert_str_eq (out.data, page);
      sw_text_drop (&out);
      if (!hit)
        break;
      failed++;
    }
  ck_assert_uint_gt (failed, 100);
  sw_text_free (page);
  fixture_drop (&front);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("page");
  TCase *tests = tcase_create ("page");
  tcase_add_test (tests, markup);
  tcase_add_test (tests, data);
  tcase_add_test (tests, percent);
  tcase_add_test (tests, whole);
  tcase_add_test (tests, of_this_plan);
  tcase_add_test (tests, too_many_pieces);
  tcase_add_test (tests, memory_runs_out);
  suite_add_tcase (suite, tests);
  return suite_run (suite);
}
