/* purchase_cuts.c - what every order has to bring, whatever it costs
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "plan/purchase_cuts.h"

#include "base/memory.h"
#include "lp/master.h"

#include <math.h>
#include <stdlib.h>

/* A worth from here on could pass the range of a sum, and its cut is left out. */
#define MOST_WORTH ((int64_t)1 << 60)
/* The most cuts that are kept. */
#define MOST_CUTS 200
/* Weights of cuts are counted in 1 / WEIGHT_SCALE and are no larger than MOST_WEIGHT. */
#define WEIGHT_SCALE 1048576.0
#define MOST_WEIGHT 1e9
/* In the linear programme, all that is bought costs about so much. */
#define USUAL_COST 1000.0
/* What a unit of a cut's length costs there that no order brings. */
#define LACKING_COST 100.0

/* ---- Cuts ---------------------------------------------------------------------------------- */

void
sw_cuts_clear (sw_cuts *cuts)
{
  for (size_t k = 0; k < cuts->count; k++)
    free (cuts->items[k].worth);
  free (cuts->items);
  *cuts = (sw_cuts){ .count = 0 };
}

/* VALUE, in 1 / SCALE of a granule, in 1 / SW_CUT_SCALE of a cost; rounded UP or down.  False: it is out of range. */
static bool
convert (sw_wide value, const sw_model *model, int64_t scale, bool up, int64_t *out)
{
  const sw_wide most = (sw_wide)1 << 100;
  if (value > most / SW_CUT_SCALE / model->granule || value < -(most / SW_CUT_SCALE / model->granule))
    return false;
  const sw_wide product = value * model->granule * SW_CUT_SCALE;
  sw_wide part = product / scale;
  if (up && part * scale < product)
    part++;
  if (!up && part * scale > product)
    part--;
  *out = (int64_t)part;
  return part < MOST_WORTH && part > -MOST_WORTH;
}

static bool
is_of_model (const sw_model *model, size_t section)
{
  for (size_t g = 0; g < model->section_count; g++)
    if (model->sections[g].of_job == section)
      return true;
  return false;
}

/* Set the worths of CUT.  False: one of them is out of range. */
static bool
read_worths (const sw_offer_lines *lines, const sw_model *model, const sw_solved *solved, sw_purchase_cut *cut)
{
  const sw_buying *b = lines->buying;
  bool good = convert (solved->least, model, solved->scale, false, &cut->least);
  for (size_t c = 0; c < b->cell_count; c++)
    cut->worth[c] = is_of_model (model, b->cells[c].section) ? SW_CUT_NOT_KNOWN : 0;
  for (size_t i = 0; i < model->stock_count && good; i++)
    {
      int64_t worth;
      if (model->sections[model->stocks[i].section].of_job == SW_SECTION_IN_PLACE)
        {
          good = solved->worth[i] <= 0;
          continue;
        }
      const size_t c = lines->cell_of[model->stocks[i].of_job];
      good = convert (solved->worth[i], model, solved->scale, true, &worth);
      if (good && (cut->worth[c] == SW_CUT_NOT_KNOWN || worth > cut->worth[c]))
        cut->worth[c] = worth;
    }
  return good;
}

/* Find room for one more cut: at the end, or, where there are too many, that of the cut which was idle longest. */
static sw_status
make_room (sw_cuts *cuts, sw_purchase_cut **room)
{
  if (cuts->count < MOST_CUTS)
    {
      sw_status status = sw_grow ((void **)&cuts->items, &cuts->capacity, cuts->count + 1, sizeof *cuts->items);
      if (status == SW_OK)
        *(*room = &cuts->items[cuts->count++]) = (sw_purchase_cut){ .worth = NULL };
      return status;
    }
  *room = cuts->items;
  for (size_t k = 1; k < cuts->count; k++)
    if (cuts->items[k].idle > (*room)->idle)
      *room = &cuts->items[k];
  free ((*room)->worth);
  return SW_OK;
}

sw_status
sw_cuts_learn (sw_cuts *cuts, const sw_offer_lines *lines, const sw_model *model, const sw_solved *solved)
{
  sw_purchase_cut *room;
  if (solved->scale == 0)
    return SW_OK;
  sw_purchase_cut cut
      = { .part = model->sections[0].of_job, .worth = sw_alloc (lines->buying->cell_count, sizeof *cut.worth) };
  sw_status status = SW_NO_MEMORY;
  if (cut.worth != NULL)
    status = read_worths (lines, model, solved, &cut) ? make_room (cuts, &room) : SW_STOPPED;
  if (status == SW_OK)
    *room = cut;
  else
    free (cut.worth);
  return status == SW_STOPPED ? SW_OK : status;
}

/* ---- A bound from weights -------------------------------------------------------------------- */

/* Does CUT hold for all that the node of LINES allows? */
static bool
holds (const sw_purchase_cut *cut, const sw_offer_lines *lines)
{
  for (size_t c = 0; c < lines->buying->cell_count; c++)
    if (cut->worth[c] == SW_CUT_NOT_KNOWN && (lines->last[c] > 0 || lines->buying->cells[c].hand > 0))
      return false;
  return true;
}

/* The part of CUT that boards to be bought must be worth. */
static sw_wide
to_bring (const sw_purchase_cut *cut, const sw_buying *b)
{
  sw_wide left = cut->least;
  for (size_t c = 0; c < b->cell_count; c++)
    if (b->cells[c].hand > 0)
      left -= (sw_wide)cut->worth[c] * b->cells[c].hand;
  return left;
}

/* The least cost of the node less what the cuts with these WEIGHTS (for each cut, in 1 / WEIGHT_SCALE) say it must
 * bring (a Lagrangian bound); the costs are the true ones, and all is done in whole numbers. */
static int64_t
bound_at (const sw_cuts *cuts, const sw_offer_lines *lines, const int64_t *weight)
{
  const sw_buying *b = lines->buying;
  const sw_wide scale = (sw_wide)SW_CUT_SCALE * (int64_t)WEIGHT_SCALE;
  sw_wide sum = scale * sw_buying_delivery (b, lines->in);
  for (size_t k = 0; k < cuts->count; k++)
    if (weight[k] > 0)
      sum += weight[k] * to_bring (&cuts->items[k], b);
  for (size_t c = 0; c < b->cell_count; c++)
    {
      sw_wide worth = 0;
      for (size_t k = 0; k < cuts->count; k++)
        if (weight[k] > 0 && cuts->items[k].worth[c] != SW_CUT_NOT_KNOWN)
          worth += (sw_wide)weight[k] * cuts->items[k].worth[c];
      sw_wide least = scale * lines->costs.of[c][lines->paid[c]] - worth * lines->paid[c];
      for (int64_t n = lines->paid[c] + 1; n <= lines->last[c]; n++)
        {
          const sw_wide here = scale * lines->costs.of[c][n] - worth * n;
          least = here < least ? here : least;
        }
      sum += least;
    }
  return sum <= 0 ? 0 : (int64_t)((sum + scale - 1) / scale);
}

/* ---- The linear programme ----------------------------------------------------------------------- */

typedef struct small
{
  sw_cuts *cuts;
  const sw_offer_lines *lines;
  sw_master *lp;
  double unit;    /* cost that counts as 1 */
  int *row;       /* for each cut; 0: it is left out */
  double *length; /* for each cut: its largest worth */
  int *cell_row;  /* for each cell */
  size_t column_count, column_capacity;
  struct
  {
    size_t cell;
    int64_t number;
  } * columns;
} small;

static sw_status
add_rows (small *s)
{
  const sw_cuts *cuts = s->cuts;
  const sw_buying *b = s->lines->buying;
  sw_status status = SW_OK;
  for (size_t k = 0; k < cuts->count && status == SW_OK; k++)
    {
      const sw_purchase_cut *cut = &cuts->items[k];
      if (!holds (cut, s->lines))
        continue;
      for (size_t c = 0; c < b->cell_count; c++)
        if (cut->worth[c] != SW_CUT_NOT_KNOWN)
          s->length[k] = fmax (s->length[k], (double)cut->worth[c]);
      if (s->length[k] > 0)
        status = sw_master_row (s->lp, (double)to_bring (cut, b) / s->length[k], INFINITY, &s->row[k]);
    }
  for (size_t c = 0; c < b->cell_count && status == SW_OK; c++)
    status = sw_master_row (s->lp, 1, 1, &s->cell_row[c]);
  return status;
}

/* Add a column: NUMBER lengths of CELL. */
static sw_status
add_number (small *s, size_t c, int64_t number)
{
  sw_status status = sw_grow ((void **)&s->columns, &s->column_capacity, s->column_count + 1, sizeof *s->columns);
  if (status != SW_OK)
    return status;
  s->columns[s->column_count].cell = c;
  s->columns[s->column_count++].number = number;
  for (size_t k = 0; k < s->cuts->count; k++)
    if (s->row[k] > 0 && s->cuts->items[k].worth[c] > 0 && number > 0)
      sw_master_put (s->lp, s->row[k], (double)s->cuts->items[k].worth[c] * (double)number / s->length[k]);
  sw_master_put (s->lp, s->cell_row[c], 1);
  return sw_master_column (s->lp, (double)s->lines->costs.of[c][number] / s->unit, NULL);
}

/* Add a column for what a part's joins cost, or, where joins cost nothing, for what no order brings. */
static sw_status
add_rest (small *s, size_t first)
{
  const bool joins = s->lines->buying->job->settings->join_cost > 0;
  for (size_t k = first; k < s->cuts->count; k++)
    if (s->row[k] > 0 && s->cuts->items[k].part == s->cuts->items[first].part)
      sw_master_put (s->lp, s->row[k], joins ? (double)SW_CUT_SCALE * s->unit / s->length[k] : 1);
  return sw_master_column (s->lp, joins ? 1 : LACKING_COST, NULL);
}

static sw_status
add_columns (small *s)
{
  const sw_offer_lines *lines = s->lines;
  sw_status status = SW_OK;
  for (size_t c = 0; c < lines->buying->cell_count && status == SW_OK; c++)
    {
      status = add_number (s, c, lines->paid[c]);
      for (size_t i = lines->step_first[c]; i < lines->step_first[c + 1] && status == SW_OK; i++)
        status = add_number (s, c, lines->steps[i].end);
    }
  for (size_t k = 0; k < s->cuts->count && status == SW_OK; k++)
    {
      bool first = true;
      for (size_t j = 0; j < k; j++)
        first = first && s->cuts->items[j].part != s->cuts->items[k].part;
      if (first)
        status = add_rest (s, k);
    }
  return status;
}

/* Set WEIGHT to the duals.  Where joins cost, the cuts of a part have no more than 1 together, because the joins that
 * meet them cost something. */
static void
read_weights (const small *s, int64_t *weight)
{
  const sw_cuts *cuts = s->cuts;
  for (size_t k = 0; k < cuts->count; k++)
    {
      const double dual = s->row[k] > 0 ? sw_master_dual (s->lp, s->row[k]) : 0;
      const double scaled = dual * s->unit / s->length[k] * (double)SW_CUT_SCALE * WEIGHT_SCALE;
      weight[k] = scaled > 0 && s->row[k] > 0 ? (int64_t)fmin (scaled, MOST_WEIGHT * WEIGHT_SCALE) : 0;
    }
  if (s->lines->buying->job->settings->join_cost == 0)
    return;
  for (size_t k = 0; k < cuts->count; k++)
    {
      double sum = 0;
      for (size_t j = 0; j < cuts->count; j++)
        sum += cuts->items[j].part == cuts->items[k].part ? (double)weight[j] : 0;
      for (size_t j = k; sum > WEIGHT_SCALE && j < cuts->count; j++)
        if (cuts->items[j].part == cuts->items[k].part)
          weight[j] = (int64_t)((double)weight[j] * (WEIGHT_SCALE - 1) / sum);
    }
}

static sw_status
solve_small (small *s, sw_watch *watch, int64_t *weight, bool *bounded, int64_t *bound, double *count)
{
  const size_t cells = s->lines->buying->cell_count;
  sw_lp outcome;
  sw_status status = add_rows (s);
  if (status == SW_OK)
    status = add_columns (s);
  if (status == SW_OK)
    status = sw_master_lp (s->lp, watch, &outcome);
  if (status != SW_OK || outcome != SW_LP_OPTIMAL)
    return status;
  read_weights (s, weight);
  *bound = bound_at (s->cuts, s->lines, weight);
  *bounded = true;
  for (size_t k = 0; k < s->cuts->count; k++)
    s->cuts->items[k].idle = weight[k] > 0 ? 0 : s->cuts->items[k].idle + 1;
  for (size_t c = 0; c < cells; c++)
    count[c] = 0;
  for (size_t j = 0; j < s->column_count; j++)
    count[s->columns[j].cell] += sw_master_share (s->lp, (int)j + 1) * (double)s->columns[j].number;
  return status;
}

sw_status
sw_cuts_bound (sw_cuts *cuts, const sw_offer_lines *lines, int64_t usual, sw_watch *watch, bool *bounded,
               int64_t *bound, double *count)
{
  *bounded = false;
  if (cuts->count == 0)
    return SW_OK;
  small s = { .cuts = cuts, .lines = lines, .unit = (double)usual / USUAL_COST };
  int64_t *weight = sw_alloc (cuts->count, sizeof *weight);
  s.row = sw_alloc (cuts->count, sizeof *s.row);
  s.length = sw_alloc (cuts->count, sizeof *s.length);
  s.cell_row = sw_alloc (lines->buying->cell_count, sizeof *s.cell_row);
  sw_status status = weight && s.row && s.length && s.cell_row ? sw_master_new (&s.lp) : SW_NO_MEMORY;
  if (status == SW_OK)
    status = solve_small (&s, watch, weight, bounded, bound, count);
  sw_master_free (s.lp);
  free (weight);
  free (s.row);
  free (s.length);
  free (s.cell_row);
  free (s.columns);
  /* Where the programme fails there is only no bound. */
  return status == SW_FAILED ? SW_OK : status;
}
