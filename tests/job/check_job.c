/* check_job.c - the whole input: every folder of tests/data must give what its README says
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "job/job.h"
#include "base/memory.h"
#include "remarks.h"
#include "suite.h"
#include "base/text.h"

#include <dirent.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

/* ---- README.md, folder by folder ---- */

/* A "## folder" of the README, and the lines below it that begin with "- ". */
typedef struct fixture
{
  char name[64];
  sw_text options; /* "key=value" in order, NUL after each */
  char *counts;    /* "2 runs, ..." for a good folder */
  bool usage;
  sw_text remarks; /* as remarks_list makes them */
} fixture;

static fixture *fixtures;
static size_t fixture_count;
static size_t fixture_capacity;

static const char *
data_folder (void)
{
  static char folder[4096];
  const char *source = getenv ("srcdir");
  snprintf (folder, sizeof folder, "%s/tests/data", source == NULL ? "." : source);
  return folder;
}

/* The text between the next two backticks, which is cut out of LINE.  NULL: there is none. */
static char *
next_quoted (char **line)
{
  char *start = strchr (*line, '`');
  char *end = start == NULL ? NULL : strchr (start + 1, '`');
  if (end == NULL)
    return NULL;
  *end = '\0';
  *line = end + 1;
  return start + 1;
}

static void
take_line (fixture *fixture, char *line)
{
  static const char *const kinds[] = { "fault", "warning", "note" };
  char *rest = line;
  if (strncmp (line, "with ", 5) == 0)
    for (char *option = next_quoted (&rest); option != NULL; option = next_quoted (&rest))
      sw_text_add_bytes (&fixture->options, option, strlen (option) + 1);
  else if (strncmp (line, "usage", 5) == 0)
    fixture->usage = true;
  else if (strncmp (line, "yields ", 7) == 0)
    {
      free (fixture->counts);
      fixture->counts = sw_copy_text (line + 7);
    }
  else
    {
      size_t kind = 0;
      while (kind < 3 && strncmp (line, kinds[kind], strlen (kinds[kind])) != 0)
        kind++;
      char *place = next_quoted (&rest);
      ck_assert_msg (kind < 3 && place != NULL, "README.md, %s: what is \"- %s\"?", fixture->name, line);
      sw_text_printf (&fixture->remarks, "%s %s\n", kinds[kind], place);
    }
}

static void
read_readme (void)
{
  char path[4200];
  char line[2000];
  snprintf (path, sizeof path, "%s/README.md", data_folder ());
  FILE *file = fopen (path, "r");
  ck_assert_msg (file != NULL, "%s", path);
  while (fgets (line, sizeof line, file) != NULL)
    {
      line[strcspn (line, "\n")] = '\0';
      if (strncmp (line, "## ", 3) == 0)
        {
          ck_assert_int_eq (sw_grow ((void **)&fixtures, &fixture_capacity, fixture_count + 1, sizeof *fixtures),
                            SW_OK);
          fixtures[fixture_count] = (fixture){ 0 };
          snprintf (fixtures[fixture_count].name, sizeof fixtures[0].name, "%.63s", line + 3);
          fixture_count++;
        }
      else if (fixture_count > 0 && strncmp (line, "- ", 2) == 0)
        take_line (&fixtures[fixture_count - 1], line + 2);
    }
  fclose (file);
}

static void
forget_readme (void)
{
  for (size_t i = 0; i < fixture_count; i++)
    {
      free (fixtures[i].counts);
      sw_text_drop (&fixtures[i].options);
      sw_text_drop (&fixtures[i].remarks);
    }
  free (fixtures);
  fixtures = NULL;
  fixture_count = fixture_capacity = 0;
}

/* ---- Running one ---- */

/* The path of FILE of the fixture.  NULL: there is no such file. */
static const char *
path_of (const fixture *fixture, const char *file, char path[4400])
{
  snprintf (path, 4400, "%s/%s/%s", data_folder (), fixture->name, file);
  return access (path, F_OK) == 0 ? path : NULL;
}

static char *
count_of (const sw_job *job)
{
  size_t bays = 0;
  for (size_t run = 0; run < job->fence.run_count; run++)
    bays += job->fence.runs[run].bay_count;
  sw_text text = { 0 };
  sw_text_printf (&text, "%zu runs, %zu bays, %zu levels, %zu sections, %zu stock, %zu extras%s", job->fence.run_count,
                  bays, job->levels.count, job->sections.count, job->stocks.count, job->extras.count,
                  job->priced ? ", priced" : "");
  return sw_text_take (&text);
}

static sw_status
read_fixture (const fixture *fixture, sw_report *report, sw_job **job)
{
  char path[6][4400];
  sw_settings *settings = sw_settings_new ();
  sw_status bad = SW_OK;
  char *options = fixture->options.data;
  for (size_t at = 0; at < fixture->options.length; at += strlen (options + at) + 1)
    {
      char key[64];
      snprintf (key, sizeof key, "%s", options + at);
      char *value = strchr (key, '=');
      *value++ = '\0';
      ck_assert_int_eq (sw_settings_set (settings, key, value, report), SW_OK);
    }
  if (path_of (fixture, "settings.csv", path[5]) != NULL)
    bad = sw_settings_read (settings, path[5], report);
  sw_sources sources = { .spans = path_of (fixture, "spans.csv", path[0]),
                         .levels = path_of (fixture, "levels.csv", path[1]),
                         .stock = path_of (fixture, "stock.csv", path[2]),
                         .sections = path_of (fixture, "sections.csv", path[3]),
                         .extras = path_of (fixture, "extras.csv", path[4]) };
  sw_status status = sw_job_read (job, &sources, settings, report);
  sw_settings_free (settings);
  return bad != SW_OK && status == SW_OK ? bad : status;
}

static void
run_fixture (const fixture *fixture)
{
  sw_report *report = sw_report_new ();
  sw_job *job = NULL;
  sw_status status = read_fixture (fixture, report, &job);
  bool good = strncmp (fixture->name, "good-", 5) == 0;
  remarks_expect (report, fixture->remarks.data == NULL ? "" : fixture->remarks.data, fixture->name);
  ck_assert_msg (status
                     == (good             ? SW_OK
                         : fixture->usage ? SW_USAGE
                                          : SW_REJECTED),
                 "%s: status %d", fixture->name, status);
  ck_assert_msg ((job != NULL) == good, "%s", fixture->name);
  if (good)
    {
      char *counts = count_of (job);
      ck_assert_msg (fixture->counts != NULL && strcmp (counts, fixture->counts) == 0, "%s: %s", fixture->name, counts);
      free (counts);
    }
  else
    ck_assert_msg (sw_report_count_of (report, SW_FAULT) > 0, "%s", fixture->name);
  sw_job_free (job);
  sw_report_free (report);
}

START_TEST (all_fixtures)
{
  read_readme ();
  size_t good = 0;
  for (size_t i = 0; i < fixture_count; i++)
    {
      good += strncmp (fixtures[i].name, "good-", 5) == 0;
      run_fixture (&fixtures[i]);
    }
  ck_assert_uint_ge (good, 9);
  ck_assert_uint_ge (fixture_count - good, 20);
  forget_readme ();
}
END_TEST

/* The README lists every folder. */
START_TEST (all_folders_listed)
{
  read_readme ();
  DIR *folder = opendir (data_folder ());
  ck_assert_ptr_nonnull (folder);
  size_t folders = 0;
  for (struct dirent *entry = readdir (folder); entry != NULL; entry = readdir (folder))
    {
      /* Folders of other kinds belong to other suites. */
      if (strncmp (entry->d_name, "good-", 5) != 0 && strncmp (entry->d_name, "bad-", 4) != 0)
        continue;
      folders++;
      bool listed = false;
      for (size_t i = 0; i < fixture_count; i++)
        listed |= strcmp (fixtures[i].name, entry->d_name) == 0;
      ck_assert_msg (listed, "%s is not in README.md", entry->d_name);
    }
  closedir (folder);
  ck_assert_uint_eq (folders, fixture_count);
  forget_readme ();
}
END_TEST

/* Every fault says what was expected or what is wrong, in a line that fits two rows of a terminal. */
START_TEST (messages_are_sentences)
{
  read_readme ();
  for (size_t i = 0; i < fixture_count; i++)
    {
      sw_report *report = sw_report_new ();
      sw_job *job = NULL;
      read_fixture (&fixtures[i], report, &job);
      for (size_t k = 0; k < sw_report_count (report); k++)
        {
          const sw_remark *remark = sw_report_get (report, k);
          ck_assert_msg (strlen (remark->message) >= 20 || remark->severity == SW_NOTE, "%s", remark->message);
          ck_assert_msg (strlen (remark->message) <= 260, "%s: %s", fixtures[i].name, remark->message);
          ck_assert_ptr_null (strchr (remark->message, '\n'));
        }
      sw_job_free (job);
      sw_report_free (report);
    }
  forget_readme ();
}
END_TEST

/* ---- What the README cannot say ---- */

static sw_report *report;
static sw_settings *settings;
static sw_job *job;
static char folder[64];
static char names[5][80];

static void
setup (void)
{
  report = sw_report_new ();
  settings = sw_settings_new ();
  job = NULL;
  strcpy (folder, "/tmp/spanwright-job-XXXXXX");
  ck_assert_ptr_nonnull (mkdtemp (folder));
}

static void
teardown (void)
{
  sw_job_free (job);
  sw_settings_free (settings);
  sw_report_free (report);
  for (int i = 0; i < 5; i++)
    unlink (names[i]);
  rmdir (folder);
}

/* Write TEXT unless it is NULL.  Returns the file's name, or NULL. */
static const char *
file (int number, const char *name, const char *text)
{
  snprintf (names[number], sizeof names[0], "%s/%s", folder, name);
  if (text == NULL)
    return NULL;
  FILE *out = fopen (names[number], "w");
  ck_assert_ptr_nonnull (out);
  ck_assert_int_ge (fputs (text, out), 0);
  fclose (out);
  return names[number];
}

static sw_status
read_job (const char *spans, const char *levels, const char *stock, const char *sections, const char *extras)
{
  sw_job_free (job);
  job = NULL;
  sw_report_clear (report);
  sw_sources sources = { .spans = file (0, "spans.csv", spans),
                         .levels = file (1, "levels.csv", levels),
                         .stock = file (2, "stock.csv", stock),
                         .sections = file (3, "sections.csv", sections),
                         .extras = file (4, "extras.csv", extras) };
  return sw_job_read (&job, &sources, settings, report);
}

#define SPANS "run,span\nfront,2400\nfront,2400\nfront,2400\n"

START_TEST (plain)
{
  ck_assert_int_eq (read_job (SPANS, NULL, NULL, NULL, NULL), SW_OK);
  ck_assert_uint_eq (job->levels.count, 2);
  ck_assert_str_eq (job->sections.items[0].name, "rail");
  ck_assert_uint_eq (job->stocks.count, 2);
  ck_assert (!job->priced);
  ck_assert_str_eq (job->files[SW_FILE_SPANS], names[0]);
  ck_assert_ptr_null (job->files[SW_FILE_LEVELS]);
  /* The job has a copy of the settings. */
  sw_settings_set (settings, "kerf", "7", report);
  ck_assert_int_eq (job->settings->kerf, 3 * SW_MM);
}
END_TEST

START_TEST (order_of_sections)
{
  ck_assert_int_eq (read_job (SPANS, "level,section,blocks,block_length,block_section\nl,b,1,100,c\nm,b,,,\n",
                              "section,length\nf,4.8\nc,4.8\nb,4.8\nd,4.8\na,4.8\n", "section\na\n",
                              "label,section,length\nx,d,900\n"),
                    SW_OK);
  static const char *const order[] = { "a", "b", "c", "d", "f" };
  ck_assert_uint_eq (job->sections.count, 5);
  for (size_t i = 0; i < 5; i++)
    ck_assert_str_eq (job->sections.items[i].name, order[i]);
  remarks_expect (report, "note stock.csv\n", "unused");
  remarks_say (report, "sections \"a\", \"f\"");
}
END_TEST

START_TEST (many_unused_sections)
{
  ck_assert_int_eq (
      read_job (SPANS, NULL, "section,length\nrail,4.8\na,4.8\nb,4.8\nc,4.8\nd,4.8\ne,4.8\nf,4.8\ng,4.8\n", NULL, NULL),
      SW_OK);
  remarks_say (report, "\"a\", \"b\", \"c\", \"d\", \"e\" and 2 more");
}
END_TEST

START_TEST (prices)
{
  static const char levels[] = "level,section\nl,a\nm,b\n";
  ck_assert_int_eq (read_job (SPANS, levels, "section,length,price\na,4.8,10\nb,4.8,0\nc,4.8,\n", NULL, NULL), SW_OK);
  ck_assert (job->priced);
  ck_assert_int_eq (read_job (SPANS, levels, "section,length,price\na,4.8,\nb,4.8,\nc,4.8,5\n", NULL, NULL), SW_OK);
  ck_assert (!job->priced);
  ck_assert_int_eq (read_job (SPANS, levels, "section,length,price\na,4.8,\nb,5.4,\nb,4.8,\nc,4.8,5\na,5.4,\n", NULL,
                              "label,section,length\nx,c,900\n"),
                    SW_REJECTED);
  remarks_expect (report, "fault stock.csv:2:price\nfault stock.csv:3:price\n", "mixed prices");
  /* What is only on hand needs no price. */
  ck_assert_int_eq (read_job (SPANS, levels, "section,length,price,limit,hand\na,4.8,9,,\nb,4.8,,0,9\n", NULL, NULL),
                    SW_OK);
  ck_assert (job->priced);
  for (size_t i = 0; i < job->stocks.count; i++)
    ck_assert (job->stocks.items[i].priced);
}
END_TEST

/* Prices of 0 decide nothing: all prices, those of one section, those of a section that is not in use. */
START_TEST (prices_of_nothing)
{
  static const char levels[] = "level,section\nl,a\nm,b\n";
  ck_assert_int_eq (
      read_job (SPANS, levels, "section,length,price,limit\na,4.8,5,0\na,5.4,0,\nb,4.8,0,\nc,4.8,9,\n", NULL, NULL),
      SW_OK);
  ck_assert (job->priced && job->all_free && sw_job_by_length (job));
  remarks_expect (report, "warning stock.csv:3:price\nnote stock.csv\n", "all free");
  remarks_say (report, "every price is 0, so that any plan is the cheapest");
  ck_assert_int_eq (read_job (SPANS, levels, "section,length,price\na,4.8,0\nb,4.8,2\na,5.4,0\n", NULL, NULL), SW_OK);
  ck_assert (job->priced && !job->all_free && !sw_job_by_length (job));
  remarks_expect (report, "warning stock.csv:2:price\n", "one section free");
  remarks_say (report, "every price of section \"a\" is 0");
  ck_assert_int_eq (read_job (SPANS, levels, "section,length,price\na,4.8,0\nb,4.8,2\na,5.4,1\n", NULL, NULL), SW_OK);
  ck_assert (!job->all_free);
  remarks_expect (report, "", "one length free");
  ck_assert_int_eq (read_job (SPANS, levels, "section,length\na,4.8\nb,4.8\n", NULL, NULL), SW_OK);
  ck_assert (!job->all_free && sw_job_by_length (job));
  /* Only the joins would cost money. */
  ck_assert_int_eq (sw_settings_set (settings, "join-cost", "2", report), SW_OK);
  ck_assert_int_eq (read_job (SPANS, levels, "section,length,price\na,4.8,0\nb,4.8,0\n", NULL, NULL), SW_REJECTED);
  remarks_expect (report, "warning stock.csv:2:price\nfault :join-cost\n", "joins alone");
  remarks_say (report, "needs prices over 0");
}
END_TEST

START_TEST (bearing)
{
  settings->min_bearing = 38 * SW_MM;
  /* 90 bears 45, 75 bears 37.5 (job.md, derived). */
  ck_assert_int_eq (read_job ("run,span,post_width,join,opening\n"
                              "a,2400,76,,\na,2400,75,,\na,2400,74,,\na,2400,90,,\na,2400,75,never,\na,2400,70,,\n"
                              "a,2400,70,,\na,2400,70,,yes\na,2400,75,,\nb,2400,60,,\nb,2400,100,,\n",
                              NULL, NULL, NULL, NULL),
                    SW_OK);
  remarks_expect (report, "warning spans.csv:3:post_width\nwarning spans.csv:11:post_width\n", "bearing");
  remarks_say (report, "posts 3-4, 7 of run \"a\" bear as little as 35 mm each, under the 38 mm");
  remarks_say (report, "post 2 of run \"b\" bear 30 mm each");
  /* A hair less must look like less. */
  ck_assert_int_eq (read_job ("run,span,post_width\na,2400,75.9\na,2400,\n", NULL, NULL, NULL, NULL), SW_OK);
  remarks_say (report, "post 2 of run \"a\" bear 37.95 mm each, under the 38 mm");
  ck_assert_int_eq (
      read_job ("run,span,post_width\na,2400,50\na,2400,50\n", "level,section,runs\np,x,between\n", NULL, NULL, NULL),
      SW_OK);
  remarks_expect (report, "", "no through level");
}
END_TEST

/* If no row gives a width, the setting that it comes from is to blame. */
START_TEST (bearing_on_posts_by_a_setting)
{
  static const char spans[] = "run,span,post_width\na,2400,\na,2400,70\na,2400,\nb,2400,75\nb,2400,\n";
  ck_assert_int_eq (sw_settings_set (settings, "post-width", "70", report), SW_OK);
  ck_assert_int_eq (read_job (spans, NULL, NULL, NULL, NULL), SW_OK);
  remarks_expect (report, "warning :post-width\nwarning spans.csv:5:post_width\n", "on the command line");
  remarks_say (report, "posts 2-3 of run \"a\" bear as little as 35 mm each, under the 38 mm");
  sw_settings_free (settings);
  settings = sw_settings_new ();
  const char *name = file (4, "extras.csv", "key,value\npost_width,70\n");
  ck_assert_int_eq (sw_settings_read (settings, name, report), SW_OK);
  sw_report_clear (report);
  sw_job_free (job);
  job = NULL;
  sw_sources sources = { .spans = file (0, "spans.csv", "run,span\na,2400\na,2400\n") };
  ck_assert_int_eq (sw_job_read (&job, &sources, settings, report), SW_OK);
  remarks_expect (report, "warning extras.csv:2:post-width\n", "in a settings file");
  sw_settings_free (settings);
  settings = sw_settings_new ();
  ck_assert_int_eq (sw_settings_set (settings, "min-bearing", "60", report), SW_OK);
  ck_assert_int_eq (read_job ("run,span\na,2400\na,2400\n", NULL, NULL, NULL, NULL), SW_OK);
  remarks_expect (report, "warning :min-bearing\n", "no width at all");
}
END_TEST

START_TEST (long_list_of_posts)
{
  sw_text spans = { 0 };
  sw_text_add (&spans, "run,span,post_width\n");
  for (int i = 0; i < 60; i++)
    sw_text_printf (&spans, "a,2400,%d\n", i % 2 == 0 ? 50 : 100);
  char *text = sw_text_take (&spans);
  ck_assert_int_eq (read_job (text, NULL, NULL, NULL, NULL), SW_OK);
  remarks_expect (report, "warning spans.csv:2:post_width\n", "long list");
  remarks_say (report, "posts 2, 4, 6, 8, 10, 12, 14, 16, 18, 20, 22, 24 ... of run");
  free (text);
}
END_TEST

/* Names that differ in letter case or spaces only. */
START_TEST (names_that_are_alike)
{
  ck_assert_int_eq (read_job ("run,span\nfront,2400\nFront,2400\nrear\xc2\xa0side,2400\nRearSide,2400\nfronts,2400\n",
                              "level,section\ntop rail,a\nTop  Rail,B\nlow,A\n",
                              "section,length\nb,4.8\na,4.8\nA,4.8\nB,4.8\n", "section,width\nb,90\n", NULL),
                    SW_OK);
  remarks_expect (report,
                  "warning spans.csv:3:run\nwarning spans.csv:5:run\nwarning levels.csv:3:level\n"
                  "warning levels.csv:3:section\nwarning levels.csv:4:section\nnote stock.csv\n",
                  "alike");
  remarks_say (report, "\"Front\" is taken for another run than \"front\" on line 2, though only letter case or spaces "
                       "differ; if one is meant, write it the same way");
  remarks_say (report, "\"Top  Rail\" is taken for another level than \"top rail\" on line 2, though");
  remarks_say (report, "\"B\" is taken for another section than \"b\", though");
  remarks_say (report, "\"A\" is taken for another section than \"a\" on line 2, though");
  /* Default rails stand in no file. */
  ck_assert_int_eq (read_job (SPANS, NULL, NULL, "section,width\nRail,90\n", NULL), SW_OK);
  remarks_expect (report, "warning sections.csv:2:section\n", "rails by default");
  remarks_say (report, "\"rail\" is taken for another section than \"Rail\", though");
  /* Names in the blocks, in the extras and in the stock. */
  ck_assert_int_eq (read_job (SPANS, "level,section,blocks,block_length,block_section\nl,a,1,100,A\n",
                              "section,length\na,4.8\nA,4.8\nb,4.8\nB,4.8\nc,4.8\nC,4.8\n", NULL,
                              "label,section,length\nx,b,900\ny,B,900\n"),
                    SW_OK);
  remarks_expect (report,
                  "warning levels.csv:2:block_section\nwarning extras.csv:3:section\nwarning stock.csv:7:section\n"
                  "note stock.csv\n",
                  "blocks, extras, stock");
}
END_TEST

START_TEST (names_that_are_alike_in_other_scripts)
{
  static const struct
  {
    const char *one;
    const char *other;
    bool alike;
  } pairs[] = {
    { "Ålesund", "ålesund", true }, { "ŽIŽKOV", "žižkov", true },
    { "ĐAKOVO", "đakovo", true },   { "Северная Ёлка", "севернаяёлка", true },
    { "ΒΟΡΡΑ", "βορρα", true },     { "囲い", "囲 い", true },
    { "囲い", "囲", false },        { "×", "÷", false },
    { "a-b", "ab", false },
  };
  for (size_t i = 0; i < sizeof pairs / sizeof pairs[0]; i++)
    {
      char spans[200];
      snprintf (spans, sizeof spans, "run,span\n%s,2400\n%s,2400\n", pairs[i].one, pairs[i].other);
      ck_assert_int_eq (read_job (spans, NULL, NULL, NULL, NULL), SW_OK);
      remarks_expect (report, pairs[i].alike ? "warning spans.csv:3:run\n" : "", pairs[i].one);
    }
}
END_TEST

START_TEST (picket)
{
  ck_assert_int_eq (sw_settings_set (settings, "picket", "1800", report), SW_OK);
  ck_assert_int_eq (read_job (SPANS, NULL, NULL, "section,width\nrail,75\n", NULL), SW_OK);
  ck_assert_int_eq (job->levels.items[0].height, 150 * SW_MM);
  ck_assert_int_eq (job->levels.items[1].height, 1575 * SW_MM);
  remarks_say (report, "a third rail halfway is advised");
}
END_TEST

START_TEST (extras_alone)
{
  ck_assert_int_eq (read_job (NULL, NULL, NULL, NULL, "label,section,length\nx,d,900\n"), SW_OK);
  ck_assert_uint_eq (job->fence.run_count, 0);
  ck_assert_uint_eq (job->levels.count, 0);
  ck_assert_uint_eq (job->sections.count, 1);
  ck_assert_uint_eq (job->stocks.count, 2);
}
END_TEST

START_TEST (missing_files)
{
  sw_sources sources = { .spans = "/tmp/no/such/spans.csv", .extras = "/tmp/no/such/extras.csv" };
  ck_assert_int_eq (sw_job_read (&job, &sources, settings, report), SW_IO);
  ck_assert_ptr_null (job);
  ck_assert_uint_eq (sw_report_count_of (report, SW_FAULT), 2);
}
END_TEST

START_TEST (without_report)
{
  sw_sources sources = { .spans = file (0, "spans.csv", "run,span\na,x\n") };
  ck_assert_int_eq (sw_job_read (&job, &sources, settings, NULL), SW_REJECTED);
  sources.spans = file (0, "spans.csv", SPANS);
  ck_assert_int_eq (sw_job_read (&job, &sources, settings, NULL), SW_OK);
  sw_job_free (NULL);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("job");
  TCase *data = tcase_create ("fixtures");
  tcase_set_timeout (data, 60);
  tcase_add_test (data, all_fixtures);
  tcase_add_test (data, all_folders_listed);
  tcase_add_test (data, messages_are_sentences);
  suite_add_tcase (suite, data);
  TCase *tests = tcase_create ("job");
  tcase_add_checked_fixture (tests, setup, teardown);
  tcase_add_test (tests, plain);
  tcase_add_test (tests, order_of_sections);
  tcase_add_test (tests, many_unused_sections);
  tcase_add_test (tests, prices);
  tcase_add_test (tests, prices_of_nothing);
  tcase_add_test (tests, bearing);
  tcase_add_test (tests, bearing_on_posts_by_a_setting);
  tcase_add_test (tests, long_list_of_posts);
  tcase_add_test (tests, names_that_are_alike);
  tcase_add_test (tests, names_that_are_alike_in_other_scripts);
  tcase_add_test (tests, picket);
  tcase_add_test (tests, extras_alone);
  tcase_add_test (tests, missing_files);
  tcase_add_test (tests, without_report);
  suite_add_tcase (suite, tests);
  return suite_run (suite);
}
