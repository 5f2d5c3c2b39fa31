/* master.c - the master programme in GLPK
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "master.h"

#include <math.h>
#include <setjmp.h>
#include <stdlib.h>
#include <string.h>

#include <glpk.h>

#include "memory.h"

/* Iterations of glp_simplex between two looks at the clock.  Not a time: the
 * same input must take the same way on every run. */
#define LP_SLICE 250
/* A value this close to a whole number is one. */
#define WHOLE 1e-6

struct sw_master
{
  glp_prob *lp;
  bool broken;              /* GLPK failed: its environment is gone */
  struct sw_master *beside; /* ring of those that share the environment */
  const sw_model *model;
  const sw_patterns *pool;
  sw_aim aim;
  double penalty;
  bool dual_first; /* only bounds changed since the last LP: the basis is dual feasible */
  bool fresh;      /* no basis yet */
  /* rows: needs, supplies, caps, then those of the strips */
  int need_row, supply_row, cap_row, aligned_row;
  /* columns: uncovered pieces, options (0 where not kept), patterns from pattern_column on */
  int uncovered_column;
  int *option_column;
  int *begin_row; /* by option: the flow row of the post it begins at */
  int kept_columns;
  int *kept; /* a status a row, then a column */
  int pattern_column;
  size_t pattern_count, pattern_capacity;
  size_t *patterns;
  size_t known_capacity;
  uint8_t *known; /* a pattern of the pool each: taken in */
  int index_size;
  int *index;
  double *value;
};

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

/* GLPK's message is all that tells why it gives up; its words are those of GLPK 4.52 to 5.0. */
static int
swallow (void *info, const char *text)
{
  trap *t = info;
  if (strstr (text, "memory") != NULL)
    t->no_memory = true;
  return 1;
}

/* Run WORK with GLPK's output swallowed and its fatal errors caught. */
static sw_status
guarded (sw_master *m, sw_status (*work) (sw_master *m, void *data), void *data)
{
  trap t = { .no_memory = false };
  if (m->broken)
    return SW_FAILED;
  /* Any other call would end the process where there is no memory for an environment. */
  if (glp_init_env () > 1)
    return SW_NO_MEMORY;
  if (setjmp (t.back) != 0)
    {
      /* Nothing else is legal after a jump out of the hook; every problem of the thread is gone. */
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

/* ---- Building --------------------------------------------------------------------- */

static bool
is_join (const sw_model *model, const sw_option *option)
{
  return option->to < model->strips[option->strip].bays;
}

static double
option_cost (const sw_master *m, size_t o, sw_aim aim)
{
  bool join = is_join (m->model, &m->model->options[o]);
  if (aim == SW_AIM_COST)
    return join ? (double)m->model->join_cost : 0;
  return aim == SW_AIM_JOINS && join ? 1 : 0;
}

static double
pattern_cost (const sw_master *m, size_t pattern, sw_aim aim)
{
  if (aim == SW_AIM_COST)
    return (double)m->model->supplies[m->pool->items[pattern].supply].cost;
  return aim == SW_AIM_BOARDS ? 1 : 0;
}

static void
set_supply_rows (sw_master *m)
{
  for (size_t s = 0; s < m->model->supply_count; s++)
    if (m->model->supplies[s].limit >= 0)
      glp_set_row_bnds (m->lp, m->supply_row + (int)s, GLP_UP, 0, (double)m->model->supplies[s].limit);
    else
      glp_set_row_bnds (m->lp, m->supply_row + (int)s, GLP_FR, 0, 0);
}

static void
add_base_rows (sw_master *m)
{
  const sw_model *model = m->model;
  m->need_row = glp_add_rows (m->lp, (int)(model->need_count + model->supply_count + SW_AIM_COUNT));
  m->supply_row = m->need_row + (int)model->need_count;
  m->cap_row = m->supply_row + (int)model->supply_count;
  for (size_t n = 0; n < model->need_count; n++)
    glp_set_row_bnds (m->lp, m->need_row + (int)n, GLP_LO, (double)model->needs[n].demand, 0);
  set_supply_rows (m);
  for (int a = 0; a < SW_AIM_COUNT; a++)
    glp_set_row_bnds (m->lp, m->cap_row + a, GLP_FR, 0, 0);
}

static void
add_base_columns (sw_master *m, const uint8_t *keep)
{
  const sw_model *model = m->model;
  m->uncovered_column = glp_add_cols (m->lp, (int)model->need_count);
  for (size_t n = 0; n < model->need_count; n++)
    {
      int row[2] = { 0, m->need_row + (int)n };
      double one[2] = { 0, 1 };
      glp_set_col_bnds (m->lp, m->uncovered_column + (int)n, GLP_LO, 0, 0);
      glp_set_mat_col (m->lp, m->uncovered_column + (int)n, 1, row, one);
    }
  for (size_t o = 0; o < model->option_count; o++)
    {
      if (keep != NULL && !keep[o])
        continue;
      m->option_column[o] = glp_add_cols (m->lp, 1);
      /* No more than one is implied by the flow. */
      glp_set_col_bnds (m->lp, m->option_column[o], GLP_LO, 0, 0);
    }
}

/* Add a row over OPTIONS of one strip: entries are collected in m->index and m->value. */
static void
put_row (sw_master *m, int count, int kind, double low, double high)
{
  int row = glp_add_rows (m->lp, 1);
  glp_set_row_bnds (m->lp, row, kind, low, high);
  glp_set_mat_row (m->lp, row, count, m->index, m->value);
}

static int
put_entry (sw_master *m, int count, size_t option, double value)
{
  if (m->option_column[option] == 0)
    return count;
  m->index[++count] = m->option_column[option];
  m->value[count] = value;
  return count;
}

/* Options of ROW that end at POST. */
static int
put_ends (sw_master *m, int count, const sw_strip_row *row, uint32_t post, double value)
{
  for (uint32_t d = 1; d <= row->reach && d <= post; d++)
    {
      int32_t o = row->at[(size_t)post * row->reach + d - 1];
      if (o >= 0)
        count = put_entry (m, count, (size_t)o, value);
    }
  return count;
}

/* Options of ROW that begin at POST, at least BAYS long; without WHOLE_ROW not the one that is the whole row. */
static int
put_begins (sw_master *m, int count, const sw_strip *strip, const sw_strip_row *row, uint32_t post, uint32_t bays,
            bool whole_row, double value)
{
  for (uint32_t d = bays; d <= row->reach && post + d <= strip->bays; d++)
    {
      int32_t o = row->at[(size_t)(post + d) * row->reach + d - 1];
      if (o >= 0 && (whole_row || d < strip->bays))
        count = put_entry (m, count, (size_t)o, value);
    }
  return count;
}

/* Remember that the options of ROW that begin at POST do so in the row just made. */
static void
note_begins (sw_master *m, const sw_strip *strip, const sw_strip_row *row, uint32_t post)
{
  for (uint32_t d = 1; d <= row->reach && post + d <= strip->bays; d++)
    {
      int32_t o = row->at[(size_t)(post + d) * row->reach + d - 1];
      if (o >= 0)
        m->begin_row[o] = glp_get_num_rows (m->lp);
    }
}

static void
add_flow (sw_master *m, const sw_strip *strip, const sw_strip_row *row)
{
  int count = put_begins (m, 0, strip, row, 0, 1, true, 1);
  put_row (m, count, GLP_FX, 1, 1);
  note_begins (m, strip, row, 0);
  for (uint32_t p = 1; p < strip->bays; p++)
    {
      count = put_ends (m, 0, row, p, 1);
      count = put_begins (m, count, strip, row, p, 1, true, -1);
      if (count == 0)
        continue;
      put_row (m, count, GLP_FX, 0, 0);
      note_begins (m, strip, row, p);
    }
}

/* Neighbouring rows do not join on one post, or it is counted; COUNTER is the row that adds up. */
static void
add_stagger (sw_master *m, const sw_strip *strip, bool may_align, int strip_sum, int all_sum)
{
  for (uint32_t p = 1; p < strip->bays; p++)
    for (uint32_t r = 0; strip->counted[p] && r + 1 < strip->row_count; r++)
      {
        int count = put_ends (m, 0, &strip->rows[r], p, 1);
        int lower = count;
        count = put_ends (m, count, &strip->rows[r + 1], p, 1);
        if (lower == 0 || count == lower)
          continue;
        if (may_align)
          {
            int column = glp_add_cols (m->lp, 1);
            int rows[3] = { 0, strip_sum, all_sum };
            double ones[3] = { 0, 1, 1 };
            glp_set_col_bnds (m->lp, column, GLP_DB, 0, 1);
            glp_set_mat_col (m->lp, column, 2, rows, ones);
            m->index[++count] = column;
            m->value[count] = -1;
          }
        put_row (m, count, GLP_UP, 0, 1);
      }
}

/* First pieces long and short in turn: with u = 0 the lowest row is a long one.
 * For the pair's shorter row S and longer row L and every k:
 * S's first piece has k bays or more only if L's has. */
static void
add_turns (sw_master *m, const sw_strip *strip)
{
  int u = glp_add_cols (m->lp, 1);
  glp_set_col_bnds (m->lp, u, GLP_DB, 0, 1);
  glp_set_col_kind (m->lp, u, GLP_BV);
  for (uint32_t r = 0; r + 1 < strip->row_count; r++)
    for (unsigned turn = 0; turn < 2; turn++)
      {
        const sw_strip_row *row[2] = { &strip->rows[r], &strip->rows[r + 1] };
        const sw_strip_row *longer = row[(r + turn) % 2], *shorter = row[1 - (r + turn) % 2];
        for (uint32_t k = 2; k <= shorter->reach && k < strip->bays; k++)
          {
            int count = put_begins (m, 0, strip, shorter, 0, k, false, 1);
            if (count == 0)
              continue;
            count = put_begins (m, count, strip, longer, 0, k, true, -1);
            m->index[++count] = u;
            m->value[count] = turn == 0 ? -1 : 1;
            put_row (m, count, GLP_UP, 0, turn == 0 ? 0 : 1);
          }
      }
}

static void
add_strips (sw_master *m)
{
  const sw_model *model = m->model;
  int64_t floors = 0;
  for (size_t s = 0; s < model->strip_count; s++)
    floors += model->strips[s].aligned_floor;
  int all_sum = m->aligned_row = glp_add_rows (m->lp, 1);
  glp_set_row_bnds (m->lp, all_sum, GLP_UP, 0, (double)(floors + model->aligned_cap));
  for (size_t s = 0; s < model->strip_count; s++)
    {
      const sw_strip *strip = &model->strips[s];
      for (uint32_t r = 0; r < strip->row_count; r++)
        add_flow (m, strip, &strip->rows[r]);
      if (!model->stagger || strip->row_count < 2)
        continue;
      int64_t most = strip->aligned_floor + model->aligned_cap;
      int strip_sum = glp_add_rows (m->lp, 1);
      glp_set_row_bnds (m->lp, strip_sum, GLP_UP, 0, (double)most);
      add_stagger (m, strip, most > 0, strip_sum, all_sum);
      add_turns (m, strip);
    }
}

/* Put the options into the rows of needs and caps. */
static void
add_option_entries (sw_master *m)
{
  const sw_model *model = m->model;
  for (size_t o = 0; o < model->option_count; o++)
    {
      int column = m->option_column[o];
      if (column == 0)
        continue;
      int count = glp_get_mat_col (m->lp, column, m->index, m->value);
      m->index[++count] = m->need_row + (int)model->options[o].need;
      m->value[count] = -1;
      for (int a = 0; a < SW_AIM_COUNT; a++)
        if (option_cost (m, o, (sw_aim)a) != 0)
          {
            m->index[++count] = m->cap_row + a;
            m->value[count] = option_cost (m, o, (sw_aim)a);
          }
      glp_set_mat_col (m->lp, column, count, m->index, m->value);
      glp_set_col_kind (m->lp, column, GLP_IV);
    }
}

static sw_status
build (sw_master *m, void *data)
{
  m->lp = glp_create_prob ();
  add_base_rows (m);
  add_base_columns (m, data);
  if (m->model->strip_count > 0)
    {
      add_strips (m);
      add_option_entries (m);
    }
  m->pattern_column = glp_get_num_cols (m->lp) + 1;
  m->fresh = true;
  return SW_OK;
}

static uint32_t
longest_reach (const sw_model *model)
{
  uint32_t longest = 0;
  for (size_t s = 0; s < model->strip_count; s++)
    for (uint32_t r = 0; r < model->strips[s].row_count; r++)
      if (model->strips[s].rows[r].reach > longest)
        longest = model->strips[s].rows[r].reach;
  return longest;
}

sw_status
sw_master_new (sw_master **out, const sw_model *model, const sw_patterns *pool, const uint8_t *keep, sw_master *beside)
{
  sw_master *m = sw_alloc (1, sizeof *m);
  if (m == NULL)
    return SW_NO_MEMORY;
  m->model = model;
  m->pool = pool;
  m->beside = m;
  if (beside != NULL)
    {
      m->beside = beside->beside;
      beside->beside = m;
    }
  /* No row or column has more entries: a column meets each row at most once,
   * and of the rows of first pieces two a pair of levels and number of bays. */
  uint64_t entries = model->need_count + model->supply_count + 2 * model->option_count
                     + 4 * (uint64_t)longest_reach (model) + SW_AIM_COUNT + 1024;
  if (entries > INT32_MAX / 2)
    {
      sw_master_free (m);
      return SW_NO_MEMORY;
    }
  m->index_size = (int)entries;
  m->index = sw_alloc ((size_t)m->index_size, sizeof *m->index);
  m->value = sw_alloc ((size_t)m->index_size, sizeof *m->value);
  m->option_column = sw_alloc (model->option_count, sizeof *m->option_column);
  m->begin_row = sw_alloc (model->option_count, sizeof *m->begin_row);
  sw_status status = SW_NO_MEMORY;
  if (m->index && m->value && m->option_column && m->begin_row)
    status = guarded (m, build, (void *)(uintptr_t)keep);
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
    guarded (m, delete, NULL);
  sw_master *before = m;
  while (before->beside != m)
    before = before->beside;
  before->beside = m->beside;
  free (m->patterns);
  free (m->known);
  free (m->option_column);
  free (m->begin_row);
  free (m->kept);
  free (m->index);
  free (m->value);
  free (m);
}

static sw_status
add_pattern (sw_master *m, void *data)
{
  size_t pattern = *(size_t *)data;
  const sw_pattern *p = &m->pool->items[pattern];
  int column = glp_add_cols (m->lp, 1), count = 0;
  for (uint32_t c = 0; c < p->count; c++)
    {
      const sw_cut *cut = &m->pool->cuts[p->first + c];
      m->index[++count] = m->need_row + (int)cut->need;
      m->value[count] = cut->copies;
    }
  m->index[++count] = m->supply_row + (int)p->supply;
  m->value[count] = 1;
  for (int a = 0; a < SW_AIM_COUNT; a++)
    if (pattern_cost (m, pattern, (sw_aim)a) != 0)
      {
        m->index[++count] = m->cap_row + a;
        m->value[count] = pattern_cost (m, pattern, (sw_aim)a);
      }
  glp_set_mat_col (m->lp, column, count, m->index, m->value);
  glp_set_col_kind (m->lp, column, GLP_IV);
  glp_set_col_bnds (m->lp, column, GLP_LO, 0, 0);
  glp_set_obj_coef (m->lp, column, pattern_cost (m, pattern, m->aim));
  m->dual_first = false;
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
    status = guarded (m, add_pattern, &pattern);
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
  for (size_t o = 0; o < m->model->option_count; o++)
    if (m->option_column[o] != 0)
      glp_set_obj_coef (m->lp, m->option_column[o], option_cost (m, o, aim));
  for (size_t i = 0; i < m->pattern_count; i++)
    glp_set_obj_coef (m->lp, m->pattern_column + (int)i, pattern_cost (m, m->patterns[i], aim));
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
  for (size_t n = 0; n < m->model->need_count; n++)
    glp_set_obj_coef (m->lp, m->uncovered_column + (int)n, penalty);
}

static void
set_bounds (sw_master *m, int column, double low, double high, bool bounded)
{
  if (!bounded)
    glp_set_col_bnds (m->lp, column, GLP_LO, low, 0);
  else if (low == high)
    glp_set_col_bnds (m->lp, column, GLP_FX, low, low);
  else
    glp_set_col_bnds (m->lp, column, GLP_DB, low, high);
}

void
sw_master_bound_option (sw_master *m, size_t option, int low, int high)
{
  if (!m->broken && m->option_column[option] != 0)
    set_bounds (m, m->option_column[option], low, high, low == high);
}

void
sw_master_bound_pattern (sw_master *m, size_t i, int64_t low, int64_t high)
{
  if (!m->broken)
    set_bounds (m, m->pattern_column + (int)i, (double)low, (double)high, high >= 0);
}

/* ---- Basis --------------------------------------------------------------------------- */

typedef struct start
{
  const uint8_t *used;
  const size_t *plain;
} start;

/* One option that begins at each post is basic: those of the layout, elsewhere any. */
static void
start_options (sw_master *m, const uint8_t *used)
{
  for (int pass = 0; pass < 2; pass++)
    for (size_t o = 0; o < m->model->option_count; o++)
      if (m->option_column[o] != 0 && used[o] == (pass == 0) && glp_get_row_stat (m->lp, m->begin_row[o]) == GLP_BS)
        {
          glp_set_row_stat (m->lp, m->begin_row[o], GLP_NS);
          glp_set_col_stat (m->lp, m->option_column[o], GLP_BS);
        }
}

static sw_status
run_start (sw_master *m, void *data)
{
  const start *s = data;
  glp_std_basis (m->lp);
  start_options (m, s->used);
  for (size_t i = 0; i < m->pattern_count; i++)
    {
      const sw_pattern *p = &m->pool->items[m->patterns[i]];
      size_t need = p->count == 1 ? m->pool->cuts[p->first].need : 0;
      if (p->count != 1 || s->plain[need] != m->patterns[i])
        continue;
      glp_set_row_stat (m->lp, m->need_row + (int)need, GLP_NL);
      glp_set_col_stat (m->lp, m->pattern_column + (int)i, GLP_BS);
    }
  for (size_t n = 0; n < m->model->need_count; n++)
    if (s->plain[n] == SIZE_MAX)
      {
        glp_set_row_stat (m->lp, m->need_row + (int)n, GLP_NL);
        glp_set_col_stat (m->lp, m->uncovered_column + (int)n, GLP_BS);
      }
  m->fresh = false;
  m->dual_first = false;
  return SW_OK;
}

sw_status
sw_master_start (sw_master *m, const uint8_t *used, const size_t *plain)
{
  start s = { .used = used, .plain = plain };
  return guarded (m, run_start, &s);
}

sw_status
sw_master_keep_basis (sw_master *m)
{
  if (m->broken)
    return SW_FAILED;
  int rows = glp_get_num_rows (m->lp), columns = glp_get_num_cols (m->lp);
  int *kept = realloc (m->kept, (size_t)(rows + columns + 1) * sizeof *kept);
  if (kept == NULL)
    return SW_NO_MEMORY;
  m->kept = kept;
  m->kept_columns = columns;
  for (int i = 1; i <= rows; i++)
    kept[i - 1] = glp_get_row_stat (m->lp, i);
  for (int j = 1; j <= columns; j++)
    kept[rows + j - 1] = glp_get_col_stat (m->lp, j);
  return SW_OK;
}

void
sw_master_back_to_basis (sw_master *m)
{
  if (m->broken || m->kept == NULL)
    return;
  int rows = glp_get_num_rows (m->lp), columns = glp_get_num_cols (m->lp);
  for (int i = 1; i <= rows; i++)
    glp_set_row_stat (m->lp, i, m->kept[i - 1]);
  for (int j = 1; j <= columns; j++)
    glp_set_col_stat (m->lp, j, j <= m->kept_columns ? m->kept[rows + j - 1] : GLP_NL);
  m->dual_first = false;
}

/* ---- Linear programme ------------------------------------------------------------------ */

typedef struct lp_run
{
  sw_clock *clock;
  sw_lp outcome;
} lp_run;

static sw_status
run_lp (sw_master *m, void *data)
{
  lp_run *run = data;
  glp_smcp parm;
  glp_init_smcp (&parm);
  parm.msg_lev = GLP_MSG_OFF;
  parm.meth = m->dual_first ? GLP_DUALP : GLP_PRIMAL;
  if (m->fresh)
    glp_adv_basis (m->lp, 0);
  m->fresh = false;
  for (int restarts = 0;;)
    {
      if (sw_clock_stop (run->clock))
        {
          run->outcome = SW_LP_STOPPED;
          return SW_OK;
        }
      int left = sw_clock_left (run->clock);
      parm.tm_lim = left > 0 ? left : 1;
      parm.it_lim = LP_SLICE;
      int code = glp_simplex (m->lp, &parm);
      if (code == GLP_ETMLIM || code == GLP_EITLIM)
        continue;
      if (code != 0)
        {
          /* A basis that lost its footing: begin anew from a plain one, once; then there is no verdict. */
          if (restarts++ > 0)
            {
              run->outcome = SW_LP_STOPPED;
              return SW_OK;
            }
          glp_std_basis (m->lp);
          parm.meth = GLP_PRIMAL;
          continue;
        }
      int status = glp_get_status (m->lp);
      if (status == GLP_OPT)
        run->outcome = SW_LP_OPTIMAL;
      else if (status == GLP_NOFEAS)
        run->outcome = SW_LP_INFEASIBLE;
      else if (restarts++ == 0)
        {
          glp_std_basis (m->lp);
          parm.meth = GLP_PRIMAL;
          continue;
        }
      else
        run->outcome = SW_LP_STOPPED;
      m->dual_first = true;
      return SW_OK;
    }
}

sw_status
sw_master_lp (sw_master *m, sw_clock *clock, sw_lp *outcome)
{
  lp_run run = { .clock = clock };
  sw_status status = guarded (m, run_lp, &run);
  *outcome = run.outcome;
  return status;
}

uint64_t
sw_master_work (const sw_master *m)
{
  return m->broken ? 0 : (uint64_t)glp_get_it_cnt (m->lp) * (uint64_t)glp_get_num_rows (m->lp);
}

double
sw_master_value (const sw_master *m)
{
  return glp_get_obj_val (m->lp);
}

double
sw_master_uncovered (const sw_master *m)
{
  double sum = 0;
  for (size_t n = 0; n < m->model->need_count; n++)
    sum += glp_get_col_prim (m->lp, m->uncovered_column + (int)n);
  return sum;
}

double
sw_master_need_dual (const sw_master *m, size_t need)
{
  return glp_get_row_dual (m->lp, m->need_row + (int)need);
}

double
sw_master_supply_dual (const sw_master *m, size_t supply)
{
  return glp_get_row_dual (m->lp, m->supply_row + (int)supply);
}

double
sw_master_cap_dual (const sw_master *m, sw_aim aim)
{
  return glp_get_row_dual (m->lp, m->cap_row + (int)aim);
}

double
sw_master_aligned_dual (const sw_master *m)
{
  return m->aligned_row == 0 ? 0 : glp_get_row_dual (m->lp, m->aligned_row);
}

double
sw_master_option_value (const sw_master *m, size_t option)
{
  return m->option_column[option] == 0 ? 0 : glp_get_col_prim (m->lp, m->option_column[option]);
}

double
sw_master_option_reduced (const sw_master *m, size_t option)
{
  return m->option_column[option] == 0 ? 0 : glp_get_col_dual (m->lp, m->option_column[option]);
}

double
sw_master_pattern_value (const sw_master *m, size_t i)
{
  return glp_get_col_prim (m->lp, m->pattern_column + (int)i);
}

/* ---- Branch and bound --------------------------------------------------------------------- */

typedef struct mip_run
{
  sw_clock *clock;
  int64_t nodes;
  int total_column; /* boards of each supply */
  int total_count;
  bool proved;
  bool feasible;
  double value; /* of the best solution, when feasible */
} mip_run;

static void
on_node (glp_tree *tree, void *info)
{
  mip_run *run = info;
  switch (glp_ios_reason (tree))
    {
    case GLP_IBRANCH:
      if (run->nodes-- <= 0 || sw_clock_stop (run->clock))
        glp_ios_terminate (tree);
      else
        /* Boards of each supply first: nothing else moves the bound as much. */
        for (int i = 0; i < run->total_count; i++)
          if (glp_ios_can_branch (tree, run->total_column + i))
            {
              glp_ios_branch_upon (tree, run->total_column + i, GLP_NO_BRNCH);
              break;
            }
      break;
    default:
      break;
    }
}

static sw_status
read_mip (sw_master *m, sw_choice *choice)
{
  for (size_t o = 0; o < m->model->option_count; o++)
    choice->used[o] = m->option_column[o] != 0 && glp_mip_col_val (m->lp, m->option_column[o]) > 0.5;
  choice->count = 0;
  for (size_t i = 0; i < m->pattern_count; i++)
    {
      long copies = lround (glp_mip_col_val (m->lp, m->pattern_column + (int)i));
      if (copies <= 0)
        continue;
      sw_status status = sw_choice_add (choice, m->patterns[i], copies);
      if (status != SW_OK)
        return status;
    }
  return SW_OK;
}

/* A whole-number column for the boards of each supply, to branch on. */
static void
add_totals (sw_master *m, mip_run *run)
{
  run->total_count = (int)m->model->supply_count;
  run->total_column = glp_add_cols (m->lp, run->total_count);
  for (int i = 0; i < run->total_count; i++)
    {
      int row[2] = { 0, m->supply_row + i };
      double minus[2] = { 0, -1 };
      int64_t limit = m->model->supplies[i].limit;
      glp_set_mat_col (m->lp, run->total_column + i, 1, row, minus);
      glp_set_row_bnds (m->lp, m->supply_row + i, GLP_FX, 0, 0);
      glp_set_col_kind (m->lp, run->total_column + i, GLP_IV);
      set_bounds (m, run->total_column + i, 0, (double)limit, limit >= 0);
    }
}

static sw_status
remove_totals (sw_master *m, void *data)
{
  mip_run *run = data;
  int *columns = sw_alloc ((size_t)run->total_count + 1, sizeof *columns);
  if (columns == NULL)
    return SW_NO_MEMORY;
  for (int i = 0; i < run->total_count; i++)
    columns[i + 1] = run->total_column + i;
  if (run->total_count > 0)
    glp_del_cols (m->lp, run->total_count, columns);
  free (columns);
  set_supply_rows (m);
  glp_std_basis (m->lp);
  return SW_OK;
}

static sw_status
run_mip (sw_master *m, void *data)
{
  mip_run *run = data;
  glp_iocp parm;
  add_totals (m, run);
  glp_std_basis (m->lp);
  m->dual_first = false;
  lp_run lp = { .clock = run->clock };
  sw_status solved = run_lp (m, &lp);
  if (solved != SW_OK || lp.outcome != SW_LP_OPTIMAL)
    {
      run->proved = solved == SW_OK && lp.outcome == SW_LP_INFEASIBLE;
      return solved;
    }
  glp_init_iocp (&parm);
  parm.msg_lev = GLP_MSG_OFF;
  parm.br_tech = GLP_BR_DTH;
  parm.bt_tech = GLP_BT_BLB;
  /* Cuts pay where layouts are chosen; over patterns alone they only cost. */
  if (m->model->option_count > 0)
    parm.mir_cuts = parm.gmi_cuts = GLP_ON;
  /* A node may be dropped only where it cannot gain a whole unit, however large the values are. */
  parm.tol_obj = fmin (parm.tol_obj, 0.1 / (1 + 10 * fabs (glp_get_obj_val (m->lp))));
  parm.cb_func = on_node;
  parm.cb_info = run;
  int left = sw_clock_left (run->clock);
  parm.tm_lim = left > 0 ? left : 1;
  int code = glp_intopt (m->lp, &parm);
  int status = code == GLP_ENOPFS ? GLP_NOFEAS : glp_mip_status (m->lp);
  /* Numbers too far apart for it: no verdict, and no plan is lost by that. */
  if (code != 0 && code != GLP_ENOPFS && code != GLP_ENODFS && code != GLP_ETMLIM && code != GLP_ESTOP)
    return SW_OK;
  run->feasible = status == GLP_OPT || status == GLP_FEAS;
  run->value = glp_mip_obj_val (m->lp);
  run->proved = (code == 0 && status == GLP_OPT) || status == GLP_NOFEAS;
  return SW_OK;
}

sw_status
sw_master_mip (sw_master *m, sw_clock *clock, int64_t nodes, sw_choice *choice, bool *proved)
{
  *proved = false;
  mip_run run = { .clock = clock, .nodes = nodes };
  /* No piece may stay uncovered. */
  for (size_t n = 0; n < m->model->need_count; n++)
    set_bounds (m, m->uncovered_column + (int)n, 0, 0, true);
  sw_status status = guarded (m, run_mip, &run);
  *proved = run.proved;
  if (status == SW_OK && run.feasible)
    {
      sw_choice found;
      status = sw_choice_init (&found, m->model);
      if (status == SW_OK)
        status = read_mip (m, &found);
      if (status == SW_OK && sw_choice_check (&found, m->model, m->pool))
        {
          /* Tolerances let fractions of large numbers pass: then the search was about something else. */
          if (fabs (run.value - (double)found.value[m->aim]) > 0.5)
            *proved = false;
          if (!choice->valid || found.value[m->aim] < choice->value[m->aim])
            status = sw_choice_copy (choice, &found, m->model);
        }
      else
        *proved = false;
      sw_choice_clear (&found);
    }
  if (!m->broken)
    {
      sw_status removed = guarded (m, remove_totals, &run);
      status = status == SW_OK ? removed : status;
      for (size_t n = 0; n < m->model->need_count && !m->broken; n++)
        set_bounds (m, m->uncovered_column + (int)n, 0, 0, false);
    }
  m->dual_first = false;
  return status;
}
