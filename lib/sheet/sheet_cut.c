/* sheet_cut.c - one piece on its board, its ends as they are sawn
 *
 * Angles are drawn true.  A cut through the thickness would not be seen from
 * above, so it is drawn as if the timber had a thickness that can be seen.  An
 * end that leans therefore goes a little farther in than at the scale of the
 * lengths.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "sheet/sheet_board.h"

#include "view/cuts.h"

#include <math.h>

#define THICK 10.0 /* the thickness on paper that a cut through the thickness goes through */
#define LEAST 1.8  /* points that an angle makes on paper, at least */
#define DARK 0.5   /* grey of a sloping cut that is seen */

/* One end: how far in, from where the piece begins to take of its board, it is sawn at the front and at the back of the
 * board, and how much farther at the upper and the under side.  One of each pair is 0. */
typedef struct sawn
{
  double front;
  double back;
  double upper;
  double under;
} sawn;

static double
lean (double through, int32_t angle, double most)
{
  return angle == 0 ? 0 : fmin (fmax (through * tan (angle / 1000.0 * G_PI / 180), LEAST), most);
}

/* MOST: the most that any of the measures may be. */
static sawn
sawn_end (const sw_sheet *sheet, const sw_piece *piece, bool finish, double most)
{
  bool flat = sw_cuts_flat (sheet->job, piece);
  bool outer = (finish ? piece->finish_long : piece->start_long) == SW_SIDE_OUTER;
  int32_t saw = finish ? piece->finish_saw : piece->start_saw;
  /* A piece that rises is long below at its start and above at its finish, because plumb leans forward of its square
   * end. */
  bool above = finish != piece->falls;
  double mitre = lean (flat ? SW_SHEET_BAR : THICK, saw, most);
  double plumb = lean (flat ? THICK : SW_SHEET_BAR, piece->plumb, most);
  sawn end = { 0 };
  if (flat)
    {
      *(outer ? &end.back : &end.front) = mitre;
      *(above ? &end.under : &end.upper) = plumb;
    }
  else
    {
      *(outer ? &end.under : &end.upper) = mitre;
      *(above ? &end.front : &end.back) = plumb;
    }
  return end;
}

/* The line of the saw across the board at X; IN (1 or -1) is the direction of the piece's middle. */
static void
put_line (double line[4], double x, double in, const sawn *end, double farther, double y)
{
  line[0] = x + in * (end->back + farther);
  line[1] = y;
  line[2] = x + in * (end->front + farther);
  line[3] = y + SW_SHEET_BAR;
}

/* Draw the upper and the under side of an end where they differ: dashed what is hidden, dark the slope that is seen. */
static void
draw_sides (sw_sheet *sheet, double x, double in, const sawn *end, double y)
{
  double line[8];
  if (end->under > 0)
    {
      put_line (line, x, in, end, end->under, y);
      sw_sheet_dashed (sheet, line[0], line[1], line[2], line[3], 0.9);
    }
  else if (end->upper > 0)
    {
      put_line (line, x, in, end, 0, y);
      put_line (line + 4, x, in, end, end->upper, y);
      const double slope[] = { line[0], line[1], line[2], line[3], line[6], line[7], line[4], line[5] };
      sw_sheet_polygon (sheet, slope, 4, DARK, 0.9);
    }
}

void
sw_sheet_cut_room (const sw_sheet *sheet, const sw_piece *piece, double x1, double x2, double room[2])
{
  const sawn start = sawn_end (sheet, piece, false, (x2 - x1) / 5);
  const sawn finish = sawn_end (sheet, piece, true, (x2 - x1) / 5);
  room[0] = x1 + start.front + start.back + start.under + start.upper;
  room[1] = x2 - finish.front - finish.back - finish.under - finish.upper;
}

void
sw_sheet_cut (sw_sheet *sheet, const sw_piece *piece, double x1, double x2, double y, double room[2])
{
  sawn start = sawn_end (sheet, piece, false, (x2 - x1) / 5), finish = sawn_end (sheet, piece, true, (x2 - x1) / 5);
  double left[4], right[4];
  put_line (left, x1, 1, &start, 0, y);
  put_line (right, x2, -1, &finish, 0, y);
  if (start.front + start.back + finish.front + finish.back > 0)
    sw_sheet_hatch (sheet, x1, y, x2 - x1, SW_SHEET_BAR);
  const double corners[] = { left[0], left[1], right[0], right[1], right[2], right[3], left[2], left[3] };
  sw_sheet_polygon (sheet, corners, 4, 1, 1);
  draw_sides (sheet, x1, 1, &start, y);
  draw_sides (sheet, x2, -1, &finish, y);
  sw_sheet_cut_room (sheet, piece, x1, x2, room);
}

void
sw_sheet_saw_cut (sw_sheet *sheet, const sw_piece *piece, double x1, double x2, double y, double wide)
{
  sawn finish = sawn_end (sheet, piece, true, (x2 - x1) / 5);
  double line[4];
  put_line (line, x2, -1, &finish, 0, y);
  const double slot[] = { line[0], line[1], line[0] + wide, line[1], line[2] + wide, line[3], line[2], line[3] };
  sw_sheet_polygon (sheet, slot, 4, 0, 0);
}

double
sw_sheet_wider_kerf (const sw_sheet *sheet, const sw_piece *piece)
{
  int32_t steepest = piece->plumb > piece->finish_saw ? piece->plumb : piece->finish_saw;
  return (double)sheet->job->settings->kerf * (1 / cos (steepest / 1000.0 * G_PI / 180) - 1);
}
