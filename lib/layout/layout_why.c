/* layout_why.c - says why a job cannot be laid out, and what would help
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "layout/layout_why.h"

#include "base/memory.h"
#include "base/text.h"
#include "csv/value.h"

#include <stdlib.h>

__extension__ typedef __int128 wide;

/* Yards sell lengths in steps of 0.3 m or, if they count in feet, of 2 ft.  Hardly any yard sells
 * solid timber longer than 12 m (40 ft).  Common practice, no source. */
#define STEP_METRIC (300 * SW_MM)
#define STEP_INCHES (24 * SW_INCH)
#define LONGEST_SOLD_METRIC (12 * SW_METRE)
#define LONGEST_SOLD_INCHES (480 * SW_INCH)

/* ---- Lengths as text ---- */

static void
add_length (sw_text *text, const sw_job *job, sw_length length)
{
  char shown[SW_SHOWN];
  sw_show_length (length, job->settings->inches, shown);
  sw_text_add (text, shown);
}

/* Show a length that is too long.  It is rounded up, so that it never looks like one that fits. */
static void
add_length_up (sw_text *text, const sw_job *job, sw_length length)
{
  sw_length step = job->settings->inches ? SW_INCH / 16 : SW_MM / 10;
  sw_length over = length % step;
  if (over > 0 && length <= SW_LENGTH_MAX)
    length += step - over;
  add_length (text, job, length);
}

/* Show a length as yards name it: 5.4 m, 16 ft. */
static void
add_stock_length (sw_text *text, const sw_job *job, sw_length length)
{
  char number[SW_LENGTH_TEXT];
  if (job->settings->inches && length % (12 * SW_INCH) == 0)
    sw_text_printf (text, "%lld ft", (long long)(length / (12 * SW_INCH)));
  else if (job->settings->inches)
    add_length (text, job, length);
  else
    {
      sw_length_format_m (length, true, number);
      sw_text_printf (text, "%s m", number);
    }
}

/* ---- What can be had, and what would do ---- */

/* The shortest length that would do for a piece that takes TAKE: a listed length that cannot be had
 * now, or else the next length in the steps of yards.  0: nobody sells such a length. */
static sw_length
length_to_get (const sw_job *job, size_t section, sw_length take)
{
  bool inches = job->settings->inches;
  sw_length sold = inches ? LONGEST_SOLD_INCHES : LONGEST_SOLD_METRIC;
  sw_length step = inches ? STEP_INCHES : STEP_METRIC;
  if (take > SW_LENGTH_MAX)
    return 0;
  sw_length need = take + 2 * sw_job_trim (job, section);
  sw_length best = 0;
  for (size_t k = 0; k < job->stocks.count; k++)
    {
      const sw_stock *stock = &job->stocks.items[k];
      if (stock->section == section && !sw_stock_can_be_had (stock) && stock->length >= need
          && (best == 0 || stock->length < best))
        best = stock->length;
    }
  sw_length stepped = (need + step - 1) / step * step;
  if (best == 0 && stepped <= sold)
    best = stepped;
  return best;
}

/* Show a length that is a limit.  Where rounding would make it look longer, and perhaps as long as
 * the piece that is too long, it is shown with all its decimals. */
static void
add_limit_length (sw_text *text, const sw_job *job, sw_length length)
{
  char shown[SW_SHOWN];
  char next[SW_SHOWN];
  const bool inches = job->settings->inches;
  const sw_length step = inches ? SW_INCH / 16 : SW_MM / 10;
  const sw_length rest = length % step;
  /* The length must look different from the next step up. */
  if (rest > 0 && 2 * rest >= step)
    sw_show_lengths (length, length - rest + step, inches, shown, next);
  else
    sw_show_length (length, inches, shown);
  sw_text_add (text, shown);
}

/* Add what the limit is: "; the longest rail that can be had is 5.4 m (5350 mm without its end
 * trim)", or --max-piece.  *STOCK_HELPS: a longer stock length would do. */
static void
add_limit (sw_text *text, const sw_job *job, size_t section, sw_length cut, sw_length take, bool *stock_helps)
{
  const sw_settings *settings = job->settings;
  sw_length longest = sw_stocks_longest (&job->stocks, section);
  const sw_length trim = sw_job_trim (job, section);
  bool too_heavy = settings->max_piece > 0 && cut > settings->max_piece;
  bool too_long = take > longest - 2 * trim;
  *stock_helps = !too_heavy;
  if (too_long && take > cut)
    {
      sw_text_add (text, " and with its angled ends takes ");
      add_length_up (text, job, take);
      sw_text_add (text, " of a board");
    }
  if (too_long)
    {
      sw_text_printf (text, "; the longest %s that can be had is ", job->sections.items[section].name);
      add_stock_length (text, job, longest);
      if (trim > 0)
        {
          sw_text_add (text, " (");
          add_limit_length (text, job, longest - 2 * trim);
          sw_text_add (text, " without its end trim)");
        }
    }
  if (too_heavy)
    {
      sw_text_add (text, too_long ? " and --max-piece is " : "; --max-piece is ");
      add_limit_length (text, job, settings->max_piece);
    }
}

/* Add ": set a post, or get 6.0 m". */
static void
add_advice (sw_text *text, const sw_job *job, size_t section, sw_length take, const char *first, bool stock_helps)
{
  sw_length get = stock_helps ? length_to_get (job, section, take) : 0;
  if (first == NULL && get == 0 && stock_helps)
    return;
  sw_text_add (text, ": ");
  if (first != NULL)
    sw_text_add (text, first);
  if (first != NULL && (get > 0 || !stock_helps))
    sw_text_add (text, ", or ");
  if (get > 0)
    {
      sw_text_add (text, "get ");
      add_stock_length (text, job, get);
    }
  else if (!stock_helps)
    sw_text_add (text, "allow longer pieces");
}

/* ---- Places as text ---- */

/* Add "run road, levels rail 1 and rail 2": the run and its through levels of SECTION. */
static void
add_place (sw_text *text, const sw_job *job, size_t run, size_t section)
{
  size_t count = 0;
  size_t named = 0;
  for (size_t l = 0; l < job->levels.count; l++)
    if (job->levels.items[l].through && job->levels.items[l].section == section
        && sw_level_is_on (&job->levels.items[l], run))
      count++;
  sw_text_printf (text, "run %s, level%s ", job->fence.runs[run].name, count > 1 ? "s" : "");
  for (size_t l = 0; l < job->levels.count && named < 3; l++)
    {
      const sw_level *level = &job->levels.items[l];
      if (!level->through || level->section != section || !sw_level_is_on (level, run))
        continue;
      if (named > 0)
        sw_text_add (text, named + 1 == count ? " and " : ", ");
      sw_text_add (text, level->name);
      named++;
    }
  if (count > named)
    sw_text_printf (text, " and %zu more", count - named);
}

/* Add "bay 3 (posts 3 to 4)" or "bays 3 to 5 (posts 3 to 6)". */
static void
add_bays (sw_text *text, const sw_run *run, size_t from, size_t to)
{
  if (to == from + 1)
    sw_text_printf (text, "bay %s", run->bays[from].label);
  else
    sw_text_printf (text, "bays %s %s %s", run->bays[from].label, to == from + 2 ? "and" : "to",
                    run->bays[to - 1].label);
  sw_text_printf (text, " (posts %zu to %zu)", from + 1, to + 1);
}

/* Add the posts between two posts: "post 4", "posts 4 and 5" or "posts 4 to 6". */
static void
add_inner_posts (sw_text *text, size_t from, size_t to)
{
  size_t first = from + 2;
  size_t last = to;
  if (first == last)
    sw_text_printf (text, "post %zu", first);
  else
    sw_text_printf (text, "posts %zu %s %zu", first, last == first + 1 ? "and" : "to", last);
}

static sw_status
hand_over (sw_text *text, sw_report *report, const char *file, size_t line, const char *column)
{
  char *message = sw_text_take (text);
  if (message == NULL)
    return SW_NO_MEMORY;
  sw_report_add (report, SW_FAULT, file, line, column, "%s", message);
  free (message);
  return sw_report_broken (report) ? SW_NO_MEMORY : SW_OK;
}

/* ---- Reasons ---- */

/* How far post P stands above (+) or below (-) the straight line from post FROM to post TO, to the
 * nearest nanometre. */
static sw_length
off_line (const sw_run *run, size_t from, size_t to, size_t p)
{
  sw_length distance = 0;
  sw_length height = 0;
  sw_length here = 0;
  sw_length here_height = 0;
  for (size_t b = from; b < to; b++)
    {
      distance += run->bays[b].span;
      height += run->bays[b].rise;
      if (b + 1 == p)
        {
          here = distance;
          here_height = height;
        }
    }
  wide twice = 2 * ((wide)here_height * distance - (wide)height * here);
  wide rounded = (twice + (twice >= 0 ? distance : -distance)) / (2 * (wide)distance); /* NOLINT: spans are over 0 */
  return (sw_length)rounded;
}

static sw_status
why_bend (const sw_job *job, const sw_stretch *stretch, size_t section, size_t from, size_t to, sw_report *report)
{
  const sw_run *run = &job->fence.runs[stretch->run];
  size_t worst = from + 1;
  sw_length off = 0;
  for (size_t p = from + 1; p < to; p++)
    {
      sw_length here = off_line (run, from, to, p);
      if ((here < 0 ? -here : here) > (off < 0 ? -off : off))
        {
          off = here;
          worst = p;
        }
    }
  sw_text text = { 0 };
  add_place (&text, job, stretch->run, section);
  sw_text_add (&text, ": ");
  add_bays (&text, run, from, to);
  sw_text_add (&text, " need one straight piece, for no join is allowed on ");
  add_inner_posts (&text, from, to);
  sw_text_printf (&text, "; but the slope changes, and post %zu stands ", worst + 1);
  add_length_up (&text, job, off < 0 ? -off : off);
  sw_text_printf (&text, " %s the straight line (--bow is ", off < 0 ? "below" : "above");
  add_limit_length (&text, job, job->settings->bow);
  sw_text_printf (&text, "): allow a join on post %zu", worst + 1);
  return hand_over (&text, report, job->files[SW_FILE_SPANS], run->bays[worst - 1].line, "join");
}

/* "with its end", "with its ends" or "": which ends change the length. */
static const char *
with_ends (const sw_job *job, const sw_level *level, const sw_stretch *stretch, size_t from, size_t to)
{
  const sw_run *run = &job->fence.runs[stretch->run];
  bool start = from == stretch->first
               && sw_seat_reach (job, level, &run->bays[from].start, run->posts[from].width) != 0;
  bool finish
      = to == stretch->last && sw_seat_reach (job, level, &run->bays[to - 1].finish, run->posts[to].width) != 0;
  return start && finish ? " with its ends" : start || finish ? " with its end" : "";
}

/* Can a piece of LEVEL from post FROM to post TO be made of what can be had? */
static bool
fits (const sw_job *job, const sw_level *level, const sw_stretch *stretch, size_t from, size_t to)
{
  const sw_length most = job->settings->max_piece;
  const sw_length cut = sw_layout_cut (job, level, stretch, from, to);
  return sw_layout_take (job, level, stretch, from, to, cut) <= sw_layout_longest (job, level->section)
         && (most == 0 || cut <= most);
}

sw_status
sw_layout_why_path (const sw_job *job, const sw_stretch *stretch, size_t level_index, size_t from, size_t to,
                    sw_report *report)
{
  const sw_run *run = &job->fence.runs[stretch->run];
  const sw_level *level = &job->levels.items[level_index];
  if (fits (job, level, stretch, from, to))
    return why_bend (job, stretch, level->section, from, to, report);

  /* Joins on the posts between would help, unless a single bay is too long. */
  size_t long_bay = from;
  while (long_bay < to && fits (job, level, stretch, long_bay, long_bay + 1))
    long_bay++;
  bool joins_help = long_bay == to;
  bool stock_helps;
  const sw_length cut = sw_layout_cut (job, level, stretch, from, to);
  const sw_length take = sw_layout_take (job, level, stretch, from, to, cut);
  sw_text text = { 0 };
  add_place (&text, job, stretch->run, level->section);
  sw_text_add (&text, ": ");
  add_bays (&text, run, from, to);
  sw_text_add (&text, to == from + 1 ? " needs a piece of " : " need one piece of ");
  add_length_up (&text, job, cut);
  sw_text_add (&text, with_ends (job, level, stretch, from, to));
  if (to > from + 1)
    {
      sw_text_add (&text, ", for no join is allowed on ");
      add_inner_posts (&text, from, to);
    }
  add_limit (&text, job, level->section, cut, take, &stock_helps);
  add_advice (&text, job, level->section, take, joins_help ? "allow a join there" : "set a post", stock_helps);
  return hand_over (&text, report, job->files[SW_FILE_SPANS], run->bays[joins_help ? from : long_bay].line,
                    joins_help ? "join" : "span");
}

sw_status
sw_layout_why_empty (const sw_job *job, const sw_stretch *stretch, size_t level_index, size_t bay, sw_report *report)
{
  const sw_run *run = &job->fence.runs[stretch->run];
  const sw_level *level = &job->levels.items[level_index];
  sw_length start = 0;
  sw_length finish = 0;
  if (bay == stretch->first)
    start = -sw_seat_reach (job, level, &run->bays[bay].start, run->posts[bay].width);
  if (bay + 1 == stretch->last)
    finish = -sw_seat_reach (job, level, &run->bays[bay].finish, run->posts[bay + 1].width);
  sw_text text = { 0 };
  sw_text_printf (&text, "run %s: ", run->name);
  add_bays (&text, run, bay, bay + 1);
  sw_text_printf (&text, " is left without timber of level %s: it is ", level->name);
  add_limit_length (&text, job, run->bays[bay].span);
  sw_text_add (&text, " between post centres, and the timber is set back ");
  add_length (&text, job, start + finish);
  sw_text_add (&text, " by how it ends there");
  return hand_over (&text, report, job->files[SW_FILE_SPANS], run->bays[bay].line,
                    start >= finish ? "start" : "finish");
}

sw_status
sw_layout_why_none (const sw_job *job, size_t section, sw_report *report)
{
  const sw_stock *first = NULL;
  bool had = false;
  sw_length longest = sw_stocks_longest (&job->stocks, section);
  for (size_t k = job->stocks.count; k-- > 0;)
    if (job->stocks.items[k].section == section)
      {
        first = &job->stocks.items[k];
        had = had || sw_stock_can_be_had (first);
      }
  sw_text text = { 0 };
  sw_text_printf (&text, "no %s can be had: ", job->sections.items[section].name);
  if (first == NULL)
    sw_text_add (&text, "no stock length is listed");
  else if (had)
    {
      sw_text_add (&text, "the end trim, ");
      add_length (&text, job, sw_job_trim (job, section));
      sw_text_add (&text, " off each end, leaves nothing of the longest, ");
      add_stock_length (&text, job, longest);
    }
  else
    sw_text_add (&text, "each of its lengths has the limit 0, and none is on hand");
  bool in_file = first != NULL && first->line > 0;
  return hand_over (&text, report, in_file ? job->files[SW_FILE_STOCK] : NULL, in_file ? first->line : 0,
                    !in_file ? NULL
                    : had    ? "length"
                             : "limit");
}

static sw_status
why_between (const sw_job *job, const sw_fixed *fixed, sw_report *report)
{
  const sw_length cut = fixed->cut;
  const sw_run *run = &job->fence.runs[fixed->run];
  const sw_level *level = &job->levels.items[fixed->level];
  bool stock_helps;
  sw_text text = { 0 };
  sw_text_printf (&text, "run %s, level %s: ", run->name, level->name);
  add_bays (&text, run, fixed->bay, fixed->bay + 1);
  if (cut > 0)
    {
      sw_text_add (&text, " needs a piece of ");
      add_length_up (&text, job, cut);
      sw_text_add (&text, " between its posts");
      add_limit (&text, job, fixed->section, cut, fixed->take, &stock_helps);
      add_advice (&text, job, fixed->section, fixed->take, "set a post", stock_helps);
    }
  else
    {
      sw_text_add (&text, " has ");
      add_length (&text, job, cut + level->gap);
      sw_text_add (&text, " between its posts, of which the gap of ");
      add_length (&text, job, level->gap);
      sw_text_add (&text, " leaves nothing");
    }
  return hand_over (&text, report, job->files[SW_FILE_SPANS], run->bays[fixed->bay].line, "span");
}

sw_status
sw_layout_why_fixed (const sw_job *job, const sw_fixed *fixed, sw_report *report)
{
  if (fixed->kind == SW_FIXED_BETWEEN)
    return why_between (job, fixed, report);
  bool block = fixed->kind == SW_FIXED_BLOCK;
  bool stock_helps;
  sw_text text = { 0 };
  if (block)
    sw_text_printf (&text, "level %s: a fixing block is ", job->levels.items[fixed->level].name);
  else
    sw_text_printf (&text, "%s: it is ", job->extras.items[fixed->extra].label);
  add_length_up (&text, job, fixed->cut);
  sw_text_add (&text, " long");
  add_limit (&text, job, fixed->section, fixed->cut, fixed->take, &stock_helps);
  add_advice (&text, job, fixed->section, fixed->take, NULL, stock_helps);
  if (block)
    return hand_over (&text, report, job->files[SW_FILE_LEVELS], job->levels.items[fixed->level].line, "block_length");
  return hand_over (&text, report, job->files[SW_FILE_EXTRAS], job->extras.items[fixed->extra].line, "length");
}
