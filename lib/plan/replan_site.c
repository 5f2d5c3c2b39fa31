/* replan_site.c - site.csv laid over the plan before
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "plan/replan.h"

#include "base/memory.h"
#include "base/text.h"
#include "csv/field.h"

#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

enum
{
  STATE,
  PIECE,
  BOARD,
  LEFT,
  COLUMNS
};
static const char *const columns[COLUMNS] = { "state", "piece", "board", "left" };

/* For a label that does not exist, so many similar ones are named. */
#define NEAREST 3
/* Longer labels are not compared letter by letter. */
#define LONGEST_LABEL 600

typedef struct site
{
  sw_old_plan *plan;
  sw_fields fields;
} site;

/* ---- Labels that are near ------------------------------------------------ */

/* Find the NEAREST pieces to TEXT, nearest first; returns how many there are. */
static size_t
find_nearest (const sw_old_plan *plan, const char *text, size_t found[NEAREST])
{
  size_t row[LONGEST_LABEL + 1], away[NEAREST], count = 0;
  if (strlen (text) > LONGEST_LABEL)
    return 0;
  for (size_t p = 0; p < plan->piece_count; p++)
    {
      if (strlen (plan->pieces[p].label) > LONGEST_LABEL)
        continue;
      const size_t here = sw_text_distance (text, plan->pieces[p].label, row);
      size_t at = count < NEAREST ? count : NEAREST;
      while (at > 0 && away[at - 1] > here)
        at--;
      if (at == NEAREST)
        continue;
      count += count < NEAREST ? 1 : 0;
      for (size_t i = count - 1; i > at; i--)
        {
          away[i] = away[i - 1];
          found[i] = found[i - 1];
        }
      away[at] = here;
      found[at] = p;
    }
  return count;
}

static sw_status
refuse_label (site *s, const char *text)
{
  size_t found[NEAREST];
  char shown[SW_SHOWN];
  sw_text near = { 0 };
  const size_t count = find_nearest (s->plan, text, found);
  for (size_t i = 0; i < count; i++)
    {
      char label[SW_SHOWN];
      sw_show_text (s->plan->pieces[found[i]].label, label);
      sw_text_printf (&near, "%s\"%s\"", i == 0 ? "; the nearest: " : ", ", label);
    }
  char *names = sw_text_take (&near);
  if (names == NULL)
    return SW_NO_MEMORY;
  sw_show_text (text, shown);
  const size_t length = strlen (text);
  if (length > 0 && text[length - 1] == '/')
    sw_field_fault (&s->fields, PIECE, "no piece of that plan has a label that begins with \"%s\"%s", shown, names);
  else
    sw_field_fault (&s->fields, PIECE, "no piece of that plan has the label \"%s\"%s%s", shown, names,
                    "; a name that ends in / stands for all that begin so");
  free (names);
  return SW_OK;
}

/* ---- Rows ---------------------------------------------------------------- */

/* Note SAID about something of which WAS has been said already; the more exact name counts. */
static void
say (site *s, sw_said *was, const sw_said *said, size_t column, const char *what)
{
  if (was->state != SW_SITE_NOTHING && was->weight > said->weight)
    return;
  if (was->state != SW_SITE_NOTHING && was->weight == said->weight
      && (was->state != said->state || was->left != said->left))
    {
      char shown[SW_SHOWN];
      sw_show_text (what, shown);
      sw_field_fault (&s->fields, column, "\"%s\" is said to be something else on line %zu", shown, was->line);
      return;
    }
  *was = *said;
}

static sw_status
take_piece (site *s, const char *text, sw_said said)
{
  const size_t length = strlen (text);
  const bool all = length > 0 && text[length - 1] == '/';
  size_t found = 0;
  said.weight = all ? length : SIZE_MAX;
  for (size_t p = 0; p < s->plan->piece_count; p++)
    {
      sw_old_piece *piece = &s->plan->pieces[p];
      if (all ? strncmp (piece->label, text, length) != 0 : strcmp (piece->label, text) != 0)
        continue;
      found++;
      if (said.left > piece->cut)
        {
          char left[SW_SHOWN], cut[SW_SHOWN];
          sw_show_lengths (said.left, piece->cut, s->plan->job->settings->inches, left, cut);
          sw_field_fault (&s->fields, LEFT, "%s is more than the piece had, %s", left, cut);
          return SW_OK;
        }
      say (s, &piece->said, &said, PIECE, piece->label);
    }
  return found > 0 ? SW_OK : refuse_label (s, text);
}

static sw_status
take_board (site *s, sw_said said)
{
  int64_t number = 0;
  if (!sw_field_whole (&s->fields, BOARD, 1, INT32_MAX, &number))
    return SW_OK;
  int64_t most = 0;
  said.weight = SIZE_MAX;
  for (size_t b = 0; b < s->plan->board_count; b++)
    {
      sw_old_board *board = &s->plan->boards[b];
      most = board->number > most ? board->number : most;
      if (board->number != number)
        continue;
      if (said.left > board->length)
        {
          char left[SW_SHOWN], length[SW_SHOWN];
          sw_show_lengths (said.left, board->length, s->plan->job->settings->inches, left, length);
          sw_field_fault (&s->fields, LEFT, "%s is more than the board had, %s", left, length);
          return SW_OK;
        }
      say (s, &board->said, &said, BOARD, sw_field (&s->fields, BOARD));
      return SW_OK;
    }
  sw_field_fault (&s->fields, BOARD, "that plan has no board %" PRId64 ": they are numbered up to %" PRId64, number,
                  most);
  return SW_OK;
}

static sw_status
read_row (site *s)
{
  static const char *const of_pieces[] = { "fixed", "cut", "spoiled" };
  static const char *const of_boards[] = { "bad", "cut up" };
  static const sw_other_word others[] = { { "cut-up", 1 }, { "cut_up", 1 }, { NULL, 0 } };
  sw_fields *fields = &s->fields;
  const char *piece = sw_field (fields, PIECE);
  const bool named = piece[0] != '\0', numbered = sw_field (fields, BOARD)[0] != '\0';
  size_t choice = 0;
  sw_said said = { .left = -1, .line = sw_field_line (fields) };
  if (named == numbered)
    {
      sw_field_fault (fields, PIECE, named ? "expected a piece or a board, found both on one line"
                                           : "expected a piece's label, or a board's number in its own column, found "
                                             "neither");
      return SW_OK;
    }
  bool good = sw_field_needed (fields, STATE, named ? "\"fixed\", \"cut\" or \"spoiled\"" : "\"bad\" or \"cut up\"");
  good = good
         && (named ? sw_field_choice (fields, STATE, of_pieces, 3, &choice)
                   : sw_field_choice_too (fields, STATE, of_boards, 2, others, &choice));
  good = good && sw_field_length (fields, LEFT, SW_BARE_MM, 0, SW_LENGTH_MAX, &said.left);
  if (!good)
    return SW_OK;
  said.state = (sw_site_state)((named ? SW_SITE_FIXED : SW_SITE_BAD) + (int)choice);
  if (said.left >= 0 && (said.state == SW_SITE_FIXED || said.state == SW_SITE_CUT))
    {
      sw_field_fault (fields, LEFT, "expected a blank cell for a piece that is whole, found \"%s\"; what is good of one "
                                    "that was cut wrong is said of it as \"spoiled\"",
                      sw_field (fields, LEFT));
      return SW_OK;
    }
  return named ? take_piece (s, piece, said) : take_board (s, said);
}

sw_status
sw_site_read (sw_old_plan *plan, const char *file, sw_report *report)
{
  sw_table *table = NULL;
  site s = { .plan = plan };
  sw_status status = sw_table_read (&table, file, report);
  if (status == SW_OK && !sw_fields_begin (&s.fields, table, columns, COLUMNS, 1, report))
    status = SW_REJECTED;
  if (status == SW_OK && s.fields.where[PIECE] < 0 && s.fields.where[BOARD] < 0)
    {
      sw_report_add (report, SW_FAULT, file, sw_table_header_line (table), "piece",
                     "expected a column piece, or a column board, found neither");
      status = SW_REJECTED;
    }
  for (; status == SW_OK && s.fields.row < sw_table_rows (table); s.fields.row++)
    status = read_row (&s);
  if (status == SW_OK && s.fields.faults > 0)
    status = SW_REJECTED;
  sw_table_free (table);
  return status;
}
