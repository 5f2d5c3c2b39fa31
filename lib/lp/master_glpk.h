/* master_glpk.h - what the files of the master programme share; the one place that includes glpk.h
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_MASTER_GLPK_H
#define SW_MASTER_GLPK_H

#include "lp/master.h"

#include <glpk.h>

struct sw_master
{
  struct sw_master *beside; /* ring of the masters that share the environment */
  glp_prob *lp;
  bool broken;     /* GLPK failed: its environment is gone */
  bool dual_first; /* only bounds have changed since the last LP, so the basis is dual feasible */
  bool fresh;      /* there is no basis yet, and GLPK is to find one */
  int kept_columns;
  int *kept; /* the kept basis: a status for each row, then for each column */
  /* the column in the making, or the row: its entries, from 1 on */
  int entries;
  int *index;
  double *value;
  int *at;      /* for each row, or each column: where its entry stands; 0: nowhere */
  size_t room;  /* of all three */
  bool no_room; /* memory ran out for one of them */

  /* of a programme with patterns */
  sw_goal goal;
  const sw_patterns *pool;
  const sw_breakpoints *breakpoints; /* NULL: a row for each need; else a row for each breakpoint */
  /* rows: needs (from 1 on), stocks, caps, then those of the strips */
  int need_row, stock_row, cap_row, block_row, aligned_row;
  /* columns: uncovered pieces (of the LP), or the options that were taken in (of the MIP), both from 1 on; then
   * patterns, from pattern_column on */
  int *option_column; /* of each option; 0: it was not taken in */
  int option_columns;
  int pattern_column;
  size_t pattern_count, pattern_capacity;
  size_t *patterns;
  size_t known_capacity;
  uint8_t *known; /* for each pattern of the pool: it was taken in */
};

/* Make a master that is like FIRST and, where that says so, beside another one, built by BUILD with DATA, which is run
 * guarded. */
sw_status sw_master_make (sw_master **out, const sw_master *first, sw_status (*build) (sw_master *master, void *data),
                          void *data);
/* Run WORK with GLPK's output swallowed and its fatal errors caught. */
sw_status sw_master_guarded (sw_master *master, sw_status (*work) (sw_master *master, void *data), void *data);

/* ---- To be run guarded ---- */

/* Make a row of the entries that were put, which are then of columns; or a column.  Returns its number. */
int sw_master_put_row (sw_master *master, double low, double high);
int sw_master_put_column (sw_master *master, double cost);

/* Begin a programme with patterns, in which nothing but the goal, pool and breakpoints is set.  Its rows are those of
 * needs or breakpoints, at least the fixed pieces each, those of stocks, at most their limits, and those of caps. */
void sw_master_add_base_rows (sw_master *master);

/* master_lp: DATA is a sw_master_lp_run *. */
typedef struct sw_master_lp_run
{
  sw_watch *watch;
  sw_lp outcome;
} sw_master_lp_run;
sw_status sw_master_run_lp (sw_master *master, void *data);

/* ---- Anywhere ---- */

/* Forget the entries that were put. */
void sw_master_forget (sw_master *master);
/* Put PIECES of a need, divided between its two breakpoints where there are any. */
void sw_master_put_need (sw_master *master, size_t need, double pieces);
/* Put what OPTION takes; returns what it adds to the aim. */
double sw_master_put_option (sw_master *master, size_t option);

void sw_master_bound_row (sw_master *master, int row, double low, double high);
void sw_master_bound_column (sw_master *master, int column, double low, double high);

#endif
