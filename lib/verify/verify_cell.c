/* verify_cell.c - compares what a cell of a plan's files says with what it should say
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "base/decimal.h"
#include "base/memory.h"
#include "verify/verify.h"

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

size_t
sw_verify_stock (const sw_job *job, const char *section, sw_length length)
{
  const sw_stocks *stocks = &job->stocks;
  int found = sw_sections_find (&job->sections, section);
  if (found < 0)
    return SW_UNKNOWN;
  /* Find the first stock of the section that is not shorter than the shortest possible match. */
  size_t of = (size_t)found;
  size_t low = 0;
  size_t high = stocks->count;
  while (low < high)
    {
      size_t middle = low + (high - low) / 2;
      const sw_stock *stock = &stocks->items[middle];
      if (stock->section < of || (stock->section == of && stock->length < length - SW_VERIFY_TOLERANCE))
        low = middle + 1;
      else
        high = middle;
    }
  size_t best = SW_UNKNOWN;
  sw_length nearest = SW_VERIFY_TOLERANCE + 1;
  for (; low < stocks->count && stocks->items[low].section == of; low++)
    {
      /* Timber on hand is found by its name. */
      if (stocks->items[low].sawn)
        continue;
      sw_length off = stocks->items[low].length - length;
      off = off < 0 ? -off : off;
      if (off >= nearest)
        break;
      nearest = off;
      best = low;
    }
  return best;
}

const char *
sw_verify_cell (const sw_listing *listing, int field, sw_length length, char out[SW_LENGTH_TEXT])
{
  if (sw_listing_inches (listing, field))
    sw_length_format_inches_exact (length, out);
  else
    sw_length_format_mm (length, out);
  return out;
}

const char *
sw_verify_show (const sw_verifier *verifier, sw_length length, char out[SW_SHOWN])
{
  sw_show_length (length, verifier->job->settings->inches, out);
  return out;
}

void
sw_verify_length (sw_verifier *verifier, const sw_listing *listing, size_t row, int field, sw_length wanted)
{
  sw_length found = sw_listing_number (listing, row, field);
  char should[SW_LENGTH_TEXT];
  if (found != SW_BLANK && found >= wanted - SW_VERIFY_TOLERANCE && found <= wanted + SW_VERIFY_TOLERANCE)
    return;
  SW_VERIFY_FAULT (verifier, listing, row, field, "is \"%s\", should be %s", sw_listing_text (listing, row, field),
                   sw_verify_cell (listing, field, wanted, should));
}

void
sw_verify_max_piece (sw_verifier *verifier, const sw_listing *listing, size_t row, int field, sw_length length)
{
  sw_length longest = verifier->job->settings->max_piece;
  char is[SW_SHOWN];
  char allowed[SW_SHOWN];
  if (longest > 0 && length > longest + SW_VERIFY_ROUNDING)
    {
      sw_show_lengths (length, longest, verifier->job->settings->inches, is, allowed);
      SW_VERIFY_FAULT (verifier, listing, row, field, "a piece of %s, should be no longer than %s (max-piece)", is,
                       allowed);
    }
}

void
sw_verify_text (sw_verifier *verifier, const sw_listing *listing, size_t row, int field, const char *wanted)
{
  const char *found = sw_listing_text (listing, row, field);
  if (strcmp (found, wanted) != 0)
    SW_VERIFY_FAULT (verifier, listing, row, field, "is \"%s\", should be \"%s\"", found, wanted);
}

void
sw_verify_word (sw_verifier *verifier, const sw_listing *listing, size_t row, int field, const char *wanted)
{
  if (!sw_same_word (sw_listing_text (listing, row, field), wanted))
    sw_verify_text (verifier, listing, row, field, wanted);
}

/* Add a fault unless FIELD is the angle WANTED.  LEVEL is the text that stands for 0. */
static void
check_angle (sw_verifier *verifier, const sw_listing *listing, size_t row, int field, int64_t wanted, const char *level)
{
  /* Halving an odd angle loses half a thousandth. */
  int64_t found = sw_listing_number (listing, row, field);
  found = found == SW_BLANK ? 0 : found;
  wanted = wanted == SW_BLANK ? 0 : wanted;
  if (found >= wanted - 1 && found <= wanted + 1)
    return;
  char should[SW_DECIMAL_TEXT];
  sw_decimal_format (wanted, 3, 0, should);
  SW_VERIFY_FAULT (verifier, listing, row, field, "is \"%s\", should be \"%s\"", sw_listing_text (listing, row, field),
                   wanted != 0 ? should : level);
}

/* The fields in which a file says how a piece is sawn. */
typedef struct sw_saw_fields
{
  int cut;
  int start;
  int finish;
  int plumb;
  int long_point;
  int take;
} sw_saw_fields;

static sw_saw_fields
saw_fields (const sw_verifier *verifier, const sw_listing *listing)
{
  static const sw_saw_fields fit
      = { SW_FIT_CUT, SW_FIT_START_CUT, SW_FIT_FINISH_CUT, SW_FIT_PLUMB, SW_FIT_LONG_POINT, SW_FIT_TAKE };
  static const sw_saw_fields cuts
      = { SW_CUTS_CUT, SW_CUTS_START_CUT, SW_CUTS_FINISH_CUT, SW_CUTS_PLUMB, SW_CUTS_LONG_POINT, SW_CUTS_TAKE };
  return listing == &verifier->fit ? fit : cuts;
}

void
sw_verify_read_sawn (const sw_verifier *verifier, const sw_listing *listing, size_t row, sw_sawn *out)
{
  const sw_saw_fields at = saw_fields (verifier, listing);
  *out = (sw_sawn){ .cut = sw_listing_number (listing, row, at.cut),
                    .take = sw_listing_number (listing, row, at.take),
                    .start_saw = sw_listing_number (listing, row, at.start),
                    .finish_saw = sw_listing_number (listing, row, at.finish),
                    .plumb = sw_listing_number (listing, row, at.plumb),
                    .long_point = sw_listing_text (listing, row, at.long_point) };
}

void
sw_verify_sawn (sw_verifier *verifier, const sw_listing *listing, size_t row, const sw_sawn *should)
{
  const sw_saw_fields at = saw_fields (verifier, listing);
  const sw_length longer = sw_listing_number (listing, row, at.cut) - should->cut;
  const sw_length more = sw_listing_number (listing, row, at.take) - should->take;
  sw_verify_length (verifier, listing, row, at.cut, should->cut);
  /* A piece that is too long takes too much by the same length.  This is one fault, so that the
   * second cell is not reported. */
  if (longer - more > 2 * SW_VERIFY_TOLERANCE || more - longer > 2 * SW_VERIFY_TOLERANCE
      || (longer <= SW_VERIFY_TOLERANCE && -longer <= SW_VERIFY_TOLERANCE))
    sw_verify_length (verifier, listing, row, at.take, should->take);
  check_angle (verifier, listing, row, at.start, should->start_saw, "square");
  check_angle (verifier, listing, row, at.finish, should->finish_saw, "square");
  check_angle (verifier, listing, row, at.plumb, should->plumb, "");
  sw_verify_word (verifier, listing, row, at.long_point, should->long_point);
}

/* NAME without its leading zeros, as a spreadsheet shows it after taking it for a number.  NULL:
 * NAME is not such a number. */
static const char *
as_number (const char *name)
{
  size_t zeros = strspn (name, "0");
  if (zeros == 0 || name[zeros + strspn (name + zeros, "0123456789")] != '\0')
    return NULL;
  return name[zeros] == '\0' ? name + zeros - 1 : name + zeros;
}

/* Remember VALUE under NAME, and under what a spreadsheet makes of NAME. */
static sw_status
add_name (sw_name_index *names, sw_name_index *numbers, const char *name, size_t value)
{
  const char *number = as_number (name);
  sw_status status = sw_name_index_add (names, name, value);
  return status == SW_OK && number != NULL ? sw_name_index_add (numbers, number, value) : status;
}

/* Report that there is no WHAT of the cell's name.  ORIGINAL is the name that a spreadsheet has
 * changed to this one, or NULL.  The row is then taken for that name, so that its pieces are not
 * reported as missing, too. */
static void
blame_name (sw_verifier *verifier, const sw_listing *listing, size_t row, int field, const char *what,
            const char *original)
{
  const char *name = sw_listing_text (listing, row, field);
  if (original == NULL)
    SW_VERIFY_FAULT (verifier, listing, row, field, "\"%s\": the job has no %s of this name", name, what);
  else
    SW_VERIFY_FAULT (verifier, listing, row, field,
                     "is \"%s\", should be \"%s\": a spreadsheet drops the zeros unless the column is opened as text",
                     name, original);
}

size_t
sw_verify_run (sw_verifier *verifier, const sw_listing *listing, size_t row, int field)
{
  const char *name = sw_listing_text (listing, row, field);
  size_t found;
  if (sw_name_index_find (&verifier->runs, name, &found))
    return found;
  if (!sw_name_index_find (&verifier->run_numbers, name, &found))
    found = SW_UNKNOWN;
  blame_name (verifier, listing, row, field, "run", found != SW_UNKNOWN ? verifier->job->fence.runs[found].name : NULL);
  return found;
}

size_t
sw_verify_level (sw_verifier *verifier, const sw_listing *listing, size_t row, int field)
{
  const char *name = sw_listing_text (listing, row, field);
  size_t found;
  if (sw_name_index_find (&verifier->levels, name, &found))
    return found;
  if (!sw_name_index_find (&verifier->level_numbers, name, &found))
    found = SW_UNKNOWN;
  blame_name (verifier, listing, row, field, "level",
              found != SW_UNKNOWN ? verifier->job->levels.items[found].name : NULL);
  return found;
}

bool
sw_verify_is_on (sw_verifier *verifier, const sw_listing *listing, size_t row, int field, size_t run, size_t level)
{
  const sw_level *of = &verifier->job->levels.items[level];
  if (sw_level_is_on (of, run))
    return true;
  SW_VERIFY_FAULT (verifier, listing, row, field, "is \"%s\", a level that run %s does not have (only)", of->name,
                   verifier->job->fence.runs[run].name);
  return false;
}

size_t
sw_verify_post (sw_verifier *verifier, const sw_listing *listing, size_t row, int field, size_t run_index)
{
  const sw_run *run = &verifier->job->fence.runs[run_index];
  int64_t post = sw_listing_number (listing, row, field);
  if (post >= 1 && (uint64_t)post <= run->bay_count + 1)
    return (size_t)post - 1;
  SW_VERIFY_FAULT (verifier, listing, row, field, "is \"%" PRId64 "\": run %s has posts 1 to %zu", post, run->name,
                   run->bay_count + 1);
  return SW_UNKNOWN;
}

sw_status
sw_verify_index_names (sw_verifier *verifier)
{
  const sw_job *job = verifier->job;
  verifier->through = sw_alloc (job->levels.count, sizeof *verifier->through);
  verifier->bought = sw_alloc (job->stocks.count, sizeof *verifier->bought);
  verifier->from_hand = sw_alloc (job->stocks.count, sizeof *verifier->from_hand);
  if (verifier->through == NULL || verifier->bought == NULL || verifier->from_hand == NULL)
    return SW_NO_MEMORY;
  sw_status status = SW_OK;
  for (size_t r = 0; r < job->fence.run_count && status == SW_OK; r++)
    status = add_name (&verifier->runs, &verifier->run_numbers, job->fence.runs[r].name, r);
  for (size_t l = 0; l < job->levels.count && status == SW_OK; l++)
    {
      status = add_name (&verifier->levels, &verifier->level_numbers, job->levels.items[l].name, l);
      if (job->levels.items[l].through)
        verifier->through[verifier->through_count++] = l;
    }
  return status;
}

/* ---- Of the order ---- */

/* Prices may be written with two decimals. */
#define HALF_A_CENT (SW_MONEY_UNIT / 200)

void
sw_verify_count (sw_verifier *verifier, size_t row, int field, int64_t wanted, const char *why)
{
  int64_t found = sw_listing_number (&verifier->order, row, field);
  if (found == SW_BLANK)
    found = 0;
  if (found != wanted)
    SW_VERIFY_FAULT (verifier, &verifier->order, row, field, "is \"%s\", should be %" PRId64 "%s",
                     sw_listing_text (&verifier->order, row, field), wanted, why);
}

void
sw_verify_money (sw_verifier *verifier, size_t row, int field, sw_money wanted)
{
  sw_money found = sw_listing_number (&verifier->order, row, field);
  char should[SW_MONEY_TEXT];
  if (found != SW_BLANK && found >= wanted - HALF_A_CENT && found <= wanted + HALF_A_CENT)
    return;
  sw_money_format_exact (wanted, should);
  SW_VERIFY_FAULT (verifier, &verifier->order, row, field, "is \"%s\", should be %s",
                   sw_listing_text (&verifier->order, row, field), should);
}

void
sw_verify_no_money (sw_verifier *verifier, size_t row, int field)
{
  if (sw_listing_number (&verifier->order, row, field) != SW_BLANK)
    SW_VERIFY_FAULT (verifier, &verifier->order, row, field, "is \"%s\", should be blank: the stock has no prices",
                     sw_listing_text (&verifier->order, row, field));
}

void
sw_verify_metres (sw_verifier *verifier, size_t row, sw_length wanted)
{
  sw_length found = sw_listing_number (&verifier->order, row, SW_ORDER_METRES);
  char should[SW_LENGTH_TEXT];
  if (found >= wanted - SW_VERIFY_TOLERANCE && found <= wanted + SW_VERIFY_TOLERANCE)
    return;
  sw_length_format_m (wanted, false, should);
  SW_VERIFY_FAULT (verifier, &verifier->order, row, SW_ORDER_METRES, "is \"%s\", should be %s",
                   sw_listing_text (&verifier->order, row, SW_ORDER_METRES), should);
}
