/* settings_lengths.c - reads a list of stock lengths, the value of a setting
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "job/settings.h"

#include "base/memory.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static int
compare_lengths (const void *a, const void *b)
{
  sw_length left = *(const sw_length *)a;
  sw_length right = *(const sw_length *)b;
  return left < right ? -1 : left > right;
}

/* The separators of a list of stock lengths.  Blanks separate only if nothing else does, because
 * they may stand inside a length (16' 6"). */
static const char *
list_separators (const char *text, bool comma)
{
  if (strchr (text, ';') != NULL)
    return ";";
  if (!comma && strchr (text, ',') != NULL)
    return ",";
  return " \t";
}

/* Read the items of TEXT into LENGTHS.  TEXT is cut into its items. */
static bool
read_list (char *text, bool comma, sw_length lengths[SW_SETTINGS_MAX_STOCK], size_t *count, char expected[SW_PHRASE])
{
  const char *separators = list_separators (text, comma);
  *count = 0;
  for (char *item = text; item != NULL;)
    {
      char *end = strpbrk (item, separators);
      char *next = end == NULL ? NULL : end + 1;
      if (end != NULL)
        *end = '\0';
      if (*separators == ' ' && *item == '\0')
        {
          item = next;
          continue;
        }
      if (*count == SW_SETTINGS_MAX_STOCK)
        {
          snprintf (expected, SW_PHRASE, "at most %d stock lengths", SW_SETTINGS_MAX_STOCK);
          return false;
        }
      if (!sw_value_length (item, SW_BARE_STOCK, comma, SW_STOCK_SHORTEST, SW_LENGTH_MAX, &lengths[*count], expected))
        return false;
      ++*count;
      item = next;
    }
  return true;
}

sw_status
sw_settings_lengths (const char *text, bool comma, sw_length lengths[SW_SETTINGS_MAX_STOCK], size_t *count,
                     char expected[SW_PHRASE])
{
  *count = 1;
  /* The text may be a single length with blanks inside. */
  if (!sw_value_length (text, SW_BARE_STOCK, comma, SW_STOCK_SHORTEST, SW_LENGTH_MAX, &lengths[0], expected))
    {
      char *items = sw_copy_text (text);
      if (items == NULL)
        return SW_NO_MEMORY;
      bool good = read_list (items, comma, lengths, count, expected);
      free (items);
      if (!good)
        return SW_REJECTED;
    }
  if (*count == 0)
    {
      snprintf (expected, SW_PHRASE, "stock lengths such as 4.8,5.4");
      return SW_REJECTED;
    }
  qsort (lengths, *count, sizeof lengths[0], compare_lengths);
  for (size_t i = 1; i < *count; i++)
    if (lengths[i] == lengths[i - 1])
      {
        snprintf (expected, SW_PHRASE, "each stock length once");
        return SW_REJECTED;
      }
    else if (sw_length_looks_like (lengths[i], lengths[i - 1], false))
      {
        char one[SW_LENGTH_TEXT];
        char other[SW_LENGTH_TEXT];
        sw_length_format_m (lengths[i - 1], true, one);
        sw_length_format_m (lengths[i], true, other);
        snprintf (expected, SW_PHRASE,
                  "stock lengths that can be told apart where they are printed, unlike %s m and %s m", one, other);
        return SW_REJECTED;
      }
  return SW_OK;
}

/* Read digits at TEXT, between one and MOST, and then a character of END.  Returns what follows
 * that character, or NULL. */
static const char *
digits (const char *text, size_t most, const char *end)
{
  size_t count = strspn (text, "0123456789");
  return count >= 1 && count <= most && text[count] != '\0' && strchr (end, text[count]) != NULL ? text + count + 1
                                                                                                 : NULL;
}

void
sw_settings_meant (const char *text, char meant[SW_PHRASE])
{
  size_t length = strlen (text);
  meant[0] = '\0';
  if (length == 0 || length + 1 >= SW_PHRASE)
    return;
  /* Look for pairs of one digit (no yard sells 10 m or more) and a few decimals.  A comma at the
   * end ends the last pair like the others. */
  memcpy (meant, text, length);
  memcpy (meant + length, ",", 2);
  for (char *pair = meant; *pair != '\0';)
    {
      const char *decimals = digits (pair, 1, ",");
      const char *next = decimals != NULL ? digits (decimals, 3, ",") : NULL;
      if (next == NULL)
        {
          meant[0] = '\0';
          return;
        }
      pair[1] = '.';
      pair += next - pair;
    }
  meant[length] = '\0';
}
