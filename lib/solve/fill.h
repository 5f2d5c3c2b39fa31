/* fill.h - boards for a layout that stands, one after another, without a linear programme
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_FILL_H
#define SW_FILL_H

#include "solve/search.h"

/* Complete START, a layout and the boards (maybe none) that stand, and offer it: each board in turn is the one whose
 * pieces are worth most for its cost, where VALUE has what a piece of each need is worth, over 0.  Where the watch says
 * stop it is given up, or, as long as there is no plan yet, done without choosing. */
sw_status sw_fill (sw_search *search, const sw_solution *start, const int64_t *value);

/* The same from the longest piece to the shortest: each lies on the board, and with the other pieces, that lose least
 * at PRICES.  What is hardest to place is placed first, and what is left at the end fits nearly anywhere.  Given up
 * when the watch says stop. */
sw_status sw_fill_long (sw_search *search, const sw_solution *start, const int64_t *value, const sw_prices *prices);

/* Room for the order of stocks by the price of a metre. */
typedef struct sw_rated
{
  size_t stock;
  int64_t cost, room;
} sw_rated;
/* The stocks of SECTION as they add to AIM, the cheaper metre first, then the longer board; to be freed. */
sw_status sw_rank_stocks (const sw_model *model, const sw_model_section *section, sw_aim aim, sw_rated **out);

#endif
