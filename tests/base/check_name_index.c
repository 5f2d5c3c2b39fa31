/* check_name_index.c - from a name to a number
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "base/name_index.h"
#include "suite.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

START_TEST (empty)
{
  sw_name_index names = { 0 };
  size_t value = 7;
  ck_assert (!sw_name_index_find (&names, "a", &value));
  ck_assert (!sw_name_index_find (&names, "", NULL));
  ck_assert_uint_eq (value, 7);
  sw_name_index_clear (&names);
}
END_TEST

START_TEST (near_names)
{
  /* Each a start of another, or different in one bit, high bytes included. */
  static const char *const all[] = { "",     "a",     "ab",    "abc", "b",      "A",      "\xc3\xa9", "\xc3\xa8",
                                     "\xc3", "a\xff", "a\x7f", "a ",  "rail 1", "rail 2", "rail 10" };
  size_t count = sizeof all / sizeof all[0];
  for (size_t rotation = 0; rotation < count; rotation++)
    {
      sw_name_index names = { 0 };
      for (size_t i = 0; i < count; i++)
        {
          size_t at = (i + rotation) % count;
          ck_assert (!sw_name_index_find (&names, all[at], NULL));
          ck_assert_int_eq (sw_name_index_add (&names, all[at], at), SW_OK);
          for (size_t k = 0; k <= i; k++)
            {
              size_t value;
              ck_assert (sw_name_index_find (&names, all[(k + rotation) % count], &value));
              ck_assert_uint_eq (value, (k + rotation) % count);
            }
        }
      ck_assert (!sw_name_index_find (&names, "rail", NULL));
      ck_assert (!sw_name_index_find (&names, "rail 100", NULL));
      sw_name_index_clear (&names);
    }
}
END_TEST

START_TEST (older_value_stays)
{
  sw_name_index names = { 0 };
  size_t value;
  ck_assert_int_eq (sw_name_index_add (&names, "x", 1), SW_OK);
  ck_assert_int_eq (sw_name_index_add (&names, "y", 2), SW_OK);
  ck_assert_int_eq (sw_name_index_add (&names, "x", 3), SW_OK);
  ck_assert_uint_eq (names.count, 2);
  ck_assert (sw_name_index_find (&names, "x", &value));
  ck_assert_uint_eq (value, 1);
  sw_name_index_clear (&names);
}
END_TEST

#define MANY 100000

START_TEST (many)
{
  char (*texts)[16] = calloc (MANY, sizeof *texts);
  sw_name_index names = { 0 };
  size_t wrong = 0;
  for (size_t i = 0; i < MANY; i++)
    {
      /* A fixed shuffle: 7919 is prime to MANY. */
      snprintf (texts[i], sizeof texts[i], "%zu", i * 7919 % MANY);
      wrong += sw_name_index_find (&names, texts[i], NULL);
      wrong += sw_name_index_add (&names, texts[i], i) != SW_OK;
    }
  ck_assert_uint_eq (wrong, 0);
  ck_assert_uint_eq (names.count, MANY);
  for (size_t i = 0; i < MANY; i++)
    {
      size_t value = MANY;
      wrong += !sw_name_index_find (&names, texts[i], &value) || value != i;
    }
  ck_assert_uint_eq (wrong, 0);
  ck_assert (!sw_name_index_find (&names, "100000", NULL));
  sw_name_index_clear (&names);
  free (texts);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("names");
  TCase *tests = tcase_create ("names");
  tcase_add_test (tests, empty);
  tcase_add_test (tests, near_names);
  tcase_add_test (tests, older_value_stays);
  tcase_add_test (tests, many);
  suite_add_tcase (suite, tests);
  return suite_run (suite);
}
