/* verify.h - a plan's files against its job
 *
 * It shares no rule with the rooms that plan (layout to plan): the rules are
 * written down here a second time, so that a mistake of the planner shows.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_VERIFY_H
#define SW_VERIFY_H

#include "base/name_index.h"
#include "base/text.h"
#include "csv/columns.h"
#include "csv/value.h"
#include "job/job.h"

/* No such index; a count, post or length that is blank. */
#define SW_UNKNOWN SIZE_MAX
#define SW_BLANK INT64_MIN

/* Lengths in the files carry one decimal of a millimetre, half away from
 * zero; a sum along a slope may round by a nanometre a bay. */
#define SW_VERIFY_ROUNDING (SW_MM / 1000)
#define SW_VERIFY_TOLERANCE (SW_MM / 20 + SW_VERIFY_ROUNDING)

typedef enum sw_cell_kind
{
  SW_CELL_TEXT,
  SW_CELL_COUNT,     /* a whole number, 0 or more */
  SW_CELL_LENGTH,    /* the column's name ends in _mm, or in _in; nanometres */
  SW_CELL_METRES,    /* nanometres */
  SW_CELL_MONEY,
  SW_CELL_SAW,       /* "square" or degrees; thousandths of a degree */
  SW_CELL_PLUMB,     /* degrees, or blank for level; thousandths of a degree */
  SW_CELL_ASIDE      /* text whose column may be missing */
} sw_cell_kind;

typedef struct sw_listing_field
{
  sw_cell_kind kind;
  bool may_be_blank;
} sw_listing_field;

#define SW_LISTING_MAX_FIELDS 20

/* A file of the plan, its cells read. */
typedef struct sw_listing
{
  sw_table *table;                      /* NULL: not there */
  char *file;                           /* its path */
  const char *const *names;             /* of its columns: columns.h */
  const sw_listing_field *fields;
  size_t field_count;
  int columns[SW_LISTING_MAX_FIELDS];   /* of the table, by field; -1: none */
  size_t rows;
  int64_t *numbers;                     /* rows * field_count */
} sw_listing;

/* How a piece is sawn. */
typedef struct sw_sawn
{
  sw_length cut;
  sw_length take;          /* of its board, without an ordinary kerf */
  int64_t start_saw;       /* thousandths of a degree */
  int64_t finish_saw;
  int64_t plumb;           /* thousandths of a degree; 0 or SW_BLANK: level */
  const char *long_point;  /* "outer" ... */
} sw_sawn;

/* A row of fit.csv. */
typedef struct sw_place
{
  size_t row;
  bool known;        /* run, level and posts are the job's; else of no use but for row and sawn */
  size_t run;
  size_t level;
  size_t from;       /* posts from 0 */
  size_t to;
  sw_sawn sawn;      /* as it should be, or as the file says */
  size_t cut_row;    /* the first row of cuts.csv that cuts it, or SW_UNKNOWN */
} sw_place;

typedef struct sw_verifier
{
  const sw_job *job;
  sw_verdict *verdict;
  sw_report *report;
  sw_listing order;
  sw_listing cuts;
  sw_listing fit;
  sw_listing setout;
  sw_name_index runs;            /* of the job, by name */
  sw_name_index levels;
  sw_name_index run_numbers;     /* those of digits with zeros in front, by the rest */
  sw_name_index level_numbers;
  size_t through_count;
  size_t *through;          /* indices of the through levels, bottom to top */
  size_t *first_post;       /* by run: its posts' place in ALONG */
  sw_length *along;         /* by post: along the slope from its run's first */
  sw_place *places;         /* by row of fit.csv */
  sw_place **placed;        /* those known, by run, level, from, to */
  size_t placed_count;
  sw_sawn *sawn;            /* by row of cuts.csv, as it should be, or as the file says */
  int64_t *bought;          /* boards by stock row */
  int64_t *from_hand;
} sw_verifier;

/* Add a fault.  ROW of LISTING, SW_UNKNOWN: none; FIELD, -1: none. */
#define SW_VERIFY_FAULT(verifier, listing, row, field, ...)                                                            \
  ((verifier)->verdict->faults++,                                                                                      \
   sw_report_add ((verifier)->report, SW_FAULT, (listing)->file, sw_listing_line ((listing), (row)),                   \
                  sw_listing_column ((listing), (field)), __VA_ARGS__))

/* verify_read.c */
sw_status sw_listings_read (sw_verifier *verifier, const char *dir);
void sw_listing_clear (sw_listing *listing);
size_t sw_listing_line (const sw_listing *listing, size_t row);
const char *sw_listing_column (const sw_listing *listing, int field);
/* Is the length in FIELD written in inches? */
bool sw_listing_inches (const sw_listing *listing, int field);
const char *sw_listing_text (const sw_listing *listing, size_t row, int field);
int64_t sw_listing_number (const sw_listing *listing, size_t row, int field);

/* verify_cell.c: what a cell says, against what it should say. */
/* Room for what the job has, and its names for looking up. */
sw_status sw_verify_index_names (sw_verifier *verifier);
/* The stock row of SECTION (its name) and LENGTH as written, or SW_UNKNOWN. */
size_t sw_verify_stock (const sw_job *job, const char *section, sw_length length);
/* LENGTH as FIELD of LISTING would have it. */
const char *sw_verify_cell (const sw_listing *listing, int field, sw_length length, char out[SW_LENGTH_TEXT]);
/* LENGTH with its unit, for a message. */
const char *sw_verify_show (const sw_verifier *verifier, sw_length length, char out[SW_SHOWN]);
/* Fault unless the length in FIELD is WANTED; a blank one is a fault too. */
void sw_verify_length (sw_verifier *verifier, const sw_listing *listing, size_t row, int field, sw_length wanted);
/* Fault when a piece of LENGTH is longer than the job's max-piece. */
void sw_verify_max_piece (sw_verifier *verifier, const sw_listing *listing, size_t row, int field, sw_length length);
/* Fault unless the text in FIELD is WANTED. */
void sw_verify_text (sw_verifier *verifier, const sw_listing *listing, size_t row, int field, const char *wanted);
/* The same, whatever its letter case: a word of ours. */
void sw_verify_word (sw_verifier *verifier, const sw_listing *listing, size_t row, int field, const char *wanted);
/* What ROW of fit.csv or cuts.csv says of how its piece is sawn. */
void sw_verify_read_sawn (const sw_verifier *verifier, const sw_listing *listing, size_t row, sw_sawn *out);
/* Faults where it does not say SHOULD. */
void sw_verify_sawn (sw_verifier *verifier, const sw_listing *listing, size_t row, const sw_sawn *should);
/* Index of the run or level that FIELD names, or SW_UNKNOWN and a fault. */
size_t sw_verify_run (sw_verifier *verifier, const sw_listing *listing, size_t row, int field);
size_t sw_verify_level (sw_verifier *verifier, const sw_listing *listing, size_t row, int field);
/* Fault where RUN has no LEVEL, which FIELD names. */
bool sw_verify_is_on (sw_verifier *verifier, const sw_listing *listing, size_t row, int field, size_t run,
                      size_t level);
/* The post of RUN, from 0, whose number FIELD is, or SW_UNKNOWN and a fault. */
size_t sw_verify_post (sw_verifier *verifier, const sw_listing *listing, size_t row, int field, size_t run);

/* verify_timber.c: how timber lies on its posts and what it takes of a board. */
/* How END, of spans.csv, is on LEVEL. */
sw_end_kind sw_verify_end (const sw_level *level, const sw_end *end);
/* How deep LEVEL is let into its posts; 0: not at all, or not known. */
sw_length sw_verify_check (const sw_job *job, const sw_level *level);
/* How high its timber stands; 0: not known. */
sw_length sw_verify_tall (const sw_job *job, const sw_level *level);
/* How far its timber ends past the centre of a post of WIDTH, away from its own bay, level measure. */
sw_length sw_verify_reach (const sw_job *job, const sw_level *level, const sw_end *end, sw_length width);
int64_t sw_verify_saw_setting (const sw_end *end);
/* The cell of a piece between the two; an end that is a join has none. */
const char *sw_verify_long_point (const sw_end *start, const sw_end *finish);
/* How steep a plumb cut is, thousandths of a degree. */
int64_t sw_verify_plumb (sw_length span, sw_length rise);
/* What a piece of CUT, on a slope of RISE in SPAN, takes of its board; FINISH may be NULL: no mitre. */
sw_length sw_verify_take (const sw_job *job, const sw_level *level, sw_length cut, sw_length span, sw_length rise,
                          const sw_end *finish);
/* ALONG the slope from the first post, for each post of RUN. */
void sw_verify_measure (const sw_run *run, sw_length *along);
/* POSITION as it is cut: to the nearest, halves up. */
sw_length sw_verify_round (const sw_job *job, sw_length position);
/* How long a piece past posts, from FROM to TO, and one between posts are cut. */
sw_length sw_verify_through (const sw_job *job, const sw_level *level, const sw_run *run, const sw_length *along,
                             size_t from, size_t to);
sw_length sw_verify_between (const sw_job *job, const sw_level *level, const sw_run *run, size_t bay);

/* verify_places.c: every bay of every level once, each piece right in itself. */
sw_status sw_verify_places (sw_verifier *verifier);
/* Does timber end at inner POST of RUN, so that a stretch ends and another begins? */
bool sw_verify_breaks (const sw_run *run, size_t post);

/* verify_joins.c: staggered, and long and short in turn. */
sw_status sw_verify_joins (sw_verifier *verifier);

/* verify_cuts.c: every piece cut once, blocks and extras too. */
sw_status sw_verify_cuts (sw_verifier *verifier);

/* verify_boards.c: boards that the stock offers and that are long enough. */
sw_status sw_verify_boards (sw_verifier *verifier);

/* verify_order.c: the order is the boards, and adds up. */
sw_status sw_verify_order (sw_verifier *verifier);
/* verify_cell.c */
/* Fault unless the number in FIELD of the order's ROW is WANTED (blank: 0); WHY follows it. */
void sw_verify_count (sw_verifier *verifier, size_t row, int field, int64_t wanted, const char *why);
/* The same of money, which may be written with two decimals. */
void sw_verify_money (sw_verifier *verifier, size_t row, int field, sw_money wanted);
/* The same where there is to be none. */
void sw_verify_no_money (sw_verifier *verifier, size_t row, int field);
/* The same of the metres of a line. */
void sw_verify_metres (sw_verifier *verifier, size_t row, sw_length wanted);

/* verify_bought.c: where it matters what is bought where.  LINES: the order's row of each stock row, or SW_UNKNOWN. */
/* Packs, limits, spare lengths, least orders and deliveries; what the timber costs. */
void sw_verify_bought (sw_verifier *verifier, const size_t *lines);

/* verify_fittings.c: fittings are as many as the plan needs. */
sw_status sw_verify_fittings (sw_verifier *verifier);

/* verify_setout.c: distances, marks, housings. */
sw_status sw_verify_setout (sw_verifier *verifier);

#endif
