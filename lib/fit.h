/* fit.h - which piece goes where (layer 9)
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_FIT_H
#define SW_FIT_H

#include "plan.h"
#include "text.h"

/* "join", "flush" ... or "post" for a piece between posts. */
const char *sw_fit_start (const sw_piece *piece);
const char *sw_fit_finish (const sw_piece *piece);
/* Pieces of RUN that have a place on it are FIRST ... *END - 1; FIRST is
 * where those of the run before ended. */
void sw_fit_pieces (const sw_plan *plan, size_t run, size_t first, size_t *end);

sw_status sw_fit_table (const sw_plan *plan, sw_table **out);
sw_status sw_fit_text (const sw_plan *plan, size_t width, sw_text *out);
/* The pieces FIRST ... END - 1 of RUN as a drawing in characters, top level
 * first as one stands before the fence. */
sw_status sw_fit_sketch (const sw_plan *plan, size_t run, size_t first, size_t end, size_t width, sw_text *out);

#endif
