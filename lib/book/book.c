/* book.c - the plan as a workbook
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "book/book.h"

#include "base/memory.h"
#include "base/text.h"
#include "view/cuts.h"
#include "view/fit.h"
#include "view/order.h"
#include "view/setout.h"

#include <errno.h>
#include <stdlib.h>
#include <sys/resource.h>

/* The first of January 2000, in seconds since 1970, so that the same plan gives the same bytes whenever it is made. */
#define CREATED 946684800
/* The largest part of a workbook that is not a sheet has fewer bytes. */
#define PARTS_BYTES 8192

/* The library does not survive when memory runs out, so this much must be there beforehand.  It takes less, however
 * long the tables are: some 150 KiB a sheet, and what zlib and stdio take. */
#define MEMORY_BYTES ((size_t)8 << 20)

/* ---- Looks ------------------------------------------------------------------------------ */

static void
add_styles (sw_book *book)
{
  for (int s = 0; s < SW_BOOK_STYLES; s++)
    {
      book->styles[s] = workbook_add_format (book->workbook);
      if (book->styles[s] == NULL)
        {
          book->status = SW_NO_MEMORY;
          return;
        }
    }
  format_set_num_format (book->styles[SW_BOOK_TEXT], "@");
  /* The indent keeps text clear of the numbers that end in the column before. */
  format_set_indent (book->styles[SW_BOOK_TEXT], 1);
  format_set_indent (book->styles[SW_BOOK_HEADING], 1);
  format_set_indent (book->styles[SW_BOOK_TITLE], 1);
  /* As many decimals as the amount has, so that nothing is lost where a sheet is saved as it is shown. */
  format_set_num_format (book->styles[SW_BOOK_MONEY], "0.00####");
  format_set_num_format (book->styles[SW_BOOK_LENGTH], "0.0########");
  format_set_num_format (book->styles[SW_BOOK_HEADING], "@");
  format_set_bold (book->styles[SW_BOOK_HEADING]);
  format_set_bottom (book->styles[SW_BOOK_HEADING], LXW_BORDER_THIN);
  format_set_bold (book->styles[SW_BOOK_TITLE]);
  format_set_font_size (book->styles[SW_BOOK_TITLE], 14);
}

static void
set_properties (sw_book *book)
{
  lxw_doc_properties properties = { .title = "Timber plan", .comments = "spanwright " PACKAGE_VERSION, .created = CREATED };
  if (workbook_set_properties (book->workbook, &properties) != LXW_NO_ERROR)
    book->status = SW_NO_MEMORY;
}

/* ---- Sheets ----------------------------------------------------------------------------- */

static void
add_order (sw_book *book)
{
  sw_table *table = NULL;
  sw_book_order order;
  book->status = sw_order_table (book->plan, &table);
  if (book->status == SW_OK)
    {
      sw_book_order_find (&order, table);
      sw_book_front (book, table, &order);
      sw_book_table (book, "order", table, &order);
    }
  sw_table_free (table);
}

static void
add_tables (sw_book *book)
{
  static const struct
  {
    const char *name;
    sw_status (*make) (const sw_plan *plan, sw_table **out);
  } tables[] = { { "cuts", sw_cuts_table }, { "fit", sw_fit_table }, { "setout", sw_setout_table } };
  for (size_t t = 0; t < sizeof tables / sizeof *tables && book->status == SW_OK; t++)
    {
      sw_table *table = NULL;
      book->status = tables[t].make (book->plan, &table);
      if (book->status == SW_OK)
        sw_book_table (book, tables[t].name, table, NULL);
      sw_table_free (table);
    }
}

/* ---- The file --------------------------------------------------------------------------- */

/* The bytes that a file may have in this process. */
static uint64_t
file_limit (void)
{
  struct rlimit limit;
  if (getrlimit (RLIMIT_FSIZE, &limit) != 0 || limit.rlim_cur == RLIM_INFINITY)
    return UINT64_MAX;
  return limit.rlim_cur >= PARTS_BYTES ? (uint64_t)limit.rlim_cur : 0;
}

/* Make the workbook in the file PATH. */
static void
fill (sw_book *book, const char *path)
{
  /* Sheets are written row by row, so memory does not grow with the rows; each text stays in its cell. */
  lxw_workbook_options options = { .constant_memory = LXW_TRUE };
  void *room = sw_alloc (MEMORY_BYTES, 1);
  free (room);
  if (room == NULL)
    {
      book->status = SW_NO_MEMORY;
      return;
    }
  book->file_most = file_limit ();
  book->workbook = workbook_new_opt (path, &options);
  if (book->workbook == NULL)
    {
      book->status = SW_NO_MEMORY;
      return;
    }
  add_styles (book);
  set_properties (book);
  if (book->status == SW_OK)
    add_order (book);
  add_tables (book);
  sw_book_job (book);
  if (book->status != SW_OK)
    {
      const int error = errno;
      lxw_workbook_free (book->workbook);
      errno = error;
      return;
    }
  errno = 0;
  if (workbook_close (book->workbook) != LXW_NO_ERROR)
    book->status = errno == ENOMEM ? SW_NO_MEMORY : SW_IO;
}

/* Say why there is no workbook; errno is that of the failure, or 0. */
static void
complain (const sw_papers *papers, const char *what, sw_report *report)
{
  char reason[SW_TEXT_ERROR];
  const int error = errno;
  char *path = sw_text_path (sw_output_dir (papers->folder), SW_PAPERS_BOOK);
  sw_report_add (report, SW_FAULT, path != NULL ? path : SW_PAPERS_BOOK, 0, NULL, "cannot be written: %s",
                 error != 0 ? sw_text_error (error, reason) : what);
  free (path);
}

/* The bytes of the workbook; to be freed. */
static void
make (sw_book *book, const sw_papers *papers, char **bytes, size_t *count)
{
  sw_scratch scratch;
  errno = 0;
  book->status = sw_scratch_open (&scratch);
  if (book->status == SW_OK)
    fill (book, scratch.path);
  if (book->status == SW_OK)
    book->status = sw_scratch_read (&scratch, bytes, count);
  if (book->status == SW_IO)
    complain (papers, "its temporary files cannot be written", book->report);
  sw_scratch_close (&scratch);
  if (book->status == SW_OK && !sw_book_is_whole (*bytes, *count, book->cells))
    {
      errno = 0;
      book->status = SW_IO;
      complain (papers, "there was no room for its temporary files, or no memory", book->report);
    }
}

/* Say that the older workbook was removed when the plan's tables were written. */
static void
note_removed (const sw_papers *papers, sw_report *report)
{
  char *path = papers->older_book ? sw_text_path (sw_output_dir (papers->folder), SW_PAPERS_BOOK) : NULL;
  if (path != NULL)
    sw_report_add (report, SW_NOTE, path, 0, NULL, "the older workbook is removed: it was not of this plan's tables");
  free (path);
}

sw_status
sw_papers_book (sw_papers *papers, const sw_plan *plan, sw_page_fn row, void *data, sw_report *report)
{
  sw_book book = { .plan = plan, .row_fn = row, .row_data = data, .report = report };
  sw_output *output = NULL;
  char *bytes = NULL;
  size_t count = 0;
  make (&book, papers, &bytes, &count);
  if (book.status == SW_OK && book.cut_short)
    sw_report_add (report, SW_WARNING, SW_PAPERS_BOOK, 0, NULL,
                   "text of over %zu characters is cut short there, since no spreadsheet takes more",
                   SW_BOOK_MOST_CHARACTERS);
  if (book.status == SW_OK)
    book.status = sw_output_open_again (&output, papers->folder, papers->tables, report);
  for (size_t i = 0; i < SW_FILES && book.status == SW_OK; i++)
    book.status = sw_output_guard (output, SW_PAPERS_BOOK, plan->job->files[i], report);
  if (book.status == SW_OK)
    book.status = sw_output_add (output, SW_PAPERS_BOOK, bytes, count, report);
  if (book.status == SW_OK)
    book.status = sw_output_commit (output, report);
  /* It gets the date of the tables: by a later date sw_verify tells that it was saved anew. */
  if (book.status == SW_OK)
    sw_output_date_like (output, SW_PAPERS_BOOK, "setout.csv");
  else
    note_removed (papers, report);
  sw_output_free (output);
  free (bytes);
  return book.status;
}
