/* status.c - a sentence for each status
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "spanwright.h"

const char *
sw_status_text (sw_status status)
{
  switch (status)
    {
    case SW_OK:
      return "done";
    case SW_REJECTED:
      return "the input was refused";
    case SW_USAGE:
      return "the request makes no sense";
    case SW_NO_PLAN:
      return "no plan keeps every rule";
    case SW_STOPPED:
      return "stopped before there was a plan";
    case SW_NO_MEMORY:
      return "memory ran out";
    case SW_IO:
      return "a file could not be read or written";
    case SW_FAILED:
      return "an internal check failed: this is a defect of the library";
    case SW_ABSENT:
      return "built without this part";
    }
  return "unknown status";
}
