/* master_glpk.h - what the files of the master programme share; the one place that includes glpk.h
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_MASTER_GLPK_H
#define SW_MASTER_GLPK_H

#include "lp/master.h"

#include <glpk.h>

struct sw_master
{
  glp_prob *lp;
  bool broken;              /* GLPK failed: its environment is gone */
  struct sw_master *beside; /* ring of the masters that share the environment */
  const sw_model *model;
  const sw_patterns *pool;
  const sw_breakpoints *breakpoints; /* NULL: a row for each need; else a row for each breakpoint */
  int *at;                           /* for each row: where its entry of the column in the making stands; 0: nowhere */
  int entries;
  int block_row;
  sw_aim aim;
  double penalty;
  bool dual_first; /* only bounds have changed since the last LP, so the basis is dual feasible */
  bool fresh;      /* no basis yet */
  /* rows: needs, stocks, caps, then those of the strips */
  int need_row, stock_row, cap_row, aligned_row;
  /* columns: uncovered pieces; options (0 where not kept); patterns, from pattern_column on */
  int uncovered_column;
  int *option_column;
  int kept_columns;
  int *kept; /* the kept basis: a status for each row, then for each column */
  int pattern_column;
  size_t pattern_count, pattern_capacity;
  size_t *patterns;
  size_t known_capacity;
  uint8_t *known; /* for each pattern of the pool: it was taken in */
  int index_size;
  int *index;
  double *value;
};

/* Begin a master without rows and columns.  No row or column will have more than ENTRIES.  It shares BESIDE's
 * environment (NULL: it is alone).  NULL when memory ran out. */
sw_master *sw_master_begin (const sw_model *model, const sw_patterns *pool, sw_master *beside, uint64_t entries);

/* Run WORK with GLPK's output swallowed and its fatal errors caught. */
sw_status sw_master_guarded (sw_master *master, sw_status (*work) (sw_master *master, void *data), void *data);

/* master_rows: to be run guarded.  DATA: const uint8_t *const *, the options to take in; NULL: all. */
sw_status sw_master_build (sw_master *master, void *data);
/* Bound the rows of stocks by the stocks' limits. */
void sw_master_set_stock_rows (sw_master *master);
/* Add the base rows: COUNT rows of needs or breakpoints, at least the fixed pieces each, those of stocks bounded by
 * their limits, those of caps without bounds. */
void sw_master_add_base_rows (sw_master *master, size_t count);
/* Add a column for each row of a need or breakpoint, for what the row may leave uncovered. */
void sw_master_add_uncovered (sw_master *master, size_t count);
/* Collect entries of the next column; values of the same row add up.  PIECES of a need are divided between its two
 * breakpoints where there are any.  Then: make the column. */
void sw_master_put (sw_master *master, int row, double value);
void sw_master_put_need (sw_master *master, size_t need, double pieces);
int sw_master_put_column (sw_master *master, double cost);

double sw_master_option_cost (const sw_master *master, size_t option, sw_aim aim);
double sw_master_pattern_cost (const sw_master *master, size_t pattern, sw_aim aim);

void sw_master_set_bounds (sw_master *master, int column, double low, double high, bool bounded);

/* master_lp: to be run guarded, DATA: sw_master_lp_run *. */
typedef struct sw_master_lp_run
{
  sw_watch *watch;
  sw_lp outcome;
} sw_master_lp_run;
sw_status sw_master_run_lp (sw_master *master, void *data);

#endif
