/* compare_choice.c - reads what the choices of a comparison may buy
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "compare/compare.h"

#include "base/decimal.h"
#include "base/memory.h"
#include "csv/value.h"

#include <stdlib.h>
#include <string.h>

typedef struct reading
{
  const sw_job *job;
  const char *text; /* the whole choice, for messages */
  sw_choice_made *choice;
  bool *named;  /* by section: the choice names it */
  bool plain;   /* the choice has a list without a section's name */
  bool *listed; /* by stock: a list that is for its section has its length */
  sw_report *report;
  bool wrong;
} reading;

/* ---- Which sections -------------------------------------------------------------- */

static bool
has_through (const sw_job *job)
{
  for (size_t l = 0; l < job->levels.count; l++)
    if (job->levels.items[l].through)
      return true;
  return false;
}

bool
sw_choices_mean (const sw_job *job, size_t section)
{
  const bool through = has_through (job);
  for (size_t l = 0; l < job->levels.count; l++)
    {
      const sw_level *level = &job->levels.items[l];
      if (level->section == section && (level->through || !through))
        return true;
      if (!through && level->blocks > 0 && level->block_section == section)
        return true;
    }
  for (size_t e = 0; !through && e < job->extras.count; e++)
    if (job->extras.items[e].section == section)
      return true;
  return false;
}

/* ---- Messages -------------------------------------------------------------------- */

/* A length that is a multiple of this is a whole number of millionths of an inch (each 25.4 nm). */
#define EXACT_INCHES (SW_INCH / 200000)

static void
add_stock_length (sw_text *text, const sw_job *job, sw_length length)
{
  char number[SW_LENGTH_TEXT];
  const bool feet = length % (12 * SW_INCH) == 0;
  /* The text must read back as the same length.  Inches have six decimals; metres have as many as it takes. */
  const bool inches = job->settings->inches && length % EXACT_INCHES == 0;
  if (!inches)
    sw_decimal_format (length, 9, 1, number);
  else
    sw_length_format_inches_exact (feet ? length / 12 : length, number);
  const bool metres = job->settings->inches || length > SW_BARE_METRES * SW_METRE;
  sw_text_printf (text, "%s%s", number, feet && inches ? "ft" : inches ? "in" : metres ? "m" : "");
}

static int
by_length (const void *a, const void *b)
{
  const sw_length x = *(const sw_length *)a;
  const sw_length y = *(const sw_length *)b;
  return x < y ? -1 : x > y;
}

/* Write the distinct lengths of the stocks that WANTED holds into LENGTHS, shortest first.  LENGTHS
 * has room for one length of each stock. */
static void
distinct_lengths (const sw_job *job, const bool *wanted, sw_length *lengths, size_t *count)
{
  size_t all = 0;
  *count = 0;
  for (size_t s = 0; s < job->stocks.count; s++)
    if (wanted[s])
      lengths[all++] = job->stocks.items[s].length;
  if (all > 1)
    qsort (lengths, all, sizeof *lengths, by_length);
  for (size_t i = 0; i < all; i++)
    if (i == 0 || lengths[i] != lengths[*count - 1])
      lengths[(*count)++] = lengths[i];
}

/* Add the lengths: "4.8, 5.4". */
static sw_status
add_lengths (sw_text *text, const sw_job *job, const bool *wanted, const char *between)
{
  sw_length *lengths = sw_alloc (job->stocks.count, sizeof *lengths);
  size_t count;
  if (lengths == NULL)
    return SW_NO_MEMORY;
  distinct_lengths (job, wanted, lengths, &count);
  for (size_t i = 0; i < count; i++)
    {
      sw_text_add (text, i > 0 ? between : "");
      add_stock_length (text, job, lengths[i]);
    }
  free (lengths);
  return SW_OK;
}

static void wrong (reading *r, const char *format, ...) SW_PRINTF (2, 3);

static void
wrong (reading *r, const char *format, ...)
{
  char shown[SW_SHOWN];
  sw_text message = { 0 };
  va_list arguments;
  sw_show_text (r->text, shown);
  va_start (arguments, format);
  sw_text_vprintf (&message, format, arguments);
  va_end (arguments);
  char *text = sw_text_take (&message);
  sw_report_add (r->report, SW_FAULT, NULL, 0, NULL, "choice \"%s\": %s", shown, text != NULL ? text : "is wrong");
  free (text);
  r->wrong = true;
}

/* Report that none of the sections MEANT comes in LENGTH. */
static sw_status
not_offered (reading *r, const bool *meant, sw_length length)
{
  const sw_job *job = r->job;
  bool *wanted = sw_alloc (job->stocks.count, sizeof *wanted);
  if (wanted == NULL)
    return SW_NO_MEMORY;
  for (size_t s = 0; s < job->stocks.count; s++)
    wanted[s] = meant[job->stocks.items[s].section];
  sw_text given = { 0 };
  sw_text text = { 0 };
  add_stock_length (&given, job, length);
  sw_status status = add_lengths (&text, job, wanted, ", ");
  free (wanted);
  char *name = sw_text_take (&given);
  char *offered = sw_text_take (&text);
  if (status == SW_OK && (name == NULL || offered == NULL))
    status = SW_NO_MEMORY;
  size_t sections = 0;
  size_t section = 0;
  for (size_t s = 0; s < job->sections.count; s++)
    if (meant[s])
      {
        sections++;
        section = s;
      }
  char shown[SW_SHOWN] = "";
  if (sections == 1)
    sw_show_text (job->sections.items[section].name, shown);
  if (status == SW_OK && sections == 0)
    wrong (r, "no section is left that %s could be meant for", name);
  else if (status == SW_OK)
    wrong (r, "expected lengths that the stock offers%s%s (%s), found %s", sections == 1 ? " of " : "", shown, offered,
           name);
  free (name);
  free (offered);
  return status;
}

/* ---- Reading a choice ------------------------------------------------------------ */

/* The section that TEXT names before a "=".  *AFTER is what follows the "=".  -1: there is none.
 * The longest name counts, because a name may hold a "=" itself. */
static int
leading_section (const sw_job *job, const char *text, const char **after)
{
  int found = -1;
  size_t longest = 0;
  for (size_t s = 0; s < job->sections.count; s++)
    {
      const char *name = job->sections.items[s].name;
      size_t bytes = strlen (name);
      const char *sign = text + bytes;
      if (bytes < longest || strncmp (text, name, bytes) != 0)
        continue;
      sign += strspn (sign, " ");
      if (*sign != '=')
        continue;
      found = (int)s;
      longest = bytes;
      *after = sign + 1;
    }
  return found;
}

/* List the stocks of the sections MEANT that have a length of LIST.  Each length must be there. */
static sw_status
take_list (reading *r, const char *list, const bool *meant)
{
  sw_length lengths[SW_SETTINGS_MAX_STOCK];
  char expected[SW_PHRASE] = "";
  size_t count;
  sw_status status = sw_settings_lengths (list, false, lengths, &count, expected);
  if (status == SW_REJECTED)
    {
      char shown[SW_SHOWN];
      sw_show_text (list, shown);
      wrong (r, "expected %s, found \"%s\"", expected, shown);
      return SW_OK;
    }
  for (size_t i = 0; i < count && status == SW_OK; i++)
    {
      bool there = false;
      for (size_t s = 0; s < r->job->stocks.count; s++)
        if (meant[r->job->stocks.items[s].section] && r->job->stocks.items[s].length == lengths[i])
          there = r->listed[s] = true;
      if (!there)
        status = not_offered (r, meant, lengths[i]);
    }
  return status;
}

/* Read one part of a choice.  PART has no outer spaces. */
static sw_status
take_part (reading *r, const char *part, bool plain_now, bool *meant)
{
  const sw_job *job = r->job;
  const char *list = part;
  int section = leading_section (job, part, &list);
  const char *sign = strchr (part, '=');
  if (section < 0 && sign != NULL)
    {
      char shown[SW_SHOWN];
      if (!plain_now)
        return SW_OK; /* reported when PLAIN_NOW is set */
      sw_show_text (part, shown);
      wrong (r, "no section of this job stands before the \"=\" in \"%s\"", shown);
      return SW_OK;
    }
  /* A list without a name means the sections that no other part names, so that these lists are read last. */
  if ((section < 0) != plain_now)
    return SW_OK;
  if (section < 0 ? r->plain : r->named[section])
    {
      wrong (r, section < 0 ? "two lists without a section's name" : "a section is named twice");
      return SW_OK;
    }
  for (size_t s = 0; s < job->sections.count; s++)
    meant[s] = section < 0 ? !r->named[s] && sw_choices_mean (job, s) : s == (size_t)section;
  if (section < 0)
    r->plain = true;
  else
    r->named[section] = true;
  return take_list (r, list + strspn (list, " "), meant);
}

/* Read the parts of TEXT, which is cut up. */
static sw_status
take_parts (reading *r, char *text, bool plain_now, bool *meant)
{
  sw_status status = SW_OK;
  for (char *part = text; part != NULL && status == SW_OK && !r->wrong;)
    {
      const char *list = part;
      part += strspn (part, " ");
      list = part;
      leading_section (r->job, part, &list);
      /* A section's name may hold a ';', too.  Only a ';' after the name ends the part. */
      char *end = part + (list - part) + strcspn (list, ";");
      char *next = *end == ';' ? end + 1 : NULL;
      while (end > part && end[-1] == ' ')
        end--;
      *end = '\0';
      status = take_part (r, part, plain_now, meant);
      part = next;
    }
  return status;
}

/* Find what the choice buys from what its lists say. */
static void
settle (reading *r)
{
  const sw_job *job = r->job;
  for (size_t section = 0; section < job->sections.count; section++)
    {
      const bool chosen = r->named[section] || (r->plain && sw_choices_mean (job, section));
      bool any = false;
      for (size_t s = 0; s < job->stocks.count; s++)
        if (job->stocks.items[s].section == section)
          {
            r->choice->buys[s] = !chosen || r->listed[s];
            any = any || r->choice->buys[s];
          }
      if (!any && chosen && r->choice->lacking == SW_NONE)
        r->choice->lacking = section;
    }
}

static sw_status
read_choice (sw_choice_made *choice, const sw_job *job, const char *text, sw_report *report, bool *bad)
{
  reading r = { .job = job, .text = text, .choice = choice, .report = report };
  bool *meant = sw_alloc (job->sections.count, sizeof *meant);
  sw_status status = SW_OK;
  r.named = sw_alloc (job->sections.count, sizeof *r.named);
  r.listed = sw_alloc (job->stocks.count, sizeof *r.listed);
  if (meant == NULL || r.named == NULL || r.listed == NULL)
    status = SW_NO_MEMORY;
  for (int plain = 0; plain <= 1 && status == SW_OK && !r.wrong; plain++)
    {
      char *parts = sw_copy_text (text);
      status = parts != NULL ? take_parts (&r, parts, plain != 0, meant) : SW_NO_MEMORY;
      free (parts);
    }
  if (status == SW_OK && !r.wrong)
    settle (&r);
  *bad = *bad || r.wrong;
  free (meant);
  free (r.named);
  free (r.listed);
  return status;
}

/* ---- All of them ----------------------------------------------------------------- */

sw_status
sw_choice_begin (sw_choice_made *choice, const sw_job *job, const char *name)
{
  choice->lacking = SW_NONE;
  choice->name = sw_copy_text (name);
  choice->buys = sw_alloc (job->stocks.count, sizeof *choice->buys);
  return choice->name != NULL && choice->buys != NULL ? SW_OK : SW_NO_MEMORY;
}

/* The most choices times stocks.  Each choice has a copy of the stock and is looked up in all of it. */
#define MOST_STOCK ((size_t)1 << 20)

/* Can COUNT choices be put side by side? */
static bool
has_room (const sw_job *job, size_t count, sw_report *report)
{
  if (count <= MOST_STOCK / (job->stocks.count + 1))
    return true;
  sw_report_add (report, SW_FAULT, NULL, 0, NULL,
                 "%zu choices out of %zu rows of stock are too many to put side by side; name a few of them", count,
                 job->stocks.count);
  return false;
}

/* Make the default choices: each length that can be bought for the sections meant, and all of them together. */
static sw_status
by_default (sw_comparison *c, sw_report *report)
{
  const sw_job *job = c->job;
  bool *wanted = sw_alloc (job->stocks.count, sizeof *wanted);
  sw_length *lengths = sw_alloc (job->stocks.count, sizeof *lengths);
  size_t count = 0;
  bool bad = false;
  sw_status status = wanted != NULL && lengths != NULL ? SW_OK : SW_NO_MEMORY;
  if (status == SW_OK)
    {
      for (size_t s = 0; s < job->stocks.count; s++)
        wanted[s] = job->stocks.items[s].limit != 0 && sw_choices_mean (job, job->stocks.items[s].section);
      distinct_lengths (job, wanted, lengths, &count);
      c->choices = sw_alloc (count + 1, sizeof *c->choices);
      status = c->choices == NULL ? SW_NO_MEMORY : has_room (job, count + 1, report) ? SW_OK : SW_USAGE;
    }
  for (size_t i = 0; i < count && status == SW_OK; i++)
    {
      sw_text name = { 0 };
      add_stock_length (&name, job, lengths[i]);
      char *text = sw_text_take (&name);
      status = text != NULL ? sw_choice_begin (&c->choices[c->count++], job, text) : SW_NO_MEMORY;
      if (status == SW_OK)
        status = read_choice (&c->choices[i], job, text, report, &bad);
      free (text);
    }
  if (status == SW_OK && count != 1)
    {
      sw_text name = { 0 };
      status = add_lengths (&name, job, wanted, ",");
      char *text = sw_text_take (&name);
      if (status == SW_OK)
        status = text != NULL ? sw_choice_begin (&c->choices[c->count++], job, count == 0 ? "all" : text) : SW_NO_MEMORY;
      free (text);
      for (size_t s = 0; s < job->stocks.count && status == SW_OK; s++)
        c->choices[count].buys[s] = true;
    }
  free (wanted);
  free (lengths);
  /* A wrong default choice is a defect of the program. */
  return status == SW_OK && bad ? SW_FAILED : status;
}

static bool
same_choice (const sw_job *job, const sw_choice_made *a, const sw_choice_made *b)
{
  for (size_t s = 0; s < job->stocks.count; s++)
    if (a->buys[s] != b->buys[s])
      return false;
  return true;
}

/* Refuse a choice that occurs twice: it would be planned twice. */
bool
sw_choices_twice (const sw_comparison *c, sw_report *report)
{
  bool twice = false;
  for (size_t i = 1; i < c->count; i++)
    for (size_t j = 0; j < i; j++)
      if (same_choice (c->job, &c->choices[i], &c->choices[j]))
        {
          char one[SW_SHOWN];
          char other[SW_SHOWN];
          sw_show_text (c->choices[i].name, one);
          sw_show_text (c->choices[j].name, other);
          sw_report_add (report, SW_FAULT, NULL, 0, NULL, "choice \"%s\" is the same as \"%s\"", one, other);
          twice = true;
          break;
        }
  return twice;
}

sw_status
sw_choices_read (sw_comparison *c, const char *const *texts, size_t count, sw_report *report)
{
  bool bad = false;
  if (count == 0)
    return by_default (c, report);
  if (!has_room (c->job, count, report))
    return SW_USAGE;
  c->choices = sw_alloc (count, sizeof *c->choices);
  sw_status status = c->choices != NULL ? SW_OK : SW_NO_MEMORY;
  for (size_t i = 0; i < count && status == SW_OK; i++)
    {
      status = sw_choice_begin (&c->choices[c->count++], c->job, texts[i]);
      if (status == SW_OK)
        status = read_choice (&c->choices[i], c->job, texts[i], report, &bad);
    }
  if (status == SW_OK && !bad)
    bad = sw_choices_twice (c, report);
  return status == SW_OK && bad ? SW_USAGE : status;
}
