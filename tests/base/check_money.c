/* check_money.c - reading, multiplying and printing money
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "base/decimal.h"
#include "base/money.h"

#include "suite.h"

#include <string.h>

#define COUNT(array) ((int)(sizeof (array) / sizeof (array)[0]))

static const struct
{
  const char *text;
  bool comma;
  sw_money money;
} goods[] = {
  { "20.88", false, 20880000 },
  { " 20.88 ", false, 20880000 },
  { "20", false, 20000000 },
  { "0", false, 0 },
  { ".5", false, 500000 },
  { "20,88", true, 20880000 },
  { "20.88", true, 20880000 },
  { "0.000001", false, 1 },
  { "4.3512345", false, -1 },
  { "1.500000000", false, 1500000 },
  { "1000000000", false, SW_MONEY_MAX },
};

START_TEST (money_is_read)
{
  sw_money money = 77;
  const char *expected = NULL;
  bool read = sw_money_parse (goods[_i].text, goods[_i].comma, &money, &expected);
  if (goods[_i].money < 0)
    {
      /* A seventh decimal is refused, not rounded. */
      ck_assert (!read);
      ck_assert_ptr_nonnull (strstr (expected, "at most 6 decimals"));
      return;
    }
  ck_assert_msg (read, "%d: '%s' refused: expected %s", _i, goods[_i].text, expected);
  ck_assert_int_eq (money, goods[_i].money);
}
END_TEST

static const char *const bads[] = { "",
                                    " ",
                                    "-1",
                                    "+1",
                                    "$5",
                                    "5 EUR",
                                    "1,000",
                                    "1.",
                                    "20,88",
                                    "1 000",
                                    "1e3",
                                    "1000000000.000001",
                                    "twelve",
                                    "1.2.3",
                                    "0.0000001",
                                    "99999999999999999999",
                                    "9223372036854.775808" };

START_TEST (others_are_refused)
{
  sw_money money = 77;
  const char *expected = NULL;
  ck_assert_msg (!sw_money_parse (bads[_i], false, &money, &expected), "%d: '%s'", _i, bads[_i]);
  ck_assert_int_eq (money, 77);
  ck_assert_ptr_nonnull (strstr (expected, "an amount"));
  ck_assert (!sw_money_parse (bads[_i], false, &money, NULL));
}
END_TEST

START_TEST (a_length_has_a_price)
{
  sw_money price;
  /* 4.8 m at 4.35 a metre */
  ck_assert (sw_money_of_length (4350000, 4800 * SW_MM, &price));
  ck_assert_int_eq (price, 20880000);
  /* 16 ft at 1.05: 4.8768 * 1.05 = 5.12064 */
  ck_assert (sw_money_of_length (1050000, 192 * SW_INCH, &price));
  ck_assert_int_eq (price, 5120640);
  /* half a millionth, away from zero */
  ck_assert (sw_money_of_length (1, SW_METRE / 2, &price));
  ck_assert_int_eq (price, 1);
  ck_assert (sw_money_of_length (1, SW_METRE / 2 - 1, &price));
  ck_assert_int_eq (price, 0);
  ck_assert (sw_money_of_length (1, -SW_METRE / 2, &price));
  ck_assert_int_eq (price, -1);
  /* the product takes 97 bits, the price 50 */
  ck_assert (sw_money_of_length (SW_MONEY_MAX, SW_METRE, &price));
  ck_assert_int_eq (price, SW_MONEY_MAX);
  ck_assert (!sw_money_of_length (SW_MONEY_MAX, SW_LENGTH_MAX, &price));
  ck_assert (!sw_money_of_length (INT64_MIN, INT64_MIN, &price));
  ck_assert (!sw_money_of_length (INT64_MAX, INT64_MIN, &price));
  ck_assert (sw_money_of_length (INT64_MIN, SW_METRE, &price));
  ck_assert_int_eq (price, INT64_MIN);
  ck_assert (sw_money_of_length (INT64_MAX, SW_METRE, &price));
  ck_assert_int_eq (price, INT64_MAX);
}
END_TEST

START_TEST (arithmetic_is_checked)
{
  sw_money out;
  ck_assert (sw_money_add (1, 2, &out));
  ck_assert_int_eq (out, 3);
  ck_assert (!sw_money_add (INT64_MAX, 1, &out));
  ck_assert (sw_money_mul (20880000, 12, &out));
  ck_assert_int_eq (out, 250560000);
  ck_assert (!sw_money_mul (SW_MONEY_MAX, 10000, &out));
}
END_TEST

static const struct
{
  sw_money money;
  const char *text;
  const char *exact;
} prints[] = {
  { 0, "0.00", "0.00" },
  { 20880000, "20.88", "20.88" },
  { 20884500, "20.88", "20.8845" },
  { 20885000, "20.89", "20.885" },
  { 4999, "0.00", "0.004999" },
  { 5000, "0.01", "0.005" },
  { -4999, "0.00", "-0.004999" },
  { -5000, "-0.01", "-0.005" },
  { 20000000, "20.00", "20.00" },
  { 1, "0.00", "0.000001" },
  { 999995000, "1000.00", "999.995" },
  { INT64_MAX, "9223372036854.78", "9223372036854.775807" },
  { INT64_MIN, "-9223372036854.78", "-9223372036854.775808" },
};

START_TEST (money_is_printed)
{
  char text[SW_MONEY_TEXT];
  sw_money_format (prints[_i].money, text);
  ck_assert_str_eq (text, prints[_i].text);
  sw_money_format_exact (prints[_i].money, text);
  ck_assert_str_eq (text, prints[_i].exact);
}
END_TEST

/* ---- The decimals that money and lengths share ---------------------------- */

START_TEST (decimals_are_read)
{
  int64_t value = 7;
  ck_assert (sw_decimal_parse ("10", false, 4, &value));
  ck_assert_int_eq (value, 100000);
  ck_assert (sw_decimal_parse ("-12.5", false, 3, &value));
  ck_assert_int_eq (value, -12500);
  ck_assert (sw_decimal_parse ("3", false, 0, &value));
  ck_assert_int_eq (value, 3);
  ck_assert (sw_decimal_parse ("3.00", false, 0, &value));
  ck_assert_int_eq (value, 3);
  ck_assert (sw_decimal_parse ("0.123456789012345678", false, 18, &value));
  ck_assert_int_eq (value, INT64_C (123456789012345678));
  ck_assert (sw_decimal_parse ("9223372036854775807", false, 0, &value));
  ck_assert_int_eq (value, INT64_MAX);
  value = 7;
  ck_assert (!sw_decimal_parse ("3.1", false, 0, &value));
  ck_assert (!sw_decimal_parse ("9223372036854775808", false, 0, &value));
  ck_assert (!sw_decimal_parse ("9223372036854775807", false, 1, &value));
  ck_assert (!sw_decimal_parse ("9.3", false, 18, &value));
  ck_assert (!sw_decimal_parse ("- 3", false, 0, &value));
  ck_assert (!sw_decimal_parse ("3 4", false, 0, &value));
  ck_assert_int_eq (value, 7);
}
END_TEST

START_TEST (decimals_are_rounded)
{
  ck_assert_int_eq (sw_decimal_round (14, 10), 1);
  ck_assert_int_eq (sw_decimal_round (15, 10), 2);
  ck_assert_int_eq (sw_decimal_round (-14, 10), -1);
  ck_assert_int_eq (sw_decimal_round (-15, 10), -2);
  ck_assert_int_eq (sw_decimal_round (7, 3), 2);
  ck_assert_int_eq (sw_decimal_round (INT64_MAX, INT64_MAX), 1);
  ck_assert_int_eq (sw_decimal_round (INT64_MAX - 1, INT64_MAX), 1);
  ck_assert_int_eq (sw_decimal_round (INT64_MIN, 1), INT64_MIN);
  ck_assert_int_eq (sw_decimal_round (INT64_MIN, INT64_MAX), -1);
}
END_TEST

static Suite *
money_suite (void)
{
  Suite *suite = suite_create ("money");
  TCase *money = tcase_create ("money");
  tcase_set_timeout (money, 60);
  tcase_add_loop_test (money, money_is_read, 0, COUNT (goods));
  tcase_add_loop_test (money, others_are_refused, 0, COUNT (bads));
  tcase_add_test (money, a_length_has_a_price);
  tcase_add_test (money, arithmetic_is_checked);
  tcase_add_loop_test (money, money_is_printed, 0, COUNT (prints));
  suite_add_tcase (suite, money);
  TCase *decimals = tcase_create ("decimals");
  tcase_add_test (decimals, decimals_are_read);
  tcase_add_test (decimals, decimals_are_rounded);
  suite_add_tcase (suite, decimals);
  return suite;
}

int
main (void)
{
  return suite_run (money_suite ());
}
