/* plan_make.c - makes a plan of a job: lays it out, solves the models, names every piece
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "job/divided.h"
#include "plan/plan.h"
#include "plan/plan_once.h"
#include "plan/plan_pieces.h"
#include "plan/plan_why.h"
#include "plan/replan.h"
#include "base/report.h"
#include "solve/solve.h"
#include "base/text.h"

typedef struct making
{
  const sw_job *job;
  sw_layout *layout;
  sw_model *models;
  size_t model_count;
  sw_solved *solved;
  sw_watch watch;
  sw_part *parts;
  sw_report *report;
  void (*changed) (sw_layout *layout, const void *data); /* marks pieces that differ; NULL: there is no plan before */
  const void *data;
  const sw_once *once; /* NULL: it is a plan by itself */
} making;

/* ---- Why there is no plan ---------------------------------------------------------- */

/* The names of MODEL's sections: "rail, cap". */
static void
name_sections (const sw_model *model, sw_text *text)
{
  for (size_t g = 0; g < model->section_count && model->sections[g].of_job != SW_SECTION_IN_PLACE; g++)
    {
      if (g > 0)
        sw_text_add (text, ", ");
      sw_text_add (text, model->layout->job->sections.items[model->sections[g].of_job].name);
    }
}

static void
say_stopped (const making *m, const sw_model *model)
{
  sw_text names = { 0 };
  name_sections (model, &names);
  sw_report_add (m->report, SW_FAULT, NULL, 0, NULL, "section %s: %s", names.data != NULL ? names.data : "",
                 m->watch.stop == SW_STOP_TIME       ? "the time limit came before any plan was found"
                 : m->watch.stop == SW_STOP_CALLBACK ? "interrupted before any plan was found"
                                                     : "no plan was found, nor a proof that there is none");
  sw_text_drop (&names);
}

/* ---- Solving ------------------------------------------------------------------------- */

static sw_status
solve_all (making *m, const sw_limits *limits)
{
  bool hard_way = limits != NULL && limits->hard_way;
  sw_status verdict = SW_OK;
  /* A shortage that needs no search to be proved is reported before anything is solved, for all sections together. */
  for (size_t i = 0; i < m->model_count; i++)
    {
      bool told;
      sw_status status = sw_plan_short (&m->models[i], m->report, &told);
      if (status != SW_OK)
        return status;
      if (told)
        verdict = SW_NO_PLAN;
    }
  if (verdict != SW_OK)
    return verdict;
  /* Give the progress a first bound and a first plan of every model.  Only a caller with a callback sees them. */
  for (size_t i = 0; limits != NULL && limits->progress != NULL && m->model_count > 1 && i < m->model_count; i++)
    {
      m->watch.part = i;
      sw_status status = sw_solve_begin (&m->models[i], &m->watch);
      if (status != SW_OK && status != SW_NO_PLAN)
        return status;
    }
  for (size_t i = 0; i < m->model_count; i++)
    {
      m->watch.part = i;
      sw_status status = sw_solve_model (&m->solved[i], &m->models[i], &m->watch, hard_way);
      if (status == SW_OK && m->once != NULL && m->once->learn != NULL)
        status = m->once->learn (&m->models[i], &m->solved[i], m->once->learner);
      if (status != SW_OK)
        return status;
      if (m->solved[i].solution.valid)
        continue;
      if (m->solved[i].impossible)
        {
          status = sw_plan_why (&m->models[i], m->report);
          if (status != SW_OK)
            return status;
          verdict = SW_NO_PLAN;
        }
      else
        {
          say_stopped (m, &m->models[i]);
          if (verdict == SW_OK)
            verdict = SW_STOPPED;
        }
    }
  return verdict;
}

/* The value of the joins counts a changed piece as CHANGE joins. */
static bool
are_changes_proved (const sw_solved *s, int64_t change)
{
  return change == 0
         || (s->proved[SW_AIM_COST] && s->solution.value[SW_AIM_JOINS] / change <= s->bound[SW_AIM_JOINS] / change);
}

static void
summarise (sw_plan *plan, const making *m)
{
  sw_summary *sum = &plan->summary;
  const sw_job *job = m->job;
  bool proved = true;
  sum->priced = job->priced;
  plan->joins_proved = true;
  plan->boards_proved = true;
  plan->changes_proved = true;
  for (size_t i = 0; i < m->model_count; i++)
    {
      const sw_solved *s = &m->solved[i];
      int64_t granule = m->models[i].granule;
      sum->bound += s->bound[SW_AIM_COST] * granule;
      sum->aligned += s->aligned;
      sum->aligned_bound += s->aligned_bound;
      plan->changes_proved = plan->changes_proved && are_changes_proved (s, m->models[i].change);
      if (m->models[i].change > 0)
        plan->changes += s->solution.value[SW_AIM_JOINS] / m->models[i].change;
      proved = proved && s->proved[SW_AIM_COST];
      plan->joins_proved = plan->joins_proved && s->proved[SW_AIM_JOINS];
      plan->boards_proved = plan->boards_proved && s->proved[SW_AIM_BOARDS];
    }
  if (job->all_free)
    {
      /* The models minimise the length, because the prices are all 0.  So is the cost. */
      plan->least = sum->bound;
      sum->bound = 0;
    }
  for (size_t p = 0; p < plan->piece_count; p++)
    sum->joins += plan->pieces[p].kind == SW_PIECE_THROUGH && plan->pieces[p].start_end == SW_END_ON ? 1 : 0;
  sum->boards = (int64_t)plan->board_count;
  /* Where a plan goes on from another, its cost is that of what it buys. */
  sum->cost = m->changed == NULL ? sum->joins * job->settings->join_cost : 0;
  for (size_t b = 0; b < plan->board_count; b++)
    {
      const sw_board *board = &plan->boards[b];
      sw_length length = job->stocks.items[board->stock].length;
      if (board->hand)
        sum->from_hand += length;
      else
        {
          sum->bought += length;
          sum->cost += job->priced ? job->stocks.items[board->stock].price : length;
        }
      if (sw_board_is_kept (plan, board))
        sum->kept += board->left;
    }
  for (size_t p = 0; p < plan->piece_count; p++)
    sum->used += plan->pieces[p].placed ? 0 : plan->pieces[p].cut;
  if (proved)
    sum->outcome = SW_PROVED;
  else if (m->watch.stop == SW_STOP_TIME)
    sum->outcome = SW_TIMED_OUT;
  else if (m->watch.stop == SW_STOP_CALLBACK)
    sum->outcome = SW_INTERRUPTED;
  else
    sum->outcome = SW_WITHIN_GAP;
  plan->seconds = sw_watch_seconds (&m->watch);
}

static sw_status
make (making *m, sw_plan **out, const sw_limits *limits)
{
  sw_status status = sw_layout_new (&m->layout, m->job, m->report);
  if (status == SW_OK && m->changed != NULL)
    {
      m->changed (m->layout, m->data);
      m->layout->buys_first = true;
    }
  if (status == SW_OK)
    status = sw_models_new (&m->models, &m->model_count, m->layout);
  if (status != SW_OK)
    return status;
  m->solved = sw_alloc (m->model_count, sizeof *m->solved);
  m->parts = sw_alloc (m->model_count, sizeof *m->parts);
  if (m->solved == NULL || m->parts == NULL)
    return SW_NO_MEMORY;
  sw_watch_parts (&m->watch, m->parts, m->model_count, (double)(sw_job_by_length (m->job) ? SW_METRE : SW_MONEY_UNIT));
  status = solve_all (m, limits);
  if (status != SW_OK)
    return status;
  sw_plan *plan = sw_alloc (1, sizeof *plan);
  if (plan == NULL)
    return SW_NO_MEMORY;
  plan->job = m->job;
  plan->revision = m->job->settings->revision;
  status = sw_plan_fill (plan, m->layout, m->models, m->solved, m->model_count);
  if (status != SW_OK)
    {
      sw_plan_free (plan);
      return status;
    }
  summarise (plan, m);
  sw_plan_count_placed (plan, m->layout);
  *out = plan;
  return SW_OK;
}

sw_status
sw_plan_once (sw_plan **out, const sw_job *job, const sw_limits *limits, sw_once *once, sw_report *report)
{
  making m = { .job = job, .report = report, .once = once };
  *out = NULL;
  if (sw_divided_check (job, report) != SW_OK)
    return SW_REJECTED;
  sw_watch_begin (&m.watch, job->settings->time_limit, limits);
  if (once != NULL)
    {
      m.watch.brief = once->brief;
      m.watch.cost_only = once->cost_only;
      m.watch.enough = once->enough;
      m.changed = once->changed;
      m.data = once->data;
    }
  bool entered = sw_master_enter ();
  sw_status status = make (&m, out, limits);
  sw_master_leave (entered);
  if (once != NULL)
    once->bound = sw_watch_bound (&m.watch);
  for (size_t i = 0; m.solved != NULL && i < m.model_count; i++)
    sw_solved_clear (&m.solved[i]);
  free (m.solved);
  free (m.parts);
  sw_models_free (m.models, m.model_count);
  sw_layout_free (m.layout);
  return status;
}
