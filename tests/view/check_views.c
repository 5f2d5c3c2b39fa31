/* check_views.c - a plan as text: width, proof, weights, ends to seal
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "plan_stepped.h"
#include "suite.h"

#include "view/care.h"
#include "base/memory.h"
#include "view/proof.h"
#include "view/figures.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define TEN "0123456789"
#define LONG TEN TEN TEN TEN TEN TEN TEN TEN TEN " and more"
#define WIDE "\xe5\x9b\xb2\xe3\x81\x84\xe5\x9b\xb2\xe3\x81\x84\xe5\x9b\xb2\xe3\x81\x84"
#define WIDE_LONG WIDE WIDE WIDE WIDE WIDE WIDE

/* No line of TEXT is wider than WIDTH, and none ends in a space. */
static void
ck_fits (char *text, size_t width)
{
  for (char *rest = text, *line; (line = strsep (&rest, "\n")) != NULL;)
    {
      ck_assert_msg (sw_text_width (line) <= width, "wider than %zu: \"%s\"", width, line);
      ck_assert_msg (line[0] == '\0' || line[strlen (line) - 1] != ' ', "ends in a space: \"%s\"", line);
    }
}

START_TEST (fits_the_columns)
{
  static const unsigned widths[] = { 0, 40, 50, 60, 64, 72, 80, 132 };
  fixture made[2];
  fixture_front (&made[0]);
  fixture_make (&made[1], &plan_stepped);
  for (size_t i = 0; i < sizeof widths / sizeof *widths; i++)
    for (int m = 0; m < 2; m++)
      {
        char *text = fixture_text (&made[m], SW_TEXT_ALL, widths[i]);
        ck_fits (text, widths[i] == 0 ? 80 : widths[i]);
        sw_text_free (text);
      }
  fixture_drop (&made[0]);
  fixture_drop (&made[1]);
}
END_TEST

/* With names of a hundred characters, and of characters two columns wide, text is broken or
 * shortened, while files keep every letter. */
START_TEST (long_names)
{
  const fixture_texts texts
      = { .spans
          = "run,span,start,finish,rise\n" LONG ",2400,mitre 135,,100\n" LONG ",2400,,housed,\n" WIDE_LONG ",2400,,,\n",
          .levels = "level,section,height\nlower " LONG "," LONG ",123.5\nupper " WIDE_LONG "," LONG ",1234.5\n",
          .sections = "section,width,thickness,description\n" LONG ",90,45," WIDE_LONG "\n",
          .extras = "label,section,length,quantity\nextra " LONG "," LONG ",1000,2\n",
          .settings = "job=" LONG "\ntax=10\nend-trim=25",
          .stock = "section,length,price,hand\n" LONG ",4.8,1234567.5,1\n" LONG ",5.4,7654321.25,0\n",
          .plan = "through " LONG "/lower " LONG ": 1-2 2-3\nthrough " LONG "/upper " WIDE_LONG ": 1-2 2-3\n"
                  "through " WIDE_LONG "/lower " LONG ": 1-2\nthrough " WIDE_LONG "/upper " WIDE_LONG ": 1-2\n"
                  "extras\n"
                  "board " LONG " 5.4: " LONG "/lower " LONG "/1-2, " LONG "/lower " LONG "/2-3\n"
                  "board " LONG " 5.4: " LONG "/upper " WIDE_LONG "/1-2, " LONG "/upper " WIDE_LONG "/2-3\n"
                  "board " LONG " 4.8: " WIDE_LONG "/lower " LONG "/1-2, extra " LONG " 1, extra " LONG " 2\n"
                  "hand " LONG " 4.8: " WIDE_LONG "/upper " WIDE_LONG "/1-2\n" };
  fixture made;
  fixture_make (&made, &texts);
  for (unsigned width = 40; width <= 100; width += 4)
    {
      char *text = fixture_text (&made, SW_TEXT_ALL, width);
      ck_fits (text, width);
      sw_text_free (text);
    }
  char *csv = fixture_csv (&made, SW_TABLE_CUTS);
  ck_contains (csv, LONG "/upper " WIDE_LONG "/1-2");
  sw_text_free (csv);
  fixture_drop (&made);
}
END_TEST

/* A name cannot steer the terminal, because no control character but the line feed comes out. */
START_TEST (control_characters)
{
  const fixture_texts texts
      = { .spans = "run,span\n\"r\033[2J\x07\",2400\n",
          .levels = "level,section\n\"l\xc2\x9b\x31m\",\"s\x01t\"\n",
          .sections = "section,description\ns\x01t,\"d\x7f\xe2\x80\xae\"\n",
          .settings = "job=\033]0;x",
          .plan = "through r\033[2J\x07/l\xc2\x9b\x31m: 1-2\nboard s\x01t 4.8: r\033[2J\x07/l\xc2\x9b\x31m/1-2" };
  fixture made;
  fixture_make (&made, &texts);
  char *text = fixture_text (&made, SW_TEXT_ALL | SW_TEXT_MESSAGE, 0);
  for (const char *p = text; *p != '\0'; p++)
    ck_assert_msg (((unsigned char)*p >= ' ' && *p != '\x7f') || *p == '\n', "control character in:\n%s", text);
  ck_lacks (text, "\xc2\x9b");
  ck_lacks (text, "\xe2\x80\xae");
  ck_contains (text, "\\x1B[2J");
  sw_text_free (text);
  fixture_drop (&made);
}
END_TEST

static char *
cell_of (const char *string, size_t width, bool right)
{
  sw_text text = { 0 };
  sw_view_cell (&text, string, width, right);
  return sw_text_take (&text);
}

START_TEST (cells)
{
  static const struct
  {
    const char *text;
    size_t width;
    bool right;
    const char *cell;
  } rows[] = {
    { "abc", 5, false, "abc  " },
    { "abc", 5, true, "  abc" },
    { "abc", 3, false, "abc" },
    { "abcdef", 5, false,
      "ab\xe2\x80\xa6"
      "ef" },
    { "abcdef", 4, false,
      "a\xe2\x80\xa6"
      "ef" },
    { "abcdef", 1, false, "\xe2\x80\xa6" },
    { "abcdef", 0, false, "" },
    { "", 2, true, "  " },
    /* A wide character that does not fit leaves a column free. */
    { "\xe5\x9b\xb2\xe5\x9b\xb2\xe5\x9b\xb2", 4, false, "\xe2\x80\xa6\xe5\x9b\xb2 " },
    { "\xe5\x9b\xb2\xe5\x9b\xb2\xe5\x9b\xb2", 5, false, "\xe5\x9b\xb2\xe2\x80\xa6\xe5\x9b\xb2" },
    /* A combining mark stays with its letter. */
    { "e\xcc\x81xyze\xcc\x81", 3, false,
      "e\xcc\x81\xe2\x80\xa6"
      "e\xcc\x81" },
  };
  for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
    {
      char *cell = cell_of (rows[i].text, rows[i].width, rows[i].right);
      ck_assert_str_eq (cell, rows[i].cell);
      ck_assert_uint_eq (sw_text_width (cell), rows[i].width);
      sw_text_free (cell);
    }
  /* A figure makes its column too wide rather than become another figure. */
  char *figure = cell_of ("2883110.400 m", 12, true);
  ck_assert_str_eq (figure, " 2883110.400 m");
  sw_text_free (figure);
}
END_TEST

START_TEST (wrapping)
{
  static const struct
  {
    const char *text;
    size_t column, indent, width;
    const char *lines;
  } rows[] = {
    { "one two three", 0, 0, 8, "one two\nthree" },
    { "one two three", 0, 2, 8, "one two\n  three" },
    { "one two three", 5, 2, 8, "one\n  two\n  three" },
    { "one  two ", 0, 0, 80, "one two" },
    { "", 3, 0, 80, "" },
    { "abcdefghij", 0, 0, 4, "abcd\nefgh\nij" },
    { "ab cdefghij", 0, 1, 5, "ab cd\n efgh\n ij" },
    { "3" SW_VIEW_HARD "x" SW_VIEW_HARD "1190, 2" SW_VIEW_HARD "x 4", 0, 0, 9, "3 x 1190,\n2 x 4" },
  };
  for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
    {
      sw_text text = { 0 };
      sw_view_wrap (&text, rows[i].text, rows[i].column, rows[i].indent, rows[i].width);
      char *lines = sw_text_take (&text);
      ck_assert_str_eq (lines, rows[i].lines);
      sw_text_free (lines);
    }
}
END_TEST

START_TEST (figures)
{
  char text[SW_VIEW_PERCENT];
  static const struct
  {
    int64_t part, whole;
    int decimals;
    const char *text;
  } rows[] = {
    { 1, 8, 1, "12.5" },
    { 1, 16, 1, "6.3" }, /* 6.25, half rounded up */
    { 1, 3, 2, "33.33" },
    { 0, 5, 1, "0.0" },
    { 2, 3, 0, "67" },
    { 5, 0, 1, "-" },
    { INT64_MAX / 2, INT64_MAX, 2, "50.00" },
  };
  for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
    {
      sw_view_percent (rows[i].part, rows[i].whole, rows[i].decimals, text);
      ck_assert_str_eq (text, rows[i].text);
    }
  const size_t numbers[] = { 0, 1, 2, 4, 6, 7, 7, 9 };
  sw_text ranges = { 0 };
  sw_view_ranges (&ranges, numbers, sizeof numbers / sizeof *numbers, 1);
  char *shown = sw_text_take (&ranges);
  ck_assert_str_eq (shown, "1-3, 5, 7, 8, 10");
  sw_text_free (shown);
}
END_TEST

/* ---- Proof ---- */

/* TEXT with single blanks for line breaks and columns. */
static char *
unbroken (char *text)
{
  char *to = text;
  for (const char *p = text; *p != '\0'; p++)
    if (*p != '\n' && *p != ' ')
      *to++ = *p;
    else if (to > text && to[-1] != ' ')
      *to++ = ' ';
  *to = '\0';
  return text;
}

/* The text PROOF of FIXTURE on one line. */
static char *
proof_of (const fixture *fixture)
{
  return unbroken (fixture_text (fixture, SW_TEXT_PROOF, 160));
}

static void
ck_proof (const fixture *fixture, const char *part)
{
  char *text = proof_of (fixture);
  ck_contains (text, part);
  sw_text_free (text);
}

START_TEST (proved)
{
  fixture front;
  fixture_front (&front);
  ck_proof (&front, "PROOF No plan can be cheaper: every other one costs 117.94 or more. ");
  ck_proof (&front, " The cost is the timber without spare lengths. ");
  ck_proof (&front,
            " The plans compared are those in which no joins line up and first pieces are long and short in turn"
            " (--turn keep). ");
  ck_proof (&front, " 2 joins are the fewest for that money and, with so few, 7 boards are the fewest. ");
  front.plan->boards_proved = false;
  ck_proof (&front, " 2 joins are the fewest for that money. ");
  front.plan->joins_proved = false;
  ck_proof (&front, " Fewer joins than 2 for that money are not ruled out. ");
  front.plan->summary.always = 1;
  ck_proof (&front,
            " The plans compared are those in which no joins line up but 1 pair at a post that is always joined, and"
            " in which first pieces are long and short in turn (--turn keep). ");
  front.plan->summary.aligned = front.plan->summary.aligned_bound = 2;
  front.plan->summary.always = 3;
  ck_proof (&front,
            " Every plan in which first pieces are long and short in turn (--turn keep) lines up 2 pairs of joins or"
            " more, plus 3 pairs at posts that are always joined; the plans compared are those with 2. ");
  front.plan->summary.always = 0;
  front.job->settings->join_cost = 250 * SW_MONEY_UNIT / 100;
  ck_proof (&front, " The cost is the timber without spare lengths and 2 joins at 2.50. ");
  fixture_drop (&front);
}
END_TEST

/* Whatever has stopped the search, the text gives the bound, the cost and both gaps, and never says
 * "No plan can be cheaper". */
START_TEST (not_proved)
{
  static const struct
  {
    sw_outcome outcome;
    const char *why;
  } rows[] = { { SW_TIMED_OUT, " The time limit of 2.5 s came first." },
               { SW_INTERRUPTED, " The search was stopped before it was done." },
               { SW_WITHIN_GAP, " The search gave up there." } };
  fixture front;
  fixture_front (&front);
  front.job->settings->time_limit = 2500;
  front.plan->summary.bound = 110 * SW_MONEY_UNIT;
  for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
    {
      front.plan->summary.outcome = rows[i].outcome;
      char *text = proof_of (&front);
      ck_contains (text,
                   "This plan costs 117.94 and no plan can cost less than 110.00: at most 7.94 too much (7.22 %).");
      ck_contains (text, rows[i].why);
      ck_lacks (text, "No plan can be cheaper");
      ck_lacks (text, "fewer joins");
      sw_text_free (text);
    }
  front.plan->summary.bound = 0;
  ck_proof (&front, "This plan costs 117.94; how much cheaper another could be is not known yet. The search gave up");
  front.plan->summary.aligned = 3;
  front.plan->summary.aligned_bound = 1;
  ck_proof (&front,
            " Joins line up in 3 pairs; it is not proved that so many must (at least 1 must). The plans compared are"
            " those in which first pieces are long and short in turn (--turn keep). ");
  front.plan->summary.bound = front.plan->summary.cost;
  ck_proof (&front, "This plan costs 117.94, and no plan with as few joins lined up costs less. ");
  fixture_drop (&front);
}
END_TEST

/* The text claims only rules that were kept: none if joins do not count, only the other one without
 * the turn, and none if no run has two neighbouring levels. */
START_TEST (proof_without_the_turn)
{
  fixture front;
  fixture_front (&front);
  front.job->settings->turn = SW_TURN_OFF;
  char *text = proof_of (&front);
  ck_contains (text, " The plans compared are those in which no joins line up. ");
  ck_lacks (text, "turn");
  sw_text_free (text);
  front.plan->summary.aligned = front.plan->summary.aligned_bound = 2;
  ck_proof (&front, " Every plan lines up 2 pairs of joins or more; the plans compared are those with 2. ");
  front.job->settings->turn = SW_TURN_KEEP;
  front.job->settings->stagger = SW_STAGGER_OFF;
  text = proof_of (&front);
  ck_lacks (text, "turn");
  ck_lacks (text, "line up");
  sw_text_free (text);
  front.job->settings->stagger = SW_STAGGER_PREFER;
  bool nowhere[1] = { false };
  front.job->levels.items[2].runs = nowhere;
  text = proof_of (&front);
  ck_lacks (text, "turn");
  ck_lacks (text, "lines up");
  sw_text_free (text);
  front.job->levels.items[2].runs = NULL;
  fixture_drop (&front);
}
END_TEST

START_TEST (proof_in_metres)
{
  const fixture_texts texts = { .extras = "label,section,length,quantity\na,rail,4700,32\n", .plan = "extras\n" };
  sw_text plan = { 0 };
  sw_text_add (&plan, "extras\n");
  for (int i = 1; i <= 32; i++)
    sw_text_printf (&plan, "board rail 4.8: a %d\n", i);
  fixture_texts all = texts;
  all.plan = plan.data;
  fixture made;
  fixture_make (&made, &all);
  ck_proof (&made, "No plan can be cheaper: every other one costs 153.6 m or more. ");
  ck_proof (&made, " Without prices the cost is the length bought. ");
  sw_text_drop (&plan);
  fixture_drop (&made);
}
END_TEST

/* If each price is 0, what is proved concerns the bought length. */
START_TEST (proof_where_all_is_free)
{
  const fixture_texts texts = { .stock = "section,length,price\nrail,4.8,0\n",
                                .extras = "label,section,length\na,rail,4700\nb,rail,4700\n",
                                .plan = "extras\nboard rail 4.8: a\nboard rail 4.8: b\n" };
  fixture made;
  fixture_make (&made, &texts);
  made.plan->least = 9600 * SW_MM;
  made.plan->summary.joins = 1;
  ck_proof (&made, "PROOF Every price is 0, so that no plan is cheaper than another. None can buy less timber than this "
                   "one, 9.6 m. 1 join is the fewest with so little timber and, with so few, 2 boards are the fewest.");
  made.plan->joins_proved = false;
  ck_proof (&made, " Fewer joins than 1 with so little timber are not ruled out. ");
  made.plan->summary.outcome = SW_INTERRUPTED;
  ck_proof (&made, " another. This one buys 9.6 m, and none with as few joins lined up buys less. The search was ");
  made.plan->least = 8 * SW_METRE;
  ck_proof (&made, " This one buys 9.6 m and none can buy less than 8.0 m: at most 1.6 m too much (20.00 %). The search");
  made.plan->least = 0;
  ck_proof (&made, " This one buys 9.6 m; how much less another could buy is not known yet. The search was stopped");
  char *text = proof_of (&made);
  ck_lacks (text, "cheaper:");
  sw_text_free (text);
  fixture_drop (&made);
}
END_TEST

/* ---- Care ---- */

/* The cautions as they are drawn on paper. */
static char *
care_of (const fixture *fixture)
{
  sw_text text = { 0 };
  ck_assert_int_eq (sw_care_text (fixture->plan, 80, &text), SW_OK);
  return sw_text_take (&text);
}

/* Width x thickness x density: 75x38 weighs 1.57 kg a metre at 550 kg/m3 (dry treated pine) and
 * 2.42 at 850 (wet).  Derived; densities from public wood data. */
START_TEST (weights)
{
  ck_assert_int_eq (sw_care_metre (75 * SW_MM, 38 * SW_MM, 550000), 157);
  ck_assert_int_eq (sw_care_metre (75 * SW_MM, 38 * SW_MM, 850000), 242);
  ck_assert_int_eq (sw_care_weight (75 * SW_MM, 38 * SW_MM, 550000, 100 * SW_METRE), 1568);
  fixture front;
  fixture_front (&front);
  char *text = care_of (&front);
  /* 24.6 m of 90x45 at 600; 9.6 m of 150x25, whose density is not given. */
  ck_contains (text, "    90x45 H3 primed pine: 60 kg (2.43 kg a metre at 600 kg/m3)\n");
  ck_contains (text, "    150x25: 20 kg dry to 31 kg wet if it is treated pine (2.06 to 3.19 kg a\n");
  sw_text_free (text);
  front.job->sections.items[0].width = 0;
  text = care_of (&front);
  ck_contains (text, "pine: not known (sections.csv gives no width and thickness)\n");
  sw_text_free (text);
  fixture_drop (&front);
}
END_TEST

/* By the rule of care.h, worked by hand: a board's own ends need no brush. */
START_TEST (sawn_ends)
{
  static const struct
  {
    const char *start, *rise, *settings, *length;
    bool last; /* the fence's piece comes after the other one */
    int64_t ends;
  } rows[] = {
    { "centre", "", "", "2000", false, 3 },           /* four ends without the board's own at the start */
    { "centre", "", "", "2397", false, 2 },           /* also without the one at the end: 2400 + 3 + 2397 */
    { "centre", "", "", "2396", false, 3 },           /* 1 mm is sawn off */
    { "centre", "", "end-trim=5", "2000", false, 4 }, /* both ends docked */
    { "mitre", "", "", "2000", false, 4 },            /* the start is a mitre */
    { "centre", "700", "", "2000", false, 4 },        /* the start is cut plumb */
    { "centre", "700", "", "2000", true, 3 },         /* but here a square piece comes first */
    /* 2500 on the slope and 90 x 700 / 2400 = 26.25 of triangle, 2526.25, and 3 x 2500 / 2400 of saw but the ordinary
     * 3: 4800 - 2526.375 - 3 = 2270.625 are before it.  Its plumb finish is sawn though nothing is left. */
    { "centre", "700", "", "2270.625", true, 3 },
    { "centre", "", "", "2397", true, 2 }, /* the fence's piece ends on the board's end */
  };
  for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
    {
      char spans[100];
      char extras[100];
      char settings[100];
      snprintf (spans, sizeof spans, "run,span,start,finish,rise\na,2400,%s,centre,%s\n", rows[i].start, rows[i].rise);
      snprintf (extras, sizeof extras, "label,section,length\nb,rail,%s\n", rows[i].length);
      snprintf (settings, sizeof settings, "rails=1\n%s", rows[i].settings);
      const fixture_texts texts
          = { .spans = spans,
              .extras = extras,
              .settings = settings,
              .sections = "section,width\nrail,90\n",
              .plan = rows[i].last ? "through a/rail 1: 1-2\nextras\nboard rail 4.8: b, a/rail 1/1-2"
                                   : "through a/rail 1: 1-2\nextras\nboard rail 4.8: a/rail 1/1-2, b" };
      fixture made;
      fixture_make (&made, &texts);
      ck_assert_int_eq (sw_care_sawn_ends (made.plan), rows[i].ends);
      fixture_drop (&made);
    }
}
END_TEST

/* The text has each of job.md's cautions. */
START_TEST (cautions)
{
  static const char *const words[]
      = { "dust mask", "gloves",  "eye",      "ear",  "burnt",    "preservative", "check",
          "services",  "vehicle", "boundary", "pool", "supplier", "licensed",     "not the design" };
  fixture front;
  fixture_front (&front);
  char *text = care_of (&front);
  char *message = fixture_text (&front, SW_TEXT_MESSAGE, 0);
  for (size_t i = 0; i < sizeof words / sizeof *words; i++)
    {
      ck_contains (text, words[i]);
      ck_contains (strstr (message, "\nFor whoever carries, cuts and builds, not for the yard:\n"), words[i]);
    }
  ck_contains (message, "\n- Weight of 90x45 H3 primed pine: 60 kg (2.43 kg a metre at 600 kg/m3)\n- Weight of 150x25: 20"
                        " kg dry to 31 kg wet if it is treated pine (2.06 to 3.19 kg a metre)\n- ");
  sw_text_free (message);
  sw_text_free (text);
  ck_assert_ptr_null (sw_care_caution (99));
  fixture_drop (&front);
}
END_TEST

/* The terminal gets three lines.  One of them refers to local codes and licensed people.  Where
 * checks are deep there is a fourth. */
START_TEST (care_in_three_lines)
{
  fixture front;
  fixture_front (&front);
  front.job->settings->post_depth = 135 * SW_MM;
  char *text = fixture_text (&front, SW_TEXT_CARE, 0);
  /* 59.8 kg of 90x45.  9.6 m of 150x25 weigh 19.8 kg at 550 and 30.6 at 850.  There are 20 pieces;
   * five begin with their board's own end, and none ends with it. */
  ck_assert_str_eq (text, "CARE\n"
                          "  The order weighs 80 kg dry, 90 wet; 35 sawn ends to brush with preservative.\n"
                          "  Treated timber: mask, gloves, eyes and ears covered; never burn an offcut.\n"
                          "  Local codes and a licensed practitioner's advice come before this plan.\n");
  sw_text_free (text);
  /* With 135, 45 would be a third. */
  front.job->settings->post_depth = 134 * SW_MM;
  text = fixture_text (&front, SW_TEXT_CARE, 0);
  ck_contains (text, "\n  Checks here go deeper than a third of a post: have that looked at first.\n  Local");
  sw_text_free (text);
  front.job->sections.items[0].width = 0;
  text = fixture_text (&front, SW_TEXT_CARE, 0);
  ck_contains (text, "  Timber whose size is known weighs 20 kg dry, 31 wet; ");
  sw_text_free (text);
  front.job->sections.items[1].width = 0;
  text = fixture_text (&front, SW_TEXT_CARE, 0);
  ck_lacks (text, "weigh");
  sw_text_free (text);
  fixture_drop (&front);
}
END_TEST

/* ---- A long fence ---- */

#define BAYS 1200

/* One rail over 1200 bays, two by two. */
static void
long_fence (fixture *out, const char *settings)
{
  sw_text spans = { 0 };
  sw_text plan = { 0 };
  sw_text boards = { 0 };
  sw_text_add (&spans, "run,span\n");
  sw_text_add (&plan, "through long/rail 1:");
  for (int b = 1; b <= BAYS; b++)
    {
      sw_text_add (&spans, "long,2000\n");
      if (b % 2 == 0)
        continue;
      sw_text_printf (&plan, " %d-%d", b, b + 2);
      sw_text_printf (&boards, "board rail 4.8: long/rail 1/%d-%d\n", b, b + 2);
    }
  sw_text_printf (&plan, "\n%s", boards.data);
  const fixture_texts texts = { .spans = spans.data, .settings = settings, .plan = plan.data };
  fixture_make (out, &texts);
  sw_text_drop (&spans);
  sw_text_drop (&plan);
  sw_text_drop (&boards);
}

static size_t
lines_of (const char *text)
{
  size_t lines = 0;
  for (; *text != '\0'; text++)
    lines += *text == '\n' ? 1 : 0;
  return lines;
}

/* The number that stands in TEXT between BEFORE and AFTER. */
static long
left_out (const char *text, const char *before, const char *after)
{
  char *line = sw_copy_text (text);
  ck_assert_ptr_nonnull (line);
  const char *at = strstr (unbroken (line), before);
  ck_assert_msg (at != NULL, "no \"%s\" in %zu lines", before, lines_of (text));
  char *end = NULL;
  long number = strtol (at + strlen (before), &end, 10);
  ck_assert_msg (strncmp (end, after, strlen (after)) == 0, "\"%s\" and then %.60s", before, end);
  free (line);
  return number;
}

/* Each part stops after 300 lines or a few more.  It says where the rest begins, and prints all
 * that comes before it.  The tables have everything. */
START_TEST (no_part_is_longer_than_can_be_read)
{
  fixture made;
  char name[64];
  long_fence (&made, "rails=1");
  for (unsigned width = 40; width <= 160; width += 40)
    {
      char *text = fixture_text (&made, SW_TEXT_CUTS, width);
      /* Below the line, a board's text says that more are left. */
      ck_assert_uint_ge (lines_of (text), SW_VIEW_LINES - 10);
      ck_assert_uint_le (lines_of (text), SW_VIEW_LINES + 15);
      long next = left_out (text, "Not printed here: boards ", " to 600.");
      for (long b = next - 1; b <= next; b++)
        {
          snprintf (name, sizeof name, "long/rail 1/%ld-%ld\n", 2 * b - 1, 2 * b + 1);
          ck_assert_msg ((strstr (text, name) != NULL) == (b < next), "%s, from %ld on left out", name, next);
        }
      sw_text_free (text);
      text = fixture_text (&made, SW_TEXT_SETOUT, width);
      ck_assert_uint_le (lines_of (text), SW_VIEW_LINES + 15);
      next = left_out (text, "Not printed here: run long from post ", " on");
      unbroken (text);
      for (long p = next - 1; p <= next; p++)
        {
          snprintf (name, sizeof name, " %ld %ld ", p, 2000 * (p - 1));
          ck_assert_msg ((strstr (text, name) != NULL) == (p < next), "%s, from %ld on left out", name, next);
        }
      sw_text_free (text);
    }
  char *text = fixture_text (&made, SW_TEXT_FIT, 80);
  ck_assert_uint_le (lines_of (text), SW_VIEW_LINES + 15);
  long next = left_out (text, "Not printed here: run long from post ", " on. All of it: -o DIR");
  snprintf (name, sizeof name, " %ld\n  rail 1  ", next);
  ck_assert_ptr_nonnull (strstr (text, name));
  snprintf (name, sizeof name, "\n          %ld ", next);
  ck_assert_ptr_null (strstr (text, name));
  sw_text_free (text);
  text = fixture_csv (&made, SW_TABLE_CUTS);
  ck_assert_uint_eq (lines_of (text), 601);
  sw_text_free (text);
  text = fixture_text (&made, SW_TEXT_ALL, 80);
  ck_assert_uint_le (lines_of (text), 3 * (SW_VIEW_LINES + 15) + 40);
  sw_text_free (text);
  fixture_drop (&made);
}
END_TEST

START_TEST (no_list_by_run_either)
{
  fixture made;
  long_fence (&made, "rails=1\nby=run");
  char *text = fixture_text (&made, SW_TEXT_CUTS, 80);
  ck_assert_uint_le (lines_of (text), SW_VIEW_LINES + 15);
  /* Half of the lines are for the cuts: 149 posts, every second one. */
  ck_assert_ptr_nonnull (strstr (text, "\n    post 297  rail: 1/4.8 (149)\n\n  Not printed here: the posts from 299 on. All of it: -o DIR"));
  long boards = left_out (strstr (text, "Post 1, "), "Not printed here: ", " boards from here on, post ");
  long post = left_out (text, " boards from here on, post ", " of run long.");
  ck_assert_int_eq (post, 2 * (600 - boards) + 1);
  sw_text_free (text);
  fixture_drop (&made);
}
END_TEST

/* ---- Dispatch ---- */

START_TEST (parts)
{
  fixture front;
  char *text = NULL;
  sw_table *table = NULL;
  fixture_front (&front);
  ck_assert_int_eq (sw_plan_text (front.plan, 1u << 10, 0, &text), SW_USAGE);
  ck_assert_ptr_null (text);
  ck_assert_int_eq (sw_plan_table (front.plan, (sw_table_kind)17, &table), SW_USAGE);
  ck_assert_ptr_null (table);
  text = fixture_text (&front, 0, 0);
  ck_assert_str_eq (text, "");
  sw_text_free (text);
  static const char *const headings[] = { "ORDER for Front fence\n", "\n\nTIMBER\n", "\n\nCUT LIST\n", "\n\nFIT\n",
                                          "\n\nSETTING OUT\n",       "\n\nPROOF\n",  "\n\nCARE\n" };
  text = fixture_text (&front, SW_TEXT_ALL, 0);
  const char *at = text;
  for (size_t i = 0; i < sizeof headings / sizeof *headings; i++)
    {
      const char *next = strstr (at, headings[i]);
      ck_assert_msg (next != NULL && (i > 0 || next == text), "no \"%s\" after:\n%s", headings[i], at);
      at = next;
    }
  /* The same plan, the same bytes. */
  char *again = fixture_text (&front, SW_TEXT_ALL, 0);
  ck_assert_str_eq (text, again);
  sw_text_free (again);
  sw_text_free (text);
  sw_summary summary;
  sw_plan_summary (front.plan, &summary);
  ck_assert_int_eq (summary.bought, 29400 * SW_MM);
  ck_assert_int_eq (summary.used, 32250 * SW_MM);
  sw_plan_free (NULL);
  fixture_drop (&front);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("views");
  TCase *tcase = tcase_create ("views");
  tcase_add_test (tcase, fits_the_columns);
  tcase_add_test (tcase, long_names);
  tcase_add_test (tcase, control_characters);
  tcase_add_test (tcase, cells);
  tcase_add_test (tcase, wrapping);
  tcase_add_test (tcase, figures);
  tcase_add_test (tcase, proved);
  tcase_add_test (tcase, not_proved);
  tcase_add_test (tcase, proof_without_the_turn);
  tcase_add_test (tcase, proof_in_metres);
  tcase_add_test (tcase, proof_where_all_is_free);
  tcase_add_test (tcase, weights);
  tcase_add_test (tcase, sawn_ends);
  tcase_add_test (tcase, cautions);
  tcase_add_test (tcase, care_in_three_lines);
  tcase_add_test (tcase, no_part_is_longer_than_can_be_read);
  tcase_add_test (tcase, no_list_by_run_either);
  tcase_add_test (tcase, parts);
  suite_add_tcase (suite, tcase);
  return suite_run (suite);
}
