/* verify_setout.c - checks distances, marks and housings
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "base/memory.h"
#include "verify/verify.h"

#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

/* The rows of the file for a post at a level.  There is one row, but where the fence steps between
 * timber on both sides there are two, with the near side's first. */
typedef struct sw_spot
{
  size_t listed; /* number of rows that the file has */
  size_t rows[2];
  bool join;
} sw_spot;

typedef struct sw_spots
{
  sw_length *distance; /* by post: its distance from the run's first */
  sw_length *raised;   /* by post: the sum of the steps from the run's first post up to and with this one */
  sw_spot *spots;      /* by post, then by level */
  size_t turned;       /* number of places where the far side's row comes first */
} sw_spots;

/* What a row should say. */
typedef struct sw_mark_row
{
  bool timber; /* there is timber */
  sw_length mark;
  const char *housing;
  sw_length depth; /* 0: no housing, or its depth is not known */
  bool join;
} sw_mark_row;

/* A level at a post of a run. */
typedef struct sw_where
{
  const sw_run *run;
  const sw_level *level;
  size_t post;
  size_t number; /* the post's number among all posts of the job */
} sw_where;

static sw_where
place (const sw_verifier *verifier, size_t run, size_t post, size_t level)
{
  const sw_job *job = verifier->job;
  return (sw_where){ &job->fence.runs[run], &job->levels.items[level], post, verifier->first_post[run] + post };
}

static sw_spot *
spot_of (const sw_verifier *verifier, const sw_spots *spots, size_t run, size_t post, size_t level)
{
  return &spots->spots[(verifier->first_post[run] + post) * verifier->job->levels.count + level];
}

static void
clear_spots (sw_spots *spots)
{
  free (spots->distance);
  free (spots->raised);
  free (spots->spots);
}

static sw_status
make_spots (const sw_verifier *verifier, sw_spots *spots)
{
  const sw_job *job = verifier->job;
  size_t posts = 0;
  for (size_t r = 0; r < job->fence.run_count; r++)
    posts += job->fence.runs[r].bay_count + 1;
  if (job->levels.count > 0 && posts > SIZE_MAX / job->levels.count)
    return SW_NO_MEMORY;
  spots->distance = sw_alloc (posts, sizeof *spots->distance);
  spots->raised = sw_alloc (posts, sizeof *spots->raised);
  spots->spots = sw_alloc (posts * job->levels.count, sizeof *spots->spots);
  if (spots->distance == NULL || spots->raised == NULL || spots->spots == NULL)
    return SW_NO_MEMORY;
  for (size_t r = 0; r < job->fence.run_count; r++)
    for (size_t b = 0; b < job->fence.runs[r].bay_count; b++)
      {
        const size_t post = verifier->first_post[r] + b;
        spots->distance[post + 1] = spots->distance[post] + job->fence.runs[r].bays[b].span;
        spots->raised[post + 1] = spots->raised[post] + job->fence.runs[r].bays[b].step;
      }
  for (size_t i = 0; i < verifier->placed_count; i++)
    {
      const sw_place *on = verifier->placed[i];
      const sw_run *run = &job->fence.runs[on->run];
      if (job->levels.items[on->level].through && on->from > 0 && !sw_verify_breaks (run, on->from))
        spot_of (verifier, spots, on->run, on->from, on->level)->join = true;
    }
  return SW_OK;
}

/* ---- What should be there ------------------------------------------------ */

/* The bay on the near (far) side of a post.  NULL: there is none, or it has no timber. */
static const sw_bay *
near_bay (const sw_where *where)
{
  const sw_bay *bay = where->post > 0 ? &where->run->bays[where->post - 1] : NULL;
  return bay == NULL || bay->opening ? NULL : bay;
}

static const sw_bay *
far_bay (const sw_where *where)
{
  const sw_bay *bay = where->post < where->run->bay_count ? &where->run->bays[where->post] : NULL;
  return bay == NULL || bay->opening ? NULL : bay;
}

/* Does the fence step here, with timber on both sides? */
static bool
is_step (const sw_where *where)
{
  return near_bay (where) != NULL && far_bay (where) != NULL && near_bay (where)->step != 0;
}

/* The housing that is cut for timber with the end END, and its depth (0: not known). */
static const char *
housing_for (const sw_job *job, const sw_where *where, const sw_end *end, sw_length *depth)
{
  const sw_level *level = where->level;
  const sw_length width = where->run->posts[where->post].width;
  *depth = 0;
  if (!level->through || level->seat == SW_SEAT_TOP)
    return "";
  if (end->kind == SW_END_HOUSED)
    {
      *depth = end->length;
      return "stopped";
    }
  /* Timber that stops at the near face of the post does not touch its outer face. */
  if (level->seat == SW_SEAT_FACE || sw_verify_reach (job, level, end, width) <= -(width / 2))
    return "";
  *depth = sw_verify_check (job, level);
  return "through";
}

/* Add the housing for END, the timber's end on one side of the post.  Of two housings, a stopped
 * one counts before one that goes right across, and the deeper before the shallower. */
static void
add_housing (const sw_job *job, const sw_where *where, const sw_end *end, sw_mark_row *row)
{
  sw_length depth;
  const char *housing = housing_for (job, where, end, &depth);
  const bool stopped = *housing == 's';
  const bool was_stopped = *row->housing == 's';
  row->timber = true;
  if (*housing == '\0')
    return;
  if (*row->housing == '\0' || stopped > was_stopped || (stopped == was_stopped && depth > row->depth))
    {
      row->housing = housing;
      row->depth = depth;
    }
}

/* Work out what the rows of a post at a level should say.  True: there are two rows. */
static bool
work_out (const sw_verifier *verifier, const sw_spots *spots, const sw_where *where, bool join, sw_mark_row rows[2])
{
  const bool two = is_step (where);
  const sw_bay *near = near_bay (where);
  const sw_bay *far = far_bay (where);
  const sw_length before = where->post > 0 ? spots->raised[where->number - 1] : 0;
  sw_mark_row *beyond = two ? &rows[1] : &rows[0];
  rows[0] = rows[1] = (sw_mark_row){ .housing = "", .join = join };
  if (far != NULL)
    {
      beyond->mark = where->level->height + spots->raised[where->number];
      add_housing (verifier->job, where, &far->start, beyond);
    }
  if (near != NULL)
    {
      rows[0].mark = where->level->height + before;
      add_housing (verifier->job, where, &near->finish, &rows[0]);
    }
  return two;
}

/* ---- What is there ------------------------------------------------------- */

/* Add a fault unless FIELD is WANTED; it should be blank where nothing is SAID. */
static void
check_length (sw_verifier *verifier, size_t row, int field, bool said, sw_length wanted)
{
  if (said)
    sw_verify_length (verifier, &verifier->setout, row, field, wanted);
  else
    sw_verify_text (verifier, &verifier->setout, row, field, "");
}

static void
check_spot_row (sw_verifier *verifier, const sw_spots *spots, size_t row, const sw_where *where,
                const sw_mark_row *wanted)
{
  const sw_listing *setout = &verifier->setout;
  const bool said = wanted->timber && where->level->has_height;
  const sw_length tall = sw_verify_tall (verifier->job, where->level);
  sw_verify_length (verifier, setout, row, SW_SETOUT_DISTANCE, spots->distance[where->number]);
  sw_verify_length (verifier, setout, row, SW_SETOUT_WIDTH, where->run->posts[where->post].width);
  check_length (verifier, row, SW_SETOUT_MARK, said, wanted->mark);
  check_length (verifier, row, SW_SETOUT_TOP, said && tall > 0, wanted->mark + tall);
  sw_verify_word (verifier, setout, row, SW_SETOUT_HOUSING, wanted->housing);
  check_length (verifier, row, SW_SETOUT_DEPTH, wanted->depth > 0, wanted->depth);
  sw_verify_word (verifier, setout, row, SW_SETOUT_JOIN, wanted->join ? "join" : "");
}

static bool
is_near (const sw_verifier *verifier, size_t row, int field, sw_length wanted)
{
  const sw_length found = sw_listing_number (&verifier->setout, row, field);
  return found == SW_BLANK ? wanted == 0
                           : found >= wanted - SW_VERIFY_TOLERANCE && found <= wanted + SW_VERIFY_TOLERANCE;
}

/* Does ROW have the mark and the housing of one side of a step? */
static bool
says (const sw_verifier *verifier, size_t row, const sw_where *where, const sw_mark_row *wanted)
{
  return (!where->level->has_height || is_near (verifier, row, SW_SETOUT_MARK, wanted->mark))
         && is_near (verifier, row, SW_SETOUT_DEPTH, wanted->depth)
         && sw_same_word (sw_listing_text (&verifier->setout, row, SW_SETOUT_HOUSING), wanted->housing);
}

/* Check all rows of a post at a level. */
static void
check_spot (sw_verifier *verifier, sw_spots *spots, const sw_where *where, const sw_spot *spot)
{
  sw_mark_row wanted[2];
  size_t rows[2] = { spot->rows[0], spot->rows[1] };
  if (work_out (verifier, spots, where, spot->join, wanted))
    {
      /* Sorting the file in a spreadsheet may have turned the two rows round. */
      if (!(says (verifier, rows[0], where, &wanted[0]) && says (verifier, rows[1], where, &wanted[1]))
          && says (verifier, rows[0], where, &wanted[1]) && says (verifier, rows[1], where, &wanted[0]))
        {
          rows[0] = spot->rows[1];
          rows[1] = spot->rows[0];
          spots->turned++;
        }
      check_spot_row (verifier, spots, rows[1], where, &wanted[1]);
    }
  check_spot_row (verifier, spots, rows[0], where, &wanted[0]);
}

static void
check_row (sw_verifier *verifier, sw_spots *spots, size_t row)
{
  const sw_listing *setout = &verifier->setout;
  size_t run = sw_verify_run (verifier, setout, row, SW_SETOUT_RUN);
  size_t level = sw_verify_level (verifier, setout, row, SW_SETOUT_LEVEL);
  if (run == SW_UNKNOWN || level == SW_UNKNOWN || !sw_verify_is_on (verifier, setout, row, SW_SETOUT_LEVEL, run, level))
    return;
  size_t post = sw_verify_post (verifier, setout, row, SW_SETOUT_POST, run);
  if (post == SW_UNKNOWN)
    return;
  const sw_where where = place (verifier, run, post, level);
  const size_t wanted = is_step (&where) ? 2 : 1;
  sw_spot *spot = spot_of (verifier, spots, run, post, level);
  if (spot->listed == wanted)
    {
      SW_VERIFY_FAULT (verifier, setout, row, SW_SETOUT_POST, "is \"%zu\": run %s, level %s has it on line %zu already",
                       post + 1, where.run->name, where.level->name, sw_listing_line (setout, spot->rows[wanted - 1]));
      return;
    }
  spot->rows[spot->listed++] = row;
  if (spot->listed == wanted)
    check_spot (verifier, spots, &where, spot);
}

static void
check_listed (sw_verifier *verifier, const sw_spots *spots)
{
  const sw_job *job = verifier->job;
  for (size_t r = 0; r < job->fence.run_count; r++)
    for (size_t post = 0; post <= job->fence.runs[r].bay_count; post++)
      for (size_t l = 0; l < job->levels.count; l++)
        {
          const sw_where where = place (verifier, r, post, l);
          const size_t listed = spot_of (verifier, spots, r, post, l)->listed;
          if (!sw_level_is_on (where.level, r))
            continue;
          if (listed == 0)
            SW_VERIFY_FAULT (verifier, &verifier->setout, SW_UNKNOWN, -1, "run %s, post %zu, level %s: no row",
                             where.run->name, post + 1, where.level->name);
          else if (listed == 1 && is_step (&where))
            SW_VERIFY_FAULT (verifier, &verifier->setout, SW_UNKNOWN, -1,
                             "run %s, post %zu, level %s: one row, should be two, as the fence steps there",
                             where.run->name, post + 1, where.level->name);
        }
}

sw_status
sw_verify_setout (sw_verifier *verifier)
{
  sw_spots spots = { 0 };
  if (verifier->setout.table == NULL)
    return SW_OK;
  sw_status status = make_spots (verifier, &spots);
  if (status == SW_OK)
    {
      for (size_t row = 0; row < verifier->setout.rows; row++)
        check_row (verifier, &spots, row);
      check_listed (verifier, &spots);
      if (spots.turned > 0)
        sw_report_add (verifier->report, SW_NOTE, verifier->setout.file, 0, NULL,
                       "%zu %s the row of the far side of a step before that of the near side", spots.turned,
                       spots.turned == 1 ? "level has" : "levels have");
    }
  clear_spots (&spots);
  return status;
}
