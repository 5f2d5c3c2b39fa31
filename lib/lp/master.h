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
  SW_LP_STOPPED /* by the watch, or without a verdict */
} sw_lp;

/* KEEP: options to take in (NULL: all).  POOL: patterns that may be added.
 * BESIDE: another master of this thread that is in use, or NULL: where GLPK
 * fails in one, its environment takes all others with it, which are then only
 * good to be freed. */
sw_status sw_master_new (sw_master **out, const sw_model *model, const sw_patterns *pool, const uint8_t *keep,
                         sw_master *beside);
/* The linear programme for one AIM: columns are patterns and whole layouts, one
 * of which each of BLOCKS takes; rows those of BREAKPOINTS, borrowed (NULL: a row a need).
 * For sw_master_lp only: it has no options, and where patterns and layouts are
 * added by turns, values of patterns are not told. */
sw_status sw_master_new_lp (sw_master **out, const sw_model *model, const sw_patterns *pool,
                            const sw_breakpoints *breakpoints, size_t blocks, sw_aim aim, sw_master *beside);
void sw_master_free (sw_master *master);

/* GLPK keeps an environment for each thread, which a thread that ends would
 * leave behind.  True: there was none, now there is one, and it is to be given
 * back with sw_master_leave once all masters of the thread are freed.  False:
 * it is the caller's, who may have problems of his own in it. */
bool sw_master_enter (void);
void sw_master_leave (bool entered);

/* Take in pattern PATTERN of the pool; *NEW_ONE (may be NULL): it was not there before. */
sw_status sw_master_add (sw_master *master, size_t pattern, bool *new_one);
size_t sw_master_patterns (const sw_master *master);
/* Pool index of the master's pattern I. */
size_t sw_master_pattern (const sw_master *master, size_t i);

/* Layout I of LAYOUTS, where its column is written down; how much of it the programme takes. */
sw_status sw_master_add_layout (sw_master *master, sw_layouts *layouts, size_t i);
double sw_master_layout_value (const sw_master *master, const sw_layouts *layouts, size_t i);
double sw_master_block_dual (const sw_master *master, size_t block);

void sw_master_aim (sw_master *master, sw_aim aim);
/* The sum of an aim may not pass CAP; negative: no cap. */
void sw_master_cap (sw_master *master, sw_aim aim, int64_t cap);
/* Price of a piece that no board covers. */
void sw_master_penalty (sw_master *master, double penalty);

/* Begin the next LP of a master without layouts from plain patterns, a basis
 * that is feasible as it stands.  PLAIN[need]: a pattern of the pool, taken in,
 * of that need alone and without limit, or SIZE_MAX. */
sw_status sw_master_start (sw_master *master, const size_t *plain);
/* Keep the basis, and go back to it; columns that came since are not in it. */
sw_status sw_master_keep_basis (sw_master *master);
void sw_master_back_to_basis (sw_master *master);

sw_status sw_master_lp (sw_master *master, sw_watch *watch, sw_lp *outcome);
/* Work of all LPs so far, iterations times rows: unlike time it is the same on every run. */
uint64_t sw_master_work (const sw_master *master);
double sw_master_value (const sw_master *master);
/* Pieces that no board covers, in the LP's solution. */
double sw_master_uncovered (const sw_master *master);
/* The duals of the last LP, in which an uncovered piece costs PENALTY, rounded, as PRICES of its goal. */
void sw_master_prices (const sw_master *master, double penalty, sw_prices *prices);
double sw_master_need_dual (const sw_master *master, size_t need);
double sw_master_stock_dual (const sw_master *master, size_t stock);
double sw_master_cap_dual (const sw_master *master, sw_aim aim);
/* Dual of the row that limits aligned pairs, over all strips. */
double sw_master_aligned_dual (const sw_master *master);
double sw_master_pattern_value (const sw_master *master, size_t i);

/* HIGH negative: no upper bound. */
void sw_master_bound_pattern (sw_master *master, size_t i, int64_t low, int64_t high);

/* DEMAND pieces of NEED in place of the model's. */
void sw_master_demand (sw_master *master, size_t need, double demand);
/* LOW to HIGH boards of STOCK in place of the model's limit; HIGH negative: no limit. */
void sw_master_stock (sw_master *master, size_t stock, int64_t low, int64_t high);

/* Branch and bound over all options and patterns taken in.  SOLUTION: a start
 * when valid, replaced by what is better.  NODES: at most so many; the same
 * input makes the same search.  MOST: what is worth more is of no interest
 * (INT64_MAX: all is).  *PROVED: nothing in this master is better than SOLUTION,
 * or, when it is not valid or worth more than MOST, nothing is worth MOST or less. */
sw_status sw_master_mip (sw_master *master, sw_watch *watch, int64_t nodes, int64_t most, sw_solution *solution,
                         bool *proved);

#endif
