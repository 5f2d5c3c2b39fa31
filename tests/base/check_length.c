/* check_length.c - reading, printing and sloping lengths
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "base/length.h"

#include "suite.h"

#include <string.h>

#define COUNT(array) ((int)(sizeof (array) / sizeof (array)[0]))

/* ---- Reading ------------------------------------------------------------- */

typedef struct good
{
  const char *text;
  sw_bare bare;
  bool comma;
  sw_length length;
} good;

/* One inch is 25.4 mm exactly: the international yard and pound agreement of 1959. */
static const good goods[] = {
  { "2400", SW_BARE_MM, false, 2400 * SW_MM },
  { "  2400\t", SW_BARE_MM, false, 2400 * SW_MM },
  { "2400mm", SW_BARE_MM, false, 2400 * SW_MM },
  { "2400 MM", SW_BARE_MM, false, 2400 * SW_MM },
  { "2400\xC2\xA0mm", SW_BARE_MM, false, 2400 * SW_MM },
  { "2400\xE2\x80\xAFmm", SW_BARE_MM, false, 2400 * SW_MM },
  { "2.4m", SW_BARE_MM, false, 2400 * SW_MM },
  { "2.4 M", SW_BARE_MM, false, 2400 * SW_MM },
  { "240cm", SW_BARE_MM, false, 2400 * SW_MM },
  { "240.05Cm", SW_BARE_MM, false, 2400500000 },
  { "2400.5", SW_BARE_MM, false, 2400500000 },
  { "0", SW_BARE_MM, false, 0 },
  { "00100", SW_BARE_MM, false, 100 * SW_MM },
  { ".5", SW_BARE_MM, false, SW_MM / 2 },
  { "-25", SW_BARE_MM, false, -25 * SW_MM },
  { "\xE2\x88\x92"
    "25",
    SW_BARE_MM, false, -25 * SW_MM },
  { "+25mm", SW_BARE_MM, false, 25 * SW_MM },
  { "-7' 10 1/2\"", SW_BARE_MM, false, -(94 * SW_INCH + SW_INCH / 2) },
  /* feet and inches */
  { "7' 10 1/2\"", SW_BARE_SPAN, false, 2400300000 },
  { "7'10 1/2\"", SW_BARE_SPAN, false, 2400300000 },
  { "7' 10.5\"", SW_BARE_SPAN, false, 2400300000 },
  { "7'-10 1/2\"", SW_BARE_SPAN, false, 2400300000 },
  { "7' - 10 1/2\"", SW_BARE_SPAN, false, 2400300000 },
  { "7\xE2\x80\xB2 10 1/2\xE2\x80\xB3", SW_BARE_SPAN, false, 2400300000 },
  { "7\xE2\x80\x99 10 1/2\xE2\x80\x9D", SW_BARE_SPAN, false, 2400300000 },
  { "7ft 10 1/2in", SW_BARE_SPAN, false, 2400300000 },
  { "7 FT 10 1/2 IN", SW_BARE_SPAN, false, 2400300000 },
  { "94.5in", SW_BARE_SPAN, false, 2400300000 },
  { "94 1/2\"", SW_BARE_SPAN, false, 2400300000 },
  { "8ft", SW_BARE_SPAN, false, 96 * SW_INCH },
  { "8.5ft", SW_BARE_SPAN, false, 102 * SW_INCH },
  { "8ft 6in", SW_BARE_SPAN, false, 102 * SW_INCH },
  { "16'", SW_BARE_STOCK, false, 4876800000 },
  { "7' 0\"", SW_BARE_SPAN, false, 84 * SW_INCH },
  { "7' 11 15/16\"", SW_BARE_SPAN, false, 95 * SW_INCH + SW_INCH * 15 / 16 },
  { "7' 1/2\"", SW_BARE_SPAN, false, 84 * SW_INCH + SW_INCH / 2 },
  { "3/4in", SW_BARE_MM, false, 19050000 },
  { "1/64in", SW_BARE_MM, false, 396875 },
  { "5/4\"", SW_BARE_MM, false, 31750000 },
  /* a third of an inch is 8466666.67 nm */
  { "1/3in", SW_BARE_MM, false, 8466667 },
  { "2/3in", SW_BARE_MM, false, 16933333 },
  /* stock: up to 30 a bare number is metres */
  { "4.8", SW_BARE_STOCK, false, 4800 * SW_MM },
  { "6", SW_BARE_STOCK, false, 6 * SW_METRE },
  { "30", SW_BARE_STOCK, false, 30 * SW_METRE },
  { "30.0", SW_BARE_STOCK, false, 30 * SW_METRE },
  { "30.001", SW_BARE_STOCK, false, 30001000 },
  { "31", SW_BARE_STOCK, false, 31 * SW_MM },
  { "4800", SW_BARE_STOCK, false, 4800 * SW_MM },
  { "20mm", SW_BARE_STOCK, false, 20 * SW_MM },
  { "-4.8", SW_BARE_STOCK, false, -4800 * SW_MM },
  { "16ft", SW_BARE_STOCK, false, 4876800000 },
  /* spans: under 50 only with a unit */
  { "50", SW_BARE_SPAN, false, 50 * SW_MM },
  { "49mm", SW_BARE_SPAN, false, 49 * SW_MM },
  { "2.4m", SW_BARE_SPAN, false, 2400 * SW_MM },
  /* decimal comma */
  { "2,4m", SW_BARE_SPAN, true, 2400 * SW_MM },
  { "2.4m", SW_BARE_SPAN, true, 2400 * SW_MM },
  { "2400,5", SW_BARE_SPAN, true, 2400500000 },
  { "4,8", SW_BARE_STOCK, true, 4800 * SW_MM },
  { ",5in", SW_BARE_MM, true, 12700000 },
  { "7' 10,5\"", SW_BARE_SPAN, true, 2400300000 },
  /* below a nanometre: to the nearest, half away from zero */
  { "0.0000004mm", SW_BARE_MM, false, 0 },
  { "0.0000005mm", SW_BARE_MM, false, 1 },
  { "-0.0000005mm", SW_BARE_MM, false, -1 },
  { "0.000000499999999999mm", SW_BARE_MM, false, 0 },
  { "1.000000000000000000", SW_BARE_MM, false, SW_MM },
  { "1.00000000000000000000000000", SW_BARE_MM, false, SW_MM },
  /* the longest */
  { "100000m", SW_BARE_MM, false, SW_LENGTH_MAX },
  { "100000000", SW_BARE_MM, false, SW_LENGTH_MAX },
  { "-100000m", SW_BARE_MM, false, -SW_LENGTH_MAX },
};

START_TEST (lengths_are_read)
{
  const good *g = &goods[_i];
  sw_length length = 12345;
  const char *expected = "nothing";
  bool read = sw_length_parse (g->text, g->bare, g->comma, &length, &expected);
  ck_assert_msg (read, "%d: '%s' refused: expected %s", _i, g->text, expected);
  ck_assert_msg (length == g->length, "%d: '%s' is %lld, not %lld", _i, g->text, (long long)length,
                 (long long)g->length);
}
END_TEST

typedef struct bad
{
  const char *text;
  sw_bare bare;
  bool comma;
  const char *hint; /* a part of what was expected */
} bad;

static const bad bads[] = {
  { "", SW_BARE_MM, false, "a length such as" },
  { "   ", SW_BARE_MM, false, "a length such as" },
  { "two", SW_BARE_MM, false, "a length such as" },
  { "mm", SW_BARE_MM, false, "a length such as" },
  { "-", SW_BARE_MM, false, "a length such as" },
  { "--5", SW_BARE_MM, false, "a length such as" },
  { "- 5", SW_BARE_MM, false, "a length such as" },
  { "5-", SW_BARE_MM, false, "a length such as" },
  { "2400.", SW_BARE_MM, false, "a length such as" },
  { ".", SW_BARE_MM, false, "a length such as" },
  { "1.2.3", SW_BARE_MM, false, "a length such as" },
  { "2 400", SW_BARE_MM, false, "a length such as" },
  { "2400 mm x", SW_BARE_MM, false, "a length such as" },
  { "2400mmm", SW_BARE_MM, false, "a length such as" },
  { "1e3", SW_BARE_MM, false, "a length such as" },
  { "0x10", SW_BARE_MM, false, "a length such as" },
  { "inf", SW_BARE_MM, false, "a length such as" },
  { "2.4km", SW_BARE_MM, false, "a length such as" },
  { "2,4m", SW_BARE_MM, false, "a length such as" },
  { "2,400.5", SW_BARE_MM, true, "a length such as" },
  { "2.400,5", SW_BARE_MM, true, "a length such as" },
  { "2400\n", SW_BARE_MM, false, "a length such as" },
  { "\xD9\xA2\xD9\xA4", SW_BARE_MM, false, "a length such as" }, /* Arabic digits */
  /* only inches have fractions, and these must be sound */
  { "1/2", SW_BARE_MM, false, "a length such as" },
  { "2400 1/2", SW_BARE_MM, false, "a length such as" },
  { "1/2m", SW_BARE_MM, false, "a length such as" },
  { "7 1/2'", SW_BARE_MM, false, "a length such as" },
  { "1/0in", SW_BARE_MM, false, "a length such as" },
  { "10 2/2in", SW_BARE_MM, false, "a length such as" },
  { "10 1/2/3in", SW_BARE_MM, false, "a length such as" },
  { "10.5 1/2in", SW_BARE_MM, false, "a length such as" },
  { "1.5/2in", SW_BARE_MM, false, "a length such as" },
  { "1/2.5in", SW_BARE_MM, false, "a length such as" },
  { "1/1001in", SW_BARE_MM, false, "a length such as" },
  { "10 -1/2in", SW_BARE_MM, false, "a length such as" },
  /* feet, then inches below 12 with their unit, and nothing after them */
  { "7' 12\"", SW_BARE_MM, false, "below 12" },
  { "7' 11 16/16\"", SW_BARE_MM, false, "below 12" },
  { "7' 10", SW_BARE_MM, false, "feet and inches" },
  { "7' 10 1/2", SW_BARE_MM, false, "feet and inches" },
  { "7' 10' 3\"", SW_BARE_MM, false, "feet and inches" },
  { "7' 10mm", SW_BARE_MM, false, "feet and inches" },
  { "7' 10\" 3", SW_BARE_MM, false, "feet and inches" },
  { "7' +10\"", SW_BARE_MM, false, "feet and inches" },
  { "7' --10\"", SW_BARE_MM, false, "feet and inches" },
  { "7' -", SW_BARE_MM, false, "feet and inches" },
  { "7.5' 3\"", SW_BARE_MM, false, "feet and inches" },
  { "3\" 7'", SW_BARE_MM, false, "a length such as" },
  { "7''", SW_BARE_MM, false, "feet and inches" },
  /* a bay that was certainly meant in metres or feet */
  { "2.4", SW_BARE_SPAN, false, "write the unit" },
  { "8", SW_BARE_SPAN, false, "write the unit" },
  { "49.999", SW_BARE_SPAN, false, "write the unit" },
  { "0", SW_BARE_SPAN, false, "write the unit" },
  { "-8", SW_BARE_SPAN, false, "write the unit" },
  /* too long, some of them far beyond 64 and 128 bits */
  { "100001m", SW_BARE_MM, false, "at most 100 km" },
  { "100000.000000001m", SW_BARE_MM, false, "at most 100 km" },
  { "100000000.000001", SW_BARE_MM, false, "at most 100 km" },
  { "9223372036854775807", SW_BARE_MM, false, "at most 100 km" },
  { "9223372036854775807ft", SW_BARE_MM, false, "at most 100 km" },
  { "9223372036854775807' 11\"", SW_BARE_MM, false, "at most 100 km" },
  { "328083' 11 15/16\"", SW_BARE_MM, false, "at most 100 km" },
  { "9223372036854775808", SW_BARE_MM, false, "a length" },
  { "99999999999999999999999999999999999999999999999999", SW_BARE_MM, false, "a length" },
  { "99999999999999999999999999999999999999999999999999m", SW_BARE_STOCK, false, "a length" },
  /* more decimals than anybody measures */
  { "1.0000000000000000001", SW_BARE_MM, false, "a length" },
};

START_TEST (others_are_refused)
{
  const bad *b = &bads[_i];
  sw_length length = 12345;
  const char *expected = NULL;
  bool read = sw_length_parse (b->text, b->bare, b->comma, &length, &expected);
  ck_assert_msg (!read, "%d: '%s' read as %lld", _i, b->text, (long long)length);
  ck_assert_int_eq (length, 12345);
  ck_assert_ptr_nonnull (expected);
  ck_assert_msg (strstr (expected, b->hint) != NULL, "%d: '%s': expected %s", _i, b->text, expected);
  ck_assert (!sw_length_parse (b->text, b->bare, b->comma, &length, NULL));
}
END_TEST

/* ---- Arithmetic ---------------------------------------------------------- */

START_TEST (arithmetic_is_checked)
{
  sw_length out;
  ck_assert (sw_length_add (2 * SW_MM, 3 * SW_MM, &out));
  ck_assert_int_eq (out, 5 * SW_MM);
  ck_assert (sw_length_add (INT64_MAX - 1, 1, &out));
  ck_assert_int_eq (out, INT64_MAX);
  ck_assert (!sw_length_add (INT64_MAX, 1, &out));
  ck_assert (!sw_length_add (INT64_MIN, -1, &out));
  ck_assert (sw_length_sub (2, 5, &out));
  ck_assert_int_eq (out, -3);
  ck_assert (!sw_length_sub (INT64_MIN, 1, &out));
  ck_assert (!sw_length_sub (0, INT64_MIN, &out));
  ck_assert (sw_length_mul (-7, 6, &out));
  ck_assert_int_eq (out, -42);
  ck_assert (!sw_length_mul (SW_LENGTH_MAX, 100000, &out));
  ck_assert (!sw_length_mul (INT64_MIN, -1, &out));
}
END_TEST

/* ---- Printing ------------------------------------------------------------ */

typedef struct print
{
  sw_length length;
  const char *mm;
  const char *m;
  const char *m_fixed;
  const char *inches;
  const char *inches_exact;
} print;

static const print prints[] = {
  { 0, "0", "0", "0.0", "0", "0" },
  { 4800 * SW_MM, "4800", "4.8", "4.8", "189", "188.976378" },
  { 6 * SW_METRE, "6000", "6", "6.0", "236 1/4", "236.220472" },
  { 4876800000, "4876.8", "4.8768", "4.8768", "192", "192" },
  { 2400300000, "2400.3", "2.4003", "2.4003", "94 1/2", "94.5" },
  { 2451530134, "2451.5", "2.45153", "2.45153", "96 1/2", "96.516934" },
  { 396875, "0.4", "0.000397", "0.000397", "0", "0.015625" },
  { 19050000, "19.1", "0.01905", "0.01905", "3/4", "0.75" },
  { -19050000, "-19.1", "-0.01905", "-0.01905", "-3/4", "-0.75" },
  { -2400300000, "-2400.3", "-2.4003", "-2.4003", "-94 1/2", "-94.5" },
  /* half away from zero, and no "-0" */
  { 50000, "0.1", "0.00005", "0.00005", "0", "0.001969" },
  { 49999, "0", "0.00005", "0.00005", "0", "0.001968" },
  { -49999, "0", "-0.00005", "-0.00005", "0", "-0.001968" },
  { -50000, "-0.1", "-0.00005", "-0.00005", "0", "-0.001969" },
  { 499, "0", "0", "0.0", "0", "0.00002" },
  { 500, "0", "0.000001", "0.000001", "0", "0.00002" },
  { -499, "0", "0", "0.0", "0", "-0.00002" },
  { 12, "0", "0", "0.0", "0", "0" },
  { -12, "0", "0", "0.0", "0", "0" },
  { 793750, "0.8", "0.000794", "0.000794", "1/16", "0.03125" },
  { 793749, "0.8", "0.000794", "0.000794", "0", "0.03125" },
  { -793750, "-0.8", "-0.000794", "-0.000794", "-1/16", "-0.03125" },
  { 24606250, "24.6", "0.024606", "0.024606", "1", "0.96875" },
  { 999950000, "1000", "0.99995", "0.99995", "39 3/8", "39.36811" },
  { INT64_MAX, "9223372036854.8", "9223372036.854776", "9223372036.854776", "363124883340 3/4", "363124883340.739205" },
  { INT64_MIN, "-9223372036854.8", "-9223372036.854776", "-9223372036.854776", "-363124883340 3/4",
    "-363124883340.739205" },
};

START_TEST (lengths_are_printed)
{
  const print *p = &prints[_i];
  char text[SW_LENGTH_TEXT];
  sw_length_format_mm (p->length, text);
  ck_assert_str_eq (text, p->mm);
  sw_length_format_m (p->length, false, text);
  ck_assert_str_eq (text, p->m);
  sw_length_format_m (p->length, true, text);
  ck_assert_str_eq (text, p->m_fixed);
  sw_length_format_inches (p->length, text);
  ck_assert_str_eq (text, p->inches);
  sw_length_format_inches_exact (p->length, text);
  ck_assert_str_eq (text, p->inches_exact);
}
END_TEST

/* Every tenth of a millimetre and every 1/64 inch comes back as it was. */
START_TEST (what_is_printed_is_read_back)
{
  char text[SW_LENGTH_TEXT + 4];
  for (int64_t i = -5000; i <= 5000; i++)
    {
      sw_length back;
      sw_length length = i * 7919 * (SW_MM / 10);
      sw_length_format_mm (length, text);
      ck_assert (sw_length_parse (text, SW_BARE_MM, false, &back, NULL));
      ck_assert_int_eq (back, length);
      sw_length_format_m (length, false, text);
      strcat (text, "m");
      ck_assert (sw_length_parse (text, SW_BARE_MM, false, &back, NULL));
      ck_assert_int_eq (back, length);
      length = i * 37 * (SW_INCH / 64);
      sw_length_format_inches_exact (length, text);
      strcat (text, "in");
      ck_assert (sw_length_parse (text, SW_BARE_MM, false, &back, NULL));
      ck_assert_int_eq (back, length);
      length = i * 37 * (SW_INCH / 16);
      sw_length_format_inches (length, text);
      strcat (text, "\"");
      ck_assert (sw_length_parse (text, SW_BARE_MM, false, &back, NULL));
      ck_assert_int_eq (back, length);
    }
}
END_TEST

/* ---- Slopes -------------------------------------------------------------- */

/* The trade's worked values: derived, and as any pocket calculator has them. */
START_TEST (worked_slopes)
{
  static const struct
  {
    int64_t span;
    int64_t rise;
    const char *slope;
  } worked[] = { { 2400, 500, "2451.5" }, { 2400, 250, "2413" }, { 3000, 600, "3059.4" } };
  char text[SW_LENGTH_TEXT];
  sw_length span = worked[_i].span * SW_MM;
  sw_length_format_mm (sw_length_on_slope (span, span, worked[_i].rise * SW_MM), text);
  ck_assert_str_eq (text, worked[_i].slope);
}
END_TEST

/* Level, span, rise, and the result of Python's decimal module at 120 digits,
 * ROUND_HALF_UP of the magnitude.  The ninth falls short of a half by 1e-15. */
static const int64_t slopes[][4] = {
  { INT64_C (2400000000), INT64_C (2400000000), INT64_C (500000000), INT64_C (2451530134) },
  { INT64_C (2400000000), INT64_C (2400000000), INT64_C (250000000), INT64_C (2412985702) },
  { INT64_C (3000000000), INT64_C (3000000000), INT64_C (600000000), INT64_C (3059411708) },
  { INT64_C (2400000000), INT64_C (2400000000), INT64_C (-500000000), INT64_C (2451530134) },
  { INT64_C (50000000), INT64_C (2400000000), INT64_C (500000000), INT64_C (51073544) },
  { INT64_C (-75000000), INT64_C (2400000000), INT64_C (500000000), INT64_C (-76610317) },
  { INT64_C (100000000000000), INT64_C (100000000000000), INT64_C (100000000000000), INT64_C (141421356237310) },
  { INT64_C (100000000000000), INT64_C (100000000000000), INT64_C (1), INT64_C (100000000000000) },
  { INT64_C (100000000000000), INT64_C (100000000000000), INT64_C (10000000), INT64_C (100000000000000) },
  { INT64_C (100000000000000), INT64_C (100000000000000), INT64_C (10000001), INT64_C (100000000000001) },
  { INT64_C (99999999999999), INT64_C (99999999999997), INT64_C (99999999999993), INT64_C (141421356237305) },
  { INT64_C (1), INT64_C (3), INT64_C (1), INT64_C (1) },
  { INT64_C (1), INT64_C (1), INT64_C (1), INT64_C (1) },
  { INT64_C (99999999999999), INT64_C (7), INT64_C (5), INT64_C (122890360957751) },
  { INT64_C (4611686018427387904), INT64_C (4611686018427387904), INT64_C (2305843009213693952),
    INT64_C (5156021714044493573) },
  { INT64_C (9223372036854775807), INT64_C (9223372036854775807), INT64_C (1), INT64_C (9223372036854775807) },
  { INT64_C (9847783377229), INT64_C (8193857939462), INT64_C (7869004556406), INT64_C (13653588091902) },
  { INT64_C (25985367763834), INT64_C (72047234148650), INT64_C (77293998399110), INT64_C (38110456362345) },
  { INT64_C (26202706315348), INT64_C (62848660699540), INT64_C (-60089860787071), INT64_C (36252038481272) },
  { INT64_C (2724953955), INT64_C (2792033593), INT64_C (-7323683674), INT64_C (7649536628) },
  { INT64_C (8379752485772), INT64_C (26766389316198), INT64_C (-31899515819121), INT64_C (13036718551238) },
  { INT64_C (45919487944879), INT64_C (83169638786489), INT64_C (-45020800414227), INT64_C (52215519644480) },
  { INT64_C (90113712337735), INT64_C (70335647810677), INT64_C (86461729918630), INT64_C (142798611364613) },
  { INT64_C (5489667869), INT64_C (3608698331), INT64_C (1629953788), INT64_C (6023666858) },
  { INT64_C (252363645635), INT64_C (315735435387), INT64_C (-849548361126), INT64_C (724413344923) },
  { INT64_C (15190295540081), INT64_C (15171544193554), INT64_C (-18117107420068), INT64_C (23659808014332) },
  { INT64_C (11531546863), INT64_C (3690293890016), INT64_C (6535848813426), INT64_C (23454060043) },
  { INT64_C (7384755706572), INT64_C (9960342856725), INT64_C (-3013679688447), INT64_C (7715381684105) },
  { INT64_C (95936224238), INT64_C (366408855359), INT64_C (668208466136), INT64_C (199532784211) },
  { INT64_C (578087449), INT64_C (3036610735), INT64_C (-9952948561), INT64_C (1980992961) },
};

START_TEST (slopes_of_a_decimal_library)
{
  const int64_t *s = slopes[_i];
  ck_assert_int_eq (sw_length_on_slope (s[0], s[1], s[2]), s[3]);
  ck_assert_int_eq (sw_length_on_slope (-s[0], s[1], s[2]), -s[3]);
}
END_TEST

/* A generator of its own, so that every platform tests the same numbers
 * (Knuth's MMIX constants, from memory; any would do). */
static uint64_t
next_random (uint64_t *state)
{
  *state = *state * UINT64_C (6364136223846793005) + UINT64_C (1442695040888963407);
  return *state >> 20;
}

/* In a right triangle with whole sides the length along the slope is a fraction without any root.
 * Exact halves, too, occur again and again. */
START_TEST (slopes_of_whole_triangles)
{
  static const int64_t triangles[][3]
      = { { 4, 3, 5 },    { 3, 4, 5 }, { 12, 5, 13 },  { 8, 15, 17 }, { 20, 21, 29 },  { 24, 7, 25 },
          { 60, 11, 61 }, { 2, 0, 2 }, { 16, 63, 65 }, { 40, 9, 41 }, { 112, 15, 113 } };
  uint64_t state = 1;
  int halves = 0;
  for (int i = 0; i < 20000; i++)
    {
      const int64_t *t = triangles[i % COUNT (triangles)];
      int64_t scale = (int64_t)(next_random (&state) % 800000000000 + 1);
      int64_t level = (int64_t)(next_random (&state) % (i % 3 == 0 ? 100 : 90000000000000)) + 1;
      int64_t twice = 2 * level * t[2] + t[0];
      int64_t expected = twice / (2 * t[0]);
      halves += twice % (2 * t[0]) == 0;
      ck_assert_int_eq (sw_length_on_slope (level, t[0] * scale, t[1] * scale), expected);
      ck_assert_int_eq (sw_length_on_slope (-level, t[0] * scale, -t[1] * scale), -expected);
    }
  ck_assert_int_gt (halves, 100);
}
END_TEST

START_TEST (slopes_at_the_edge)
{
  /* without a rise nothing changes, whatever the numbers */
  ck_assert_int_eq (sw_length_on_slope (INT64_MAX, 1, 0), INT64_MAX);
  ck_assert_int_eq (sw_length_on_slope (-5, 7, 0), -5);
  ck_assert_int_eq (sw_length_on_slope (0, 2400 * SW_MM, 500 * SW_MM), 0);
  /* no span is a mistake of the caller, but nothing is divided by zero */
  ck_assert_int_eq (sw_length_on_slope (5, 0, 500), 5);
  /* the result does not fit, and is recognised as too long */
  ck_assert_int_eq (sw_length_on_slope (SW_LENGTH_MAX, 1, SW_LENGTH_MAX), INT64_MAX);
  ck_assert_int_eq (sw_length_on_slope (-SW_LENGTH_MAX, 1, SW_LENGTH_MAX), -INT64_MAX);
  ck_assert_int_eq (sw_length_on_slope (INT64_MAX, 1, INT64_MAX), INT64_MAX);
  ck_assert_int_eq (sw_length_on_slope (INT64_MIN, 1, INT64_MIN), -INT64_MAX);
  ck_assert_int_eq (sw_length_on_slope (INT64_MAX, INT64_MAX, INT64_MAX), INT64_MAX);
}
END_TEST

static Suite *
length_suite (void)
{
  Suite *suite = suite_create ("length");
  TCase *reading = tcase_create ("reading");
  tcase_add_loop_test (reading, lengths_are_read, 0, COUNT (goods));
  tcase_add_loop_test (reading, others_are_refused, 0, COUNT (bads));
  suite_add_tcase (suite, reading);
  TCase *printing = tcase_create ("arithmetic and printing");
  tcase_set_timeout (printing, 60);
  tcase_add_test (printing, arithmetic_is_checked);
  tcase_add_loop_test (printing, lengths_are_printed, 0, COUNT (prints));
  tcase_add_test (printing, what_is_printed_is_read_back);
  suite_add_tcase (suite, printing);
  TCase *slope = tcase_create ("slopes");
  tcase_set_timeout (slope, 60);
  tcase_add_loop_test (slope, worked_slopes, 0, 3);
  tcase_add_loop_test (slope, slopes_of_a_decimal_library, 0, COUNT (slopes));
  tcase_add_test (slope, slopes_of_whole_triangles);
  tcase_add_test (slope, slopes_at_the_edge);
  suite_add_tcase (suite, slope);
  return suite;
}

int
main (void)
{
  return suite_run (length_suite ());
}
