/* message.c - what the program says: the plan on stdout, remarks on stderr
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "message.h"

#include <errno.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/ioctl.h>
#include <unistd.h>

#define LONGEST_MESSAGE 4096
#define DEFAULT_WIDTH 80
#define LEAST_WIDTH 40
#define MOST_WIDTH 10000

/* The number of bytes of the well-formed UTF-8 character at TEXT.  0: it is not well-formed. */
static size_t
character_bytes (const unsigned char *text)
{
  unsigned char first = text[0];
  size_t count = first < 0x80 ? 1 : first < 0xc2 ? 0 : first < 0xe0 ? 2 : first < 0xf0 ? 3 : first < 0xf5 ? 4 : 0;
  for (size_t i = 1; i < count; i++)
    if ((text[i] & 0xc0) != 0x80)
      return 0;
  /* An overlong form could disguise a control character.  Surrogates and codes beyond Unicode's end
   * are no characters. */
  bool overlong = (first == 0xe0 && text[1] < 0xa0) || (first == 0xf0 && text[1] < 0x90);
  bool none = (first == 0xed && text[1] >= 0xa0) || (first == 0xf4 && text[1] >= 0x90);
  return overlong || none ? 0 : count;
}

/* Would a terminal do anything else with the character of COUNT bytes at AT than show it?  Marks
 * that turn the direction of writing count, because they can make a name look like another. */
static bool
is_active (const unsigned char *at, size_t count)
{
  unsigned long code = count == 1 ? at[0] : at[0] & (0x3fUL >> (count - 1));
  for (size_t i = 1; i < count; i++)
    code = code << 6 | (at[i] & 0x3fUL);
  return code < 0x20 || (code >= 0x7f && code < 0xa0) || code == 0x61c || code == 0x200e || code == 0x200f
         || (code >= 0x2028 && code <= 0x202e) || (code >= 0x2066 && code <= 0x2069) || code == 0xfeff;
}

/* Write TEXT, in which nothing may steer a terminal: file names, words of the command line and
 * cells can hold anything.  The characters of KEEP are written as they are.  What the library has
 * escaped stays as it is. */
static bool
put_escaped (const char *text, const char *keep, FILE *stream)
{
  const unsigned char *at = (const unsigned char *)text;
  bool sound = true;
  while (*at != '\0' && sound)
    {
      size_t count = character_bytes (at);
      if (count == 1 && strchr (keep, at[0]) != NULL)
        sound = putc (at[0], stream) != EOF;
      else if (count == 0 || is_active (at, count))
        {
          for (size_t i = 0; i < (count == 0 ? 1 : count) && sound; i++)
            sound = fprintf (stream, "\\x%02X", at[i]) > 0;
        }
      else
        sound = fwrite (at, 1, count, stream) == count;
      at += count == 0 ? 1 : count;
    }
  return sound;
}

static bool
colour_wanted (void)
{
  const char *no_colour = getenv ("NO_COLOR"); /* NOLINT(concurrency-mt-unsafe): the program has one thread */
  const char *terminal = getenv ("TERM");      /* NOLINT(concurrency-mt-unsafe) */
  return !(no_colour != NULL && no_colour[0] != '\0') && isatty (STDERR_FILENO)
         && !(terminal == NULL || strcmp (terminal, "dumb") == 0);
}

/* Warnings that have been printed and will be repeated, one a line and without colour. */
static struct
{
  FILE *stream; /* a stream into TEXT, or NULL */
  char *text;
  size_t length;
  unsigned count;
} said;

/* Must a warning be kept, because a long plan on the terminal will move it out of sight? */
static bool
is_kept (sw_severity severity)
{
  if (severity != SW_WARNING || !isatty (STDERR_FILENO))
    return false;
  if (said.stream == NULL)
    said.stream = open_memstream (&said.text, &said.length);
  said.count += said.stream != NULL ? 1 : 0;
  return said.stream != NULL;
}

/* The word says everything; the colour only helps the eye. */
static void
put_severity (sw_severity severity)
{
  static const struct
  {
    const char *word;
    const char *colour;
  } looks[] = {
    [SW_NOTE] = { "note", "\033[36m" },
    [SW_WARNING] = { "warning", "\033[33m" },
    [SW_FAULT] = { "error", "\033[1;31m" },
  };
  if (colour_wanted ())
    fprintf (stderr, "%s%s:\033[0m ", looks[severity].colour, looks[severity].word);
  else
    fprintf (stderr, "%s: ", looks[severity].word);
}

void
sw_cli_message (sw_severity severity, const char *format, ...)
{
  char text[LONGEST_MESSAGE];
  va_list arguments;
  va_start (arguments, format);
  int length = vsnprintf (text, sizeof text, format, arguments);
  va_end (arguments);
  if (length < 0)
    return;
  const char *end = length >= LONGEST_MESSAGE ? " ...\n" : "\n";
  put_severity (severity);
  put_escaped (text, "", stderr);
  fputs (end, stderr);
  if (!is_kept (severity))
    return;
  put_escaped (text, "", said.stream);
  fputs (end, said.stream);
}

/* Write "spans.csv:4: span: ...". */
static void
put_remark (const sw_remark *remark, FILE *stream)
{
  if (remark->file != NULL)
    {
      put_escaped (remark->file, "", stream);
      if (remark->line > 0)
        fprintf (stream, ":%zu", remark->line);
      fputs (": ", stream);
    }
  if (remark->column != NULL)
    {
      /* A column without a file is a setting of the command line. */
      if (remark->file == NULL)
        fputs ("--", stream);
      put_escaped (remark->column, "", stream);
      fputs (": ", stream);
    }
  /* The library has escaped the message where necessary. */
  fprintf (stream, "%s\n", remark->message);
}

void
sw_cli_print_report (const sw_report *report)
{
  for (size_t i = 0; i < sw_report_count (report); i++)
    {
      const sw_remark *remark = sw_report_get (report, i);
      put_severity (remark->severity);
      put_remark (remark, stderr);
      if (is_kept (remark->severity))
        put_remark (remark, said.stream);
    }
}

void
sw_cli_print_option_report (const sw_report *report, const char *option)
{
  for (size_t i = 0; i < sw_report_count (report); i++)
    {
      const sw_remark *remark = sw_report_get (report, i);
      put_severity (remark->severity);
      fprintf (stderr, "--%s: %s\n", option, remark->message);
    }
}

/* errno of the first failure to write stdout.  0: there was none.  The stream itself only remembers
 * that there was a failure. */
static int print_failure;

void
sw_cli_print (const char *text)
{
  errno = 0;
  if (fputs (text, stdout) == EOF && print_failure == 0)
    print_failure = errno;
}

void
sw_cli_print_name (const char *name)
{
  errno = 0;
  if (!put_escaped (name, "", stdout) && print_failure == 0)
    print_failure = errno;
}

sw_status
sw_cli_print_table (const sw_table *table)
{
  char *csv;
  sw_status status = sw_table_csv (table, &csv);
  if (status != SW_OK)
    return status;
  errno = 0;
  /* A terminal does not need the byte order mark. */
  const char *shown = strncmp (csv, "\xEF\xBB\xBF", 3) == 0 ? csv + 3 : csv;
  if (!isatty (STDOUT_FILENO))
    sw_cli_print (csv);
  else if (!put_escaped (shown, "\r\n\t", stdout) && print_failure == 0)
    print_failure = errno;
  sw_text_free (csv);
  return SW_OK;
}

void
sw_cli_flush (void)
{
  errno = 0;
  if (fflush (stdout) == EOF && print_failure == 0)
    print_failure = errno;
}

void
sw_cli_repeat_warnings (void)
{
  if (said.stream == NULL)
    return;
  /* stdout may be the same terminal, and its text comes first. */
  sw_cli_flush ();
  if (fclose (said.stream) == 0)
    {
      fprintf (stderr, "\n%u %s, as told at the start:\n", said.count, said.count == 1 ? "warning" : "warnings");
      for (char *line = said.text, *next; *line != '\0'; line = next)
        {
          next = line + strcspn (line, "\n") + 1;
          put_severity (SW_WARNING);
          fprintf (stderr, "%.*s", (int)(next - line), line);
        }
    }
  free (said.text);
  said.stream = NULL;
  said.text = NULL;
}

bool
sw_cli_finish_printing (void)
{
  bool failed = ferror (stdout) != 0;
  errno = 0;
  /* Closing flushes, and some file systems report a full disk only then. */
  failed = fclose (stdout) != 0 || failed;
  int reason = print_failure != 0 ? print_failure : errno;
  if (!failed)
    return true;
  if (reason != 0)
    sw_cli_message (SW_FAULT, "cannot write to standard output: %s",
                    strerror (reason)); /* NOLINT(concurrency-mt-unsafe) */
  else
    sw_cli_message (SW_FAULT, "cannot write to standard output");
  return false;
}

unsigned
sw_cli_width (int descriptor)
{
  unsigned width = DEFAULT_WIDTH;
  const char *columns = getenv ("COLUMNS"); /* NOLINT(concurrency-mt-unsafe) */
  char *end = NULL;
  unsigned long given = columns != NULL ? strtoul (columns, &end, 10) : 0;
  struct winsize window;
  if (given > 0 && given <= MOST_WIDTH && *end == '\0')
    width = (unsigned)given;
  else if (ioctl (descriptor, TIOCGWINSZ, &window) == 0 && window.ws_col > 0)
    width = window.ws_col;
  return width < LEAST_WIDTH ? LEAST_WIDTH : width;
}
