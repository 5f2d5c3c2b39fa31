/* plan_fixture.h - a job out of texts and a plan written by hand, for tests
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef PLAN_FIXTURE_H
#define PLAN_FIXTURE_H

#include "plan/plan.h"

typedef struct fixture
{
  sw_job *job;
  sw_plan *plan;
} fixture;

/* The texts of the input files (NULL: no such file), settings as "key=value"
 * lines, and the plan as lines:
 *
 *   through RUN/LEVEL: 1-3 3-4 ...     pieces from post to post
 *   between RUN/LEVEL                  a piece a bay
 *   blocks RUN/LEVEL                   as many as the level asks for
 *   extras                             every extra
 *   board SECTION METRES: PIECE, PIECE ...      labels, in order of cutting
 *   hand SECTION METRES: PIECE ...              the same, from hand
 *
 * in the order in which a plan holds them.  Sums are worked out; the plan
 * counts as proved at its own cost.  Any fault fails the test. */
typedef struct fixture_texts
{
  const char *spans;
  const char *levels;
  const char *stock;
  const char *sections;
  const char *extras;
  const char *yards;
  const char *fittings;
  const char *settings;
  const char *plan;
} fixture_texts;

/* Read only the job of TEXTS.  Any fault fails the test. */
sw_job *fixture_job (const fixture_texts *texts);
void fixture_make (fixture *out, const fixture_texts *texts);
void fixture_drop (fixture *fixture);

/* Make a front fence: four bays, a corner, a gate bay, two rails and a plinth between posts.  It
 * has prices, blocks, an extra, a board from hand and a spare length. */
void fixture_front (fixture *out);

/* Make a directory for the test alone, and remove it with everything in it. */
char *fixture_directory (void);
void fixture_remove (char *directory);
/* The bytes of DIRECTORY/NAME, which the caller frees.  NULL: there is no such file. */
char *fixture_bytes (const char *directory, const char *name);
/* The number of names in DIRECTORY. */
size_t fixture_names (const char *directory);

/* One of the plan's tables as CSV, which the caller frees. */
char *fixture_csv (const fixture *fixture, sw_table_kind kind);
/* Parts of the plan as text, which the caller frees. */
char *fixture_text (const fixture *fixture, unsigned parts, unsigned width);

#define ck_contains(text, part) ck_assert_msg (strstr (text, part) != NULL, "no \"%s\" in:\n%s", part, text)
#define ck_lacks(text, part) ck_assert_msg (strstr (text, part) == NULL, "\"%s\" in:\n%s", part, text)

#endif
