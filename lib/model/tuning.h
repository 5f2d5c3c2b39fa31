/* tuning.h - every number of the solver that could be another one, with its reason and its measured effect
 *
 * A limit counts steps, iterations or cells, never seconds, so that the same
 * input takes the same way on every run.  What was measured is the sum of CPU
 * seconds to the proof of cost when that number alone is changed, of
 *
 *      100s     20 random fences of 100 bays: 1.2 s as things stand
 *      300s     8 of 300 bays: 4.2 s
 *      1000s    5 of 1,000 bays, of which one is not proved in 4 s: 8.8 s
 *      pieces   16 published jobs of pieces alone: 4.9 s
 *
 * One part in twenty is chance, and so is up to a second in the 300s, where one
 * fence takes another way.  "Nothing": no sum, no plan and no proof changed.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_TUNING_H
#define SW_TUNING_H

/* ---- Numbers that are told apart ---- */

/* Two values of a linear programme that are nearer than this are taken for equal; so is a value this near to a whole
 * number, or to nothing.  A tenth, tenfold: nothing. */
#define SW_WHOLE 1e-6
/* A bound in floating point moves to the safe side by this part of itself: more than all that its few operations round
 * off.  A tenth, tenfold: pieces 5.1 and 4.9, with other plans as good. */
#define SW_HAIR 1e-14
/* A column has to gain more than one part in so many of its price, because smaller gains are what GLPK rounds off.  A
 * tenth, double: nothing. */
#define SW_GAIN_PART 1000000000
/* Prices are whole numbers of at most so many bits, so that sums over a board's pieces stay far from 2^62.  34: pieces
 * 5.9; 47: 5.1. */
#define SW_PRICE_BITS 44
/* Beside larger numbers than this GLPK's simplex has gone round in circles, so its verdicts are not taken.  A
 * thousandth: 100s 11.3, one proof less; a thousandfold: nothing. */
#define SW_TRUSTED 1e6

/* ---- Room and time of the exact methods ---- */

/* Cells of a table, of 8 or 16 bytes each: 64 or 128 MiB.  Half: nothing; double: 6 jobs of 60 to 400 lengths as fast,
 * but with 79 MiB in place of 19. */
#define SW_CELLS ((size_t)1 << 23)
/* Moves or additions of one exact sweep; they take a tenth of a second.  Half: 6 jobs of 60 to 400 lengths 1.24 s in
 * place of 1.27; double: 1.29, and 11 strips of 4 to 8 levels 0.79 in place of 0.71. */
#define SW_MOVES ((uint64_t)1 << 26)
/* Additions to fill the table of a search that looks ahead, which it may do for a whole list of boards.  Half, double:
 * nothing. */
#define SW_AHEAD_MOVES (16 * SW_MOVES)
/* Moves for one block of levels where all levels together are too many; also the things looked at between two looks at
 * the watch.  9 wide strips of 7 to 40 levels: 3.1 s; twice as many 3.3, four times 3.9; half 3.2. */
#define SW_QUICK_MOVES (SW_MOVES / 256)
/* States of a strip, each of which has 16 bytes a bay.  Half: 11 strips of 4 to 8 levels 0.60 s to their end in place
 * of 0.71; double: nothing. */
#define SW_STATES 65536
/* Levels that one sweep takes: it has a bit for each, and 2^levels moves a state.  Half: nothing, as states or moves
 * run out before. */
#define SW_LEVELS 16
/* Levels that are laid out in one go where all of them are too many.  One: nothing on strips of 7 to 40 levels;
 * double: 3.5 times as long to the first plan. */
#define SW_LEVELS_IN_ONE 3
/* Things that the search for one board looks at.  A look takes about as long as CELLS_A_LOOK cells of a table, and a
 * table is made instead of a search that takes longer.  LOOKS, half: pieces 4.8, double: 5.3; CELLS, half and double:
 * 5.0, and 6 jobs of 60 to 400 lengths 1.3 and 1.4; 8 was 4.2 on 12 published jobs where 64 was 3.2. */
#define SW_BOARD_LOOKS ((uint64_t)2000000)
#define SW_CELLS_A_LOOK 64
/* From so many things on, one table serves a whole section.  Half, double: nothing. */
#define SW_MANY_THINGS 400
/* So deep may a function call itself.  A hundredth: nothing. */
#define SW_RECURSION 1000
/* Strips, times the square of their levels, that are laid out well even when the time is up; it takes a tenth of a
 * second.  With 200 strips of 64 levels instead it took 3 s.  Half, double: nothing. */
#define SW_IN_ANY_CASE 2000

/* ---- The linear programme ---- */

/* Iterations of the simplex between two looks at the watch.  Half: pieces 7.1, double: 5.3; 100s the same. */
#define SW_SLICE 250
/* New patterns of one stock in one round, and how many pieces further on the next round begins to look for them.
 * COLUMNS, half: 300s 3.1, pieces 6.3; double: 5.1 and one proof less, 5.0.  TURN, half: pieces 5.1; double: 5.8; as
 * many as COLUMNS: 6.3. */
#define SW_COLUMNS 30
#define SW_TURN 37
/* The weight, in eighths, that the prices of the best bound have when columns are first priced.  It is halved each
 * time that no column is found.  0: pieces 5.6; 2: 5.2; 7: 4.9, but the 100s take 17.0 to their end in place of 5.2.
 * */
#define SW_SMOOTH 4
/* A piece that no board covers costs PENALTY boards.  The price rises by that factor each time that it was too low, at
 * most PENALTY_STEPS times.  PENALTY a tenth: pieces 7.2; tenfold: 7.2.  PENALTY_STEPS, half and double: nothing. */
#define SW_PENALTY 100
#define SW_PENALTY_STEPS 4
/* Rows at most where every span is another.  Half, double: nothing in the 1000s. */
#define SW_ROWS 6000
/* With more needs than this, a first programme has FEW_ROWS and ends when bound and programme are as near as
 * NEAR_FIRST.  Without it the 1000s have 2 % open on one fence, and take 11.4.  FEW_ROWS, half and double: 7.4;
 * NEAR_FIRST, half: 8.1, double: 8.3. */
#define SW_MANY_NEEDS 1500
#define SW_FEW_ROWS 400
#define SW_NEAR_FIRST 5e-4
/* Prices jump at a length of which 1, 2, ... or this many pieces just fit on a board, so there is a row on both
 * sides.  1000s with none: 8.4, and 0.066 % open in place of 0.023; half: 8.2, 0.009; double: 9.0, 0.023. */
#define SW_JUMPS 6
/* A plan is made after so many rounds, and again each time that their number has doubled.  1000s, half: 7.7, double:
 * 8.4, never: 8.1; 300s 4.0 and 3.8. */
#define SW_FIRST_PLAN 10
/* No programme has needed so many rounds: this ends one that rounding would keep going for ever.  30: nothing; 9: no
 * bound, 18 % open. */
#define SW_MOST_ROUNDS 300

/* ---- Plans out of it ---- */

/* Of the boards that a dive has not decided, one in PART_DECIDED at least is decided at each step.  Half: pieces 5.3;
 * double: 4.6. */
#define SW_PART_DECIDED 25
/* Rounds of column generation where a dive begins, and at each step of one over layouts.  Half: 100s 12.5 to their end
 * in place of 5.2; double: nothing. */
#define SW_ROUNDS 4
/* Dives over boards alone, the work they may do (iterations times rows), and the value from which on a pattern counts
 * as decided.  Dives, none: pieces 36, two proofs less, 1 GiB; half: 5.9; double: 5.5.  Work, half and double: 5.1 and
 * 5.2; a tenth: 5.2.  DECIDED, 0.8: 19.9, one proof less; 0.95: 6.4. */
#define SW_DIVES 4
#define SW_DIVES_WORK 2000000
#define SW_DECIDED 0.9
/* Boards that are filled before pieces that are used up are cleared away.  Half, double: pieces 4.8 and 5.0; 6 jobs of
 * 60 to 400 lengths 1.4 and 1.35 s in place of 1.3. */
#define SW_CLEARING 64
/* Stocks that are tried where there is no time to choose.  One: 100,000 pieces and wide fences in 1 s have 2.90 % open
 * in place of 2.74; half, double: 2.74. */
#define SW_TRIED 8
/* A layout is dived for so often, each time fixing what more of the mixture has.  100s with 0.5 and 0.75: 1.8; without
 * 0.95: 1.9; with 0.5 to 0.9 by tenths: 1.2. */
#define SW_ENOUGH                                                                                                      \
  {                                                                                                                    \
    0.5, 0.65, 0.8, 0.95                                                                                               \
  }

/* ---- A part of the plan anew ---- */

/* Options of the strips that are set free, at first and at most; failed regions of one size.  Without any region: 300s
 * 6.9, and one proof less.  FIRST, half: 3.5, double: 4.4; MOST, half: 4.1, double: 4.3; VAIN, 1: 4.1, 8: 4.5.  For
 * joins and boards one is enough: 80 fences of 30 and 100 bays took 24.5 s to the end with four, 19.9 s with one, and
 * had as many joins. */
#define SW_FIRST_OPTIONS 150
#define SW_MOST_OPTIONS 700
#define SW_VAIN_REGIONS 4
/* This part of the boards that lose nothing is set free too.  None: 300s 5.1, one proof less; half: 4.6; double: 3.9.
 * */
#define SW_ALSO_FREE 0.1

/* ---- What is open between bound and plan ---- */

/* Patterns that are listed at most.  Half and double: nothing, but that the largest job takes 37 or 102 MiB in place
 * of 54. */
#define SW_PATTERNS 60000
/* Steps of the listing, or of the pricing in branch and price for one board, and nodes times columns of branch and
 * bound.  Half: 300s 4.1; double: 4.8, one proof less. */
#define SW_CLOSING_WORK 40000000
/* One part in so many of it goes to the aims after cost, which only break ties, and to a part that is solved anew.  Of
 * 80 fences of 30 and 100 bays to the end, with as many joins and boards each time: 13.4 s; 100: 18.3; 50: 26.0; 500:
 * 10.8, but a published job with 17 boards more of 2,022. */
#define SW_TIE_PART 200
/* From so many options on, a first look at a job ends with the plan that is rounded out of the mixture.  Measured on
 * four whole orders of 100 bays, at most 10 s each: 0.2 % open on average; where each is searched on: 1.1 %.  Half,
 * double: nothing on three of them. */
#define SW_FEW_OPTIONS 200
/* A list with no more patterns than this is searched before parts of the plan are solved anew.  None: 100s 2.7, 300s
 * 6.2, one proof less; half: 1.0 and 4.2; double: 1.3 and 3.6. */
#define SW_SHORT_LIST 1500
/* Branch and price: the work (iterations times rows) of the try after the dives, and of the last one, which takes many
 * minutes.  FIRST, none: pieces 21.8, one proof less; half and double: nothing.  LAST: nothing, as none of them comes
 * to it. */
#define SW_FIRST_BRANCHING 20000000
#define SW_LAST_BRANCHING 20000000000
/* Where boards must be quite full, it begins after FEW_ROUNDS of the programme, with so many iterations a need.
 * Measured on two published jobs of 402 pieces: 11.0 s; after the whole programme: 18.4 s.  ROUNDS, half: pieces 5.9;
 * double: 5.4.  ITERATIONS, half and double: nothing. */
#define SW_FEW_ROUNDS 40
#define SW_TIGHT_ITERATIONS 250
/* The kinds that branch and price can add to those of the model, those of them that its programme has rows for at
 * first, and the most needs that a model for it may have.  MORE, half and double: nothing; FIRST, half: pieces 7.4,
 * double: 5.4.  NEEDS, a tenth: 6.4; tenfold: nothing. */
#define SW_MORE_KINDS 400
#define SW_FIRST_KINDS 40
#define SW_KINDS_NEEDS 1000

/* ---- GLPK's branch and bound ---- */

/* Iterations of each way to branch in its first turn, and those that one node counts for.  TURN, half: 100s 1.1;
 * double: 1.3.  NODE, half: 1.2; double: 1.1; 300s 4.1 and 4.0. */
#define SW_FIRST_TURN 2000
#define SW_NODE_ITERATIONS 10
/* With no more stocks than this, their numbers of boards are branched on first.  Never first: 300s 5.2; always: 4.2,
 * but the 100s take 6.2 to their end in place of 5.2. */
#define SW_FEW_STOCKS 3
/* A node is dropped when its value is this much over the value that is looked for: more than what GLPK rounds off.  A
 * tenth and tenfold: nothing. */
#define SW_NO_USE 0.01

/* ---- Long offcuts: 13 fences of 30 and 100 bays, 0.33 s to the end, squares of all offcuts 90.95 m2 ---- */

/* Pairs of boards that are packed anew, and steps to fill boards of them.  None: 90.29 m2 in 0.28 s; a tenth and
 * double: nothing. */
#define SW_PACK_STEPS 3000000
/* Patterns of plans that are alike in all else, and nodes times columns to find the best of them.  None: 90.86 m2,
 * 0.28 s; PATTERNS, half: 90.94, 0.30 s, double: 91.10, 0.37 s; WORK, a tenth and double: nothing. */
#define SW_OFFCUT_PATTERNS 300
#define SW_OFFCUT_WORK 40000
/* Squares are taken in parts of the longest board, of which it has so many, so that sums stay far from 2^63.  A
 * hundredth: 90.94 m2; a tenth and tenfold: nothing, as parts are whole millimetres at least. */
#define SW_OFFCUT_PARTS 100000

#endif
