/* tuning.h - every number of the solver that could be another one, with its reason
 *
 * A limit counts steps, iterations or cells, never seconds, so that the same
 * input takes the same way on every run.  What was measured is the sum of CPU
 * seconds to the proof of cost when that number alone is changed; where
 * nothing else is said, of five random fences of 300 and 1,000 bays, at most 8
 * a fence, of 10.6 in all.  A few tenths are chance.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_TUNING_H
#define SW_TUNING_H

/* ---- Numbers that are told apart ---- */

/* Two values of a linear programme that are nearer than this are taken for equal; so is a value this near to a whole
 * number, or to nothing. */
#define SW_WHOLE 1e-6
/* A bound in floating point moves to the safe side by this part of itself: more than all that its few operations round
 * off. */
#define SW_HAIR 1e-14
/* A column has to gain more than one part in so many of its price, because smaller gains are what GLPK rounds off. */
#define SW_GAIN_PART 1000000000
/* Prices are whole numbers of at most so many bits, so that sums over a board's pieces stay far from 2^62. */
#define SW_PRICE_BITS 44
/* Beside larger numbers than this GLPK's simplex has gone round in circles, so its verdicts are not taken. */
#define SW_TRUSTED 1e6

/* ---- Room and time of the exact methods ---- */

/* Cells of a table, of 8 or 16 bytes each: 64 or 128 MiB. */
#define SW_CELLS ((size_t)1 << 23)
/* Moves or additions of one exact sweep; they take a tenth of a second. */
#define SW_MOVES ((uint64_t)1 << 26)
/* Additions to fill the table of a search that looks ahead, which it may do for a whole list of boards. */
#define SW_AHEAD_MOVES (16 * SW_MOVES)
/* Moves for one block of levels where all levels together are too many; also the things looked at between two looks at
 * the watch. */
#define SW_QUICK_MOVES (SW_MOVES / 64)
/* States of a strip.  Also the cells of a grid over lengths, which then tells lengths apart that differ by less than a
 * kerf. */
#define SW_STATES 65536
/* Levels that one sweep takes: it has a bit for each, and 2^levels moves a state. */
#define SW_LEVELS 16
/* Levels that are laid out in one go where all of them are too many. */
#define SW_LEVELS_IN_ONE 3
/* Things that the search for one board looks at.  A look takes about as long as
 * CELLS_A_LOOK cells of a table, and a table is made instead of a search that takes longer.  Measured with 8 on 12
 * published jobs: 4.2 s; with 64: 3.2 s. */
#define SW_BOARD_LOOKS ((uint64_t)2000000)
#define SW_CELLS_A_LOOK 64
/* From so many things on, one table serves a whole section. */
#define SW_MANY_THINGS 400
/* So deep may a function call itself. */
#define SW_RECURSION 1000
/* Strips, times the square of their levels, that are laid out well even when the time is up; it takes a tenth of a
   second.  With 200 strips of 64 levels instead it took 3 s. */
#define SW_IN_ANY_CASE 2000

/* ---- The linear programme ---- */

/* Iterations of the simplex between two looks at the watch. */
#define SW_SLICE 250
/* New patterns of one stock in one round, and how many pieces further on the next round begins to look for them.
 * Measured on 80 fences of 30 and 100 bays to the proof: 1.8 s; with 30 as well 1.9 s. */
#define SW_COLUMNS 30
#define SW_TURN 37
/* The weight, in eighths, that the prices of the best bound have when columns are first priced.  It is halved each time
   that no column is found.  Measured with 0: 17.6, and one proof less. */
#define SW_SMOOTH 4
/* A piece that no board covers costs PENALTY boards.  The price rises by that factor each time that it was too low, at
   most PENALTY_STEPS times. */
#define SW_PENALTY 100
#define SW_PENALTY_STEPS 4
/* Rows at most where every span is another.  With more than MANY_NEEDS, a first programme has FEW_ROWS and ends when
   bound and programme are as near as NEAR_FIRST.  Measured without that first programme: 14.7. */
#define SW_ROWS 6000
#define SW_MANY_NEEDS 1500
#define SW_FEW_ROWS 400
#define SW_NEAR_FIRST 5e-4
/* Prices jump at a length of which 1, 2, ... or this many pieces just fit on a board, so there is a row on both
 * sides. */
#define SW_JUMPS 6
/* A plan is made after so many rounds, and again each time that their number has doubled, up to MOST_ROUNDS. */
#define SW_FIRST_PLAN 10
#define SW_MOST_ROUNDS 300

/* ---- Plans out of it ---- */

/* Of the boards that a dive has not decided, one in PART_DECIDED at least is decided at each step.  ROUNDS rounds of
 * column generation follow where a dive begins, and each step of one over layouts. */
#define SW_PART_DECIDED 25
#define SW_ROUNDS 4
/* Dives over boards alone, the work they may do (iterations times rows), and the value from which on a pattern counts
 * as decided. */
#define SW_DIVES 4
#define SW_DIVES_WORK 2000000
#define SW_DECIDED 0.9
/* Boards that are filled before pieces that are used up are cleared away; stocks that are tried where there is no time
   to choose. */
#define SW_CLEARING 64
#define SW_TRIED 8
/* A layout is dived for so often, each time fixing what more of the mixture has.  Measured on 80 fences of 30 and 100
 * bays to the proof: 4.0 s; with 0.5 and 0.75 alone 6.8 s. */
#define SW_ENOUGH                                                                                                      \
  {                                                                                                                    \
    0.5, 0.65, 0.8, 0.95                                                                                               \
  }

/* ---- A part of the plan anew ---- */

/* Options of the strips that are set free, at first and at most; failed regions of one size, and regions in all.
   Measured on a fence of 1,000 bays and three rails with one failed region: not proved in 12 s, with four in 1.5 s.
   For joins and boards one is enough: 80 fences of 30 and 100 bays took 24.5 s to the end with four, 19.9 s with one,
   and had as many joins. */
#define SW_FIRST_OPTIONS 150
#define SW_MOST_OPTIONS 700
#define SW_VAIN_REGIONS 4
#define SW_MOST_REGIONS 200
/* This part of the boards that lose nothing is set free too. */
#define SW_ALSO_FREE 0.1

/* ---- What is open between bound and plan ---- */

/* Patterns that are listed at most. */
#define SW_PATTERNS 60000
/* Steps of the listing, or of the pricing in branch and price for one board, and nodes times columns of branch and
   bound.  A fiftieth goes to the aims after cost, which only break ties, and to a part that is solved anew. */
#define SW_CLOSING_WORK 40000000
#define SW_TIE_PART 50
/* From so many options on, a first look at a job ends with the plan that is rounded out of the mixture.  Measured on
 * four whole orders of 100 bays, at most 10 s each: 0.2 % open on average; where each is searched on: 1.1 %. */
#define SW_FEW_OPTIONS 200
/* A list with no more patterns than this is searched before parts of the plan are solved anew.  Measured on 40 fences
 * of 100 bays: 3.75 s; without it: 4.26 s. */
#define SW_SHORT_LIST 1500
/* Branch and price: the work (iterations times rows) of the try after the dives, and of the last one, which takes many
   minutes. */
#define SW_FIRST_BRANCHING 20000000
#define SW_LAST_BRANCHING 20000000000
/* Where boards must be quite full, it begins after FEW_ROUNDS of the programme, with so many iterations a need.
   Measured on two published jobs of 402 pieces: 11.0 s; after the whole programme: 18.4 s. */
#define SW_FEW_ROUNDS 40
#define SW_TIGHT_ITERATIONS 250
/* The kinds that branch and price can add to those of the model, those of them that its programme has rows for at
   first, and the most needs that a model for it may have. */
#define SW_MORE_KINDS 400
#define SW_FIRST_KINDS 40
#define SW_KINDS_NEEDS 1000

/* ---- GLPK's branch and bound ---- */

/* Iterations of each way to branch in its first turn, and those that one node counts for.  Measured on 32 fences of 30
 * and 100 bays, 1.4 s to the proof of cost as things stand: half as many 1.1 s and 1.5 s, twice as many 1.1 s and
 * 1.3 s. */
#define SW_FIRST_TURN 2000
#define SW_NODE_ITERATIONS 10
/* With no more stocks than this, their numbers of boards are branched on first.  Measured on 80 fences of 30 and 100
 * bays: 4.0 s to the proof; always on the numbers first: 6.3 s. */
#define SW_FEW_STOCKS 3
/* A node is dropped when its value is this much over the value that is looked for. */
#define SW_NO_USE 0.01

/* ---- Long offcuts ---- */

/* Pairs of boards that are packed anew, and steps to fill boards of them. */
#define SW_PACK_STEPS 3000000
/* Patterns of plans that are alike in all else, and nodes times columns to find the best of them. */
#define SW_OFFCUT_PATTERNS 300
#define SW_OFFCUT_WORK 40000
/* Squares are taken in parts of the longest board, of which it has so many, so that sums stay far from 2^63. */
#define SW_OFFCUT_PARTS 100000

#endif
