/* sheet_board.h - pieces on their boards as the saw meets them
 *
 * A board lies with the outer face of its pieces up, their upper edge at the
 * back and their start at the left; timber that will be laid flat lies with
 * its upper side up, its outer edge at the front.  So it is drawn, the front
 * at the foot.
 *
 * From the lowest file up: sheet_saw (words), sheet_end (small views),
 * sheet_cut (a piece on its board), sheet_bar (a board), sheet_pile (boards
 * that are sawn alike), sheet_boards (all of them).
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_SHEET_BOARD_H
#define SW_SHEET_BOARD_H

#include "sheet/sheet.h"
#include "sheet/sheet_pack.h"

#define SW_SHEET_BAR 18.0       /* a board's height on paper */
#define SW_SHEET_NUMBER 46.0    /* points for box and board number, left of the bar */
#define SW_SHEET_LEFT_OVER 54.0 /* and for what is left over, right of it */
#define SW_SHEET_STOCK_ROW 16.0 /* for what boards are of, over them */

/* How the labels of a pile stand under its bar. */
typedef enum sw_sheet_labels
{
  SW_SHEET_LABELS_UNDER, /* a row a board, each label under its piece of the bar */
  SW_SHEET_LABELS_FLOW   /* one after the other */
} sw_sheet_labels;

/* Boards that are sawn alike are drawn once; each keeps its own box to tick
 * and its own pieces.  A pile that is too high for a page is cut into several. */
typedef struct sw_sheet_pile
{
  size_t first; /* of the plan's boards */
  size_t count;
  size_t cut_first; /* the cuts whose pieces are named */
  size_t cut_end;
  bool heading;   /* it is the first of its stock */
  bool continued; /* the bar has been drawn already */
  bool inside;    /* box and mark stand on the bar */
  sw_sheet_labels labels;
} sw_sheet_pile;

/* A pile at its place. */
typedef struct sw_sheet_stack
{
  sw_sheet *sheet;
  const sw_sheet_pile *pile;
  const sw_board *board; /* the first: all are sawn like it */
  const sw_stock *stock;
  double scale; /* points a nanometre */
  double left;
  double right;
} sw_sheet_stack;

/* ---- sheet_saw.c ---- */

/* Is any of its cuts at an angle? */
bool sw_sheet_is_angled (const sw_piece *piece);
/* Is the saw set for B as it is for A, to what can be set? */
bool sw_sheet_sawn_alike (const sw_job *job, const sw_piece *a, const sw_piece *b);
/* How far back the short point of a mitre at SAW lies along PIECE. */
sw_length sw_sheet_short_point (const sw_job *job, const sw_piece *piece, int32_t saw);
/* "rises 3.6°, cut plumb across the width; finish saw 45° through the thickness,
 * long point on the outer face, short point 38 back" */
void sw_sheet_saw_words (sw_text *out, const sw_job *job, const sw_piece *piece);
/* How boards lie and what the lines at their ends are, at sheet->y, where a cut of the plan is at an angle. */
void sw_sheet_saw_key (sw_sheet *sheet);

/* ---- sheet_end.c ---- */

/* How wide and high the small views of PIECE's ends are, and those views at X and Y, one under the other. */
double sw_sheet_end_width (const sw_piece *piece);
double sw_sheet_end_height (const sw_sheet *sheet, const sw_piece *piece);
void sw_sheet_end_draw (sw_sheet *sheet, const sw_piece *piece, double x, double y);

/* ---- sheet_cut.c ---- */

/* PIECE in X1 to X2, which is what it takes of the bar at Y without its saw
 * cut: its ends as they lean, waste hatched.  FREE: from where to where it can be written on. */
void sw_sheet_cut (sw_sheet *sheet, const sw_piece *piece, double x1, double x2, double y, double room[2]);
/* The same without drawing. */
void sw_sheet_cut_room (const sw_sheet *sheet, const sw_piece *piece, double x1, double x2, double room[2]);
/* The saw cut at its finish, WIDE along the board. */
void sw_sheet_saw_cut (sw_sheet *sheet, const sw_piece *piece, double x1, double x2, double y, double wide);
/* What of the piece's take is the width of its saw cut at an angle, over an ordinary one; nanometres. */
double sw_sheet_wider_kerf (const sw_sheet *sheet, const sw_piece *piece);

/* ---- sheet_bar.c ---- */

/* The piece that board WHICH of the pile has at CUT, and its index in the plan. */
const sw_piece *sw_sheet_pile_piece (const sw_sheet_stack *s, size_t which, size_t cut);
size_t sw_sheet_pile_index (const sw_sheet_stack *s, size_t which, size_t cut);
double sw_sheet_bar_left (const sw_sheet_stack *s);
/* Where on paper the piece of CUT begins and ends, its saw cut apart.  AT: where it begins on the board; becomes where
 * the next one does. */
void sw_sheet_bar_piece (const sw_sheet_stack *s, size_t cut, sw_length *at, double *x1, double *x2);
/* Is there room on the bar for box, mark, length and tape mark of every piece; for length and tape mark? */
bool sw_sheet_bar_takes_marks (const sw_sheet_stack *s);
bool sw_sheet_bar_takes_lengths (const sw_sheet_stack *s);
/* The bar at Y with what is written on it. */
void sw_sheet_bar (const sw_sheet_stack *s, double y);
/* Where the tape is, from the board's left end, when the piece of CUT is cut off that begins at AT; "": it ends with
 * the board. */
void sw_sheet_tape_mark (const sw_sheet_stack *s, size_t cut, sw_length at, char out[SW_LENGTH_TEXT]);

/* ---- sheet_pile.c ---- */

/* How the pile is set out, apart from which cuts and boards it has. */
void sw_sheet_pile_choose (const sw_sheet_stack *s, sw_sheet_pile *pile);
double sw_sheet_pile_height (const sw_sheet_stack *s);
void sw_sheet_pile_draw (const sw_sheet_stack *s, double y);
/* "75x38, 5.4 m, from hand" and what the columns at the right are, over BASELINE. */
void sw_sheet_pile_stock (const sw_sheet_stack *s, double baseline, bool continued);

#endif
