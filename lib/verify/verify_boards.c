/* verify_boards.c - checks that the stock offers the boards and that they are long enough
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "base/memory.h"
#include "verify/verify.h"

#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

typedef struct sw_row_of_board
{
  int64_t board;
  int64_t number;
  size_t row;
} sw_row_of_board;

typedef struct sw_sawn_board
{
  const sw_row_of_board *rows; /* by number of the cut */
  size_t count;
  size_t stock; /* index of the stock, or SW_UNKNOWN */
  bool ordered; /* the longest piece comes first */
  bool fits;    /* all its pieces come out of it */
} sw_sawn_board;

static int
compare_rows (const void *a, const void *b)
{
  const sw_row_of_board *x = a;
  const sw_row_of_board *y = b;
  if (x->board != y->board)
    return x->board < y->board ? -1 : 1;
  if (x->number != y->number)
    return x->number < y->number ? -1 : 1;
  return (x->row > y->row) - (x->row < y->row);
}

/* 1 for hand, 0 for yard.  -1 and a fault: it is neither. */
static int
read_source (sw_verifier *verifier, size_t row)
{
  const char *source = sw_listing_text (&verifier->cuts, row, SW_CUTS_SOURCE);
  if (sw_same_word (source, "yard"))
    return 0;
  if (sw_same_word (source, "hand"))
    return 1;
  SW_VERIFY_FAULT (verifier, &verifier->cuts, row, SW_CUTS_SOURCE, "is \"%s\", should be \"yard\" or \"hand\"", source);
  return -1;
}

/* The stock that the board of ROW belongs to.  SW_UNKNOWN and a fault: there is none. */
static size_t
find_stock (sw_verifier *verifier, size_t row)
{
  const sw_job *job = verifier->job;
  const sw_listing *cuts = &verifier->cuts;
  const char *section = sw_listing_text (cuts, row, SW_CUTS_SECTION);
  sw_length length = sw_listing_number (cuts, row, SW_CUTS_LENGTH);
  char is[SW_SHOWN];
  const size_t timber = sw_verify_timber (verifier, row);
  if (timber != SW_UNKNOWN)
    {
      const sw_timber *of = &job->on_hand.items[timber];
      sw_verify_length (verifier, cuts, row, SW_CUTS_LENGTH, of->length);
      sw_verify_text (verifier, cuts, row, SW_CUTS_SECTION, job->sections.items[of->section].name);
      sw_verify_word (verifier, cuts, row, SW_CUTS_SOURCE, "hand");
      return of->stock;
    }
  size_t stock = sw_verify_stock (job, section, length);
  if (stock == SW_UNKNOWN)
    SW_VERIFY_FAULT (verifier, cuts, row, SW_CUTS_LENGTH, "a board of %s: the stock offers no such length of \"%s\"",
                     sw_verify_show (verifier, length, is), section);
  return stock;
}

/* Check that the rows of a board describe the same board as the first of them. */
static void
check_alike (sw_verifier *verifier, const sw_row_of_board *rows, size_t count)
{
  static const int fields[] = { SW_CUTS_SECTION, SW_CUTS_SOURCE, SW_CUTS_LENGTH, SW_CUTS_TIMBER };
  const sw_listing *cuts = &verifier->cuts;
  for (size_t i = 1; i < count; i++)
    for (size_t f = 0; f < sizeof fields / sizeof *fields; f++)
      {
        if (cuts->columns[fields[f]] < 0)
          continue;
        const char *is = sw_listing_text (cuts, rows[i].row, fields[f]);
        const char *first = sw_listing_text (cuts, rows[0].row, fields[f]);
        bool same = strcmp (is, first) == 0;
        if (fields[f] == SW_CUTS_LENGTH)
          same = sw_listing_number (cuts, rows[i].row, fields[f]) == sw_listing_number (cuts, rows[0].row, fields[f]);
        else if (fields[f] == SW_CUTS_SOURCE)
          same = sw_same_word (is, first);
        if (!same)
          SW_VERIFY_FAULT (verifier, cuts, rows[i].row, fields[f],
                           "is \"%s\", but \"%s\" for the same board %" PRId64 " on line %zu", is, first, rows[i].board,
                           sw_listing_line (cuts, rows[0].row));
      }
}

/* Check that cuts are numbered 1, 2, 3 ...  Returns whether the longest piece comes first; after a
 * fault it is not asked. */
static bool
check_numbers (sw_verifier *verifier, const sw_row_of_board *rows, size_t count)
{
  bool ordered = true;
  for (size_t i = 0; i < count; i++)
    {
      if (rows[i].number != (int64_t)i + 1)
        {
          SW_VERIFY_FAULT (verifier, &verifier->cuts, rows[i].row, SW_CUTS_NUMBER,
                           "is \"%" PRId64 "\", should be %zu: the cuts of board %" PRId64 " are numbered 1 to %zu",
                           rows[i].number, i + 1, rows[i].board, count);
          return true;
        }
      ordered = ordered && (i == 0 || verifier->sawn[rows[i].row].cut <= verifier->sawn[rows[i - 1].row].cut);
    }
  return ordered;
}

/* The length of a board of STOCK that can be used, with the trim docked off ends that are not sawn already. */
static sw_length
usable (const sw_verifier *verifier, size_t stock)
{
  const sw_job *job = verifier->job;
  const sw_stock *of = &job->stocks.items[stock];
  const sw_section *section = &job->sections.items[of->section];
  const sw_length trim = section->own_trim ? section->end_trim : job->settings->end_trim;
  return of->sawn ? of->length : of->length - 2 * trim;
}

/* Do the pieces of a board fit on it, with the kerfs between them? */
static bool
check_fits (sw_verifier *verifier, const sw_row_of_board *rows, size_t count, size_t stock)
{
  const sw_settings *settings = verifier->job->settings;
  sw_length left = usable (verifier, stock);
  if (count == 1 && sw_verify_as_it_is (verifier, rows[0].row))
    return true;
  for (size_t i = 0; i < count; i++)
    {
      sw_length piece = verifier->sawn[rows[i].row].take;
      if (piece > left + SW_VERIFY_ROUNDING)
        {
          char needs[SW_SHOWN];
          char has[SW_SHOWN];
          sw_show_lengths (piece, left > 0 ? left : 0, settings->inches, needs, has);
          SW_VERIFY_FAULT (verifier, &verifier->cuts, rows[i].row, SW_CUTS_TAKE,
                           "does not fit: %s is needed, board %" PRId64 " has %s left for it", needs, rows[i].board,
                           has);
          return false;
        }
      left -= piece + settings->kerf;
    }
  return true;
}

/* Check what is left after each cut, if all pieces fit on the board. */
static void
check_left (sw_verifier *verifier, const sw_row_of_board *rows, size_t count, size_t stock)
{
  const sw_settings *settings = verifier->job->settings;
  sw_length left = usable (verifier, stock);
  for (size_t i = 0; i < count; i++)
    {
      left -= verifier->sawn[rows[i].row].take + settings->kerf;
      sw_verify_length (verifier, &verifier->cuts, rows[i].row, SW_CUTS_LEFT, left > 0 ? left : 0);
    }
}

/* Of the length of STOCK, the first row of it: what is on hand is at no yard. */
static int64_t
on_hand (const sw_job *job, size_t stock)
{
  int64_t hand = 0;
  for (size_t s = stock; s < job->stocks.count && sw_stock_same (&job->stocks.items[s], &job->stocks.items[stock]); s++)
    hand += job->stocks.items[s].hand;
  return hand;
}

/* One more board of STOCK, first mentioned on ROW. */
static void
count_board (sw_verifier *verifier, size_t row, size_t stock, bool hand)
{
  const sw_stock *of = &verifier->job->stocks.items[stock];
  const char *section = verifier->job->sections.items[of->section].name;
  char length[SW_SHOWN];
  sw_verify_show (verifier, of->length, length);
  if (hand && ++verifier->from_hand[stock] > on_hand (verifier->job, stock))
    SW_VERIFY_FAULT (verifier, &verifier->cuts, row, SW_CUTS_SOURCE,
                     "board %" PRId64 " of \"%s\" %s from hand, should be at most %" PRId64, verifier->from_hand[stock],
                     section, length, on_hand (verifier->job, stock));
  else if (!hand && verifier->job->stocks.offers)
    verifier->bought[stock]++; /* of the same length several yards have their limits: verify_bought.c */
  else if (!hand && ++verifier->bought[stock] > of->limit && of->limit >= 0)
    SW_VERIFY_FAULT (verifier, &verifier->cuts, row, SW_CUTS_LENGTH,
                     "board %" PRId64 " of \"%s\" %s from the yard, should be at most %" PRId64,
                     verifier->bought[stock], section, length, of->limit);
}

static void
check_board (sw_verifier *verifier, sw_sawn_board *board)
{
  int hand = read_source (verifier, board->rows[0].row);
  size_t stock = find_stock (verifier, board->rows[0].row);
  check_alike (verifier, board->rows, board->count);
  board->ordered = check_numbers (verifier, board->rows, board->count);
  board->stock = stock;
  board->fits = stock != SW_UNKNOWN && check_fits (verifier, board->rows, board->count, stock);
  verifier->verdict->boards++;
  if (stock == SW_UNKNOWN || hand < 0)
    verifier->verdict->cost_known = false;
  else
    count_board (verifier, board->rows[0].row, stock, hand == 1);
}

/* Add up the cost of the bought timber and of the joins.  The cost is not known when a sum is out of range. */
static void
add_cost (sw_verifier *verifier)
{
  const sw_job *job = verifier->job;
  sw_verdict *verdict = verifier->verdict;
  bool known = verdict->cost_known;
  int64_t part;
  for (size_t s = 0; s < job->stocks.count && known && !job->stocks.offers; s++)
    known = sw_length_mul (job->priced ? job->stocks.items[s].price : job->stocks.items[s].length, verifier->bought[s],
                           &part)
            && sw_length_add (verdict->cost, part, &verdict->cost);
  if (known)
    known = sw_length_mul (job->settings->join_cost, verdict->joins, &part)
            && sw_length_add (verdict->cost, part, &verdict->cost);
  verdict->cost_known = known;
}

/* Check all boards before looking at what is left of any.  A forgotten kerf makes most of these
 * lengths wrong, and the report keeps only so many faults of a file. */
static void
check_boards (sw_verifier *verifier, sw_sawn_board *boards, size_t count)
{
  size_t unordered = 0;
  for (size_t b = 0; b < count; b++)
    check_board (verifier, &boards[b]);
  for (size_t b = 0; b < count; b++)
    {
      unordered += !boards[b].ordered;
      if (boards[b].fits)
        check_left (verifier, boards[b].rows, boards[b].count, boards[b].stock);
    }
  if (unordered > 0)
    sw_report_add (verifier->report, SW_NOTE, verifier->cuts.file, 0, NULL, "%zu %s not cut longest piece first",
                   unordered, unordered == 1 ? "board is" : "boards are");
}

sw_status
sw_verify_boards (sw_verifier *verifier)
{
  const sw_listing *cuts = &verifier->cuts;
  sw_row_of_board *rows = sw_alloc (cuts->rows, sizeof *rows);
  sw_sawn_board *boards = sw_alloc (cuts->rows, sizeof *boards);
  if (rows != NULL && boards != NULL)
    {
      size_t count = 0;
      for (size_t row = 0; row < cuts->rows; row++)
        rows[row] = (sw_row_of_board){ sw_listing_number (cuts, row, SW_CUTS_BOARD),
                                       sw_listing_number (cuts, row, SW_CUTS_NUMBER), row };
      if (cuts->rows > 0)
        qsort (rows, cuts->rows, sizeof *rows, compare_rows);
      for (size_t i = 0; i < cuts->rows; i++)
        {
          if (i == 0 || rows[i].board != rows[i - 1].board)
            boards[count++].rows = &rows[i];
          boards[count - 1].count++;
        }
      verifier->verdict->cost_known = true;
      check_boards (verifier, boards, count);
      add_cost (verifier);
    }
  bool done = rows != NULL && boards != NULL;
  free (rows);
  free (boards);
  return done ? SW_OK : SW_NO_MEMORY;
}
