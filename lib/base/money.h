/* money.h - money as whole millionths
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_MONEY_H
#define SW_MONEY_H

#include "base/length.h"

#define SW_MONEY_MAX ((sw_money) 1000000000 * SW_MONEY_UNIT)

/* Read an amount: 20.88, with COMMA also 20,88.  It has at most 6 decimals and no currency sign, no
 * thousands separator, no minus.  Failure: false, and *EXPECTED as in sw_length_parse. */
bool sw_money_parse (const char *text, bool comma, sw_money *out, const char **expected);

/* The price of LENGTH at PER_METRE, to the nearest millionth.  False: it is out of range. */
bool sw_money_of_length (sw_money per_metre, sw_length length, sw_money *out);

bool sw_money_add (sw_money a, sw_money b, sw_money *out);
bool sw_money_mul (sw_money a, int64_t times, sw_money *out);

#define SW_MONEY_TEXT 48
/* "20.88": two decimals, rounded half away from zero. */
void sw_money_format (sw_money money, char out[SW_MONEY_TEXT]);
/* "20.88", "20.8845": at least two decimals, and more as long as they are not all zero. */
void sw_money_format_exact (sw_money money, char out[SW_MONEY_TEXT]);

#endif
