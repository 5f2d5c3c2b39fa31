/* verify_setout.c - distances, marks, housings
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "memory.h"
#include "verify.h"

#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

/* What a post needs at a level. */
typedef struct sw_spot
{
  bool listed;
  size_t row; /* when listed */
  bool join;
} sw_spot;

typedef struct sw_spots
{
  size_t *first;       /* number of a run's first post */
  sw_length *distance; /* by post, from its run's first */
  sw_spot *spots;      /* by post, then level */
} sw_spots;

static sw_spot *
spot_of (const sw_verifier *verifier, const sw_spots *spots, size_t run, size_t post, size_t level)
{
  return &spots->spots[(spots->first[run] + post) * verifier->job->levels.count + level];
}

static void
clear_spots (sw_spots *spots)
{
  free (spots->first);
  free (spots->distance);
  free (spots->spots);
}

static sw_status
make_spots (const sw_verifier *verifier, sw_spots *spots)
{
  const sw_job *job = verifier->job;
  size_t posts = 0;
  spots->first = sw_alloc (job->fence.run_count, sizeof *spots->first);
  for (size_t r = 0; r < job->fence.run_count && spots->first != NULL; r++)
    {
      spots->first[r] = posts;
      posts += job->fence.runs[r].bay_count + 1;
    }
  if (job->levels.count > 0 && posts > SIZE_MAX / job->levels.count)
    return SW_NO_MEMORY;
  spots->distance = sw_alloc (posts, sizeof *spots->distance);
  spots->spots = sw_alloc (posts * job->levels.count, sizeof *spots->spots);
  if (spots->first == NULL || spots->distance == NULL || spots->spots == NULL)
    return SW_NO_MEMORY;
  for (size_t r = 0; r < job->fence.run_count; r++)
    for (size_t b = 0; b < job->fence.runs[r].bay_count; b++)
      spots->distance[spots->first[r] + b + 1] = spots->distance[spots->first[r] + b] + job->fence.runs[r].bays[b].span;
  for (size_t i = 0; i < verifier->placed_count; i++)
    {
      const sw_place *place = verifier->placed[i];
      const sw_run *run = &job->fence.runs[place->run];
      if (job->levels.items[place->level].through && place->from > 0 && !sw_verify_breaks (run, place->from))
        spot_of (verifier, spots, place->run, place->from, place->level)->join = true;
    }
  return SW_OK;
}

/* Timber that ends so at a post of WIDTH: is it let into the post, is the
 * housing stopped, and how deep is it (0: not known)? */
static bool
is_let_in (const sw_end *end, sw_length width, sw_length thickness, bool *stopped, sw_length *depth)
{
  *stopped = end->kind == SW_END_HOUSED;
  *depth = *stopped ? end->length : thickness;
  /* Timber that ends on the near face does not touch the post's outer face. */
  return end->kind != SW_END_FACE && (end->kind != SW_END_REACH || end->length > -(width / 2));
}

/* Housing and depth where two ends meet on one post: a stopped housing goes
 * before one right across, the deeper before the shallower. */
static const char *
find_housing (const sw_job *job, const sw_run *run, size_t post, const sw_level *level, sw_length *depth)
{
  const sw_end *ends[2]
      = { post > 0 ? &run->bays[post - 1].finish : NULL, post < run->bay_count ? &run->bays[post].start : NULL };
  const sw_bay *bays[2] = { post > 0 ? &run->bays[post - 1] : NULL, post < run->bay_count ? &run->bays[post] : NULL };
  const char *housing = "";
  bool is_stopped = false;
  *depth = 0;
  for (int side = 0; side < 2 && level->through; side++)
    {
      bool stopped;
      sw_length deep;
      if (ends[side] == NULL || bays[side]->opening
          || !is_let_in (ends[side], run->posts[post].width, job->sections.items[level->section].thickness, &stopped,
                         &deep))
        continue;
      if (*housing == '\0' || stopped > is_stopped || (stopped == is_stopped && deep > *depth))
        {
          housing = stopped ? "stopped" : "through";
          *depth = deep;
          is_stopped = stopped;
        }
    }
  return housing;
}

/* Fault unless FIELD is WANTED, or blank where there is nothing to say. */
static void
check_length (sw_verifier *verifier, size_t row, int field, bool said, sw_length wanted)
{
  if (said)
    sw_verify_length (verifier, &verifier->setout, row, field, wanted);
  else
    sw_verify_text (verifier, &verifier->setout, row, field, "");
}

static void
check_spot (sw_verifier *verifier, const sw_spots *spots, size_t row, size_t run_index, size_t post, size_t level_index)
{
  const sw_job *job = verifier->job;
  const sw_listing *setout = &verifier->setout;
  const sw_run *run = &job->fence.runs[run_index];
  const sw_level *level = &job->levels.items[level_index];
  const sw_section *section = &job->sections.items[level->section];
  bool timber = (post > 0 && !run->bays[post - 1].opening) || (post < run->bay_count && !run->bays[post].opening);
  sw_length depth;
  const char *housing = find_housing (job, run, post, level, &depth);
  sw_verify_length (verifier, setout, row, SW_SETOUT_DISTANCE, spots->distance[spots->first[run_index] + post]);
  sw_verify_length (verifier, setout, row, SW_SETOUT_WIDTH, run->posts[post].width);
  check_length (verifier, row, SW_SETOUT_MARK, timber && level->has_height, level->height);
  check_length (verifier, row, SW_SETOUT_TOP, timber && level->has_height && section->width > 0,
                level->height + section->width);
  sw_verify_word (verifier, setout, row, SW_SETOUT_HOUSING, housing);
  check_length (verifier, row, SW_SETOUT_DEPTH, depth > 0, depth);
  sw_verify_word (verifier, setout, row, SW_SETOUT_JOIN,
                  spot_of (verifier, spots, run_index, post, level_index)->join ? "join" : "");
}

static void
check_row (sw_verifier *verifier, const sw_spots *spots, size_t row)
{
  const sw_listing *setout = &verifier->setout;
  size_t run = sw_verify_run (verifier, setout, row, SW_SETOUT_RUN);
  size_t level = sw_verify_level (verifier, setout, row, SW_SETOUT_LEVEL);
  if (run == SW_UNKNOWN || level == SW_UNKNOWN)
    return;
  size_t post = sw_verify_post (verifier, setout, row, SW_SETOUT_POST, run);
  if (post == SW_UNKNOWN)
    return;
  sw_spot *spot = spot_of (verifier, spots, run, post, level);
  if (spot->listed)
    {
      SW_VERIFY_FAULT (verifier, setout, row, SW_SETOUT_POST, "is \"%zu\": run %s, level %s has it on line %zu already",
                       post + 1, verifier->job->fence.runs[run].name, verifier->job->levels.items[level].name,
                       sw_listing_line (setout, spot->row));
      return;
    }
  spot->listed = true;
  spot->row = row;
  check_spot (verifier, spots, row, run, post, level);
}

static void
check_listed (sw_verifier *verifier, const sw_spots *spots)
{
  const sw_job *job = verifier->job;
  for (size_t r = 0; r < job->fence.run_count; r++)
    for (size_t post = 0; post <= job->fence.runs[r].bay_count; post++)
      for (size_t l = 0; l < job->levels.count; l++)
        if (!spot_of (verifier, spots, r, post, l)->listed)
          SW_VERIFY_FAULT (verifier, &verifier->setout, SW_UNKNOWN, -1, "run %s, post %zu, level %s: no row",
                           job->fence.runs[r].name, post + 1, job->levels.items[l].name);
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
    }
  clear_spots (&spots);
  return status;
}
