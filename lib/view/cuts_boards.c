/* cuts_boards.c - the boards that are cut alike, together
 *
 * Their lengths stand once, as heads of columns.  Below them each board has a
 * line with the labels to pencil on.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "view/cuts.h"

#include "base/memory.h"
#include "view/order.h"
#include "view/figures.h"

#include <ctype.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* The columns of the boards' numbers and, at least, of a board's length; the space between two labels. */
#define BOARD_WIDTH 9
#define STOCK_LEAST 9
#define LABEL_GAP 3
/* The offcut stands at the right edge, but on a wide terminal not far from its board. */
#define EDGE_MOST 80

/* The cuts FIRST ... FIRST + COUNT - 1 of every board of a group.  They are equal pieces whose
 * labels differ only in a number that counts up. */
typedef struct segment
{
  size_t first;
  size_t count;
  size_t width; /* width of its column */
} segment;

typedef struct group
{
  const sw_plan *plan;
  size_t first; /* the first board of the group */
  size_t count;
  size_t column; /* where labels begin */
  size_t begun;  /* the byte where the group begins in the text */
  size_t most;   /* number of lines that may be printed */
  size_t segment_count;
  segment *segments;
} group;

/* After the boards' numbers and the widest stock length. */
size_t
sw_cuts_label_column (const sw_job *job)
{
  size_t widest = STOCK_LEAST - 2;
  for (size_t s = 0; s < job->stocks.count; s++)
    {
      char stock[SW_LENGTH_TEXT];
      if (job->stocks.items[s].sawn)
        continue;
      sw_view_stock (job, job->stocks.items[s].length, stock);
      widest = strlen (stock) > widest ? strlen (stock) : widest;
    }
  return BOARD_WIDTH + 2 + widest + 2;
}

/* The length of LABEL up to the number at its end, which follows a space, and that number.  0: there is no number. */
static size_t
counted_stem (const char *label, int64_t *number)
{
  const char *space = strrchr (label, ' ');
  if (space == NULL || !isdigit ((unsigned char)space[1]) || space[1] == '0' || strlen (space + 1) > 9)
    return 0;
  *number = 0;
  for (const char *p = space + 1; *p != '\0'; p++)
    {
      if (!isdigit ((unsigned char)*p))
        return 0;
      *number = *number * 10 + (*p - '0');
    }
  return (size_t)(space - label) + 1;
}

/* Does B's label follow A's, as "block 4" follows "block 3"? */
static bool
follows (const sw_job *job, const sw_piece *a, const sw_piece *b)
{
  int64_t x;
  int64_t y;
  size_t stem = counted_stem (a->label, &x);
  return stem > 0 && counted_stem (b->label, &y) == stem && strncmp (a->label, b->label, stem) == 0 && y == x + 1
         && sw_cuts_same (job, a, b);
}

static const sw_piece *
piece_at (const group *group, size_t board, size_t cut)
{
  return &group->plan->pieces[group->plan->boards[board].pieces[cut]];
}

static bool
all_follow (const group *group, size_t cut)
{
  for (size_t b = group->first; b < group->first + group->count; b++)
    if (!follows (group->plan->job, piece_at (group, b, cut - 1), piece_at (group, b, cut)))
      return false;
  return true;
}

/* The labels of a segment on one board.  NULL when memory runs out. */
static char *
segment_label (const group *group, size_t board, const segment *segment)
{
  sw_text text = { 0 };
  const char *last = piece_at (group, board, segment->first + segment->count - 1)->label;
  sw_view_name (&text, piece_at (group, board, segment->first)->label);
  if (segment->count > 1)
    sw_text_printf (&text, segment->count > 2 ? " to %s" : " and %s", strrchr (last, ' ') + 1);
  return sw_text_take (&text);
}

/* The head of a segment's column: "2398" or "12 x 200". */
static char *
segment_head (const group *group, const segment *segment)
{
  sw_text text = { 0 };
  if (segment->count > 1)
    sw_text_printf (&text, "%zu x ", segment->count);
  sw_cuts_length (&text, group->plan, piece_at (group, group->first, segment->first));
  return sw_text_take (&text);
}

/* Make the column of SEGMENT wide enough for TEXT, and free TEXT.  False: TEXT is NULL, because memory ran out. */
static bool
widen (segment *segment, char *text)
{
  size_t width = text != NULL ? sw_text_width (text) : 0;
  bool known = text != NULL;
  segment->width = width > segment->width ? width : segment->width;
  free (text);
  return known;
}

/* Split the cuts of the group into segments, and measure their columns. */
static sw_status
make_segments (group *group)
{
  size_t cuts = group->plan->boards[group->first].piece_count;
  group->segment_count = 0;
  group->segments = sw_alloc (cuts, sizeof *group->segments);
  if (group->segments == NULL)
    return SW_NO_MEMORY;
  for (size_t c = 0; c < cuts; c++)
    if (c > 0 && all_follow (group, c))
      group->segments[group->segment_count - 1].count++;
    else
      group->segments[group->segment_count++] = (segment){ .first = c, .count = 1 };
  for (size_t s = 0; s < group->segment_count; s++)
    {
      segment *segment = &group->segments[s];
      bool known = widen (segment, segment_head (group, segment));
      for (size_t b = group->first; b < group->first + group->count && known; b++)
        known = widen (segment, segment_label (group, b, segment));
      if (!known)
        return SW_NO_MEMORY;
    }
  return SW_OK;
}

/* Add "left 604, keep" at the right edge.  It goes on this line if it fits behind the COLUMN
 * columns that the line has without padding. */
static void
add_left (sw_text *out, const group *group, size_t column, size_t width)
{
  const sw_board *board = &group->plan->boards[group->first];
  const size_t edge = width < EDGE_MOST ? width : EDGE_MOST;
  char length[SW_LENGTH_TEXT];
  char text[SW_LENGTH_TEXT + 16];
  sw_view_length (group->plan->job, board->left, length);
  snprintf (text, sizeof text, board->left > 0 ? "left %s%s" : "nothing left", length,
            sw_board_is_kept (group->plan, board) ? ", keep" : "");
  sw_view_trim (out);
  if (column + 2 + strlen (text) > edge)
    {
      sw_text_add (out, "\n");
      column = 0;
    }
  sw_text_repeat (out, ' ', edge - column - strlen (text));
  sw_text_printf (out, "%s\n", text);
}

/* Add "3-7  5.4 m".  Returns the column after it, without padding. */
static size_t
add_boards (sw_text *out, const group *group)
{
  char numbers[48];
  char stock[SW_LENGTH_TEXT];
  snprintf (numbers, sizeof numbers, group->count > 1 ? "%zu-%zu" : "%zu", group->first + 1,
            group->first + group->count);
  sw_view_stock (group->plan->job, group->plan->job->stocks.items[group->plan->boards[group->first].stock].length,
                 stock);
  sw_text_printf (out, "%*s  %-*s", BOARD_WIDTH, numbers, (int)(group->column - BOARD_WIDTH - 2), stock);
  return (strlen (numbers) > BOARD_WIDTH ? strlen (numbers) : BOARD_WIDTH) + 2 + strlen (stock);
}

/* May another board be printed after DONE of them?  The first board is printed even if there is no room. */
static bool
goes_on (const sw_text *out, const group *group, size_t done)
{
  return done < group->count && (done == 0 || sw_view_room (out, group->begun, group->most) > 0);
}

/* Add the lengths as heads of columns, and below them a line for each board with its labels.  *DONE
 * is the number of boards printed. */
static sw_status
add_columns (sw_text *out, const group *group, size_t width, size_t *done)
{
  for (size_t line = 0; line == 0 || goes_on (out, group, line - 1); *done = line++)
    {
      size_t board = group->first + line - 1;
      size_t column = group->column;
      size_t end = column;
      if (line == 0)
        add_boards (out, group);
      else if (group->count > 1)
        sw_text_printf (out, "%*zu  ", (int)group->column - 2, board + 1);
      else
        sw_text_repeat (out, ' ', group->column);
      for (size_t s = 0; s < group->segment_count; s++)
        {
          const segment *segment = &group->segments[s];
          char *text = line == 0 ? segment_head (group, segment) : segment_label (group, board, segment);
          if (text == NULL)
            return SW_NO_MEMORY;
          /* The end of the line, unless more follows. */
          end = column + sw_text_width (text);
          if (line == 0)
            sw_view_soften (text);
          sw_view_cell (out, text, segment->width + LABEL_GAP, false);
          column += segment->width + LABEL_GAP;
          free (text);
        }
      if (line == 0)
        add_left (out, group, end, width);
      else
        sw_view_end_line (out);
    }
  return SW_OK;
}

/* Add LABEL from COLUMN on, or on a line of its own below.  A label that is broken over two lines
 * would be pencilled on so. */
static void
add_label (sw_text *out, const group *group, const char *label, size_t column, size_t width)
{
  size_t label_width = sw_text_width (label);
  if (column + label_width > width)
    {
      column = group->column + label_width <= width ? group->column : BOARD_WIDTH + 2;
      sw_view_trim (out);
      sw_text_add (out, "\n");
      sw_text_repeat (out, ' ', column);
    }
  sw_view_wrap (out, label, column, column, width);
  sw_text_add (out, "\n");
}

/* Add HEAD in its column of HEAD_WIDTH with LABEL beside it, or below it if the head is too wide. */
static void
add_cut (sw_text *out, const group *group, char *head, const char *label, size_t head_width, size_t width)
{
  if (group->column + sw_text_width (head) <= width)
    {
      sw_view_soften (head);
      sw_view_cell (out, head, head_width + LABEL_GAP, false);
      add_label (out, group, label, group->column + head_width + LABEL_GAP, width);
      return;
    }
  sw_view_wrap (out, head, group->column, group->column, width);
  add_label (out, group, label, width, width);
}

/* Add a line for each cut of BOARD. */
static sw_status
add_board (sw_text *out, const group *group, size_t board, size_t head_width, size_t width)
{
  for (size_t s = 0; s < group->segment_count; s++)
    {
      char *head = segment_head (group, &group->segments[s]);
      char *label = segment_label (group, board, &group->segments[s]);
      if (head != NULL && label != NULL)
        {
          if (s == 0 && group->count > 1)
            sw_text_printf (out, "%*zu  ", (int)group->column - 2, board + 1);
          else
            sw_text_repeat (out, ' ', group->column);
          add_cut (out, group, head, label, head_width, width);
        }
      bool known = head != NULL && label != NULL;
      free (head);
      free (label);
      if (!known)
        return SW_NO_MEMORY;
    }
  return SW_OK;
}

/* Add the boards cut by cut, where columns would be too wide. */
static sw_status
add_list (sw_text *out, const group *group, size_t width, size_t *done)
{
  size_t head_width = 0;
  sw_status status = SW_OK;
  for (size_t s = 0; s < group->segment_count; s++)
    {
      char *head = segment_head (group, &group->segments[s]);
      if (head == NULL)
        return SW_NO_MEMORY;
      head_width = sw_text_width (head) > head_width ? sw_text_width (head) : head_width;
      free (head);
    }
  size_t end = add_boards (out, group);
  add_left (out, group, end, width);
  for (*done = 0; goes_on (out, group, *done) && status == SW_OK; ++*done)
    status = add_board (out, group, group->first + *done, head_width, width);
  return status;
}

/* What the board is, where it is none that comes whole: "offcut of board 7". */
static void
add_timber (sw_text *out, const group *group, size_t width)
{
  const sw_board *board = &group->plan->boards[group->first];
  const sw_timber *timber = board->timber;
  if (timber == NULL)
    return;
  sw_text line = { 0 };
  sw_text_add (&line, timber->kind == SW_TIMBER_PIECE ? "= the piece " : "= ");
  sw_view_name (&line, timber->name);
  /* Nothing is sawn of it. */
  const sw_length length = timber->ends != NULL ? timber->cut : timber->length;
  if (board->piece_count == 1 && group->plan->pieces[board->pieces[0]].cut == length)
    sw_text_add (&line, ", as it is");
  sw_view_paragraph (out, &line, group->column, group->column + 2, width);
}

sw_status
sw_cuts_group (sw_text *out, const sw_plan *plan, size_t first, size_t *count, size_t column, size_t most, size_t width)
{
  group group
      = { .plan = plan, .first = first, .count = *count, .column = column, .begun = out->length, .most = most };
  sw_status status = make_segments (&group);
  if (status == SW_OK)
    {
      size_t total = group.column;
      for (size_t s = 0; s < group.segment_count && total <= width; s++)
        total += group.segments[s].width + (s > 0 ? LABEL_GAP : 0);
      status = total <= width ? add_columns (out, &group, width, count) : add_list (out, &group, width, count);
    }
  free (group.segments);
  if (status == SW_OK)
    add_timber (out, &group, width);
  return status;
}
