/* solution.h - a whole-number solution, checked against the model
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_SOLUTION_H
#define SW_SOLUTION_H

#include "model/pattern.h"

/* What is brought down to the least, in this order. */
typedef enum sw_aim
{
  SW_AIM_COST,
  SW_AIM_JOINS,
  SW_AIM_BOARDS,
  SW_AIM_COUNT,
  /* The last aim, the sum of sw_pattern_lack over all boards; nothing is proved of it. */
  SW_AIM_OFFCUTS = SW_AIM_COUNT
} sw_aim;

/* What a board of STOCK, or OPTION, adds to the value of AIM. */
int64_t sw_stock_adds (const sw_model *model, size_t stock, sw_aim aim);
int64_t sw_option_adds (const sw_model *model, size_t option, sw_aim aim);

/* A whole-number solution: which options it uses, and how many boards of each pattern. */
typedef struct sw_solution
{
  bool valid;
  uint8_t *used; /* for each option of the model: whether it is used */
  size_t count, capacity;
  struct sw_boards
  {
    size_t pattern; /* of the pool */
    int64_t copies;
  } * boards;
  int64_t value[SW_AIM_COUNT + 1];
} sw_solution;

sw_status sw_solution_init (sw_solution *solution, const sw_model *model);
void sw_solution_clear (sw_solution *solution);
sw_status sw_solution_add (sw_solution *solution, size_t pattern, int64_t copies);
/* As sw_solution_add, for a pattern that SOLUTION does not have yet: no search for it. */
sw_status sw_solution_append (sw_solution *solution, size_t pattern, int64_t copies);
/* Add COPIES boards of STOCK that are cut to COUNT entries; their pattern goes into POOL where it is new. */
sw_status sw_solution_cut (sw_solution *solution, sw_patterns *pool, uint32_t stock, const sw_entry *entries,
                           uint32_t count, int64_t copies);
sw_status sw_solution_copy (sw_solution *to, const sw_solution *from, const sw_model *model);
/* How much worse than the longest board in one piece the offcut of PATTERN is: the square of that board less the square
 * of the offcut.  By this measure a few long offcuts lack less than many short ones. */
int64_t sw_pattern_lack (const sw_model *model, const sw_patterns *pool, size_t pattern);
/* Pairs of joins that line up in the layout USED (one entry for each option of the model) of STRIP, or of all strips; 0
 * where they are not counted. */
int64_t sw_strip_pairs (const sw_model *model, const sw_strip *strip, const uint8_t *used);
int64_t sw_solution_aligned (const sw_solution *solution, const sw_model *model);
/* Set LACKING (for each need) to the pieces that the layout of SOLUTION and the model ask for, less those that its
 * boards yield. */
void sw_solution_lacking (const sw_solution *solution, const sw_model *model, const sw_patterns *pool,
                          int64_t *lacking);
/* Work out the values of SOLUTION, and check every rule of MODEL in integers. */
bool sw_solution_check (sw_solution *solution, const sw_model *model, const sw_patterns *pool);

#endif
