/* check_table.c - reading and writing CSV
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "csv/table.h"
#include "base/text.h"

#include "suite.h"

#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#define COUNT(array) ((int)(sizeof (array) / sizeof (array)[0]))

static sw_report *report;
static sw_table *table;

static void
setup (void)
{
  report = sw_report_new ();
  table = NULL;
}

static void
teardown (void)
{
  sw_table_free (table);
  sw_report_free (report);
}

/* The block has exactly that size, so that a sanitizer sees a byte that is read beyond it. */
static sw_status
read_bytes (const char *bytes, size_t count)
{
  sw_table_free (table);
  sw_report_clear (report);
  char *copy = malloc (count > 0 ? count : 1);
  ck_assert_ptr_nonnull (copy);
  memcpy (copy, bytes, count);
  sw_status status = sw_table_read_bytes (&table, copy, count, "t.csv", report);
  free (copy);
  ck_assert ((status == SW_OK) == (table != NULL));
  ck_assert ((status == SW_OK) == (sw_report_faults_of (report, "t.csv") == 0));
  return status;
}

static void
check_row (size_t row, size_t line, const char *a, const char *b)
{
  ck_assert_str_eq (sw_table_cell (table, row, 0), a);
  ck_assert_str_eq (sw_table_cell (table, row, 1), b);
  ck_assert_uint_eq (sw_table_line (table, row), line);
}

/* ---- Good files ---------------------------------------------------------- */

/* Each holds the columns run and span, and two rows "road north" and "2400". */
static const struct
{
  const char *text;
  size_t first_line;
  size_t second_line;
} goods[] = {
  { "run,span\nroad north,2400\nroad north,2400\n", 2, 3 },
  { "run,span\r\nroad north,2400\r\nroad north,2400\r\n", 2, 3 },
  { "run,span\nroad north,2400\nroad north,2400", 2, 3 },
  { "\xEF\xBB\xBFrun,span\nroad north,2400\nroad north,2400\n", 2, 3 },
  { "\xEF\xBB\xBF\"run\",\"span\"\n\"road north\",\"2400\"\n\"road north\",2400\n", 2, 3 },
  { "run;span\nroad north;2400\nroad north;2400\n", 2, 3 },
  { "run\tspan\nroad north\t2400\nroad north\t2400\n", 2, 3 },
  { "RUN,Span\nroad north,2400\nroad north,2400\n", 2, 3 },
  { "  run , span \n\troad north\t,  2400\n\"  road north \" , \" 2400\"  \n", 2, 3 },
  { "\n\r\n  \t\nrun,span\n\nroad north,2400\n   \n\n\nroad north,2400\n\n\n", 6, 10 },
  { "run,span\r\n\r\nroad north,2400\r\n\r\nroad north,2400\r\n\r\n", 3, 5 },
  /* a file with mixed line ends */
  { "run,span\nroad north,2400\r\nroad north,2400\r", 2, 3 },
};

START_TEST (good_files_are_read)
{
  const char *text = goods[_i].text;
  sw_status status = read_bytes (text, strlen (text));
  ck_assert_msg (status == SW_OK, "%d: %s", _i, status == SW_OK ? "" : sw_report_get (report, 0)->message);
  ck_assert_uint_eq (sw_report_count (report), 0);
  ck_assert_uint_eq (sw_table_columns (table), 2);
  ck_assert_uint_eq (sw_table_rows (table), 2);
  ck_assert_int_eq (sw_table_find (table, "run"), 0);
  ck_assert_int_eq (sw_table_find (table, "sPaN"), 1);
  ck_assert_int_eq (sw_table_find (table, "spa"), -1);
  ck_assert_int_eq (sw_table_find (table, "spans"), -1);
  ck_assert_int_eq (sw_table_find (table, ""), -1);
  check_row (0, goods[_i].first_line, "road north", "2400");
  check_row (1, goods[_i].second_line, "road north", "2400");
  ck_assert_str_eq (sw_table_file (table), "t.csv");
  ck_assert_int_eq (sw_table_decimal_comma (table), strchr (text, ';') != NULL);
  ck_assert_ptr_null (sw_table_cell (table, 2, 0));
  ck_assert_ptr_null (sw_table_cell (table, 0, 2));
  ck_assert_ptr_null (sw_table_header (table, 2));
  ck_assert_uint_eq (sw_table_line (table, 2), 0);
}
END_TEST

/* RFC 4180, section 2, rules 5 to 7: separators, quotes and line breaks inside quotes. */
START_TEST (quoted_cells)
{
  const char *text = "run,span\r\n"
                     "\"a,b\",\"7' 10 1/2\"\"\"\r\n"
                     "\"two\r\nlines\nand a third\",\"\"\r\n"
                     "\"\"\"\",x\r\n"
                     "c,\"\r\n\r\n\"\r\n"
                     "\r\n"
                     "d,e";
  ck_assert_int_eq (read_bytes (text, strlen (text)), SW_OK);
  ck_assert_uint_eq (sw_table_rows (table), 5);
  check_row (0, 2, "a,b", "7' 10 1/2\"");
  check_row (1, 3, "two\r\nlines\nand a third", "");
  check_row (2, 6, "\"", "x");
  check_row (3, 7, "c", "\r\n\r\n");
  check_row (4, 11, "d", "e");
}
END_TEST

START_TEST (a_header_alone)
{
  ck_assert_int_eq (read_bytes ("run", 3), SW_OK);
  ck_assert_uint_eq (sw_table_columns (table), 1);
  ck_assert_uint_eq (sw_table_rows (table), 0);
  ck_assert_int_eq (read_bytes ("run,span\n", 9), SW_OK);
  ck_assert_uint_eq (sw_table_rows (table), 0);
}
END_TEST

/* Spreadsheets leave such rows behind where rows were deleted. */
START_TEST (rows_of_separators_are_blank)
{
  static const char text[] = ",\na,b\n,\n1,2\n , \n3,\n,\n,";
  ck_assert_int_eq (read_bytes (text, strlen (text)), SW_OK);
  ck_assert_uint_eq (sw_table_rows (table), 2);
  check_row (0, 4, "1", "2");
  check_row (1, 6, "3", "");
  ck_assert_int_eq (read_bytes ("a\tb\n\t\n \nx\t\n", 11), SW_OK);
  ck_assert_uint_eq (sw_table_rows (table), 1);
  check_row (0, 4, "x", "");
  ck_assert_int_eq (read_bytes ("a;b;c\r\n;;\r\n", 11), SW_OK);
  ck_assert_uint_eq (sw_table_rows (table), 0);
  /* A line break inside quotes is text, also if separators follow. */
  ck_assert_int_eq (read_bytes ("a,b\n\"\n,\n\",\n", 11), SW_OK);
  ck_assert_uint_eq (sw_table_rows (table), 1);
  check_row (0, 2, "\n,\n", "");
  /* A row of separators of the wrong width is a fault like any other. */
  ck_assert_int_eq (read_bytes ("a,b\n,,\n", 7), SW_REJECTED);
  ck_assert_int_eq (read_bytes ("a,b,c\n,\n", 8), SW_REJECTED);
  ck_assert_int_eq (read_bytes (",,\n,,\n", 6), SW_REJECTED);
}
END_TEST

/* Spreadsheets leave deleted columns behind the others, too, and some programs leave out their cells. */
START_TEST (blank_columns_behind_the_others)
{
  static const char text[] = "a,b, ,\n1,2,,\"\"\n,,,\n3,4\n,,\n,4, \n";
  ck_assert_int_eq (read_bytes (text, strlen (text)), SW_OK);
  ck_assert_uint_eq (sw_table_columns (table), 2);
  ck_assert_uint_eq (sw_table_rows (table), 3);
  check_row (0, 2, "1", "2");
  check_row (1, 4, "3", "4");
  check_row (2, 6, "", "4");
  sw_text wide = { 0 };
  sw_text_add (&wide, "a,b");
  sw_text_repeat (&wide, ',', 16382);
  sw_text_add (&wide, "\n1,2");
  sw_text_repeat (&wide, ',', 16382);
  ck_assert_int_eq (read_bytes (wide.data, wide.length), SW_OK);
  check_row (0, 2, "1", "2");
  sw_text_drop (&wide);
}
END_TEST

START_TEST (quoted_blank_cells_are_no_blank_line)
{
  ck_assert_int_eq (read_bytes ("a,b\n\"\",\n", 8), SW_OK);
  ck_assert_uint_eq (sw_table_rows (table), 1);
  check_row (0, 2, "", "");
  ck_assert_int_eq (read_bytes ("a\n\"\"\n", 5), SW_OK);
  ck_assert_uint_eq (sw_table_rows (table), 1);
}
END_TEST

START_TEST (separators_inside_quotes_do_not_count)
{
  const char *text = "\"a,b\";\"c\td\"\n1,5;2\n";
  ck_assert_int_eq (read_bytes (text, strlen (text)), SW_OK);
  ck_assert_str_eq (sw_table_header (table, 0), "a,b");
  ck_assert_str_eq (sw_table_header (table, 1), "c\td");
  check_row (0, 2, "1,5", "2");
  ck_assert (sw_table_decimal_comma (table));
}
END_TEST

START_TEST (any_script_is_kept)
{
  const char *text = "run,span\nBj\xC3\xB6rkv\xC3\xA4gen \xE6\x9D\xB1 \xF0\x9F\xAA\xB5,\xD7\xA9\n\x1B[1m,\xC2\xA0\n";
  ck_assert_int_eq (read_bytes (text, strlen (text)), SW_OK);
  check_row (0, 2, "Bj\xC3\xB6rkv\xC3\xA4gen \xE6\x9D\xB1 \xF0\x9F\xAA\xB5", "\xD7\xA9");
  check_row (1, 3, "\x1B[1m", "\xC2\xA0");
}
END_TEST

START_TEST (without_a_report)
{
  sw_table *t = NULL;
  ck_assert_int_eq (sw_table_read_bytes (&t, "a,b\n1\n", 6, "t.csv", NULL), SW_REJECTED);
  ck_assert_ptr_null (t);
  ck_assert_int_eq (sw_table_read (&t, "/nonexistent/t.csv", NULL), SW_IO);
  ck_assert_int_eq (sw_table_read_bytes (&t, "a,b\n1,2\n", 8, "t.csv", NULL), SW_OK);
  sw_table_free (t);
}
END_TEST

/* ---- Refused files -------------------------------------------------------- */

typedef struct expected
{
  size_t line;
  const char *column;
  const char *part; /* of the message */
} expected;

#define TEXT(literal) literal, sizeof (literal) - 1

static const struct
{
  const char *text;
  size_t count;
  expected faults[6];
} bads[] = {
  { TEXT (""), { { 0, NULL, "empty; expected a header" } } },
  { TEXT ("\n\r\n  \t\n"), { { 0, NULL, "empty; expected a header" } } },
  { TEXT ("\xEF\xBB\xBF"), { { 0, NULL, "empty; expected a header" } } },
  /* another kind of file, told by its first bytes */
  { TEXT ("\xFF\xFEr\0u\0n\0"), { { 0, NULL, "the file is UTF-16 (\"Unicode text\" in spreadsheets) and no CSV" } } },
  { TEXT ("\xFE\xFF\0r\0u\0n"), { { 0, NULL, "is UTF-16" } } },
  { TEXT ("r\0u\0n\0,\0s\0p\0a\0n\0\n\0"), { { 0, NULL, "is UTF-16" } } },
  { TEXT ("\0r\0u\0n\0,\0s\0p\0a\0n\0\n"), { { 0, NULL, "is UTF-16" } } },
  { TEXT ("\xFF\xFE\0\0r\0\0\0"), { { 0, NULL, "is UTF-32" } } },
  { TEXT ("\0\0\xFE\xFF\0\0\0r"), { { 0, NULL, "is UTF-32" } } },
  { TEXT ("PK\3\4\x14\0\6\0[Content_Types].xml\n\0,\xFFPK\1\2xl/workbook.xml"),
    { { 0, NULL, "is an .xlsx workbook and no CSV; expected its table saved as CSV" } } },
  { TEXT ("PK\3\4\x14\0\0\0mimetypeapplication/vnd.oasis.opendocument.spreadsheetPK\3\4"),
    { { 0, NULL, "is an .ods workbook" } } },
  { TEXT ("PK\3\4\x14\0\0\0mimetypeapplication/vnd.oasis.opendocument.textPK\3\4"),
    { { 0, NULL, "is an .odt document" } } },
  { TEXT ("PK\3\4\x14\0\0\0Index/Document.iwaPK\1\2Index/Tables/DataList.iwa"),
    { { 0, NULL, "is a .numbers workbook" } } },
  { TEXT ("PK\3\4\x14\0\6\0[Content_Types].xmlPK\1\2word/document.xml"), { { 0, NULL, "is a .docx document" } } },
  { TEXT ("PK\5\6\0\0\0\0"), { { 0, NULL, "is a ZIP archive" } } },
  { TEXT ("\xD0\xCF\x11\xE0\xA1\xB1\x1A\xE1\0\0"), { { 0, NULL, "is an .xls workbook or another old office file" } } },
  { TEXT ("%PDF-1.7\n%\xE2\xE3\n"), { { 0, NULL, "is a PDF and no CSV; expected its table saved as CSV" } } },
  { TEXT ("{\\rtf1\\ansi"), { { 0, NULL, "is an .rtf document" } } },
  { TEXT ("\xFF\xD8\xFF\xE0"), { { 0, NULL, "is a picture (JPEG)" } } },
  { TEXT ("\x89PNG\r\n\x1A\n"), { { 0, NULL, "is a picture (PNG)" } } },
  { TEXT ("\x1F\x8B\b"), { { 0, NULL, "is packed (gzip)" } } },
  { TEXT ("\xEF\xBB\xBF\n <!DOCTYPE html>\n"), { { 0, NULL, "is a page of the web" } } },
  { TEXT ("<HTML>"), { { 0, NULL, "is a page of the web" } } },
  /* the header */
  { TEXT ("\n\na;b,c\n"), { { 3, NULL, "more than one of comma, semicolon and tab" } } },
  { TEXT ("a\tb,c\n"), { { 1, NULL, "more than one of" } } },
  { TEXT ("run,span,Run\n"), { { 1, "Run", "twice" } } },
  { TEXT ("run,,span\n1,2,3\n"), { { 1, NULL, "column 2 of the header has no name" } } },
  { TEXT ("run,,\"\",run\nx\n"),
    { { 1, NULL, "column 2 of" },
      { 1, NULL, "column 3 of" },
      { 1, "run", "twice" },
      { 2, NULL, "a row of 1 cell;" } } },
  { TEXT ("run,sp\"an\n1,2\n"), { { 1, NULL, "a quote inside a cell that is not quoted: sp\"an" } } },
  { TEXT ("r\xFCn,span\n"),
    { { 1, NULL,
        "\"r\\xFCn\" is not UTF-8: character 2 of the line is the byte FC, probably \"\xC3\xBC\" of Windows-1252; "
        "expected the file saved as \"CSV UTF-8\"" } } },
  /* data in place of a header */
  { TEXT ("front,2400,2400\nfront,2400,100\n"),
    { { 1, "2400", "twice in the header; expected each name once; is this a row of data, and the header missing?" } } },
  { TEXT ("front;2,4m\nfront;2,3m\n"),
    { { 1, NULL,
        "more than one of comma, semicolon and tab; expected one separator, or the name in quotes; is this a row of "
        "data" } } },
  { TEXT ("front,2400,,100\n"),
    { { 1, NULL, "column 3 of the header has no name; expected a name for every column; is" } } },
  /* nothing may stand below a name that is not there */
  { TEXT ("a,b,,\n1,2,,\n1,2,3,\n1,2,,4\n1,2,,,\n1\n"),
    { { 3, NULL,
        "\"3\" stands in column 3, which has no name in the header; expected a name there or nothing below it" },
      { 4, NULL, "\"4\" stands in column 4, which" },
      { 5, NULL, "a row of 5 cells; expected 2" },
      { 6, NULL, "a row of 1 cell; expected 2" } } },
  { TEXT ("\"\",\n1,2\n"),
    { { 1, NULL, "column 1 of the header has no name" }, { 2, NULL, "\"2\" stands in column 2" } } },
  /* rows narrower or wider than the header are reported at their lines */
  { TEXT ("a,b\n1,2\n3\n\n4,5,6\n\"x\ny\",\"z\nz\"\n7,8,\n9\n"),
    { { 3, NULL, "a row of 1 cell; expected 2" },
      { 5, NULL, "a row of 3 cells; expected 2" },
      { 9, NULL, "a row of 3 cells; expected 2" },
      { 10, NULL, "a row of 1 cell; expected 2" } } },
  { TEXT ("a,b\n\"1\n\n1\"\n2,2\n"), { { 2, NULL, "a row of 1 cell" } } },
  { TEXT ("a;b\n1;2,5;\n"), { { 2, NULL, "a row of 3 cells; expected 2, as in the header (a cell that" } } },
  /* NUL and other encodings, in the cell's column */
  { TEXT ("a,b\n1,2\0003\n"), { { 2, "b", "a NUL byte after \"2\"" } } },
  { TEXT ("a,b\n\0,x\n\n\0\n"),
    { { 2, "a", "a NUL byte after \"\"" }, { 4, "a", "a NUL byte" }, { 4, NULL, "a row of 1 cell" } } },
  { TEXT ("a,b\ncaf\xE9,2\n\"x\ny\",\xC0\x80\n"),
    { { 2, "a", "\"caf\\xE9\" is not UTF-8: character 4 of the line is the byte E9, probably \"\xC3\xA9\" of" },
      { 4, "b", "\"\\xC0\\x80\" is not UTF-8: character 4 of the line is the byte C0" } } },
  { TEXT ("a,b\n\"x\n\n\xFF\",2\n"),
    { { 4, "a", "\"x\\x0A\\x0A\\xFF\" is not UTF-8: character 1 of the line is the byte FF" } } },
  /* in each cell the first is reported, with its place in the file */
  { TEXT ("a,b,c\n \xE9\xE8 ,\"\"\"\xE7\x93\"\"\",  \x80\n\n\x9D,2,\"\n \x8E\"\n"),
    { { 2, "a", "character 2 of the line is the byte E9, probably \"\xC3\xA9\"" },
      { 2, "b", "character 9 of the line is the byte E7, probably \"\xC3\xA7\"" },
      { 2, "c", "character 17 of the line is the byte 80, probably \"\xE2\x82\xAC\"" },
      { 4, "a", "character 1 of the line is the byte 9D; expected" },
      { 5, "c", "character 2 of the line is the byte 8E, probably \"\xC5\xBD\"" } } },
  /* a file with letters in UTF-8 gets no guess; such a letter is one character */
  { TEXT ("\xEF\xBB\xBF"
          "a,b\n\xC3\xB6\xE6\x9C\xA8,x\xE9\n"),
    { { 2, "b", "character 5 of the line is the byte E9; expected" } } },
  /* Unicode's noncharacters (The Unicode Standard, section 23.7) */
  { TEXT ("a,b\nx\xEF\xBF\xBE,2\n\xEF\xB7\x90,\xF4\x8F\xBF\xBF\n"),
    { { 2, "a",
        "character 2 of the line is U+FFFE, which Unicode keeps for no character; expected text without it, found "
        "\"x\\u{FFFE}\"" },
      { 3, "a", "character 1 of the line is U+FDD0" },
      { 3, "b", "character 3 of the line is U+10FFFF" } } },
  { TEXT ("a,b\n1,\xED\xA0\x80\n"), { { 2, "b", "not UTF-8" } } },
  { TEXT ("a,b\n1,2,\xFF\n"), { { 2, NULL, "\"\\xFF\" is not UTF-8" }, { 2, NULL, "a row of 3 cells" } } },
  /* after broken quotes the rest of the file is still read */
  { TEXT ("run,span\nroad,7' 10 1/2\"\nroad,8' 1\"\nroad\nroad,2400\n"),
    { { 2, "span", "a quote inside a cell that is not quoted: 7' 10 1/2\"" },
      { 3, "span", "not quoted: 8' 1\"" },
      { 4, NULL, "a row of 1 cell" } } },
  { TEXT ("a,b\n\"x\"y,2\n3\n"), { { 2, "a", "text after a closing quote: \"x\"y" }, { 3, NULL, "a row of 1 cell" } } },
  { TEXT ("a,b\n\"x\" \"y\",2\n"), { { 2, "a", "text after a closing quote" } } },
  { TEXT ("a,b\n1,\"x\ny\"z\n3\n"), { { 3, "b", "text after a closing quote: y\"z" } } },
  { TEXT ("a,b\n1,2\n3,\"open\n4,5\n"), { { 3, "b", "never closed: 3,\"open" } } },
  { TEXT ("a,b\n\"x\ny\",\"open\n\n4,5\n"), { { 3, "b", "never closed: y\",\"open" } } },
  { TEXT ("a,b\n1\n\""), { { 2, NULL, "a row of 1 cell" }, { 3, "a", "never closed" } } },
  { TEXT ("\"a,b\n1,2\n"), { { 1, NULL, "never closed: \"a,b" } } },
  { TEXT ("a,b\n1,\"x\"\""), { { 2, "b", "never closed" } } },
  /* lines that end in CR alone */
  { TEXT ("a,b\r1,2\r3,4\r"), { { 1, NULL, "a carriage return inside the line" } } },
  { TEXT ("a,b\n1,2\r3,4\n5\n"), { { 2, NULL, "a carriage return inside" }, { 3, NULL, "a row of 1 cell" } } },
  { TEXT ("a,b\r1,2"), { { 1, NULL, "a carriage return inside" } } },
};

START_TEST (bad_files_are_refused_at_the_right_place)
{
  ck_assert_int_eq (read_bytes (bads[_i].text, bads[_i].count), SW_REJECTED);
  size_t count = 0;
  for (; bads[_i].faults[count].part != NULL; count++)
    {
      const expected *e = &bads[_i].faults[count];
      const sw_remark *remark = sw_report_get (report, count);
      ck_assert_msg (remark != NULL, "%d: fault %zu is missing", _i, count);
      ck_assert_int_eq (remark->severity, SW_FAULT);
      ck_assert_str_eq (remark->file, "t.csv");
      ck_assert_msg (strstr (remark->message, e->part) != NULL, "%d: '%s' without '%s'", _i, remark->message, e->part);
      ck_assert_msg (remark->line == e->line, "%d: line %zu, not %zu: %s", _i, remark->line, e->line, remark->message);
      ck_assert_msg ((remark->column == NULL) == (e->column == NULL)
                         && (e->column == NULL || strcmp (remark->column, e->column) == 0),
                     "%d: column %s: %s", _i, remark->column != NULL ? remark->column : "none", remark->message);
    }
  ck_assert_msg (sw_report_count (report) == count, "%d: also: %s", _i,
                 sw_report_count (report) > count ? sw_report_get (report, count)->message : "");
}
END_TEST

/* Of a long faulty cell a part is shown, cut between characters, that holds what is wrong. */
START_TEST (long_faulty_cells_are_shown_in_part)
{
  for (size_t shift = 0; shift < 2; shift++)
    {
      sw_text text = { 0 };
      sw_text_add (&text, "a,b\n1,");
      sw_text_repeat (&text, 'x', shift);
      for (int i = 0; i < 100; i++)
        sw_text_add (&text, "\xC3\xB6");
      sw_text close = { 0 };
      sw_text_add (&close, text.data);
      sw_text_add (&text, "\"\n");
      ck_assert_int_eq (read_bytes (text.data, text.length), SW_REJECTED);
      const char *message = sw_report_get (report, 0)->message;
      ck_assert_ptr_nonnull (strstr (message, shift == 0 ? "quoted: \xC3\xB6" : "quoted: x\xC3\xB6"));
      ck_assert_ptr_nonnull (strstr (message, "\xC3\xB6; expected the cell in quotes"));
      ck_assert_ptr_null (strchr (message, '\\'));
      sw_text_drop (&text);
      /* bytes far into the cell */
      sw_text_add (&close, "\xE9!\n");
      ck_assert_int_eq (read_bytes (close.data, close.length), SW_REJECTED);
      message = sw_report_get (report, 0)->message;
      ck_assert_ptr_nonnull (strstr (message, "\"\xC3\xB6"));
      ck_assert_ptr_nonnull (strstr (message, "\xC3\xB6\\xE9!\" is not UTF-8: character 10"));
      sw_text_drop (&close);
    }
}
END_TEST

START_TEST (all_faults_up_to_twenty)
{
  sw_text text = { 0 };
  sw_text_add (&text, "a,b\n");
  for (int i = 0; i < 33; i++)
    sw_text_add (&text, i % 2 == 0 ? "1\n" : "x\"y,2\n");
  ck_assert_int_eq (read_bytes (text.data, text.length), SW_REJECTED);
  ck_assert_uint_eq (sw_report_count (report), 21);
  ck_assert_uint_eq (sw_report_count_of (report, SW_FAULT), 20);
  ck_assert_uint_eq (sw_report_faults_of (report, "t.csv"), 33);
  for (size_t i = 0; i < 20; i++)
    ck_assert_uint_eq (sw_report_get (report, i)->line, i + 2);
  ck_assert_str_eq (sw_report_get (report, 20)->message, "and 13 more faults");
  sw_text_drop (&text);
}
END_TEST

/* ---- Bounds -------------------------------------------------------------- */

static void
read_text (sw_text *text, sw_status status)
{
  ck_assert (!text->failed);
  ck_assert_int_eq (read_bytes (text->data, text->length), status);
  sw_text_drop (text);
}

START_TEST (cells_up_to_64_kib)
{
  for (int quoted = 0; quoted < 2; quoted++)
    for (size_t over = 0; over < 2; over++)
      {
        sw_text text = { 0 };
        sw_text_add (&text, quoted ? "a,b\n\n\"" : "a,b\n\n");
        sw_text_repeat (&text, 'x', SW_TABLE_MAX_CELL + over);
        sw_text_add (&text, quoted ? "\",2\n3\n" : ",2\n3,4\n");
        if (quoted == 0 && over == 0)
          {
            read_text (&text, SW_OK);
            ck_assert_uint_eq (strlen (sw_table_cell (table, 0, 0)), SW_TABLE_MAX_CELL);
            check_row (1, 4, "3", "4");
            continue;
          }
        read_text (&text, SW_REJECTED);
        size_t last = sw_report_count (report) - 1;
        if (over)
          {
            ck_assert_ptr_nonnull (
                strstr (sw_report_get (report, 0)->message, "a cell of 65537 bytes; expected at most 65536"));
            ck_assert_uint_eq (sw_report_get (report, 0)->line, 3);
            ck_assert_str_eq (sw_report_get (report, 0)->column, "a");
          }
        ck_assert_uint_eq (last, over + (size_t)quoted - 1);
      }
  /* a cell of quotes only, each doubled */
  sw_text text = { 0 };
  sw_text_add (&text, "a,b\n1,\"");
  sw_text_repeat (&text, '"', 2 * SW_TABLE_MAX_CELL);
  sw_text_add (&text, "\"\n");
  read_text (&text, SW_OK);
  ck_assert_uint_eq (strlen (sw_table_cell (table, 0, 1)), SW_TABLE_MAX_CELL);
}
END_TEST

START_TEST (an_endless_cell)
{
  /* an open quote swallows line after line ... */
  sw_text text = { 0 };
  sw_text_add (&text, "a,b\n1,2\n3,\"4\n");
  for (int i = 0; i < 100000; i++)
    sw_text_add (&text, "5,6,7,8\n");
  read_text (&text, SW_REJECTED);
  ck_assert_uint_eq (sw_report_count (report), 1);
  ck_assert_uint_eq (sw_report_get (report, 0)->line, 3);
  ck_assert_str_eq (sw_report_get (report, 0)->column, "b");
  ck_assert_ptr_nonnull (strstr (sw_report_get (report, 0)->message, "is a quote opened here and not closed?"));
  /* ... or one line never ends */
  sw_text_add (&text, "a,b\n1,");
  sw_text_repeat (&text, 'x', 10 << 20);
  read_text (&text, SW_REJECTED);
  ck_assert_uint_eq (sw_report_count (report), 1);
  ck_assert_uint_eq (sw_report_get (report, 0)->line, 2);
}
END_TEST

START_TEST (columns_up_to_256)
{
  sw_text text = { 0 };
  for (int i = 0; i < SW_TABLE_MAX_COLUMNS; i++)
    sw_text_printf (&text, "%sc%d", i > 0 ? "," : "", i);
  sw_text over = { 0 };
  sw_text_add (&over, text.data);
  sw_text_add (&over, ",more\n");
  read_text (&text, SW_OK);
  ck_assert_uint_eq (sw_table_columns (table), SW_TABLE_MAX_COLUMNS);
  read_text (&over, SW_REJECTED);
  ck_assert_ptr_nonnull (strstr (sw_report_get (report, 0)->message, "257 columns; expected at most 256"));
  /* a line of a megabyte of commas is one fault */
  sw_text_add (&text, "a,b\n");
  sw_text_repeat (&text, ',', 1 << 20);
  sw_text_add (&text, "\n1,2\n");
  read_text (&text, SW_REJECTED);
  ck_assert_uint_eq (sw_report_count (report), 1);
  ck_assert_ptr_nonnull (strstr (sw_report_get (report, 0)->message, "a row of 1048577 cells"));
}
END_TEST

START_TEST (rows_up_to_the_bound)
{
  sw_text text = { 0 };
  sw_text_add (&text, "a\n");
  for (size_t i = 0; i < SW_TABLE_MAX_ROWS; i++)
    sw_text_add_bytes (&text, "1\n", 2);
  ck_assert_int_eq (read_bytes (text.data, text.length), SW_OK);
  ck_assert_uint_eq (sw_table_rows (table), SW_TABLE_MAX_ROWS);
  ck_assert_uint_eq (sw_table_line (table, SW_TABLE_MAX_ROWS - 1), SW_TABLE_MAX_ROWS + 1);
  sw_text_add (&text, "1\n1\n");
  read_text (&text, SW_REJECTED);
  ck_assert_uint_eq (sw_report_count (report), 1);
  ck_assert_uint_eq (sw_report_get (report, 0)->line, SW_TABLE_MAX_ROWS + 2);
  ck_assert_ptr_nonnull (strstr (sw_report_get (report, 0)->message, "too many rows"));
}
END_TEST

/* ---- Files --------------------------------------------------------------- */

static char directory[64];

static void
setup_files (void)
{
  setup ();
  strcpy (directory, "check_table.XXXXXX");
  ck_assert_ptr_nonnull (mkdtemp (directory));
}

static void
teardown_files (void)
{
  rmdir (directory);
  teardown ();
}

static void
check_io_fault (const char *file, sw_status status, const char *part)
{
  sw_report_clear (report);
  ck_assert_int_eq (sw_table_read (&table, file, report), status);
  ck_assert_ptr_null (table);
  ck_assert_uint_eq (sw_report_count (report), 1);
  const sw_remark *remark = sw_report_get (report, 0);
  ck_assert_str_eq (remark->file, file);
  ck_assert_uint_eq (remark->line, 0);
  ck_assert_msg (strstr (remark->message, part) != NULL, "%s", remark->message);
}

START_TEST (a_file_is_read)
{
  char name[128];
  snprintf (name, sizeof name, "%s/a.csv", directory);
  FILE *file = fopen (name, "wb");
  ck_assert_ptr_nonnull (file);
  ck_assert_int_ge (fputs ("\xEF\xBB\xBFrun;span\r\nroad;2,4m\r\n", file), 0);
  ck_assert_int_eq (fclose (file), 0);
  ck_assert_int_eq (sw_table_read (&table, name, report), SW_OK);
  unlink (name);
  check_row (0, 2, "road", "2,4m");
  ck_assert_str_eq (sw_table_file (table), name);
}
END_TEST

START_TEST (what_is_no_file)
{
  char name[128];
  check_io_fault (directory, SW_IO, "a directory");
  snprintf (name, sizeof name, "%s/missing.csv", directory);
  check_io_fault (name, SW_IO, "cannot be read: ");
  check_io_fault ("", SW_IO, "cannot be read: ");
  /* opening a pipe that nobody writes to would hang until Check's timeout */
  ck_assert_int_eq (mkfifo (name, 0600), 0);
  check_io_fault (name, SW_IO, "not a regular file");
  unlink (name);
  check_io_fault ("/dev/null", SW_IO, "not a regular file");
  /* Linux has files that claim to be empty but are not, or that cannot be read from the start */
  if (access ("/proc/self/mem", R_OK) == 0)
    check_io_fault ("/proc/self/mem", SW_IO, "cannot be read: ");
  if (access ("/proc/self/maps", R_OK) == 0)
    check_io_fault ("/proc/self/maps", SW_IO, "it grew while it was read");
  /* names that would steer a terminal */
  sw_report_clear (report);
  ck_assert_int_eq (sw_table_read (&table, "\x1B[2J.csv", report), SW_IO);
  ck_assert_str_eq (sw_report_get (report, 0)->file, "\\x1B[2J.csv");
}
END_TEST

START_TEST (a_huge_file_is_not_read)
{
  char name[128];
  snprintf (name, sizeof name, "%s/huge.csv", directory);
  int descriptor = open (name, O_WRONLY | O_CREAT | O_EXCL, 0600);
  ck_assert_int_ge (descriptor, 0);
  /* a hole takes no room on the disk */
  int result = ftruncate (descriptor, (off_t)1 << 30);
  close (descriptor);
  if (result == 0)
    check_io_fault (name, SW_REJECTED, "more than 256 MiB");
  unlink (name);
  ck_assert_int_eq (result, 0);
}
END_TEST

START_TEST (too_many_bytes_in_memory)
{
  /* refused by the count alone, before any byte is looked at */
  ck_assert_int_eq (sw_table_read_bytes (&table, "", SW_TABLE_MAX_BYTES + 1, "t.csv", report), SW_REJECTED);
  ck_assert_ptr_null (table);
  ck_assert_uint_eq (sw_report_count (report), 1);
}
END_TEST

/* ---- Writing ------------------------------------------------------------- */

START_TEST (a_table_is_written)
{
  static const char *const header[] = { "section", "count", "description" };
  ck_assert_int_eq (sw_table_new (&table, header, 3), SW_OK);
  ck_assert_int_eq (sw_table_set (table, 0, "x"), SW_USAGE);
  ck_assert_int_eq (sw_table_add_row (table), SW_OK);
  ck_assert_int_eq (sw_table_set_text (table, 0, "90x45 \"H3\""), SW_OK);
  ck_assert_int_eq (sw_table_set (table, 1, "11"), SW_OK);
  ck_assert_int_eq (sw_table_set (table, 1, "-12.5"), SW_OK);
  ck_assert_int_eq (sw_table_set_text (table, 2, "primed, pine"), SW_OK);
  ck_assert_int_eq (sw_table_set (table, 3, "x"), SW_USAGE);
  ck_assert_int_eq (sw_table_add_row (table), SW_OK);
  ck_assert_int_eq (sw_table_set_text (table, 1, "b "), SW_OK);
  ck_assert_int_eq (sw_table_set_text (table, 2, "two\nlines"), SW_OK);
  ck_assert_int_eq (sw_table_add_row (table), SW_OK);
  ck_assert_int_eq (sw_table_set_text (table, 0, " a"), SW_OK);
  ck_assert_int_eq (sw_table_set_text (table, 1, "a;b"), SW_OK);
  ck_assert_int_eq (sw_table_set_text (table, 2, "\xC3\xB6"), SW_OK);
  ck_assert_uint_eq (sw_table_rows (table), 3);
  ck_assert_str_eq (sw_table_cell (table, 0, 1), "-12.5");
  ck_assert_str_eq (sw_table_cell (table, 1, 0), "");
  ck_assert_uint_eq (sw_table_line (table, 0), 0);
  ck_assert_str_eq (sw_table_file (table), "");
  char *csv = NULL;
  ck_assert_int_eq (sw_table_csv (table, &csv), SW_OK);
  ck_assert_str_eq (csv, "section,count,description\r\n"
                         "\"90x45 \"\"H3\"\"\",-12.5,\"primed, pine\"\r\n"
                         ",\"b \",\"two\nlines\"\r\n"
                         "\" a\",\"a;b\",\xC3\xB6\r\n");
  sw_text_free (csv);
}
END_TEST

START_TEST (no_columns_or_too_many)
{
  static const char *many[SW_TABLE_MAX_COLUMNS + 1];
  for (size_t i = 0; i <= SW_TABLE_MAX_COLUMNS; i++)
    many[i] = "x";
  ck_assert_int_eq (sw_table_new (&table, many, 0), SW_USAGE);
  ck_assert_int_eq (sw_table_new (&table, many, SW_TABLE_MAX_COLUMNS + 1), SW_USAGE);
  ck_assert_ptr_null (table);
  ck_assert_int_eq (sw_table_new (&table, many, SW_TABLE_MAX_COLUMNS), SW_OK);
  ck_assert_uint_eq (sw_table_columns (table), SW_TABLE_MAX_COLUMNS);
  ck_assert_uint_eq (sw_table_columns (NULL), 0);
  ck_assert_uint_eq (sw_table_rows (NULL), 0);
  ck_assert_ptr_null (sw_table_header (NULL, 0));
  ck_assert_ptr_null (sw_table_cell (NULL, 0, 0));
}
END_TEST

/* Text as it stands in the CSV file, and as it is in the table. */
static const struct
{
  const char *text;
  const char *csv;
} formulas[] = {
  { "=1+1", "'=1+1" },
  { "+61 400", "'+61 400" },
  { "-5", "'-5" },
  { "@SUM(A1)", "'@SUM(A1)" },
  { "\tx", "\"'\tx\"" },
  { "\rx", "\"'\rx\"" },
  { "=a,\"b\"", "\"'=a,\"\"b\"\"\"" },
  { "'=1", "''=1" },
  { "''@", "'''@" },
  { "'tis", "'tis" },
  { "''", "''" },
  { "'", "'" },
  { "a=1", "a=1" },
};

START_TEST (formulas_are_defused_and_come_back)
{
  static const char *const header[] = { "name", "other" };
  ck_assert_int_eq (sw_table_new (&table, header, 2), SW_OK);
  ck_assert_int_eq (sw_table_add_row (table), SW_OK);
  ck_assert_int_eq (sw_table_set_text (table, 0, formulas[_i].text), SW_OK);
  ck_assert_str_eq (sw_table_cell (table, 0, 0), formulas[_i].text);
  char *csv = NULL;
  ck_assert_int_eq (sw_table_csv (table, &csv), SW_OK);
  char wanted[64];
  snprintf (wanted, sizeof wanted, "name,other\r\n%s,\r\n", formulas[_i].csv);
  ck_assert_str_eq (csv, wanted);
  ck_assert_int_eq (read_bytes (csv, strlen (csv)), SW_OK);
  sw_text_free (csv);
  ck_assert_str_eq (sw_table_cell (table, 0, 0), formulas[_i].text);
  /* also from a table that was read: the same bytes, but for plain numbers */
  ck_assert_int_eq (sw_table_csv (table, &csv), SW_OK);
  ck_assert_str_eq (csv, wanted);
  sw_text_free (csv);
}
END_TEST

START_TEST (numbers_that_were_read_stay_numbers)
{
  const char *text = "a,b\r\n-5,+1.5\r\n-5mm,=2\r\n-,.\r\n";
  ck_assert_int_eq (read_bytes (text, strlen (text)), SW_OK);
  char *csv = NULL;
  ck_assert_int_eq (sw_table_csv (table, &csv), SW_OK);
  ck_assert_str_eq (csv, "a,b\r\n-5,+1.5\r\n'-5mm,'=2\r\n'-,.\r\n");
  sw_text_free (csv);
}
END_TEST

START_TEST (a_mark_in_the_first_cell_survives)
{
  static const char *const header[] = { "\xEF\xBB\xBFname" };
  ck_assert_int_eq (sw_table_new (&table, header, 1), SW_OK);
  char *csv = NULL;
  ck_assert_int_eq (sw_table_csv (table, &csv), SW_OK);
  ck_assert_int_eq (read_bytes (csv, strlen (csv)), SW_OK);
  sw_text_free (csv);
  ck_assert_str_eq (sw_table_header (table, 0), header[0]);
}
END_TEST

START_TEST (a_blank_row_of_one_column_survives)
{
  static const char *const header[] = { "name" };
  ck_assert_int_eq (sw_table_new (&table, header, 1), SW_OK);
  ck_assert_int_eq (sw_table_add_row (table), SW_OK);
  ck_assert_int_eq (sw_table_add_row (table), SW_OK);
  char *csv = NULL;
  ck_assert_int_eq (sw_table_csv (table, &csv), SW_OK);
  ck_assert_int_eq (read_bytes (csv, strlen (csv)), SW_OK);
  sw_text_free (csv);
  ck_assert_uint_eq (sw_table_rows (table), 2);
}
END_TEST

/* ---- Any text at all ------------------------------------------------------ */

static uint32_t state;

static uint32_t
next_random (uint32_t below)
{
  state = state * 1103515245u + 12345u;
  return (state >> 16) % below;
}

/* Parts that matter to a CSV file in any order, without outer spaces, which are cut off. */
static void
random_text (sw_text *text)
{
  static const char *const pieces[]
      = { "a", "\"", ",", ";", "\n", "\r\n", "\r", "'", "=", "-", "7", "\xC3\xB6", "x y", "@" };
  uint32_t count = next_random (7);
  for (uint32_t i = 0; i < count; i++)
    sw_text_add (text, pieces[next_random (COUNT (pieces))]);
}

START_TEST (any_table_comes_back)
{
  state = (uint32_t)_i + 1;
  static const char *const names[] = { "run", "span", "with, comma", "=formula" };
  for (int round = 0; round < 100; round++)
    {
      size_t columns = next_random (4) + 1;
      size_t rows = next_random (6);
      sw_table *made = NULL;
      ck_assert_int_eq (sw_table_new (&made, names, columns), SW_OK);
      for (size_t row = 0; row < rows; row++)
        {
          ck_assert_int_eq (sw_table_add_row (made), SW_OK);
          for (size_t column = 0; column < columns; column++)
            {
              sw_text text = { 0 };
              random_text (&text);
              char *cell = sw_text_take (&text);
              ck_assert_int_eq (sw_table_set_text (made, column, cell), SW_OK);
              sw_text_free (cell);
            }
        }
      char *csv = NULL;
      ck_assert_int_eq (sw_table_csv (made, &csv), SW_OK);
      ck_assert_msg (read_bytes (csv, strlen (csv)) == SW_OK, "%d: %s in:\n%s", _i, sw_report_get (report, 0)->message,
                     csv);
      ck_assert_uint_eq (sw_table_columns (table), columns);
      ck_assert_uint_eq (sw_table_rows (table), rows);
      for (size_t column = 0; column < columns; column++)
        {
          ck_assert_str_eq (sw_table_header (table, column), names[column]);
          for (size_t row = 0; row < rows; row++)
            ck_assert_str_eq (sw_table_cell (table, row, column), sw_table_cell (made, row, column));
        }
      sw_text_free (csv);
      sw_table_free (made);
    }
}
END_TEST

/* Any bytes get an answer, and a refusal gives its reason. */
START_TEST (any_bytes_get_an_answer)
{
  state = (uint32_t)_i + 1;
  int good = 0;
  for (int round = 0; round < 3000; round++)
    {
      static const char interesting[] = "a1,;\t\"\"\n\n\r' \0\xFF\xC3\xB6=\x1B";
      char bytes[64];
      size_t count = next_random (sizeof bytes);
      for (size_t i = 0; i < count; i++)
        bytes[i] = interesting[next_random (round % 3 == 0 ? sizeof interesting - 1 : 9)];
      sw_status status = read_bytes (bytes, count);
      ck_assert (status == SW_OK || status == SW_REJECTED);
      good += status == SW_OK;
      if (status == SW_OK)
        ck_assert_uint_ge (sw_table_columns (table), 1);
      for (size_t i = 0; i < sw_report_count (report); i++)
        ck_assert_uint_gt (strlen (sw_report_get (report, i)->message), 0);
    }
  ck_assert_int_gt (good, 0);
}
END_TEST

START_TEST (a_file_cut_anywhere)
{
  const char *text = "\xEF\xBB\xBF\"run\";span\r\n\"a \"\"b\"\"\r\nc\";2,4m\r\n\r\n\xC3\xB6;'=1\r\n";
  for (size_t count = 0; count <= strlen (text); count++)
    {
      sw_status status = read_bytes (text, count);
      ck_assert (status == SW_OK || status == SW_REJECTED);
    }
  ck_assert_uint_eq (sw_table_rows (table), 2);
  check_row (1, 5, "\xC3\xB6", "=1");
}
END_TEST

static Suite *
table_suite (void)
{
  Suite *suite = suite_create ("table");
  TCase *reading = tcase_create ("reading");
  tcase_set_timeout (reading, 60);
  tcase_add_checked_fixture (reading, setup, teardown);
  tcase_add_loop_test (reading, good_files_are_read, 0, COUNT (goods));
  tcase_add_test (reading, quoted_cells);
  tcase_add_test (reading, a_header_alone);
  tcase_add_test (reading, rows_of_separators_are_blank);
  tcase_add_test (reading, blank_columns_behind_the_others);
  tcase_add_test (reading, quoted_blank_cells_are_no_blank_line);
  tcase_add_test (reading, separators_inside_quotes_do_not_count);
  tcase_add_test (reading, any_script_is_kept);
  tcase_add_test (reading, without_a_report);
  tcase_add_loop_test (reading, bad_files_are_refused_at_the_right_place, 0, COUNT (bads));
  tcase_add_test (reading, long_faulty_cells_are_shown_in_part);
  tcase_add_test (reading, all_faults_up_to_twenty);
  suite_add_tcase (suite, reading);
  TCase *bounds = tcase_create ("bounds");
  tcase_add_checked_fixture (bounds, setup, teardown);
  tcase_set_timeout (bounds, 120);
  tcase_add_test (bounds, cells_up_to_64_kib);
  tcase_add_test (bounds, an_endless_cell);
  tcase_add_test (bounds, columns_up_to_256);
  tcase_add_test (bounds, rows_up_to_the_bound);
  tcase_add_test (bounds, too_many_bytes_in_memory);
  suite_add_tcase (suite, bounds);
  TCase *files = tcase_create ("files");
  tcase_set_timeout (files, 60);
  tcase_add_checked_fixture (files, setup_files, teardown_files);
  tcase_add_test (files, a_file_is_read);
  tcase_add_test (files, what_is_no_file);
  tcase_add_test (files, a_huge_file_is_not_read);
  suite_add_tcase (suite, files);
  TCase *writing = tcase_create ("writing");
  tcase_set_timeout (writing, 60);
  tcase_add_checked_fixture (writing, setup, teardown);
  tcase_add_test (writing, a_table_is_written);
  tcase_add_test (writing, no_columns_or_too_many);
  tcase_add_loop_test (writing, formulas_are_defused_and_come_back, 0, COUNT (formulas));
  tcase_add_test (writing, numbers_that_were_read_stay_numbers);
  tcase_add_test (writing, a_mark_in_the_first_cell_survives);
  tcase_add_test (writing, a_blank_row_of_one_column_survives);
  suite_add_tcase (suite, writing);
  TCase *any = tcase_create ("any text");
  tcase_add_checked_fixture (any, setup, teardown);
  tcase_set_timeout (any, 120);
  tcase_add_loop_test (any, any_table_comes_back, 0, 5);
  tcase_add_loop_test (any, any_bytes_get_an_answer, 0, 5);
  tcase_add_test (any, a_file_cut_anywhere);
  suite_add_tcase (suite, any);
  return suite;
}

int
main (void)
{
  return suite_run (table_suite ());
}
