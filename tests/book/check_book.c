/* check_book.c - the workbook: what counts as a number, what counts as whole, and memory that runs out
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "plan_fixture.h"
#include "suite.h"

#ifdef HAVE_BOOK

#include "failing.h"
#include "book/book.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <zlib.h>

/* ---- Numbers ---- */

START_TEST (numbers)
{
  static const struct
  {
    const char *text;
    bool comma;
    bool is_number;
    double number;
  } rows[] = {
    { "2400", false, true, 2400 },
    { "0", false, true, 0 },
    { "-614.5", false, true, -614.5 },
    { "166.89", false, true, 166.89 },
    { "0.000001", false, true, 0.000001 },
    { "123456789012345", false, true, 123456789012345 },
    { "4852,5", true, true, 4852.5 },
    { "4852,5", false, false, 0 },
    { "4,852.5", true, false, 0 },
    /* What a spreadsheet would not give back as it was. */
    { "007", false, false, 0 },
    { "00", false, false, 0 },
    { "-01", false, false, 0 },
    { "+5", false, false, 0 },
    { "1e3", false, false, 0 },
    { "5.", false, false, 0 },
    { ".5", false, false, 0 },
    { "1234567890123456", false, false, 0 },
    { "3/4", false, false, 0 },
    { "4.8m", false, false, 0 },
    { "1.2.3", false, false, 0 },
    { "-", false, false, 0 },
    { "", false, false, 0 },
  };
  for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
    {
      double number = NAN;
      ck_assert_msg (sw_book_is_number (rows[i].text, rows[i].comma, &number) == rows[i].is_number, "%s", rows[i].text);
      /* The nearest double, as the C compiler has it. */
      if (rows[i].is_number)
        ck_assert_msg (number == rows[i].number, "%s is not %.17g", rows[i].text, number);
    }
}
END_TEST

/* ---- Whole or not ---- */

typedef struct archive
{
  unsigned char bytes[4096];
  size_t count;
  unsigned char directory[1024];
  size_t directory_bytes;
  unsigned entries;
} archive;

static void
add_little (unsigned char *bytes, size_t *count, unsigned long value, int width)
{
  for (int b = 0; b < width; b++)
    bytes[(*count)++] = (unsigned char)(value >> 8 * b);
}

/* A part with TEXT, deflated, as APPNOTE.TXT 4.3.7 and 4.3.12 have it; no names. */
static void
add_part (archive *a, const char *text)
{
  unsigned char packed[1024];
  z_stream stream = { .next_in = (Bytef *)text, .avail_in = (uInt)strlen (text), .next_out = packed, .avail_out = sizeof packed };
  ck_assert_int_eq (deflateInit2 (&stream, 9, Z_DEFLATED, -MAX_WBITS, 8, Z_DEFAULT_STRATEGY), Z_OK);
  ck_assert_int_eq (deflate (&stream, Z_FINISH), Z_STREAM_END);
  const size_t size = stream.total_out;
  deflateEnd (&stream);
  const size_t local = a->count;
  const unsigned long sum = crc32 (0, (const Bytef *)text, (uInt)strlen (text));
  const struct
  {
    unsigned long value;
    int width;
  } head[] = { { 20, 2 }, { 0, 2 }, { 8, 2 }, { 0, 4 }, { sum, 4 }, { size, 4 }, { strlen (text), 4 }, { 0, 2 }, { 0, 2 } };
  add_little (a->bytes, &a->count, 0x04034b50, 4);
  add_little (a->directory, &a->directory_bytes, 0x02014b50, 4);
  add_little (a->directory, &a->directory_bytes, 20, 2);
  for (size_t i = 0; i < sizeof head / sizeof *head; i++)
    {
      add_little (a->bytes, &a->count, head[i].value, head[i].width);
      add_little (a->directory, &a->directory_bytes, head[i].value, head[i].width);
    }
  memcpy (a->bytes + a->count, packed, size);
  a->count += size;
  /* Comment, disk, attributes inside and outside, where it begins. */
  add_little (a->directory, &a->directory_bytes, 0, 2);
  add_little (a->directory, &a->directory_bytes, 0, 2);
  add_little (a->directory, &a->directory_bytes, 0, 2);
  add_little (a->directory, &a->directory_bytes, 0, 4);
  add_little (a->directory, &a->directory_bytes, local, 4);
  a->entries++;
}

/* The directory and its end, 4.3.16. */
static void
finish (archive *a)
{
  const size_t begins = a->count;
  memcpy (a->bytes + a->count, a->directory, a->directory_bytes);
  a->count += a->directory_bytes;
  add_little (a->bytes, &a->count, 0x06054b50, 4);
  add_little (a->bytes, &a->count, 0, 4);
  add_little (a->bytes, &a->count, a->entries, 2);
  add_little (a->bytes, &a->count, a->entries, 2);
  add_little (a->bytes, &a->count, a->directory_bytes, 4);
  add_little (a->bytes, &a->count, begins, 4);
  add_little (a->bytes, &a->count, 0, 2);
}

#define HEAD "<?xml version=\"1.0\"?>\n"
#define A_CELL "<c r=\"A1\"><v>1</v></c>"

static bool
whole (const char *first, const char *second, uint64_t cells)
{
  archive a = { .count = 0 };
  add_part (&a, first);
  add_part (&a, second);
  finish (&a);
  return sw_book_is_whole ((const char *)a.bytes, a.count, cells);
}

START_TEST (whole_or_not)
{
  ck_assert (whole (HEAD "<a x=\"1\">" A_CELL A_CELL "</a>", HEAD "<b>" A_CELL "</b>\n", 3));
  ck_assert (whole (HEAD "<cp:core>x</cp:core>", HEAD "<b></b>", 0));
  /* A cell is gone, or there is one too many. */
  ck_assert (!whole (HEAD "<a x=\"1\">" A_CELL "</a>", HEAD "<b>" A_CELL "</b>", 3));
  ck_assert (!whole (HEAD "<a x=\"1\">" A_CELL A_CELL A_CELL "</a>", HEAD "<b>" A_CELL "</b>", 3));
  /* Either part ends too early. */
  ck_assert (!whole (HEAD "<a>" A_CELL A_CELL, HEAD "<b>" A_CELL "</b>", 3));
  ck_assert (!whole (HEAD "<a>" A_CELL A_CELL "</a>", HEAD "<b>" A_CELL "</b", 3));
  ck_assert (!whole (HEAD "<a>" A_CELL A_CELL "</a>", HEAD "<b>" A_CELL "</c>", 3));
  ck_assert (!whole (HEAD "<a>" A_CELL A_CELL "</a>", "", 2));
  ck_assert (!whole ("", HEAD "<b></b>", 0));
}
END_TEST

START_TEST (broken_archives)
{
  archive a = { .count = 0 };
  add_part (&a, HEAD "<a>" A_CELL A_CELL "</a>");
  add_part (&a, HEAD "<b>" A_CELL "</b>");
  finish (&a);
  ck_assert (sw_book_is_whole ((const char *)a.bytes, a.count, 3));
  /* Cut off anywhere, and with each byte that counts turned over: never read out of bounds, and seldom whole. */
  for (size_t count = 0; count < a.count; count++)
    {
      char *copy = malloc (count + 1);
      memcpy (copy, a.bytes, count);
      ck_assert_msg (!sw_book_is_whole (copy, count, 3), "%zu of %zu bytes", count, a.count);
      free (copy);
    }
  for (size_t at = 0; at < a.count; at++)
    for (int bit = 0; bit < 8; bit++)
      {
        char *copy = malloc (a.count);
        memcpy (copy, a.bytes, a.count);
        copy[at] = (char)(copy[at] ^ 1 << bit);
        (void)sw_book_is_whole (copy, a.count, 3);
        free (copy);
      }
}
END_TEST

/* ---- A plan's workbook ---- */

static char *directory;
static fixture front;

static void
setup (void)
{
  directory = fixture_directory ();
  fixture_front (&front);
}

static void
teardown (void)
{
  fixture_drop (&front);
  fixture_remove (directory);
}

static sw_status
write_book (sw_page_fn row, void *data, sw_report *report)
{
  sw_papers *papers = NULL;
  sw_status status = sw_papers_open (&papers, directory, report);
  if (status == SW_OK)
    status = sw_papers_plan (papers, front.plan, report);
  if (status == SW_OK)
    status = sw_papers_book (papers, front.plan, row, data, report);
  sw_papers_free (papers);
  return status;
}

static bool
stop_after (void *data)
{
  int *left = data;
  return (*left)-- > 0;
}

START_TEST (stopped)
{
  /* Each table is asked for once: four of the plan, then those of the job. */
  for (int rows = 0; rows < 5; rows++)
    {
      int left = rows;
      ck_assert_int_eq (write_book (stop_after, &left, NULL), SW_STOPPED);
      ck_assert_ptr_null (fixture_bytes (directory, "plan.xlsx"));
    }
  int left = 1000;
  ck_assert_int_eq (write_book (stop_after, &left, NULL), SW_OK);
}
END_TEST

static sw_status
book_alone (void)
{
  sw_papers *papers = NULL;
  sw_status status = sw_papers_open (&papers, directory, NULL);
  if (status == SW_OK)
    status = sw_papers_book (papers, front.plan, NULL, NULL, NULL);
  sw_papers_free (papers);
  return status;
}

/* Of the project's own allocations; those inside the library are not let fail. */
START_TEST (memory_runs_out)
{
  size_t failures = 0;
  for (size_t successes = 0;; successes++)
    {
      failing_start (successes);
      const sw_status status = book_alone ();
      if (!failing_stop ())
        {
          ck_assert_int_eq (status, SW_OK);
          break;
        }
      ck_assert_msg (status == SW_NO_MEMORY, "after %zu allocations: %s", successes, sw_status_text (status));
      ck_assert_uint_eq (fixture_names (directory), 0);
      failures++;
    }
  ck_assert_uint_gt (failures, 30);
  ck_assert_uint_eq (fixture_names (directory), 1);
}
END_TEST

static void
add_tests (Suite *suite)
{
  TCase *parts = tcase_create ("parts");
  tcase_add_test (parts, numbers);
  tcase_add_test (parts, whole_or_not);
  tcase_add_test (parts, broken_archives);
  suite_add_tcase (suite, parts);
  TCase *books = tcase_create ("books");
  tcase_add_checked_fixture (books, setup, teardown);
  tcase_add_test (books, stopped);
  tcase_add_test (books, memory_runs_out);
  suite_add_tcase (suite, books);
}

#else

START_TEST (absent)
{
  char *directory = fixture_directory ();
  fixture front;
  sw_papers *papers;
  fixture_front (&front);
  ck_assert_int_eq (sw_papers_open (&papers, directory, NULL), SW_OK);
  ck_assert_int_eq (sw_papers_book (papers, front.plan, NULL, NULL, NULL), SW_ABSENT);
  sw_papers_free (papers);
  ck_assert_uint_eq (fixture_names (directory), 0);
  fixture_drop (&front);
  fixture_remove (directory);
}
END_TEST

static void
add_tests (Suite *suite)
{
  TCase *tests = tcase_create ("absent");
  tcase_add_test (tests, absent);
  suite_add_tcase (suite, tests);
}

#endif

int
main (void)
{
  Suite *suite = suite_create ("book");
  add_tests (suite);
  return suite_run (suite);
}
