/* settings_parts.h - what the files of the settings share
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_SETTINGS_PARTS_H
#define SW_SETTINGS_PARTS_H

#include "job/settings.h"

/* The number of the key called NAME (letter case and _ for - do not matter), or SW_SETTINGS_KEYS. */
size_t sw_settings_find (const char *name);
/* Set the key of number INDEX.  SW_REJECTED leaves the settings as they were,
 * with the phrase of value.h in EXPECTED. */
sw_status sw_settings_apply (sw_settings *settings, size_t index, const char *text, bool comma,
                             char expected[SW_PHRASE]);
/* Keep copies of the warnings of REPORT from number FIRST on. */
sw_status sw_settings_keep_warnings (sw_settings *settings, const sw_report *report, size_t first);

#endif
