/* replan.c - planning on from what is fixed, cut and left
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "plan/replan.h"

#include "base/memory.h"
#include "base/name_index.h"
#include "base/report.h"
#include "base/text.h"
#include "job/folder.h"

#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

/* ---- The job as it is now ------------------------------------------------ */

/* Take GIVEN, and for the files that are not in it what the folder FOLDER has; both may be NULL. */
static sw_status
look_in (sw_folder *out, const char *folder, const sw_sources *given, const sw_settings *settings, sw_sources *sources,
         sw_report *report)
{
  bool named[SW_FILES];
  *sources = given != NULL ? *given : (sw_sources){ .spans = NULL };
  /* The plan and the site say how far the job had come. */
  sources->on_hand = sources->in_place = "";
  *out = (sw_folder){ .dir = NULL };
  if (folder == NULL)
    return SW_OK;
  sw_folder_given (sources, settings, named);
  sw_status status = sw_folder_look (out, folder, named, report);
  if (status == SW_OK && out->count == 0)
    {
      sw_report_add (report, SW_FAULT, folder, 0, NULL,
                     "expected a job's files in this folder (spans.csv, levels.csv, stock.csv ...), found none of them");
      status = sw_report_broken (report) ? SW_NO_MEMORY : SW_REJECTED;
    }
  const char **const places[] = { &sources->spans, &sources->levels, &sources->stock, &sources->sections,
                                  &sources->extras, &sources->yards,  &sources->fittings };
  static const sw_job_file files[]
      = { SW_FILE_SPANS, SW_FILE_LEVELS, SW_FILE_STOCK, SW_FILE_SECTIONS, SW_FILE_EXTRAS, SW_FILE_YARDS, SW_FILE_FITTINGS };
  for (size_t i = 0; i < sizeof files / sizeof files[0]; i++)
    if (*places[i] == NULL)
      *places[i] = out->paths[files[i]];
  return status;
}

static sw_status
read_now (sw_replan *r, const char *dir, const char *folder, const sw_sources *given, const sw_settings *settings,
          sw_report *report)
{
  sw_folder found;
  sw_sources sources;
  sw_settings *now = sw_settings_copy (settings);
  sw_status status = now != NULL ? SW_OK : SW_NO_MEMORY;
  found = (sw_folder){ .dir = NULL };
  if (status == SW_OK)
    status = look_in (&found, folder, given, now, &sources, report);
  if (status == SW_OK && found.paths[SW_FILE_SETTINGS] != NULL && now->file == NULL)
    status = sw_settings_read (now, found.paths[SW_FILE_SETTINGS], report);
  if (status == SW_OK)
    status = sw_job_read_kept (&r->job, dir, &sources, now, report);
  sw_folder_clear (&found);
  sw_settings_free (now);
  return status;
}

/* ---- Fixed pieces against the spans as they are now ---------------------- */

static void
check_fixed (const sw_replan *r, const sw_layout *layout, const char *site, sw_report *report)
{
  const sw_job *job = r->job;
  const sw_length step = sw_settings_round (job->settings);
  for (size_t i = 0; i < job->in_place.count; i++)
    {
      const sw_placed *p = &job->in_place.items[i];
      if (p->kind != SW_PLACED_TIMBER)
        continue;
      const sw_level *level = &job->levels.items[p->level];
      sw_length now = 0;
      if (!level->through)
        now = sw_layout_between_cut (job, level, &job->fence.runs[p->run], p->from);
      for (size_t s = 0; level->through && s < layout->stretch_count; s++)
        {
          const sw_stretch *stretch = &layout->stretches[s];
          if (stretch->run == p->run && stretch->first <= p->from && p->to <= stretch->last)
            now = sw_layout_cut (job, level, stretch, p->from, p->to);
        }
      const sw_length off = now > p->cut ? now - p->cut : p->cut - now;
      if (off <= step)
        continue;
      char was[SW_SHOWN], is[SW_SHOWN], by[SW_SHOWN], label[SW_SHOWN];
      sw_show_lengths (p->cut, now, job->settings->inches, was, is);
      sw_show_length (off, job->settings->inches, by);
      sw_show_text (p->label, label);
      /* What was fixed before is in no line of this site.csv. */
      sw_report_add (report, SW_WARNING, p->line > 0 ? site : NULL, p->line, p->line > 0 ? "piece" : NULL,
                     "\"%s\" is fixed and %s long, but as the bays measure now its place is %s: %s too %s; it stays", label,
                     was, is, by, now > p->cut ? "short" : "long");
    }
}

/* ---- Which pieces change ------------------------------------------------- */

/* A piece of the plan before, with its place in the job that is planned now. */
typedef struct spot
{
  size_t run, level, from, to;
  sw_length cut;
} spot;

static int
compare_spots (const void *a, const void *b)
{
  const spot *x = a, *y = b;
  const size_t left[] = { x->run, x->level, x->from, x->to }, right[] = { y->run, y->level, y->from, y->to };
  for (size_t i = 0; i < 4; i++)
    if (left[i] != right[i])
      return left[i] < right[i] ? -1 : 1;
  return 0;
}

typedef struct spots
{
  spot *items;
  size_t count;
} spots;

static sw_status
find_spots (const sw_replan *r, spots *out)
{
  const sw_job *before = r->before, *now = r->job;
  out->count = 0;
  out->items = sw_alloc (r->old.piece_count, sizeof *out->items);
  if (out->items == NULL)
    return SW_NO_MEMORY;
  for (size_t p = 0; p < r->old.piece_count; p++)
    {
      const sw_old_piece *old = &r->old.pieces[p];
      if (old->kind != SW_PIECE_THROUGH)
        continue;
      spot s = { .from = old->from, .to = old->to, .cut = old->cut };
      while (s.run < now->fence.run_count
             && strcmp (now->fence.runs[s.run].name, before->fence.runs[old->run].name) != 0)
        s.run++;
      while (s.level < now->levels.count
             && strcmp (now->levels.items[s.level].name, before->levels.items[old->level].name) != 0)
        s.level++;
      out->items[out->count++] = s;
    }
  if (out->count > 1)
    qsort (out->items, out->count, sizeof *out->items, compare_spots);
  return SW_OK;
}

static void
mark_changed (sw_layout *layout, const void *data)
{
  const spots *old = data;
  for (size_t a = 0; a < layout->arc_count; a++)
    {
      sw_arc *arc = &layout->arcs[a];
      const spot key
          = { .run = layout->stretches[arc->stretch].run, .level = arc->level, .from = arc->from, .to = arc->to };
      const spot *found = bsearch (&key, old->items, old->count, sizeof key, compare_spots);
      arc->changed = arc->item != SW_NO_ITEM && (found == NULL || found->cut != arc->cut);
    }
}

/* Find what becomes of each piece. */
static sw_status
find_fates (sw_replan *r)
{
  const sw_plan *plan = r->plan;
  sw_name_index names = { 0 };
  r->fates = sw_alloc (plan->piece_count, sizeof *r->fates);
  r->was = sw_alloc (plan->piece_count, sizeof *r->was);
  r->stays = sw_alloc (r->old.piece_count, sizeof *r->stays);
  sw_status status = r->fates != NULL && r->was != NULL && r->stays != NULL ? SW_OK : SW_NO_MEMORY;
  for (size_t p = 0; p < r->old.piece_count && status == SW_OK; p++)
    status = sw_name_index_add (&names, r->old.pieces[p].label, p);
  for (size_t p = 0; p < plan->piece_count && status == SW_OK; p++)
    {
      const sw_piece *piece = &plan->pieces[p];
      const bool known = sw_name_index_find (&names, piece->label, &r->was[p]);
      const sw_timber *timber = !piece->placed ? plan->boards[piece->board].timber : NULL;
      if (!known)
        r->was[p] = SW_NONE;
      else
        r->stays[r->was[p]] = true;
      if (piece->placed)
        r->fates[p] = SW_FATE_FIXED;
      else if (timber != NULL && timber->kind == SW_TIMBER_PIECE && strcmp (timber->name, piece->label) == 0
               && (timber->ends != NULL ? timber->cut : timber->length) == piece->cut)
        r->fates[p] = SW_FATE_CUT;
      else if (!known)
        r->fates[p] = SW_FATE_NEW;
      else
        r->fates[p] = r->old.pieces[r->was[p]].cut == piece->cut ? SW_FATE_SAME : SW_FATE_LENGTH;
    }
  sw_name_index_clear (&names);
  return status;
}

static void
add_figures (sw_replan *r)
{
  sw_replan_figures *f = &r->figures;
  f->revision = r->job->settings->revision;
  for (size_t p = 0; p < r->plan->piece_count; p++)
    {
      f->fixed += r->fates[p] == SW_FATE_FIXED ? 1 : 0;
      f->cut += r->fates[p] == SW_FATE_CUT ? 1 : 0;
      f->same += r->fates[p] == SW_FATE_SAME ? 1 : 0;
      f->changed += r->fates[p] == SW_FATE_LENGTH || r->fates[p] == SW_FATE_NEW ? 1 : 0;
    }
  for (size_t p = 0; p < r->old.piece_count; p++)
    f->gone += r->stays[p] ? 0 : 1;
  for (size_t b = 0; b < r->plan->board_count; b++)
    f->bought += r->plan->boards[b].hand ? 0 : 1;
  f->aligned_fixed = r->plan->placed_aligned;
  f->turns_fixed = r->plan->placed_turns;
}

/* ---- The whole ----------------------------------------------------------- */

static sw_status
check_places (sw_replan *r, const char *site, sw_report *report)
{
  sw_layout *layout = NULL;
  if (r->job->in_place.count == 0)
    return SW_OK;
  /* What cannot be laid out is reported when the plan is made. */
  sw_status status = sw_layout_new (&layout, r->job, NULL);
  if (status == SW_OK)
    check_fixed (r, layout, site, report);
  sw_layout_free (layout);
  return status == SW_NO_PLAN || status == SW_REJECTED ? SW_OK : status;
}

static sw_status
make (sw_replan *r, const sw_replan_request *request, const sw_limits *limits, sw_report *report)
{
  spots old = { .items = NULL };
  sw_settings *plain = sw_settings_new ();
  sw_status status = plain != NULL ? SW_OK : SW_NO_MEMORY;
  /* Notes about where the job before was read from do not matter; its faults are those of the present job. */
  if (status == SW_OK)
    status = sw_job_read_kept (&r->before, request->plan, NULL, plain, NULL);
  if (status == SW_OK)
    status = read_now (r, request->plan, request->folder, request->sources, request->settings, report);
  else if (status != SW_NO_MEMORY)
    /* Read it once more to report what is wrong with it. */
    sw_job_read_kept (&r->before, request->plan, NULL, plain, report);
  sw_settings_free (plain);
  if (status == SW_OK)
    status = sw_old_plan_read (&r->old, r->before, request->plan, report);
  if (status == SW_OK)
    status = sw_site_read (&r->old, request->site, report);
  if (status == SW_OK)
    {
      r->job->settings->revision = r->before->settings->revision + 1;
      status = sw_old_plan_state (&r->old, r->job, request->site, report);
    }
  if (status == SW_OK)
    status = check_places (r, request->site, report);
  if (status == SW_OK)
    status = find_spots (r, &old);
  if (status == SW_OK)
    status = sw_plan_make_on (&r->plan, r->job, mark_changed, &old, limits, report);
  if (status == SW_OK)
    status = sw_replan_settle (&r->plan, r->job, mark_changed, &old, limits, report);
  free (old.items);
  if (status == SW_OK)
    status = find_fates (r);
  if (status == SW_OK)
    add_figures (r);
  return status;
}

sw_status
sw_replan_make (sw_replan **out, const sw_replan_request *request, const sw_limits *limits, sw_report *report)
{
  *out = NULL;
  if (request->plan == NULL || request->site == NULL || request->settings == NULL)
    return SW_USAGE;
  sw_report *own = report == NULL ? sw_report_new () : NULL;
  sw_replan *r = sw_alloc (1, sizeof *r);
  sw_status status = r != NULL && (report != NULL || own != NULL) ? SW_OK : SW_NO_MEMORY;
  if (status == SW_OK)
    status = make (r, request, limits, report != NULL ? report : own);
  if (r != NULL && sw_report_broken (report != NULL ? report : own))
    status = SW_NO_MEMORY;
  if (status == SW_OK)
    *out = r;
  else
    sw_replan_free (r);
  sw_report_free (own);
  return status;
}

void
sw_replan_free (sw_replan *r)
{
  if (r == NULL)
    return;
  sw_plan_free (r->plan);
  sw_old_plan_clear (&r->old);
  sw_job_free (r->job);
  sw_job_free (r->before);
  free (r->fates);
  free (r->was);
  free (r->stays);
  free (r);
}

const sw_plan *
sw_replan_plan (const sw_replan *r)
{
  return r->plan;
}

void
sw_replan_get (const sw_replan *r, sw_replan_figures *out)
{
  *out = r->figures;
}
