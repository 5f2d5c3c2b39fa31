/* sheet_board.h - pieces on their boards as the saw meets them
 *
 * A board lies with the outer face of its pieces up, their upper edge at the
 * back and their start at the left; timber that will be laid flat lies with
 * its upper side up, its outer edge at the front.  So it is drawn, the front
 * at the foot.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_SHEET_BOARD_H
#define SW_SHEET_BOARD_H

#include "sheet/sheet.h"

#define SW_SHEET_BAR 22.0 /* a board's height on paper */

/* ---- sheet_cut.c ---- */

/* PIECE in X1 to X2, which is what it takes of the bar at Y without its saw
 * cut: its ends as they lean, waste hatched, its length, its mitres. */
void sw_sheet_cut (sw_sheet *sheet, const sw_piece *piece, double x1, double x2, double y);
/* The saw cut at its finish, WIDE along the board. */
void sw_sheet_saw_cut (sw_sheet *sheet, const sw_piece *piece, double x1, double x2, double y, double wide);
/* What of the piece's take is the width of its saw cut at an angle, over an ordinary one; nanometres. */
double sw_sheet_wider_kerf (const sw_sheet *sheet, const sw_piece *piece);

/* ---- sheet_saw.c ---- */

/* Is any of its cuts at an angle? */
bool sw_sheet_is_angled (const sw_piece *piece);
/* Is the saw set for B as it is for A, to what can be set? */
bool sw_sheet_sawn_alike (const sw_job *job, const sw_piece *a, const sw_piece *b);
/* "rises 3.6°, cut plumb across the width; finish saw 45° through the thickness,
 * long point on the outer face, short point 38 back" */
void sw_sheet_saw_words (sw_text *out, const sw_job *job, const sw_piece *piece);
/* How boards lie and what the lines at their ends are, at sheet->y, where a cut of the plan is at an angle. */
void sw_sheet_saw_key (sw_sheet *sheet);

#endif
