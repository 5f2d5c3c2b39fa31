/* settings.h - the options of a job
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_SETTINGS_H
#define SW_SETTINGS_H

#include "base/length.h"
#include "base/money.h"
#include "base/report.h"
#include "csv/value.h"

typedef enum sw_measured { SW_MEASURED_CENTRES, SW_MEASURED_CLEAR } sw_measured;
typedef enum sw_stagger { SW_STAGGER_PREFER, SW_STAGGER_REQUIRE, SW_STAGGER_OFF } sw_stagger;
/* Do first pieces of neighbouring levels go long and short in turn? */
typedef enum sw_turn { SW_TURN_KEEP, SW_TURN_OFF } sw_turn;
typedef enum sw_paper { SW_PAPER_A4, SW_PAPER_LETTER } sw_paper;
/* How the printed cut list goes: by the length of what is sawn, or along each run from post to post. */
typedef enum sw_by { SW_BY_LENGTH, SW_BY_RUN } sw_by;
typedef enum sw_csv_style { SW_CSV_COMMA, SW_CSV_SEMICOLON } sw_csv_style;

#define SW_SETTINGS_MAX_STOCK 64
#define SW_SETTINGS_MAX_RAILS 64
#define SW_SETTINGS_KEYS 64 /* there are no more keys */

/* No board is shorter: a stock length under it is a missing unit. */
#define SW_STOCK_SHORTEST (50 * SW_MM)

struct sw_settings
{
  sw_length kerf;           /* 3 mm */
  sw_length end_trim;       /* 0 */
  sw_length post_width;     /* 100 mm */
  sw_length post_depth;     /* across the fence; 0: as each post is wide */
  sw_measured measured;
  int rails;                /* 2 */
  bool rails_given;
  sw_length stock_lengths[SW_SETTINGS_MAX_STOCK];  /* 4.8, 5.4 m */
  size_t stock_length_count;
  bool stock_lengths_given;
  char stock_meant[SW_PHRASE];  /* what a list such as 4,8 is with decimal commas: "4.8"; "": it is none such */
  sw_length keep;           /* 600 mm */
  sw_length min_bearing;    /* 38 mm */
  sw_money join_cost;       /* 0 */
  sw_stagger stagger;
  sw_turn turn;
  sw_length bow;            /* 5 mm */
  sw_length max_piece;      /* 0: no limit */
  sw_length picket;         /* 0: not asked for */
  sw_length round;          /* what is cut is rounded to this; 0: not at all; -1: not given (sw_settings_round) */
  int64_t tax;              /* millionths of the price (10 per cent: 100000); -1: not given */
  char *job;                /* name of the job, or NULL */
  char *date;               /* to be printed on the papers, or NULL */
  char *file;               /* that sw_settings_read read last, or NULL */
  bool inches;
  sw_paper paper;
  int64_t time_limit;       /* milliseconds; -1: none */
  sw_csv_style csv_style;   /* of the tables that are written */
  sw_by by;
  sw_report *warnings;      /* of the files that were read, or NULL */
  uint64_t bare;            /* one bit a key whose length was written without a unit, and is not 0 */
  uint64_t given;           /* one bit a key that the caller has set */
  size_t lines[SW_SETTINGS_KEYS]; /* of FILE, a key each: its value stands there and counts; 0: it does not */
};

/* What is cut is rounded to this: as given, else 1 mm, or 1/16 in with --inches; 0: not at all. */
sw_length sw_settings_round (const sw_settings *settings);

/* A deep copy; NULL when memory runs out. */
sw_settings *sw_settings_copy (const sw_settings *settings);

/* The name of setting INDEX, from 0; NULL past the last. */
const char *sw_settings_key (size_t index);

/* settings_write.c */
/* A table of key and value, a row each setting that is not at its default,
 * which sw_settings_read reads back to the same settings.  Lengths have their
 * units: inches where the settings say so and the length is whole 64ths. */
sw_status sw_settings_table (const sw_settings *settings, sw_table **out);
/* The same with those that are at their defaults, to be looked at; only what
 * was not given and stands for nothing is left out. */
sw_status sw_settings_all (const sw_settings *settings, sw_table **out);
/* Do A and B say the same?  Who has set what, and in which file, does not matter. */
bool sw_settings_same (const sw_settings *a, const sw_settings *b);

/* The line of settings->file on which the value of KEY stands; 0: it comes
 * from the caller, or is the default. */
size_t sw_settings_line (const sw_settings *settings, const char *key);

/* Has the caller or a settings file set KEY? */
bool sw_settings_is_set (const sw_settings *settings, const char *key);

/* A remark on the setting KEY, which is its column: with file and line where
 * the value stands in the settings file, else with neither. */
void sw_settings_remark (const sw_settings *settings, sw_report *report, sw_severity severity, const char *key,
                         const char *format, ...) SW_PRINTF (5, 6);

/* Warn of values that are taken for something else than was perhaps meant.
 * SW_REJECTED: stock lengths that look the same in inches. */
sw_status sw_settings_check (const sw_settings *settings, sw_report *report);

/* What a note says of bare numbers where inches are asked for. */
#define SW_SETTINGS_BARE \
  "with inches asked for a bare number stays millimetres, or metres in a stock length up to 30; inches are written " \
  "94in, feet 8ft"
/* That note, of the first setting that was written without a unit.  False: there is none. */
bool sw_settings_note_bare (const sw_settings *settings, sw_report *report);

/* MEANT: the list of stock lengths TEXT read with decimal commas, "4.8" for
 * "4,8", where that can be, and else "". */
void sw_settings_meant (const char *text, char meant[SW_PHRASE]);

/* A list of stock lengths such as "4.8,5.4", sorted, each once; no two look the same in millimetres.  SW_REJECTED:
 * EXPECTED says what was expected (value.h). */
sw_status sw_settings_lengths (const char *text, bool comma, sw_length lengths[SW_SETTINGS_MAX_STOCK], size_t *count,
                               char expected[SW_PHRASE]);

#endif
