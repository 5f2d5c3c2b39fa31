/* alternatives.c - every way of dividing the stretches of an unbroken line, each laid out
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "plan/alternatives.h"

#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "plan/line_job.h"

typedef struct making
{
  sw_alternatives *all;
  sw_report *report;
  sw_watch *watch;
  sw_strip_work *work;
  int slack;
  size_t group_capacity;
} making;

/* ---- Groups ---- */

static sw_status
add_group (making *m, const sw_group *group)
{
  sw_alternatives *all = m->all;
  sw_status status = sw_grow ((void **)&all->groups, &m->group_capacity, all->group_count + 1, sizeof *all->groups);
  if (status == SW_OK)
    all->groups[all->group_count++] = *group;
  return status;
}

static bool
runs_on (const sw_run *run, size_t bay)
{
  return !run->bays[bay].opening && !run->bays[bay - 1].opening && run->bays[bay - 1].finish.kind == SW_END_ON
         && run->bays[bay].start.kind == SW_END_ON;
}

static sw_status
find_groups (making *m)
{
  sw_alternatives *all = m->all;
  sw_status status = SW_OK;
  for (size_t d = 0; d < all->division_count && status == SW_OK;)
    {
      const sw_division *first = &all->divisions[d];
      const sw_run *run = &all->job->fence.runs[first->run];
      sw_group group = { .run = first->run, .first_bay = first->bay, .last_bay = first->bay + 1, .division_first = d };
      while (group.first_bay > 0 && runs_on (run, group.first_bay))
        group.first_bay--;
      while (group.last_bay < run->bay_count && runs_on (run, group.last_bay))
        group.last_bay++;
      while (d < all->division_count && all->divisions[d].run == first->run && all->divisions[d].bay < group.last_bay)
        d++;
      group.division_count = d - group.division_first;
      status = add_group (m, &group);
    }
  return status == SW_OK ? add_group (m, &(sw_group){ .run = SW_ALTERNATIVES_REST }) : status;
}

/* ---- One alternative ---- */

static void
clear (sw_alternative *a)
{
  sw_models_free (a->models, a->model_count);
  sw_layout_free (a->layout);
  sw_line_job_clear (&a->job);
  free (a->ways);
  *a = (sw_alternative){ .ways = NULL };
}

/* Find the fewest aligned pairs of all strips of A. */
static sw_status
find_floor (making *m, sw_alternative *a)
{
  sw_status status = SW_OK;
  for (size_t i = 0; i < a->model_count && status == SW_OK; i++)
    {
      sw_model *model = &a->models[i];
      int64_t *nothing = sw_alloc (model->option_count, sizeof *nothing);
      uint8_t *used = sw_alloc (model->option_count, 1);
      if (nothing == NULL || used == NULL)
        status = SW_NO_MEMORY;
      for (size_t s = 0; s < model->strip_count && status == SW_OK; s++)
        {
          int64_t low = 0, high = 0;
          sw_strip *strip = &model->strips[s];
          status = sw_strip_fewest (model, strip, nothing, m->work, &low, &high, used);
          strip->exact = status == SW_OK && sw_strip_is_exact (model, strip);
          strip->aligned_floor = model->stagger ? low : 0;
          a->floor += model->stagger ? low : 0;
          a->high += model->stagger ? high : 0;
        }
      free (nothing);
      free (used);
    }
  return status;
}

/* Lay A out.  Where that cannot be done, it gets no layout, and REPORT (may be NULL) is told why. */
static sw_status
lay_out (making *m, sw_alternative *a, sw_report *report)
{
  const sw_group *group = &m->all->groups[a->group];
  sw_way ways[64];
  for (size_t d = 0; d < group->division_count; d++)
    ways[d] = m->all->divisions[group->division_first + d].ways[a->ways[d]];
  sw_status status = group->run == SW_ALTERNATIVES_REST
                         ? sw_rest_job (&a->job, m->all->job, m->all->groups, m->all->group_count)
                         : sw_line_job (&a->job, m->all, group, ways);
  if (status == SW_OK)
    status = sw_layout_new (&a->layout, &a->job, report);
  if (status == SW_OK)
    status = sw_models_new (&a->models, &a->model_count, a->layout);
  if (status == SW_OK)
    status = find_floor (m, a);
  const bool required = m->all->job->settings->stagger == SW_STAGGER_REQUIRE;
  if (status == SW_OK && required && a->floor > 0)
    status = SW_NO_PLAN;
  if (status != SW_NO_PLAN)
    return status;
  sw_models_free (a->models, a->model_count);
  sw_layout_free (a->layout);
  a->models = NULL;
  a->model_count = 0;
  a->layout = NULL;
  return SW_OK;
}

/* ---- Those of one group ---- */

/* Go on to the next combination of ways for GROUP's divisions, the last division changing fastest; false: that was the
 * last. */
static bool
next_ways (const sw_alternatives *all, const sw_group *group, size_t *ways)
{
  for (size_t d = group->division_count; d-- > 0;)
    {
      if (++ways[d] < all->divisions[group->division_first + d].way_count)
        return true;
      ways[d] = 0;
    }
  return false;
}

static int64_t
count_posts (const sw_alternatives *all, const sw_group *group, const size_t *ways)
{
  int64_t posts = 0;
  for (size_t d = 0; d < group->division_count; d++)
    posts += all->divisions[group->division_first + d].ways[ways[d]].bays - 1;
  return posts;
}

static sw_status
add_alternative (making *m, size_t g, const size_t *ways)
{
  sw_alternatives *all = m->all;
  const sw_group *group = &all->groups[g];
  sw_alternative made = { .group = g, .posts = count_posts (all, group, ways) };
  sw_status status = sw_grow ((void **)&all->items, &all->capacity, all->count + 1, sizeof made);
  if (status != SW_OK)
    return status;
  made.ways = sw_alloc (group->division_count, sizeof *made.ways);
  if (made.ways == NULL)
    return SW_NO_MEMORY;
  memcpy (made.ways, ways, group->division_count * sizeof *ways);
  /* The job must stay where it is, because its layout points to it. */
  all->items[all->count++] = made;
  return SW_OK;
}

/* List all alternatives of group G, or, where posts cost nothing, those with just POSTS posts.  *NEXT: the next larger
 * number of posts; INT64_MAX: there is none. */
static sw_status
list_group (making *m, size_t g, int64_t posts, int64_t *next)
{
  const sw_group *group = &m->all->groups[g];
  size_t ways[64] = { 0 };
  sw_status status = SW_OK;
  *next = INT64_MAX;
  do
    {
      const int64_t count = count_posts (m->all, group, ways);
      if (count > posts && count < *next)
        *next = count;
      if (m->all->job->settings->post_cost > 0 || count <= posts + m->slack)
        status = add_alternative (m, g, ways);
      if (m->all->count - group->first > SW_ALTERNATIVES_MAX)
        return SW_USAGE;
    }
  while (status == SW_OK && next_ways (m->all, group, ways));
  return status;
}

/* Lay GROUP's alternatives out from number FROM on, and drop those that cannot be laid out. */
static sw_status
lay_group_out (making *m, sw_group *group)
{
  sw_alternatives *all = m->all;
  sw_status status = SW_OK;
  for (size_t i = group->first; i < all->count && status == SW_OK; i++)
    {
      if (sw_watch_stop (m->watch))
        return SW_STOPPED;
      sw_report *own = sw_report_new ();
      status = own != NULL ? lay_out (m, &all->items[i], own) : SW_NO_MEMORY;
      sw_report_free (own);
    }
  return status;
}

/* Keep only the alternatives that can be laid out with as few aligned pairs as any. */
static void
sift (making *m, sw_group *group)
{
  sw_alternatives *all = m->all;
  int64_t least = INT64_MAX;
  for (size_t i = group->first; i < all->count; i++)
    if (all->items[i].layout != NULL && all->items[i].high < least)
      least = all->items[i].high;
  for (size_t i = group->first; i < all->count; i++)
    if (all->items[i].layout == NULL || (m->slack == 0 && all->items[i].floor > least))
      all->items[i].group = SW_ALTERNATIVES_REST;
}

static sw_status
say_many (making *m, const sw_group *group)
{
  const sw_run *run = &m->all->job->fence.runs[group->run];
  char name[SW_SHOWN];
  sw_show_text (run->name, name);
  sw_report_add (m->report, SW_FAULT, m->all->job->files[SW_FILE_SPANS],
                 run->bays[m->all->divisions[group->division_first].bay].line, "divide",
                 "the %zu stretches of run \"%s\" that timber runs on between can be divided in more than %d ways "
                 "together; write an end (centre) at a post between them, or another way than best or odd",
                 group->division_count, name, SW_ALTERNATIVES_MAX);
  return SW_REJECTED;
}

/* No alternative can be laid out: say what is in the way of the first. */
static sw_status
say_none (making *m, size_t g)
{
  size_t ways[64] = { 0 };
  const sw_job *job = m->all->job;
  sw_report *own = sw_report_new ();
  sw_status status = own != NULL ? add_alternative (m, g, ways) : SW_NO_MEMORY;
  if (status == SW_OK)
    status = lay_out (m, &m->all->items[m->all->count - 1], own);
  if (status != SW_OK)
    {
      sw_report_free (own);
      return status;
    }
  const sw_group *group = &m->all->groups[g];
  const char *why = "some joins line up on neighbouring levels";
  size_t first = 0;
  while (first < sw_report_count (own) && sw_report_get (own, first)->severity != SW_FAULT)
    first++;
  if (first < sw_report_count (own))
    why = sw_report_get (own, first)->message;
  if (group->run == SW_ALTERNATIVES_REST)
    sw_report_add (m->report, SW_FAULT, job->files[SW_FILE_SPANS], 0, NULL, "where nothing is to be divided: %s", why);
  else
    sw_report_add (m->report, SW_FAULT, job->files[SW_FILE_SPANS],
                   job->fence.runs[group->run].bays[m->all->divisions[group->division_first].bay].line, "span",
                   "in whatever way the stretch is divided there is no plan; the first: %s", why);
  sw_report_free (own);
  return SW_NO_PLAN;
}

static sw_status
fill_group (making *m, size_t g)
{
  sw_alternatives *all = m->all;
  int64_t posts = 0, next = 0;
  sw_status status = SW_OK;
  all->groups[g].first = all->count;
  if (all->groups[g].division_count > 64)
    return say_many (m, &all->groups[g]);
  size_t none[64] = { 0 };
  posts = count_posts (all, &all->groups[g], none);
  for (;; posts = next)
    {
      bool any = false;
      status = list_group (m, g, posts, &next);
      if (status == SW_USAGE)
        return say_many (m, &all->groups[g]);
      if (status == SW_OK)
        status = lay_group_out (m, &all->groups[g]);
      if (status != SW_OK)
        return status;
      for (size_t i = all->groups[g].first; i < all->count; i++)
        any = any || all->items[i].layout != NULL;
      if (any)
        break;
      while (all->count > all->groups[g].first)
        clear (&all->items[--all->count]);
      if (next == INT64_MAX || all->job->settings->post_cost > 0)
        return say_none (m, g);
    }
  sift (m, &all->groups[g]);
  return SW_OK;
}

/* ---- The whole ---- */

/* Remove the alternatives that were sifted out, and set where each group's are. */
static void
close_ranks (sw_alternatives *all)
{
  size_t kept = 0;
  for (size_t g = 0; g < all->group_count; g++)
    all->groups[g].count = 0;
  for (size_t i = 0; i < all->count; i++)
    {
      if (all->items[i].group == SW_ALTERNATIVES_REST)
        {
          clear (&all->items[i]);
          continue;
        }
      sw_group *group = &all->groups[all->items[i].group];
      if (group->count++ == 0)
        group->first = kept;
      all->items[kept++] = all->items[i];
    }
  all->count = kept;
  /* Each layout has the address of its job, which has just moved. */
  for (size_t i = 0; i < kept; i++)
    all->items[i].layout->job = &all->items[i].job;
}

sw_status
sw_alternatives_new (sw_alternatives **out, const sw_job *job, const sw_division *divisions, size_t count, int slack,
                     sw_watch *watch, sw_report *report)
{
  *out = NULL;
  making m = {
    .all = sw_alloc (1, sizeof *m.all), .report = report, .watch = watch, .work = sw_strip_work_new (), .slack = slack
  };
  sw_status status = m.all != NULL && m.work != NULL ? SW_OK : SW_NO_MEMORY;
  if (status == SW_OK)
    {
      m.all->job = job;
      m.all->divisions = divisions;
      m.all->division_count = count;
      for (size_t d = 0; d < count; d++)
        m.all->looked_at += divisions[d].way_count;
      status = find_groups (&m);
    }
  for (size_t g = 0; status == SW_OK && g < m.all->group_count; g++)
    status = fill_group (&m, g);
  sw_strip_work_free (m.work);
  if (status == SW_OK)
    {
      close_ranks (m.all);
      *out = m.all;
    }
  else
    sw_alternatives_free (m.all);
  return status;
}

void
sw_alternatives_free (sw_alternatives *all)
{
  if (all == NULL)
    return;
  for (size_t i = 0; i < all->count; i++)
    clear (&all->items[i]);
  free (all->items);
  free (all->groups);
  free (all);
}
