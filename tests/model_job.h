/* model_job.h - the one job of a suite, its layout and its models
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef MODEL_JOB_H
#define MODEL_JOB_H

#include "layout_job.h"
#include "model/model.h"

extern sw_job *job;
extern sw_layout *layout;
extern sw_model *models;
extern size_t count; /* number of models */

/* Set up a job as job_make makes it, without layout and models.  The second function frees everything. */
void model_setup (void);
void model_teardown (void);

#endif
