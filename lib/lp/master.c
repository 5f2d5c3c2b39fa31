/* master.c - programmes in GLPK: failures caught, rows and columns, patterns
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "lp/master_glpk.h"

#include <math.h>
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
  return status == SW_OK && m->no_room ? SW_NO_MEMORY : status;
}

/* ---- Made and freed ---------------------------------------------------------------- */

sw_status
sw_master_make (sw_master **out, const sw_master *first, sw_status (*build) (sw_master *m, void *data), void *data)
{
  sw_master *m = sw_alloc (1, sizeof *m);
  *out = NULL;
  if (m == NULL)
    return SW_NO_MEMORY;
  *m = *first;
  m->beside = m;
  if (first->beside != NULL)
    {
      m->beside = first->beside->beside;
      first->beside->beside = m;
    }
  sw_status status = sw_master_guarded (m, build, data);
  if (status == SW_OK)
    *out = m;
  else
    sw_master_free (m);
  return status;
}

static sw_status
create (sw_master *m, void *data)
{
  (void)data;
  m->lp = glp_create_prob ();
  return SW_OK;
}

sw_status
sw_master_new (sw_master **out)
{
  return sw_master_make (out, &(sw_master){ .lp = NULL }, create, NULL);
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
  if (m->lp != NULL)
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

/* ---- Rows and columns ---------------------------------------------------------------- */

/* GLPK's name for such bounds. */
static int
bounds (double low, double high)
{
  if (low == high)
    return GLP_FX;
  if (isinf (low))
    return isinf (high) ? GLP_FR : GLP_UP;
  return isinf (high) ? GLP_LO : GLP_DB;
}

void
sw_master_bound_row (sw_master *m, int row, double low, double high)
{
  if (!m->broken)
    glp_set_row_bnds (m->lp, row, bounds (low, high), low, high);
}

void
sw_master_bound_column (sw_master *m, int column, double low, double high)
{
  if (!m->broken)
    glp_set_col_bnds (m->lp, column, bounds (low, high), low, high);
}

void
sw_master_allow (sw_master *m, int column, bool allowed)
{
  sw_master_bound_column (m, column, 0, allowed ? INFINITY : 0);
}

/* Make room for an entry in ROW.  No two entries are in one row, so that there is room for all up to it. */
static bool
make_room (sw_master *m, int row)
{
  size_t at = m->room, index = m->room, value = m->room;
  const size_t need = (size_t)row + 1;
  if (sw_grow ((void **)&m->at, &at, need, sizeof *m->at) != SW_OK
      || sw_grow ((void **)&m->index, &index, need, sizeof *m->index) != SW_OK
      || sw_grow ((void **)&m->value, &value, need, sizeof *m->value) != SW_OK)
    return false;
  memset (m->at + m->room, 0, (at - m->room) * sizeof *m->at);
  m->room = at;
  return true;
}

void
sw_master_put (sw_master *m, int row, double value)
{
  if (value == 0)
    return;
  m->no_room = m->no_room || ((size_t)row >= m->room && !make_room (m, row));
  if (m->no_room)
    return;
  if (m->at[row] == 0)
    {
      m->at[row] = ++m->entries;
      m->index[m->entries] = row;
      m->value[m->entries] = 0;
    }
  m->value[m->at[row]] += value;
}

void
sw_master_forget (sw_master *m)
{
  for (; m->entries > 0; m->entries--)
    m->at[m->index[m->entries]] = 0;
}

int
sw_master_put_row (sw_master *m, double low, double high)
{
  const int row = glp_add_rows (m->lp, 1);
  glp_set_mat_row (m->lp, row, m->entries, m->index, m->value);
  sw_master_bound_row (m, row, low, high);
  sw_master_forget (m);
  m->dual_first = false;
  return row;
}

int
sw_master_put_column (sw_master *m, double cost)
{
  const int column = glp_add_cols (m->lp, 1);
  glp_set_mat_col (m->lp, column, m->entries, m->index, m->value);
  sw_master_allow (m, column, true);
  glp_set_obj_coef (m->lp, column, cost);
  sw_master_forget (m);
  m->dual_first = false;
  return column;
}

typedef struct adding
{
  double low, high, cost;
  int added;
} adding;

static sw_status
add_row (sw_master *m, void *data)
{
  adding *a = data;
  a->added = sw_master_put_row (m, a->low, a->high);
  return SW_OK;
}

sw_status
sw_master_row (sw_master *m, double low, double high, int *row)
{
  adding a = { .low = low, .high = high };
  sw_status status = sw_master_guarded (m, add_row, &a);
  *row = a.added;
  return status;
}

static sw_status
add_column (sw_master *m, void *data)
{
  adding *a = data;
  a->added = sw_master_put_column (m, a->cost);
  return SW_OK;
}

sw_status
sw_master_column (sw_master *m, double cost, int *column)
{
  adding a = { .cost = cost };
  sw_status status = sw_master_guarded (m, add_column, &a);
  if (column != NULL)
    *column = a.added;
  return status;
}
