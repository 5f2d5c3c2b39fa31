/* sheet_setout.h - setting out on paper: tables and sticks
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_SHEET_SETOUT_H
#define SW_SHEET_SETOUT_H

#include "sheet/sheet.h"

/* A stick for all runs, or one for each kind of run that has levels of its own. */
void sw_sheet_sticks (sw_sheet *sheet); /* sheet_stick.c */

#endif
