/* verify_ground.h - ways in which a plan of corners, seats, slopes and steps can be wrong, each with the fault
 * that must be found
 *
 * The good plan is data/plan-ground.  It has corners of 60, 120, 270 and 300
 * degrees, rails let in or on the face, a capping on top, a hill, a step, and
 * levels that some runs lack.  Its lengths are worked by hand from the faces:
 * 68 and 30 outside the line of centres (let in 20), 88 and 50 (face), 70 and
 * -70 (top).
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef VERIFY_GROUND_H
#define VERIFY_GROUND_H

#include "verify_case.h"

static const plan_break ground_breaks[] = {
  /* Where a mitre's long point is: 68 tan 60 = 117.8, 88 tan 60 = 152.4, 70 tan 30 = 40.4.  On the
   * inside of a corner of 270 degrees it is 30 short of the centre. */
  { EDIT (FIT, "street/bottom rail/1-2", "cut_mm", "2450"), NULL, NULL, PLAN_FIT, SAME, "cut_mm",
    "is \"2450\", should be 2518", 1 },
  { EDIT (CUTS, "street/top rail/1-2", "cut_mm", "2518"), NULL, NULL, PLAN_CUTS, SAME, "cut_mm",
    "is \"2518\", should be 2552", 1 },
  { EDIT (FIT, "yard/capping/6-7", "cut_mm", "2079"), NULL, NULL, PLAN_FIT, SAME, "cut_mm",
    "is \"2079\", should be 2090", 1 },
  { EDIT (FIT, "street/bottom rail/3-5", "cut_mm", "4868"), NULL, NULL, PLAN_FIT, SAME, "cut_mm",
    "is \"4868\", should be 4770", 1 },
  { EDIT (CUTS, "hill/bottom rail/1-2", "cut_mm", "2444"), NULL, NULL, PLAN_CUTS, SAME, "cut_mm",
    "is \"2444\", should be 2443", 1 },
  { EDIT (FIT, "street/top rail/1-2", "start_cut", "30"), NULL, NULL, PLAN_FIT, SAME, "start_cut",
    "is \"30\", should be \"60\"", 1 },
  { EDIT (CUTS, "nook/bottom rail/1-2", "finish_cut", "45"), NULL, NULL, PLAN_CUTS, SAME, "finish_cut",
    "is \"45\", should be \"60\"", 1 },
  { EDIT (SPANS, "g1", "start", "mitre 61"), NULL, NULL, PLAN_FIT, "street/top rail/1-2", "start_cut",
    "is \"60\", should be \"59.5\"", ANY },
  { .key = "post-depth", .value = "120", .file = PLAN_FIT, .row = "street/bottom rail/1-2", .column = "cut_mm",
    .message = "is \"2518\", should be 2535", .faults = ANY },
  { EDIT (LEVELS, "bottom rail", "seat", "let in 10"), NULL, NULL, PLAN_FIT, "street/bottom rail/1-2", "cut_mm",
    "is \"2518\", should be 2535", ANY },
  { EDIT (LEVELS, "top rail", "seat", "let in"), NULL, NULL, PLAN_FIT, "street/top rail/1-2", "cut_mm",
    "is \"2552\", should be 2487", ANY },
  { EDIT (SECTIONS, "140x38", "width", "160"), NULL, NULL, PLAN_FIT, "street/capping/1-3", "cut_mm",
    "is \"4921\", should be 4939", ANY },

  /* A piece that is too long takes too much by the same length, which is one fault.  Other figures make two faults. */
  { { { PLAN_FIT, "street/mid rail/1-3", "cut_mm", "4920" }, { PLAN_FIT, "street/mid rail/1-3", "take_mm", "4920" } },
    NULL, NULL, PLAN_FIT, SAME, "cut_mm", "is \"4920\", should be 4918", 1 },
  { { { PLAN_FIT, "street/mid rail/1-3", "cut_mm", "4920" }, { PLAN_FIT, "street/mid rail/1-3", "take_mm", "4921" } },
    NULL, NULL, PLAN_FIT, SAME, "take_mm", "is \"4921\", should be 4918", 2 },

  /* On which face the long point is. */
  { EDIT (FIT, "street/bottom rail/3-5", "long_point", "outer"), NULL, NULL, PLAN_FIT, SAME, "long_point",
    "is \"outer\", should be \"inner\"", 1 },
  { EDIT (CUTS, "street/mid rail/1-3", "long_point", "inner"), NULL, NULL, PLAN_CUTS, SAME, "long_point",
    "is \"inner\", should be \"outer\"", 1 },
  { EDIT (CUTS, "nook/top rail/1-2", "long_point", "outer"), NULL, NULL, PLAN_CUTS, SAME, "long_point",
    "is \"outer\", should be \"outer inner\"", 1 },
  { EDIT (FIT, "nook/top rail/1-2", "long_point", "inner outer"), NULL, NULL, PLAN_FIT, SAME, "long_point",
    "is \"inner outer\", should be \"outer inner\"", 1 },
  { EDIT (FIT, "yard/bottom rail/6-7", "long_point", ""), NULL, NULL, PLAN_FIT, SAME, "long_point",
    "is \"\", should be \"outer\"", 1 },
  { EDIT (FIT, "hill/bottom rail/2-4", "long_point", "outer"), NULL, NULL, PLAN_FIT, SAME, "long_point",
    "is \"outer\", should be \"\"", 1 },

  /* A capping passes over the posts. */
  { EDIT (FIT, "hill/capping/2-4", "finish_join", "housed"), NULL, NULL, PLAN_FIT, SAME, "finish_join",
    "is \"housed\", should be \"flush\"", 1 },
  { EDIT (FIT, "yard/capping/4-5", "finish_join", "face"), NULL, NULL, PLAN_FIT, SAME, "finish_join",
    "is \"face\", should be \"flush\"", 1 },
  { EDIT (CUTS, "yard/capping/4-5", "cut_mm", "1950"), NULL, NULL, PLAN_CUTS, SAME, "cut_mm",
    "is \"1950\", should be 2050", 1 },
  { EDIT (LEVELS, "capping", "seat", "face"), NULL, NULL, PLAN_FIT, "hill/capping/2-4", "finish_join",
    "is \"flush\", should be \"housed\"", ANY },

  /* Plumb cuts at 600 in 2400, which is 14.036 degrees: a piece takes a quarter of its width more,
   * and 0.1 more for 3 mm of saw. */
  { EDIT (FIT, "hill/capping/1-2", "plumb", ""), NULL, NULL, PLAN_FIT, SAME, "plumb",
    "is \"\", should be \"14.036\"", 1 },
  { EDIT (CUTS, "hill/plinth/1-2", "plumb", "14.04"), NULL, NULL, PLAN_CUTS, SAME, "plumb",
    "is \"14.04\", should be \"14.036\"", 1 },
  { EDIT (FIT, "street/mid rail/1-3", "plumb", "14.036"), NULL, NULL, PLAN_FIT, SAME, "plumb",
    "is \"14.036\", should be \"\"", 1 },
  { EDIT (FIT, "hill/bottom rail/2-4", "take_mm", "4927"), NULL, NULL, PLAN_FIT, SAME, "take_mm",
    "is \"4927\", should be 4949.6", 1 },
  { EDIT (CUTS, "hill/plinth/3-4", "take_mm", "2403.5"), NULL, NULL, PLAN_CUTS, SAME, "take_mm",
    "is \"2403.5\", should be 2403.6", 1 },
  { EDIT (CUTS, "hill/bottom rail/2-4", "left_mm", "470"), NULL, NULL, PLAN_CUTS, SAME, "left_mm",
    "is \"470\", should be 447.4", 1 },
  { EDIT (SECTIONS, "90x38", "width", "100"), NULL, NULL, PLAN_CUTS, "hill/bottom rail/2-4", "take_mm",
    "is \"4949.6\", should be 4952.1", ANY },
  /* 2 x 2366 and a kerf come out of 4800; 2 x 2403.6 do not. */
  { { { PLAN_CUTS, "hill/plinth/2-3", "board", "16" },
      { PLAN_CUTS, "hill/plinth/2-3", "cut", "2" },
      { PLAN_CUTS, "street/plinth/1-2", "board", "17" },
      { PLAN_CUTS, "street/plinth/1-2", "cut", "1" },
      { PLAN_FIT, "hill/plinth/2-3", "board", "16" },
      { PLAN_FIT, "street/plinth/1-2", "board", "17" } },
    NULL, NULL, PLAN_CUTS, SAME, "take_mm", "does not fit: 2403.6 mm is needed, board 16 has 2393.4 mm left for it",
    ANY },

  /* The saw of a mitre at the finish takes 1.2 more, since 3 / cos 45 = 4.2.  At the start it takes nothing more. */
  { EDIT (CUTS, "street/mid rail/3-5", "take_mm", "4770"), NULL, NULL, PLAN_CUTS, SAME, "take_mm",
    "is \"4770\", should be 4771.2", 1 },
  { EDIT (FIT, "street/top rail/1-2", "take_mm", "2555"), NULL, NULL, PLAN_FIT, SAME, "take_mm",
    "is \"2555\", should be 2552", 1 },
  { EDIT (CUTS, "street/mid rail/3-5", "left_mm", "27"), NULL, NULL, PLAN_CUTS, SAME, "left_mm",
    "is \"27\", should be 25.8", 1 },
  /* Of mitre and slope the steeper counts: 60 degrees take 3 more, not 3.1. */
  { EDIT (CUTS, "nook/top rail/1-2", "take_mm", "1882.6"), NULL, NULL, PLAN_CUTS, SAME, "take_mm",
    "is \"1882.6\", should be 1882.5", 1 },
  { .key = "kerf", .value = "6", .file = PLAN_CUTS, .row = "nook/top rail/1-2", .column = "take_mm",
    .message = "is \"1882.5\", should be 1885.5", .faults = ANY },

  /* Whole millimetres: positions are rounded to the nearest, pieces between posts down. */
  { .key = "round", .value = "0", .file = PLAN_FIT, .row = "hill/bottom rail/2-4", .column = "cut_mm",
    .message = "is \"4927\", should be 4927.1", .faults = ANY },
  { .key = "round", .value = "5", .file = PLAN_CUTS, .row = "hill/top rail/1-3", .column = "cut_mm",
    .message = "is \"4896\", should be 4900", .faults = ANY },
  { EDIT (FIT, "hill/plinth/1-2", "cut_mm", "2367"), NULL, NULL, PLAN_FIT, SAME, "cut_mm",
    "is \"2367\", should be 2366", 1 },
  { EDIT (FIT, "hill/capping/2-4", "cut_mm", "4999.3"), NULL, NULL, PLAN_FIT, SAME, "cut_mm",
    "is \"4999.3\", should be 4999", 1 },

  /* The step at post 4 of the yard, which goes up 300. */
  { EDIT (FIT, "yard/bottom rail/3-4", "to_post", "5"), NULL, NULL, PLAN_FIT, SAME, "to_post",
    "runs past post 4 of run yard, where the fence steps", ANY },
  { EDIT (FIT, "yard/top rail/2-4", "finish_join", "join"), NULL, NULL, PLAN_FIT, SAME, "finish_join",
    "is \"join\", should be \"centre\"", 1 },
  { EDIT (SPANS, "y3", "step", ""), NULL, NULL, PLAN_FIT, "yard/top rail/4-5", "start_join",
    "is \"centre\", should be \"join\"", ANY },
  { EDIT (SPANS, "y3", "step", "250"), NULL, NULL, PLAN_SETOUT, "yard|4|bottom rail|500", "mark_mm",
    "is \"500\", should be 450", ANY },
  { EDIT (SETOUT, "yard|4|bottom rail|200", "mark_mm", "500"), NULL, NULL, PLAN_SETOUT, SAME, "mark_mm",
    "is \"500\", should be 200", 1 },
  { EDIT (SETOUT, "yard|4|capping|1200", "mark_mm", "900"), NULL, NULL, PLAN_SETOUT, SAME, "mark_mm",
    "is \"900\", should be 1200", 1 },
  { EDIT (SETOUT, "yard|5|top rail", "mark_mm", "800"), NULL, NULL, PLAN_SETOUT, SAME, "mark_mm",
    "is \"800\", should be 1100", 1 },
  { EDIT (SETOUT, "yard|4|top rail|1100", "top_mm", "890"), NULL, NULL, PLAN_SETOUT, SAME, "top_mm",
    "is \"890\", should be 1190", 1 },
  { EDIT (SETOUT, "yard|4|bottom rail|500", "housing", ""), NULL, NULL, PLAN_SETOUT, SAME, "housing",
    "is \"\", should be \"through\"", 1 },
  { DELETE (SETOUT, "yard|4|top rail|1100"), NULL, NULL, PLAN_SETOUT, NULL, NULL,
    "run yard, post 4, level top rail: one row, should be two, as the fence steps there", 1 },
  { COPY (SETOUT, "yard|4|top rail|1100"), NULL, NULL, PLAN_SETOUT, "yard|4|top rail|1100|copy", "post",
    "is \"4\": run yard, level top rail has it on line 55 already", 1 },
  { COPY (SETOUT, "yard|5|top rail"), NULL, NULL, PLAN_SETOUT, "yard|5|top rail|copy", "post",
    "is \"5\": run yard, level top rail has it on line 59 already", 1 },

  /* A run that lacks a level. */
  { EDIT (FIT, "nook/top rail/1-2", "level", "mid rail"), NULL, NULL, PLAN_FIT, SAME, "level",
    "is \"mid rail\", a level that run nook does not have (only)", ANY },
  { EDIT (CUTS, "hill/plinth/block 3", "run", "yard"), NULL, NULL, PLAN_CUTS, SAME, "level",
    "is \"plinth\", a level that run yard does not have (only)", 2 },
  { EDIT (SETOUT, "nook|2|top rail", "level", "capping"), NULL, NULL, PLAN_SETOUT, SAME, "level",
    "is \"capping\", a level that run nook does not have (only)", 2 },
  { EDIT (LEVELS, "mid rail", "only", "street;yard"), NULL, NULL, PLAN_FIT, NULL, NULL,
    "run yard, level mid rail: no piece from post 1 to 5 (from bay y1)", ANY },
  { EDIT (LEVELS, "plinth", "only", "street"), NULL, NULL, PLAN_CUTS, "hill/plinth/block 1", "level",
    "is \"plinth\", a level that run hill does not have (only)", ANY },
  /* In the yard, which has no mid rail, bottom and top rail are neighbours. */
  { { { PLAN_FIT, "yard/top rail/1-2", "to_post", "3" }, { PLAN_FIT, "yard/top rail/2-4", "from_post", "3" } },
    "stagger", "require", PLAN_FIT, "yard/top rail/2-4", "from_post",
    "join on post 3 of run yard lines up with that of level bottom rail (line 27): stagger is \"require\"", ANY },

  /* Housings and heights by seat. */
  { EDIT (SETOUT, "street|1|bottom rail", "depth_mm", "38"), NULL, NULL, PLAN_SETOUT, SAME, "depth_mm",
    "is \"38\", should be 20", 1 },
  { EDIT (SETOUT, "street|1|top rail", "housing", "through"), NULL, NULL, PLAN_SETOUT, SAME, "housing",
    "is \"through\", should be \"\"", 1 },
  { EDIT (SETOUT, "street|1|top rail", "depth_mm", "38"), NULL, NULL, PLAN_SETOUT, SAME, "depth_mm",
    "is \"38\", should be \"\"", 1 },
  { EDIT (SETOUT, "street|1|capping", "housing", "through"), NULL, NULL, PLAN_SETOUT, SAME, "housing",
    "is \"through\", should be \"\"", 1 },
  { EDIT (SETOUT, "street|1|capping", "top_mm", "1040"), NULL, NULL, PLAN_SETOUT, SAME, "top_mm",
    "is \"1040\", should be 938", 1 },
  { EDIT (SETOUT, "hill|4|capping", "housing", "stopped"), NULL, NULL, PLAN_SETOUT, SAME, "housing",
    "is \"stopped\", should be \"\"", 1 },
  { EDIT (SETOUT, "hill|4|top rail", "housing", ""), NULL, NULL, PLAN_SETOUT, SAME, "housing",
    "is \"\", should be \"stopped\"", 1 },
  /* The rail stops 30 tan 60 = 52 before the centre of its post, which is 100 wide, and so does not touch it. */
  { EDIT (SETOUT, "nook|2|bottom rail", "housing", "through"), NULL, NULL, PLAN_SETOUT, SAME, "housing",
    "is \"through\", should be \"\"", 1 },

  /* Columns that older plans do not have. */
  { EDIT (FIT, "", "plumb", "slope"), NULL, NULL, PLAN_FIT, "", "plumb",
    "expected a column \"plumb\" in the header line, found none", 1 },
  { EDIT (CUTS, "", "long_point", "side"), NULL, NULL, PLAN_CUTS, "", "long_point",
    "expected a column \"long_point\" in the header line, found none", 1 },
  { EDIT (CUTS, "", "take_mm", "take"), NULL, NULL, PLAN_CUTS, "", NULL,
    "expected a column \"take_mm\" or \"take_in\" in the header line, found none", 1 },
  { EDIT (CUTS, "bench", "plumb", "steep"), NULL, NULL, PLAN_CUTS, SAME, "plumb", "found \"steep\"", 1 },
  { EDIT (CUTS, "bench", "take_mm", ""), NULL, NULL, PLAN_CUTS, SAME, "take_mm", "the cell is blank", 1 },
};

#endif
