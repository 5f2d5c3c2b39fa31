/* fence.c - the geometry of runs, and how their timber ends
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "job/fence.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

__extension__ typedef __int128 wide;

#define STRAIGHT_ANGLE 180000 /* thousandths of a degree */

sw_length
sw_end_reach (const sw_end *end, sw_length post_width)
{
  switch (end->kind)
    {
    case SW_END_FLUSH:
      return post_width / 2;
    case SW_END_FACE:
      return -(post_width / 2);
    case SW_END_HOUSED:
      return -(post_width / 2) + end->length;
    case SW_END_REACH:
      return end->length;
    case SW_END_ON:
    case SW_END_CENTRE:
    case SW_END_MITRE:
      break;
    }
  return 0;
}

int32_t
sw_end_saw_setting (const sw_end *end)
{
  if (end->kind != SW_END_MITRE)
    return 0;
  int32_t off = STRAIGHT_ANGLE - end->angle;
  return ((off < 0 ? -off : off) + 1) / 2;
}

const char *
sw_end_name (sw_end_kind kind)
{
  switch (kind)
    {
    case SW_END_FLUSH:
      return "flush";
    case SW_END_CENTRE:
      return "centre";
    case SW_END_FACE:
      return "face";
    case SW_END_HOUSED:
      return "housed";
    case SW_END_MITRE:
      return "mitre";
    case SW_END_REACH:
      return "reach";
    case SW_END_ON:
      break;
    }
  return "join";
}

sw_length
sw_span_of_clear (sw_length clear, sw_length near, sw_length far)
{
  return clear + (near + far + 1) / 2;
}

sw_length
sw_tape_error (sw_length reading)
{
  sw_length metres = (reading + SW_METRE - 1) / SW_METRE;
  return 3 * (SW_MM / 10) + 2 * (SW_MM / 10) * metres;
}

sw_length
sw_run_distance (const sw_run *run, size_t post)
{
  sw_length distance = 0;
  for (size_t bay = 0; bay < post; bay++)
    distance += run->bays[bay].span;
  return distance;
}

sw_length
sw_run_height (const sw_run *run, size_t post)
{
  sw_length height = 0;
  for (size_t bay = 0; bay < post; bay++)
    height += run->bays[bay].rise;
  return height;
}

sw_length
sw_run_step (const sw_run *run, size_t post)
{
  sw_length height = 0;
  for (size_t bay = 0; bay < post && bay < run->bay_count; bay++)
    height += run->bays[bay].step;
  return height;
}

sw_length
sw_bay_on_slope (const sw_bay *bay, sw_length level)
{
  return sw_length_on_slope (level, bay->span, bay->rise);
}

bool
sw_run_is_straight (const sw_run *run, size_t from, size_t to, sw_length bow)
{
  sw_length whole = 0;
  sw_length climb = 0;
  for (size_t bay = from; bay < to; bay++)
    {
      whole += run->bays[bay].span;
      climb += run->bays[bay].rise;
    }
  sw_length along = 0;
  sw_length height = 0;
  for (size_t bay = from; bay + 1 < to; bay++)
    {
      along += run->bays[bay].span;
      height += run->bays[bay].rise;
      /* |height - climb * along / whole| <= bow, without dividing. */
      wide off = (wide)height * whole - (wide)climb * along;
      if ((off < 0 ? -off : off) > (wide)bow * whole)
        return false;
    }
  return true;
}

bool
sw_fence_undivided (const sw_fence *fence, size_t *run, size_t *bay)
{
  for (*run = 0; *run < fence->run_count; ++*run)
    for (*bay = 0; *bay < fence->runs[*run].bay_count; ++*bay)
      if (fence->runs[*run].bays[*bay].divide != SW_DIVIDE_NOT)
        return true;
  return false;
}

const char *
sw_divide_name (sw_divide divide)
{
  static const char *const names[] = { "", "equal", "ends", "odd", "best" };
  return names[divide];
}

/* ---- Ends ---- */

/* One side of a post has an end or an opening: give the other side the end KIND, unless another end
 * is written there. */
static void
settle (sw_end *end, sw_end_kind kind)
{
  if (!end->written)
    *end = (sw_end){ .kind = kind };
}

static void
resolve_inner_post (sw_bay *left, sw_bay *right)
{
  if (left->opening || right->opening)
    {
      settle (&left->finish, SW_END_FACE);
      settle (&right->start, SW_END_FACE);
    }
  else if (left->finish.written || right->start.written || left->step != 0)
    {
      settle (&left->finish, SW_END_CENTRE);
      settle (&right->start, SW_END_CENTRE);
    }
}

void
sw_run_resolve_ends (sw_run *run)
{
  sw_bay *first = &run->bays[0];
  sw_bay *last = &run->bays[run->bay_count - 1];
  settle (&first->start, first->opening ? SW_END_FACE : SW_END_FLUSH);
  settle (&last->finish, last->opening ? SW_END_FACE : SW_END_FLUSH);
  for (size_t bay = 1; bay < run->bay_count; bay++)
    resolve_inner_post (&run->bays[bay - 1], &run->bays[bay]);
}

static bool
is_space (char c)
{
  return c == ' ' || c == '\t';
}

/* Read an internal angle in thousandths of a degree, over 0 and under 360000.  180 degrees is
 * refused, because it is no corner. */
static bool
parse_angle (const char *text, bool comma, sw_end *out, char expected[SW_PHRASE])
{
  static const char sign[] = "\302\260";
  char figure[32];
  size_t length = strlen (text);
  size_t sign_length = sizeof sign - 1;
  if (length >= sign_length && strcmp (text + length - sign_length, sign) == 0)
    length -= sign_length;
  int64_t angle = 0;
  if (length < sizeof figure)
    {
      memcpy (figure, text, length);
      figure[length] = '\0';
      if (sw_value_decimal (figure, comma, 3, 0, 360, &angle, expected) && angle > 0
          && angle != STRAIGHT_ANGLE && angle < 2 * STRAIGHT_ANGLE)
        {
          out->angle = (int32_t)angle;
          return true;
        }
    }
  snprintf (expected, SW_PHRASE, "an internal angle over 0 and under 360 degrees, not 180, with at most 3 decimals after \"mitre\"");
  return false;
}

static const struct
{
  const char *word;
  sw_end_kind kind;
} end_words[] = {
  { "flush", SW_END_FLUSH },   { "centre", SW_END_CENTRE }, { "center", SW_END_CENTRE }, { "face", SW_END_FACE },
  { "housed", SW_END_HOUSED }, { "mitre", SW_END_MITRE },   { "miter", SW_END_MITRE },   { "reach", SW_END_REACH },
};

/* The kind of end that the first word of TEXT names.  *REST is what follows that word. */
static sw_end_kind
parse_kind (const char *text, const char **rest)
{
  char word[8];
  size_t length = 0;
  while (text[length] != '\0' && !is_space (text[length]) && length < sizeof word - 1)
    {
      word[length] = text[length];
      length++;
    }
  word[length] = '\0';
  *rest = text + length;
  if (**rest != '\0' && !is_space (**rest))
    return SW_END_ON;
  while (is_space (**rest))
    ++*rest;
  for (size_t i = 0; i < sizeof end_words / sizeof end_words[0]; i++)
    if (sw_same_word (word, end_words[i].word))
      return end_words[i].kind;
  return SW_END_ON;
}

bool
sw_end_parse (const char *text, bool comma, sw_length post_width, sw_end *out, char expected[SW_PHRASE])
{
  const char *rest;
  sw_end end = { .kind = parse_kind (text, &rest), .written = true };
  bool good = false;
  snprintf (expected, SW_PHRASE, "flush, centre, face, housed, housed DEPTH, mitre, mitre ANGLE or reach LENGTH");
  switch (end.kind)
    {
    case SW_END_ON:
      break;
    case SW_END_FLUSH:
    case SW_END_CENTRE:
    case SW_END_FACE:
      good = *rest == '\0';
      break;
    case SW_END_HOUSED:
      /* A housing is best no deeper than a third of the post.  Whole millimetres can be marked. */
      end.length = post_width / 3 / SW_MM * SW_MM;
      good = *rest == '\0'
             || sw_value_length (rest, SW_BARE_MM, comma, SW_LENGTH_OVER_0, 2 * SW_METRE, &end.length, expected);
      break;
    case SW_END_MITRE:
      end.angle = STRAIGHT_ANGLE / 2;
      good = *rest == '\0' || parse_angle (rest, comma, &end, expected);
      break;
    case SW_END_REACH:
      good = sw_value_length (rest, SW_BARE_MM, comma, -SW_LENGTH_MAX, SW_LENGTH_MAX, &end.length, expected);
      break;
    }
  if (good)
    *out = end;
  return good;
}

void
sw_fence_clear (sw_fence *fence)
{
  for (size_t r = 0; r < fence->run_count; r++)
    {
      sw_run *run = &fence->runs[r];
      for (size_t bay = 0; bay < run->bay_count; bay++)
        free (run->bays[bay].label);
      free (run->bays);
      free (run->posts);
      free (run->name);
    }
  free (fence->runs);
  memset (fence, 0, sizeof *fence);
}

bool
sw_run_breaks (const sw_run *run, size_t post)
{
  return run->bays[post - 1].opening || run->bays[post].opening || run->bays[post - 1].finish.kind != SW_END_ON
         || run->bays[post].start.kind != SW_END_ON;
}
