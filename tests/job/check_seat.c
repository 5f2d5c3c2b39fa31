/* check_seat.c - how timber sits on its posts
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "plan_fixture.h"
#include "suite.h"

#include "job/seat.h"

#include <stdio.h>
#include <stdlib.h>

/* A level of each seat: 75x38 let in flush, let in 30, on the face; 100x25 on top; a plinth between posts. */
static sw_job *
job_of_seats (const char *settings)
{
  const fixture_texts texts = { .spans = "run,span\na,2400\n",
                                .levels = "level,section,runs,seat\n"
                                          "plinth,150x25,between,\nflush,75x38,,\ndeep,75x38,,let in 30\n"
                                          "outside,75x38,,face\ncapping,100x25,,top\n",
                                .sections = "section,width,thickness\n75x38,75,38\n100x25,100,25\n150x25,150,25\n",
                                .stock = "section,length\n75x38,4.8\n100x25,4.8\n150x25,4.8\n",
                                .settings = settings };
  return fixture_job (&texts);
}

enum
{
  PLINTH,
  FLUSH,
  DEEP,
  OUTSIDE,
  CAPPING
};

/* job.md: let in D, the faces are w/2 + t - D and w/2 - D outside the line of post centres; on the
 * face, w/2 + t and w/2; on top, half the width to both sides.  D = t if no depth is given. */
START_TEST (faces)
{
  static const struct
  {
    size_t level;
    const char *depth;            /* of the posts, NULL: as they are wide */
    sw_length post, outer, inner; /* tenths of a millimetre */
  } rows[] = {
    { FLUSH, NULL, 1000, 500, 120 },
    { FLUSH, NULL, 1250, 625, 245 },
    { FLUSH, NULL, 900, 450, 70 },
    { DEEP, NULL, 1000, 580, 200 },
    { OUTSIDE, NULL, 1000, 880, 500 },
    { CAPPING, NULL, 1000, 500, -500 },
    { CAPPING, NULL, 1250, 500, -500 },
    { FLUSH, "post-depth=125", 1000, 625, 245 },
    { OUTSIDE, "post-depth=75", 1000, 755, 375 },
    { CAPPING, "post-depth=75", 1000, 500, -500 },
  };
  for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
    {
      sw_job *job = job_of_seats (rows[i].depth);
      const sw_length tenth = SW_MM / 10;
      const sw_faces got = sw_seat_faces (job, &job->levels.items[rows[i].level], rows[i].post * tenth);
      ck_assert_msg (got.outer == rows[i].outer * tenth && got.inner == rows[i].inner * tenth, "row %zu: %lld, %lld", i,
                     (long long)got.outer, (long long)got.inner);
      sw_job_free (job);
    }
}
END_TEST

/* job.md: the seat decides how deep the check is, how high timber stands, and what a corner is sawn through. */
START_TEST (sizes)
{
  static const sw_length rows[5][3] = { /* check, height, sawn through */
                                        { 0, 150, 25 },
                                        { 38, 75, 38 },
                                        { 30, 75, 38 },
                                        { 0, 75, 38 },
                                        { 0, 25, 100 }
  };
  sw_job *job = job_of_seats (NULL);
  for (size_t l = 0; l < 5; l++)
    {
      const sw_level *level = &job->levels.items[l];
      ck_assert_int_eq (sw_seat_check (job, level), rows[l][0] * SW_MM);
      ck_assert_int_eq (sw_seat_height (job, level), rows[l][1] * SW_MM);
      ck_assert_int_eq (sw_seat_sawn_through (job, level), rows[l][2] * SW_MM);
    }
  ck_assert_int_eq (sw_seat_post_depth (job, 90 * SW_MM), 90 * SW_MM);
  sw_job_free (job);
}
END_TEST

/* The table of ends, spanwright-csv(5), and job.md's corners by seat: 100 mm post, 38 thick. */
START_TEST (reaches)
{
  static const struct
  {
    const char *end;
    double flush, deep, outside, capping; /* mm, to the tenth */
  } rows[] = {
    { "flush", 50, 50, 50, 50 },
    { "centre", 0, 0, 0, 0 },
    { "reach -20", -20, -20, -20, -20 },
    /* On top there is no face to stop at and no housing, so that the timber passes over the post. */
    { "face", -50, -50, -50, 50 },
    { "housed 33", -17, -17, -17, 50 },
    { "mitre 90", 50, 58, 88, 50 },
    { "mitre 60", 86.6, 100.5, 152.4, 86.6 },
    { "mitre 120", 28.9, 33.5, 50.8, 28.9 },
    { "mitre 135", 20.7, 24, 36.5, 20.7 },
    { "mitre 270", -12, -20, -50, 50 },
    { "mitre 225", -5, -8.3, -20.7, 20.7 },
  };
  sw_job *job = job_of_seats (NULL);
  for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
    {
      const double expected[5] = { 0, rows[i].flush, rows[i].deep, rows[i].outside, rows[i].capping };
      sw_end end = { 0 };
      char phrase[SW_PHRASE];
      ck_assert (sw_end_parse (rows[i].end, false, 100 * SW_MM, &end, phrase));
      for (size_t l = FLUSH; l <= CAPPING; l++)
        {
          const sw_length reach = sw_seat_reach (job, &job->levels.items[l], &end, 100 * SW_MM);
          char text[40];
          char wanted[40];
          snprintf (text, sizeof text, "%.1f", (double)reach / 1e6 + 0.0);
          snprintf (wanted, sizeof wanted, "%.1f", expected[l]);
          ck_assert_msg (strtod (text, NULL) == strtod (wanted, NULL), "%s, level %zu: %s, not %s", rows[i].end, l,
                         text, wanted);
        }
    }
  sw_job_free (job);
}
END_TEST

/* On every other seat the ends stay as they are. */
START_TEST (ends_on_top)
{
  sw_job *job = job_of_seats (NULL);
  for (int kind = SW_END_ON; kind <= SW_END_REACH; kind++)
    for (size_t l = PLINTH; l <= CAPPING; l++)
      {
        const bool over = l == CAPPING && (kind == SW_END_FACE || kind == SW_END_HOUSED);
        ck_assert_int_eq (sw_seat_end (&job->levels.items[l], (sw_end_kind)kind),
                          over ? SW_END_FLUSH : (sw_end_kind)kind);
      }
  sw_job_free (job);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("seat");
  TCase *tcase = tcase_create ("seat");
  tcase_add_test (tcase, faces);
  tcase_add_test (tcase, sizes);
  tcase_add_test (tcase, reaches);
  tcase_add_test (tcase, ends_on_top);
  suite_add_tcase (suite, tcase);
  return suite_run (suite);
}
