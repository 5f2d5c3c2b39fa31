/* master.c - the master programme in GLPK
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "lp/master_glpk.h"

#include <setjmp.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

/* ---- Failure inside GLPK ------------------------------------------------------- */

typedef struct trap
{
  jmp_buf back;
  bool no_memory;
} trap;

static void
on_error (void *info)
{
  trap *t = info;
  longjmp (t->back, 1);
}

/* Look at GLPK's message, because nothing else tells why GLPK gives up.  The words looked for are those of GLPK 4.52 to
 * 5.0. */
static int
swallow (void *info, const char *text)
{
  trap *t = info;
  if (strstr (text, "memory") != NULL)
    t->no_memory = true;
  return 1;
}

bool
sw_master_enter (void)
{
  return glp_init_env () == 0;
}

void
sw_master_leave (bool entered)
{
  if (entered)
    glp_free_env ();
}

sw_status
sw_master_guarded (sw_master *m, sw_status (*work) (sw_master *m, void *data), void *data)
{
  trap t = { .no_memory = false };
  if (m->broken)
    return SW_FAILED;
  /* Any other first call would end the process when there is no memory for an environment. */
  if (glp_init_env () > 1)
    return SW_NO_MEMORY;
  if (setjmp (t.back) != 0)
    {
      /* No other call is legal after a jump out of the hook.  It frees every problem of the thread as well. */
      glp_free_env ();
      sw_master *lost = m;
      do
        {
          lost->broken = true;
          lost->lp = NULL;
          lost = lost->beside;
        }
      while (lost != m);
      return t.no_memory ? SW_NO_MEMORY : SW_FAILED;
    }
  int old = glp_term_out (GLP_OFF);
  glp_term_hook (swallow, &t);
  glp_error_hook (on_error, &t);
  sw_status status = work (m, data);
  glp_error_hook (NULL, NULL);
  glp_term_hook (NULL, NULL);
  glp_term_out (old);
  return status;
}

/* ---- Made and freed ---------------------------------------------------------------- */

static uint32_t
longest_reach (const sw_model *model)
{
  uint32_t longest = 0;
  for (size_t s = 0; s < model->strip_count; s++)
    for (uint32_t r = 0; r < model->strips[s].level_count; r++)
      if (model->strips[s].levels[r].reach > longest)
        longest = model->strips[s].levels[r].reach;
  return longest;
}

sw_master *
sw_master_begin (const sw_model *model, const sw_patterns *pool, sw_master *beside, uint64_t entries)
{
  sw_master *m = sw_alloc (1, sizeof *m);
  if (m == NULL)
    return NULL;
  m->model = model;
  m->pool = pool;
  m->beside = m;
  if (beside != NULL)
    {
      m->beside = beside->beside;
      beside->beside = m;
    }
  if (entries <= INT32_MAX / 2)
    {
      m->index_size = (int)entries;
      m->index = sw_alloc ((size_t)m->index_size, sizeof *m->index);
      m->value = sw_alloc ((size_t)m->index_size, sizeof *m->value);
    }
  if (m->index != NULL && m->value != NULL)
    return m;
  sw_master_free (m);
  return NULL;
}

sw_status
sw_master_new (sw_master **out, const sw_model *model, const sw_patterns *pool, const uint8_t *keep, sw_master *beside)
{
  /* No row or column has more entries than this.  A column meets each row at most once; for each pair of levels and
   * number of bays, two of those rows are of first pieces. */
  uint64_t entries = model->need_count + model->stock_count + 2 * model->option_count
                     + 4 * (uint64_t)longest_reach (model) + SW_AIM_COUNT + 1024;
  sw_master *m = sw_master_begin (model, pool, beside, entries);
  if (m == NULL)
    return SW_NO_MEMORY;
  m->option_column = sw_alloc (model->option_count, sizeof *m->option_column);
  m->at = sw_alloc (model->need_count + model->stock_count + SW_AIM_COUNT + 2, sizeof *m->at);
  sw_status status = SW_NO_MEMORY;
  if (m->option_column && m->at)
    status = sw_master_guarded (m, sw_master_build, &keep);
  if (status != SW_OK)
    {
      sw_master_free (m);
      return status;
    }
  sw_master_penalty (m, 1);
  sw_master_aim (m, SW_AIM_COST);
  *out = m;
  return SW_OK;
}

static sw_status delete (sw_master *m, void *data)
{
  (void)data;
  glp_delete_prob (m->lp);
  return SW_OK;
}

void
sw_master_free (sw_master *m)
{
  if (m == NULL)
    return;
  if (m->lp != NULL && !m->broken)
    sw_master_guarded (m, delete, NULL);
  sw_master *before = m;
  while (before->beside != m)
    before = before->beside;
  before->beside = m->beside;
  free (m->patterns);
  free (m->known);
  free (m->option_column);
  free (m->kept);
  free (m->at);
  free (m->index);
  free (m->value);
  free (m);
}

static sw_status
add_pattern (sw_master *m, void *data)
{
  const size_t pattern = *(size_t *)data;
  const sw_pattern *p = &m->pool->items[pattern];
  for (uint32_t c = 0; c < p->count; c++)
    sw_master_put_need (m, m->pool->entries[p->first + c].need, m->pool->entries[p->first + c].copies);
  sw_master_put (m, m->stock_row + (int)p->stock, 1);
  for (int a = 0; a < SW_AIM_COUNT; a++)
    sw_master_put (m, m->cap_row + a, sw_master_pattern_cost (m, pattern, (sw_aim)a));
  const int column = sw_master_put_column (m, sw_master_pattern_cost (m, pattern, m->aim));
  glp_set_col_kind (m->lp, column, GLP_IV);
  return SW_OK;
}

sw_status
sw_master_add (sw_master *m, size_t pattern, bool *new_one)
{
  size_t old = m->known_capacity;
  sw_status status = sw_grow ((void **)&m->known, &m->known_capacity, pattern + 1, 1);
  if (status != SW_OK)
    return status;
  memset (m->known + old, 0, m->known_capacity - old);
  if (new_one != NULL)
    *new_one = !m->known[pattern];
  if (m->known[pattern])
    return SW_OK;
  status = sw_grow ((void **)&m->patterns, &m->pattern_capacity, m->pattern_count + 1, sizeof *m->patterns);
  if (status == SW_OK)
    status = sw_master_guarded (m, add_pattern, &pattern);
  if (status != SW_OK)
    return status;
  m->known[pattern] = 1;
  m->patterns[m->pattern_count++] = pattern;
  return SW_OK;
}

size_t
sw_master_patterns (const sw_master *m)
{
  return m->pattern_count;
}

size_t
sw_master_pattern (const sw_master *m, size_t i)
{
  return m->patterns[i];
}

/* ---- Objective, caps, bounds --------------------------------------------------------- */

void
sw_master_aim (sw_master *m, sw_aim aim)
{
  if (m->broken)
    return;
  m->aim = aim;
  m->dual_first = false;
  for (size_t o = 0; m->option_column != NULL && o < m->model->option_count; o++)
    if (m->option_column[o] != 0)
      glp_set_obj_coef (m->lp, m->option_column[o], sw_master_option_cost (m, o, aim));
  for (size_t i = 0; i < m->pattern_count; i++)
    glp_set_obj_coef (m->lp, m->pattern_column + (int)i, sw_master_pattern_cost (m, m->patterns[i], aim));
}

void
sw_master_cap (sw_master *m, sw_aim aim, int64_t cap)
{
  if (m->broken)
    return;
  if (cap < 0)
    glp_set_row_bnds (m->lp, m->cap_row + (int)aim, GLP_FR, 0, 0);
  else
    glp_set_row_bnds (m->lp, m->cap_row + (int)aim, GLP_UP, 0, (double)cap);
  m->dual_first = false;
}

void
sw_master_penalty (sw_master *m, double penalty)
{
  if (m->broken)
    return;
  m->penalty = penalty;
  m->dual_first = false;
  for (int n = 0; n < m->stock_row - m->need_row; n++)
    glp_set_obj_coef (m->lp, m->uncovered_column + n, penalty);
}

void
sw_master_set_bounds (sw_master *m, int column, double low, double high, bool bounded)
{
  if (!bounded)
    glp_set_col_bnds (m->lp, column, GLP_LO, low, 0);
  else if (low == high)
    glp_set_col_bnds (m->lp, column, GLP_FX, low, low);
  else
    glp_set_col_bnds (m->lp, column, GLP_DB, low, high);
}

void
sw_master_demand (sw_master *m, size_t need, double demand)
{
  if (!m->broken)
    glp_set_row_bnds (m->lp, m->need_row + (int)need, GLP_LO, demand, 0);
}

void
sw_master_stock (sw_master *m, size_t stock, int64_t low, int64_t high)
{
  if (m->broken)
    return;
  /* The primal method from here on, because the dual one has been seen to go round and round. */
  m->dual_first = false;
  int kind = low == high ? GLP_FX : high < 0 ? (low == 0 ? GLP_FR : GLP_LO) : GLP_DB;
  glp_set_row_bnds (m->lp, m->stock_row + (int)stock, kind, (double)low, (double)high);
}

void
sw_master_bound_pattern (sw_master *m, size_t i, int64_t low, int64_t high)
{
  if (!m->broken)
    sw_master_set_bounds (m, m->pattern_column + (int)i, (double)low, (double)high, high >= 0);
}
