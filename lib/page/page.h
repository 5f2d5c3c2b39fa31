/* page.h - the page for a telephone at the saw
 *
 * One file that asks for no other: page.html with page.css, page.js and the
 * plan's pieces in it.  Texts of a user go through the functions here, into
 * markup or into the script's data.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_PAGE_H
#define SW_PAGE_H

#include "base/text.h"
#include "plan/plan.h"

/* A plan of more pieces has no page: a telephone would be minutes at showing them. */
#define SW_PAGE_PIECES 20000

/* The page of PLAN, which has at most SW_PAGE_PIECES pieces.  The same plan
 * gives the same bytes.  O(pieces + posts * levels). */
sw_status sw_page (const sw_plan *plan, sw_text *out);

/* ---- Its parts ---- */

/* Source files of this folder as the build has put them into C (page_parts.c). */
extern const char sw_page_html[];
extern const char sw_page_css[];
extern const char sw_page_js[];

/* Add TEXT to markup, as content or in double quotes: nothing of it is obeyed
 * there, and control characters are written out (text.h). */
void sw_page_text (sw_text *out, const char *text);
/* The same as content, in a <bdi>, so that a name in another direction leaves what stands around it alone. */
void sw_page_name (sw_text *out, const char *text);
/* The same of a piece's label, whose last part ("2-4") is not broken. */
void sw_page_label (sw_text *out, const char *label);
/* TEXT, byte for byte, as a string of JSON that may stand in a <script>. */
void sw_page_string (sw_text *out, const char *text);
/* PART of WHOLE (> 0) in per cent, to the thousandth: "12.5%".  Neither is negative. */
void sw_page_percent (sw_text *out, sw_length part, sw_length whole);

/* A list of boards for each section. */
sw_status sw_page_boards (sw_text *out, const sw_plan *plan);
/* A drawing and lists for each run; then the pieces that have no place on one. */
sw_status sw_page_runs (sw_text *out, const sw_plan *plan);

/* How the saw is set for PIECE, and what it takes of its board: a sentence a line; nothing where it is cut square. */
void sw_page_saw (sw_text *out, const sw_plan *plan, const sw_piece *piece);
/* The button for what went wrong with the piece of index P. */
void sw_page_mishap (sw_text *out, const sw_plan *plan, size_t p);

#endif
