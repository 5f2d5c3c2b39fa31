/* tuning.h - every number of the solver that could be another one, with its reason
 *
 * A limit counts steps, iterations or cells, never seconds, so that the same
 * input takes the same way on every run.  "Measured": the sum of CPU seconds to
 * the proof of cost on five random fences of 300 and 1,000 bays, at most 8 each,
 * with that alone changed; 10.6 as it stands, a few tenths being chance.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_TUNING_H
#define SW_TUNING_H

/* ---- Numbers that are told apart ---- */

/* Nearer to a whole number, to nothing or to each other than this, two values of a linear programme are the same. */
#define SW_WHOLE 1e-6
/* What a bound in floating point is drawn to the safe side by: more than all that its few operations round off. */
#define SW_HAIR 1e-14
/* Prices are whole numbers of up to so many bits: sums over a board's pieces stay far from 2^62. */
#define SW_PRICE_BITS 44
/* Beside larger numbers than this GLPK's simplex has been seen to go round in circles, and its verdicts are not taken.
 */
#define SW_TRUSTED 1e6

/* ---- Room and time of the exact methods ---- */

/* Cells of a table, of 8 or 16 bytes: 64 or 128 MiB. */
#define SW_CELLS ((size_t)1 << 23)
/* Moves or additions of one exact sweep: a tenth of a second. */
#define SW_MOVES ((uint64_t)1 << 26)
/* Moves for one block of levels where all are too much at once, and looks at things between two at the watch. */
#define SW_QUICK_MOVES ((uint64_t)1 << 20)
/* States of a strip; a grid of so many cells tells lengths apart to less than a saw's kerf. */
#define SW_STATES 65536
/* Levels that one sweep takes: a bit each, and 2^levels moves a state. */
#define SW_LEVELS 16
/* Levels of a layout that are laid out in one go where all are too much. */
#define SW_LEVELS_IN_ONE 4
/* Steps to fill one board by search, before a table is made for it; a glance is a twentieth of that. */
#define SW_BOARD_STEPS 200000
/* Things looked at in a step on average, at most, as steps alone say nothing where there are very many things. */
#define SW_LOOKS_A_STEP 1000
/* Up to this room, and from so many things on, a table is made at once; from so many on one table does for a section.
 */
#define SW_SHORT_ROOM 8000
#define SW_SOME_THINGS 24
#define SW_MANY_THINGS 400
/* Others beside a piece that are looked at to tell that it is of no use to a table.  Measured without: 10.9. */
#define SW_RANKS 16
/* Strips that are laid out well even when the time is up: a fraction of a second. */
#define SW_STRIPS_IN_ANY_CASE 200

/* ---- The linear programme ---- */

/* Iterations of the simplex between two looks at the watch. */
#define SW_SLICE 250
/* New patterns from a board and round. */
#define SW_COLUMNS 30
/* Weight in eighths of the best bound's prices when columns are priced at first; halved each time that none is found.
   Measured with 0: 17.6, and a proof less. */
#define SW_SMOOTH 4
/* A piece that no board covers costs so many times a board, and so many times more each time that this was too little;
   so often at most. */
#define SW_PENALTY 100
#define SW_PENALTY_STEPS 4
/* Rows at most where every span is another; with more needs than MANY a first look with few rows and so near.
   Measured without that look: 14.7. */
#define SW_ROWS 6000
#define SW_MANY_NEEDS 1500
#define SW_FEW_ROWS 400
#define SW_NEAR_FIRST 5e-4
/* Prices jump where two to so many pieces of a length just come out of a board: there is a row on both sides. */
#define SW_JUMPS 6
/* A plan is made after so many rounds, and whenever there were twice as many more; no more rounds than that. */
#define SW_FIRST_PLAN 10
#define SW_MOST_ROUNDS 300

/* ---- Plans out of it ---- */

/* Layouts rounded out of the mixture for fewer joins.  Measured with 2: 10.6, a join more in 958.  For cost one does:
   40 fences of 100 bays took 4.1 s, and 4.4 with five more that chance moved. */
#define SW_ROUNDINGS 6
/* Boards that are searched, not rounded; before that one in so many is decided at a step, with so many rounds after. */
#define SW_FEW_BOARDS 60
#define SW_PART_DECIDED 25
#define SW_ROUNDS 4
/* Dives into boards alone, their work (iterations times rows), and from what on a pattern is taken as decided. */
#define SW_DIVES 4
#define SW_DIVES_WORK 2000000
#define SW_DECIDED 0.9
/* Boards filled between two clearings of pieces that are used up; boards tried where there is no time to choose.
   Measured where plans on the way are filled by worth instead: 10.9. */
#define SW_CLEARING 64
#define SW_TRIED 8

/* ---- A part of the plan anew ---- */

/* Possible pieces of the strips that are free, at first and at most; regions in vain of one size, and in all.
   Measured on 80 fences of 30 and 100 bays: 8.3 s; 10.2 with 700 at first, after the list. */
#define SW_FIRST_OPTIONS 150
#define SW_MOST_OPTIONS 700
#define SW_VAIN_REGIONS 4
#define SW_MOST_REGIONS 200
/* Of what nothing is wrong with, this part is set free too. */
#define SW_ALSO_FREE 0.1

/* ---- What is open between bound and plan ---- */

/* Patterns listed at most; a tenth for a part that is solved anew. */
#define SW_PATTERNS 60000
/* Steps of listing, and nodes of branch and bound times columns; for the aims after cost, which break ties only, and
   for a part that is solved anew a fiftieth of it. */
#define SW_CLOSING_WORK 40000000
#define SW_TIE_PART 50
/* With fewer options than this the list is shorter than any plan out of the mixture. */
#define SW_FEW_OPTIONS 200
/* Branch and price: nodes and work (iterations times rows) of the first try, then as many nodes as it takes; a short
   try where there is nothing to find.  Triplets take a hundred nodes, within that work. */
#define SW_FIRST_NODES 1000
#define SW_FIRST_NODES_WORK 20000000
#define SW_MANY_NODES 100000
/* Its kinds beside those of the model, and needs of a model that it takes on. */
#define SW_MORE_KINDS 400
#define SW_KINDS_NEEDS 1000
/* Steps of its pricing for one board. */
#define SW_PAIR_STEPS 50000000

/* ---- GLPK's branch and bound ---- */

/* Iterations of each way in its first turn; what counts as so many: a node, or a look at so many columns. */
#define SW_FIRST_TURN 2000
#define SW_NODE_ITERATIONS 10
/* With so few stocks their numbers of boards are branched on first. */
#define SW_FEW_STOCKS 3
/* A node that is worth so much over what is looked for is of no use. */
#define SW_NO_USE 0.01

/* ---- Long offcuts ---- */

/* Steps to fill one board, and in all. */
#define SW_FILL_STEPS 2000
#define SW_PACK_STEPS 3000000
/* Squares are taken of so many parts of the longest board: sums stay far from 2^63. */
#define SW_OFFCUT_PARTS 100000

#endif
