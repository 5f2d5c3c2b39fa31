/* verify_cuts.c - checks that every piece is cut once, blocks and extras, too
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "base/memory.h"
#include "verify/verify.h"

#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

/* A row of cuts.csv that cuts a fixing block. */
typedef struct sw_block_row
{
  size_t run;
  size_t level;
  size_t row;
} sw_block_row;

typedef struct sw_cut_check
{
  sw_verifier *verifier;
  sw_name_index fitted;     /* rows of fit.csv by label */
  sw_name_index labels;     /* rows of cuts.csv by label */
  sw_name_index extras;     /* the job's extras, by label */
  int64_t *extras_cut; /* number of pieces cut, by extra */
  sw_block_row *blocks;
  size_t block_count;
} sw_cut_check;

/* Index the rows of LISTING by label.  A label that occurs twice is a fault. */
static sw_status
index_labels (sw_verifier *verifier, const sw_listing *listing, int field, sw_name_index *names)
{
  sw_status status = SW_OK;
  for (size_t row = 0; row < listing->rows && status == SW_OK; row++)
    {
      const char *label = sw_listing_text (listing, row, field);
      size_t first;
      if (!sw_name_index_find (names, label, &first))
        status = sw_name_index_add (names, label, row);
      else
        SW_VERIFY_FAULT (verifier, listing, row, field, "\"%s\" is on line %zu too: a piece is listed once", label,
                         sw_listing_line (listing, first));
    }
  return status;
}

/* Check what cuts.csv says of a piece that should be SHOULD.  Its section should be SECTION, if that is known. */
static void
check_piece (sw_cut_check *check, size_t row, const sw_sawn *should, size_t section)
{
  sw_verifier *verifier = check->verifier;
  const sw_listing *cuts = &verifier->cuts;
  verifier->sawn[row] = *should;
  if (section != SW_UNKNOWN)
    sw_verify_text (verifier, cuts, row, SW_CUTS_SECTION, verifier->job->sections.items[section].name);
  sw_verify_sawn (verifier, cuts, row, should);
}

/* Check a piece that is cut square at both ends: a block or an extra. */
static void
check_square (sw_cut_check *check, size_t row, sw_length length, size_t section)
{
  const sw_sawn should = { .cut = length, .take = length, .long_point = "" };
  sw_verify_max_piece (check->verifier, &check->verifier->cuts, row, SW_CUTS_CUT, length);
  check_piece (check, row, &should, section);
}

/* Check that FIELD of cuts.csv agrees with fit.csv. */
static void
check_same (sw_cut_check *check, size_t row, int field, size_t fit_row, int fit_field)
{
  const sw_listing *cuts = &check->verifier->cuts;
  const sw_listing *fit = &check->verifier->fit;
  bool text = cuts->fields[field].kind == SW_CELL_TEXT;
  const char *is = sw_listing_text (cuts, row, field);
  const char *should = sw_listing_text (fit, fit_row, fit_field);
  bool same = text ? strcmp (is, should) == 0
                   : sw_listing_number (cuts, row, field) == sw_listing_number (fit, fit_row, fit_field);
  if (!same)
    SW_VERIFY_FAULT (check->verifier, cuts, row, field,
                     "is \"%s\", should be \"%s\" as for this piece in fit.csv, line %zu", is, should,
                     sw_listing_line (fit, fit_row));
}

static void
check_fitted (sw_cut_check *check, size_t row, sw_place *place)
{
  sw_verifier *verifier = check->verifier;
  size_t section = SW_UNKNOWN;
  if (place->cut_row == SW_UNKNOWN)
    place->cut_row = row;
  if (place->known)
    section = verifier->job->levels.items[place->level].section;
  check_piece (check, row, &place->sawn, section);
  check_same (check, row, SW_CUTS_RUN, place->row, SW_FIT_RUN);
  check_same (check, row, SW_CUTS_LEVEL, place->row, SW_FIT_LEVEL);
  check_same (check, row, SW_CUTS_FROM, place->row, SW_FIT_FROM);
  check_same (check, row, SW_CUTS_TO, place->row, SW_FIT_TO);
  int64_t board = sw_listing_number (&verifier->cuts, row, SW_CUTS_BOARD);
  int64_t said = sw_listing_number (&verifier->fit, place->row, SW_FIT_BOARD);
  if (board != said && place->fixed == NULL)
    SW_VERIFY_FAULT (verifier, &verifier->fit, place->row, SW_FIT_BOARD,
                     "is \"%" PRId64 "\", should be %" PRId64 " as for this piece in cuts.csv, line %zu", said, board,
                     sw_listing_line (&verifier->cuts, row));
}

/* The number N if LABEL is PREFIX followed by N in digits.  0: it is not. */
static int64_t
label_number (const char *label, const char *prefix, size_t prefix_length)
{
  if (strncmp (label, prefix, prefix_length) != 0)
    return 0;
  int64_t number = 0;
  const char *digits = label + prefix_length;
  if (*digits < '1' || *digits > '9')
    return 0;
  for (; *digits != '\0'; digits++)
    {
      if (*digits < '0' || *digits > '9' || number > 100000000000)
        return 0;
      number = number * 10 + (*digits - '0');
    }
  return number;
}

static int64_t
blocks_wanted (const sw_job *job, size_t run, size_t level)
{
  int64_t bays = 0;
  if (!sw_level_is_on (&job->levels.items[level], run))
    return 0;
  for (size_t b = 0; b < job->fence.runs[run].bay_count; b++)
    bays += !job->fence.runs[run].bays[b].opening;
  return bays * job->levels.items[level].blocks;
}

static void
check_block (sw_cut_check *check, size_t row)
{
  sw_verifier *verifier = check->verifier;
  const sw_listing *cuts = &verifier->cuts;
  size_t run = sw_verify_run (verifier, cuts, row, SW_CUTS_RUN);
  size_t level = sw_verify_level (verifier, cuts, row, SW_CUTS_LEVEL);
  if (run == SW_UNKNOWN || level == SW_UNKNOWN || !sw_verify_is_on (verifier, cuts, row, SW_CUTS_LEVEL, run, level))
    return;
  const sw_level *of = &verifier->job->levels.items[level];
  check->blocks[check->block_count++] = (sw_block_row){ run, level, row };
  if (of->blocks == 0)
    return;
  check_square (check, row, of->block_length, of->block_section);
}

/* Is LABEL that of a piece of EXTRA?  It is the extra's label; if several pieces are wanted, a
 * space and a number from 1 follow. */
static bool
is_of_extra (const sw_extra *extra, const char *label)
{
  size_t length = strlen (extra->label);
  if (extra->quantity == 1)
    return strcmp (label, extra->label) == 0;
  int64_t number = strncmp (label, extra->label, length) == 0 ? label_number (label + length, " ", 1) : 0;
  return number >= 1 && number <= extra->quantity;
}

/* Find the extra that has a piece called LABEL.  *FOUND is SW_UNKNOWN if there is none. */
static sw_status
find_extra (const sw_cut_check *check, const char *label, size_t *found)
{
  const sw_extra *extras = check->verifier->job->extras.items;
  if (sw_name_index_find (&check->extras, label, found) && is_of_extra (&extras[*found], label))
    return SW_OK;
  const char *space = strrchr (label, ' ');
  *found = SW_UNKNOWN;
  if (space == NULL)
    return SW_OK;
  sw_text name = { 0 };
  size_t of;
  sw_text_add_bytes (&name, label, (size_t)(space - label));
  if (!name.failed && name.length > 0 && sw_name_index_find (&check->extras, name.data, &of)
      && is_of_extra (&extras[of], label))
    *found = of;
  bool failed = name.failed;
  sw_text_drop (&name);
  return failed ? SW_NO_MEMORY : SW_OK;
}

static sw_status
check_extra (sw_cut_check *check, size_t row)
{
  sw_verifier *verifier = check->verifier;
  const char *label = sw_listing_text (&verifier->cuts, row, SW_CUTS_PIECE);
  size_t at;
  sw_status status = find_extra (check, label, &at);
  if (status != SW_OK)
    return status;
  if (at == SW_UNKNOWN)
    {
      SW_VERIFY_FAULT (verifier, &verifier->cuts, row, SW_CUTS_PIECE,
                       "\"%s\": neither fit.csv nor the extras have a piece of this label", label);
      return SW_OK;
    }
  const sw_extra *extra = &verifier->job->extras.items[at];
  check->extras_cut[at]++;
  check_square (check, row, extra->length, extra->section);
  return SW_OK;
}

static sw_status
check_row (sw_cut_check *check, size_t row)
{
  sw_verifier *verifier = check->verifier;
  const sw_listing *cuts = &verifier->cuts;
  const char *label = sw_listing_text (cuts, row, SW_CUTS_PIECE);
  bool run = sw_listing_number (cuts, row, SW_CUTS_RUN) != SW_BLANK;
  bool level = sw_listing_number (cuts, row, SW_CUTS_LEVEL) != SW_BLANK;
  bool posts = sw_listing_number (cuts, row, SW_CUTS_FROM) != SW_BLANK
               || sw_listing_number (cuts, row, SW_CUTS_TO) != SW_BLANK;
  size_t fit_row;
  sw_verify_read_sawn (verifier, cuts, row, &verifier->sawn[row]);
  if (sw_name_index_find (&check->fitted, label, &fit_row))
    check_fitted (check, row, &verifier->places[fit_row]);
  else if (run && level && !posts)
    check_block (check, row);
  else if (!run && !level && !posts)
    return check_extra (check, row);
  else
    SW_VERIFY_FAULT (verifier, cuts, row, SW_CUTS_PIECE, "\"%s\": fit.csv has no piece of this label", label);
  return SW_OK;
}

static int
compare_blocks (const void *a, const void *b)
{
  const sw_block_row *x = a;
  const sw_block_row *y = b;
  if (x->run != y->run)
    return x->run < y->run ? -1 : 1;
  if (x->level != y->level)
    return x->level < y->level ? -1 : 1;
  return (x->row > y->row) - (x->row < y->row);
}

/* Compare the COUNT blocks of one level of one run with the number that it needs. */
static sw_status
check_blocks_of (sw_cut_check *check, size_t run, size_t level, const sw_block_row *blocks, size_t count)
{
  sw_verifier *verifier = check->verifier;
  const char *run_name = verifier->job->fence.runs[run].name;
  const char *level_name = verifier->job->levels.items[level].name;
  int64_t wanted = blocks_wanted (verifier->job, run, level);
  if (count == 0 && wanted == 0)
    return SW_OK;
  sw_text prefix = { 0 };
  sw_text_printf (&prefix, "%s/%s/block ", run_name, level_name);
  if (prefix.failed)
    return SW_NO_MEMORY;
  for (size_t i = 0; i < count; i++)
    {
      const char *label = sw_listing_text (&verifier->cuts, blocks[i].row, SW_CUTS_PIECE);
      int64_t number = label_number (label, prefix.data, prefix.length);
      if ((number < 1 || number > wanted) && wanted > 0)
        SW_VERIFY_FAULT (verifier, &verifier->cuts, blocks[i].row, SW_CUTS_PIECE,
                         "is \"%s\", should be \"%s1\" to \"%s%" PRId64 "\", or a piece of fit.csv", label, prefix.data,
                         prefix.data, wanted);
      else if (wanted == 0)
        SW_VERIFY_FAULT (verifier, &verifier->cuts, blocks[i].row, SW_CUTS_PIECE,
                         "\"%s\": not in fit.csv, and level %s has no blocks", label, level_name);
    }
  const int64_t numbers = wanted;
  wanted -= sw_verify_blocks_fixed (verifier, run, level);
  if ((uint64_t)wanted > count)
    SW_VERIFY_FAULT (verifier, &verifier->cuts, SW_UNKNOWN, -1,
                     "run %s, level %s: %zu fixing blocks are cut, should be %" PRId64, run_name, level_name, count,
                     wanted);
  else if ((uint64_t)wanted < count && numbers > 0)
    SW_VERIFY_FAULT (verifier, &verifier->cuts, blocks[wanted].row, SW_CUTS_PIECE,
                     "run %s, level %s: %zu fixing blocks are cut, should be %" PRId64, run_name, level_name, count,
                     wanted);
  sw_text_drop (&prefix);
  return SW_OK;
}

static sw_status
check_blocks (sw_cut_check *check)
{
  const sw_job *job = check->verifier->job;
  sw_status status = SW_OK;
  size_t begin = 0;
  if (check->block_count > 0)
    qsort (check->blocks, check->block_count, sizeof *check->blocks, compare_blocks);
  for (size_t r = 0; r < job->fence.run_count && status == SW_OK; r++)
    for (size_t l = 0; l < job->levels.count && status == SW_OK; l++)
      {
        size_t end = begin;
        while (end < check->block_count && check->blocks[end].run == r && check->blocks[end].level == l)
          end++;
        status = check_blocks_of (check, r, l, check->blocks + begin, end - begin);
        begin = end;
      }
  return status;
}

static void
check_extras (sw_cut_check *check)
{
  sw_verifier *verifier = check->verifier;
  const sw_extras *extras = &verifier->job->extras;
  for (size_t e = 0; e < extras->count; e++)
    if (check->extras_cut[e] + sw_verify_extras_fixed (verifier, e) < extras->items[e].quantity
        || (sw_verify_extras_fixed (verifier, e) > 0
            && check->extras_cut[e] + sw_verify_extras_fixed (verifier, e) > extras->items[e].quantity))
      SW_VERIFY_FAULT (verifier, &verifier->cuts, SW_UNKNOWN, -1,
                       "extra \"%s\": %" PRId64 " of %" PRId64 " are cut from a board", extras->items[e].label,
                       check->extras_cut[e], extras->items[e].quantity - sw_verify_extras_fixed (verifier, e));
}

/* Check that the labels of fit.csv tell where their pieces go, and that each piece is cut from a board. */
static sw_status
check_labels (sw_cut_check *check)
{
  sw_verifier *verifier = check->verifier;
  const sw_job *job = verifier->job;
  for (size_t row = 0; row < verifier->fit.rows; row++)
    {
      const sw_place *place = &verifier->places[row];
      sw_text label = { 0 };
      if (place->known)
        sw_text_printf (&label, "%s/%s/%zu-%zu", job->fence.runs[place->run].name, job->levels.items[place->level].name,
                        place->from + 1, place->to + 1);
      if (label.failed)
        return SW_NO_MEMORY;
      if (place->known)
        sw_verify_text (verifier, &verifier->fit, row, SW_FIT_PIECE, label.data);
      sw_text_drop (&label);
      /* Where a label occurs twice, only its first place is cut from the board. */
      size_t first = row;
      sw_name_index_find (&check->fitted, sw_listing_text (&verifier->fit, row, SW_FIT_PIECE), &first);
      if (place->fixed != NULL && place->cut_row != SW_UNKNOWN)
        SW_VERIFY_FAULT (verifier, &verifier->cuts, place->cut_row, SW_CUTS_PIECE, "\"%s\" is fixed: it is cut already",
                         sw_listing_text (&verifier->fit, row, SW_FIT_PIECE));
      else if (place->fixed == NULL && place->cut_row == SW_UNKNOWN && first == row)
        SW_VERIFY_FAULT (verifier, &verifier->fit, row, SW_FIT_PIECE, "\"%s\": cuts.csv cuts it from no board",
                         sw_listing_text (&verifier->fit, row, SW_FIT_PIECE));
    }
  return SW_OK;
}

static sw_status
prepare (sw_cut_check *check)
{
  sw_verifier *verifier = check->verifier;
  const sw_extras *extras = &verifier->job->extras;
  verifier->sawn = sw_alloc (verifier->cuts.rows, sizeof *verifier->sawn);
  check->extras_cut = sw_alloc (extras->count, sizeof *check->extras_cut);
  check->blocks = sw_alloc (verifier->cuts.rows, sizeof *check->blocks);
  if (verifier->sawn == NULL || check->extras_cut == NULL || check->blocks == NULL)
    return SW_NO_MEMORY;
  sw_status status = SW_OK;
  for (size_t e = 0; e < extras->count && status == SW_OK; e++)
    status = sw_name_index_add (&check->extras, extras->items[e].label, e);
  if (status == SW_OK)
    status = index_labels (verifier, &verifier->fit, SW_FIT_PIECE, &check->fitted);
  if (status == SW_OK)
    status = index_labels (verifier, &verifier->cuts, SW_CUTS_PIECE, &check->labels);
  return status;
}

sw_status
sw_verify_cuts (sw_verifier *verifier)
{
  sw_cut_check check = { .verifier = verifier };
  sw_status status = prepare (&check);
  verifier->verdict->pieces = (int64_t)verifier->cuts.rows;
  for (size_t row = 0; row < verifier->cuts.rows && status == SW_OK; row++)
    status = check_row (&check, row);
  if (status == SW_OK)
    status = check_labels (&check);
  if (status == SW_OK)
    status = check_blocks (&check);
  if (status == SW_OK)
    check_extras (&check);
  sw_name_index_clear (&check.fitted);
  sw_name_index_clear (&check.labels);
  sw_name_index_clear (&check.extras);
  free (check.extras_cut);
  free (check.blocks);
  return status;
}
