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
 * same time.  Every function that can fail returns an sw_status; what went
 * wrong is told in the sw_report.  Results come back through a pointer, and
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
  SW_STOPPED,      /* stopped by a limit or the callback, nothing usable */
  SW_NO_MEMORY,    /* memory ran out */
  SW_IO,           /* a file could not be read or written */
  SW_FAILED,       /* the library's own failure: a defect, please report it */
  SW_ABSENT        /* built without this part (sheet, workbook) */
} sw_status;

/* A short sentence for STATUS, never NULL. */
SW_API const char *sw_status_text (sw_status status);

/* "1.2.3", the version of the library that is running. */
SW_API const char *sw_version (void);

/* ---- Report: what is wrong, and where ---------------------------------- */

typedef enum sw_severity
{
  SW_NOTE,      /* good to know */
  SW_WARNING,   /* the plan stands, but look at this */
  SW_FAULT      /* refused because of this */
} sw_severity;

/* One remark.  The strings belong to the report. */
typedef struct sw_remark
{
  sw_severity severity;
  const char *file;     /* file name as given, or NULL */
  size_t line;          /* from 1; 0: no line */
  const char *column;   /* column name, or the key of a setting; or NULL */
  const char *message;  /* one sentence, no line break, control characters escaped */
} sw_remark;

typedef struct sw_report sw_report;

/* NULL when memory runs out. */
SW_API sw_report *sw_report_new (void);
SW_API void sw_report_free (sw_report *report);
SW_API size_t sw_report_count (const sw_report *report);
/* How many remarks have this severity. */
SW_API size_t sw_report_count_of (const sw_report *report, sw_severity severity);
/* Remark INDEX (from 0), or NULL past the end; valid until the next change. */
SW_API const sw_remark *sw_report_get (const sw_report *report, size_t index);
SW_API void sw_report_clear (sw_report *report);

/* ---- Settings ---------------------------------------------------------- */

typedef struct sw_settings sw_settings;

/* Settings at their defaults; NULL when memory runs out. */
SW_API sw_settings *sw_settings_new (void);
SW_API void sw_settings_free (sw_settings *settings);

/* Set KEY ("kerf", "stock-length", ... as in spanwright(1), without dashes
 * in front) to VALUE as a user would write it.
 * SW_USAGE: no such key.  SW_REJECTED: VALUE is not acceptable. */
SW_API sw_status sw_settings_set (sw_settings *settings, const char *key, const char *value, sw_report *report);

/* Read a `key,value` CSV file.  A key that was already set by
 * sw_settings_set keeps that value. */
SW_API sw_status sw_settings_read (sw_settings *settings, const char *file, sw_report *report);

/* ---- Job --------------------------------------------------------------- */

/* The input files.  NULL: none.  spans or extras must be there. */
typedef struct sw_sources
{
  const char *spans;
  const char *levels;
  const char *stock;
  const char *sections;
  const char *extras;
} sw_sources;

typedef struct sw_job sw_job;

/* Read and cross-check everything.  The job keeps a copy of SETTINGS.
 * SW_REJECTED: REPORT says what is wrong, up to 20 faults a file. */
SW_API sw_status sw_job_read (sw_job **out, const sw_sources *sources, const sw_settings *settings, sw_report *report);
SW_API void sw_job_free (sw_job *job);

/* ---- A job's folder ----------------------------------------------------- */

/* Read the job that is the files of the folder DIR with the names spans.csv,
 * levels.csv, stock.csv, sections.csv, extras.csv and settings.csv, as far as
 * they are there.  GIVEN (NULL: none) names files that take the place of the
 * folder's; where SETTINGS have been read from a file, settings.csv is not
 * read, and what sw_settings_set has set wins over it.  A file of GIVEN also
 * wins over a setting of settings.csv that says the same otherwise: stock over
 * stock-length, levels over rails.  SETTINGS are not changed; the job keeps
 * its own.
 * yards.csv and fittings.csv are not read yet: a warning where they are there.
 * SW_REJECTED: as sw_job_read, and where none of these files is there, neither
 * spans.csv nor extras.csv, or one under another name (Levels.CSV, levels.xlsx).
 * SW_IO: DIR or a file cannot be read.
 * Time: that of sw_job_read, and O(names in DIR). */
SW_API sw_status sw_job_read_folder (sw_job **out, const char *dir, const sw_sources *given,
                                     const sw_settings *settings, sw_report *report);

/* Read the job that the folder DIR of a plan keeps in DIR/job (sw_plan_write
 * put it there), as sw_job_read_folder reads it.  A note says what was taken
 * from there; warnings, which of it was edited, removed or put there since the
 * plan was made.  Where DIR/job holds nothing of a job, GIVEN is the job.
 * SW_USAGE: then GIVEN names neither spans nor extras. */
SW_API sw_status sw_job_read_kept (sw_job **out, const char *dir, const sw_sources *given,
                                   const sw_settings *settings, sw_report *report);

/* Write a small job to begin with into the folder DIR, which is made when it
 * does not exist (its parents are not): spans.csv, levels.csv, stock.csv,
 * sections.csv and settings.csv, which can be planned as they are, and
 * README.txt, which explains every column in a line.  Of SETTINGS (NULL:
 * defaults) inches and csv-style are looked at.
 * SW_REJECTED: a file with the name of one of a job's files, or README.txt, is
 * there already, and nothing was written.  SW_IO: DIR cannot be made or
 * written to; nothing was written either. */
SW_API sw_status sw_start_write (const char *dir, const sw_settings *settings, sw_report *report);

/* ---- Plan -------------------------------------------------------------- */

/* What the solver looks for; each while what came before gets no worse. */
typedef enum sw_seeking
{
  SW_SEEKING_COST,    /* a plan that costs less, or a first one */
  SW_SEEKING_JOINS,   /* fewer joins */
  SW_SEEKING_BOARDS,  /* fewer boards */
  SW_SEEKING_OFFCUTS  /* what is left in longer pieces */
} sw_seeking;

/* What the solver tells while it works. */
typedef struct sw_progress
{
  double seconds;       /* since sw_plan_make began, monotonic clock */
  double seconds_left;  /* of the time limit; negative: no limit */
  bool has_plan;        /* cost is valid */
  double cost;          /* of the best plan so far: money units, or metres where no price is over 0 */
  double bound;         /* no plan can cost less; same unit */
  sw_seeking seeking;   /* now; a job of several sections begins again with each that is planned apart */
} sw_progress;

/* Called now and then from the thread that called sw_plan_make, which it must
 * not call itself: a plan is being made.  bound never falls and cost never
 * rises.  Return false to stop with the best plan so far. */
typedef bool (*sw_progress_fn) (const sw_progress *progress, void *data);

typedef struct sw_limits
{
  sw_progress_fn progress;  /* NULL: none */
  void *data;               /* handed to progress */
  bool hard_way;            /* debugging: skip every easy exit of the solver */
} sw_limits;

typedef struct sw_plan sw_plan;

/* Find the cheapest plan and prove how good it is.  LIMITS may be NULL.
 * The time limit is the job's setting.  JOB must outlive the plan.
 * SW_OK: *out holds a plan that keeps every rule, checked in integers.
 * SW_NO_PLAN: the report says why.  SW_STOPPED: no plan in the time. */
SW_API sw_status sw_plan_make (sw_plan **out, const sw_job *job, const sw_limits *limits, sw_report *report);
SW_API void sw_plan_free (sw_plan *plan);

typedef enum sw_outcome
{
  SW_PROVED,      /* no plan can be cheaper */
  SW_WITHIN_GAP,  /* a plan and a bound; the solver's own effort ran out */
  SW_TIMED_OUT,   /* a plan and a bound; the time limit came first */
  SW_INTERRUPTED  /* a plan and a bound; the callback said stop */
} sw_outcome;

/* Figures of a plan. */
typedef struct sw_summary
{
  sw_outcome outcome;
  bool priced;          /* cost and bound are money; else lengths bought */
  int64_t cost;         /* sw_money or sw_length: timber bought + joins; where every price is 0, the plan is one
                           that buys little, though its cost and bound are 0 like any other's */
  int64_t bound;        /* no plan with as few aligned joins costs less */
  int64_t aligned;      /* pairs of joins that line up, but for those at posts that are always joined */
  int64_t aligned_bound;/* no plan has fewer */
  int64_t joins;
  int64_t boards;       /* bought and from hand */
  sw_length bought;     /* boards from the yard, without spare */
  sw_length from_hand;
  sw_length used;       /* the pieces */
  sw_length kept;       /* offcuts long enough to keep */
  int64_t always;       /* pairs that line up at posts that are always joined; no plan has fewer */
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

/* One of the plan's tables; columns as in spanwright-csv(5). */
SW_API sw_status sw_plan_table (const sw_plan *plan, sw_table_kind kind, sw_table **out);
SW_API void sw_table_free (sw_table *table);
SW_API size_t sw_table_columns (const sw_table *table);
SW_API size_t sw_table_rows (const sw_table *table);
/* Header cell; NULL past the end. */
SW_API const char *sw_table_header (const sw_table *table, size_t column);
/* Cell text, "" where blank; NULL past the end. */
SW_API const char *sw_table_cell (const sw_table *table, size_t row, size_t column);
/* The table as CSV (RFC 4180, CRLF, formula-like text defused), a string
 * that the caller frees with sw_text_free.  Where the job's setting csv-style
 * is "semicolon": with a byte order mark, semicolons and decimal commas. */
SW_API sw_status sw_table_csv (const sw_table *table, char **out);

/* Parts of the printed plan, to be or-ed. */
enum
{
  SW_TEXT_ORDER = 1,     /* the order, waste, joins */
  SW_TEXT_CUTS = 2,      /* what comes from each board */
  SW_TEXT_FIT = 4,       /* which piece goes where */
  SW_TEXT_SETOUT = 8,    /* running dimensions, marks, housings */
  SW_TEXT_PROOF = 16,    /* how good the plan is, in one sentence */
  SW_TEXT_CARE = 32,     /* weight, ends to seal and cautions, in three lines */
  SW_TEXT_ALL = 63,
  SW_TEXT_MESSAGE = 64,  /* order.txt: the order to paste into a message, what was warned of it, and of care */
  SW_TEXT_AGAIN = 128    /* the order's lines once more, short, for the end of a long text */
};

/* The plan as text no wider than WIDTH columns where that can be done
 * (0: 80).  UTF-8, lines end in LF.  Free with sw_text_free. */
SW_API sw_status sw_plan_text (const sw_plan *plan, unsigned parts, unsigned width, char **out);
SW_API void sw_text_free (char *text);

/* A folder while a plan's files are written to it. */
typedef struct sw_papers sw_papers;

/* Open DIR, which is made when it does not exist (its parents are not), and
 * let no other writer in until sw_papers_free, where the file system has
 * locks.  A folder that was made and stayed empty is removed by that.
 * SW_IO: DIR cannot be made or opened, or another sw_papers has it open, in
 * this program or another; the report says which.  SW_USAGE: DIR is a file. */
SW_API sw_status sw_papers_open (sw_papers **out, const char *dir, sw_report *report);
SW_API void sw_papers_free (sw_papers *papers);

/* Write order.csv, cuts.csv, fit.csv, setout.csv and order.txt.  Each file is
 * written under a temporary name and renamed; an older file is replaced whole
 * or left as it was, and leaves the new one its mode.  An older sheet.pdf,
 * sheet-1.svg, sheet-2.svg ... and plan.xlsx are removed, so that none of
 * another plan lies beside the new tables.
 * job/ in the folder keeps the job: its files as they were read, byte for
 * byte; in settings.csv the settings that are not at their defaults; in
 * kept.csv the size and checksum of each, by which the next plan and
 * sw_job_read_kept tell what was edited.  What an older plan kept there is
 * replaced, or removed where this job has no such file.
 * SW_USAGE, and nothing was written: an input would be replaced, or a file in
 * job/ that no plan has put there or that was edited since. */
SW_API sw_status sw_papers_plan (sw_papers *papers, const sw_plan *plan, sw_report *report);

/* Called before each page of the sheet is counted, and before it is drawn, or
 * every thousand rows of the workbook.  Return false to stop. */
typedef bool (*sw_page_fn) (void *data);

/* Draw the sheet to carry on site: the order, each run in elevation, each
 * board with its cuts, setting out.  sheet.pdf, on the paper that the settings
 * name; with SVG also a file a page, sheet-1.svg, sheet-2.svg ...  Each of the
 * four parts has 500 pages at most; of what is left out the last of them
 * tells, and a warning.  PAGE may be NULL; DATA is handed to it.
 * Files are written as by sw_papers_plan; the same plan gives the same bytes
 * where the same fonts are installed.
 * SW_STOPPED: PAGE said stop; no file was written.  SW_ABSENT: built without
 * the sheet.  SW_IO: also when no font is installed.
 * Unlike the rest of the library it stands on GLib, which ends the process
 * when memory runs out.  O(pieces + posts * levels). */
SW_API sw_status sw_papers_sheet (sw_papers *papers, const sw_plan *plan, bool svg, sw_page_fn page, void *data,
                                  sw_report *report);

/* Write plan.xlsx, a workbook for a spreadsheet: order.csv, cuts.csv, fit.csv
 * and setout.csv as sheets of real numbers (of each the first 100,000 rows; a
 * warning tells of more), a first sheet that adds up the order by formulas, the
 * job's files as they were read and its settings.  An older one went with
 * sw_papers_plan.  ROW (NULL: none) is called every thousand rows with DATA
 * and may return false to stop.  The same plan gives the same bytes.
 * SW_STOPPED: ROW said stop; SW_ABSENT: built without it; then, and after any
 * other failure, there is no plan.xlsx.  Unlike the rest of the library it
 * stands on libxlsxwriter, which needs room for temporary files (TMPDIR, else
 * /tmp) and says on stderr when memory runs out.  O(cells). */
SW_API sw_status sw_papers_book (sw_papers *papers, const sw_plan *plan, sw_page_fn row, void *data, sw_report *report);

/* One of them in DIR, opened for it alone. */
SW_API sw_status sw_plan_write (const sw_plan *plan, const char *dir, sw_report *report);
SW_API sw_status sw_sheet_write (const sw_plan *plan, const char *dir, bool svg, sw_report *report);

/* ---- Compare ----------------------------------------------------------- */

/* Choices of stock lengths, a plan for each, side by side. */
typedef struct sw_comparison sw_comparison;

/* Plan JOB once for each of the COUNT choices and put them side by side.
 * A choice is a list of stock lengths, "4.8" or "4.8,5.4", for every section
 * that has through levels (where there is no such level: for every section),
 * or "SECTION=LIST" for one; several, each for other sections, with ';'
 * between ("4.8;100x25=5.4").  Other sections, and what is on hand, stay as
 * they are; limits too.  COUNT 0 (CHOICES may be NULL): each single length
 * that can be bought, and all together.
 * LIMITS may be NULL; they and the time limit of the job are for all plans
 * together.  JOB must outlive the comparison.
 * SW_OK: some choice has a plan.  SW_NO_PLAN: none can have one, SW_STOPPED:
 * none had one in the time; then too *out is there and tells why of each.
 * SW_USAGE: a choice makes no sense or is not offered; the report says which.
 * Time: that of the plans, and of a handful more for the tipping prices. */
SW_API sw_status sw_compare (sw_comparison **out, const sw_job *job, const char *const *choices, size_t count,
                             const sw_limits *limits, sw_report *report);
SW_API void sw_comparison_free (sw_comparison *comparison);

/* What came of one choice.  Everything belongs to the comparison. */
typedef struct sw_compared
{
  const char *choice;   /* as it was given */
  sw_status status;     /* SW_OK; SW_NO_PLAN; SW_STOPPED: not known */
  const sw_plan *plan;  /* NULL unless status is SW_OK */
  const char *why;      /* there is no plan; else NULL */
  bool best;            /* the cheapest; of several, that with the fewest joins lined up, joins, boards
                           (where every price is 0, first that which buys least) */
  int64_t over_best;    /* cost over that of the best: sw_money or sw_length; 0 without a plan */
} sw_compared;

SW_API size_t sw_comparison_count (const sw_comparison *comparison);
/* Choice INDEX, in the order given; false past the end. */
SW_API bool sw_comparison_get (const sw_comparison *comparison, size_t index, sw_compared *out);

typedef enum sw_tip
{
  SW_TIP_AT,      /* the first choice is the cheaper below a price, and not above it */
  SW_TIP_ALWAYS,  /* it is the cheaper whatever the length costs */
  SW_TIP_NEVER,   /* it is not the cheaper whatever the length costs */
  SW_TIP_UNKNOWN  /* not found in the time, or for want of proof */
} sw_tip;

/* At what price of a stock length the cheaper of two choices is the other
 * one.  The first choice buys the length where the second does not; all else
 * is fixed.  What the first costs, as a function of that price, is the least
 * of many lines, one a plan: concave, so that the tipping price is met from
 * below in a few plans, each at the price where the line of the one before
 * meets the second choice (after M. J. Eisner, D. G. Severance, "Mathematical
 * techniques for efficient record segmentation in large shared databases",
 * Journal of the ACM 23, 1976).  Prices on the way are exact fractions. */
typedef struct sw_tipping
{
  size_t first;      /* choices, by index */
  size_t second;
  sw_length length;
  sw_tip tip;
  bool exact;        /* proved to the millionth: FROM and TO are the two around it, or the same */
  /* SW_TIP_AT: the change of what one such length costs now, in each section
   * in which the choices differ by it, at which the choice tips, lies from
   * FROM to TO; INT64_MIN, INT64_MAX: that side is not known. */
  sw_money from;
  sw_money to;
} sw_tipping;

/* How many tipping prices were looked for: 0 without prices; else that of the
 * best choice and the next, and that of the two best single lengths. */
SW_API size_t sw_comparison_tippings (const sw_comparison *comparison);
SW_API bool sw_comparison_tipping (const sw_comparison *comparison, size_t index, sw_tipping *out);

/* A row a choice; columns as in spanwright-csv(5). */
SW_API sw_status sw_comparison_table (const sw_comparison *comparison, sw_table **out);
/* The same for the eye, with the orders and tipping prices, no wider than
 * WIDTH columns where that can be done (0: 80).  Free with sw_text_free. */
SW_API sw_status sw_comparison_text (const sw_comparison *comparison, unsigned width, char **out);

/* ---- Verify ------------------------------------------------------------ */

/* Figures of a plan that was read back. */
typedef struct sw_verdict
{
  int64_t faults;       /* all of them, those that the report does not keep included */
  int64_t pieces;       /* cut from boards: fit list, blocks and extras */
  int64_t boards;       /* bought and from hand */
  int64_t joins;
  int64_t aligned;      /* pairs of joins that line up, as in sw_summary */
  bool priced;          /* cost is money; else the length bought */
  bool cost_known;      /* every board is one that the stock offers */
  int64_t cost;         /* sw_money or sw_length: timber bought + joins, as in sw_summary */
  int64_t always;       /* pairs that line up at posts that are always joined, as in sw_summary */
} sw_verdict;

/* Read order.csv, cuts.csv, fit.csv and, where there is one, setout.csv in
 * DIR and check that they are a plan for JOB that keeps every rule and adds
 * up.  The files may have been edited: column order, separator, decimal
 * comma, lengths in columns ending _mm or _in.  Shares nothing with the
 * solver.
 * SW_OK: no fault.  SW_REJECTED: each fault is in the report, with file,
 * line and column where it has one.  OUT is filled in either way, as far as
 * the files could be read.  O(n log n) in the rows. */
SW_API sw_status sw_verify (const sw_job *job, const char *dir, sw_verdict *out, sw_report *report);

/* What VERDICT says of a plan for JOB, as text no wider than WIDTH columns
 * (0: 80).  PLAN is a plan that was made afresh, to tell what the one that
 * was read costs against it and its bound; NULL: nothing is said of that.
 * UTF-8, lines end in LF.  Free with sw_text_free. */
SW_API sw_status sw_verdict_text (const sw_verdict *verdict, const sw_job *job, const sw_plan *plan, unsigned width,
                                  char **out);

#ifdef __cplusplus
}
#endif

#endif
