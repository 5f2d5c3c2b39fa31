/* check_text.c - building strings, showing them safely, their width; statuses
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "base/text.h"
#include "base/width.h"

#include "suite.h"

#include <string.h>

#define COUNT(array) ((int)(sizeof (array) / sizeof (array)[0]))

START_TEST (a_string_grows)
{
  sw_text text = { 0 };
  sw_text_add (&text, "rail");
  sw_text_add_bytes (&text, " 1xx", 2);
  sw_text_printf (&text, ": %d x %s", 12, "4.8");
  sw_text_repeat (&text, '-', 3);
  sw_text_repeat (&text, '-', 0);
  sw_text_printf (&text, "%s", "");
  ck_assert_uint_eq (text.length, strlen ("rail 1: 12 x 4.8---"));
  char *taken = sw_text_take (&text);
  ck_assert_str_eq (taken, "rail 1: 12 x 4.8---");
  sw_text_free (taken);
  /* empty again, and usable */
  ck_assert_ptr_null (text.data);
  taken = sw_text_take (&text);
  ck_assert_str_eq (taken, "");
  sw_text_free (taken);
  sw_text_free (NULL);
  sw_text_drop (&text);
}
END_TEST

START_TEST (a_long_string_grows)
{
  sw_text text = { 0 };
  for (int i = 0; i < 20000; i++)
    sw_text_printf (&text, "%05d,", i);
  ck_assert_uint_eq (text.length, 120000);
  ck_assert_int_eq (memcmp (text.data + 60000, "10000,10001,", 12), 0);
  ck_assert_uint_eq (strlen (text.data), text.length);
  sw_text_drop (&text);
  ck_assert_ptr_null (text.data);
  ck_assert_uint_eq (text.length, 0);
}
END_TEST

START_TEST (a_failure_sticks)
{
  sw_text text = { 0 };
  sw_text_add (&text, "x");
  /* more than any machine has */
  sw_text_repeat (&text, '-', SIZE_MAX - 16);
  ck_assert (text.failed);
  sw_text_add (&text, "y");
  sw_text_printf (&text, "%d", 1);
  ck_assert_uint_eq (text.length, 1);
  ck_assert_ptr_null (sw_text_take (&text));
  ck_assert (!text.failed);
  sw_text_repeat (&text, '-', SIZE_MAX);
  ck_assert (text.failed);
  sw_text_drop (&text);
  ck_assert (!text.failed);
}
END_TEST

/* ---- UTF-8 --------------------------------------------------------------- */

/* RFC 3629: the first and last character of every length, and what its
 * section 3 forbids; the ill-formed ones also after table 3-7 of the Unicode Standard. */
static const struct
{
  const char *bytes;
  size_t count;
  size_t size;
  uint32_t code;
} codes[] = {
  { "\x00", 1, 1, 0 },
  { "A", 1, 1, 'A' },
  { "\x7F", 1, 1, 0x7F },
  { "\xC2\x80", 2, 2, 0x80 },
  { "\xDF\xBF", 2, 2, 0x7FF },
  { "\xE0\xA0\x80", 3, 3, 0x800 },
  { "\xED\x9F\xBF", 3, 3, 0xD7FF },
  { "\xEE\x80\x80", 3, 3, 0xE000 },
  { "\xEF\xBF\xBF", 3, 3, 0xFFFF },
  { "\xF0\x90\x80\x80", 4, 4, 0x10000 },
  { "\xF4\x8F\xBF\xBF", 4, 4, 0x10FFFF },
  { "\xE2\x82\xAC"
    "x",
    4, 3, 0x20AC },
  /* lone continuation, over-long, surrogates, beyond the last, cut short */
  { "\x80", 1, 0, 0 },
  { "\xBF", 1, 0, 0 },
  { "\xC0\x80", 2, 0, 0 },
  { "\xC1\xBF", 2, 0, 0 },
  { "\xE0\x9F\xBF", 3, 0, 0 },
  { "\xF0\x8F\xBF\xBF", 4, 0, 0 },
  { "\xED\xA0\x80", 3, 0, 0 },
  { "\xED\xBF\xBF", 3, 0, 0 },
  { "\xF4\x90\x80\x80", 4, 0, 0 },
  { "\xF5\x80\x80\x80", 4, 0, 0 },
  { "\xF8\x88\x80\x80\x80", 5, 0, 0 },
  { "\xFE", 1, 0, 0 },
  { "\xFF", 1, 0, 0 },
  { "\xC2", 1, 0, 0 },
  { "\xE2\x82", 2, 0, 0 },
  { "\xF0\x90\x80", 3, 0, 0 },
  { "\xC2"
    "A",
    2, 0, 0 },
  { "\xE2\x82"
    "A",
    3, 0, 0 },
};

START_TEST (utf8_is_decoded)
{
  uint32_t code = 0;
  ck_assert_uint_eq (sw_text_decode (codes[_i].bytes, codes[_i].count, &code), codes[_i].size);
  if (codes[_i].size > 0)
    ck_assert_uint_eq (code, codes[_i].code);
}
END_TEST

/* ---- Showing ------------------------------------------------------------- */

static const struct
{
  const char *text;
  const char *shown;
} shows[] = {
  { "", "" },
  { "road 12, Bj\xC3\xB6rkv\xC3\xA4gen \xE2\x82\xAC", "road 12, Bj\xC3\xB6rkv\xC3\xA4gen \xE2\x82\xAC" },
  { "a\tb\nc\rd", "a\\x09b\\x0Ac\\x0Dd" },
  { "\x1B[31mred\x1B]0;title\x07", "\\x1B[31mred\\x1B]0;title\\x07" },
  { "\x7F", "\\x7F" },
  { "\xC2\x9B"
    "31m",
    "\\u{009B}31m" }, /* C1: another way to begin a terminal sequence */
  { "caf\xE9", "caf\\xE9" },
  { "\xE2\x82", "\\xE2\\x82" },
  { "\xE2\x80\xAE"
    "gpj.x",
    "\\u{202E}gpj.x" }, /* right-to-left override */
  { "\xE2\x81\xA6x\xE2\x81\xA9", "\\u{2066}x\\u{2069}" },
  { "\xE2\x80\x8F\xD8\x9C", "\\u{200F}\\u{061C}" },
  { "a\xE2\x80\xA8"
    "b",
    "a\\u{2028}b" },
  { "\xEF\xBB\xBFrun", "\\u{FEFF}run" },
  { "\xEF\xBF\xBE\xEF\xBF\xBD\xEF\xB7\xAF", "\\u{FFFE}\xEF\xBF\xBD\\u{FDEF}" }, /* noncharacters */
  { "\xD7\xA9\xD7\x9C\xD7\x95\xD7\x9D", "\xD7\xA9\xD7\x9C\xD7\x95\xD7\x9D" },   /* Hebrew stays readable */
  { "C:\\new", "C:\\new" },
};

START_TEST (what_is_shown_is_tame)
{
  sw_text text = { 0 };
  sw_text_add_shown (&text, shows[_i].text, strlen (shows[_i].text));
  char *shown = sw_text_take (&text);
  ck_assert_str_eq (shown, shows[_i].shown);
  sw_text_free (shown);
}
END_TEST

START_TEST (nul_is_shown)
{
  sw_text text = { 0 };
  sw_text_add_shown (&text, "a\0b", 3);
  char *shown = sw_text_take (&text);
  ck_assert_str_eq (shown, "a\\x00b");
  sw_text_free (shown);
}
END_TEST

/* Whatever the bytes, what comes out is UTF-8 without anything active. */
START_TEST (any_bytes_are_shown_tame)
{
  uint32_t state = 42;
  for (int round = 0; round < 500; round++)
    {
      char bytes[24];
      for (size_t i = 0; i < sizeof bytes; i++)
        {
          state = state * 1103515245u + 12345u;
          bytes[i] = (char)(state >> 16);
        }
      sw_text text = { 0 };
      sw_text_add_shown (&text, bytes, sizeof bytes);
      for (size_t at = 0, size; at < text.length; at += size)
        {
          uint32_t code = 0;
          size = sw_text_decode (text.data + at, text.length - at, &code);
          ck_assert_uint_gt (size, 0);
          ck_assert (code >= 0x20 && !(code >= 0x7F && code < 0xA0) && !(code >= 0x2028 && code <= 0x202E));
        }
      sw_text_drop (&text);
    }
}
END_TEST

/* ---- Width --------------------------------------------------------------- */

static const struct
{
  const char *text;
  size_t width;
} widths[] = {
  { "", 0 },
  { "rail 1", 6 },
  { "Bj\xC3\xB6rk", 5 },
  { "Bjo\xCC\x88rk", 5 },                        /* o with a combining diaeresis */
  { "\xE6\x9D\xB1\xE4\xBA\xAC", 4 },             /* two Han characters */
  { "\xED\x95\x9C\xEA\xB8\x80", 4 },             /* two Hangul syllables */
  { "\xE1\x84\x92\xE1\x85\xA1\xE1\x86\xAB", 2 }, /* one syllable out of three letters */
  { "\xEF\xBC\xA1", 2 },                         /* full-width A */
  { "\xEF\xBD\xB1", 1 },                         /* half-width katakana */
  { "\xF0\x9F\xAA\xB5", 2 },                     /* wood emoji */
  { "a\xE2\x80\x8D"
    "b",
    2 },                             /* zero width joiner */
  { "\xC2\xAD", 1 },                 /* soft hyphen */
  { "\xE2\x80\xB2\xE2\x80\xB3", 2 }, /* primes */
  { "\xCE\xA9\xD0\x96\xD7\xA9", 3 },
  { "\xE0\xB8\x81\xE0\xB8\xB4", 1 }, /* Thai consonant with a vowel above */
  { "a\xFF", 2 },
  { "\t", 0 },
};

START_TEST (widths_are_known)
{
  ck_assert_uint_eq (sw_text_width (widths[_i].text), widths[_i].width);
}
END_TEST

START_TEST (width_at_the_ends_of_the_tables)
{
  ck_assert_uint_eq (sw_width_of (0x2FF), 1);
  ck_assert_uint_eq (sw_width_of (0x300), 0);
  ck_assert_uint_eq (sw_width_of (0x36F), 0);
  ck_assert_uint_eq (sw_width_of (0x370), 1);
  ck_assert_uint_eq (sw_width_of (0x10FF), 1);
  ck_assert_uint_eq (sw_width_of (0x1100), 2);
  ck_assert_uint_eq (sw_width_of (0x3FFFD), 2);
  ck_assert_uint_eq (sw_width_of (0xE0100), 0);
  ck_assert_uint_eq (sw_width_of (0x10FFFF), 1);
}
END_TEST

/* ---- Statuses ------------------------------------------------------------ */

START_TEST (every_status_has_a_sentence)
{
  for (int a = SW_OK; a <= SW_ABSENT; a++)
    {
      const char *text = sw_status_text ((sw_status)a);
      ck_assert_ptr_nonnull (text);
      ck_assert_str_ne (text, "unknown status");
      for (int b = SW_OK; b < a; b++)
        ck_assert_str_ne (text, sw_status_text ((sw_status)b));
    }
  ck_assert_str_eq (sw_status_text ((sw_status)999), "unknown status");
}
END_TEST

static Suite *
text_suite (void)
{
  Suite *suite = suite_create ("text");
  TCase *building = tcase_create ("building");
  tcase_add_test (building, a_string_grows);
  tcase_add_test (building, a_long_string_grows);
  tcase_add_test (building, a_failure_sticks);
  suite_add_tcase (suite, building);
  TCase *unicode = tcase_create ("unicode");
  tcase_set_timeout (unicode, 60);
  tcase_add_loop_test (unicode, utf8_is_decoded, 0, COUNT (codes));
  tcase_add_loop_test (unicode, what_is_shown_is_tame, 0, COUNT (shows));
  tcase_add_test (unicode, nul_is_shown);
  tcase_add_test (unicode, any_bytes_are_shown_tame);
  tcase_add_loop_test (unicode, widths_are_known, 0, COUNT (widths));
  tcase_add_test (unicode, width_at_the_ends_of_the_tables);
  suite_add_tcase (suite, unicode);
  TCase *status = tcase_create ("status");
  tcase_add_test (status, every_status_has_a_sentence);
  suite_add_tcase (suite, status);
  return suite;
}

int
main (void)
{
  return suite_run (text_suite ());
}
