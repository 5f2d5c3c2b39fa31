/* columns.c - the columns of the tables that are written and read back
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "csv/columns.h"

const char *const sw_fit_columns[SW_FIT_COLUMNS]
    = { "run", "level", "section", "from_post", "to_post", "bays", "piece", "board", "cut_mm", "start_cut",
        "finish_cut", "start_join", "finish_join", "plumb", "long_point", "take_mm" };

const char *const sw_cuts_columns[SW_CUTS_COLUMNS]
    = { "board", "section", "source", "board_mm", "cut", "piece", "run", "level", "from_post", "to_post",
        "cut_mm", "start_cut", "finish_cut", "left_mm", "plumb", "long_point", "take_mm", "timber" };

const char *const sw_order_columns[SW_ORDER_COLUMNS]
    = { "section", "description", "length_mm", "count", "spare", "metres", "unit_price", "price", "yard",
        "kind" };

const char *const sw_setout_columns[SW_SETOUT_COLUMNS]
    = { "run", "post", "distance_mm", "post_width_mm", "level", "mark_mm", "top_mm", "housing", "depth_mm",
        "join" };

const char *const sw_comparison_columns[SW_COMPARISON_COLUMNS]
    = { "choice", "possible", "metres", "waste_pct", "joins", "aligned", "boards", "price", "bound",
        "over_best", "over_best_pct", "note" };
