/* verify_places.c - checks that every bay of every level has one piece, and each piece by itself
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "base/memory.h"
#include "verify/verify.h"

#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

__extension__ typedef __int128 wide;

bool
sw_verify_breaks (const sw_run *run, size_t post)
{
  return run->bays[post - 1].finish.kind != SW_END_ON || run->bays[post].start.kind != SW_END_ON;
}

/* Report an inner POST of a piece that the piece may not pass. */
static void
check_passed (sw_verifier *verifier, const sw_place *place, const sw_run *run, size_t post)
{
  const size_t row = place->row;
  const sw_listing *fit = &verifier->fit;
  if (run->bays[post - 1].step != 0)
    SW_VERIFY_FAULT (verifier, fit, row, SW_FIT_TO, "runs past post %zu of run %s, where the fence steps", post + 1,
                     run->name);
  else if (sw_verify_breaks (run, post))
    SW_VERIFY_FAULT (verifier, fit, row, SW_FIT_TO, "runs past post %zu of run %s, where timber ends (%s, %s)",
                     post + 1, run->name, sw_end_name (run->bays[post - 1].finish.kind),
                     sw_end_name (run->bays[post].start.kind));
  else if (run->posts[post].join == SW_JOIN_ALWAYS && place->fixed == NULL)
    SW_VERIFY_FAULT (verifier, fit, row, SW_FIT_TO, "runs past post %zu of run %s, where there is always a join",
                     post + 1, run->name);
}

/* Check how far the posts that a piece passes are off its straight line, in exact integers. */
static void
check_straight (sw_verifier *verifier, const sw_place *place, const sw_run *run)
{
  sw_length bow = verifier->job->settings->bow;
  sw_length length = 0;
  sw_length rise = 0;
  for (size_t b = place->from; b < place->to; b++)
    {
      length += run->bays[b].span;
      rise += run->bays[b].rise;
    }
  sw_length x = 0;
  sw_length y = 0;
  wide worst = (wide)bow * length;
  size_t post = SW_UNKNOWN;
  for (size_t b = place->from; b + 1 < place->to; b++)
    {
      x += run->bays[b].span;
      y += run->bays[b].rise;
      wide off = (wide)y * length - (wide)rise * x;
      off = off < 0 ? -off : off;
      if (off > worst)
        {
          worst = off;
          post = b + 1;
        }
    }
  char is[SW_SHOWN];
  char allowed[SW_SHOWN];
  if (post != SW_UNKNOWN)
    {
      sw_show_lengths ((sw_length)(worst / length), bow, verifier->job->settings->inches, is, allowed);
      SW_VERIFY_FAULT (verifier, &verifier->fit, place->row, SW_FIT_TO,
                       "is not straight: post %zu of run %s is %s off its line, should be within %s", post + 1,
                       run->name, is, allowed);
    }
}

/* Check one end of a through piece: it is a join where a join may be, or the timber's own end. */
static void
check_through_end (sw_verifier *verifier, const sw_place *place, const sw_run *run, bool is_start)
{
  const sw_level *level = &verifier->job->levels.items[place->level];
  size_t post = is_start ? place->from : place->to;
  const sw_end *end = is_start ? &run->bays[post].start : &run->bays[post - 1].finish;
  bool inner = post > 0 && post < run->bay_count && !sw_verify_breaks (run, post);
  int join = is_start ? SW_FIT_START_JOIN : SW_FIT_FINISH_JOIN;
  /* Beside what is fixed there is a join whatever the rule. */
  const bool stays = sw_verify_stays_joined (verifier, place->run, place->level, post);
  if (inner && run->posts[post].join == SW_JOIN_NEVER && !stays)
    SW_VERIFY_FAULT (verifier, &verifier->fit, place->row, is_start ? SW_FIT_FROM : SW_FIT_TO,
                     "%s on post %zu of run %s, where there is never a join", is_start ? "begins" : "finishes",
                     post + 1, run->name);
  sw_verify_word (verifier, &verifier->fit, place->row, join,
                  inner ? "join" : sw_end_name (sw_verify_end (level, end)));
}

/* Set how steep PLACE lies and what it takes of its board.  FINISH is NULL where it cannot be a mitre. */
static void
lay_on_slope (const sw_verifier *verifier, sw_place *place, const sw_run *run, const sw_end *finish)
{
  const sw_level *level = &verifier->job->levels.items[place->level];
  sw_length span = 0;
  sw_length rise = 0;
  for (size_t b = place->from; b < place->to; b++)
    {
      span += run->bays[b].span;
      rise += run->bays[b].rise;
    }
  place->sawn.plumb = sw_verify_plumb (span, rise);
  place->sawn.take = sw_verify_take (verifier->job, level, place->sawn.cut, span, rise, finish);
}

static void
check_through (sw_verifier *verifier, sw_place *place, const sw_run *run)
{
  for (size_t post = place->from + 1; post < place->to; post++)
    check_passed (verifier, place, run, post);
  if (place->fixed == NULL)
    check_straight (verifier, place, run);
  check_through_end (verifier, place, run, true);
  check_through_end (verifier, place, run, false);
  const sw_end *start = &run->bays[place->from].start;
  const sw_end *finish = &run->bays[place->to - 1].finish;
  const sw_level *level = &verifier->job->levels.items[place->level];
  const sw_length *along = &verifier->along[verifier->first_post[place->run]];
  place->sawn = (sw_sawn){ .cut = sw_verify_through (verifier->job, level, run, along, place->from, place->to),
                           .start_saw = sw_verify_saw_setting (start),
                           .finish_saw = sw_verify_saw_setting (finish),
                           .long_point = sw_verify_long_point (start, finish) };
  lay_on_slope (verifier, place, run, finish);
}

static void
check_between (sw_verifier *verifier, sw_place *place, const sw_run *run, const sw_level *level)
{
  const sw_listing *fit = &verifier->fit;
  if (place->to != place->from + 1)
    {
      SW_VERIFY_FAULT (verifier, fit, place->row, SW_FIT_TO, "goes from post %zu to %zu: level %s is a piece a bay",
                       place->from + 1, place->to + 1, level->name);
      return;
    }
  sw_verify_word (verifier, fit, place->row, SW_FIT_START_JOIN, "post");
  sw_verify_word (verifier, fit, place->row, SW_FIT_FINISH_JOIN, "post");
  place->sawn = (sw_sawn){ .cut = sw_verify_between (verifier->job, level, run, place->from), .long_point = "" };
  lay_on_slope (verifier, place, run, NULL);
}

/* Find the place of the job that ROW describes.  PLACE->known says whether there is such a place. */
static void
find_place (sw_verifier *verifier, size_t row, sw_place *place)
{
  const sw_listing *fit = &verifier->fit;
  place->row = row;
  place->cut_row = SW_UNKNOWN;
  sw_verify_read_sawn (verifier, fit, row, &place->sawn);
  place->run = sw_verify_run (verifier, fit, row, SW_FIT_RUN);
  place->level = sw_verify_level (verifier, fit, row, SW_FIT_LEVEL);
  if (place->run == SW_UNKNOWN || place->level == SW_UNKNOWN)
    return;
  if (!sw_verify_is_on (verifier, fit, row, SW_FIT_LEVEL, place->run, place->level))
    return;
  place->from = sw_verify_post (verifier, fit, row, SW_FIT_FROM, place->run);
  place->to = sw_verify_post (verifier, fit, row, SW_FIT_TO, place->run);
  if (place->from == SW_UNKNOWN || place->to == SW_UNKNOWN)
    return;
  place->known = place->from < place->to;
  if (!place->known)
    SW_VERIFY_FAULT (verifier, fit, row, SW_FIT_TO, "is \"%zu\", should be a post after %zu, where the piece begins",
                     place->to + 1, place->from + 1);
}

/* What is fixed comes from no board, all else from one. */
static void
check_board (sw_verifier *verifier, const sw_place *place)
{
  const sw_listing *fit = &verifier->fit;
  const bool blank = sw_listing_number (fit, place->row, SW_FIT_BOARD) == SW_BLANK;
  if (blank && place->fixed == NULL)
    SW_VERIFY_FAULT (verifier, fit, place->row, SW_FIT_BOARD, "the cell is blank");
  else if (!blank && place->fixed != NULL)
    SW_VERIFY_FAULT (verifier, fit, place->row, SW_FIT_BOARD, "is \"%s\", should be blank: this piece is fixed",
                     sw_listing_text (fit, place->row, SW_FIT_BOARD));
}

static void
check_place (sw_verifier *verifier, sw_place *place)
{
  const sw_job *job = verifier->job;
  const sw_listing *fit = &verifier->fit;
  const sw_run *run = &job->fence.runs[place->run];
  const sw_level *level = &job->levels.items[place->level];
  int64_t bays = sw_listing_number (fit, place->row, SW_FIT_BAYS);
  place->fixed = sw_verify_fixed (verifier, place->run, place->level, place->from, place->to);
  check_board (verifier, place);
  if (bays < 0 || (uint64_t)bays != place->to - place->from)
    SW_VERIFY_FAULT (verifier, fit, place->row, SW_FIT_BAYS, "is \"%s\", should be %zu",
                     sw_listing_text (fit, place->row, SW_FIT_BAYS), place->to - place->from);
  sw_verify_text (verifier, fit, place->row, SW_FIT_SECTION, job->sections.items[level->section].name);
  for (size_t b = place->from; b < place->to; b++)
    if (run->bays[b].opening)
      {
        SW_VERIFY_FAULT (verifier, fit, place->row, SW_FIT_TO,
                         "crosses bay %s of run %s (posts %zu to %zu), an opening", run->bays[b].label, run->name,
                         b + 1, b + 2);
        return;
      }
  if (level->through)
    check_through (verifier, place, run);
  else
    check_between (verifier, place, run, level);
  if (place->fixed != NULL)
    place->sawn.cut = place->sawn.take = place->fixed->cut;
  else
    sw_verify_max_piece (verifier, fit, place->row, SW_FIT_CUT, place->sawn.cut);
  sw_verify_sawn (verifier, fit, place->row, &place->sawn);
}

static int
compare_places (const void *a, const void *b)
{
  const sw_place *x = *(sw_place *const *)a;
  const sw_place *y = *(sw_place *const *)b;
  if (x->run != y->run)
    return x->run < y->run ? -1 : 1;
  if (x->level != y->level)
    return x->level < y->level ? -1 : 1;
  if (x->from != y->from)
    return x->from < y->from ? -1 : 1;
  if (x->to != y->to)
    return x->to < y->to ? -1 : 1;
  return (x->row > y->row) - (x->row < y->row);
}

/* Report the bays where LEVEL of RUN has no timber, between posts FROM and TO. */
static void
check_gap (sw_verifier *verifier, const sw_run *run, const sw_level *level, size_t from, size_t to)
{
  for (size_t b = from; b < to; b++)
    {
      if (run->bays[b].opening)
        continue;
      size_t end = b + 1;
      while (end < to && !run->bays[end].opening)
        end++;
      SW_VERIFY_FAULT (verifier, &verifier->fit, SW_UNKNOWN, -1,
                       "run %s, level %s: no piece from post %zu to %zu (from bay %s)", run->name, level->name, b + 1,
                       end + 1, run->bays[b].label);
      b = end - 1;
    }
}

/* Check that the COUNT sorted places of one level of one run cover every bay once. */
static void
check_cover (sw_verifier *verifier, size_t run_index, size_t level_index, sw_place *const *places, size_t count)
{
  const sw_run *run = &verifier->job->fence.runs[run_index];
  const sw_level *level = &verifier->job->levels.items[level_index];
  size_t covered = 0;
  size_t by = 0;
  for (size_t i = 0; i < count; i++)
    {
      const sw_place *place = places[i];
      if (place->from < covered)
        SW_VERIFY_FAULT (verifier, &verifier->fit, place->row, SW_FIT_FROM,
                         "is \"%zu\": run %s, level %s has a piece there already, up to post %zu (line %zu)",
                         place->from + 1, run->name, level->name, covered + 1,
                         sw_listing_line (&verifier->fit, places[by]->row));
      else
        check_gap (verifier, run, level, covered, place->from);
      if (place->to > covered)
        {
          covered = place->to;
          by = i;
        }
    }
  check_gap (verifier, run, level, covered, run->bay_count);
}

/* The number of bays at which pieces are looked at.  Pieces that do not overlap pass fewer bays; a
 * file of overlapping pieces without end gets its faults for the overlaps alone. */
static size_t
most_bays (const sw_job *job)
{
  size_t bays = 0;
  for (size_t r = 0; r < job->fence.run_count; r++)
    bays += job->fence.runs[r].bay_count;
  return bays * job->levels.count * 2;
}

static void
check_pieces (sw_verifier *verifier)
{
  size_t left = most_bays (verifier->job);
  for (size_t row = 0; row < verifier->fit.rows; row++)
    {
      sw_place *place = &verifier->places[row];
      if (!place->known || place->to - place->from > left)
        continue;
      left -= place->to - place->from;
      check_place (verifier, place);
    }
}

/* Check every level of every run that has it. */
static void
check_levels (sw_verifier *verifier)
{
  const sw_job *job = verifier->job;
  size_t begin = 0;
  for (size_t r = 0; r < job->fence.run_count; r++)
    for (size_t l = 0; l < job->levels.count; l++)
      {
        size_t end = begin;
        while (end < verifier->placed_count && verifier->placed[end]->run == r && verifier->placed[end]->level == l)
          end++;
        if (sw_level_is_on (&job->levels.items[l], r))
          check_cover (verifier, r, l, verifier->placed + begin, end - begin);
        begin = end;
      }
}

/* Measure how far along its run each post stands. */
static sw_status
measure (sw_verifier *verifier)
{
  const sw_fence *fence = &verifier->job->fence;
  size_t posts = 0;
  verifier->first_post = sw_alloc (fence->run_count, sizeof *verifier->first_post);
  for (size_t r = 0; r < fence->run_count && verifier->first_post != NULL; r++)
    {
      verifier->first_post[r] = posts;
      posts += fence->runs[r].bay_count + 1;
    }
  verifier->along = sw_alloc (posts, sizeof *verifier->along);
  if (verifier->first_post == NULL || verifier->along == NULL)
    return SW_NO_MEMORY;
  for (size_t r = 0; r < fence->run_count; r++)
    sw_verify_measure (&fence->runs[r], &verifier->along[verifier->first_post[r]]);
  return SW_OK;
}

sw_status
sw_verify_places (sw_verifier *verifier)
{
  size_t rows = verifier->fit.rows;
  sw_status status = measure (verifier);
  if (status != SW_OK)
    return status;
  verifier->places = sw_alloc (rows, sizeof *verifier->places);
  verifier->placed = sw_alloc (rows, sizeof *verifier->placed);
  if (verifier->places == NULL || verifier->placed == NULL)
    return SW_NO_MEMORY;
  for (size_t row = 0; row < rows; row++)
    {
      find_place (verifier, row, &verifier->places[row]);
      if (verifier->places[row].known)
        verifier->placed[verifier->placed_count++] = &verifier->places[row];
    }
  if (verifier->placed_count > 0)
    qsort (verifier->placed, verifier->placed_count, sizeof *verifier->placed, compare_places);
  check_levels (verifier);
  sw_verify_all_fixed (verifier);
  check_pieces (verifier);
  return SW_OK;
}
