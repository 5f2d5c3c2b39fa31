/* settings_write.c - writes the options of a job as rows of key and value
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "job/settings.h"

#include "base/decimal.h"
#include "csv/table.h"

#include <inttypes.h>
#include <stdio.h>
#include <string.h>

/* Inches are written if the length is a multiple of this, because six decimals of an inch are exact then. */
#define FINEST_INCH (SW_INCH / 64)

typedef struct writer
{
  const sw_settings *settings;
  const sw_settings *usual; /* the defaults */
  bool all;                 /* write the settings at their defaults, too */
  sw_table *table;
  sw_status status;
} writer;

static void
add_row (writer *w, const char *key, const char *value, bool is_number)
{
  if (w->status == SW_OK)
    w->status = sw_table_add_row (w->table);
  if (w->status == SW_OK)
    w->status = sw_table_set (w->table, 0, key);
  if (w->status == SW_OK)
    w->status = (is_number ? sw_table_set : sw_table_set_text) (w->table, 1, value);
}

void
sw_settings_format_length (const sw_settings *settings, sw_length length, char out[SW_DECIMAL_TEXT])
{
  bool inches = settings->inches && length % FINEST_INCH == 0;
  char figure[SW_DECIMAL_TEXT];
  if (inches)
    sw_length_format_inches_exact (length, figure);
  else
    sw_decimal_format (length, 6, 0, figure);
  snprintf (out, SW_DECIMAL_TEXT, "%.40s%s", figure, inches ? "in" : "mm");
}

static void
add_length (writer *w, const char *key, sw_length length, sw_length usual)
{
  char value[SW_DECIMAL_TEXT];
  if (length == usual && !w->all)
    return;
  sw_settings_format_length (w->settings, length, value);
  add_row (w, key, value, false);
}

/* A length for which 0 stands for none. */
static void
add_most (writer *w, const char *key, sw_length length, sw_length usual)
{
  if (length > 0 || !w->all)
    add_length (w, key, length, usual);
  else
    add_row (w, key, "none", false);
}

/* VALUE / 10^PLACES. */
static void
add_number (writer *w, const char *key, int64_t value, int places, int64_t usual)
{
  char text[SW_DECIMAL_TEXT];
  /* A value below 0 stands for a setting that was not given. */
  if (value == usual && (!w->all || value < 0))
    return;
  sw_decimal_format (value, places, 0, text);
  add_row (w, key, text, true);
}

static void
add_word (writer *w, const char *key, bool unusual, const char *word)
{
  if (unusual || (w->all && word != NULL))
    add_row (w, key, word, false);
}

static void
format_stock_length (const sw_settings *settings, sw_length length, char out[SW_DECIMAL_TEXT])
{
  const sw_length foot = 12 * SW_INCH;
  char figure[SW_DECIMAL_TEXT];
  if (settings->inches && length % foot == 0)
    snprintf (out, SW_DECIMAL_TEXT, "%" PRId64 "ft", length / foot);
  else if (settings->inches && length % FINEST_INCH == 0)
    sw_settings_format_length (settings, length, out);
  else
    {
      sw_decimal_format (length, 9, 1, figure);
      snprintf (out, SW_DECIMAL_TEXT, "%.40sm", figure);
    }
}

/* Semicolons separate the lengths, because a comma may be a decimal comma. */
static void
add_stock_lengths (writer *w)
{
  char list[SW_SETTINGS_MAX_STOCK * SW_DECIMAL_TEXT] = "";
  size_t used = 0;
  if (!w->settings->stock_lengths_given)
    return;
  for (size_t i = 0; i < w->settings->stock_length_count; i++)
    {
      char text[SW_DECIMAL_TEXT];
      format_stock_length (w->settings, w->settings->stock_lengths[i], text);
      used += (size_t)snprintf (list + used, sizeof list - used, "%s%s", i > 0 ? ";" : "", text);
    }
  add_row (w, "stock-length", list, false);
}

static void
add_timber (writer *w)
{
  const sw_settings *s = w->settings;
  const sw_settings *usual = w->usual;
  add_length (w, "kerf", s->kerf, usual->kerf);
  add_length (w, "end-trim", s->end_trim, usual->end_trim);
  if (s->rails_given)
    add_number (w, "rails", s->rails, 0, 0);
  add_stock_lengths (w);
  add_length (w, "keep", s->keep, usual->keep);
  add_most (w, "max-piece", s->max_piece, usual->max_piece);
  add_length (w, "round", w->all ? sw_settings_round (s) : s->round, usual->round);
}

static void
add_posts_and_joins (writer *w)
{
  static const char *const staggers[] = { "prefer", "require", "off" };
  const sw_settings *s = w->settings;
  const sw_settings *usual = w->usual;
  add_length (w, "post-width", s->post_width, usual->post_width);
  /* 0 stands for each post's own width. */
  if (s->post_depth > 0)
    add_length (w, "post-depth", s->post_depth, usual->post_depth);
  add_word (w, "measured", s->measured != usual->measured, s->measured == SW_MEASURED_CLEAR ? "clear" : "centres");
  add_length (w, "bow", s->bow, usual->bow);
  add_length (w, "min-bearing", s->min_bearing, usual->min_bearing);
  add_most (w, "picket", s->picket, usual->picket);
  add_word (w, "stagger", s->stagger != usual->stagger, staggers[s->stagger]);
  add_word (w, "turn", s->turn != usual->turn, s->turn == SW_TURN_OFF ? "off" : "keep");
  add_number (w, "join-cost", s->join_cost, 6, usual->join_cost);
  add_length (w, "min-bay", s->min_bay, usual->min_bay);
  add_length (w, "max-bay", s->max_bay, usual->max_bay);
  add_number (w, "post-cost", s->post_cost, 6, usual->post_cost);
}

static void
add_order (writer *w)
{
  const sw_settings *s = w->settings;
  const sw_settings *usual = w->usual;
  add_word (w, "job", s->job != NULL, s->job);
  add_word (w, "date", s->date != NULL, s->date);
  /* It is kept in millionths of the price and written in per cent. */
  add_number (w, "tax", s->tax, 4, usual->tax);
  add_word (w, "inches", s->inches != usual->inches, s->inches ? "yes" : "no");
  add_word (w, "paper", s->paper != usual->paper, s->paper == SW_PAPER_LETTER ? "letter" : "a4");
  /* It is kept in milliseconds and written in seconds. */
  add_number (w, "time-limit", s->time_limit, 3, usual->time_limit);
  add_word (w, "csv-style", s->csv_style != usual->csv_style, s->csv_style == SW_CSV_SEMICOLON ? "semicolon" : "comma");
  add_number (w, "revision", s->revision, 0, usual->revision);
  add_word (w, "by", s->by != usual->by, s->by == SW_BY_RUN ? "run" : "length");
}

static sw_status
make_table (const sw_settings *settings, bool all, sw_table **out)
{
  static const char *const header[] = { "key", "value" };
  *out = NULL;
  sw_settings *usual = sw_settings_new ();
  if (usual == NULL)
    return SW_NO_MEMORY;
  writer w = { .settings = settings, .usual = usual, .all = all };
  w.status = sw_table_new (&w.table, header, 2);
  if (w.status == SW_OK)
    {
      if (settings->csv_style == SW_CSV_SEMICOLON)
        sw_table_write_semicolons (w.table);
      add_timber (&w);
      add_posts_and_joins (&w);
      add_order (&w);
    }
  sw_settings_free (usual);
  if (w.status == SW_OK)
    *out = w.table;
  else
    sw_table_free (w.table);
  return w.status;
}

sw_status
sw_settings_table (const sw_settings *settings, sw_table **out)
{
  return make_table (settings, false, out);
}

sw_status
sw_settings_all (const sw_settings *settings, sw_table **out)
{
  return make_table (settings, true, out);
}

static bool
same_names (const char *a, const char *b)
{
  return a == NULL || b == NULL ? a == b : strcmp (a, b) == 0;
}

bool
sw_settings_same (const sw_settings *a, const sw_settings *b)
{
  bool lengths = a->kerf == b->kerf && a->end_trim == b->end_trim && a->post_width == b->post_width
                 && a->post_depth == b->post_depth && a->keep == b->keep && a->min_bearing == b->min_bearing
                 && a->min_bay == b->min_bay && a->max_bay == b->max_bay
                 && a->bow == b->bow && a->max_piece == b->max_piece && a->picket == b->picket && a->round == b->round;
  bool words = a->measured == b->measured && a->stagger == b->stagger && a->turn == b->turn && a->inches == b->inches
               && a->paper == b->paper && a->csv_style == b->csv_style && a->by == b->by;
  bool numbers = a->rails == b->rails && a->rails_given == b->rails_given && a->join_cost == b->join_cost
                 && a->post_cost == b->post_cost && a->tax == b->tax && a->revision == b->revision
                 && a->time_limit == b->time_limit;
  bool stock = a->stock_lengths_given == b->stock_lengths_given && a->stock_length_count == b->stock_length_count
               && memcmp (a->stock_lengths, b->stock_lengths, a->stock_length_count * sizeof a->stock_lengths[0]) == 0;
  return lengths && words && numbers && stock && same_names (a->job, b->job) && same_names (a->date, b->date);
}
