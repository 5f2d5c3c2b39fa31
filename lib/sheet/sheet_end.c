/* sheet_end.c - small views of a piece's angled ends, at their true angles
 *
 * A mitre is seen on the edge that it is sawn across, with the outer face (of
 * timber laid flat: the outer edge) at the foot.  A plumb cut is seen on the
 * face that is up on the saw horses.  The start of the piece is at the left,
 * and its middle is left out.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "sheet/sheet_board.h"

#include "view/cuts.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#define THIN 13.0      /* height of timber seen on its edge */
#define WIDE 21.0      /* height of timber seen on its face */
#define PLUMB 10.0     /* height of timber that has only plumb cuts */
#define MITRED 126.0   /* width of a view with a mitre */
#define RAKED 44.0     /* width of a view without one, as nothing is written beside it */
#define ABOVE 10.0     /* for a line of text over the view */
#define SIDE 30.0      /* free at either end for what is written there */
#define MOST_LEAN 26.0 /* an end may be cut so far in on paper, at most */
#define APART 3.0

/* How far in each corner of a view is. */
typedef struct seen
{
  double high;
  double upper[2]; /* at start and finish */
  double lower[2];
} seen;

static bool
is_mitred (const sw_piece *piece)
{
  return piece->start_saw != 0 || piece->finish_saw != 0;
}

double
sw_sheet_end_width (const sw_piece *piece)
{
  return is_mitred (piece) ? MITRED : RAKED;
}

double
sw_sheet_end_height (const sw_sheet *sheet, const sw_piece *piece)
{
  const bool flat = sw_cuts_flat (sheet->job, piece);
  double height = 0;
  if (is_mitred (piece))
    height += ABOVE + (flat ? WIDE : THIN) + ABOVE;
  if (piece->plumb != 0)
    height += PLUMB;
  return height + (is_mitred (piece) && piece->plumb != 0 ? APART : 0);
}

static double
lean (double high, int32_t angle)
{
  return fmin (high * tan (angle / 1000.0 * G_PI / 180), MOST_LEAN);
}

/* Draw the two ends of a piece, with its middle left out. */
static void
draw_seen (sw_sheet *sheet, const seen *v, double left, double right, double y)
{
  const double middle = (left + right) / 2;
  const double foot = y + v->high, half = y + v->high / 2;
  const double start[] = { left + v->upper[0], y,    middle - 4, y,    middle - 1,         half,
                           middle - 6,         half, middle - 4, foot, left + v->lower[0], foot };
  const double finish[] = { right - v->upper[1], y,    middle + 4, y,    middle + 7,          half,
                            middle + 2,          half, middle + 4, foot, right - v->lower[1], foot };
  sw_sheet_polygon (sheet, start, 6, 1, 0.8);
  sw_sheet_polygon (sheet, finish, 6, 1, 0.8);
}

/* Write "45°" beside the end of the view, and "38", how far back its short point is. */
static void
write_mitre (sw_sheet *sheet, const sw_piece *piece, bool finish, const seen *v, double x, double y)
{
  const int32_t saw = finish ? piece->finish_saw : piece->start_saw;
  const bool outer = (finish ? piece->finish_long : piece->start_long) == SW_SIDE_OUTER;
  const double in = outer ? v->upper[finish] : v->lower[finish];
  const double end = finish ? x + MITRED - SIDE : x + SIDE, way = finish ? -1 : 1;
  char text[SW_VIEW_THOUSANDTHS + 4];
  if (saw == 0)
    return;
  sw_view_thousandths (saw, text);
  snprintf (text + strlen (text), 4, "\302\260");
  sw_sheet_text (sheet, SW_SHEET_SMALL_STRONG, finish ? SW_SHEET_LEFT : SW_SHEET_RIGHT, end - way * 3,
                 y + v->high / 2 + 3, 0, text);
  const sw_length back = sw_sheet_short_point (sheet->job, piece, saw);
  if (back == 0)
    return;
  /* Write it over or under the view, on the side of the short point. */
  char length[SW_LENGTH_TEXT];
  sw_view_length (sheet->job, back, length);
  const double line = outer ? y - 2 : y + v->high + 2;
  sw_sheet_line (sheet, end, line, end + way * in, line, 0.5);
  sw_sheet_line (sheet, end, line - 2, end, line + 2, 0.5);
  sw_sheet_line (sheet, end + way * in, line - 2, end + way * in, line + 2, 0.5);
  sw_sheet_text (sheet, SW_SHEET_SMALL, SW_SHEET_CENTRE, end + way * in / 2, outer ? line - 2 : line + 8, 0, length);
}

static void
draw_mitres (sw_sheet *sheet, const sw_piece *piece, bool flat, double x, double y)
{
  seen v = { .high = flat ? WIDE : THIN };
  for (int finish = 0; finish < 2; finish++)
    {
      const double in = lean (v.high, finish ? piece->finish_saw : piece->start_saw);
      const bool outer = (finish ? piece->finish_long : piece->start_long) == SW_SIDE_OUTER;
      *(outer ? &v.upper[finish] : &v.lower[finish]) = in;
    }
  draw_seen (sheet, &v, x + SIDE, x + MITRED - SIDE, y + ABOVE);
  const double middle = x + MITRED / 2;
  sw_sheet_text (sheet, SW_SHEET_SMALL, SW_SHEET_CENTRE, middle, y + ABOVE + v.high + 8, 0, "outer");
  sw_sheet_text (sheet, SW_SHEET_SMALL, SW_SHEET_CENTRE, middle, y + ABOVE - 2, 0, "inner");
  write_mitre (sheet, piece, false, &v, x, y + ABOVE);
  write_mitre (sheet, piece, true, &v, x, y + ABOVE);
}

static void
draw_plumb (sw_sheet *sheet, const sw_piece *piece, bool flat, double x, double y)
{
  seen v = { .high = flat ? PLUMB - 3 : PLUMB };
  const double in = lean (v.high, piece->plumb);
  /* A piece that rises is long below at its start and above at its finish. */
  if (piece->falls)
    v.lower[0] = v.upper[1] = in;
  else
    v.upper[0] = v.lower[1] = in;
  const double side = is_mitred (piece) ? SIDE : 1;
  draw_seen (sheet, &v, x + side, x + sw_sheet_end_width (piece) - side, y);
}

void
sw_sheet_end_draw (sw_sheet *sheet, const sw_piece *piece, double x, double y)
{
  const bool flat = sw_cuts_flat (sheet->job, piece);
  if (sheet->cr == NULL)
    return;
  if (is_mitred (piece))
    {
      draw_mitres (sheet, piece, flat, x, y);
      y += ABOVE + (flat ? WIDE : THIN) + ABOVE + APART;
    }
  if (piece->plumb != 0)
    draw_plumb (sheet, piece, flat, x, y);
}
