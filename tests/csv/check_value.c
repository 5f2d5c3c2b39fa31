/* check_value.c - what a user wrote, as a checked value
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "suite.h"
#include "csv/value.h"

#include <string.h>

static char expected[SW_PHRASE];

START_TEST (lengths)
{
  sw_length length = 1;
  ck_assert (sw_value_length ("20", SW_BARE_MM, false, 0, 20 * SW_MM, &length, expected));
  ck_assert_int_eq (length, 20 * SW_MM);
  ck_assert (!sw_value_length ("20.000001", SW_BARE_MM, false, 0, 20 * SW_MM, &length, expected));
  ck_assert_int_eq (length, 20 * SW_MM);
  ck_assert_str_eq (expected, "a length from 0 mm to 20 mm");
  ck_assert (!sw_value_length ("0", SW_BARE_MM, false, SW_LENGTH_OVER_0, 2 * SW_METRE, &length, expected));
  ck_assert_str_eq (expected, "a length over 0 and not over 2 m");
  ck_assert (sw_value_length ("0.000001", SW_BARE_MM, false, SW_LENGTH_OVER_0, SW_METRE, &length, expected));
  ck_assert_int_eq (length, 1);
  ck_assert (!sw_value_length ("5", SW_BARE_MM, false, 100 * SW_MM, SW_METRE, &length, expected));
  ck_assert_str_eq (expected, "a length from 100 mm to 1 m (a bare number is millimetres)");
}
END_TEST

START_TEST (whole_numbers)
{
  int64_t value = 5;
  ck_assert (sw_value_whole ("0", 0, 9, &value, expected));
  ck_assert_int_eq (value, 0);
  ck_assert (sw_value_whole ("0009", 0, 9, &value, expected));
  ck_assert_int_eq (value, 9);
  ck_assert (sw_value_whole ("9223372036854775807", 0, INT64_MAX, &value, expected));
  ck_assert_int_eq (value, INT64_MAX);
  static const char *const bad[] = { "", "10", "-1", "+1", "1.0", "1e1", " 1", "1 ", "x", "92233720368547758080" };
  for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++)
    ck_assert_msg (!sw_value_whole (bad[i], 0, 9, &value, expected), "%s", bad[i]);
  ck_assert (!sw_value_whole ("9223372036854775808", 0, INT64_MAX, &value, expected));
  ck_assert (!sw_value_whole ("4", 1, 3, &value, expected));
  ck_assert (!sw_value_whole ("13", 1, 12, &value, expected));
  ck_assert (sw_value_whole ("12", 1, 12, &value, expected));
  ck_assert (!sw_value_whole ("0", 1, 9, &value, expected));
  ck_assert_str_eq (expected, "a whole number from 1 to 9");
}
END_TEST

START_TEST (decimals)
{
  int64_t value = 5;
  ck_assert (sw_value_decimal ("135", false, 3, 0, 180, &value, expected));
  ck_assert_int_eq (value, 135000);
  ck_assert (sw_value_decimal ("22,5", true, 3, 0, 180, &value, expected));
  ck_assert_int_eq (value, 22500);
  ck_assert (sw_value_decimal ("180.000", false, 3, 0, 180, &value, expected));
  ck_assert (!sw_value_decimal ("180.001", false, 3, 0, 180, &value, expected));
  ck_assert (!sw_value_decimal ("22,5", false, 3, 0, 180, &value, expected));
  ck_assert (!sw_value_decimal ("1.0001", false, 3, 0, 180, &value, expected));
  ck_assert (!sw_value_decimal ("-1", false, 3, 0, 180, &value, expected));
  ck_assert_int_eq (value, 180000);
}
END_TEST

/* What a number with a comma may mean, in a file whose separator is the comma. */
START_TEST (numbers_with_a_comma)
{
  static const struct
  {
    sw_bare bare;
    const char *text;
    const char *expected;
  } lengths[] = {
    { SW_BARE_SPAN, "2,355", "2355 (if the comma stands between thousands) or 2.355m (if it is a decimal comma)" },
    { SW_BARE_MM, "2,355mm", "2355mm (if the comma stands between thousands) or 2.355mm (if it is a decimal comma)" },
    { SW_BARE_STOCK, "4,800", "4800 (if the comma stands between thousands) or 4.800 (if it is a decimal comma)" },
    { SW_BARE_STOCK, "4,8", "4.8, with a decimal point" },
    { SW_BARE_SPAN, "2,4", "2.4m, with a decimal point" },
    { SW_BARE_SPAN, "-1,234,567.5", NULL },
    { SW_BARE_SPAN, "1,234,567.5", "1234567.5, without a comma between thousands" },
    { SW_BARE_MM, "0,355", "0.355, with a decimal point" },
    { SW_BARE_MM, "2,3,4", NULL },
    { SW_BARE_MM, "1234,567,890", NULL },
    { SW_BARE_MM, ",5", NULL },
    { SW_BARE_MM, "5,", NULL },
    { SW_BARE_MM, "1,000x", NULL },
    { SW_BARE_MM, "1,00000000000000000000000000000000000000000000000000000000000", NULL },
  };
  for (size_t i = 0; i < sizeof lengths / sizeof lengths[0]; i++)
    {
      sw_length length = 1;
      ck_assert (!sw_value_length (lengths[i].text, lengths[i].bare, false, 0, 10000 * SW_METRE, &length, expected));
      ck_assert_int_eq (length, 1);
      if (lengths[i].expected != NULL)
        ck_assert_str_eq (expected, lengths[i].expected);
      else
        ck_assert_msg (strncmp (expected, "a length", 8) == 0, "%s: %s", lengths[i].text, expected);
    }
  int64_t number = 0;
  ck_assert (!sw_value_money ("1,200.50", false, &number, expected));
  ck_assert_str_eq (expected, "1200.50, without a comma between thousands");
  ck_assert (!sw_value_money ("7,9", false, &number, expected));
  ck_assert_str_eq (expected, "7.9, with a decimal point");
  ck_assert (!sw_value_whole ("1,000", 0, 5000, &number, expected));
  ck_assert_str_eq (expected, "1000, without a comma between thousands");
  ck_assert (!sw_value_whole ("1,5", 0, 5000, &number, expected));
  ck_assert_str_eq (expected, "a whole number from 0 to 5000");
  ck_assert (!sw_value_decimal ("550,5", false, 3, 0, 2000, &number, expected));
  ck_assert_str_eq (expected, "550.5, with a decimal point");
  /* Where it is a decimal comma, it is read. */
  sw_length length = 0;
  ck_assert (sw_value_length ("2,355m", SW_BARE_SPAN, true, 0, SW_LENGTH_MAX, &length, expected));
  ck_assert_int_eq (length, 2355 * SW_MM);
}
END_TEST

START_TEST (choices)
{
  static const char *const words[] = { "may", "never", "always" };
  size_t choice = 9;
  ck_assert (sw_value_choice ("NEVER", words, 3, &choice, expected));
  ck_assert_uint_eq (choice, 1);
  ck_assert (!sw_value_choice ("neverr", words, 3, &choice, expected));
  ck_assert (!sw_value_choice ("neve", words, 3, &choice, expected));
  ck_assert (!sw_value_choice ("", words, 3, &choice, expected));
  ck_assert_str_eq (expected, "\"may\", \"never\" or \"always\"");
}
END_TEST

START_TEST (utf8)
{
  ck_assert (sw_value_is_utf8 (""));
  ck_assert (sw_value_is_utf8 ("Zaun \xc3\xbc \xe6\x9c\xa8 \xf0\x9f\xaa\xb5"));
  ck_assert (!sw_value_is_utf8 ("\xc3"));
  ck_assert (!sw_value_is_utf8 ("a\x80"));
  ck_assert (!sw_value_is_utf8 ("\xc0\xaf"));      /* over-long, RFC 3629 section 3 */
  ck_assert (!sw_value_is_utf8 ("\xed\xa0\x80"));  /* a surrogate, RFC 3629 section 3 */
  ck_assert (!sw_value_is_utf8 ("a\xEF\xBF\xBE")); /* U+FFFE, a noncharacter */
  ck_assert (sw_value_is_utf8 ("a\xEF\xBF\xBD"));
}
END_TEST

START_TEST (shown_texts)
{
  char out[SW_SHOWN];
  char text[3 * SW_SHOWN + 1] = "";
  sw_show_text ("short", out);
  ck_assert_str_eq (out, "short");
  memset (text, 'x', SW_SHOWN - 1);
  sw_show_text (text, out);
  ck_assert_str_eq (out, text);
  /* However the characters lie, none of them is cut in two. */
  for (size_t start = 0; start < 3; start++)
    {
      memset (text, 0, sizeof text);
      memset (text, 'x', start);
      for (size_t i = 0; i < SW_SHOWN - 2; i++)
        strcat (text, "\xe6\x9c\xa8");
      sw_show_text (text, out);
      ck_assert_uint_lt (strlen (out), SW_SHOWN);
      ck_assert_uint_ge (strlen (out), SW_SHOWN - 4);
      ck_assert_str_eq (out + strlen (out) - 3, "...");
      ck_assert (sw_value_is_utf8 (out));
    }
}
END_TEST

START_TEST (shown_lengths)
{
  char out[SW_SHOWN];
  sw_show_length (2451500000, false, out);
  ck_assert_str_eq (out, "2451.5 mm");
  sw_show_length (2400300000, true, out);
  ck_assert_str_eq (out, "94 1/2 in");
}
END_TEST

/* Two different lengths that are compared never look the same. */
START_TEST (shown_lengths_that_are_compared)
{
  static const struct
  {
    sw_length a;
    sw_length b;
    bool inches;
    const char *a_shown;
    const char *b_shown;
  } pairs[] = {
    { 37500000, 38000000, false, "37.5 mm", "38 mm" },
    { 37950000, 38000000, false, "37.95 mm", "38 mm" },
    { 37999999, 38000000, false, "37.999999 mm", "38 mm" },
    { 1197750000, 1197800000, false, "1197.75 mm", "1197.8 mm" },
    { 38000000, 38000000, false, "38 mm", "38 mm" },
    { 38010000, 38010000, false, "38 mm", "38 mm" },
    { -37960000, -38000000, false, "-37.96 mm", "-38 mm" },
    { 25400000, 25500000, true, "1 in", "1.003937 in" },
    { 25400000, 27400000, true, "1 in", "1 1/16 in" },
    { 25400000, 25400001, true, "25.4 mm", "25.400001 mm" },
  };
  for (size_t p = 0; p < sizeof pairs / sizeof *pairs; p++)
    {
      char a[SW_SHOWN];
      char b[SW_SHOWN];
      sw_show_lengths (pairs[p].a, pairs[p].b, pairs[p].inches, a, b);
      ck_assert_str_eq (a, pairs[p].a_shown);
      ck_assert_str_eq (b, pairs[p].b_shown);
    }
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("value");
  TCase *tests = tcase_create ("value");
  tcase_add_test (tests, lengths);
  tcase_add_test (tests, whole_numbers);
  tcase_add_test (tests, decimals);
  tcase_add_test (tests, numbers_with_a_comma);
  tcase_add_test (tests, choices);
  tcase_add_test (tests, utf8);
  tcase_add_test (tests, shown_texts);
  tcase_add_test (tests, shown_lengths);
  tcase_add_test (tests, shown_lengths_that_are_compared);
  suite_add_tcase (suite, tests);
  return suite_run (suite);
}
