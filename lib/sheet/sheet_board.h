/* sheet_board.h - pieces on their boards as the saw meets them
 *
 * A board lies with the outer face of its pieces up, their upper edge at the
 * back and their start at the left.  Timber that will be laid flat lies with
 * its upper side up and its outer edge at the front.  The drawing shows it so,
 * with the front at the foot.
 *
 * From the lowest file up: sheet_saw (words), sheet_end (small views),
 * sheet_cut (a piece on its board), sheet_bar (a board), sheet_pile (boards
 * that are sawn alike), sheet_boards (all of them).
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_SHEET_BOARD_H
#define SW_SHEET_BOARD_H

#include "sheet/sheet.h"
#include "sheet/sheet_pack.h"

#define SW_SHEET_BAR 18.0       /* height of a board on paper */
#define SW_SHEET_NUMBER 46.0    /* points for the box and the board's number, left of the bar */
#define SW_SHEET_LEFT_OVER 54.0 /* points for what is left over, right of the bar */
#define SW_SHEET_STOCK_ROW 16.0 /* points over the boards, to say what they are of */

/* How the labels of a pile are placed under its bar. */
typedef enum sw_sheet_labels
{
  SW_SHEET_LABELS_UNDER, /* one line a board, each label under its piece of the bar */
  SW_SHEET_LABELS_FLOW   /* one after the other */
} sw_sheet_labels;

/* Boards that are sawn alike are drawn once, but each has its own box to tick and its own pieces.  A pile that is too
 * high for a page is cut into several. */
typedef struct sw_sheet_pile
{
  size_t first; /* index of the plan's boards */
  size_t count;
  size_t cut_first; /* the cuts whose pieces are named */
  size_t cut_end;
  bool heading;   /* it is the first of its stock */
  bool continued; /* the bar has been drawn already */
  bool inside;    /* box and mark are on the bar */
  sw_sheet_labels labels;
} sw_sheet_pile;

/* A pile at its place. */
typedef struct sw_sheet_stack
{
  sw_sheet *sheet;
  const sw_sheet_pile *pile;
  const sw_board *board; /* the first board; all are sawn like it */
  const sw_stock *stock;
  double scale; /* points in a nanometre */
  double left;
  double right;
} sw_sheet_stack;

/* ---- sheet_saw.c ---- */

/* Is any of its cuts at an angle? */
bool sw_sheet_is_angled (const sw_piece *piece);
/* Is the saw set for B as for A, as closely as a saw can be set? */
bool sw_sheet_sawn_alike (const sw_job *job, const sw_piece *a, const sw_piece *b);
/* How far back along PIECE the short point of a mitre at SAW lies. */
sw_length sw_sheet_short_point (const sw_job *job, const sw_piece *piece, int32_t saw);
/* "rises 3.6°, cut plumb across the width; finish saw 45° through the thickness,
 * long point on the outer face, short point 38 back" */
void sw_sheet_saw_words (sw_text *out, const sw_job *job, const sw_piece *piece);
/* Explain at sheet->y how boards lie and what the lines at their ends mean, where the plan has a cut at an angle. */
void sw_sheet_saw_key (sw_sheet *sheet);

/* ---- sheet_end.c ---- */

/* The width and the height of the small views of PIECE's ends; then: draw those views at X and Y, one under the
 * other. */
double sw_sheet_end_width (const sw_piece *piece);
double sw_sheet_end_height (const sw_sheet *sheet, const sw_piece *piece);
void sw_sheet_end_draw (sw_sheet *sheet, const sw_piece *piece, double x, double y);

/* ---- sheet_cut.c ---- */

/* Draw PIECE from X1 to X2, which is what it takes of the bar at Y without its saw cut.  Its ends lean as they are
 * sawn, and waste is hatched.  FREE: from where to where it can be written on. */
void sw_sheet_cut (sw_sheet *sheet, const sw_piece *piece, double x1, double x2, double y, double room[2]);
/* Find the same FREE without drawing. */
void sw_sheet_cut_room (const sw_sheet *sheet, const sw_piece *piece, double x1, double x2, double room[2]);
/* Draw the saw cut at the piece's finish, WIDE along the board. */
void sw_sheet_saw_cut (sw_sheet *sheet, const sw_piece *piece, double x1, double x2, double y, double wide);
/* How much of the piece's take its saw cut at an angle is wider than an ordinary one; nanometres. */
double sw_sheet_wider_kerf (const sw_sheet *sheet, const sw_piece *piece);

/* ---- sheet_bar.c ---- */

/* The piece that board WHICH of the pile has at CUT; then: its index in the plan. */
const sw_piece *sw_sheet_pile_piece (const sw_sheet_stack *s, size_t which, size_t cut);
size_t sw_sheet_pile_index (const sw_sheet_stack *s, size_t which, size_t cut);
double sw_sheet_bar_left (const sw_sheet_stack *s);
/* Where on paper the piece of CUT begins and ends, without its saw cut.  AT: where it begins on the board; becomes
 * where the next piece begins. */
void sw_sheet_bar_piece (const sw_sheet_stack *s, size_t cut, sw_length *at, double *x1, double *x2);
/* Has the bar room for box, mark, length and tape mark of every piece?  Then: has it room for length and tape mark? */
bool sw_sheet_bar_takes_marks (const sw_sheet_stack *s);
bool sw_sheet_bar_takes_lengths (const sw_sheet_stack *s);
/* Draw the bar at Y with what is written on it. */
void sw_sheet_bar (const sw_sheet_stack *s, double y);
/* What the tape shows, from the board's left end, when the piece of CUT, which begins at AT, is cut off; "": the piece
 * ends with the board. */
void sw_sheet_tape_mark (const sw_sheet_stack *s, size_t cut, sw_length at, char out[SW_LENGTH_TEXT]);

/* ---- sheet_pile.c ---- */

/* Choose how the pile is set out, whatever cuts and boards it has. */
void sw_sheet_pile_choose (const sw_sheet_stack *s, sw_sheet_pile *pile);
double sw_sheet_pile_height (const sw_sheet_stack *s);
void sw_sheet_pile_draw (const sw_sheet_stack *s, double y);
/* Write "75x38, 5.4 m, from hand", and what the columns at the right are, over BASELINE. */
void sw_sheet_pile_stock (const sw_sheet_stack *s, double baseline, bool continued);

#endif
