/* lines.c - fits names and text into lines
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "view/figures.h"

#include "base/width.h"

#include <stdlib.h>
#include <string.h>

#define WIDTH_DEFAULT 80
/* On a longer line the eye loses its place. */
#define WIDTH_MOST 160

#define ELLIPSIS "\xe2\x80\xa6"

void
sw_view_name (sw_text *out, const char *text)
{
  sw_text_add_shown (out, text, strlen (text));
}

/* The number of bytes of the character at TEXT.  *WIDTH is its columns. */
static size_t
character (const char *text, size_t *width)
{
  uint32_t code = 0;
  size_t bytes = sw_text_decode (text, strnlen (text, 4), &code);
  *width = bytes > 0 ? sw_width_of (code) : 1;
  return bytes > 0 ? bytes : 1;
}

/* The number of bytes at the beginning of TEXT that fit into WIDTH columns.  *TAKEN is the columns that they take. */
static size_t
head_bytes (const char *text, size_t width, size_t *taken)
{
  size_t at = 0;
  *taken = 0;
  while (text[at] != '\0')
    {
      size_t columns;
      size_t bytes = character (text + at, &columns);
      if (*taken + columns > width)
        break;
      *taken += columns;
      at += bytes;
    }
  return at;
}

/* Where the longest end of TEXT begins that fits into WIDTH columns.  The whole of TEXT has FULL columns. */
static size_t
tail_start (const char *text, size_t full, size_t width, size_t *taken)
{
  size_t at = 0;
  *taken = full;
  while (text[at] != '\0')
    {
      size_t columns;
      size_t bytes = character (text + at, &columns);
      /* A tail must not begin with a combining mark, which would land on the ellipsis. */
      if (*taken <= width && columns > 0)
        break;
      *taken -= columns;
      at += bytes;
    }
  return at;
}

void
sw_view_cell (sw_text *out, const char *text, size_t width, bool right)
{
  size_t full = sw_text_width (text);
  if (full <= width)
    {
      sw_text_repeat (out, ' ', right ? width - full : 0);
      sw_text_add (out, text);
      sw_text_repeat (out, ' ', right ? 0 : width - full);
      return;
    }
  if (right)
    {
      /* A figure without its middle would be another figure. */
      sw_text_add (out, " ");
      sw_text_add (out, text);
      return;
    }
  if (width == 0)
    return;
  size_t head_width;
  size_t tail_width;
  size_t head = head_bytes (text, (width - 1) / 2, &head_width);
  size_t tail = tail_start (text, full, width - 1 - head_width, &tail_width);
  size_t pad = width - 1 - head_width - tail_width;
  sw_text_add_bytes (out, text, head);
  sw_text_add (out, ELLIPSIS);
  sw_text_add (out, text + tail);
  sw_text_repeat (out, ' ', pad);
}

void
sw_view_soften (char *text)
{
  for (char *at = strstr (text, SW_VIEW_HARD); at != NULL; at = strstr (at, SW_VIEW_HARD))
    {
      *at = ' ';
      memmove (at + 1, at + strlen (SW_VIEW_HARD), strlen (at + strlen (SW_VIEW_HARD)) + 1);
    }
}

void
sw_view_trim (sw_text *out)
{
  while (!out->failed && out->length > 0 && out->data[out->length - 1] == ' ')
    out->data[--out->length] = '\0';
}

void
sw_view_end_line (sw_text *out)
{
  sw_view_trim (out);
  sw_text_add (out, "\n");
}

static void
new_line (sw_text *out, size_t indent)
{
  sw_text_add (out, "\n");
  sw_text_repeat (out, ' ', indent);
}

/* Add a word of BYTES bytes, over as many lines as it needs.  Returns the column after it. */
static size_t
add_word (sw_text *out, const char *word, size_t bytes, size_t column, size_t indent, size_t width)
{
  size_t at = 0;
  while (at < bytes)
    {
      size_t columns;
      size_t step = character (word + at, &columns);
      if (column + columns > width && column > indent)
        {
          new_line (out, indent);
          column = indent;
        }
      if (strncmp (word + at, SW_VIEW_HARD, step) == 0)
        sw_text_add (out, " ");
      else
        sw_text_add_bytes (out, word + at, step);
      column += columns;
      at += step;
    }
  return column;
}

static size_t
word_width (const char *word, size_t bytes)
{
  size_t width = 0;
  for (size_t at = 0; at < bytes;)
    {
      size_t columns;
      at += character (word + at, &columns);
      width += columns;
    }
  return width;
}

size_t
sw_view_wrap (sw_text *out, const char *text, size_t column, size_t indent, size_t width)
{
  bool begun = false; /* this line has a word already */
  while (*text != '\0')
    {
      size_t spaces = strspn (text, " ");
      text += spaces;
      size_t bytes = strcspn (text, " ");
      if (bytes == 0)
        break;
      size_t columns = word_width (text, bytes);
      size_t gap = begun ? 1 : 0;
      bool fits = column + gap + columns <= width;
      if (!fits && column > indent && (columns <= width - indent || column + gap >= width))
        {
          new_line (out, indent);
          column = indent;
          gap = 0;
        }
      sw_text_repeat (out, ' ', gap);
      column = add_word (out, text, bytes, column + gap, indent, width);
      begun = true;
      text += bytes;
    }
  return column;
}

char *
sw_view_take (sw_text *out, sw_text *line)
{
  char *text = sw_text_take (line);
  if (text == NULL)
    out->failed = true;
  return text;
}

void
sw_view_rest (sw_text *out, sw_text *line, size_t column, size_t indent, size_t width)
{
  char *text = sw_view_take (out, line);
  if (text == NULL)
    return;
  sw_view_wrap (out, text, column, indent, width);
  sw_text_add (out, "\n");
  free (text);
}

void
sw_view_paragraph (sw_text *out, sw_text *line, size_t indent, size_t hang, size_t width)
{
  sw_text_repeat (out, ' ', indent);
  sw_view_rest (out, line, indent, hang, width);
}

size_t
sw_view_room (const sw_text *out, size_t begun, size_t most)
{
  size_t lines = 0;
  for (size_t i = begun; i < out->length && !out->failed; i++)
    lines += out->data[i] == '\n' ? 1 : 0;
  return lines < most ? most - lines : 0;
}

void
sw_view_left_out (sw_text *out, sw_text *what, const char *table, size_t width)
{
  sw_text line = { 0 };
  char *left = sw_view_take (out, what);
  if (left == NULL)
    return;
  sw_text_printf (&line, "Not printed here: %s. All of it: -o" SW_VIEW_HARD "DIR (%s.csv, sheet.pdf), or --csv" SW_VIEW_HARD "%s.", left, table,
                  table);
  free (left);
  sw_text_add (out, "\n");
  sw_view_paragraph (out, &line, 2, 2, width);
}

void
sw_view_runs_left_out (sw_text *out, const sw_job *job, size_t run, size_t post, const char *table, size_t width)
{
  const size_t more = job->fence.run_count - run - 1;
  sw_text rest = { 0 };
  sw_text_add (&rest, "run ");
  sw_view_name (&rest, job->fence.runs[run].name);
  if (post > 0)
    sw_text_printf (&rest, " from post %zu on", post + 1);
  if (more > 0)
    sw_text_printf (&rest, ", and %zu more %s", more, more == 1 ? "run" : "runs");
  sw_view_left_out (out, &rest, table, width);
}

unsigned
sw_view_width (unsigned width, unsigned least)
{
  if (width == 0)
    return WIDTH_DEFAULT;
  return width < least ? least : width > WIDTH_MOST ? WIDTH_MOST : width;
}
