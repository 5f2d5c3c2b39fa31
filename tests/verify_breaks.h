/* verify_breaks.h - ways in which a plan can be wrong, each with what must be found
 *
 * The good plan is data/plan-good: every row of it is worked by hand from the
 * rules of spanwright-csv(5).
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef VERIFY_BREAKS_H
#define VERIFY_BREAKS_H

#include "verify_plan.h"

#define SAME "the edited row"
#define ANY 0

typedef struct plan_break
{
  plan_edit edits[6];    /* up to one whose row is NULL */
  const char *key;       /* a setting of the job that is changed; NULL: none */
  const char *value;
  int file;              /* where the fault must be found */
  const char *row;       /* SAME: the first edit's; NULL: the fault has no line; else as in plan_edit */
  const char *column;    /* NULL: none */
  const char *message;   /* stands in the fault */
  int64_t faults;        /* how many there must be; ANY: one slip that is felt in many places */
} plan_break;

#define EDIT(file, row, column, value) { { PLAN_##file, row, column, value } }
#define DELETE(file, row) { { PLAN_##file, row, NULL, NULL } }
#define COPY(file, row) { { PLAN_##file, row, NULL, "copy" } }

static const plan_break breaks[] = {
  /* Every level of every bay once. */
  { DELETE (FIT, "front/rail 2/1-2"), NULL, NULL, PLAN_FIT, NULL, NULL,
    "run front, level rail 2: no piece from post 1 to 2 (from bay f1)", 2 },
  { DELETE (FIT, "back/plinth/4-5"), NULL, NULL, PLAN_FIT, NULL, NULL,
    "run back, level plinth: no piece from post 4 to 5 (from bay b4)", 2 },
  { COPY (FIT, "side/rail 1/1-3"), NULL, NULL, PLAN_FIT, "side/rail 1/1-3|copy", "from_post",
    "is \"1\": run side, level rail 1 has a piece there already, up to post 3 (line 20)", 2 },
  { COPY (FIT, "side/rail 1/1-3"), NULL, NULL, PLAN_FIT, "side/rail 1/1-3|copy", "piece",
    "\"side/rail 1/1-3\" is on line 20 too", 2 },
  { EDIT (FIT, "front/rail 2/2-4", "from_post", "3"), NULL, NULL, PLAN_FIT, NULL, NULL,
    "run front, level rail 2: no piece from post 2 to 3 (from bay f2)", ANY },
  { EDIT (FIT, "front/rail 1/3-4", "to_post", "5"), NULL, NULL, PLAN_FIT, SAME, "to_post",
    "crosses bay gate of run front (posts 4 to 5), an opening", ANY },
  { EDIT (FIT, "front/rail 1/5-7", "to_post", "8"), NULL, NULL, PLAN_FIT, SAME, "to_post",
    "is \"8\": run front has posts 1 to 7", ANY },
  { EDIT (FIT, "front/rail 1/5-7", "from_post", "0"), NULL, NULL, PLAN_FIT, SAME, "from_post",
    "is \"0\": run front has posts 1 to 7", ANY },
  { EDIT (FIT, "front/rail 1/5-7", "to_post", "5"), NULL, NULL, PLAN_FIT, SAME, "to_post",
    "is \"5\", should be a post after 5", ANY },
  { EDIT (FIT, "back/rail 1/4-5", "run", "bach"), NULL, NULL, PLAN_FIT, SAME, "run",
    "\"bach\": the job has no run of this name", ANY },
  { EDIT (FIT, "back/rail 1/4-5", "level", "rail 4"), NULL, NULL, PLAN_FIT, SAME, "level",
    "\"rail 4\": the job has no level of this name", ANY },
  { EDIT (FIT, "side/plinth/1-2", "to_post", "3"), NULL, NULL, PLAN_FIT, SAME, "to_post",
    "goes from post 1 to 3: level plinth is a piece a bay", ANY },

  /* Where a piece may begin and end. */
  { EDIT (FIT, "back/rail 2/2-4", "to_post", "3"), NULL, NULL, PLAN_FIT, SAME, "to_post",
    "finishes on post 3 of run back, where there is never a join", ANY },
  { EDIT (FIT, "back/rail 2/4-5", "from_post", "3"), NULL, NULL, PLAN_FIT, SAME, "from_post",
    "begins on post 3 of run back, where there is never a join", ANY },
  { EDIT (SPANS, "b1", "join", "never"), NULL, NULL, PLAN_FIT, "back/rail 2/1-2", "to_post",
    "finishes on post 2 of run back, where there is never a join", 2 },
  { EDIT (FIT, "back/rail 1/1-4", "to_post", "5"), NULL, NULL, PLAN_FIT, SAME, "to_post",
    "runs past post 4 of run back, where there is always a join", ANY },
  { EDIT (SPANS, "f1", "join", "always"), NULL, NULL, PLAN_FIT, "front/rail 1/1-3", "to_post",
    "runs past post 2 of run front, where there is always a join", 2 },
  { EDIT (SPANS, "s1", "finish", "face"), NULL, NULL, PLAN_FIT, "side/rail 3/1-3", "to_post",
    "runs past post 2 of run side, where timber ends (face, centre)", ANY },
  { EDIT (FIT, "side/rail 1/1-3", "to_post", "4"), NULL, NULL, PLAN_FIT, SAME, "to_post",
    "is not straight: post 3 of run side is 333.3 mm off its line, should be within 5 mm", ANY },
  { EDIT (SPANS, "b1", "rise", "9"), NULL, NULL, PLAN_FIT, "back/rail 1/1-4", "to_post",
    "is not straight: post 2 of run back is 6 mm off its line, should be within 5 mm", 2 },
  { .key = "max-piece", .value = "4900", .file = PLAN_FIT, .row = "back/rail 1/1-4", .column = "cut_mm",
    .message = "a piece of 5130 mm, should be no longer than 4900 mm (max-piece)", .faults = 2 },

  /* How long it is and how it ends. */
  { EDIT (FIT, "front/rail 1/1-3", "cut_mm", "4850.1"), NULL, NULL, PLAN_FIT, SAME, "cut_mm",
    "is \"4850.1\", should be 4850", 1 },
  { EDIT (FIT, "front/rail 1/1-3", "cut_mm", "4800"), NULL, NULL, PLAN_FIT, SAME, "cut_mm", "is \"4800\", should be 4850",
    1 },
  { EDIT (CUTS, "side/rail 2/3-5", "cut_mm", "4882.5"), NULL, NULL, PLAN_CUTS, SAME, "cut_mm",
    "is \"4882.5\", should be 4882.6", 1 },
  { EDIT (FIT, "side/plinth/3-4", "cut_mm", "2296"), NULL, NULL, PLAN_FIT, SAME, "cut_mm",
    "is \"2296\", should be 2345.4", 1 },
  { EDIT (LEVELS, "plinth", "gap", "5"), NULL, NULL, PLAN_FIT, "front/plinth/1-2", "cut_mm",
    "is \"2296\", should be 2295", ANY },
  { EDIT (SPANS, "s4", "finish", "housed 33"), NULL, NULL, PLAN_FIT, "side/rail 1/3-5", "cut_mm",
    "is \"4882.6\", should be 4885.7", ANY },
  { EDIT (FIT, "front/rail 1/5-7", "finish_cut", "square"), NULL, NULL, PLAN_FIT, SAME, "finish_cut",
    "is \"square\", should be \"45\"", 1 },
  { EDIT (CUTS, "side/rail 1/1-3", "start_cut", "22.5"), NULL, NULL, PLAN_CUTS, SAME, "start_cut",
    "is \"22.5\", should be \"45\"", 1 },
  { EDIT (CUTS, "gate rail 1", "finish_cut", "45"), NULL, NULL, PLAN_CUTS, SAME, "finish_cut",
    "is \"45\", should be \"square\"", 1 },
  { EDIT (SPANS, "f6", "finish", "mitre 135"), NULL, NULL, PLAN_FIT, "front/rail 3/5-7", "finish_cut",
    "is \"45\", should be \"22.5\"", 6 },
  { EDIT (FIT, "front/rail 1/1-3", "start_join", "join"), NULL, NULL, PLAN_FIT, SAME, "start_join",
    "is \"join\", should be \"flush\"", 1 },
  { EDIT (FIT, "side/rail 2/2-3", "finish_join", "housed"), NULL, NULL, PLAN_FIT, SAME, "finish_join",
    "is \"housed\", should be \"join\"", 1 },
  { EDIT (FIT, "side/plinth/1-2", "start_join", "face"), NULL, NULL, PLAN_FIT, SAME, "start_join",
    "is \"face\", should be \"post\"", 1 },
  { EDIT (FIT, "side/rail 2/3-5", "bays", "3"), NULL, NULL, PLAN_FIT, SAME, "bays", "is \"3\", should be 2", 1 },
  { EDIT (FIT, "side/rail 2/3-5", "section", "150x25"), NULL, NULL, PLAN_FIT, SAME, "section",
    "is \"150x25\", should be \"90x45\"", 1 },

  /* Staggered, long and short in turn. */
  { .key = "stagger", .value = "require", .file = PLAN_FIT, .row = "side/rail 2/3-5", .column = "from_post",
    .message = "join on post 3 of run side lines up with that of level rail 1 (line 21): stagger is \"require\"",
    .faults = 2 },
  { { { PLAN_SPANS, "b2", "join", "" },
      { PLAN_FIT, "back/rail 2/1-2", "to_post", "3" },
      { PLAN_FIT, "back/rail 2/2-4", "from_post", "3" },
      { PLAN_FIT, "back/rail 3/1-4", "to_post", "2" },
      { PLAN_FIT, "back/rail 3/4-5", "from_post", "2" } },
    NULL, NULL, PLAN_FIT, "back/rail 3/1-4", "to_post",
    "the first piece is 1 bay, that of level rail 2 below is 2: should be long and short in turn", ANY },

  /* Every piece cut once. */
  { DELETE (CUTS, "front/rail 1/3-4"), NULL, NULL, PLAN_FIT, "front/rail 1/3-4", "piece",
    "\"front/rail 1/3-4\": cuts.csv cuts it from no board", 1 },
  { COPY (CUTS, "cap"), NULL, NULL, PLAN_CUTS, "cap|copy", "piece", "\"cap\" is on line 62 too", 3 },
  { EDIT (CUTS, "front/rail 2/1-2", "piece", "front/rail 2/1-3"), NULL, NULL, PLAN_CUTS, SAME, "piece",
    "\"front/rail 2/1-3\": fit.csv has no piece of this label", 2 },
  { EDIT (FIT, "front/rail 2/1-2", "board", "15"), NULL, NULL, PLAN_FIT, SAME, "board",
    "is \"15\", should be 14 as for this piece in cuts.csv, line 40", 1 },
  { EDIT (CUTS, "side/rail 2/1-2", "run", "front"), NULL, NULL, PLAN_CUTS, SAME, "run",
    "is \"front\", should be \"side\" as for this piece in fit.csv, line 22", 1 },
  { EDIT (CUTS, "side/rail 2/1-2", "level", "rail 1"), NULL, NULL, PLAN_CUTS, SAME, "level",
    "is \"rail 1\", should be \"rail 2\" as for this piece in fit.csv", 1 },
  { EDIT (CUTS, "side/rail 2/1-2", "to_post", "3"), NULL, NULL, PLAN_CUTS, SAME, "to_post",
    "is \"3\", should be \"2\" as for this piece in fit.csv", 1 },
  { { { PLAN_FIT, "front/rail 1/1-3", "piece", "A1" }, { PLAN_CUTS, "front/rail 1/1-3", "piece", "A1" } },
    NULL, NULL, PLAN_FIT, SAME, "piece", "is \"A1\", should be \"front/rail 1/1-3\"", 1 },
  { DELETE (CUTS, "front/plinth/block 4"), NULL, NULL, PLAN_CUTS, NULL, NULL,
    "run front, level plinth: 9 fixing blocks are cut, should be 10", 1 },
  { EDIT (CUTS, "front/plinth/block 4", "piece", "front/plinth/block 11"), NULL, NULL, PLAN_CUTS, SAME, "piece",
    "is \"front/plinth/block 11\", should be \"front/plinth/block 1\" to \"front/plinth/block 10\"", 1 },
  { EDIT (CUTS, "front/plinth/block 4", "piece", "front/plinth/block 0"), NULL, NULL, PLAN_CUTS, SAME, "piece",
    "is \"front/plinth/block 0\", should be", 1 },
  { EDIT (CUTS, "front/plinth/block 4", "piece", "front/plinth/block 4a"), NULL, NULL, PLAN_CUTS, SAME, "piece",
    "is \"front/plinth/block 4a\", should be", 1 },
  { EDIT (CUTS, "front/plinth/block 4", "level", "rail 1"), NULL, NULL, PLAN_CUTS, SAME, "piece",
    "\"front/plinth/block 4\": not in fit.csv, and level rail 1 has no blocks", 2 },
  { EDIT (CUTS, "front/plinth/block 4", "cut_mm", "100"), NULL, NULL, PLAN_CUTS, SAME, "cut_mm",
    "is \"100\", should be 90", 1 },
  { EDIT (LEVELS, "plinth", "blocks", "1"), NULL, NULL, PLAN_CUTS, "side/plinth/block 5", "piece",
    "run side, level plinth: 8 fixing blocks are cut, should be 4", ANY },
  { DELETE (CUTS, "gate rail 2"), NULL, NULL, PLAN_CUTS, NULL, NULL, "extra \"gate rail\": 1 of 2 are cut from a board",
    1 },
  { EDIT (CUTS, "gate rail 2", "piece", "gate rail 3"), NULL, NULL, PLAN_CUTS, SAME, "piece",
    "\"gate rail 3\": neither fit.csv nor the extras have a piece of this label", 2 },
  { EDIT (EXTRAS, "cap", "length", "1250"), NULL, NULL, PLAN_CUTS, "cap", "cut_mm", "is \"1200\", should be 1250", 2 },

  /* Boards. */
  { { { PLAN_CUTS, "gate rail 2", "board", "17" }, { PLAN_CUTS, "gate rail 2", "cut", "3" } },
    NULL, NULL, PLAN_CUTS, SAME, "cut_mm", "does not fit: 950 mm is needed, board 17 has 744 mm left for it", 1 },
  { .key = "kerf", .value = "20", .file = PLAN_CUTS, .row = "front/plinth/block 9", .column = "cut_mm",
    .message = "does not fit: 90 mm is needed, board 2 has 57.4 mm left for it", .faults = ANY },
  { .key = "end-trim", .value = "5", .file = PLAN_CUTS, .row = "front/rail 1/5-7", .column = "cut_mm",
    .message = "does not fit: 4800 mm is needed, board 9 has 4790 mm left for it", .faults = ANY },
  { EDIT (CUTS, "side/rail 1/1-3", "board_mm", "5100"), NULL, NULL, PLAN_CUTS, SAME, "board_mm",
    "a board of 5100 mm: the stock offers no such length of \"90x45\"", 2 },
  { EDIT (CUTS, "gate rail 1", "board_mm", "5400"), NULL, NULL, PLAN_CUTS, SAME, "board_mm",
    "is \"5400\", but \"4800\" for the same board 13 on line 38", 1 },
  { EDIT (CUTS, "side/plinth/1-2", "source", "hand"), NULL, NULL, PLAN_CUTS, SAME, "source",
    "is \"hand\", but \"yard\" for the same board 21 on line 55", 1 },
  { EDIT (CUTS, "side/rail 1/1-3", "source", "shed"), NULL, NULL, PLAN_CUTS, SAME, "source",
    "is \"shed\", should be \"yard\" or \"hand\"", 2 },
  { EDIT (CUTS, "side/rail 2/2-3", "section", "150x25"), NULL, NULL, PLAN_CUTS, SAME, "section",
    "is \"150x25\", should be \"90x45\"", ANY },
  { EDIT (CUTS, "gate rail 1", "cut", "3"), NULL, NULL, PLAN_CUTS, SAME, "cut",
    "is \"3\", should be 2: the cuts of board 13 are numbered 1 to 2", 1 },
  { EDIT (CUTS, "gate rail 1", "left_mm", "447"), NULL, NULL, PLAN_CUTS, SAME, "left_mm", "is \"447\", should be 444", 1 },
  { EDIT (STOCK, "90x45|5.4", "limit", "7"), NULL, NULL, PLAN_CUTS, "side/rail 3/1-3", "board_mm",
    "board 8 of \"90x45\" 5400 mm from the yard, should be at most 7", 1 },
  { EDIT (CUTS, "side/rail 1/1-3", "source", "hand"), NULL, NULL, PLAN_CUTS, "back/rail 1/1-4", "source",
    "board 2 of \"90x45\" 5400 mm from hand, should be at most 1", 2 },

  /* The order. */
  { EDIT (ORDER, "90x45|4800", "count", "11"), NULL, NULL, PLAN_ORDER, SAME, "count",
    "is \"11\", should be 10, the boards from the yard in cuts.csv", 3 },
  { EDIT (ORDER, "90x45|4800", "spare", "0"), NULL, NULL, PLAN_ORDER, SAME, "spare", "is \"0\", should be 1", 3 },
  { EDIT (ORDER, "90x45|4800", "spare", ""), NULL, NULL, PLAN_ORDER, SAME, "spare", "is \"\", should be 1", 3 },
  { { { PLAN_ORDER, "90x45|5400", "spare", "1" }, { PLAN_ORDER, "90x45|5400", "metres", "48.6" },
      { PLAN_ORDER, "90x45|5400", "price", "219.15" } },
    NULL, NULL, PLAN_ORDER, SAME, "spare", "is \"1\", should be 0", 1 },
  { EDIT (ORDER, "150x25", "metres", "24.8"), NULL, NULL, PLAN_ORDER, SAME, "metres", "is \"24.8\", should be 24", 1 },
  { EDIT (ORDER, "150x25", "unit_price", "18.50"), NULL, NULL, PLAN_ORDER, SAME, "unit_price",
    "is \"18.50\", should be 18.40", 1 },
  { EDIT (ORDER, "150x25", "price", "92.01"), NULL, NULL, PLAN_ORDER, SAME, "price", "is \"92.01\", should be 92.00", 1 },
  { EDIT (ORDER, "150x25", "price", ""), NULL, NULL, PLAN_ORDER, SAME, "price", "is \"\", should be 92.00", 1 },
  { DELETE (ORDER, "150x25"), NULL, NULL, PLAN_ORDER, NULL, NULL,
    "\"150x25\" 4800 mm is not ordered: cuts.csv has 5 of it from the yard", 1 },
  { COPY (ORDER, "150x25"), NULL, NULL, PLAN_ORDER, "150x25|copy", "length_mm",
    "is 4800 mm: \"150x25\" of this length is on line 4 already", 1 },
  { EDIT (ORDER, "150x25", "length_mm", "5100"), NULL, NULL, PLAN_ORDER, SAME, "length_mm",
    "is 5100 mm: the stock offers no such length of \"150x25\"", 2 },
  { EDIT (ORDER, "150x25", "length_mm", "5400"), NULL, NULL, PLAN_ORDER, SAME, "count",
    "is \"5\", should be 0, the boards from the yard in cuts.csv", ANY },
  { { { PLAN_STOCK, "90x45|4.8", "price", "" }, { PLAN_STOCK, "90x45|5.4", "price", "" },
      { PLAN_STOCK, "150x25|4.8", "price", "" }, { PLAN_STOCK, "150x25|5.4", "price", "" } },
    NULL, NULL, PLAN_ORDER, "150x25", "price", "is \"92.00\", should be blank: the stock has no prices", 6 },

  /* Setting out. */
  { EDIT (SETOUT, "front|3|rail 1", "distance_mm", "4850"), NULL, NULL, PLAN_SETOUT, SAME, "distance_mm",
    "is \"4850\", should be 4800", 1 },
  { EDIT (SETOUT, "front|3|rail 1", "post_width_mm", "90"), NULL, NULL, PLAN_SETOUT, SAME, "post_width_mm",
    "is \"90\", should be 100", 1 },
  { EDIT (SETOUT, "front|3|rail 1", "mark_mm", "150"), NULL, NULL, PLAN_SETOUT, SAME, "mark_mm",
    "is \"150\", should be 200", 1 },
  { EDIT (SETOUT, "front|3|rail 1", "top_mm", "245"), NULL, NULL, PLAN_SETOUT, SAME, "top_mm",
    "is \"245\", should be 290", 1 },
  { EDIT (SETOUT, "side|5|rail 1", "housing", "through"), NULL, NULL, PLAN_SETOUT, SAME, "housing",
    "is \"through\", should be \"stopped\"", 1 },
  { EDIT (SETOUT, "side|5|rail 1", "depth_mm", "45"), NULL, NULL, PLAN_SETOUT, SAME, "depth_mm",
    "is \"45\", should be 30", 1 },
  { EDIT (SETOUT, "front|4|rail 1", "housing", "through"), NULL, NULL, PLAN_SETOUT, SAME, "housing",
    "is \"through\", should be \"\"", 1 },
  { EDIT (SETOUT, "front|2|rail 2", "join", ""), NULL, NULL, PLAN_SETOUT, SAME, "join", "is \"\", should be \"join\"",
    1 },
  { EDIT (SETOUT, "front|2|rail 1", "join", "join"), NULL, NULL, PLAN_SETOUT, SAME, "join",
    "is \"join\", should be \"\"", 1 },
  { DELETE (SETOUT, "back|5|plinth"), NULL, NULL, PLAN_SETOUT, NULL, NULL, "run back, post 5, level plinth: no row", 1 },
  { COPY (SETOUT, "back|5|plinth"), NULL, NULL, PLAN_SETOUT, "back|5|plinth|copy", "post",
    "is \"5\": run back, level plinth has it on line 66 already", 1 },
  { EDIT (SETOUT, "back|5|plinth", "post", "6"), NULL, NULL, PLAN_SETOUT, SAME, "post",
    "is \"6\": run back has posts 1 to 5", 2 },

  /* Cells and files. */
  { EDIT (FIT, "front/rail 1/1-3", "cut_mm", "about 4850"), NULL, NULL, PLAN_FIT, SAME, "cut_mm",
    "found \"about 4850\"", 1 },
  { EDIT (FIT, "front/rail 1/1-3", "bays", "two"), NULL, NULL, PLAN_FIT, SAME, "bays",
    "expected a whole number from 0 to 1000000000000, found \"two\"", 1 },
  { EDIT (CUTS, "cap", "start_cut", "slanted"), NULL, NULL, PLAN_CUTS, SAME, "start_cut",
    "expected \"square\" or a saw setting in degrees from 0 to 90, found \"slanted\"", 1 },
  { EDIT (CUTS, "cap", "board", ""), NULL, NULL, PLAN_CUTS, SAME, "board", "the cell is blank", 1 },
  { EDIT (ORDER, "150x25", "price", "$92"), NULL, NULL, PLAN_ORDER, SAME, "price", "found \"$92\"", 1 },
  { EDIT (FIT, "", "bays", "bay count"), NULL, NULL, PLAN_FIT, "", "bays", "expected a column \"bays\" in the header line, found none", 1 },
  { EDIT (CUTS, "", "left_mm", "left"), NULL, NULL, PLAN_CUTS, "", NULL,
    "expected a column \"left_mm\" or \"left_in\" in the header line, found none", 1 },
};

#endif
