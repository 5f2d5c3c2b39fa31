/* master.h - linear programmes and integer programmes: rows and columns, options, patterns, rules
 *
 * The only user of GLPK.  A failure inside GLPK is caught and becomes
 * SW_FAILED; GLPK's environment of the calling thread is then reset.  It takes
 * all problems of the thread with it: masters that are in use at the same time
 * are made BESIDE one another, and are then good only to be freed.  A master is
 * freed in the thread that made it.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_MASTER_H
#define SW_MASTER_H

#include "base/watch.h"
#include "price/prices.h"
#include "price/strip_layouts.h"
#include "model/breakpoints.h"
#include "model/pattern.h"
#include "model/solution.h"

typedef struct sw_master sw_master;

typedef enum sw_lp
{
  SW_LP_OPTIMAL,
  SW_LP_INFEASIBLE,
  SW_LP_STOPPED /* stopped by the watch, or ended without a verdict */
} sw_lp;

/* GLPK keeps an environment for each thread, which would leak when the thread ends.  True: the thread had none and has
 * one now; give it back with sw_master_leave once all masters of the thread are freed.  False: the environment is the
 * caller's, who may have problems of his own in it. */
bool sw_master_enter (void);
void sw_master_leave (bool entered);

/* ---- Any programme ---------------------------------------------------------------------- */

/* Make an empty programme, with no other in use: rows and columns are added one by one.  It brings the cost of all
 * columns down to the least. */
sw_status sw_master_new (sw_master **out);
void sw_master_free (sw_master *master);

/* Add a row whose sum is from LOW to HIGH (-INFINITY, INFINITY: no bound).  *ROW counts from 1. */
sw_status sw_master_row (sw_master *master, double low, double high, int *row);
/* Collect an entry of the next column; values of the same row add up.  Then: add the column, which is at least 0.
 * *COLUMN (may be NULL) counts from 1. */
void sw_master_put (sw_master *master, int row, double value);
sw_status sw_master_column (sw_master *master, double cost, int *column);
/* Allow COLUMN to be over 0, or forbid it. */
void sw_master_allow (sw_master *master, int column, bool allowed);

sw_status sw_master_lp (sw_master *master, sw_watch *watch, sw_lp *outcome);
/* The work of all LPs so far, iterations times rows: unlike time, it is the same on every run. */
uint64_t sw_master_work (const sw_master *master);
/* Of the last LP: its value, what a unit of ROW's sum is worth, and how much of COLUMN it takes. */
double sw_master_value (const sw_master *master);
double sw_master_dual (const sw_master *master, int row);
double sw_master_share (const sw_master *master, int column);

/* Keep the basis; then go back to it.  Columns that were added in between are not in the basis. */
sw_status sw_master_keep_basis (sw_master *master);
void sw_master_back_to_basis (sw_master *master);

/* ---- Patterns for the needs of a model ---------------------------------------------------- */

/* Make the linear programme for GOAL.  Its columns are patterns and whole layouts, and each of BLOCKS takes one layout.
 * Its rows are those of BREAKPOINTS, borrowed (NULL: a row for each need).  POOL: the patterns that may be added.
 * BESIDE: another master that is in use, or NULL. Values of patterns cannot be read where patterns and layouts were
 * added by turns. */
sw_status sw_master_new_lp (sw_master **out, const sw_goal *goal, const sw_patterns *pool,
                            const sw_breakpoints *breakpoints, size_t blocks, sw_master *beside);
/* Make the integer programme for GOAL, whose columns are patterns and single options.  KEEP: the options to take in
 * (NULL: all). */
sw_status sw_master_new_mip (sw_master **out, const sw_goal *goal, const sw_patterns *pool, const uint8_t *keep,
                             sw_master *beside);

/* Take in pattern PATTERN of the pool.  *NEW_ONE (may be NULL): the master did not have it before. */
sw_status sw_master_add (sw_master *master, size_t pattern, bool *new_one);
size_t sw_master_patterns (const sw_master *master);
/* The index in the pool of the master's pattern I. */
size_t sw_master_pattern (const sw_master *master, size_t i);
double sw_master_pattern_value (const sw_master *master, size_t i);
/* HIGH negative: no upper bound. */
void sw_master_bound_pattern (sw_master *master, size_t i, int64_t low, int64_t high);

/* Allow LOW to HIGH boards of STOCK in place of the model's limit; HIGH negative: no limit. */
void sw_master_stock (sw_master *master, size_t stock, int64_t low, int64_t high);

/* ---- The linear programme over patterns and layouts ---------------------------------------- */

/* Add LAYOUT of LAYOUTS, whose column it notes. */
sw_status sw_master_add_layout (sw_master *master, sw_layouts *layouts, size_t i);
double sw_master_block_dual (const sw_master *master, size_t block);

/* Set the demand for NEED to DEMAND pieces, in place of the model's. */
void sw_master_demand (sw_master *master, size_t need, double demand);
/* Set the price of a piece that no board covers.  It is 0 at first. */
void sw_master_penalty (sw_master *master, double penalty);
/* The pieces that no board covers in the solution of the last LP. */
double sw_master_uncovered (const sw_master *master);
/* Write the duals of the last LP, in which an uncovered piece cost PENALTY, into PRICES, rounded and in the units of
 * its goal. */
void sw_master_prices (const sw_master *master, double penalty, sw_prices *prices);

/* ---- The integer programme ------------------------------------------------------------------- */

/* Branch and bound over all options and patterns that were taken in; afterwards MASTER is good only to be freed.
 * SOLUTION: the start, when it is valid; a better one replaces it.  NODES: the most nodes; the same input makes the
 * same search.  MOST: a solution with a larger value is of no interest (INT64_MAX: every solution is of interest).
 * *PROVED: nothing in this master is better than SOLUTION; or, where SOLUTION is not valid or its value is over MOST,
 * nothing has a value of MOST or less. */
sw_status sw_master_mip (sw_master *master, sw_watch *watch, int64_t nodes, int64_t most, sw_solution *solution,
                         bool *proved);

#endif
