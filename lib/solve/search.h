/* search.h - solving one model: bounds, columns, plans
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_SEARCH_H
#define SW_SEARCH_H

#include "price/knapsack.h"
#include "lp/master.h"
#include "price/strip.h"

/* Prices in whole numbers, one unit being 1 / scale of a granule: with them
 * the bound is exact whatever the linear programme's rounding was. */
typedef struct sw_prices
{
  int64_t scale;
  int64_t *need;             /* value of a piece, >= 0 */
  int64_t *stock;           /* of a board to be had, >= 0; 0 where there is no limit */
  int64_t cap[SW_AIM_COUNT]; /* of a unit under a cap, >= 0 */
  int64_t aligned;           /* of an aligned pair, >= 0, where some over the floors are allowed */
  sw_wide bound;             /* scaled: nothing is better */
  bool valid;
} sw_prices;

typedef struct sw_search
{
  const sw_model *model;
  sw_watch *watch;
  bool hard_way;
  bool open;  /* of boards alone: the programme has been solved, and there may be more to find */
  bool brief; /* not worth much work: a part of another search */
  sw_aim aim;
  int64_t caps[SW_AIM_COUNT]; /* -1: none */
  sw_patterns pool;
  size_t block_count;
  sw_block *blocks; /* of all strips, by strip */
  sw_layouts layouts;
  sw_breakpoints breakpoints; /* that the programme has a row of; none of them: a row a need */
  sw_master *master;
  int penalty_step; /* so often an uncovered piece of the programme became dearer */
  sw_master *beside; /* a master of another search that is in use, or NULL */
  sw_knapsack *knapsack;
  sw_strip_work *strips;
  sw_prices root;  /* of the best bound found for this aim */
  sw_prices duals; /* of the last linear programme */
  sw_prices now;   /* that columns are looked for at */
  size_t turn;     /* so that each round begins with another piece */
  sw_solution best;  /* valid: keeps every rule and cap */
  int64_t bound;   /* of this aim, in its unit: no solution has less */
  bool impossible; /* proved: there is no solution */
  uint8_t *fewest; /* an option each: a layout of each strip with as few pairs as are known to do */
  /* scratch */
  int64_t *value;   /* a need each */
  int64_t *price;   /* an option each */
  sw_wide *through; /* an option each */
  uint8_t *used;    /* an option each */
  int64_t *left;    /* a need each */
  int64_t *most;    /* a need each: more of it on a board is of no use, as things stand */
  int64_t *stocked; /* a stock each */
  sw_entry *entries;
} sw_search;

sw_status sw_search_begin (sw_search *search, const sw_model *model, sw_watch *watch, bool hard_way);
void sw_search_end (sw_search *search);

/* Set the floors of MODEL, that of SEARCH: the fewest aligned pairs of each
 * strip, whatever the timber, and search->fewest.  *OPEN: with so many more
 * there is a layout, where it is not known whether fewer would do. */
sw_status sw_search_floors (sw_search *search, sw_model *model, int64_t *open);

/* Free the programme and its breakpoints. */
void sw_search_end_master (sw_search *search);

/* So many strips are laid out well, and are part of a bound, even when the time is up: a fraction of a second. */
#define SW_STRIPS_IN_ANY_CASE 200

/* What a new master goes beside (see sw_master_new), or NULL. */
sw_master *sw_search_beside (const sw_search *search);

/* Work done so far, the same on every run. */
uint64_t sw_search_work (const sw_search *search);
/* The next number of a stream, 0 to 1, the same on every machine; *STATE is not 0. */
#define SW_CHANCE_SEED 88172645463325252ULL
double sw_search_chance (uint64_t *state);
/* MOST as the model has it. */
void sw_search_reset_most (sw_search *search);

/* Weight of a board or an option for the present aim and prices, scaled. */
int64_t sw_search_stock_weight (const sw_search *search, const sw_prices *prices, size_t stock);
/* What a board cut to PATTERN weighs over the worth of its pieces, scaled. */
sw_wide sw_search_loss (const sw_search *search, const sw_prices *prices, size_t pattern);
int64_t sw_search_option_weight (const sw_search *search, const sw_prices *prices, size_t option);

/* What a board adds to an aim, unscaled, and the most that one does, at least 1. */
int64_t sw_search_stock_coefficient (const sw_search *search, size_t stock, sw_aim aim);
int64_t sw_search_largest_coefficient (const sw_search *search, sw_aim aim);

/* Units of a scaled price in a granule, where an uncovered piece costs PENALTY. */
int64_t sw_search_scale (const sw_search *search, double penalty);
/* A dual in such units, rounded; 0 where it is not positive. */
int64_t sw_scaled (double dual, int64_t scale, bool up);

/* Set search->price: what each option costs in its strip, the value of its piece and its own weight. */
void sw_search_price_options (sw_search *search, const sw_prices *prices);
/* Weight of an aligned pair in a strip: before all else where none over the floors is allowed. */
sw_wide sw_search_aligned_weight (const sw_search *search, const sw_prices *prices);

/* Add to *TOTAL (scaled) the cheapest layout of each strip at the prices, or a
 * bound on it, an aligned pair over the floors weighing WEIGHT. */
sw_status sw_search_add_strips (sw_search *search, const sw_prices *prices, sw_wide weight, sw_wide *total);
/* The bound of PRICES in whole units of the aim, at least 0. */
int64_t sw_search_whole_bound (const sw_prices *prices);

/* A stock with what a board of it is worth and its room, for the price of a metre. */
typedef struct sw_rated
{
  size_t stock;
  int64_t cost, room;
} sw_rated;
/* For qsort: the cheaper metre first, then the longer board. */
int sw_rated_order (const void *a, const void *b);
/* The stocks of SECTION in that order, at what they cost for AIM; to be freed. */
sw_status sw_search_rank (const sw_search *search, const sw_model_section *section, sw_aim aim, sw_rated **out);

/* A bound for the present aim by the metres alone, without a linear programme;
 * ANY_ALIGNED: one that holds however many pairs are aligned.  For the aims
 * cost, joins and boards.  O(options) and a layout of each strip. */
sw_status sw_search_material (sw_search *search, bool any_aligned, int64_t *bound);

/* Tell the watch, and so the caller, how things stand. */
void sw_search_show (const sw_search *search);

/* Best solution as a number of the aim, INT64_MAX when there is none. */
int64_t sw_search_best (const sw_search *search);
/* Nothing better than the best can be there. */
bool sw_search_done (const sw_search *search);
/* Take SOLUTION when it is valid, under the caps and better. */
sw_status sw_search_offer (sw_search *search, sw_solution *solution);

/* Rounds of column generation that no job comes near. */
#define SW_ALL_ROUNDS 100000
/* For sw_search_columns: not before nothing prices out; as soon as no bound can come of it. */
#define SW_THOROUGH (-1.0)
#define SW_BOUND_ONLY 0.0

/* Column generation on the master as it stands: until nothing prices out or
 * ROUNDS are over.  AT_ROOT: bounds are kept for the whole model, layouts are
 * priced too, and it ends when programme and bound are as NEAR as that part of
 * the bound, or the whole-number bound cannot rise (negative: not before
 * nothing prices out).  *DONE: there is nothing more to come of it. */
sw_status sw_search_columns (sw_search *search, int rounds, bool at_root, double near, sw_lp *outcome, bool *done);

/* Lay STRIP out as search->price has it, a pair weighing WEIGHT, into
 * search->used: best where the strip is exact, well where it is not, and with
 * no more pairs than are known to do.  SW_NO_PLAN: as sw_strip_layout. */
sw_status sw_search_lay_out (sw_search *search, size_t strip, sw_wide weight);

/* A plan by simple means, so that there is one to print: prices of VALUE a
 * need choose the layout, then boards are filled one pattern after another. */
sw_status sw_search_first (sw_search *search, const int64_t *value);
/* Set search->value: what a piece is worth at PRICES, and a little, or it would never be put on a board. */
void sw_search_value_pieces (sw_search *search, const sw_prices *prices);
/* Fill boards for the layout in search->used; TAKEN: a start (may be NULL). */
sw_status sw_search_fill (sw_search *search, const sw_solution *start);
/* Boards for what search->left has of SECTION out of search->stocked, added to
 * SOLUTION, without choosing; *FILLED false: they do not do.  O(pieces log
 * needs), and the stocks for each board. */
sw_status sw_search_fill_quickly (sw_search *search, size_t section, sw_solution *solution, bool *filled);

/* Plans out of the programme's mixture, for the aims cost and joins: one at
 * little expense; several, for which boards are cut with care. */
sw_status sw_search_round_quickly (sw_search *search);
sw_status sw_search_round (sw_search *search);

/* Set search->left, pieces of the layout in search->used less those of START (may be NULL), and search->stocked. */
void sw_search_count_left (sw_search *search, const sw_solution *start);
/* ENTRIES out of boards of STOCK into SOLUTION, as often as search->left and search->stocked, which become less, allow the
 * same again. */
sw_status sw_search_cut_boards (sw_search *search, size_t stock, const sw_entry *entries, uint32_t count,
                                sw_solution *solution);
/* Fill boards for the layout in search->used, the longest pieces first, at search->value a piece and PRICES a board. */
sw_status sw_search_fill_long (sw_search *search, const sw_prices *prices);

/* The linear programme of the present aim, in place of the one there was, with
 * all patterns and layouts met so far, a pattern of each piece alone, and the
 * best plan's layout.  BREAKPOINTS: about so many rows where strips have more needs. */
sw_status sw_search_begin_master (sw_search *search, size_t breakpoints);
/* Cut boards for the layout in search->used by the programme of patterns alone, begun with PRICES. */
sw_status sw_search_cut (sw_search *search, const sw_prices *prices);

/* Where there are only boards to choose: fix what the linear programme nearly decides, and solve on: once, then
 * deviating from the first dive at one step (limited discrepancy), then with
 * the order shaken, until the best is proved, there were
 * DIVES of them, or WORK (of sw_search_work) is done. */
sw_status sw_search_dive (sw_search *search, size_t dives, uint64_t work);

/* Enumerate all options and patterns (at most MOST) that a solution as good
 * as the bound could use and solve over those: either it is found, or the
 * bound goes up, and so on until the two meet or there are too many. */
sw_status sw_search_close (sw_search *search, size_t most);

/* Branch and price over the pieces of one section that has no layouts to
 * choose, for the cost, at most so many NODES and WORK (of its own linear
 * programmes, iterations times rows): the best becomes better, and when
 * nothing is left open the bound meets it. */
sw_status sw_search_branch (sw_search *search, int64_t nodes, uint64_t work);

/* The parts of closing: a master of all that a solution could use which is
 * worth SPARE (scaled) more than the bound of the present aim at most; KEEP is
 * room for an option each.  PARTS: patterns that are not full too.  *COMPLETE:
 * there were no more than MOST. */
sw_status sw_search_gather (sw_search *search, sw_wide spare, size_t most, bool parts, uint8_t *keep, sw_master **out,
                            bool *complete);
/* Solve it for the present aim, with WORK of nodes times columns at most, and offer what is found.
 * *PROVED: there is nothing better, or nothing that is worth MOST or less. */
sw_status sw_search_mip (sw_search *search, sw_master *master, int64_t work, int64_t most, bool *proved);

/* Of the best solution, valid, drop the pieces over the number needed and
 * pack its boards anew, so that what is left is in long pieces: no aim of
 * those before gets worse. */
sw_status sw_search_offcuts (sw_search *search);

#endif
