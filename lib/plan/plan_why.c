/* plan_why.c - says why a model has no plan
 *
 * Two things are known exactly: how many metres of pieces every plan needs of a
 * section, whatever the joins, and how many pieces of some length or more.
 * What the stock can make of either is an upper bound, so that a shortage found
 * here is a shortage in every plan.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "plan/plan_why.h"

#include "base/memory.h"
#include "base/text.h"
#include "csv/value.h"

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>

__extension__ typedef __int128 wide;

/* Lengths are tried from the longest down, until this many options have been looked at. */
#define MOST_LOOKS 20000000

/* ---- What is asked for ---- */

/* What is added up of a section's pieces: their lengths if SIZE is 0, or else the number of pieces
 * of SIZE (of sw_need) or more. */
typedef struct asking
{
  const sw_model *model;
  const sw_model_section *section;
  int64_t size;
} asking;

static wide
worth (const asking *asking, size_t need)
{
  const sw_need *of = &asking->model->needs[need];
  if (of->item == SW_NO_ITEM)
    return 0;
  if (asking->size > 0)
    return of->size >= asking->size ? 1 : 0;
  return asking->model->layout->items[of->item].take;
}

/* Add the least sum that the pieces of a level can have, whatever its joins are. */
static sw_status
add_least_of_row (const asking *asking, const sw_strip *strip, const sw_strip_level *row, wide *sum)
{
  wide *least = sw_alloc (strip->bays + (size_t)1, sizeof *least);
  if (least == NULL)
    return SW_NO_MEMORY;
  for (size_t p = 1; p <= strip->bays; p++)
    least[p] = -1;
  /* Options are sorted by where they begin, so that all options that lead to that post have been looked at. */
  for (size_t o = row->option_first; o < row->option_first + row->option_count; o++)
    {
      const sw_option *option = &asking->model->options[o];
      wide here = least[option->from] + worth (asking, option->need);
      if (least[option->from] >= 0 && (least[option->to] < 0 || here < least[option->to]))
        least[option->to] = here;
    }
  if (least[strip->bays] > 0)
    *sum += least[strip->bays];
  free (least);
  return SW_OK;
}

/* Find the least that every plan asks for. */
static sw_status
find_asked (const asking *asking, wide *asked)
{
  const sw_model *model = asking->model;
  const sw_model_section *section = asking->section;
  const sw_levels *levels = &model->layout->job->levels;
  sw_status status = SW_OK;
  *asked = 0;
  for (size_t n = section->need_first; n < section->need_first + section->need_count; n++)
    *asked += model->needs[n].demand * worth (asking, n);
  for (size_t s = 0; s < model->strip_count; s++)
    for (size_t r = 0; r < model->strips[s].level_count && status == SW_OK; r++)
      if (levels->items[model->strips[s].levels[r].of_job].section == section->of_job)
        status = add_least_of_row (asking, &model->strips[s], &model->strips[s].levels[r], asked);
  return status;
}

/* ---- What can be had ---- */

/* Is the stock of SECTION limited?  *LINE is the first row that has a limit, but if the yard has
 * some of any such row, the first of those.  0: no row has a limit. */
static bool
is_limited (const sw_job *job, size_t section, size_t *line)
{
  bool limited = true;
  bool some = false;
  *line = 0;
  for (size_t i = 0; i < job->stocks.count; i++)
    {
      const sw_stock *row = &job->stocks.items[i];
      if (row->section != section)
        continue;
      limited = limited && row->limit >= 0;
      if (row->limit < 0 || (some && row->limit == 0))
        continue;
      if (*line == 0 || (row->limit > 0 && !some) || row->line < *line)
        *line = row->line;
      some = some || row->limit > 0;
    }
  return limited;
}

/* The length of all boards that can be had of a section whose stock is limited. */
static wide
length_to_be_had (const sw_job *job, size_t section)
{
  wide sum = 0;
  for (size_t i = 0; i < job->stocks.count; i++)
    {
      const sw_stock *row = &job->stocks.items[i];
      if (row->section == section)
        sum += (wide)sw_job_usable (job, row) * ((row->limit > 0 ? row->limit : 0) + row->hand);
    }
  return sum;
}

/* The number of pieces of SIZE that can be had.  -1: any number. */
static wide
pieces_to_be_had (const sw_model *model, const sw_model_section *section, int64_t size)
{
  wide sum = 0;
  for (size_t s = section->stock_first; s < section->stock_first + section->stock_count; s++)
    {
      const sw_model_stock *stock = &model->stocks[s];
      if (stock->limit < 0 && stock->room >= size)
        return -1;
      const bool whole = stock->whole != 0 && stock->room < size && model->needs[stock->whole - 1].size >= size;
      sum += (wide)stock->limit * (whole ? 1 : stock->room / size);
    }
  return sum;
}

/* ---- In words ---- */

/* LENGTH in millimetres, or in tenths of a foot; rounded UP or down. */
static int64_t
in_steps (const sw_job *job, wide length, bool up)
{
  wide step = job->settings->inches ? 12 * SW_INCH / 10 : SW_MM;
  wide steps = (length + (up ? step - 1 : 0)) / step;
  return steps < INT64_MAX / 1000000 ? (int64_t)steps : INT64_MAX / 1000000;
}

static void
add_steps (sw_text *text, const sw_job *job, int64_t steps)
{
  char figure[SW_LENGTH_TEXT];
  if (job->settings->inches)
    {
      sw_text_printf (text, "%" PRId64 ".%" PRId64 " ft", steps / 10, steps % 10);
      return;
    }
  sw_length_format_m (steps <= INT64_MAX / SW_MM ? steps * SW_MM : INT64_MAX, true, figure);
  sw_text_printf (text, "%s m", figure);
}

static void
add_section (sw_text *text, const sw_job *job, size_t section)
{
  char name[SW_SHOWN];
  sw_show_text (job->sections.items[section].name, name);
  sw_text_printf (text, "section %s: ", name);
}

static sw_status
hand_over (sw_text *text, const sw_job *job, size_t line, sw_report *report)
{
  char *message = sw_text_take (text);
  if (message == NULL)
    return SW_NO_MEMORY;
  /* Only the stock file gives limits. */
  const char *file = line > 0 ? job->files[SW_FILE_STOCK] : NULL;
  sw_report_add (report, SW_FAULT, file, line, line > 0 ? "limit" : NULL, "%s", message);
  free (message);
  return SW_OK;
}

/* ---- Reasons ---- */

/* Compare the length of the pieces with the length of the boards. */
static sw_status
why_metres (const asking *asking, size_t line, sw_report *report, bool *told)
{
  const sw_job *job = asking->model->layout->job;
  wide asked;
  wide had = length_to_be_had (job, asking->section->of_job);
  sw_status status = find_asked (asking, &asked);
  if (status != SW_OK || asked <= had)
    return status;
  sw_text text = { 0 };
  int64_t needed = in_steps (job, asked, true);
  int64_t there = in_steps (job, had, false);
  add_section (&text, job, asking->section->of_job);
  sw_text_add (&text, "its pieces are ");
  add_steps (&text, job, needed);
  sw_text_add (&text, " in all, and what can be had makes ");
  add_steps (&text, job, there);
  sw_text_add (&text, ": ");
  add_steps (&text, job, needed - there);
  sw_text_add (&text, " short; raise a limit or add a length");
  *told = true;
  return hand_over (&text, job, line, report);
}

/* Compare the number of pieces of some length or more with the number that the boards make.  Of all
 * lengths, report the one of which most pieces are missing. */
static sw_status
why_pieces (const asking *asking, size_t line, sw_report *report, bool *told)
{
  const sw_model *model = asking->model;
  const sw_model_section *section = asking->section;
  size_t most = MOST_LOOKS / (model->option_count + section->need_count) + 1;
  struct asking now = *asking;
  wide asked = 0;
  wide had = 0;
  sw_length length = 0;
  for (size_t n = section->need_first; n < section->need_first + section->need_count && most > 0; n++, most--)
    {
      wide here;
      now.size = model->needs[n].size;
      wide there = pieces_to_be_had (model, section, now.size);
      sw_status status = find_asked (&now, &here);
      if (status != SW_OK)
        return status;
      if (there < 0 || here - there <= asked - had)
        continue;
      asked = here;
      had = there;
      length = model->layout->items[model->needs[n].item].take;
    }
  if (length == 0)
    return SW_OK;
  sw_text text = { 0 };
  char shown[SW_SHOWN];
  const sw_job *job = model->layout->job;
  sw_show_length (length, job->settings->inches, shown);
  add_section (&text, job, section->of_job);
  sw_text_printf (
      &text,
      "at least %lld %s of %s or more %s needed, and what can be had makes %lld: %lld short; raise a limit or "
      "add a length",
      (long long)asked, asked == 1 ? "piece" : "pieces", shown, asked == 1 ? "is" : "are", (long long)had,
      (long long)(asked - had));
  *told = true;
  return hand_over (&text, job, line, report);
}

sw_status
sw_plan_short (const sw_model *model, sw_report *report, bool *told)
{
  *told = false;
  sw_status status = SW_OK;
  for (size_t g = 0; g < model->section_count && status == SW_OK; g++)
    {
      const asking asking = { .model = model, .section = &model->sections[g] };
      bool told_now = false;
      size_t line;
      if (asking.section->of_job == SW_SECTION_IN_PLACE)
        continue;
      bool limited = is_limited (model->layout->job, asking.section->of_job, &line);
      if (limited)
        status = why_metres (&asking, line, report, &told_now);
      if (status == SW_OK && !told_now && line > 0)
        status = why_pieces (&asking, line, report, &told_now);
      *told = *told || told_now;
    }
  return status;
}

/* Report places where joins line up whatever the timber, if they must not. */
static void
why_aligned (const sw_model *model, sw_report *report, bool *told)
{
  const sw_job *job = model->layout->job;
  for (size_t i = 0; i < model->strip_count; i++)
    {
      const sw_strip *strip = &model->strips[i];
      const sw_stretch *stretch = &model->layout->stretches[strip->stretch];
      if (strip->aligned_floor <= 0)
        continue;
      *told = true;
      char times[32] = "once";
      if (strip->aligned_floor > 1)
        snprintf (times, sizeof times, "%lld times", (long long)strip->aligned_floor);
      sw_report_add (report, SW_FAULT, NULL, 0, NULL,
                     "run %s, posts %zu to %zu: joins of neighbouring levels line up at least %s, whatever the timber; "
                     "longer stock would let pieces span more bays, or use --stagger prefer",
                     job->fence.runs[stretch->run].name, stretch->first + 1, stretch->last + 1, times);
    }
}

/* There is provably no plan, but the reason is not known.  Name the sections whose stock is limited
 * somewhere, or all sections if there is no limit. */
static sw_status
why_at_all (const sw_model *model, sw_report *report)
{
  const sw_job *job = model->layout->job;
  sw_text text = { 0 };
  size_t named = 0;
  size_t first_line = 0;
  for (int all = 0; all < 2 && named == 0; all++)
    for (size_t g = 0; g < model->section_count; g++)
      {
        size_t line;
        if (model->sections[g].of_job == SW_SECTION_IN_PLACE)
          continue;
        is_limited (job, model->sections[g].of_job, &line);
        if (line == 0 && all == 0)
          continue;
        char name[SW_SHOWN];
        sw_show_text (job->sections.items[model->sections[g].of_job].name, name);
        sw_text_printf (&text, "%s%s", named++ == 0 ? "section " : ", ", name);
        first_line = first_line == 0 || (line > 0 && line < first_line) ? line : first_line;
      }
  bool require = job->settings->stagger == SW_STAGGER_REQUIRE;
  sw_text_printf (&text, ": what can be had%s does not make all the pieces%s; %s",
                  first_line > 0 ? " (limit and hand)" : "", require ? " with every join staggered" : "",
                  first_line > 0 ? "raise a limit or add a length" : "add a length");
  if (require)
    sw_text_add (&text, ", or use --stagger prefer");
  return hand_over (&text, job, first_line, report);
}

sw_status
sw_plan_why (const sw_model *model, sw_report *report)
{
  bool told = false;
  sw_status status = sw_plan_short (model, report, &told);
  if (status == SW_OK && model->layout->job->settings->stagger == SW_STAGGER_REQUIRE)
    why_aligned (model, report, &told);
  return status == SW_OK && !told ? why_at_all (model, report) : status;
}
