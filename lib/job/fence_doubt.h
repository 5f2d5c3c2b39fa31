/* fence_doubt.h - spans that were perhaps not meant as they are taken
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_FENCE_DOUBT_H
#define SW_FENCE_DOUBT_H

#include "job/fence.h"
#include "csv/field.h"

/* Where FIELDS has what a run's rows say. */
typedef struct sw_span_columns
{
  size_t run;
  size_t bay;
  size_t span;
} sw_span_columns;

/* Warn of spans that may be centimetres or inches, and of rows that may be a
 * spreadsheet's total.  FENCE was read from the rows of FIELDS, all sound. */
void sw_fence_doubt (const sw_fence *fence, sw_fields *fields, sw_span_columns columns, const sw_settings *settings);

#endif
