/* model_job.c - the one job of a suite, its layout and its models
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "model_job.h"

sw_job *job;
sw_layout *layout;
sw_model *models;
size_t count;

void
model_setup (void)
{
  job = job_make ();
  layout = NULL;
  models = NULL;
  count = 0;
}

void
model_teardown (void)
{
  sw_models_free (models, count);
  sw_layout_free (layout);
  job_drop (job);
}
