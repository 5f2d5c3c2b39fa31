/* check_sheet.c - the sheet to carry on site
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "job/job_warning.h"
#include "base/memory.h"
#include "plan/plan.h"
#include "base/report.h"
#include "csv/table.h"
#include "base/text.h"

#include "suite.h"

#include <ctype.h>
#include <dirent.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static char folder[] = "/tmp/check-sheet-XXXXXX";
static char path[512];
static sw_report *report;
static sw_settings *settings;
static sw_job *job;
static sw_plan *plan;

/* ---- Jobs and files -------------------------------------------------------- */

static const char *
in_folder (const char *name)
{
  snprintf (path, sizeof path, "%s/%s", folder, name);
  return path;
}

static void
empty_folder (void)
{
  DIR *dir = opendir (folder);
  ck_assert_ptr_nonnull (dir);
  for (struct dirent *entry = readdir (dir); entry != NULL; entry = readdir (dir))
    if (entry->d_name[0] != '.' || strlen (entry->d_name) > 2)
      unlink (in_folder (entry->d_name));
  closedir (dir);
}

static void
setup (void)
{
  memcpy (folder + strlen (folder) - 6, "XXXXXX", 6);
  ck_assert_ptr_nonnull (mkdtemp (folder));
  report = sw_report_new ();
  settings = sw_settings_new ();
  job = NULL;
  plan = NULL;
}

static void
teardown (void)
{
  sw_plan_free (plan);
  sw_job_free (job);
  sw_settings_free (settings);
  sw_report_free (report);
  empty_folder ();
  rmdir (folder);
}

/* NULL: no such file. */
static char *
write_input (const char *name, const char *text)
{
  if (text == NULL)
    return NULL;
  FILE *file = fopen (in_folder (name), "wb");
  ck_assert_ptr_nonnull (file);
  ck_assert_uint_eq (fwrite (text, 1, strlen (text), file), strlen (text));
  fclose (file);
  return sw_copy_text (path);
}

/* Read and plan a job of these files. */
static void
make_plan (const char *spans, const char *levels, const char *sections, const char *extras)
{
  char *names[] = { write_input ("spans.csv", spans), write_input ("levels.csv", levels),
                    write_input ("sections.csv", sections), write_input ("extras.csv", extras) };
  sw_sources sources = { .spans = names[0], .levels = names[1], .sections = names[2], .extras = names[3] };
  sw_status status = sw_job_read (&job, &sources, settings, report);
  if (status == SW_OK)
    status = sw_plan_make (&plan, job, NULL, report);
  const sw_remark *remark = sw_report_get (report, 0);
  ck_assert_msg (status == SW_OK, "no plan: %s", remark != NULL ? remark->message : sw_status_text (status));
  for (int i = 0; i < 4; i++)
    free (names[i]);
}

#ifdef HAVE_SHEET

static void
set (const char *key, const char *value)
{
  ck_assert_int_eq (sw_settings_set (settings, key, value, report), SW_OK);
}

/* The bytes of a file of the folder, a 0 behind them; the test fails where there is none. */
static char *
read_file (const char *name, size_t *count)
{
  FILE *file = fopen (in_folder (name), "rb");
  ck_assert_msg (file != NULL, "no %s", name);
  sw_text text = { 0 };
  char buffer[4096];
  size_t got;
  while ((got = fread (buffer, 1, sizeof buffer, file)) > 0)
    sw_text_add_bytes (&text, buffer, got);
  fclose (file);
  *count = text.length;
  char *bytes = sw_text_take (&text);
  ck_assert_ptr_nonnull (bytes);
  return bytes;
}

static size_t
svg_pages (void)
{
  size_t pages = 0;
  char name[64];
  do
    snprintf (name, sizeof name, "sheet-%zu.svg", ++pages);
  while (access (in_folder (name), F_OK) == 0);
  return pages - 1;
}

/* White space of any length as one space, so that broken lines do not matter. */
static void
squeeze (char *text)
{
  char *to = text;
  for (const char *from = text; *from != '\0'; from++)
    if (!isspace ((unsigned char)*from))
      *to++ = *from;
    else if (to == text || to[-1] != ' ')
      *to++ = ' ';
  *to = '\0';
}

/* What can be read in sheet.pdf, *PAGES how many pages it has; NULL, loudly, without pdftotext (Debian: poppler-utils).
 */
static char *
pdf_text (size_t *pages)
{
  char command[600];
  if (system ("command -v pdftotext >/dev/null 2>&1") != 0)
    {
      fprintf (stderr, "\nSKIPPED: what is written in sheet.pdf; pdftotext is missing (Debian: poppler-utils)\n\n");
      return NULL;
    }
  snprintf (command, sizeof command, "pdftotext -raw '%s/sheet.pdf' '%s/sheet.txt'", folder, folder);
  ck_assert_int_eq (system (command), 0);
  size_t count;
  char *text = read_file ("sheet.txt", &count);
  *pages = 0;
  for (size_t i = 0; i < count; i++)
    *pages += text[i] == '\f' ? 1 : 0;
  squeeze (text);
  return text;
}

static void
write_sheet (bool svg)
{
  ck_assert_int_eq (sw_sheet_write (plan, folder, svg, report), SW_OK);
}

/* Every label that cuts.csv has can be read in TEXT. */
static void
check_labels (const char *text)
{
  sw_table *table;
  ck_assert_int_eq (sw_plan_table (plan, SW_TABLE_CUTS, &table), SW_OK);
  int column = sw_table_find (table, "piece");
  ck_assert_int_ge (column, 0);
  ck_assert_uint_eq (sw_table_rows (table), plan->piece_count);
  for (size_t row = 0; row < sw_table_rows (table); row++)
    {
      const char *label = sw_table_cell (table, row, (size_t)column);
      sw_text shown = { 0 };
      sw_text_add_shown (&shown, label, strlen (label));
      char *wanted = sw_text_take (&shown);
      ck_assert_ptr_nonnull (wanted);
      squeeze (wanted);
      ck_assert_msg (strstr (text, wanted) != NULL, "label not on the sheet: %s", wanted);
      free (wanted);
    }
  sw_table_free (table);
}

static size_t
count_of (const char *text, const char *part)
{
  size_t count = 0;
  for (const char *at = strstr (text, part); at != NULL; at = strstr (at + 1, part))
    count++;
  return count;
}

static const char corner_spans[] = "run,span,rise,opening,start,finish\n"
                                   "front,2400,,,,\nfront,2395,,,,\nfront,2405,,,,\nfront,1000,,yes,,\n"
                                   "front,2400,,,housed 33,\nfront,2390,,,,mitre 90\n"
                                   "side,2380,150,,mitre 90,\nside,2400,150,,,\nside,2400,,,,\nside,2410,-100,,,\n";
static const char corner_levels[] = "level,section,runs,gap,height,blocks,block_length\n"
                                    "plinth,150x25,between,4,0,2,150\n"
                                    "low rail,75x38,through,,250,,\nhigh rail,75x38,through,,900,,\n";
static const char corner_sections[] = "section,width,thickness,description\n"
                                      "150x25,150,25,H4 plinth\n75x38,75,38,H3 rail\n";
static const char corner_extras[] = "label,section,length,quantity\ngate ledge,75x38,850,3\n";

static void
make_corner (void)
{
  make_plan (corner_spans, corner_levels, corner_sections, corner_extras);
}

/* ---- Tests ----------------------------------------------------------------- */

/* Each label, the order, the proof, ends, rises, marks: all can be read. */
START_TEST (everything_is_written)
{
  static const char *const wanted[] = {
    "Order and totals", "PROOF",   "CARE",      "A Run front",           "B Run side",       "gate",
    "saw 45\302\260",   "up 150",  "down 100",  "housed 33",             "Boards",           "left over",
    "st 33",            "Key",     "250\342\200\223325", "seen from the outside,", "running distance", "ground over post 1",
    "Fixing blocks A1, 2 a bay, 150x25, 150 long:", "Hill & dale", "long point on the outer face",
    "Plan ",
  };
  size_t pages;
  set ("job", "Hill & dale");
  make_corner ();
  write_sheet (true);
  char *text = pdf_text (&pages);
  if (text == NULL)
    return;
  check_labels (text);
  for (size_t i = 0; i < sizeof wanted / sizeof *wanted; i++)
    ck_assert_msg (strstr (text, wanted[i]) != NULL, "not on the sheet: %s", wanted[i]);
  /* At the foot of their pages, or of the one that has both. */
  ck_assert (strstr (text, "runs front and side Plan ") != NULL
             || (strstr (text, "run front Plan ") != NULL && strstr (text, "run side Plan ") != NULL));
  ck_assert_uint_eq (pages, svg_pages ());
  char last[64];
  snprintf (last, sizeof last, "page %zu of %zu", pages, pages);
  ck_assert_ptr_nonnull (strstr (text, last));
  free (text);
}
END_TEST

/* However long the job's name, it stands once in full, and what is to be minded is not torn apart. */
START_TEST (long_job_name)
{
  static const char name[] = "the fence along the creek from the old mill down to the ford, then up the hill to the"
                             " orchard, and back along the lane to the gate of the yard";
  size_t pages;
  set ("job", name);
  make_corner ();
  write_sheet (false);
  char *text = pdf_text (&pages);
  if (text == NULL)
    return;
  /* At the foot of a page its end is hidden, but a reader of the file may find it there. */
  ck_assert_uint_ge (count_of (text, "the gate of the yard"), 1);
  ck_assert_uint_le (count_of (text, "the gate of the yard"), pages + 1);
  const char *care = strstr (text, "CARE");
  const char *last = strstr (text, "not the design of a structure");
  ck_assert_ptr_nonnull (care);
  ck_assert_ptr_nonnull (last);
  ck_assert_ptr_null (memchr (care, '\f', (size_t)(last - care)));
  free (text);
}
END_TEST

/* Boards that are sawn alike are drawn once, and each has its own number. */
START_TEST (equal_boards_are_drawn_once)
{
  size_t pages;
  make_plan (NULL, NULL, NULL, "label,section,length,quantity\nbeam,rail,4700,7\n");
  ck_assert_uint_eq (plan->board_count, 7);
  write_sheet (false);
  char *text = pdf_text (&pages);
  if (text == NULL)
    return;
  check_labels (text);
  const char *boards = strstr (text, "Boards cut from left to right");
  ck_assert_ptr_nonnull (boards);
  /* As its length, and as where the tape is at the cut. */
  ck_assert_uint_eq (count_of (boards, "4700"), 2);
  ck_assert_ptr_nonnull (strstr (boards, "7 alike"));
  /* No run: the order and the boards are all there is. */
  ck_assert_uint_eq (pages, 2);
  ck_assert_ptr_null (strstr (text, "seen from the outside"));
  free (text);
}
END_TEST

START_TEST (same_plan_same_bytes)
{
  char *first[32], name[64];
  size_t count[32];
  make_corner ();
  write_sheet (true);
  size_t pages = svg_pages ();
  ck_assert_uint_ge (pages, 4);
  ck_assert_uint_lt (pages, 32);
  for (size_t i = 0; i <= pages; i++)
    {
      snprintf (name, sizeof name, "sheet-%zu.svg", i);
      first[i] = read_file (i == 0 ? "sheet.pdf" : name, &count[i]);
    }
  ck_assert_int_eq (memcmp (first[0], "%PDF-", 5), 0);
  /* A date would make the second differ only a second later. */
  ck_assert_ptr_null (memmem (first[0], count[0], "CreationDate", 12));
  write_sheet (true);
  for (size_t i = 0; i <= pages; i++)
    {
      size_t again;
      snprintf (name, sizeof name, "sheet-%zu.svg", i);
      char *second = read_file (i == 0 ? "sheet.pdf" : name, &again);
      ck_assert_msg (again == count[i] && memcmp (first[i], second, again) == 0, "%s differs",
                     i == 0 ? "sheet.pdf" : name);
      free (second);
      free (first[i]);
    }
}
END_TEST

/* A4 is 210 by 297 mm (ISO 216), letter 8 1/2 by 11 in (ANSI/ASME Y14.1); pages lie on their side. */
START_TEST (paper_is_as_asked)
{
  static const struct
  {
    const char *paper;
    double width;
    double height;
  } papers[] = { { "a4", 297 / 25.4 * 72, 210 / 25.4 * 72 }, { "letter", 11 * 72, 8.5 * 72 } };
  double width, height;
  set ("paper", papers[_i].paper);
  make_corner ();
  write_sheet (true);
  size_t count;
  char *svg = read_file ("sheet-1.svg", &count);
  const char *at = strstr (svg, " width=\"");
  ck_assert_ptr_nonnull (at);
  ck_assert_int_eq (sscanf (at, " width=\"%lfpt\" height=\"%lfpt\"", &width, &height), 2);
  ck_assert_double_eq_tol (width, papers[_i].width, 0.02);
  ck_assert_double_eq_tol (height, papers[_i].height, 0.02);
  free (svg);
}
END_TEST

START_TEST (inches_where_asked)
{
  size_t pages;
  set ("inches", "yes");
  set ("stock-length", "16ft");
  make_plan ("run,span\nroad,8ft\nroad,8ft\nroad,94 1/2in\n", NULL, NULL, NULL);
  write_sheet (false);
  char *text = pdf_text (&pages);
  if (text == NULL)
    return;
  check_labels (text);
  ck_assert_ptr_nonnull (strstr (text, "16 ft"));
  ck_assert_ptr_nonnull (strstr (text, "94 1/2"));
  ck_assert_ptr_null (strstr (text, "2438"));
  free (text);
}
END_TEST

/* The longest names a file may hold, and names that look like markup, formats or another
 * writing direction: nothing breaks, and every label is there. */
START_TEST (awkward_names)
{
  size_t pages;
  char spans[1024], name[256];
  memset (name, 'w', sizeof name - 1);
  name[255] = '\0';
  snprintf (spans, sizeof spans,
            "run,span,bay\n%s,2400,\n%s,2400,a bay with quite a long name\n"
            "<b>unclosed & %%s,2400,<i>\n\"two\nlines\tand a tab\",1200,\n\"two\nlines\tand a tab\",180,\n"
            "\342\200\256turned,2400,\n",
            name, name);
  set ("job", "<span>&<b %n");
  make_plan (spans, NULL, NULL, "label,section,length,quantity\n</markup>,rail,700,40\n");
  write_sheet (true);
  char *text = pdf_text (&pages);
  if (text == NULL)
    return;
  /* A name of 255 wide letters is longer than a line, and the label is broken inside it. */
  ck_assert_ptr_nonnull (strstr (text, "wwwwwwwwwwwwwwww"));
  ck_assert_ptr_nonnull (strstr (text, "<b>unclosed & %s/rail 1/1-2"));
  ck_assert_ptr_nonnull (strstr (text, "two\\x0Alines\\x09and a tab/rail 2/"));
  ck_assert_ptr_nonnull (strstr (text, "\\u{202E}turned/rail 1/1-2"));
  ck_assert_ptr_nonnull (strstr (text, "</markup> 40"));
  ck_assert_ptr_nonnull (strstr (text, "<span>&<b %n"));
  free (text);
}
END_TEST

/* A run that is longer than any page: strips with the same letter at both ends of a break. */
START_TEST (long_run_breaks_with_match_marks)
{
  size_t pages;
  sw_text spans = { 0 };
  sw_text_add (&spans, "run,span\n");
  for (int i = 0; i < 120; i++)
    sw_text_printf (&spans, "boundary,%d\n", 2390 + i % 3 * 5);
  char *text = sw_text_take (&spans);
  set ("time-limit", "20");
  make_plan (text, NULL, NULL, NULL);
  free (text);
  write_sheet (true);
  text = pdf_text (&pages);
  if (text == NULL)
    return;
  check_labels (text);
  const char *runs = strstr (text, "A Run boundary");
  ck_assert_ptr_nonnull (runs);
  char *end = strstr (runs, "Boards cut from");
  ck_assert_ptr_nonnull (end);
  char after = *end;
  *end = '\0';
  /* 120 bays of 2.4 m are 288 m; at 1 : 40 a page is hardly 12 m wide, at 1 : 200 less than 58 m. */
  size_t blocks = count_of (runs, "A Run boundary");
  ck_assert_uint_ge (blocks, 288 / 58);
  ck_assert_uint_le (blocks, 288 / 7);
  for (size_t i = 0; i + 1 < blocks && i < 26; i++)
    {
      const char mark[] = { ' ', (char)('a' + i), ' ', '\0' };
      ck_assert_msg (count_of (runs, mark) == 2, "match mark %s stands %zu times", mark, count_of (runs, mark));
    }
  *end = after;
  ck_assert_ptr_nonnull (strstr (text, "page 2 of "));
  ck_assert_ptr_nonnull (strstr (text, "287400")); /* the last post's running distance */
  free (text);
}
END_TEST

/* More levels than fit one above the other, a slope, a very wide gate, hardly any bay. */
START_TEST (awkward_shapes)
{
  size_t pages;
  set ("rails", "30");
  set ("stagger", "off");
  make_plan ("run,span,rise,opening,finish\nsteep,2400,1200,,\nsteep,2400,-1800,,reach 900\n"
             "gate,90m,,yes,\ngate,2400,,,\ngate,150,,,face\n",
             NULL, NULL, NULL);
  write_sheet (true);
  char *text = pdf_text (&pages);
  if (text == NULL)
    return;
  check_labels (text);
  ck_assert_ptr_nonnull (strstr (text, "gate (drawn short)"));
  ck_assert_ptr_nonnull (strstr (text, "90000"));
  ck_assert_ptr_nonnull (strstr (text, "rail 30"));
  free (text);
}
END_TEST

/* ---- The fence as it stands ------------------------------------------------- */

static const char seat_sections[] = "section,width,thickness\n75x38,75,38\n150x25,150,25\n100x38,100,38\n";
static const char seat_levels[] = "level,section,runs,height,seat,only\nplinth,150x25,between,0,,\n"
                                  "low rail,75x38,,250,let in 20,\nhigh rail,75x38,,900,face,\n"
                                  "capping,100x38,,1200,top,\n";

/* Does a part of the sheet begin in the line at LINE? */
static const char *
part_at (const char *line)
{
  static const char *const parts[][2]
      = { { "Order and totals", "Order and totals" }, { "Runs lengths ", "Runs" }, { "Boards cut from", "Boards" } };
  for (size_t i = 0; i < sizeof parts / sizeof *parts; i++)
    if (strncmp (line, parts[i][0], strlen (parts[i][0])) == 0)
      return parts[i][1];
  return NULL;
}

/* Text of the sheet's part PART ("Runs"), which may begin in the middle of a page; "" without pdftotext. */
static char *
part_text (const char *part)
{
  size_t pages;
  sw_text found = { 0 };
  write_sheet (false);
  char *text = pdf_text (&pages);
  char *all = NULL;
  if (text == NULL)
    return sw_copy_text ("");
  free (text);
  /* As it was written, line by line, which squeezing took away. */
  char *raw = read_file ("sheet.txt", &pages);
  const char *here = "";
  for (char *line = raw, *end; *line != '\0'; line = end)
    {
      end = line + strcspn (line, "\f\n");
      const char *begins = part_at (line);
      here = begins != NULL ? begins : here;
      if (strcmp (here, part) == 0)
        sw_text_add_bytes (&found, line, (size_t)(end - line));
      if (strcmp (here, part) == 0)
        sw_text_add (&found, " ");
      end += *end != '\0' ? 1 : 0;
    }
  all = sw_text_take (&found);
  ck_assert_msg (all != NULL && *all != '\0', "no page of %s", part);
  squeeze (all);
  free (raw);
  return all;
}

/* Each of WANTED, of which the last is NULL, can be read in PART of the sheet. */
static void
check_part (const char *part, const char *const *wanted)
{
  char *text = part_text (part);
  for (; *text != '\0' && *wanted != NULL; wanted++)
    ck_assert_msg (strstr (text, *wanted) != NULL, "not under %s: \"%s\" in %s", part, *wanted, text);
  free (text);
}

/* Corners of 60, 90, 120, 135, 225 and 270 degrees, timber 38 thick and a capping 100 wide.
 * Saw settings and short points of A = 60, 90, 120 and 135 are the published ones of this
 * derivation: t tan ((180 - A) / 2), so 38 tan 60 = 65.8 and 100 tan 22.5 = 41.4; inside
 * corners are those of 360 - A. */
static const struct corner
{
  const char *angle;
  const char *saw;
  const char *side;
  const char *through_38;
  const char *across_100;
} corners[] = {
  { "60", "60", "outer", "65.8", "173.2" },  { "90", "45", "outer", "38", "100" },
  { "120", "30", "outer", "21.9", "57.7" },  { "135", "22.5", "outer", "15.7", "41.4" },
  { "225", "22.5", "inner", "15.7", "41.4" }, { "270", "45", "inner", "38", "100" },
};

START_TEST (corners_say_how_they_are_sawn)
{
  const struct corner *corner = &corners[_i];
  char spans[128];
  char note[128];
  char face[160];
  char edge[160];
  snprintf (spans, sizeof spans, "run,span,finish\na,2400,\na,2400,mitre %s\n", corner->angle);
  make_plan (spans, seat_levels, seat_sections, NULL);
  snprintf (note, sizeof note, "corner %s\302\260, saw %s\302\260, %s face or edge long", corner->angle, corner->saw,
            corner->side);
  snprintf (face, sizeof face,
            "finish saw %s\302\260 through the thickness, long point on the %s face, short point %s back", corner->saw,
            corner->side, corner->through_38);
  snprintf (edge, sizeof edge, "finish saw %s\302\260 across the width, long point on the %s edge, short point %s back",
            corner->saw, corner->side, corner->across_100);
  check_part ("Runs", (const char *const[]){ note, NULL });
  check_part ("Boards", (const char *const[]){ face, edge, NULL });
}
END_TEST

/* 600 in 2400 is 14 degrees; down it is as steep.  Level pieces say nothing. */
START_TEST (raked_pieces_say_their_plumb_cuts)
{
  make_plan ("run,span,rise,finish\nup,2400,600,\nup,2400,600,\ndown,2400,-600,mitre\nlevel,2400,0,\n", seat_levels,
             seat_sections, NULL);
  char *text = part_text ("Boards");
  if (*text != '\0')
    {
      ck_assert_ptr_nonnull (strstr (text, "rises 14\302\260, cut plumb across the width"));
      ck_assert_ptr_nonnull (strstr (text, "falls 14\302\260, cut plumb across the width"));
      ck_assert_ptr_nonnull (strstr (text, "rises 14\302\260, cut plumb through the thickness"));
      /* A corner's cut stands plumb, so along a raked rail the short point is 38 on the slope back: 39.2. */
      ck_assert_ptr_nonnull (strstr (text, "falls 14\302\260, cut plumb across the width; finish saw 45\302\260 "
                                           "through the thickness, long point on the outer face, short point 39.2 back"));
      ck_assert_ptr_nonnull (strstr (text, "A plumb cut leans"));
    }
  free (text);
}
END_TEST

/* A fence without any angle has no word on angles. */
START_TEST (square_cuts_are_not_explained)
{
  make_plan ("run,span\na,2400\na,2400\n", seat_levels, seat_sections, NULL);
  char *boards = part_text ("Boards");
  ck_assert_ptr_null (strstr (boards, "plumb"));
  ck_assert_ptr_null (strstr (boards, "Dashed"));
  char *runs = part_text ("Runs");
  ck_assert_ptr_null (strstr (runs, "At corners"));
  free (boards);
  free (runs);
}
END_TEST

/* Depth by seat, tops by seat: 1200 and 38 for timber laid flat that is 100 wide. */
START_TEST (seats_have_their_housings_and_tops)
{
  make_plan ("run,span,finish,opening\na,2400,,\na,2400,housed 30,\na,900,,yes\na,2400,,\n", seat_levels, seat_sections,
             NULL);
  char *text = part_text ("Runs");
  if (*text != '\0')
    {
      /* Post by post; beside the gate timber stops at the post's face, where nothing is cut out of it. */
      static const char *const wanted[] = { " 20 20 st 30 20 depth A2 ",
                                            " face face st 30 face depth A3 ",
                                            "A4 capping on top",
                                            "1200\342\200\2231238",
                                            "housed 30 (on top flush)" };
      for (size_t i = 0; i < sizeof wanted / sizeof *wanted; i++)
        ck_assert_msg (strstr (text, wanted[i]) != NULL, "%s is not in %s", wanted[i], text);
      ck_assert_ptr_null (strstr (text, "1300"));
      ck_assert_ptr_null (strstr (text, "depth A1"));
      ck_assert_ptr_null (strstr (text, "depth A4"));
    }
  free (text);
  check_part ("Order and totals", (const char *const[]){ "75x38, let in 20", "75x38, on the face", "100x38, on top",
                                                         "150x25, between posts", NULL });
}
END_TEST

/* Either side of a step has its lift of the stick; between gates and beyond them there is but one side. */
START_TEST (steps_have_two_marks)
{
  make_plan ("run,span,step,opening\nbank,2400,,\nbank,2400,200,\nbank,2390,-50,\nbank,900,25,yes\nbank,2400,,\n",
             seat_levels, seat_sections, NULL);
  check_part ("Runs", (const char *const[]){ "step up 200", "step down 50", " 0 0 0|200 200 175 175 stick lifted by ", NULL });
}
END_TEST

/* What a run lacks does not stand in its block. */
START_TEST (levels_only_where_they_are)
{
  static const char levels[] = "level,section,height,only\nlow rail,75x38,250,\nhigh rail,75x38,900,one\n"
                               "third rail,75x38,600,two; three\n";
  make_plan ("run,span\none,2400\ntwo,2400\nthree,2400\n", levels, seat_sections, NULL);
  char *text = part_text ("Runs");
  if (*text != '\0')
    {
      ck_assert_uint_eq (count_of (text, "low rail 250\342\200\223325 75x38"), 3);
      ck_assert_uint_eq (count_of (text, "high rail 900\342\200\223975 75x38"), 1);
      ck_assert_uint_eq (count_of (text, "third rail 600\342\200\223675 75x38"), 2);
      ck_assert_ptr_nonnull (strstr (text, "depth B1 B3"));
      ck_assert_ptr_null (strstr (text, "B2"));
    }
  free (text);
}
END_TEST

/* Boards that differ in the hand of their pieces only are not drawn as one. */
START_TEST (other_hands_are_other_boards)
{
  /* Faces 19 either side of the line of centres: both corners reach 19 past it. */
  make_plan ("run,span,start,finish\na,4600,reach 0,mitre 90\nb,4600,reach 0,mitre 270\n",
             "level,section,seat\nrail,75x38,let in 69\n", "section,width,thickness\n75x38,75,38\n", NULL);
  ck_assert_uint_eq (plan->piece_count, 2);
  check_part ("Boards", (const char *const[]){ "long point on the outer face", "long point on the inner face", NULL });
}
END_TEST

/* ---- Warnings --------------------------------------------------------------- */

/* What the job was warned of stands in full at the top of the first page, before the order. */
START_TEST (warnings_come_first)
{
  size_t pages;
  make_corner ();
  ck_assert_uint_ge (sw_job_warning_count (job), 1);
  write_sheet (false);
  char *text = pdf_text (&pages);
  if (text == NULL)
    return;
  const char *head = strstr (text, "Look at these first");
  const char *order = strstr (text, "TIMBER");
  ck_assert_ptr_nonnull (head);
  ck_assert_ptr_nonnull (order);
  for (size_t i = 0; i < sw_job_warning_count (job); i++)
    {
      sw_text warning = { 0 };
      sw_job_warning_add (&warning, sw_job_warning (job, i));
      ck_assert (!warning.failed);
      const char *here = strstr (text, warning.data);
      ck_assert_msg (here != NULL, "not on the sheet: %s", warning.data);
      ck_assert (head < here && here < order);
      sw_text_drop (&warning);
    }
  free (text);
}
END_TEST

/* However many there are: on as many pages as they need, and none is lost. */
START_TEST (warnings_fill_pages)
{
  size_t pages;
  sw_text levels = { 0 };
  sw_text sections = { 0 };
  sw_text_add (&levels, "level,section\n");
  sw_text_add (&sections, "section,width,thickness\n");
  /* A check that is too deep for its post is told once a section. */
  for (int i = 1; i <= 60; i++)
    {
      sw_text_printf (&levels, "level %d,section %d\n", i, i);
      sw_text_printf (&sections, "section %d,90,%d\n", i, 35 + i % 30);
    }
  char *texts[] = { sw_text_take (&levels), sw_text_take (&sections) };
  set ("stagger", "off");
  make_plan ("run,span\na,2400\n", texts[0], texts[1], NULL);
  free (texts[0]);
  free (texts[1]);
  ck_assert_uint_ge (sw_job_warning_count (job), 60);
  write_sheet (false);
  char *text = pdf_text (&pages);
  if (text == NULL)
    return;
  for (size_t i = 0; i < sw_job_warning_count (job); i++)
    {
      sw_text warning = { 0 };
      sw_job_warning_add (&warning, sw_job_warning (job, i));
      ck_assert (!warning.failed);
      ck_assert_msg (strstr (text, warning.data) != NULL, "not on the sheet: %s", warning.data);
      sw_text_drop (&warning);
    }
  ck_assert_ptr_nonnull (strstr (text, "not the design of a structure"));
  free (text);
}
END_TEST

/* Where there is nothing to look at first, nothing says so. */
START_TEST (no_warnings_no_block)
{
  make_plan ("run,span\na,2400\n", NULL, NULL, NULL);
  ck_assert_uint_eq (sw_job_warning_count (job), 0);
  char *text = part_text ("Order and totals");
  ck_assert_ptr_null (strstr (text, "Look at"));
  free (text);
}
END_TEST

/* Nothing but the files that were asked for is left behind, and what stood there is replaced. */
START_TEST (files_are_whole)
{
  make_corner ();
  free (write_input ("sheet.pdf", "an older file"));
  empty_folder ();
  free (write_input ("sheet.pdf", "an older file"));
  write_sheet (false);
  size_t count, files = 0;
  char *bytes = read_file ("sheet.pdf", &count);
  ck_assert_int_eq (memcmp (bytes, "%PDF-", 5), 0);
  ck_assert_ptr_nonnull (memmem (bytes, count, "%%EOF", 5));
  free (bytes);
  DIR *dir = opendir (folder);
  for (struct dirent *entry = readdir (dir); entry != NULL; entry = readdir (dir))
    files += strcmp (entry->d_name, ".") != 0 && strcmp (entry->d_name, "..") != 0 ? 1 : 0;
  closedir (dir);
  ck_assert_uint_eq (files, 1);
}
END_TEST

/* A page that is left of a longer sheet is told; it is the user's to remove. */
START_TEST (older_pages_are_told)
{
  char name[64];
  make_corner ();
  write_sheet (true);
  ck_assert_uint_eq (sw_report_count_of (report, SW_NOTE), 0);
  snprintf (name, sizeof name, "sheet-%zu.svg", svg_pages () + 1);
  free (write_input (name, "an older page"));
  write_sheet (true);
  ck_assert_uint_eq (sw_report_count_of (report, SW_NOTE), 1);
  ck_assert_ptr_nonnull (strstr (sw_report_get (report, sw_report_count (report) - 1)->file, name));
}
END_TEST

START_TEST (folder_that_is_a_file)
{
  make_corner ();
  ck_assert_int_eq (sw_sheet_write (plan, in_folder ("spans.csv"), false, report), SW_USAGE);
  ck_assert_uint_eq (sw_report_count_of (report, SW_FAULT), 1);
}
END_TEST

#else

START_TEST (absent)
{
  make_plan ("run,span\nroad,2400\n", NULL, NULL, NULL);
  ck_assert_int_eq (sw_sheet_write (plan, folder, true, report), SW_ABSENT);
  ck_assert_uint_eq (sw_report_count_of (report, SW_FAULT), 1);
  ck_assert_int_ne (access (in_folder ("sheet.pdf"), F_OK), 0);
}
END_TEST

#endif

int
main (void)
{
  Suite *suite = suite_create ("sheet");
  TCase *tests = tcase_create ("sheet");
  tcase_add_checked_fixture (tests, setup, teardown);
  tcase_set_timeout (tests, 120);
#ifdef HAVE_SHEET
  tcase_add_test (tests, everything_is_written);
  tcase_add_test (tests, long_job_name);
  tcase_add_test (tests, equal_boards_are_drawn_once);
  tcase_add_test (tests, same_plan_same_bytes);
  tcase_add_loop_test (tests, paper_is_as_asked, 0, 2);
  tcase_add_test (tests, inches_where_asked);
  tcase_add_test (tests, awkward_names);
  tcase_add_test (tests, long_run_breaks_with_match_marks);
  tcase_add_test (tests, awkward_shapes);
  tcase_add_loop_test (tests, corners_say_how_they_are_sawn, 0, sizeof corners / sizeof *corners);
  tcase_add_test (tests, raked_pieces_say_their_plumb_cuts);
  tcase_add_test (tests, square_cuts_are_not_explained);
  tcase_add_test (tests, seats_have_their_housings_and_tops);
  tcase_add_test (tests, steps_have_two_marks);
  tcase_add_test (tests, levels_only_where_they_are);
  tcase_add_test (tests, other_hands_are_other_boards);
  tcase_add_test (tests, warnings_come_first);
  tcase_add_test (tests, warnings_fill_pages);
  tcase_add_test (tests, no_warnings_no_block);
  tcase_add_test (tests, files_are_whole);
  tcase_add_test (tests, older_pages_are_told);
  tcase_add_test (tests, folder_that_is_a_file);
#else
  tcase_add_test (tests, absent);
#endif
  suite_add_tcase (suite, tests);
  return suite_run (suite);
}
