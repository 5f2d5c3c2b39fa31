/* money.c - money as whole millionths
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "base/money.h"

#include "base/decimal.h"

__extension__ typedef __int128 int128;

bool
sw_money_parse (const char *text, bool comma, sw_money *out, const char **expected)
{
  const char *start = sw_decimal_skip_spaces (text);
  int64_t value;
  if (*start == '-' || *start == '+' || !sw_decimal_parse (start, comma, 6, &value))
    {
      if (expected != NULL)
        *expected
            = "an amount such as 20.88, without sign, currency or thousands separator and with at most 6 decimals";
      return false;
    }
  if (value > SW_MONEY_MAX)
    {
      if (expected != NULL)
        *expected = "an amount of at most 1000000000";
      return false;
    }
  *out = value;
  return true;
}

bool
sw_money_of_length (sw_money per_metre, sw_length length, sw_money *out)
{
  int128 product = (int128)per_metre * length;
  int128 half = SW_METRE / 2;
  int128 price = (product < 0 ? product - half : product + half) / SW_METRE;
  if (price > INT64_MAX || price < INT64_MIN)
    return false;
  *out = (sw_money)price;
  return true;
}

bool
sw_money_add (sw_money a, sw_money b, sw_money *out)
{
  return !__builtin_add_overflow (a, b, out);
}

bool
sw_money_mul (sw_money a, int64_t times, sw_money *out)
{
  return !__builtin_mul_overflow (a, times, out);
}

void
sw_money_format (sw_money money, char out[SW_MONEY_TEXT])
{
  sw_decimal_format (sw_decimal_round (money, SW_MONEY_UNIT / 100), 2, 2, out);
}

void
sw_money_format_exact (sw_money money, char out[SW_MONEY_TEXT])
{
  sw_decimal_format (money, 6, 2, out);
}
