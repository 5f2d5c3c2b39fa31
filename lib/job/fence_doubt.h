/* fence_doubt.h - warns of spans that were perhaps not meant as they are read
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_FENCE_DOUBT_H
#define SW_FENCE_DOUBT_H

#include "job/fence.h"
#include "csv/field.h"

/* The numbers of the columns of FIELDS. */
typedef struct sw_span_columns
{
  size_t run;
  size_t bay;
  size_t span;
} sw_span_columns;

/* Warn of spans that may be centimetres or inches, and of rows that may be the total of a
 * spreadsheet. FENCE was read from the rows of FIELDS, which are all sound. */
void sw_fence_doubt (const sw_fence *fence, sw_fields *fields, sw_span_columns columns, const sw_settings *settings);

#endif
