/* master.h - the master programme: options, patterns, rules
 *
 * The only user of GLPK.  A failure inside GLPK is caught and becomes
 * SW_FAILED; GLPK's environment of the calling thread is then reset.
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

/* Make a master.  KEEP: the options to take in (NULL: all).  POOL: the patterns that may be added.  BESIDE: another
 * master of this thread that is in use, or NULL.  Where GLPK fails in one master of a thread, the environment takes all
 * of them with it, and they are then good only to be freed. */
sw_status sw_master_new (sw_master **out, const sw_model *model, const sw_patterns *pool, const uint8_t *keep,
                         sw_master *beside);
/* Make the linear programme for one AIM.  Its columns are patterns and whole layouts, and each of BLOCKS takes one
 * layout.  Its rows are those of BREAKPOINTS, borrowed (NULL: a row for each need).  It is for sw_master_lp only,
 * because it has no options.  Values of patterns cannot be read where patterns and layouts were added by turns. */
sw_status sw_master_new_lp (sw_master **out, const sw_model *model, const sw_patterns *pool,
                            const sw_breakpoints *breakpoints, size_t blocks, sw_aim aim, sw_master *beside);
void sw_master_free (sw_master *master);

/* GLPK keeps an environment for each thread, which would leak when the thread ends.  True: the thread had none and has
 * one now; give it back with sw_master_leave once all masters of the thread are freed.  False: the environment is the
 * caller's, who may have problems of his own in it. */
bool sw_master_enter (void);
void sw_master_leave (bool entered);

/* Take in pattern PATTERN of the pool.  *NEW_ONE (may be NULL): the master did not have it before. */
sw_status sw_master_add (sw_master *master, size_t pattern, bool *new_one);
size_t sw_master_patterns (const sw_master *master);
/* The index in the pool of the master's pattern I. */
size_t sw_master_pattern (const sw_master *master, size_t i);

/* Add layout I of LAYOUTS, which notes its column; then: how much of that layout the programme takes. */
sw_status sw_master_add_layout (sw_master *master, sw_layouts *layouts, size_t i);
double sw_master_layout_value (const sw_master *master, const sw_layouts *layouts, size_t i);
/* The programme may take layout I only where it is OPEN. */
void sw_master_open_layout (sw_master *master, const sw_layouts *layouts, size_t i, bool open);
double sw_master_block_dual (const sw_master *master, size_t block);

void sw_master_aim (sw_master *master, sw_aim aim);
/* The sum of an aim may not pass CAP; negative: no cap. */
void sw_master_cap (sw_master *master, sw_aim aim, int64_t cap);
/* Set the price of a piece that no board covers. */
void sw_master_penalty (sw_master *master, double penalty);

/* Keep the basis; then go back to it.  Columns that were added in between are not in the basis. */
sw_status sw_master_keep_basis (sw_master *master);
void sw_master_back_to_basis (sw_master *master);

sw_status sw_master_lp (sw_master *master, sw_watch *watch, sw_lp *outcome);
/* The work of all LPs so far, iterations times rows: unlike time, it is the same on every run. */
uint64_t sw_master_work (const sw_master *master);
double sw_master_value (const sw_master *master);
/* The pieces that no board covers in the solution of the last LP. */
double sw_master_uncovered (const sw_master *master);
/* Write the duals of the last LP, in which an uncovered piece cost PENALTY, into PRICES, rounded and in the units of
 * its goal. */
void sw_master_prices (const sw_master *master, double penalty, sw_prices *prices);
double sw_master_need_dual (const sw_master *master, size_t need);
double sw_master_stock_dual (const sw_master *master, size_t stock);
double sw_master_pattern_value (const sw_master *master, size_t i);

/* HIGH negative: no upper bound. */
void sw_master_bound_pattern (sw_master *master, size_t i, int64_t low, int64_t high);

/* Set the demand for NEED to DEMAND pieces, in place of the model's. */
void sw_master_demand (sw_master *master, size_t need, double demand);
/* Allow LOW to HIGH boards of STOCK in place of the model's limit; HIGH negative: no limit. */
void sw_master_stock (sw_master *master, size_t stock, int64_t low, int64_t high);

/* Branch and bound over all options and patterns that were taken in.  SOLUTION: the start, when it is valid; a better
 * one replaces it.  NODES: the most nodes; the same input makes the same search.  MOST: a solution with a larger value
 * is of no interest (INT64_MAX: every solution is of interest).  *PROVED: nothing in this master is better than
 * SOLUTION; or, where SOLUTION is not valid or its value is over MOST, nothing has a value of MOST or less. */
sw_status sw_master_mip (sw_master *master, sw_watch *watch, int64_t nodes, int64_t most, sw_solution *solution,
                         bool *proved);

#endif
