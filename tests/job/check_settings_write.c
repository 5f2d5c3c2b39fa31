/* check_settings_write.c - settings written as rows of key and value, which read back to the same
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "job/settings.h"

#include "chance.h"
#include "base/decimal.h"
#include "base/memory.h"
#include "suite.h"
#include "csv/table.h"

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#define VALUE 600

/* ---- Values that a user may give ---- */

typedef enum kind
{
  LENGTH,
  LENGTH_OR_NONE,
  WORD,
  NUMBER, /* with so many places */
  NAME,
  STOCK
} kind;

static const struct
{
  const char *key;
  kind kind;
  int64_t low; /* nanometres; a number: in its last place */
  int64_t high;
  const char *words; /* each begins with a space */
  int places;
} values[] = {
  { "kerf", LENGTH, 0, 20 * SW_MM, NULL, 0 },
  { "end-trim", LENGTH, 0, SW_METRE, NULL, 0 },
  { "post-width", LENGTH, 1, 2 * SW_METRE, NULL, 0 },
  { "measured", WORD, 0, 0, " centres clear", 0 },
  { "post-depth", LENGTH, 1, 2 * SW_METRE, NULL, 0 },
  { "rails", NUMBER, 1, 64, NULL, 0 },
  { "stock-length", STOCK, 50 * SW_MM, 100000 * SW_METRE, NULL, 0 },
  { "keep", LENGTH, 0, 100000 * SW_METRE, NULL, 0 },
  { "min-bearing", LENGTH, 0, SW_METRE, NULL, 0 },
  { "join-cost", NUMBER, 0, 1000000000000000, NULL, 6 },
  { "stagger", WORD, 0, 0, " prefer require off", 0 },
  { "turn", WORD, 0, 0, " keep off", 0 },
  { "bow", LENGTH, 0, SW_METRE, NULL, 0 },
  { "max-piece", LENGTH_OR_NONE, 100 * SW_MM, 100000 * SW_METRE, NULL, 0 },
  { "picket", LENGTH_OR_NONE, 100 * SW_MM, 10 * SW_METRE, NULL, 0 },
  { "round", LENGTH_OR_NONE, 0, 25 * SW_MM, NULL, 0 },
  { "tax", NUMBER, 0, 1000000, NULL, 4 },
  { "job", NAME, 0, 0, NULL, 0 },
  { "date", NAME, 0, 0, NULL, 0 },
  { "inches", WORD, 0, 0, " yes no", 0 },
  { "paper", WORD, 0, 0, " a4 letter", 0 },
  { "time-limit", NUMBER, 0, INT64_C (10000000000), NULL, 3 },
  { "csv-style", WORD, 0, 0, " comma semicolon", 0 },
  { "by", WORD, 0, 0, " length run", 0 },
  { "min-bay", LENGTH, 100 * SW_MM, 20 * SW_METRE, NULL, 0 },
  { "max-bay", LENGTH, 100 * SW_MM, 20 * SW_METRE, NULL, 0 },
  { "post-cost", NUMBER, 0, 1000000000000000, NULL, 6 },
  { "revision", NUMBER, 0, 1000000, NULL, 0 },
};
#define VALUES (sizeof values / sizeof values[0])

static size_t
values_of (const char *key)
{
  size_t v = 0;
  while (v < VALUES && strcmp (values[v].key, key) != 0)
    v++;
  ck_assert_msg (v < VALUES, "what may %s be set to?", key);
  return v;
}

/* To the nanometre, or in 64ths of an inch, or whole millimetres. */
static void
some_length (uint64_t *state, int64_t low, int64_t high, char out[VALUE])
{
  static const sw_length units[] = { 1, SW_INCH / 64, SW_MM, 12 * SW_INCH };
  sw_length unit = units[chance (state, 0, 3)];
  sw_length length = chance (state, low, high) / unit * unit;
  if (length < low)
    length = low;
  sw_decimal_format (length, 6, 0, out);
  strcat (out, "mm");
}

static void
some_name (uint64_t *state, char out[VALUE])
{
  static const char *const parts[]
      = { "a",    "Z", " ",   "\t",  ",", ";",  "\"",           "'",    "=",   "+", "-", "@", "\n",
          "\r\n", "0", "4.5", "4,5", "ő", "柵", "\xEF\xBB\xBF", "\x01", "key", "%s" };
  size_t used = 0;
  for (int64_t count = chance (state, 0, 12); count > 0; count--)
    used += (size_t)snprintf (out + used, VALUE - used, "%s",
                              parts[chance (state, 0, sizeof parts / sizeof *parts - 1)]);
  out[used] = '\0';
}

static void
some_value (uint64_t *state, size_t v, char out[VALUE])
{
  size_t used = 0;
  switch (values[v].kind)
    {
    case LENGTH_OR_NONE:
      if (one_in (state, 4))
        {
          strcpy (out, "none");
          return;
        }
      /* fall through */
    case LENGTH:
      some_length (state, values[v].low, values[v].high, out);
      return;
    case NUMBER:
      sw_decimal_format (chance (state, values[v].low, values[v].high), values[v].places, 0, out);
      return;
    case NAME:
      some_name (state, out);
      return;
    case STOCK:
      for (int64_t count = chance (state, 1, 8); count > 0; count--)
        {
          char length[VALUE];
          some_length (state, values[v].low, values[v].high / (one_in (state, 2) ? 1 : 10000), length);
          used += (size_t)snprintf (out + used, VALUE - used, "%s%s", used > 0 ? ";" : "", length);
        }
      return;
    case WORD:
      {
        int64_t words = 0;
        for (const char *at = values[v].words; *at != '\0'; at++)
          words += *at == ' ';
        const char *at = values[v].words;
        for (int64_t skip = chance (state, 0, words - 1); skip > 0; skip--)
          at = strchr (at + 1, ' ');
        snprintf (out, VALUE, "%.*s", (int)strcspn (at + 1, " "), at + 1);
      }
    }
}

/* ---- There and back ---- */

static char *
written (const sw_settings *settings)
{
  sw_table *table = NULL;
  char *csv = NULL;
  ck_assert_int_eq (sw_settings_table (settings, &table), SW_OK);
  ck_assert_int_eq (sw_table_csv (table, &csv), SW_OK);
  sw_table_free (table);
  return csv;
}

static sw_settings *
read_back (const char *csv)
{
  char name[] = "/tmp/spanwright-settings-XXXXXX";
  int descriptor = mkstemp (name);
  ck_assert_int_ge (descriptor, 0);
  ck_assert_int_eq (write (descriptor, csv, strlen (csv)), (ssize_t)strlen (csv));
  close (descriptor);
  sw_settings *settings = sw_settings_new ();
  sw_report *report = sw_report_new ();
  sw_status status = sw_settings_read (settings, name, report);
  ck_assert_msg (status == SW_OK && sw_report_count (report) == 0, "%s\n%s", csv,
                 sw_report_count (report) > 0 ? sw_report_get (report, 0)->message : "");
  sw_report_free (report);
  unlink (name);
  return settings;
}

START_TEST (defaults_say_nothing)
{
  sw_settings *settings = sw_settings_new ();
  char *csv = written (settings);
  ck_assert_str_eq (csv, "key,value\r\n");
  sw_settings *again = read_back (csv);
  ck_assert (sw_settings_same (settings, again));
  sw_text_free (csv);
  sw_settings_free (again);
  sw_settings_free (settings);
}
END_TEST

/* The rows that single settings give. */
START_TEST (as_it_is_written)
{
  static const struct
  {
    const char *sets; /* "key=value", one a line */
    const char *csv;
  } cases[] = {
    { "kerf=4", "key,value\r\nkerf,4mm\r\n" },
    { "kerf=1/8in", "key,value\r\nkerf,3.175mm\r\n" },
    { "kerf=1/8in\ninches=yes", "key,value\r\nkerf,0.125in\r\ninches,yes\r\n" },
    { "kerf=3.2\ninches=yes", "key,value\r\nkerf,3.2mm\r\ninches,yes\r\n" },
    { "kerf=3", "key,value\r\n" },
    { "stock-length=5.4,4.8,2450.5", "key,value\r\nstock-length,\"2.4505m;4.8m;5.4m\"\r\n" },
    { "stock-length=16ft,150in\ninches=yes", "key,value\r\nstock-length,\"150in;16ft\"\r\ninches,yes\r\n" },
    { "stock-length=4.8,5.4", "key,value\r\nstock-length,\"4.8m;5.4m\"\r\n" },
    { "rails=2", "key,value\r\nrails,2\r\n" },
    { "round=none", "key,value\r\nround,0mm\r\n" },
    { "tax=8.125", "key,value\r\ntax,8.125\r\n" },
    { "tax=0", "key,value\r\ntax,0\r\n" },
    { "job==1+1", "key,value\r\njob,'=1+1\r\n" },
    { "job=  Hill, north \t", "key,value\r\njob,\"Hill, north\"\r\n" },
    { "join-cost=2.50\ntime-limit=1.5\ncsv-style=semicolon\nkerf=3.2",
      "\xEF\xBB\xBFkey;value\r\nkerf;3.2mm\r\njoin-cost;2,5\r\ntime-limit;1,5\r\ncsv-style;semicolon\r\n" },
  };
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++)
    {
      sw_settings *settings = sw_settings_new ();
      char *lines = sw_copy_text (cases[i].sets);
      for (char *rest = lines, *line; (line = strtok_r (rest, "\n", &rest)) != NULL;)
        {
          char *value = strchr (line, '=');
          *value++ = '\0';
          ck_assert_int_eq (sw_settings_set (settings, line, value, NULL), SW_OK);
        }
      char *csv = written (settings);
      ck_assert_str_eq (csv, cases[i].csv);
      sw_settings *again = read_back (csv);
      ck_assert_msg (sw_settings_same (settings, again), "%s", csv);
      sw_settings_free (again);
      sw_text_free (csv);
      free (lines);
      sw_settings_free (settings);
    }
}
END_TEST

/* Every key: a value other than the default is noticed, written and read back. */
START_TEST (each_key)
{
  uint64_t state = 20;
  size_t index = 0;
  for (; sw_settings_key (index) != NULL; index++)
    {
      const size_t v = values_of (sw_settings_key (index));
      size_t changed = 0;
      for (int round = 0; round < 40; round++)
        {
          char value[VALUE];
          sw_settings *usual = sw_settings_new ();
          sw_settings *settings = sw_settings_new ();
          some_value (&state, v, value);
          ck_assert_msg (sw_settings_set (settings, values[v].key, value, NULL) == SW_OK, "%s %s", values[v].key,
                         value);
          char *csv = written (settings);
          /* There is a row if the value is not the default, or if giving it means something by itself. */
          bool same = sw_settings_same (settings, usual);
          ck_assert_msg (same == (strcmp (strchr (csv, '\n'), "\n") == 0), "%s %s: %s", values[v].key, value, csv);
          ck_assert_msg (same == sw_settings_same (usual, settings), "%s %s", values[v].key, value);
          changed += !same;
          sw_settings *again = read_back (csv);
          ck_assert_msg (sw_settings_same (settings, again), "%s %s: %s", values[v].key, value, csv);
          sw_settings_free (again);
          sw_text_free (csv);
          sw_settings_free (settings);
          sw_settings_free (usual);
        }
      ck_assert_msg (changed >= 5, "%s: %zu", values[v].key, changed);
    }
  ck_assert_uint_eq (index, VALUES);
}
END_TEST

/* All of them together. */
START_TEST (any_settings)
{
  uint64_t state = 4711;
  for (int round = suite_rounds (3000); round > 0; round--)
    {
      sw_settings *settings = sw_settings_new ();
      for (size_t v = 0; v < VALUES; v++)
        {
          char value[VALUE];
          if (one_in (&state, 2))
            continue;
          some_value (&state, v, value);
          /* A stock length may occur twice. */
          sw_status status = sw_settings_set (settings, values[v].key, value, NULL);
          ck_assert_msg (status == SW_OK || values[v].kind == STOCK, "%s %s", values[v].key, value);
        }
      char *csv = written (settings);
      sw_settings *again = read_back (csv);
      ck_assert_msg (sw_settings_same (settings, again), "%s", csv);
      char *twice = written (again);
      ck_assert_str_eq (csv, twice);
      sw_text_free (twice);
      sw_settings_free (again);
      sw_text_free (csv);
      sw_settings_free (settings);
    }
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("settings_write");
  TCase *tests = tcase_create ("settings_write");
  tcase_set_timeout (tests, 300);
  tcase_add_test (tests, defaults_say_nothing);
  tcase_add_test (tests, as_it_is_written);
  tcase_add_test (tests, each_key);
  tcase_add_test (tests, any_settings);
  suite_add_tcase (suite, tests);
  return suite_run (suite);
}
