/* settings.h - the options of a job
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_SETTINGS_H
#define SW_SETTINGS_H

#include "base/decimal.h"
#include "base/length.h"
#include "base/money.h"
#include "base/report.h"
#include "csv/value.h"

typedef enum sw_measured { SW_MEASURED_CENTRES, SW_MEASURED_CLEAR } sw_measured;
typedef enum sw_stagger { SW_STAGGER_PREFER, SW_STAGGER_REQUIRE, SW_STAGGER_OFF } sw_stagger;
/* Do the first pieces of neighbouring levels go long and short in turn? */
typedef enum sw_turn { SW_TURN_KEEP, SW_TURN_OFF } sw_turn;
typedef enum sw_paper { SW_PAPER_A4, SW_PAPER_LETTER } sw_paper;
/* The order of the printed cut list: by the length that is sawn, or along each run from post to post. */
typedef enum sw_by { SW_BY_LENGTH, SW_BY_RUN } sw_by;
typedef enum sw_csv_style { SW_CSV_COMMA, SW_CSV_SEMICOLON } sw_csv_style;

#define SW_SETTINGS_MAX_STOCK 64
#define SW_SETTINGS_MAX_RAILS 64
#define SW_SETTINGS_KEYS 64 /* at least the number of keys */

/* Every board is longer: a stock length below this lacks its unit. */
#define SW_STOCK_SHORTEST (50 * SW_MM)

struct sw_settings
{
  sw_length kerf;           /* default: 3 mm */
  sw_length end_trim;       /* default: 0 */
  sw_length post_width;     /* default: 100 mm */
  sw_length post_depth;     /* across the fence; 0: each post is as deep as it is wide */
  sw_measured measured;
  int rails;                /* default: 2 */
  bool rails_given;
  sw_length stock_lengths[SW_SETTINGS_MAX_STOCK];  /* default: 4.8 and 5.4 m */
  size_t stock_length_count;
  bool stock_lengths_given;
  char stock_meant[SW_PHRASE];  /* what a list such as 4,8 is with decimal commas: "4.8"; "": it is none such */
  sw_length keep;           /* 600 mm */
  sw_length min_bearing;    /* 38 mm */
  sw_money join_cost;       /* 0 */
  sw_length min_bay;        /* 1200 mm, centre to centre; of the bays that `posts` makes */
  sw_length max_bay;        /* 2400 mm */
  sw_money post_cost;       /* 0: what a post costs, concrete and labour included */
  sw_stagger stagger;
  sw_turn turn;
  sw_length bow;            /* default: 5 mm */
  sw_length max_piece;      /* 0: no limit */
  sw_length picket;         /* 0: no picket */
  sw_length round;          /* cuts are rounded to this; 0: they are not; -1: not given (sw_settings_round) */
  int64_t tax;              /* millionths of the price (10 per cent: 100000); -1: not given */
  char *job;                /* name of the job, or NULL */
  char *date;               /* printed on the papers, or NULL */
  char *file;               /* the file that sw_settings_read read last, or NULL */
  bool inches;
  sw_paper paper;
  int64_t time_limit;       /* milliseconds; -1: no limit */
  sw_csv_style csv_style;   /* of the tables that are written */
  sw_by by;
  int64_t revision;         /* 0: a first plan; 1: the plan that goes on from it ... */
  sw_report *warnings;      /* of the settings files, or NULL */
  uint64_t bare;            /* a bit for each key whose length is not 0 and was written without a unit */
  uint64_t given;           /* a bit for each key that the caller has set */
  size_t lines[SW_SETTINGS_KEYS]; /* for each key, the line of FILE that sets its value; 0: none does */
};

/* What cuts are rounded to: the value given, else 1 mm, or 1/16 in with --inches.  0: they are not rounded. */
sw_length sw_settings_round (const sw_settings *settings);

/* A deep copy; NULL when memory runs out. */
sw_settings *sw_settings_copy (const sw_settings *settings);

/* The name of setting INDEX, from 0; NULL past the last. */
const char *sw_settings_key (size_t index);

/* settings_write.c */
/* Write the settings as a table of key and value, with a row for each setting that is not at its
 * default.  sw_settings_read reads the table back to the same settings.  Lengths have their units:
 * inches if the settings ask for inches and the length is a whole number of 64ths. */
sw_status sw_settings_table (const sw_settings *settings, sw_table **out);
/* Write a table as above that also has the settings at their defaults, for a reader who wants to
 * see them all.  A setting that was not given and has no value is left out. */
sw_status sw_settings_all (const sw_settings *settings, sw_table **out);
/* Write LENGTH exactly and with its unit, so that no spreadsheet takes it for a date and no reader has to guess. */
void sw_settings_format_length (const sw_settings *settings, sw_length length, char out[SW_DECIMAL_TEXT]);
/* Do A and B have the same values?  It does not matter who set them, or in which file. */
bool sw_settings_same (const sw_settings *a, const sw_settings *b);

/* The line of settings->file that sets KEY.  0: the value comes from the caller, or is the default. */
size_t sw_settings_line (const sw_settings *settings, const char *key);

/* Has the caller or a settings file set KEY? */
bool sw_settings_is_set (const sw_settings *settings, const char *key);

/* Add a remark on the setting KEY, which becomes its column.  File and line are those of the
 * settings file if the value stands there; otherwise there are none. */
void sw_settings_remark (const sw_settings *settings, sw_report *report, sw_severity severity, const char *key,
                         const char *format, ...) SW_PRINTF (5, 6);

/* Warn of values that were perhaps not meant as they are read.  SW_REJECTED: two stock lengths look
 * the same in inches. */
sw_status sw_settings_check (const sw_settings *settings, sw_report *report);

/* The note on bare numbers in a job that is printed in inches. */
#define SW_SETTINGS_BARE \
  "with inches asked for a bare number stays millimetres, or metres in a stock length up to 30; inches are written " \
  "94in, feet 8ft"
/* Give that note for the first setting that was written without a unit.  False: there is none. */
bool sw_settings_note_bare (const sw_settings *settings, sw_report *report);

/* Read TEXT, a list of stock lengths, with decimal commas: MEANT is "4.8" for "4,8".  "": it cannot be read so. */
void sw_settings_meant (const char *text, char meant[SW_PHRASE]);

/* Read a list of stock lengths such as "4.8,5.4".  They come out sorted.  SW_REJECTED: EXPECTED
 * says what was expected (value.h); no length may occur twice or look like another in millimetres. */
sw_status sw_settings_lengths (const char *text, bool comma, sw_length lengths[SW_SETTINGS_MAX_STOCK], size_t *count,
                               char expected[SW_PHRASE]);

#endif
