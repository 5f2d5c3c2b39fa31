/* spanwright.h - plan the timber of a post-and-rail fence
 *
 * The one installed header of libspanwright.
 *
 * Copyright (C) 2026 The spanwright authors
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The usual order of calls:
 *
 *     sw_report *report = sw_report_new ();
 *     sw_settings *settings = sw_settings_new ();
 *     sw_settings_set (settings, "kerf", "3", report);
 *     sw_sources sources = { .spans = "spans.csv", .stock = "stock.csv" };
 *     sw_job_read (&job, &sources, settings, report);
 *     sw_plan_make (&plan, job, NULL, report);
 *     sw_plan_table (plan, SW_TABLE_ORDER, &table);
 *
 * The library never prints, exits, or touches signals, and keeps no global
 * state of its own: different threads may work on different objects at the
 * same time.  Every function that can fail returns an sw_status, and the
 * sw_report says what went wrong.  Results come back through a pointer, and
 * the caller owns them; each _free function accepts NULL.
 */
#ifndef SPANWRIGHT_H
#define SPANWRIGHT_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#ifdef __cplusplus
extern "C" {
#endif

#if defined __GNUC__ && __GNUC__ >= 4
# define SW_API __attribute__ ((visibility ("default")))
# define SW_PRINTF(f, a) __attribute__ ((format (printf, f, a)))
#else
# define SW_API
# define SW_PRINTF(f, a)
#endif

/* A length in nanometres: whole millimetres and 1/64 inch are both exact. */
typedef int64_t sw_length;
#define SW_MM ((sw_length) 1000000)
#define SW_METRE ((sw_length) 1000000000)
#define SW_INCH ((sw_length) 25400000)

/* Money in millionths of the currency's unit. */
typedef int64_t sw_money;
#define SW_MONEY_UNIT ((sw_money) 1000000)

typedef enum sw_status
{
  SW_OK = 0,       /* done; the report may hold warnings */
  SW_REJECTED,     /* the input was refused, or verify found a fault */
  SW_USAGE,        /* the caller asked for something that makes no sense */
  SW_NO_PLAN,      /* the input is sound, but no plan keeps every rule */
  SW_STOPPED,      /* a limit or the callback stopped it before there was anything usable */
  SW_NO_MEMORY,    /* memory ran out */
  SW_IO,           /* a file could not be read or written */
  SW_FAILED,       /* a failure of the library: a defect, please report it */
  SW_ABSENT        /* the library was built without this part (sheet, workbook) */
} sw_status;

/* A short sentence for STATUS, never NULL. */
SW_API const char *sw_status_text (sw_status status);

/* The version of the running library, such as "1.2.3". */
SW_API const char *sw_version (void);

/* ---- Report: what is wrong, and where ---------------------------------- */

typedef enum sw_severity
{
  SW_NOTE,      /* good to know */
  SW_WARNING,   /* the plan is valid, but somebody should look at this */
  SW_FAULT      /* the reason why something was refused */
} sw_severity;

/* One remark.  The strings belong to the report. */
typedef struct sw_remark
{
  sw_severity severity;
  const char *file;     /* name of the file as the caller gave it, or NULL */
  size_t line;          /* from 1; 0: no line */
  const char *column;   /* name of the column, or key of a setting; or NULL */
  const char *message;  /* one sentence, no line break, control characters escaped */
} sw_remark;

typedef struct sw_report sw_report;

/* An empty report.  NULL when memory runs out. */
SW_API sw_report *sw_report_new (void);
SW_API void sw_report_free (sw_report *report);
SW_API size_t sw_report_count (const sw_report *report);
/* The number of remarks of this severity. */
SW_API size_t sw_report_count_of (const sw_report *report, sw_severity severity);
/* Remark INDEX, from 0.  NULL past the end.  It is valid until the report changes. */
SW_API const sw_remark *sw_report_get (const sw_report *report, size_t index);
SW_API void sw_report_clear (sw_report *report);

/* ---- Settings ---------------------------------------------------------- */

typedef struct sw_settings sw_settings;

/* Settings at their defaults.  NULL when memory runs out. */
SW_API sw_settings *sw_settings_new (void);
SW_API void sw_settings_free (sw_settings *settings);

/* Set KEY to VALUE, which is written as a user would write it.  The keys are those of spanwright(1)
 * without dashes in front: "kerf", "stock-length", ...
 *
 * - SW_USAGE: there is no such key.
 * - SW_REJECTED: VALUE is not acceptable, and REPORT says what was expected. */
SW_API sw_status sw_settings_set (sw_settings *settings, const char *key, const char *value, sw_report *report);

/* Read a `key,value` CSV file.  A key that sw_settings_set has set keeps its value.  Either all
 * rows are applied or none. */
SW_API sw_status sw_settings_read (sw_settings *settings, const char *file, sw_report *report);

/* ---- Job --------------------------------------------------------------- */

/* Names of the input files.  NULL: there is no such file.  A job needs spans or extras. */
typedef struct sw_sources
{
  const char *spans;
  const char *levels;
  const char *stock;
  const char *sections;
  const char *extras;
  const char *yards;
  const char *fittings;
  /* How far the job had come, as a plan's folder keeps it (sw_replan_make); ""
   * stands for neither, also where a folder has it. */
  const char *on_hand;
  const char *in_place;
} sw_sources;

typedef struct sw_job sw_job;

/* Read the files of SOURCES and check them together.  The job keeps a copy of SETTINGS.
 *
 * - SW_REJECTED: REPORT says what is wrong, with up to 20 faults of each file. */
SW_API sw_status sw_job_read (sw_job **out, const sw_sources *sources, const sw_settings *settings, sw_report *report);
SW_API void sw_job_free (sw_job *job);

/* ---- A job's folder ----------------------------------------------------- */

/* Read the job in the folder DIR.  Its files are called spans.csv, levels.csv, stock.csv,
 * sections.csv, extras.csv, yards.csv, fittings.csv and settings.csv; not all need be there.
 *
 * GIVEN (NULL: none) names files that replace those of the folder.  A file of GIVEN also replaces a
 * setting of settings.csv that says the same otherwise: stock replaces stock-length, and levels
 * replaces rails.  If SETTINGS have been read from a file, settings.csv is not read.  What
 * sw_settings_set has set takes precedence over settings.csv.  SETTINGS do not change; the job
 * keeps its own.
 *
 * - SW_REJECTED: as in sw_job_read; or the folder has none of these files; or it has neither
 *   spans.csv nor extras.csv; or it has a file under another name (Levels.CSV, levels.xlsx).
 * - SW_IO: DIR or a file cannot be read.
 *
 * Time: that of sw_job_read, and O(names in DIR). */
SW_API sw_status sw_job_read_folder (sw_job **out, const char *dir, const sw_sources *given,
                                     const sw_settings *settings, sw_report *report);

/* Read the job that the folder DIR of a plan keeps in DIR/job, where sw_plan_write has put it.  It
 * is read as by sw_job_read_folder.  A note says which files were taken from there.  Warnings say
 * which of them were edited, removed or added since the plan was made.  If DIR/job holds nothing of
 * a job, the job is read from GIVEN.
 *
 * - SW_USAGE: it has to be read from GIVEN, which names neither spans nor extras. */
SW_API sw_status sw_job_read_kept (sw_job **out, const char *dir, const sw_sources *given,
                                   const sw_settings *settings, sw_report *report);

/* Write a small job to begin with into the folder DIR.  The folder is made when it does not exist;
 * its parents are not.  spans.csv, levels.csv, stock.csv, sections.csv and settings.csv can be
 * planned as they are; README.txt explains every column in a line.  Of SETTINGS (NULL: the
 * defaults) only inches and csv-style matter.
 *
 * - SW_REJECTED: the folder has README.txt or a file with the name of one of a job's files.
 *   Nothing was written.
 * - SW_IO: DIR cannot be made or written to.  Nothing was written. */
SW_API sw_status sw_start_write (const char *dir, const sw_settings *settings, sw_report *report);

/* ---- Plan -------------------------------------------------------------- */

/* What the solver looks for, one after the other.  What it has found before never gets worse. */
typedef enum sw_seeking
{
  SW_SEEKING_COST,    /* a plan that costs less, or a first one */
  SW_SEEKING_JOINS,   /* fewer joins */
  SW_SEEKING_BOARDS,  /* fewer boards */
  SW_SEEKING_OFFCUTS  /* longer pieces of what is left */
} sw_seeking;

/* What the solver tells the callback while it works. */
typedef struct sw_progress
{
  double seconds;       /* since sw_plan_make began, by a monotonic clock */
  double seconds_left;  /* until the time limit; negative: there is no limit */
  bool has_plan;        /* cost is valid */
  double cost;          /* of the best plan so far: in units of money, or in metres where no price is over 0 */
  double bound;         /* no plan can cost less; in the same unit */
  sw_seeking seeking;   /* sections that are planned apart begin with SW_SEEKING_COST each */
} sw_progress;

/* The solver calls this now and then, from the thread that called sw_plan_make.  The callback must
 * not call sw_plan_make itself.  BOUND never falls and COST never rises.  Return false to stop with
 * the best plan so far. */
typedef bool (*sw_progress_fn) (const sw_progress *progress, void *data);

typedef struct sw_limits
{
  sw_progress_fn progress;  /* NULL: there is no callback */
  void *data;               /* handed to progress */
  bool hard_way;            /* for debugging: the solver skips every easy exit */
} sw_limits;

typedef struct sw_plan sw_plan;

/* Find the cheapest plan and prove how good it is.  LIMITS may be NULL.  The time limit is the
 * job's setting.  JOB must outlive the plan.
 *
 * - SW_OK: *OUT is a plan that keeps every rule, checked in integers.
 * - SW_NO_PLAN: there is no plan; REPORT says why.
 * - SW_STOPPED: no plan was found in the time. */
SW_API sw_status sw_plan_make (sw_plan **out, const sw_job *job, const sw_limits *limits, sw_report *report);
SW_API void sw_plan_free (sw_plan *plan);

typedef enum sw_outcome
{
  SW_PROVED,      /* no plan can be cheaper */
  SW_WITHIN_GAP,  /* a plan and a bound; the solver gave up before a proof */
  SW_TIMED_OUT,   /* a plan and a bound; the time limit was reached */
  SW_INTERRUPTED  /* a plan and a bound; the callback said stop */
} sw_outcome;

/* Figures of a plan. */
typedef struct sw_summary
{
  sw_outcome outcome;
  bool priced;          /* cost and bound are money; else bought lengths */
  int64_t cost;         /* sw_money or sw_length: bought timber and joins.  If every price is 0, so are cost and
                           bound, and the solver looks for a plan that buys little. */
  int64_t bound;        /* no plan with as few aligned joins costs less */
  int64_t aligned;      /* pairs of joins that line up, without those at posts that are always joined */
  int64_t aligned_bound;/* no plan has fewer aligned joins */
  int64_t joins;
  int64_t boards;       /* those bought and those from hand */
  sw_length bought;     /* boards from the yard, without spare ones */
  sw_length from_hand;
  sw_length used;       /* length of the pieces */
  sw_length kept;       /* length of the offcuts that are long enough to keep */
  int64_t always;       /* pairs of joins at posts that are always joined; no plan has fewer */
} sw_summary;

SW_API void sw_plan_summary (const sw_plan *plan, sw_summary *out);

/* ---- Tables and text ---------------------------------------------------- */

typedef struct sw_table sw_table;

typedef enum sw_table_kind
{
  SW_TABLE_ORDER,   /* a row is a line for the yard */
  SW_TABLE_CUTS,    /* a row is a piece cut from a board */
  SW_TABLE_FIT,     /* a row is a piece in its place */
  SW_TABLE_SETOUT   /* a row is a post at a level */
} sw_table_kind;

/* Make one of the plan's tables.  The columns are those of spanwright-csv(5). */
SW_API sw_status sw_plan_table (const sw_plan *plan, sw_table_kind kind, sw_table **out);
SW_API void sw_table_free (sw_table *table);
SW_API size_t sw_table_columns (const sw_table *table);
SW_API size_t sw_table_rows (const sw_table *table);
/* A cell of the header.  NULL past the end. */
SW_API const char *sw_table_header (const sw_table *table, size_t column);
/* The text of a cell, "" if it is blank.  NULL past the end. */
SW_API const char *sw_table_cell (const sw_table *table, size_t row, size_t column);
/* Write the table as CSV (RFC 4180, CRLF, formula-like text defused).  The caller frees the string
 * with sw_text_free.  If the job's setting csv-style is "semicolon", it has a byte order mark,
 * semicolons and decimal commas. */
SW_API sw_status sw_table_csv (const sw_table *table, char **out);

/* Parts of the printed plan, which can be or-ed. */
enum
{
  SW_TEXT_ORDER = 1,     /* the order, the waste, the joins */
  SW_TEXT_CUTS = 2,      /* what comes from each board */
  SW_TEXT_FIT = 4,       /* where each piece goes */
  SW_TEXT_SETOUT = 8,    /* running dimensions, marks, housings */
  SW_TEXT_PROOF = 16,    /* how good the plan is, in one sentence */
  SW_TEXT_CARE = 32,     /* weight, ends to seal and cautions, in three lines */
  SW_TEXT_ALL = 63,
  SW_TEXT_MESSAGE = 64,  /* order.txt: the order to paste into a message, with warnings about it and cautions */
  SW_TEXT_AGAIN = 128    /* the order's lines once more and shorter, for the end of a long text */
};

/* Write PARTS of the plan as text, no wider than WIDTH columns (0: 80) if possible.  The text is
 * UTF-8, and its lines end in LF.  Free it with sw_text_free. */
SW_API sw_status sw_plan_text (const sw_plan *plan, unsigned parts, unsigned width, char **out);
SW_API void sw_text_free (char *text);

/* A folder while the files of a plan are written to it. */
typedef struct sw_papers sw_papers;

/* Open DIR, and keep other writers out until sw_papers_free, if the file system has locks.  The
 * folder is made when it does not exist; its parents are not.  sw_papers_free removes a folder that
 * was made here and is still empty.
 *
 * - SW_IO: DIR cannot be made or opened, or another sw_papers, of this program or another, has it
 *   open; REPORT says which.
 * - SW_USAGE: DIR is a file. */
SW_API sw_status sw_papers_open (sw_papers **out, const char *dir, sw_report *report);
SW_API void sw_papers_free (sw_papers *papers);

/* Write order.csv, cuts.csv, fit.csv, setout.csv and order.txt.  Each file is written under a
 * temporary name and renamed, so that an older file is either replaced as a whole or left as it
 * was.  The new file gets the older one's mode.  An older page.html, plan.xlsx, sheet.pdf and
 * sheet-1.svg, sheet-2.svg ... are removed, so that none of another plan lies beside the new tables.
 *
 * Its folder job/ keeps the job: its files byte for byte as they were read, a settings.csv with the
 * settings that are not at their defaults, and a kept.csv with the size and checksum of each file.
 * By kept.csv the next plan and sw_job_read_kept see what was edited.  Files that an older plan
 * kept there are replaced, or removed if this job has no such file.
 *
 * - SW_USAGE: an input would be replaced, or a file in job/ that no plan has put there or that was
 *   edited since.  Nothing was written. */
SW_API sw_status sw_papers_plan (sw_papers *papers, const sw_plan *plan, sw_report *report);

/* Write page.html: one file for a telephone at the saw, or for a table of boards on a laptop.  It
 * draws boards and runs, has each board and piece to tick, shows the next cut, and gives back what
 * went wrong as site.csv.  It asks for no other file and no net.  It is written as by
 * sw_papers_plan.  A plan of more than 20,000 pieces gets none, and a warning says so.
 * O(pieces + posts * levels). */
SW_API sw_status sw_papers_page (sw_papers *papers, const sw_plan *plan, sw_report *report);

/* Called once for each page of the sheet before it is counted, and once before it is drawn, or once
 * for every thousand rows of the workbook.  Return false to stop. */
typedef bool (*sw_page_fn) (void *data);

/* Draw the sheet to carry on site: the order, each run in elevation with its setting out, and each
 * board with its cuts.  It is sheet.pdf, on the paper that the settings name; with SVG there is also
 * one file for each page, sheet-1.svg, sheet-2.svg ...  Each of the three parts has at most 500
 * pages.  If some are left out, the part's last page and a warning say so.  PAGE may be NULL; DATA
 * is handed to it.  Files are written as by sw_papers_plan.  The same plan gives the same bytes
 * where the same fonts are installed.
 *
 * - SW_STOPPED: PAGE said stop.  No file was written.
 * - SW_ABSENT: the library was built without the sheet.
 * - SW_IO: a file cannot be written, or no font is installed.
 *
 * Unlike the rest of the library this function uses GLib, which ends the process when memory runs
 * out.  O(pieces + posts * levels). */
SW_API sw_status sw_papers_sheet (sw_papers *papers, const sw_plan *plan, bool svg, sw_page_fn page, void *data,
                                  sw_report *report);

/* Write plan.xlsx, a workbook for a spreadsheet.  It has order.csv, cuts.csv, fit.csv and setout.csv
 * as sheets of real numbers, a first sheet that adds up the order by formulas, the job's files as
 * they were read, and its settings.  Each table has at most 100,000 rows there; if some are left
 * out, a warning says so.  ROW may be NULL; DATA is handed to it.  The file is written as by
 * sw_papers_plan, which has removed an older one.  The same plan gives the same bytes.
 *
 * - SW_STOPPED: ROW said stop.  No file was written.
 * - SW_ABSENT: the library was built without the workbook.
 * - SW_IO: the file, or a temporary one in TMPDIR (else /tmp), cannot be written.
 *
 * Unlike the rest of the library this function uses libxlsxwriter, which tells on stderr when memory
 * runs out.  O(cells of the tables). */
SW_API sw_status sw_papers_book (sw_papers *papers, const sw_plan *plan, sw_page_fn row, void *data, sw_report *report);

/* Write the tables (the sheet) of a plan into DIR, which is opened only for this call. */
SW_API sw_status sw_plan_write (const sw_plan *plan, const char *dir, sw_report *report);
SW_API sw_status sw_sheet_write (const sw_plan *plan, const char *dir, bool svg, sw_report *report);

/* ---- Compare ----------------------------------------------------------- */

/* Choices of stock lengths side by side, with a plan for each. */
typedef struct sw_comparison sw_comparison;

/* Plan JOB once for each of the COUNT choices, and put them side by side.
 *
 * A choice is a list of stock lengths, "4.8" or "4.8,5.4", for every section that has through
 * levels.  If the job has no through level, it is for every section.  "SECTION=LIST" is a choice
 * for one section.  Several lists, for different sections, have ';' between them
 * ("4.8;100x25=5.4").  Other sections, what is on hand, and the limits of the stock stay as they
 * are.  COUNT 0 (CHOICES may be NULL): each single length that can be bought, and all of them
 * together.
 *
 * LIMITS may be NULL.  LIMITS and the time limit of the job are for all plans together.  JOB must
 * outlive the comparison.
 *
 * - SW_OK: at least one choice has a plan.
 * - SW_NO_PLAN: no choice can have a plan.  SW_STOPPED: no plan was found in the time.  With both,
 *   *OUT is set, too, and tells the reason for each choice.
 * - SW_USAGE: a choice makes no sense or is not offered; REPORT says which.
 *
 * Time: that of the plans, and of a handful more for the tipping prices. */
SW_API sw_status sw_compare (sw_comparison **out, const sw_job *job, const char *const *choices, size_t count,
                             const sw_limits *limits, sw_report *report);

/* Compare choices of yards instead.  Each of the COUNT choices is a yard of the job, or several with
 * ',' between; whole orders are planned from those alone, with delivery.  COUNT 0: each yard, and
 * all of them.  SW_USAGE also: the job names no yards.  All else is as in sw_compare. */
SW_API sw_status sw_compare_yards (sw_comparison **out, const sw_job *job, const char *const *choices, size_t count,
                                   const sw_limits *limits, sw_report *report);

/* Compare what a setting costs.  VARY is "KEY=VALUE,VALUE...", as in "stagger=prefer,off": the job is
 * read anew with each of the values, and planned.  SW_USAGE: there is no such setting, it changes
 * nothing of what is bought, or a value is not acceptable.  All else is as in sw_compare. */
SW_API sw_status sw_compare_setting (sw_comparison **out, const sw_job *job, const char *vary, const sw_limits *limits,
                                     sw_report *report);
/* Say what keeping joins apart, and first pieces long and short in turn, costs in PLAN against the
 * cheapest plan that need not: one line, or "" if PLAN has no joins to keep apart.  A fence of few
 * bays is planned once more for it, within a second; else the line names the command that tells it.
 * WIDTH: as in sw_plan_text.  Free with sw_text_free. */
SW_API sw_status sw_plan_apart_text (const sw_plan *plan, unsigned width, char **out);

SW_API void sw_comparison_free (sw_comparison *comparison);

/* The result of one choice.  Everything in it belongs to the comparison. */
typedef struct sw_compared
{
  const char *choice;   /* as it was given */
  sw_status status;     /* SW_OK; SW_NO_PLAN; SW_STOPPED: it is not known */
  const sw_plan *plan;  /* NULL unless status is SW_OK */
  const char *why;      /* why there is no plan; else NULL */
  bool best;            /* the cheapest choice; of several, the one with the fewest joins lined up, then joins, then
                           boards.  If every price is 0, the one that buys least comes first. */
  int64_t over_best;    /* cost over that of the best: sw_money or sw_length; 0 without a plan */
} sw_compared;

SW_API size_t sw_comparison_count (const sw_comparison *comparison);
/* The result of choice INDEX, in the order in which the choices were given.  False past the end. */
SW_API bool sw_comparison_get (const sw_comparison *comparison, size_t index, sw_compared *out);

typedef enum sw_tip
{
  SW_TIP_AT,      /* the first choice is cheaper below a price, and not above it */
  SW_TIP_ALWAYS,  /* the first choice is cheaper whatever the length costs */
  SW_TIP_NEVER,   /* the first choice is not cheaper whatever the length costs */
  SW_TIP_UNKNOWN  /* the price was not found, because time or a proof was lacking */
} sw_tip;

/* The price of a stock length at which one of two choices stops being the cheaper one.  The first
 * choice buys the length and the second does not; all else is fixed.  The cost of the first, as a
 * function of that price, is the least of many lines, one for each plan.  Such a function is
 * concave, so that the tipping price is met from below in a few plans.  Each plan is made at the
 * price where the line of the plan before meets the cost of the second choice (after M. J. Eisner,
 * D. G. Severance, "Mathematical techniques for efficient record segmentation in large shared
 * databases", Journal of the ACM 23, 1976).  The prices on the way are exact fractions. */
typedef struct sw_tipping
{
  size_t first;      /* index of a choice */
  size_t second;
  sw_length length;
  sw_tip tip;
  bool exact;        /* proved to the millionth: FROM and TO are the same, or the two millionths around the price */
  /* For SW_TIP_AT: the choice tips when the price of one such length changes by FROM to TO from
   * what it costs now, in each section in which the choices differ by the length.  INT64_MIN,
   * INT64_MAX: this side is not known. */
  sw_money from;
  sw_money to;
} sw_tipping;

/* The number of tipping prices that were looked for.  Without prices it is 0.  Otherwise one is
 * looked for between the best choice and the next, and one between the two best single lengths. */
SW_API size_t sw_comparison_tippings (const sw_comparison *comparison);
SW_API bool sw_comparison_tipping (const sw_comparison *comparison, size_t index, sw_tipping *out);

/* Make a table with a row for each choice.  The columns are those of spanwright-csv(5). */
SW_API sw_status sw_comparison_table (const sw_comparison *comparison, sw_table **out);
/* Write the comparison for the eye, with the orders and tipping prices, no wider than WIDTH columns
 * (0: 80) if possible.  Free it with sw_text_free. */
SW_API sw_status sw_comparison_text (const sw_comparison *comparison, unsigned width, char **out);

/* ---- Posts --------------------------------------------------------------- */

/* Stretches of a fence divided into bays, together with the timber. */
typedef struct sw_posts sw_posts;

/* Divide every row of JOB's spans that says so (the column divide) into bays
 * from min-bay to max-bay, together with joins, stock and patterns, to the
 * least cost of timber, joins and posts (post-cost).  Where posts cost nothing
 * the fewest come first; then, as in a plan, the fewest pairs of joins that
 * line up.  LIMITS may be NULL; they and the job's time limit are for all of
 * it: the search, the plan of equal bays of at most max-bay to compare with, and
 * what one post more or less a stretch would do.  JOB must outlive the result.
 * SW_OK: *out holds a division and its plan.  SW_REJECTED: a stretch cannot be
 * divided within the limits, or there is none.  SW_NO_PLAN: in no way is there
 * a plan; the report says why.  SW_STOPPED: no plan in the time.
 * Method: branch and bound over the ways of dividing, with the bound of one
 * linear programme over patterns, layouts and ways (column generation). */
SW_API sw_status sw_posts_make (sw_posts **out, const sw_job *job, const sw_limits *limits, sw_report *report);
SW_API void sw_posts_free (sw_posts *posts);

/* The divided job and its plan; both belong to POSTS. */
SW_API const sw_job *sw_posts_job (const sw_posts *posts);
SW_API const sw_plan *sw_posts_plan (const sw_posts *posts);

/* Figures of a division. */
typedef struct sw_posts_figures
{
  sw_outcome outcome;    /* SW_PROVED: no spacing among the ways looked at gives a cheaper fence */
  bool priced;           /* costs are money; else lengths bought */
  int64_t ways;          /* looked at, of all stretches together */
  int64_t posts;         /* between those that stay */
  int64_t cost;          /* timber, joins and these posts: sw_money or sw_length */
  int64_t bound;         /* no fence divided in these ways, with as few joins lined up, costs less */
  bool has_habit;        /* equal bays of at most max-bay have a plan; the rest is of that */
  int64_t habit_posts;
  int64_t habit_cost;
  sw_length habit_bought;
  int64_t habit_aligned; /* pairs of joins that line up */
  sw_outcome habit_outcome;
} sw_posts_figures;

SW_API void sw_posts_summary (const sw_posts *posts, sw_posts_figures *out);

/* Where to peg each post of every run: pegs.csv, columns as in spanwright-csv(5). */
SW_API sw_status sw_posts_table (const sw_posts *posts, sw_table **out);
/* The finished spans.csv, which sw_job_read takes.  Free with sw_text_free. */
SW_API sw_status sw_posts_spans (const sw_posts *posts, char **out);
/* What was chosen, where to peg each post, what it saves, what one post more
 * or less would do, and what is proved, no wider than WIDTH columns where that
 * can be done (0: 80); sw_plan_text has the plan.  Free with sw_text_free. */
SW_API sw_status sw_posts_text (const sw_posts *posts, unsigned width, char **out);
/* Write the finished spans.csv and pegs.csv, and the plan as sw_papers_plan does. */
SW_API sw_status sw_papers_posts (sw_papers *papers, const sw_posts *posts, sw_report *report);

/* ---- Verify ------------------------------------------------------------ */

/* Figures of a plan that was read back. */
typedef struct sw_verdict
{
  int64_t faults;       /* all faults, with those that the report does not keep */
  int64_t pieces;       /* cut from boards: those of the fit list, blocks and extras */
  int64_t boards;       /* those bought and those from hand */
  int64_t joins;
  int64_t aligned;      /* pairs of joins that line up, as in sw_summary */
  bool priced;          /* cost is money; else the bought length */
  bool cost_known;      /* the stock offers every board */
  int64_t cost;         /* sw_money or sw_length: bought timber and joins, as in sw_summary */
  int64_t always;       /* pairs of joins at posts that are always joined, as in sw_summary */
} sw_verdict;

/* Read order.csv, cuts.csv, fit.csv and, if it is there, setout.csv in DIR.  Check that they are a
 * plan for JOB which keeps every rule and adds up.  The files may have been edited: the order of
 * columns, the separator, a decimal comma and the unit (columns ending in _mm or _in) may differ.
 * The check shares nothing with the solver.
 *
 * - SW_OK: there is no fault.
 * - SW_REJECTED: REPORT has each fault, with file, line and column if it has a place.
 *
 * In both cases OUT is filled in, as far as the files can be read.  O(n log n) in the rows. */
SW_API sw_status sw_verify (const sw_job *job, const char *dir, sw_verdict *out, sw_report *report);

/* Write what VERDICT says of a plan for JOB, as text no wider than WIDTH columns (0: 80).  PLAN is
 * a plan of the same job that was made afresh.  If it is given, the text compares the cost of the
 * plan that was read with the cost of PLAN and its bound.  PLAN may be NULL.  The text is UTF-8,
 * and its lines end in LF.  Free it with sw_text_free. */
SW_API sw_status sw_verdict_text (const sw_verdict *verdict, const sw_job *job, const sw_plan *plan, unsigned width,
                                  char **out);

/* ---- On site: planning on ---------------------------------------------- */

/* A plan that goes on from what is fixed, cut and left. */
typedef struct sw_replan sw_replan;

typedef struct sw_replan_request
{
  const char *plan;             /* the folder of the plan that was worked from, which keeps its job */
  const char *site;             /* site.csv: what is no longer as planned */
  const char *folder;           /* a job's folder as it is measured now; NULL: none */
  const sw_sources *sources;    /* files as they are now; they win over FOLDER's, and both over those that the plan
                                   keeps; NULL: none */
  const sw_settings *settings;  /* what is set in them wins over what the plan keeps */
} sw_replan_request;

/* Plan on.  What is fixed stays with its joins; what is cut is used where it
 * fits, or is cut down; boards that were bought, and what is left of those
 * that were cut, are there and cost nothing.  First as little as possible is
 * bought, with proof; then as few pieces as possible of the through levels
 * differ from those of the plan before; then joins, boards and offcuts as in
 * any plan.  Rules hold for what is open: where pieces that are both in their
 * places break one it is counted apart.
 * LIMITS may be NULL.  *OUT keeps nothing of REQUEST.
 * SW_REJECTED: the report says what is wrong with the site, the spans or the
 * plan, which fixed piece has no place any more and why.  SW_NO_PLAN,
 * SW_STOPPED: as sw_plan_make.  SW_IO: a file or folder cannot be read. */
SW_API sw_status sw_replan_make (sw_replan **out, const sw_replan_request *request, const sw_limits *limits,
                                 sw_report *report);
SW_API void sw_replan_free (sw_replan *replan);

/* The plan, which belongs to REPLAN.  Written like any other (sw_papers_plan)
 * it can be verified and planned on from again: its folder keeps what is on
 * hand and what is in its place. */
SW_API const sw_plan *sw_replan_plan (const sw_replan *replan);

/* What became of the pieces. */
typedef struct sw_replan_figures
{
  int64_t revision;       /* 1: the first plan that goes on from another */
  int64_t bought;         /* boards to buy */
  int64_t fixed;          /* pieces in their places */
  int64_t cut;            /* cut already, and going where their labels say */
  int64_t same;           /* still to be cut, as they were before */
  int64_t changed;        /* new, or of another length */
  int64_t gone;           /* labels that no piece bears any more */
  int64_t aligned_fixed;  /* pairs of joins that line up and are both in their places: not in sw_summary.aligned */
  int64_t turns_fixed;    /* pairs of first pieces out of turn that are both in their places */
} sw_replan_figures;

SW_API void sw_replan_get (const sw_replan *replan, sw_replan_figures *out);

/* What to buy, what to cut now and out of what, which labels change and which
 * stay, and what is left over, no wider than WIDTH columns where that can be
 * done (0: 80).  Free with sw_text_free. */
SW_API sw_status sw_replan_text (const sw_replan *replan, unsigned width, char **out);

#ifdef __cplusplus
}
#endif

#endif
