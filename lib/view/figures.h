/* figures.h - how figures and names are shown in tables and text
 *
 * Lengths are in nanometres, money in millionths.  Functions that add to a
 * sw_text leave a failed allocation in it.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_FIGURES_H
#define SW_FIGURES_H

#include "base/text.h"
#include "csv/columns.h"
#include "plan/plan.h"

/* ---- Cells of CSV files ---- */

/* Begin an empty table with COUNT columns.  Names that end in "_mm" end in "_in" if the job is shown in inches. */
sw_status sw_view_table (sw_table **out, const sw_job *job, const char *const *header, size_t count);
/* Set a cell of the table's last row.  *STATUS keeps the first failure of many calls, and after it they do nothing. */
void sw_view_set (sw_status *status, sw_table *table, size_t column, const char *text);
void sw_view_set_text (sw_status *status, sw_table *table, size_t column, const char *text);
void sw_view_set_length (sw_status *status, sw_table *table, size_t column, const sw_job *job, sw_length length);
void sw_view_set_count (sw_status *status, sw_table *table, size_t column, int64_t count);

#define SW_VIEW_THOUSANDTHS 48
/* A number of thousandths, such as an angle, without needless decimals: "45", "22.5". */
void sw_view_thousandths (int64_t number, char out[SW_VIEW_THOUSANDTHS]);
/* A saw setting as a cell of a table: "square" for 0, else degrees. */
void sw_view_saw_cell (int32_t saw, char out[SW_VIEW_THOUSANDTHS]);
/* Set three columns from COLUMN on: plumb, long_point and take_mm of PIECE. */
void sw_view_set_sawn (sw_status *status, sw_table *table, size_t column, const sw_job *job, const sw_piece *piece);

/* ---- For the eye ---- */

/* A length in millimetres, or in inches to the nearest 1/16.  Millimetres have two decimals if the
 * length is whole hundredths, and are otherwise rounded to a tenth. */
void sw_view_length (const sw_job *job, sw_length length, char out[SW_LENGTH_TEXT]);
/* Add a mitre: "22.5° outer".  It is the saw's setting off square and the face of its long point;
 * of timber laid flat, the edge.  The space is hard. */
void sw_view_mitre (sw_text *out, int32_t saw, sw_side side);
/* Add how PIECE, which is cut plumb, goes from its start to its finish: "rises 3.6°", "falls 14°".
 * The angle has a tenth of a degree, because no saw is set more closely; a slope that would round
 * to 0 has three decimals.  The space is hard. */
void sw_view_slope (sw_text *out, const sw_piece *piece);
/* A stock length: "4.8 m", "16 ft", or "94 1/2 in" if it is not whole feet. */
void sw_view_stock (const sw_job *job, sw_length length, char out[SW_LENGTH_TEXT]);
/* A sum of lengths: "57.6 lm", or "189.0 ft" to the nearest tenth. */
void sw_view_lineal (const sw_job *job, sw_length length, char out[SW_LENGTH_TEXT]);
/* A sum of lengths to the millimetre ("57.600 m") or to a hundredth of a foot, for sums that stand below each other. */
void sw_view_tally (const sw_job *job, sw_length length, char out[SW_LENGTH_TEXT]);
/* LENGTH as it is printed so. */
sw_length sw_view_tallied (const sw_job *job, sw_length length);
/* A bought length that stands for a cost: "39.0 m", "189.0 ft". */
void sw_view_bought (const sw_job *job, sw_length length, char out[SW_LENGTH_TEXT]);
/* The cost of a plan: money, or else the bought length. */
void sw_view_cost (const sw_plan *plan, int64_t cost, char out[SW_LENGTH_TEXT]);

#define SW_VIEW_PERCENT 48
/* PART in per cent of WHOLE with DECIMALS (0 to 4) decimals, halves rounded up.  "-" if WHOLE is
 * 0.  Neither may be negative. */
void sw_view_percent (int64_t part, int64_t whole, int decimals, char out[SW_VIEW_PERCENT]);
/* Add ascending NUMBERS as "1-3, 5, 9, 10", with ADD added to each.  A number that occurs twice is shown once. */
void sw_view_ranges (sw_text *out, const size_t *numbers, size_t count, size_t add);

/* Add "2 pairs at posts that are always joined". */
void sw_view_always (sw_text *out, int64_t pairs);
/* Has any run two through levels, so that joins can line up? */
bool sw_view_neighbours (const sw_job *job);
/* Are first pieces of neighbouring levels kept long and short in turn? */
bool sw_view_turned (const sw_job *job);

/* The number of PIECE's board; "fixed" where it is in its place already. */
void sw_view_board (const sw_piece *piece, char out[SW_LENGTH_TEXT]);

/* Add a user's TEXT as one line that a terminal only shows. */
void sw_view_name (sw_text *out, const char *text);

/* The number of lines of the cut list, the fit and the set-out that are printed each, give or take
 * a few.  Nobody reads what runs over the screen for minutes. */
#define SW_VIEW_LINES 300
/* The number of lines left of MOST after those of OUT from byte BEGUN on. */
size_t sw_view_room (const sw_text *out, size_t begun, size_t most);
/* Say that WHAT is not printed and that TABLE ("cuts") has all of it.  WHAT is empty afterwards. */
void sw_view_left_out (sw_text *out, sw_text *what, const char *table, size_t width);

/* Say the same of the fence from POST (from 0) of RUN on. */
void sw_view_runs_left_out (sw_text *out, const sw_job *job, size_t run, size_t post, const char *table, size_t width);

/* The number of columns to use: 80 if WIDTH is 0, at least LEAST, and no more than anybody reads across. */
unsigned sw_view_width (unsigned width, unsigned least);

/* The layout of lines.  If a user wrote TEXT, it must have been through sw_view_name. */

/* Add TEXT in a column of WIDTH.  Long text loses its middle to an ellipsis, because both ends of a
 * label tell most.  Short text is padded.  RIGHT: TEXT is a figure, which is padded on the left and
 * never shortened. */
void sw_view_cell (sw_text *out, const char *text, size_t width, bool right);
/* Take off the spaces that padding has left at the end.  The second function then ends the line. */
void sw_view_trim (sw_text *out);
void sw_view_end_line (sw_text *out);
/* A hard space: no line is broken at it.  It is printed as an ordinary space. */
#define SW_VIEW_HARD "\xc2\xa0"
/* Turn the hard spaces of TEXT into ordinary ones, for a line that is not broken. */
void sw_view_soften (char *text);
/* Add TEXT.  Its first line begins in COLUMN (from 0), its other lines are indented by INDENT.  It
 * is broken at spaces so that no line is wider than WIDTH; a word that is too long is broken, too.
 * There is no line feed at the end.  Returns the column after the last character. */
size_t sw_view_wrap (sw_text *out, const char *text, size_t column, size_t indent, size_t width);
/* Add LINE in the same way, with a line feed at the end.  LINE is empty afterwards.  If LINE has failed, OUT fails. */
void sw_view_rest (sw_text *out, sw_text *line, size_t column, size_t indent, size_t width);
/* Add LINE as a paragraph of its own.  Its first line is indented by INDENT, its other lines by
 * HANG.  LINE is empty afterwards. */
void sw_view_paragraph (sw_text *out, sw_text *line, size_t indent, size_t hang, size_t width);
/* Take the text out of LINE, which is empty afterwards.  NULL: LINE had failed, and OUT fails, too. */
char *sw_view_take (sw_text *out, sw_text *line);

#endif
