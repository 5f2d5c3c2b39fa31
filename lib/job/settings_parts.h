/* settings_parts.h - shared by the files of the settings
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_SETTINGS_PARTS_H
#define SW_SETTINGS_PARTS_H

#include "job/settings.h"

/* The number of the key called NAME, or SW_SETTINGS_KEYS.  Letter case does not matter, and _ may stand for -. */
size_t sw_settings_find (const char *name);
/* Set the key number INDEX.  SW_REJECTED leaves the settings as they were and puts the phrase of
 * value.h into EXPECTED. */
sw_status sw_settings_apply (sw_settings *settings, size_t index, const char *text, bool comma,
                             char expected[SW_PHRASE]);
/* Keep copies of the warnings of REPORT, beginning with number FIRST. */
sw_status sw_settings_keep_warnings (sw_settings *settings, const sw_report *report, size_t first);

#endif
