/* verify.c - checks a plan's files against its job
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "verify/verify.h"

#include "job/divided.h"

#include <stdlib.h>

static void
clear (sw_verifier *verifier)
{
  sw_listing_clear (&verifier->order);
  sw_listing_clear (&verifier->cuts);
  sw_listing_clear (&verifier->fit);
  sw_listing_clear (&verifier->setout);
  sw_name_index_clear (&verifier->runs);
  sw_name_index_clear (&verifier->levels);
  sw_name_index_clear (&verifier->run_numbers);
  sw_name_index_clear (&verifier->level_numbers);
  free (verifier->through);
  free (verifier->first_post);
  free (verifier->along);
  free (verifier->places);
  free (verifier->placed);
  free (verifier->sawn);
  free (verifier->bought);
  free (verifier->from_hand);
  free (verifier->timber_row);
}

static sw_status
check (sw_verifier *verifier, const char *dir)
{
  sw_status status = sw_verify_index_names (verifier);
  if (status == SW_OK)
    status = sw_verify_site_prepare (verifier);
  if (status == SW_OK)
    status = sw_listings_read (verifier, dir);
  /* Stop at a cell that cannot be read: otherwise the piece that it describes would be reported as missing, too. */
  if (status != SW_OK || verifier->verdict->faults > 0)
    return status;
  typedef sw_status (*step) (sw_verifier *);
  static const step steps[]
      = { sw_verify_places, sw_verify_joins, sw_verify_cuts, sw_verify_boards, sw_verify_order, sw_verify_setout };
  for (size_t i = 0; i < sizeof steps / sizeof *steps && status == SW_OK; i++)
    status = steps[i](verifier);
  return status;
}

sw_status
sw_verify (const sw_job *job, const char *dir, sw_verdict *out, sw_report *report)
{
  *out = (sw_verdict){ .priced = job->priced };
  sw_report *own = report == NULL ? sw_report_new () : NULL;
  sw_verifier verifier = { .job = job, .verdict = out, .report = report != NULL ? report : own };
  if (verifier.report == NULL)
    return SW_NO_MEMORY;
  sw_status status = sw_divided_check (job, verifier.report);
  if (status == SW_OK)
    status = check (&verifier, dir);
  else
    out->faults++;
  if (status == SW_OK && sw_report_broken (verifier.report))
    status = SW_NO_MEMORY;
  clear (&verifier);
  sw_report_free (own);
  if (status == SW_OK && out->faults > 0)
    return SW_REJECTED;
  return status;
}
