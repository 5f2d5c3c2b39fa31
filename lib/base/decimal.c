/* decimal.c - decimal numbers as whole multiples of a power of ten
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "base/decimal.h"

#include <string.h>

/* isdigit depends on the locale, which this must not. */
static bool
is_digit (char character)
{
  return character >= '0' && character <= '9';
}

static int64_t
power_of_ten (int exponent)
{
  int64_t power = 1;
  for (int i = 0; i < exponent; i++)
    power *= 10;
  return power;
}

int64_t
sw_decimal_gcd (int64_t a, int64_t b)
{
  while (b != 0)
    {
      int64_t rest = a % b;
      a = b;
      b = rest;
    }
  return a < 0 ? -a : a;
}

const char *
sw_decimal_skip_spaces (const char *text)
{
  for (;;)
    {
      if (*text == ' ' || *text == '\t')
        text++;
      else if (strncmp (text, "\xC2\xA0", 2) == 0)
        text += 2;
      else if (strncmp (text, "\xE2\x80\xAF", 3) == 0)
        text += 3;
      else
        return text;
    }
}

const char *
sw_decimal_scan (const char *text, bool comma, sw_decimal *out)
{
  sw_decimal number = { 0, 0, false };
  bool has_digits = is_digit (*text);
  for (; is_digit (*text); text++)
    if (__builtin_mul_overflow (number.whole, 10, &number.whole)
        || __builtin_add_overflow (number.whole, *text - '0', &number.whole))
      return NULL;
  if ((*text == '.' || (comma && *text == ',')) && is_digit (text[1]))
    {
      number.has_point = true;
      has_digits = true;
      int64_t weight = power_of_ten (SW_DECIMAL_PLACES - 1);
      for (text++; is_digit (*text); text++)
        {
          /* Zeros past the last place change nothing. */
          if (weight == 0 && *text != '0')
            return NULL;
          number.fraction += (*text - '0') * weight;
          weight /= 10;
        }
    }
  if (!has_digits)
    return NULL;
  *out = number;
  return text;
}

bool
sw_decimal_parse (const char *text, bool comma, int places, int64_t *out)
{
  text = sw_decimal_skip_spaces (text);
  bool negative = *text == '-';
  if (*text == '-' || *text == '+')
    text++;
  sw_decimal number;
  text = sw_decimal_scan (text, comma, &number);
  if (text == NULL || *sw_decimal_skip_spaces (text) != '\0')
    return false;
  int64_t dropped = power_of_ten (SW_DECIMAL_PLACES - places);
  int64_t value;
  if (number.fraction % dropped != 0 || __builtin_mul_overflow (number.whole, power_of_ten (places), &value)
      || __builtin_add_overflow (value, number.fraction / dropped, &value))
    return false;
  *out = negative ? -value : value;
  return true;
}

void
sw_decimal_format (int64_t value, int places, int minimum, char out[SW_DECIMAL_TEXT])
{
  /* The magnitude is unsigned, because -INT64_MIN does not exist. */
  uint64_t rest = value < 0 ? 0 - (uint64_t)value : (uint64_t)value;
  int shown = places;
  for (; shown > minimum && rest % 10 == 0; shown--)
    rest /= 10;
  /* The digits are written from the last to the first: at most 20 of them, a point and a sign. */
  char backwards[SW_DECIMAL_TEXT];
  size_t length = 0;
  for (int place = 0; place <= shown || rest > 0; place++)
    {
      if (place == shown && shown > 0)
        backwards[length++] = '.';
      backwards[length++] = (char)('0' + rest % 10);
      rest /= 10;
    }
  if (value < 0)
    backwards[length++] = '-';
  for (size_t i = 0; i < length; i++)
    out[i] = backwards[length - 1 - i];
  out[length] = '\0';
}

int64_t
sw_decimal_round (int64_t value, int64_t divisor)
{
  int64_t quotient = value / divisor;
  int64_t rest = value % divisor;
  /* Since |rest| < divisor, divisor - |rest| cannot overflow; 2 * rest could. */
  if (rest >= 0)
    return rest >= divisor - rest ? quotient + 1 : quotient;
  return -rest >= divisor + rest ? quotient - 1 : quotient;
}
