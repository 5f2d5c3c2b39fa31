/* page.h - the page for a telephone at the saw
 *
 * It is one file that asks for no other: page.html, with page.css, page.js and
 * the plan's pieces put into it.  Texts of a user reach the markup, or the
 * script's data, only through the functions here.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_PAGE_H
#define SW_PAGE_H

#include "base/text.h"
#include "plan/plan.h"

/* A plan of more pieces has no page, because a telephone would take minutes to show them. */
#define SW_PAGE_PIECES 20000

/* Write the page of PLAN, which has at most SW_PAGE_PIECES pieces.  The same plan gives the same bytes.  O(pieces +
 * posts * levels). */
sw_status sw_page (const sw_plan *plan, sw_text *out);

/* ---- Its parts ---- */

/* Source files of this folder, which the build has put into C (page_parts.c). */
extern const char sw_page_html[];
extern const char sw_page_css[];
extern const char sw_page_js[];

/* Add TEXT to markup, as content or in double quotes.  Nothing in it acts as markup there, and control characters are
 * written out (text.h). */
void sw_page_text (sw_text *out, const char *text);
/* Add NAME as content in a <bdi>, so that a name in another direction leaves the text around it alone. */
void sw_page_name (sw_text *out, const char *text);
/* Add a piece's LABEL as content; its last part ("2-4") is not broken. */
void sw_page_label (sw_text *out, const char *label);
/* Add TEXT, byte for byte, as a string of JSON that may stand in a <script>. */
void sw_page_string (sw_text *out, const char *text);
/* Add PART of WHOLE (> 0) in per cent, to the thousandth: "12.5%".  Neither is negative. */
void sw_page_percent (sw_text *out, sw_length part, sw_length whole);

/* Add a list of boards for each section. */
sw_status sw_page_boards (sw_text *out, const sw_plan *plan);
/* Add a drawing and lists for each run, then the pieces that have no place on a run. */
sw_status sw_page_runs (sw_text *out, const sw_plan *plan);

/* Say how the saw is set for PIECE, and what PIECE takes of its board, one sentence a line; nothing where it is cut
 * square. */
void sw_page_saw (sw_text *out, const sw_plan *plan, const sw_piece *piece);
/* Add the button to tell what went wrong with the piece of index P. */
void sw_page_mishap (sw_text *out, const sw_plan *plan, size_t p);

#endif
