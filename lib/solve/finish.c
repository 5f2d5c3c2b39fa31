/* finish.c - close the gap between bound and best solution
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "solve/gather.h"
#include "solve/steps.h"
#include "model/tuning.h"

static sw_status
close_with (sw_search *s, sw_wide spare, int64_t target, size_t most, bool *closed)
{
  const bool brief = (s->goal.aim != SW_AIM_COST || s->brief) && !s->hard_way;
  sw_master *master;
  bool complete, proved = false;
  sw_status status = sw_gather (s, s->goal.aim, spare, most, &master, &complete);
  if (status == SW_OK && complete)
    status = sw_gather_solve (s, master, brief ? SW_CLOSING_WORK / SW_TIE_PART : SW_CLOSING_WORK, target, &proved);
  sw_master_free (master);
  *closed = status == SW_OK && complete && proved;
  return status;
}

/* Look for a solution with a value of at most STEP over the bound.  Where there is none, the bound goes up past that
 * value. */
static sw_status
close_step (sw_search *s, int64_t step, size_t most, bool *closed)
{
  int64_t best = sw_search_best (s), target = best - 1;
  if (s->hard_way)
    target = best;
  else if (best - 1 - s->bound > step)
    target = s->bound + step;
  sw_status status = close_with (s, (sw_wide)target * s->root.scale - s->root.bound, target, most, closed);
  if (status != SW_OK || !*closed)
    return status;
  /* The programme has all that a value of at most TARGET needs, so a solution that it finds is the best of those. */
  best = sw_search_best (s);
  s->bound = best <= target + 1 ? best : target + 1;
  sw_search_show (s);
  return SW_OK;
}

sw_status
sw_close (sw_search *s, size_t most)
{
  sw_status status = SW_OK;
  bool closed = s->root.valid;
  /* Where there is no solution yet, there may be none at all: take everything in. */
  if (closed && !s->best.valid)
    {
      status = close_with (s, (sw_wide)1 << 100, INT64_MAX, most, &closed);
      if (status == SW_OK && closed && !s->best.valid)
        s->impossible = true;
      else if (status == SW_OK && closed)
        s->bound = sw_search_best (s);
    }
  for (int64_t step = 0; status == SW_OK && closed && s->best.valid && !sw_search_done (s) && !sw_watch_stop (s->watch);
       step = 2 * step + 1)
    {
      status = close_step (s, step, most, &closed);
    }
  return status;
}
