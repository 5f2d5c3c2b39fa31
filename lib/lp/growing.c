/* growing.c - a linear programme that grows by rows and columns, in GLPK
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "lp/growing.h"

#include "lp/master_glpk.h"

#include <stdlib.h>

#include "base/memory.h"

/* The master is there only for its guard and its simplex; it has no model. */
struct sw_growing
{
  sw_master *master;
  int capacity; /* capacity of the scratch space below */
  int *index;
  double *value;
};

typedef struct addition
{
  sw_growing *programme;
  sw_row_kind kind;
  double number; /* side or cost */
  int count;
  const int *row;
  const double *value;
  int made;
} addition;

static sw_status
create (sw_master *m, void *data)
{
  (void)data;
  m->lp = glp_create_prob ();
  return SW_OK;
}

sw_status
sw_growing_new (sw_growing **out)
{
  *out = NULL;
  sw_growing *p = sw_alloc (1, sizeof *p);
  if (p == NULL)
    return SW_NO_MEMORY;
  p->master = sw_master_begin (NULL, NULL, NULL, 1);
  sw_status status = p->master != NULL ? sw_master_guarded (p->master, create, NULL) : SW_NO_MEMORY;
  if (status != SW_OK)
    {
      sw_growing_free (p);
      return status;
    }
  *out = p;
  return SW_OK;
}

void
sw_growing_free (sw_growing *p)
{
  if (p == NULL)
    return;
  sw_master_free (p->master);
  free (p->index);
  free (p->value);
  free (p);
}

static sw_status
add_row (sw_master *m, void *data)
{
  static const int kinds[] = { [SW_ROW_AT_LEAST] = GLP_LO, [SW_ROW_AT_MOST] = GLP_UP, [SW_ROW_EXACT] = GLP_FX };
  addition *a = data;
  a->made = glp_add_rows (m->lp, 1);
  glp_set_row_bnds (m->lp, a->made, kinds[a->kind], a->number, a->number);
  m->dual_first = false;
  return SW_OK;
}

sw_status
sw_growing_row (sw_growing *p, sw_row_kind kind, double side, int *row)
{
  addition a = { .kind = kind, .number = side };
  sw_status status = sw_master_guarded (p->master, add_row, &a);
  *row = a.made;
  return status;
}

static sw_status
add_column (sw_master *m, void *data)
{
  addition *a = data;
  sw_growing *p = a->programme;
  for (int i = 0; i < a->count; i++)
    {
      p->index[i + 1] = a->row[i];
      p->value[i + 1] = a->value[i];
    }
  a->made = glp_add_cols (m->lp, 1);
  glp_set_col_bnds (m->lp, a->made, GLP_LO, 0, 0);
  glp_set_obj_coef (m->lp, a->made, a->number);
  glp_set_mat_col (m->lp, a->made, a->count, p->index, p->value);
  m->dual_first = false;
  return SW_OK;
}

sw_status
sw_growing_column (sw_growing *p, double cost, int count, const int *row, const double *value, int *column)
{
  if (count + 1 > p->capacity)
    {
      const int capacity = 2 * count + 16;
      int *index = sw_alloc ((size_t)capacity, sizeof *index);
      double *values = sw_alloc ((size_t)capacity, sizeof *values);
      if (index == NULL || values == NULL)
        {
          free (index);
          free (values);
          return SW_NO_MEMORY;
        }
      free (p->index);
      free (p->value);
      p->index = index;
      p->value = values;
      p->capacity = capacity;
    }
  addition a = { .programme = p, .number = cost, .count = count, .row = row, .value = value };
  sw_status status = sw_master_guarded (p->master, add_column, &a);
  *column = a.made;
  return status;
}

void
sw_growing_allow (sw_growing *p, int column, bool allowed)
{
  if (!p->master->broken)
    sw_master_set_bounds (p->master, column, 0, 0, !allowed);
}

sw_status
sw_growing_solve (sw_growing *p, sw_watch *watch, sw_lp *outcome)
{
  return sw_master_lp (p->master, watch, outcome);
}

double
sw_growing_value (const sw_growing *p)
{
  return sw_master_value (p->master);
}

double
sw_growing_dual (const sw_growing *p, int row)
{
  return glp_get_row_dual (p->master->lp, row);
}

double
sw_growing_share (const sw_growing *p, int column)
{
  return glp_get_col_prim (p->master->lp, column);
}

int
sw_growing_row_standing (const sw_growing *p, int row)
{
  return p->master->broken ? GLP_BS : glp_get_row_stat (p->master->lp, row);
}

int
sw_growing_column_standing (const sw_growing *p, int column)
{
  return p->master->broken ? GLP_NL : glp_get_col_stat (p->master->lp, column);
}

void
sw_growing_stand_row (sw_growing *p, int row, int standing)
{
  if (!p->master->broken)
    glp_set_row_stat (p->master->lp, row, standing);
}

void
sw_growing_stand_column (sw_growing *p, int column, int standing)
{
  if (!p->master->broken)
    glp_set_col_stat (p->master->lp, column, standing);
}
