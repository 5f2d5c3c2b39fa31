/* fill.h - boards for a layout that stands, one after another, without a linear programme
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_FILL_H
#define SW_FILL_H

#include "solve/search.h"

/* Complete START, which has a layout and the boards that stand (maybe none), and offer it.  From the longest piece to
 * the shortest, each piece goes on the board, and beside the other pieces, with which least is lost at PRICES.  So the
 * pieces that are hardest to place come first, and those at the end fit nearly anywhere.  For a first plan, each board
 * in turn is the one whose pieces are worth most for its cost.  When the watch says stop, it is given up, or, for a
 * first plan, done without choosing. */
sw_status sw_fill (sw_search *search, const sw_solution *start, const sw_prices *prices);

/* A stock, with what orders stocks by the price of a metre. */
typedef struct sw_rated
{
  size_t stock;
  int64_t cost, room;
} sw_rated;
/* The stocks of SECTION by what they add to AIM: the cheaper metre first, then the longer board.  To be freed. */
sw_status sw_rank_stocks (const sw_model *model, const sw_model_section *section, sw_aim aim, sw_rated **out);

#endif
