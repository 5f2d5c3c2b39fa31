/* verify.h - checks a plan's files against its job
 *
 * This room shares no rule with the rooms that plan (layout to plan).  The
 * rules are written down here a second time, so that a mistake of the planner
 * shows.  Lengths are in nanometres, angles in thousandths of a degree.
 * Functions that return sw_status return SW_OK or SW_NO_MEMORY; faults of the
 * plan are added to the report and counted in the verdict.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_VERIFY_H
#define SW_VERIFY_H

#include "base/name_index.h"
#include "base/text.h"
#include "csv/columns.h"
#include "csv/value.h"
#include "job/job.h"

/* SW_UNKNOWN stands for an index that does not exist, SW_BLANK for a blank count, post or length. */
#define SW_UNKNOWN SIZE_MAX
#define SW_BLANK INT64_MIN

/* What a length in a file may differ by: the files carry one decimal of a millimetre, rounded half
 * away from zero, and a sum along a slope may be rounded by a nanometre a bay. */
#define SW_VERIFY_ROUNDING (SW_MM / 1000)
#define SW_VERIFY_TOLERANCE (SW_MM / 20 + SW_VERIFY_ROUNDING)

typedef enum sw_cell_kind
{
  SW_CELL_TEXT,
  SW_CELL_COUNT,     /* a whole number, 0 or more */
  SW_CELL_LENGTH,    /* in a column whose name ends in _mm or _in; nanometres */
  SW_CELL_METRES,    /* metres, read as nanometres */
  SW_CELL_MONEY,
  SW_CELL_SAW,       /* "square" or degrees; read as thousandths of a degree */
  SW_CELL_PLUMB,     /* degrees, blank where level; read as thousandths of a degree */
  SW_CELL_ASIDE      /* text in a column that may be missing */
} sw_cell_kind;

typedef struct sw_listing_field
{
  sw_cell_kind kind;
  bool may_be_blank;
} sw_listing_field;

#define SW_LISTING_MAX_FIELDS 20

/* A file of the plan, with its cells read. */
typedef struct sw_listing
{
  sw_table *table;                      /* NULL: there is no such file */
  char *file;                           /* its path */
  const char *const *names;             /* the names of its columns (columns.h) */
  const sw_listing_field *fields;
  size_t field_count;
  int columns[SW_LISTING_MAX_FIELDS];   /* by field: the column of the table; -1: none */
  size_t rows;
  int64_t *numbers;                     /* rows * field_count */
} sw_listing;

/* How a piece is sawn. */
typedef struct sw_sawn
{
  sw_length cut;
  sw_length take;          /* what it takes of its board without an ordinary kerf */
  int64_t start_saw;       /* thousandths of a degree */
  int64_t finish_saw;
  int64_t plumb;           /* thousandths of a degree; 0 or SW_BLANK: level */
  const char *long_point;  /* "outer" ...; "" where nothing is mitred */
} sw_sawn;

/* A row of fit.csv: a piece in its place. */
typedef struct sw_place
{
  size_t row;
  bool known;        /* the job has this run, level and posts; else only ROW, SAWN and CUT_ROW count */
  size_t run;
  size_t level;
  size_t from;       /* post, from 0 */
  size_t to;
  sw_sawn sawn;      /* as it should be if KNOWN, else as the file has it */
  const sw_placed *fixed; /* it is in its place already; else NULL */
  size_t cut_row;    /* the first row of cuts.csv that cuts the piece, or SW_UNKNOWN */
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
  sw_name_index runs;            /* the job's runs by name */
  sw_name_index levels;
  sw_name_index run_numbers;     /* runs whose names are digits with zeros in front, by name without the zeros */
  sw_name_index level_numbers;
  size_t through_count;
  size_t *through;          /* indices of the through levels, bottom to top */
  size_t *first_post;       /* by run: where its posts begin in ALONG */
  sw_length *along;         /* by post: its distance from the run's first post along the slope */
  sw_place *places;         /* by row of fit.csv */
  sw_place **placed;        /* the known places, sorted by run, level, from, to */
  size_t placed_count;
  sw_sawn *sawn;            /* by row of cuts.csv: as it should be, or else as the file has it */
  int64_t *bought;          /* number of boards, by stock */
  int64_t *from_hand;
  size_t *timber_row;       /* by timber on hand: the row of cuts.csv that cuts it up, or SW_UNKNOWN */
} sw_verifier;

/* Add a fault.  ROW of LISTING may be SW_UNKNOWN, and FIELD -1: none. */
#define SW_VERIFY_FAULT(verifier, listing, row, field, ...)                                                            \
  ((verifier)->verdict->faults++,                                                                                      \
   sw_report_add ((verifier)->report, SW_FAULT, (listing)->file, sw_listing_line ((listing), (row)),                   \
                  sw_listing_column ((listing), (field)), __VA_ARGS__))

/* verify_read.c: the plan's files as numbers. */
sw_status sw_listings_read (sw_verifier *verifier, const char *dir);
void sw_listing_clear (sw_listing *listing);
size_t sw_listing_line (const sw_listing *listing, size_t row);
const char *sw_listing_column (const sw_listing *listing, int field);
/* Is the length in FIELD written in inches? */
bool sw_listing_inches (const sw_listing *listing, int field);
const char *sw_listing_text (const sw_listing *listing, size_t row, int field);
int64_t sw_listing_number (const sw_listing *listing, size_t row, int field);

/* verify_cell.c: compares what a cell says with what it should say. */
/* Make room for what is counted by level and stock, and index the names of runs and levels. */
sw_status sw_verify_index_names (sw_verifier *verifier);
/* The stock of the section called SECTION whose length is LENGTH to within the rounding of a file,
 * or SW_UNKNOWN.  O(log stocks). */
size_t sw_verify_stock (const sw_job *job, const char *section, sw_length length);
/* LENGTH as it would stand in FIELD of LISTING. */
const char *sw_verify_cell (const sw_listing *listing, int field, sw_length length, char out[SW_LENGTH_TEXT]);
/* LENGTH with its unit, for a message. */
const char *sw_verify_show (const sw_verifier *verifier, sw_length length, char out[SW_SHOWN]);
/* Add a fault unless the length in FIELD is WANTED.  A blank cell is a fault, too. */
void sw_verify_length (sw_verifier *verifier, const sw_listing *listing, size_t row, int field, sw_length wanted);
/* Add a fault if a piece of LENGTH is longer than the job's max-piece. */
void sw_verify_max_piece (sw_verifier *verifier, const sw_listing *listing, size_t row, int field, sw_length length);
/* Add a fault unless the text in FIELD is WANTED. */
void sw_verify_text (sw_verifier *verifier, const sw_listing *listing, size_t row, int field, const char *wanted);
/* Add a fault unless FIELD holds the word WANTED of the program; letter case does not matter. */
void sw_verify_word (sw_verifier *verifier, const sw_listing *listing, size_t row, int field, const char *wanted);
/* Read how ROW of fit.csv or cuts.csv says that its piece is sawn. */
void sw_verify_read_sawn (const sw_verifier *verifier, const sw_listing *listing, size_t row, sw_sawn *out);
/* Add faults where ROW of fit.csv or cuts.csv does not say what SHOULD says. */
void sw_verify_sawn (sw_verifier *verifier, const sw_listing *listing, size_t row, const sw_sawn *should);
/* The index of the run (level) that FIELD names.  SW_UNKNOWN and a fault: the job has no such name. */
size_t sw_verify_run (sw_verifier *verifier, const sw_listing *listing, size_t row, int field);
size_t sw_verify_level (sw_verifier *verifier, const sw_listing *listing, size_t row, int field);
/* Does RUN have LEVEL, which FIELD names?  False after a fault. */
bool sw_verify_is_on (sw_verifier *verifier, const sw_listing *listing, size_t row, int field, size_t run,
                      size_t level);
/* The post of RUN, from 0, whose number stands in FIELD.  SW_UNKNOWN and a fault: the run has no such post. */
size_t sw_verify_post (sw_verifier *verifier, const sw_listing *listing, size_t row, int field, size_t run);

/* verify_timber.c: how timber lies on its posts, and what it takes of a board. */
/* How timber of LEVEL ends at END, which is from spans.csv. */
sw_end_kind sw_verify_end (const sw_level *level, const sw_end *end);
/* How deep LEVEL is let into its posts.  0: it is not let in, or the depth is not known. */
sw_length sw_verify_check (const sw_job *job, const sw_level *level);
/* How high LEVEL's timber stands.  0: not known. */
sw_length sw_verify_tall (const sw_job *job, const sw_level *level);
/* How far LEVEL's timber reaches past the centre of a post of WIDTH at END, away from its own bay; level measure. */
sw_length sw_verify_reach (const sw_job *job, const sw_level *level, const sw_end *end, sw_length width);
int64_t sw_verify_saw_setting (const sw_end *end);
/* The cell long_point of a piece with the ends START and FINISH.  An end that is a join has no long point. */
const char *sw_verify_long_point (const sw_end *start, const sw_end *finish);
/* The angle of a plumb cut, off square.  0: the timber is level. */
int64_t sw_verify_plumb (sw_length span, sw_length rise);
/* What a piece of LEVEL with the length CUT takes of its board.  It rises by RISE in SPAN.  FINISH
 * is NULL where it cannot be a mitre. */
sw_length sw_verify_take (const sw_job *job, const sw_level *level, sw_length cut, sw_length span, sw_length rise,
                          const sw_end *finish);
/* Write the distance of each post of RUN from its first post along the slope.  ALONG has room for all posts. */
void sw_verify_measure (const sw_run *run, sw_length *along);
/* POSITION along a level rounded to what is cut, halves up. */
sw_length sw_verify_round (const sw_job *job, sw_length position);
/* The cut length of a piece that runs past posts, FROM to TO, and of one between posts. */
sw_length sw_verify_through (const sw_job *job, const sw_level *level, const sw_run *run, const sw_length *along,
                             size_t from, size_t to);
sw_length sw_verify_between (const sw_job *job, const sw_level *level, const sw_run *run, size_t bay);

/* verify_places.c: every bay of every level has one piece, and each piece is right. */
sw_status sw_verify_places (sw_verifier *verifier);
/* Does timber end at inner POST of RUN, so that one stretch ends and the next begins? */
bool sw_verify_breaks (const sw_run *run, size_t post);

/* verify_site.c: what is in its place and on hand. */
sw_status sw_verify_site_prepare (sw_verifier *verifier);
/* The fixed piece from post FROM to TO, or NULL. */
const sw_placed *sw_verify_fixed (const sw_verifier *verifier, size_t run, size_t level, size_t from, size_t to);
/* Does a fixed piece of LEVEL begin or end at POST of RUN? */
bool sw_verify_stays_joined (const sw_verifier *verifier, size_t run, size_t level, size_t post);
/* Is any piece of LEVEL between the posts FIRST and LAST of RUN fixed? */
bool sw_verify_any_fixed (const sw_verifier *verifier, size_t run, size_t level, size_t first, size_t last);
int64_t sw_verify_blocks_fixed (const sw_verifier *verifier, size_t run, size_t level);
int64_t sw_verify_extras_fixed (const sw_verifier *verifier, size_t extra);
/* Faults for fixed pieces that fit.csv does not have. */
void sw_verify_all_fixed (sw_verifier *verifier);
/* The timber on hand that the board of ROW of cuts.csv is; SW_UNKNOWN: a whole board, or a fault. */
size_t sw_verify_timber (sw_verifier *verifier, size_t row);

/* Is the piece of ROW what the timber of its board is as it is, both ends sawn as they are? */
bool sw_verify_as_it_is (const sw_verifier *verifier, size_t row);

/* verify_joins.c: joins are staggered, and first pieces are long and short in turn. */
sw_status sw_verify_joins (sw_verifier *verifier);

/* verify_cuts.c: every piece is cut once, blocks and extras, too. */
sw_status sw_verify_cuts (sw_verifier *verifier);

/* verify_boards.c: the stock offers the boards, and they are long enough. */
sw_status sw_verify_boards (sw_verifier *verifier);

/* verify_order.c: the order has the boards of the cut list, and adds up. */
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

/* verify_setout.c: distances, marks and housings. */
sw_status sw_verify_setout (sw_verifier *verifier);

#endif
