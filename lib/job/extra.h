/* extra.h - other pieces out of the same stock
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_EXTRA_H
#define SW_EXTRA_H

#include "job/stock.h"

typedef struct sw_extra
{
  char *label;
  size_t section;
  sw_length length;
  int64_t quantity;   /* >= 1 */
  size_t line;
} sw_extra;

typedef struct sw_extras
{
  size_t count;
  sw_extra *items;
} sw_extras;

sw_status sw_extras_read (sw_extras *out, sw_sections *sections, const sw_table *table, const sw_settings *settings, sw_report *report);
void sw_extras_clear (sw_extras *extras);

#endif
