/* sheet_runs.c - all runs at one scale: which scale, where they break, what goes on which page
 *
 * The whole sheet has one scale, so that pieces which look equally long are.
 * It is the smallest scale at which nearly every piece has room for what is
 * written on it, or a larger one that takes no more pages and breaks no more
 * runs.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "sheet/sheet_run.h"

#include "base/memory.h"

#include <inttypes.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#define APART 14.0       /* between two blocks side by side */
#define AHEAD 8          /* a short run may move up by so many places where there is room */
#define WRITTEN_ON 0.93  /* part of the pieces to be written on, and of the bays to be as wide as their figures */
#define WHERE_NONE_IS 50 /* the largest scale that more pages are spent on; what is too short for it is listed */

struct sw_sheet_runs
{
  int64_t denominator;
  size_t count;
  size_t capacity;
  sw_sheet_block *blocks;
  size_t item_capacity;
  sw_sheet_item *items; /* for each block: its place */
  size_t pages;
  size_t pieces; /* pieces met while laying out, and those of them that are not written on */
  size_t unwritten;
  size_t bays; /* the same for bays, and those that are narrower than the figures under their posts */
  size_t narrow;
  bool fits;    /* every bay fits on a page */
  double least; /* what the first row takes of a page */
};

/* Scales that are found on a rule. */
static const int64_t usual[] = { 25, 30, 40, 50, 60, 75, 100, 125, 150, 200 };
#define USUAL (sizeof usual / sizeof usual[0])

static int64_t
scale (size_t index)
{
  int64_t decade = 1;
  for (; index >= USUAL; index -= USUAL)
    decade *= 10;
  return usual[index] * decade;
}

void
sw_sheet_runs_free (struct sw_sheet_runs *runs)
{
  if (runs == NULL)
    return;
  free (runs->blocks);
  free (runs->items);
  free (runs);
}

/* ---- Where a run breaks ---- */

static double
posts_room (const sw_sheet *sheet, const sw_elevation *e, bool breaks_off)
{
  return sheet->right - sheet->left - sw_sheet_block_before (e) - sw_sheet_block_after (e, breaks_off);
}

static double
rise_room (const sw_sheet *sheet, const sw_elevation *e)
{
  size_t rows = e->row_count < SW_SHEET_ROWS_A_BLOCK ? e->row_count : SW_SHEET_ROWS_A_BLOCK;
  return fmax (sheet->bottom - sheet->top - 130 - (SW_SHEET_PITCH + 11) * (double)rows, 20);
}

/* The last post of the block that begins at FIRST.  The block breaks as near to the page's edge as possible, but
 * preferably where timber ends anyway. */
static size_t
block_end (const sw_sheet *sheet, const sw_elevation *e, size_t first)
{
  const sw_run *run = e->run;
  const double rise = rise_room (sheet, e);
  double low = e->height[first], high = low;
  size_t last = first, natural = 0;
  while (last < run->bay_count)
    {
      const bool whole = last + 1 == run->bay_count;
      sw_elevation_heights (e, last, last + 1, &low, &high);
      const double long_so_far = e->at[last + 1] - e->at[first], width = posts_room (sheet, e, !whole);
      if (last > first && (long_so_far > width || high - low > rise))
        break;
      last++;
      if (!whole && run->bays[last - 1].finish.kind != SW_END_ON && long_so_far > width / 2)
        natural = last;
    }
  return last < run->bay_count && natural > 0 ? natural : last;
}

/* Does each bay fit on a page? */
static bool
bays_fit (const sw_sheet *sheet, const sw_elevation *e)
{
  const double width = posts_room (sheet, e, true), rise = rise_room (sheet, e);
  for (size_t i = 0; i < e->run->bay_count; i++)
    if (e->at[i + 1] - e->at[i] > width || fabs (e->before[i + 1] - e->height[i]) > rise)
      return false;
  return true;
}

/* ---- Laying out ---- */

static void
count_writing (const sw_sheet_frame *f, struct sw_sheet_runs *runs)
{
  for (size_t i = sw_sheet_next_piece (f, 0); i < f->block->piece_end; i = sw_sheet_next_piece (f, i + 1))
    {
      sw_sheet_writing w;
      const sw_piece *piece = &f->sheet->plan->pieces[i];
      if (!sw_sheet_writing_of (f, piece, &w) || !w.box)
        continue;
      runs->pieces++;
      runs->unwritten += sw_sheet_fit_of (f->sheet, piece, &w) < SW_SHEET_FIT_TWO;
    }
  char distance[SW_LENGTH_TEXT];
  sw_view_length (f->sheet->job, f->e->distance[f->block->last], distance);
  const double wide = sw_sheet_measure (f->sheet, SW_SHEET_STRONG, distance) + 4;
  for (size_t bay = f->block->first; bay < f->block->last; bay++)
    {
      runs->bays++;
      runs->narrow += f->e->at[bay + 1] - f->e->at[bay] < wide;
    }
}

static void
add_block (sw_sheet *sheet, struct sw_sheet_runs *runs, const sw_elevation *e, sw_sheet_block *block)
{
  void *blocks = runs->blocks, *items = runs->items;
  sw_status status = sw_grow (&blocks, &runs->capacity, runs->count + 1, sizeof *runs->blocks);
  runs->blocks = blocks;
  if (status == SW_OK)
    status = sw_grow (&items, &runs->item_capacity, runs->count + 1, sizeof *runs->items);
  runs->items = items;
  if (status != SW_OK)
    {
      sw_sheet_fail (sheet, status);
      return;
    }
  const sw_sheet_frame f = sw_sheet_frame_of (sheet, e, block, 0, 0);
  count_writing (&f, runs);
  runs->blocks[runs->count] = *block;
  runs->items[runs->count] = (sw_sheet_item){ .width = f.width,
                                              .height = sw_sheet_block_height (&f),
                                              .index = runs->count,
                                              .follows = block->first > 0 || block->row_first > 0 };
  runs->count++;
}

static void
add_run (sw_sheet *sheet, struct sw_sheet_runs *runs, const sw_elevation *e)
{
  size_t mark = 0;
  for (size_t first = 0; first < e->run->bay_count && sheet->status == SW_OK;)
    {
      sw_sheet_block block = { .run = e->run_index,
                               .piece_first = e->piece_first,
                               .piece_end = e->piece_end,
                               .blocks_first = e->blocks_first,
                               .blocks_end = e->blocks_end,
                               .first = first,
                               .last = block_end (sheet, e, first),
                               .mark_first = mark };
      if (block.last < e->run->bay_count)
        block.mark_last = ++mark;
      block.low = block.high = e->height[first];
      sw_elevation_heights (e, first, block.last, &block.low, &block.high);
      for (size_t row = 0; row < e->row_count; row += SW_SHEET_ROWS_A_BLOCK)
        {
          block.row_first = row;
          block.row_end = row + SW_SHEET_ROWS_A_BLOCK < e->row_count ? row + SW_SHEET_ROWS_A_BLOCK : e->row_count;
          add_block (sheet, runs, e, &block);
        }
      first = block.last;
    }
}

/* In the plan, through and between pieces come first, by run; then come blocks, by run. */
static void
find_pieces (const sw_plan *plan, sw_elevation *e, size_t *piece, size_t *block)
{
  e->piece_first = *piece;
  while (*piece < plan->piece_count && plan->pieces[*piece].run == e->run_index
         && (plan->pieces[*piece].kind == SW_PIECE_THROUGH || plan->pieces[*piece].kind == SW_PIECE_BETWEEN))
    ++*piece;
  e->piece_end = *piece;
  e->blocks_first = *block;
  while (*block < plan->piece_count && plan->pieces[*block].kind == SW_PIECE_BLOCK
         && plan->pieces[*block].run == e->run_index)
    ++*block;
  e->blocks_end = *block;
}

static size_t
first_block (const sw_plan *plan)
{
  size_t i = 0;
  while (i < plan->piece_count
         && (plan->pieces[i].kind == SW_PIECE_THROUGH || plan->pieces[i].kind == SW_PIECE_BETWEEN))
    i++;
  return i;
}

/* Place the blocks on pages of which the first is free from BEGIN on. */
static void
pack (const sw_sheet *sheet, struct sw_sheet_runs *runs, double begin)
{
  const sw_sheet_room room = { .left = sheet->left,
                               .right = sheet->right,
                               .top = sheet->top,
                               .begin = begin,
                               .bottom = sheet->bottom,
                               .gap = APART,
                               .columns = 1,
                               .ahead = AHEAD };
  runs->pages = sheet->status == SW_OK ? sw_sheet_pack (runs->items, runs->count, &room) : 0;
}

/* Lay out all runs at a scale, but no more of them than the part's pages can ever take. */
static void
lay_out (sw_sheet *sheet, struct sw_sheet_runs *runs, sw_elevation *e, int64_t denominator)
{
  size_t piece = 0, block = first_block (sheet->plan);
  double height = 0;
  runs->denominator = denominator;
  runs->count = runs->pieces = runs->unwritten = runs->bays = runs->narrow = 0;
  runs->fits = true;
  for (size_t r = 0; r < sheet->job->fence.run_count && sheet->status == SW_OK; r++)
    {
      const size_t before = runs->count;
      sw_elevation_set (e, sheet->job, r, denominator);
      find_pieces (sheet->plan, e, &piece, &block);
      runs->fits = runs->fits && bays_fit (sheet, e);
      add_run (sheet, runs, e);
      /* Blocks take about this height even when they are put side by side as well as possible. */
      for (size_t i = before; i < runs->count; i++)
        height += runs->items[i].height * runs->items[i].width / (sheet->right - sheet->left);
      if (height > 2.0 * SW_SHEET_MOST_PAGES * (sheet->bottom - sheet->top))
        break;
    }
  pack (sheet, runs, sheet->top);
}

static bool
is_written (const struct sw_sheet_runs *runs)
{
  return (double)runs->unwritten <= (1 - WRITTEN_ON) * (double)runs->pieces
         && (double)runs->narrow <= (1 - WRITTEN_ON) * (double)runs->bays;
}

/* Lay out RUNS at the scale that is chosen for the sheet. */
static void
choose_scale (sw_sheet *sheet, struct sw_sheet_runs *runs, sw_elevation *e)
{
  size_t base = USUAL;
  /* Take the smallest scale at which pieces are written on. */
  for (size_t i = USUAL; i-- > 0 && usual[i] >= WHERE_NONE_IS && base == USUAL && sheet->status == SW_OK;)
    {
      lay_out (sheet, runs, e, scale (i));
      if (is_written (runs))
        base = i;
    }
  for (size_t i = 0; i < USUAL && base == USUAL; i++)
    base = usual[i] == WHERE_NONE_IS ? i : base;
  /* Take a smaller one where a bay would not fit on a page. */
  for (lay_out (sheet, runs, e, scale (base)); !runs->fits && base < 40 && sheet->status == SW_OK;)
    lay_out (sheet, runs, e, scale (++base));
  /* Take a larger one as long as that costs nothing. */
  const size_t pages = runs->pages, blocks = runs->count;
  size_t best = base;
  for (size_t i = base; i-- > 0 && i < USUAL && sheet->status == SW_OK;)
    {
      lay_out (sheet, runs, e, scale (i));
      if (runs->pages > pages || runs->count > blocks || !runs->fits)
        break;
      best = i;
    }
  lay_out (sheet, runs, e, scale (best));
}

/* ---- Drawing ---- */

static void
draw_blocks (sw_sheet *sheet, const struct sw_sheet_runs *runs, sw_elevation *e)
{
  size_t page = 0, run = SW_NONE;
  for (size_t i = 0; i < runs->count && sw_sheet_goes_on (sheet); i++)
    {
      const sw_sheet_item *item = &runs->items[i];
      const sw_sheet_block *block = &runs->blocks[item->index];
      for (; page < item->page; page++)
        if (!sw_sheet_next_page (sheet))
          return;
      if (block->run != run)
        {
          run = block->run;
          sw_elevation_set (e, sheet->job, run, runs->denominator);
        }
      const sw_sheet_frame f = sw_sheet_frame_of (sheet, e, block, item->x, item->y);
      sw_sheet_mention_run (sheet, run);
      sw_sheet_block_draw (&f);
      sheet->y = fmax (sheet->y, item->y + item->height);
    }
}

/* The height of the first row. */
static double
first_row (const struct sw_sheet_runs *runs)
{
  double height = 0;
  for (size_t i = 0; i < runs->count; i++)
    if (runs->items[i].page == 0 && runs->items[i].y <= runs->items[0].y)
      height = fmax (height, runs->items[i].height);
  return height;
}

static void
begin_part (sw_sheet *sheet, const struct sw_sheet_runs *runs)
{
  char note[200];
  snprintf (note, sizeof note,
            "lengths 1 : %" PRId64 ", heights not to scale;  figures in %s;  thick bar: join;  key: page %zu",
            runs->denominator, sheet->job->settings->inches ? "inches" : "mm", sheet->key_page);
  sw_sheet_new_part (sheet, "Runs", note, "fit.csv and setout.csv", runs->least);
}

static void
draw_runs (sw_sheet *sheet, sw_elevation *e)
{
  const bool first = sheet->laid_runs == NULL;
  if (first)
    {
      sheet->laid_runs = sw_alloc (1, sizeof *sheet->laid_runs);
      if (sheet->laid_runs == NULL)
        {
          sw_sheet_fail (sheet, SW_NO_MEMORY);
          return;
        }
      choose_scale (sheet, sheet->laid_runs, e);
      sheet->laid_runs->least = first_row (sheet->laid_runs);
    }
  begin_part (sheet, sheet->laid_runs);
  if (first)
    pack (sheet, sheet->laid_runs, sheet->y);
  if (sheet->status == SW_OK)
    draw_blocks (sheet, sheet->laid_runs, e);
}

void
sw_sheet_runs (sw_sheet *sheet)
{
  sw_elevation e;
  if (sheet->job->fence.run_count == 0)
    return;
  if (sw_elevation_open (&e, sheet->job))
    draw_runs (sheet, &e);
  else
    sw_sheet_fail (sheet, SW_NO_MEMORY);
  sw_elevation_clear (&e);
}
