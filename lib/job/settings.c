/* settings.c - the options of a job: their keys, how each is read, and their defaults
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "job/settings.h"
#include "job/settings_parts.h"
#include "base/memory.h"

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* A limit on what can be carried is longer; a shorter one lacks its unit. */
#define SHORTEST_LIMIT (100 * SW_MM)
/* Nobody cuts more coarsely than to about half an inch; more is a wrong unit. */
#define COARSEST_ROUND (25 * SW_MM)
/* No post-and-rail fence has longer ones: more is a wrong unit. */
#define LONGEST_BAY (20 * SW_METRE)
#define JOB_NAME_BYTES 400
#define MOST_REVISION 1000000
/* Room for "Wednesday 30 September 2026, after the second delivery" in any script. */
#define DATE_BYTES 160
#define OUTER_SPACES " \t"
#define LONGEST_TIME 10000000 /* seconds: about four months */

/* A setting's key, and how its value is read.  On SW_REJECTED, READ leaves the settings as they
 * were and puts the phrase of value.h into EXPECTED. */
typedef struct key
{
  const char *name;
  sw_status (*read) (sw_settings *settings, const struct key *key, const char *text, bool comma,
                     char expected[SW_PHRASE]);
  size_t offset; /* of the length or the name in sw_settings */
  sw_length min;
  sw_length max; /* for a name: in bytes */
} key;

static sw_status
verdict (bool good)
{
  return good ? SW_OK : SW_REJECTED;
}

/* The bit of KEY in sw_settings: it goes by the key's place in the list. */
static uint64_t bit_of (const key *key);

/* Remember whether TEXT, which has been read as a length, has no unit. */
static void
note_unit (sw_settings *settings, const key *key, const char *text)
{
  bool bare = text[strspn (text, "-+0123456789.,; ")] == '\0' && text[strspn (text, "-+0.,; ")] != '\0';
  settings->bare = bare ? settings->bare | bit_of (key) : settings->bare & ~bit_of (key);
}

static sw_status
read_length (sw_settings *settings, const key *key, const char *text, bool comma, char expected[SW_PHRASE])
{
  sw_length *where = (sw_length *)(void *)((char *)settings + key->offset);
  bool good = sw_value_length (text, SW_BARE_MM, comma, key->min, key->max, where, expected);
  if (good)
    note_unit (settings, key, text);
  return verdict (good);
}

/* Read a length that "none" switches off; 0 stands for none. */
static sw_status
read_length_or_none (sw_settings *settings, const key *key, const char *text, bool comma, char expected[SW_PHRASE])
{
  sw_length *where = (sw_length *)(void *)((char *)settings + key->offset);
  if (sw_same_word (text, "none"))
    {
      *where = 0;
      note_unit (settings, key, "");
      return SW_OK;
    }
  return read_length (settings, key, text, comma, expected);
}

static sw_status
read_measured (sw_settings *settings, const key *key, const char *text, bool comma, char expected[SW_PHRASE])
{
  static const char *const choices[] = { "centres", "clear", "centers" };
  size_t choice;
  (void)key;
  (void)comma;
  /* This spelling is read but not offered. */
  if (sw_same_word (text, choices[2]))
    choice = 0;
  else if (!sw_value_choice (text, choices, 2, &choice, expected))
    return SW_REJECTED;
  settings->measured = choice == 0 ? SW_MEASURED_CENTRES : SW_MEASURED_CLEAR;
  return SW_OK;
}

static sw_status
read_rails (sw_settings *settings, const key *key, const char *text, bool comma, char expected[SW_PHRASE])
{
  int64_t rails;
  (void)key;
  (void)comma;
  if (!sw_value_whole (text, 1, SW_SETTINGS_MAX_RAILS, &rails, expected))
    return SW_REJECTED;
  settings->rails = (int)rails;
  settings->rails_given = true;
  return SW_OK;
}

static sw_status
read_stock_lengths (sw_settings *settings, const key *key, const char *text, bool comma, char expected[SW_PHRASE])
{
  sw_length lengths[SW_SETTINGS_MAX_STOCK];
  size_t count;
  sw_status status = sw_settings_lengths (text, comma, lengths, &count, expected);
  if (status != SW_OK)
    return status;
  memcpy (settings->stock_lengths, lengths, count * sizeof lengths[0]);
  settings->stock_length_count = count;
  settings->stock_lengths_given = true;
  note_unit (settings, key, text);
  settings->stock_meant[0] = '\0';
  if (!comma)
    sw_settings_meant (text, settings->stock_meant);
  return SW_OK;
}

static sw_status
read_join_cost (sw_settings *settings, const key *key, const char *text, bool comma, char expected[SW_PHRASE])
{
  (void)key;
  return verdict (sw_value_money (text, comma, &settings->join_cost, expected));
}

static sw_status
read_post_cost (sw_settings *settings, const key *key, const char *text, bool comma, char expected[SW_PHRASE])
{
  (void)key;
  return verdict (sw_value_money (text, comma, &settings->post_cost, expected));
}

static sw_status
read_stagger (sw_settings *settings, const key *key, const char *text, bool comma, char expected[SW_PHRASE])
{
  static const char *const choices[] = { "prefer", "require", "off" };
  size_t choice;
  (void)key;
  (void)comma;
  if (!sw_value_choice (text, choices, 3, &choice, expected))
    return SW_REJECTED;
  settings->stagger = (sw_stagger)choice;
  return SW_OK;
}

static sw_status
read_turn (sw_settings *settings, const key *key, const char *text, bool comma, char expected[SW_PHRASE])
{
  static const char *const choices[] = { "keep", "off" };
  size_t choice;
  (void)key;
  (void)comma;
  if (!sw_value_choice (text, choices, 2, &choice, expected))
    return SW_REJECTED;
  settings->turn = (sw_turn)choice;
  return SW_OK;
}

/* Read a tax in per cent, with or without the sign, as millionths of the price. */
static sw_status
read_tax (sw_settings *settings, const key *key, const char *text, bool comma, char expected[SW_PHRASE])
{
  (void)key;
  if (sw_same_word (text, "none"))
    {
      settings->tax = -1;
      return SW_OK;
    }
  char figure[32];
  size_t length = strlen (text);
  if (length > 0 && text[length - 1] == '%')
    length--;
  while (length > 0 && text[length - 1] == ' ')
    length--;
  if (length >= sizeof figure)
    length = 0;
  memcpy (figure, text, length);
  figure[length] = '\0';
  return verdict (sw_value_decimal (figure, comma, 4, 0, 100, &settings->tax, expected));
}

/* Read a text of at most key->max bytes.  A blank one becomes NULL. */
static sw_status
read_name (sw_settings *settings, const key *key, const char *text, bool comma, char expected[SW_PHRASE])
{
  char **where = (char **)(void *)((char *)settings + key->offset);
  (void)comma;
  if ((int64_t)strlen (text) > key->max || !sw_value_is_utf8 (text))
    {
      snprintf (expected, SW_PHRASE, "a %s in UTF-8 of at most %" PRId64 " bytes",
                key->offset == offsetof (sw_settings, job) ? "name" : "date", key->max);
      return SW_REJECTED;
    }
  char *name = NULL;
  /* Outer spaces are skipped here, too, because values from a file have none. */
  text += strspn (text, OUTER_SPACES);
  if (*text != '\0')
    {
      name = sw_copy_text (text);
      if (name == NULL)
        return SW_NO_MEMORY;
      size_t length = strlen (name);
      while (strchr (OUTER_SPACES, name[length - 1]) != NULL)
        name[--length] = '\0';
    }
  free (*where);
  *where = name;
  return SW_OK;
}

static sw_status
read_inches (sw_settings *settings, const key *key, const char *text, bool comma, char expected[SW_PHRASE])
{
  static const char *const choices[] = { "no", "yes" };
  size_t choice = 1;
  (void)key;
  (void)comma;
  /* An option that stands alone means yes. */
  if (*text != '\0' && !sw_value_choice (text, choices, 2, &choice, expected))
    return SW_REJECTED;
  settings->inches = choice == 1;
  return SW_OK;
}

static sw_status
read_paper (sw_settings *settings, const key *key, const char *text, bool comma, char expected[SW_PHRASE])
{
  static const char *const choices[] = { "a4", "letter" };
  size_t choice;
  (void)key;
  (void)comma;
  if (!sw_value_choice (text, choices, 2, &choice, expected))
    return SW_REJECTED;
  settings->paper = choice == 0 ? SW_PAPER_A4 : SW_PAPER_LETTER;
  return SW_OK;
}

static sw_status
read_time_limit (sw_settings *settings, const key *key, const char *text, bool comma, char expected[SW_PHRASE])
{
  (void)key;
  if (sw_same_word (text, "none"))
    {
      settings->time_limit = -1;
      return SW_OK;
    }
  return verdict (sw_value_decimal (text, comma, 3, 0, LONGEST_TIME, &settings->time_limit, expected));
}

static sw_status
read_csv_style (sw_settings *settings, const key *key, const char *text, bool comma, char expected[SW_PHRASE])
{
  static const char *const choices[] = { "comma", "semicolon" };
  size_t choice;
  (void)key;
  (void)comma;
  if (!sw_value_choice (text, choices, 2, &choice, expected))
    return SW_REJECTED;
  settings->csv_style = choice == 0 ? SW_CSV_COMMA : SW_CSV_SEMICOLON;
  return SW_OK;
}

static sw_status
read_by (sw_settings *settings, const key *key, const char *text, bool comma, char expected[SW_PHRASE])
{
  static const char *const choices[] = { "length", "run" };
  size_t choice;
  (void)key;
  (void)comma;
  if (!sw_value_choice (text, choices, 2, &choice, expected))
    return SW_REJECTED;
  settings->by = choice == 0 ? SW_BY_LENGTH : SW_BY_RUN;
  return SW_OK;
}

static sw_status
read_revision (sw_settings *settings, const key *key, const char *text, bool comma, char expected[SW_PHRASE])
{
  (void)key;
  (void)comma;
  return verdict (sw_value_whole (text, 0, MOST_REVISION, &settings->revision, expected));
}

/* All keys.  The place of a key is its bit in sw_settings.given and sw_settings.bare. */
static const key keys[] = {
  { "kerf", read_length, offsetof (sw_settings, kerf), 0, 20 * SW_MM },
  { "end-trim", read_length, offsetof (sw_settings, end_trim), 0, SW_METRE },
  { "post-width", read_length, offsetof (sw_settings, post_width), SW_LENGTH_OVER_0, 2 * SW_METRE },
  { "measured", read_measured, 0, 0, 0 },
  { "post-depth", read_length, offsetof (sw_settings, post_depth), SW_LENGTH_OVER_0, 2 * SW_METRE },
  { "rails", read_rails, 0, 0, 0 },
  { "stock-length", read_stock_lengths, 0, 0, 0 },
  { "keep", read_length, offsetof (sw_settings, keep), 0, SW_LENGTH_MAX },
  { "min-bearing", read_length, offsetof (sw_settings, min_bearing), 0, SW_METRE },
  { "join-cost", read_join_cost, 0, 0, 0 },
  { "stagger", read_stagger, 0, 0, 0 },
  { "turn", read_turn, 0, 0, 0 },
  { "bow", read_length, offsetof (sw_settings, bow), 0, SW_METRE },
  { "max-piece", read_length_or_none, offsetof (sw_settings, max_piece), SHORTEST_LIMIT, SW_LENGTH_MAX },
  { "picket", read_length_or_none, offsetof (sw_settings, picket), SHORTEST_LIMIT, 10 * SW_METRE },
  { "round", read_length_or_none, offsetof (sw_settings, round), 0, COARSEST_ROUND },
  { "tax", read_tax, 0, 0, 0 },
  { "job", read_name, offsetof (sw_settings, job), 0, JOB_NAME_BYTES },
  { "date", read_name, offsetof (sw_settings, date), 0, DATE_BYTES },
  { "inches", read_inches, 0, 0, 0 },
  { "paper", read_paper, 0, 0, 0 },
  { "time-limit", read_time_limit, 0, 0, 0 },
  { "csv-style", read_csv_style, 0, 0, 0 },
  { "by", read_by, 0, 0, 0 },
  { "min-bay", read_length, offsetof (sw_settings, min_bay), SHORTEST_LIMIT, LONGEST_BAY },
  { "max-bay", read_length, offsetof (sw_settings, max_bay), SHORTEST_LIMIT, LONGEST_BAY },
  { "post-cost", read_post_cost, 0, 0, 0 },
  { "revision", read_revision, 0, 0, 0 },
};
#define KEYS (sizeof keys / sizeof keys[0])
_Static_assert(KEYS <= SW_SETTINGS_KEYS, "sw_settings has a bit and a line for each key");

static uint64_t
bit_of (const key *key)
{
  return (uint64_t)1 << (key - keys);
}

size_t
sw_settings_find (const char *name)
{
  char plain[32];
  size_t length = strlen (name);
  if (length >= sizeof plain)
    return SW_SETTINGS_KEYS;
  for (size_t i = 0; i <= length; i++)
    plain[i] = (char)(name[i] == '_' ? '-' : name[i]);
  for (size_t i = 0; i < KEYS; i++)
    if (sw_same_word (plain, keys[i].name))
      return i;
  return SW_SETTINGS_KEYS;
}

const char *
sw_settings_key (size_t index)
{
  return index < KEYS ? keys[index].name : NULL;
}

sw_status
sw_settings_apply (sw_settings *settings, size_t index, const char *text, bool comma, char expected[SW_PHRASE])
{
  return keys[index].read (settings, &keys[index], text, comma, expected);
}

sw_settings *
sw_settings_new (void)
{
  sw_settings *settings = sw_alloc (1, sizeof *settings);
  if (settings == NULL)
    return NULL;
  settings->kerf = 3 * SW_MM;
  settings->post_width = 100 * SW_MM;
  settings->measured = SW_MEASURED_CENTRES;
  settings->rails = 2;
  settings->stock_lengths[0] = 4800 * SW_MM;
  settings->stock_lengths[1] = 5400 * SW_MM;
  settings->stock_length_count = 2;
  settings->keep = 600 * SW_MM;
  settings->min_bearing = 38 * SW_MM;
  settings->stagger = SW_STAGGER_PREFER;
  settings->bow = 5 * SW_MM;
  settings->min_bay = 1200 * SW_MM;
  settings->max_bay = 2400 * SW_MM;
  settings->round = -1;
  settings->tax = -1;
  settings->paper = SW_PAPER_A4;
  settings->time_limit = -1;
  return settings;
}

sw_length
sw_settings_round (const sw_settings *settings)
{
  if (settings->round >= 0)
    return settings->round;
  return settings->inches ? SW_INCH / 16 : SW_MM;
}

void
sw_settings_free (sw_settings *settings)
{
  if (settings == NULL)
    return;
  free (settings->job);
  free (settings->date);
  free (settings->file);
  sw_report_free (settings->warnings);
  free (settings);
}

sw_status
sw_settings_keep_warnings (sw_settings *settings, const sw_report *report, size_t first)
{
  if (sw_report_count_of (report, SW_WARNING) == 0)
    return SW_OK;
  if (settings->warnings == NULL)
    settings->warnings = sw_report_new ();
  return settings->warnings != NULL ? sw_report_copy (settings->warnings, report, first, SW_WARNING) : SW_NO_MEMORY;
}

sw_settings *
sw_settings_copy (const sw_settings *settings)
{
  sw_settings *copy = sw_alloc (1, sizeof *copy);
  if (copy == NULL)
    return NULL;
  *copy = *settings;
  copy->job = settings->job != NULL ? sw_copy_text (settings->job) : NULL;
  copy->date = settings->date != NULL ? sw_copy_text (settings->date) : NULL;
  copy->file = settings->file != NULL ? sw_copy_text (settings->file) : NULL;
  copy->warnings = NULL;
  bool copied = (copy->job == NULL) == (settings->job == NULL) && (copy->date == NULL) == (settings->date == NULL)
                && (copy->file == NULL) == (settings->file == NULL);
  if (copied && sw_settings_keep_warnings (copy, settings->warnings, 0) == SW_OK)
    return copy;
  sw_settings_free (copy);
  return NULL;
}

sw_status
sw_settings_set (sw_settings *settings, const char *key, const char *value, sw_report *report)
{
  char shown[SW_SHOWN];
  size_t index = sw_settings_find (key);
  if (index == SW_SETTINGS_KEYS)
    {
      sw_show_text (key, shown);
      sw_report_add (report, SW_FAULT, NULL, 0, NULL, "no setting is called \"%s\"", shown);
      return SW_USAGE;
    }
  char expected[SW_PHRASE] = "";
  sw_status status = keys[index].read (settings, &keys[index], value, false, expected);
  if (status == SW_OK)
    {
      settings->given |= (uint64_t)1 << index;
      settings->lines[index] = 0;
    }
  else if (status == SW_REJECTED)
    {
      sw_show_text (value, shown);
      sw_report_add (report, SW_FAULT, NULL, 0, keys[index].name, "expected %s, found \"%s\"", expected, shown);
    }
  return status;
}
