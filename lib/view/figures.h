/* figures.h - how figures and names are shown in tables and text
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_FIGURES_H
#define SW_FIGURES_H

#include "base/text.h"
#include "csv/columns.h"
#include "plan/plan.h"

/* ---- Cells of CSV files ---- */

/* An empty table.  Names that end "_mm" end "_in" where the job is shown in inches. */
sw_status sw_view_table (sw_table **out, const sw_job *job, const char *const *header, size_t count);
/* The first failure of many calls sticks; later ones do nothing. */
void sw_view_set (sw_status *status, sw_table *table, size_t column, const char *text);
void sw_view_set_text (sw_status *status, sw_table *table, size_t column, const char *text);
void sw_view_set_length (sw_status *status, sw_table *table, size_t column, const sw_job *job, sw_length length);
void sw_view_set_count (sw_status *status, sw_table *table, size_t column, int64_t count);

#define SW_VIEW_THOUSANDTHS 48
/* "45", "22.5": thousandths, of a degree say, without decimals that say nothing. */
void sw_view_thousandths (int64_t number, char out[SW_VIEW_THOUSANDTHS]);
/* A saw setting as a cell of a table: "square" for 0. */
void sw_view_saw_cell (int32_t saw, char out[SW_VIEW_THOUSANDTHS]);
/* How PIECE is sawn and what it takes of its board: plumb, long_point and take_mm, in three columns from COLUMN on. */
void sw_view_set_sawn (sw_status *status, sw_table *table, size_t column, const sw_job *job, const sw_piece *piece);

/* ---- For the eye ---- */

/* Millimetres, or inches to the nearest 1/16. */
void sw_view_length (const sw_job *job, sw_length length, char out[SW_LENGTH_TEXT]);
/* A mitre: "22.5° outer", the saw's setting off square and the face (of
 * timber laid flat: edge) of its long point.  The space is a hard one. */
void sw_view_mitre (sw_text *out, int32_t saw, sw_side side);
/* "rises 3.6°", "falls 14°": how PIECE, which is cut plumb, goes from its
 * start to its finish, to the tenth of a degree, which no saw is set closer
 * than; a slope that would round to none to the thousandth.  A hard space. */
void sw_view_slope (sw_text *out, const sw_piece *piece);
/* A stock length: "4.8 m", "16 ft", or "94 1/2 in" where it is not whole feet. */
void sw_view_stock (const sw_job *job, sw_length length, char out[SW_LENGTH_TEXT]);
/* A sum of lengths: "57.6 lm", or "189.0 ft" to the nearest tenth. */
void sw_view_lineal (const sw_job *job, sw_length length, char out[SW_LENGTH_TEXT]);
/* The same to the millimetre ("57.600 m"), or to a hundredth of a foot: for sums that stand below each other. */
void sw_view_tally (const sw_job *job, sw_length length, char out[SW_LENGTH_TEXT]);
/* A length bought, as a cost: "39.0 m", "189.0 ft". */
void sw_view_bought (const sw_job *job, sw_length length, char out[SW_LENGTH_TEXT]);
/* The cost of a plan: money, or lengths bought. */
void sw_view_cost (const sw_plan *plan, int64_t cost, char out[SW_LENGTH_TEXT]);

#define SW_VIEW_PERCENT 48
/* PART of WHOLE in per cent with DECIMALS (0 to 4) decimals, half up; "-"
 * where WHOLE is 0.  Neither is negative. */
void sw_view_percent (int64_t part, int64_t whole, int decimals, char out[SW_VIEW_PERCENT]);
/* Ascending numbers as "1-3, 5, 9, 10", each with ADD added; numbers that
 * stand twice are shown once. */
void sw_view_ranges (sw_text *out, const size_t *numbers, size_t count, size_t add);

/* "2 pairs at posts that are always joined" */
void sw_view_always (sw_text *out, int64_t pairs);
/* Has any run two through levels, so that their joins are neighbours? */
bool sw_view_neighbours (const sw_job *job);
/* Are first pieces of neighbouring levels kept long and short in turn? */
bool sw_view_turned (const sw_job *job);

/* Add text that came from a user, as one line in which a terminal finds nothing to obey. */
void sw_view_name (sw_text *out, const char *text);

/* So many lines, or hardly more, are printed of the cut list, the fit and the set-out each: a screen that has run by for
 * minutes is read by nobody. */
#define SW_VIEW_LINES 300
/* Of MOST lines, how many there is still room for after those that OUT has from byte BEGUN on; 0: none. */
size_t sw_view_room (const sw_text *out, size_t begun, size_t most);
/* Says that WHAT, which is empty afterwards, is not printed, and that TABLE ("cuts") has all of it. */
void sw_view_left_out (sw_text *out, sw_text *what, const char *table, size_t width);

/* The same of what is left of the fence from POST (from 0) of RUN on. */
void sw_view_runs_left_out (sw_text *out, const sw_job *job, size_t run, size_t post, const char *table, size_t width);

/* WIDTH columns as they are used: 80 for 0, and no fewer than LEAST nor more than anybody reads across. */
unsigned sw_view_width (unsigned width, unsigned least);

/* Layout of lines.  TEXT has been through sw_view_name where a user wrote it. */

/* TEXT in a column of WIDTH: shortened in the middle with an ellipsis where
 * it is too long (both ends of a label tell most), padded where it is short,
 * on the left when RIGHT. */
void sw_view_cell (sw_text *out, const char *text, size_t width, bool right);
/* Take off the spaces that padding has left at the end; end a line without them. */
void sw_view_trim (sw_text *out);
void sw_view_end_line (sw_text *out);
/* A space at which lines are not broken; it comes out as a plain one. */
#define SW_VIEW_HARD "\xc2\xa0"
/* Make them plain ones in TEXT, for a line that is not broken. */
void sw_view_soften (char *text);
/* Add TEXT whose first line begins in column COLUMN (from 0) and whose other
 * lines are indented by INDENT, broken at spaces so that no line is wider
 * than WIDTH; a word that is too long is broken too.  Ends without a line
 * feed.  Returns the column after the last character. */
size_t sw_view_wrap (sw_text *out, const char *text, size_t column, size_t indent, size_t width);
/* The same with a line feed at the end.  LINE is empty afterwards; if it has failed, OUT fails. */
void sw_view_rest (sw_text *out, sw_text *line, size_t column, size_t indent, size_t width);
/* The same as a paragraph of its own: indented by INDENT, later lines by HANG. */
void sw_view_paragraph (sw_text *out, sw_text *line, size_t indent, size_t hang, size_t width);
/* What LINE holds, which is empty afterwards; NULL when it has failed, and then OUT fails too. */
char *sw_view_take (sw_text *out, sw_text *line);

#endif
