/* layout_fit.c - whether boards of a section can be had, and whether a piece comes out of them
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "layout/layout_build.h"

#include "layout/layout_why.h"

bool
sw_layout_fits (const sw_layout_build *b, size_t section, sw_length cut, sw_length take)
{
  const sw_length most = b->job->settings->max_piece;
  return cut > 0 && take <= b->longest[section] && (most == 0 || cut <= most);
}

bool
sw_layout_reaches (const sw_layout_build *b, size_t section, sw_length length)
{
  const sw_length most = b->job->settings->max_piece;
  return length > 0 && length <= b->reach[section] && (most == 0 || length <= most);
}

sw_status
sw_layout_check_section (sw_layout_build *b, size_t section, bool *usable)
{
  *usable = b->reach[section] > 0;
  if (*usable || b->told[section])
    return SW_OK;
  b->told[section] = true;
  b->impossible = true;
  return sw_layout_why_none (b->job, section, b->report);
}
