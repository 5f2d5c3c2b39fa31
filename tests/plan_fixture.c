/* plan_fixture.c - a job out of texts and a plan written by hand, for tests
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "plan_fixture.h"

#include "layout/layout.h"
#include "layout/take.h"
#include "base/text.h"

#include <check.h>
#include <dirent.h>
#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

/* ---- Files ---------------------------------------------------------------- */

char *
fixture_directory (void)
{
  char *directory = strdup ("fixture-XXXXXX");
  ck_assert_ptr_nonnull (mkdtemp (directory));
  return directory;
}

static char *
path_of (const char *directory, const char *name)
{
  sw_text path = { 0 };
  sw_text_printf (&path, "%s/%s", directory, name);
  return sw_text_take (&path);
}

void
fixture_remove (char *directory)
{
  DIR *names = opendir (directory);
  if (names != NULL)
    {
      for (const struct dirent *entry; (entry = readdir (names)) != NULL;)
        {
          if (strcmp (entry->d_name, ".") == 0 || strcmp (entry->d_name, "..") == 0)
            continue;
          char *path = path_of (directory, entry->d_name);
          if (unlink (path) == 0)
            free (path);
          else
            fixture_remove (path);
        }
      closedir (names);
    }
  rmdir (directory);
  free (directory);
}

size_t
fixture_names (const char *directory)
{
  size_t count = 0;
  DIR *names = opendir (directory);
  ck_assert_ptr_nonnull (names);
  while (readdir (names) != NULL)
    count++;
  closedir (names);
  return count - 2;
}

char *
fixture_bytes (const char *directory, const char *name)
{
  char *path = path_of (directory, name);
  FILE *file = fopen (path, "rb");
  free (path);
  if (file == NULL)
    return NULL;
  sw_text bytes = { 0 };
  char buffer[4096];
  for (size_t count; (count = fread (buffer, 1, sizeof buffer, file)) > 0;)
    sw_text_add_bytes (&bytes, buffer, count);
  fclose (file);
  return sw_text_take (&bytes);
}

/* ---- The job --------------------------------------------------------------- */

static void
set_all (sw_settings *settings, const char *lines, sw_report *report)
{
  char *copy = strdup (lines);
  for (char *rest = copy, *line; (line = strtok_r (rest, "\n", &rest)) != NULL;)
    {
      char *value = strchr (line, '=');
      *value++ = '\0';
      ck_assert_int_eq (sw_settings_set (settings, line, value, report), SW_OK);
    }
  free (copy);
}

sw_job *
fixture_job (const fixture_texts *texts)
{
  const char *const content[] = { texts->spans, texts->levels, texts->stock, texts->sections, texts->extras,
                                  texts->yards, texts->fittings };
  char *paths[7] = { NULL };
  char *directory = fixture_directory ();
  for (int f = 0; f < 7; f++)
    if (content[f] != NULL)
      {
        char name[] = "0.csv";
        name[0] = (char)('0' + f);
        paths[f] = path_of (directory, name);
        FILE *file = fopen (paths[f], "wb");
        ck_assert_ptr_nonnull (file);
        fputs (content[f], file);
        ck_assert_int_eq (fclose (file), 0);
      }
  sw_report *report = sw_report_new ();
  sw_settings *settings = sw_settings_new ();
  if (texts->settings != NULL)
    set_all (settings, texts->settings, report);
  const sw_sources sources = { .spans = paths[0],
                               .levels = paths[1],
                               .stock = paths[2],
                               .sections = paths[3],
                               .extras = paths[4],
                               .yards = paths[5],
                               .fittings = paths[6] };
  sw_job *job = NULL;
  sw_status status = sw_job_read (&job, &sources, settings, report);
  const sw_remark *remark = sw_report_get (report, 0);
  ck_assert_msg (status == SW_OK, "the job: %s: %s", sw_status_text (status), remark != NULL ? remark->message : "");
  sw_settings_free (settings);
  sw_report_free (report);
  for (int f = 0; f < 7; f++)
    free (paths[f]);
  fixture_remove (directory);
  return job;
}

/* ---- The plan -------------------------------------------------------------- */

static sw_piece *
add_piece (sw_plan *plan, sw_piece_kind kind, size_t section, sw_length cut)
{
  plan->pieces = realloc (plan->pieces, (plan->piece_count + 1) * sizeof *plan->pieces);
  ck_assert_ptr_nonnull (plan->pieces);
  sw_piece *piece = &plan->pieces[plan->piece_count++];
  *piece = (sw_piece){ .kind = kind, .section = section, .cut = cut, .take = cut };
  piece->run = piece->level = piece->from = piece->to = piece->board = SW_NONE;
  piece->start_end = piece->finish_end = SW_END_FACE;
  return piece;
}

static void
place (const sw_job *job, const char *run_and_level, size_t *run, size_t *level)
{
  for (*run = 0; *run < job->fence.run_count; ++*run)
    for (*level = 0; *level < job->levels.count; ++*level)
      {
        char name[1024];
        snprintf (name, sizeof name, "%s/%s", job->fence.runs[*run].name, job->levels.items[*level].name);
        if (strcmp (name, run_and_level) == 0)
          return;
      }
  ck_abort_msg ("no such run and level: %s", run_and_level);
}

static void
add_label (const sw_job *job, sw_piece *piece, const char *format, int64_t a, int64_t b)
{
  sw_text label = { 0 };
  sw_text_printf (&label, "%s/%s/", job->fence.runs[piece->run].name, job->levels.items[piece->level].name);
  if (b > 0)
    sw_text_printf (&label, "%" PRId64 "-%" PRId64, a, b);
  else
    sw_text_printf (&label, "%s %" PRId64, format, a);
  piece->label = sw_text_take (&label);
}

/* Set how steep the piece lies, by its run. */
static void
set_slope (sw_piece *piece, const sw_run *run, size_t from, size_t to)
{
  sw_length rise = sw_run_height (run, to) - sw_run_height (run, from);
  piece->plumb = sw_take_plumb (sw_run_distance (run, to) - sw_run_distance (run, from), rise);
  piece->falls = rise < 0;
}

static void
add_through (sw_plan *plan, const char *where, char *ranges)
{
  const sw_job *job = plan->job;
  size_t r;
  size_t l;
  place (job, where, &r, &l);
  const sw_run *run = &job->fence.runs[r];
  for (char *range; (range = strtok_r (ranges, " ", &ranges)) != NULL;)
    {
      size_t from = strtoul (range, NULL, 10) - 1;
      size_t to = strtoul (strchr (range, '-') + 1, NULL, 10) - 1;
      sw_stretch stretch = { .run = r, .first = from, .last = to };
      while (stretch.first > 0 && run->bays[stretch.first].start.kind == SW_END_ON)
        stretch.first--;
      while (stretch.last < run->bay_count && run->bays[stretch.last - 1].finish.kind == SW_END_ON)
        stretch.last++;
      const sw_level *level = &job->levels.items[l];
      sw_piece *piece
          = add_piece (plan, SW_PIECE_THROUGH, level->section, sw_layout_cut (job, level, &stretch, from, to));
      piece->take = sw_layout_take (job, level, &stretch, from, to, piece->cut);
      piece->start_long = sw_corner_long_side (&run->bays[from].start);
      piece->finish_long = sw_corner_long_side (&run->bays[to - 1].finish);
      set_slope (piece, run, from, to);
      piece->run = r;
      piece->level = l;
      piece->from = from;
      piece->to = to;
      piece->start_end = sw_seat_end (level, run->bays[from].start.kind);
      piece->finish_end = sw_seat_end (level, run->bays[to - 1].finish.kind);
      piece->start_saw = sw_end_saw_setting (&run->bays[from].start);
      piece->finish_saw = sw_end_saw_setting (&run->bays[to - 1].finish);
      add_label (job, piece, "", (int64_t)from + 1, (int64_t)to + 1);
      plan->summary.joins += piece->finish_end == SW_END_ON ? 1 : 0;
    }
}

static void
add_between (sw_plan *plan, const char *where, bool blocks)
{
  const sw_job *job = plan->job;
  size_t r;
  size_t l;
  place (job, where, &r, &l);
  const sw_run *run = &job->fence.runs[r];
  const sw_level *level = &job->levels.items[l];
  int64_t number = 0;
  for (size_t b = 0; b < run->bay_count; b++)
    for (int64_t i = 0; !run->bays[b].opening && i < (blocks ? level->blocks : 1); i++)
      {
        sw_piece *piece = add_piece (plan, blocks ? SW_PIECE_BLOCK : SW_PIECE_BETWEEN,
                                     blocks ? level->block_section : level->section,
                                     blocks ? level->block_length : sw_layout_between_cut (job, level, run, b));
        piece->run = r;
        piece->level = l;
        if (!blocks)
          {
            piece->from = b;
            piece->to = b + 1;
            piece->take = sw_layout_between_take (job, level, run, b, piece->cut);
            set_slope (piece, run, b, b + 1);
          }
        add_label (job, piece, "block", blocks ? ++number : (int64_t)b + 1, blocks ? 0 : (int64_t)b + 2);
      }
}

static void
add_extras (sw_plan *plan)
{
  const sw_extras *extras = &plan->job->extras;
  for (size_t e = 0; e < extras->count; e++)
    for (int64_t i = 1; i <= extras->items[e].quantity; i++)
      {
        sw_piece *piece = add_piece (plan, SW_PIECE_EXTRA, extras->items[e].section, extras->items[e].length);
        sw_text label = { 0 };
        sw_text_add (&label, extras->items[e].label);
        if (extras->items[e].quantity > 1)
          sw_text_printf (&label, " %" PRId64, i);
        piece->label = sw_text_take (&label);
      }
}

static void
add_board (sw_plan *plan, const char *what, char *labels, bool hand)
{
  const sw_job *job = plan->job;
  const char *metres = strrchr (what, ' ') + 1;
  sw_length length;
  ck_assert (sw_length_parse (metres, SW_BARE_STOCK, false, &length, NULL));
  plan->boards = realloc (plan->boards, (plan->board_count + 1) * sizeof *plan->boards);
  ck_assert_ptr_nonnull (plan->boards);
  sw_board *board = &plan->boards[plan->board_count];
  *board = (sw_board){ .stock = SW_NONE, .hand = hand };
  for (size_t s = 0; s < job->stocks.count; s++)
    {
      const char *name = job->sections.items[job->stocks.items[s].section].name;
      if (job->stocks.items[s].length == length && strlen (name) == (size_t)(metres - what) - 1
          && strncmp (name, what, strlen (name)) == 0)
        board->stock = s;
    }
  ck_assert_msg (board->stock != SW_NONE, "no such stock: %s", what);
  for (char *label; (label = strtok_r (labels, ",", &labels)) != NULL;)
    {
      size_t p = 0;
      label += strspn (label, " ");
      while (p < plan->piece_count && strcmp (plan->pieces[p].label, label) != 0)
        p++;
      ck_assert_msg (p < plan->piece_count && plan->pieces[p].board == SW_NONE, "no such piece, or twice: %s", label);
      board->pieces = realloc (board->pieces, (board->piece_count + 1) * sizeof *board->pieces);
      ck_assert_ptr_nonnull (board->pieces);
      plan->pieces[p].board = plan->board_count;
      plan->pieces[p].cut_number = board->piece_count;
      board->pieces[board->piece_count++] = p;
    }
  plan->board_count++;
  board->left = sw_board_left_after (plan, board, board->piece_count);
}

/* Has LEVEL a join on POST of RUN? */
static bool
joined (const sw_plan *plan, size_t run, size_t level, size_t post)
{
  for (size_t p = 0; p < plan->piece_count; p++)
    {
      const sw_piece *piece = &plan->pieces[p];
      if (piece->kind == SW_PIECE_THROUGH && piece->run == run && piece->level == level && piece->to == post
          && piece->finish_end == SW_END_ON)
        return true;
    }
  return false;
}

static void
find_aligned (sw_plan *plan)
{
  const sw_job *job = plan->job;
  for (size_t r = 0; r < job->fence.run_count; r++)
    for (size_t post = 1; post < job->fence.runs[r].bay_count; post++)
      for (size_t l = 0, below = SW_NONE; l < job->levels.count; l++)
        {
          if (!job->levels.items[l].through)
            continue;
          const bool pair = below != SW_NONE && joined (plan, r, below, post) && joined (plan, r, l, post);
          if (pair && job->fence.runs[r].posts[post].join == SW_JOIN_ALWAYS)
            plan->summary.always++;
          else if (pair)
            {
              plan->aligned = realloc (plan->aligned, (plan->aligned_count + 1) * sizeof *plan->aligned);
              ck_assert_ptr_nonnull (plan->aligned);
              plan->aligned[plan->aligned_count++] = (sw_aligned){ r, post, below, l };
            }
          below = l;
        }
}

static void
add_up (sw_plan *plan)
{
  const sw_job *job = plan->job;
  sw_summary *sum = &plan->summary;
  find_aligned (plan);
  sum->outcome = SW_PROVED;
  sum->priced = job->priced;
  sum->boards = (int64_t)plan->board_count;
  sum->aligned = sum->aligned_bound = (int64_t)plan->aligned_count;
  for (size_t p = 0; p < plan->piece_count; p++)
    {
      ck_assert_msg (plan->pieces[p].board != SW_NONE, "%s comes from no board", plan->pieces[p].label);
      sum->used += plan->pieces[p].cut;
    }
  for (size_t b = 0; b < plan->board_count; b++)
    {
      const sw_board *board = &plan->boards[b];
      const sw_stock *stock = &job->stocks.items[board->stock];
      sum->kept += board->left >= job->settings->keep ? board->left : 0;
      if (board->hand)
        sum->from_hand += stock->length;
      else
        {
          sum->bought += stock->length;
          sum->cost += job->priced ? stock->price : stock->length;
        }
    }
  if (job->priced)
    sum->cost += sum->joins * job->settings->join_cost;
  sum->bound = sum->cost;
  plan->joins_proved = plan->boards_proved = true;
}

void
fixture_make (fixture *out, const fixture_texts *texts)
{
  out->job = fixture_job (texts);
  out->plan = calloc (1, sizeof *out->plan);
  ck_assert_ptr_nonnull (out->plan);
  out->plan->job = out->job;
  char *copy = strdup (texts->plan);
  for (char *rest = copy, *line; (line = strtok_r (rest, "\n", &rest)) != NULL;)
    {
      char *colon = strchr (line, ':');
      char *list = colon != NULL ? colon + 1 : line + strlen (line);
      if (colon != NULL)
        *colon = '\0';
      if (strncmp (line, "through ", 8) == 0)
        add_through (out->plan, line + 8, list);
      else if (strncmp (line, "between ", 8) == 0)
        add_between (out->plan, line + 8, false);
      else if (strncmp (line, "blocks ", 7) == 0)
        add_between (out->plan, line + 7, true);
      else if (strcmp (line, "extras") == 0)
        add_extras (out->plan);
      else if (strncmp (line, "board ", 6) == 0)
        add_board (out->plan, line + 6, list, false);
      else if (strncmp (line, "hand ", 5) == 0)
        add_board (out->plan, line + 5, list, true);
      else
        ck_abort_msg ("what is \"%s\"?", line);
    }
  free (copy);
  add_up (out->plan);
}

void
fixture_drop (fixture *fixture)
{
  sw_plan_free (fixture->plan);
  sw_job_free (fixture->job);
  *fixture = (struct fixture){ NULL, NULL };
}

/* Bays of 2400 between 100 mm posts, and 90x45 rails.  The rails go from the corner's long point to
 * post 3, and so on.  The gate is bay 4; one more bay is behind it. */
void
fixture_front (fixture *out)
{
  static const fixture_texts texts
      = { .spans = "run,span,start,finish,opening\n"
                   "front,2400,mitre,,\n"
                   "front,2400,,,\n"
                   "front,2400,,housed,\n"
                   "front,1000,,,yes\n"
                   "front,2400,,,\n",
          .levels = "level,section,runs,gap,height,blocks,block_length,block_section\n"
                    "plinth,150x25,between,4,0,2,150,90x45\n"
                    "rail 1,90x45,,,300,,,\n"
                    "rail 2,90x45,,,1200,,,\n",
          .stock = "section,length,price,hand\n"
                   "90x45,4.8,20.88,\n90x45,5.4,24.3,1\n150x25,4.8,15.5,\n",
          .sections = "section,width,thickness,description,density,spare\n"
                      "90x45,90,45,H3 primed pine,600,1\n150x25,150,25,,,\n",
          .extras = "label,section,length,quantity\nbrace,90x45,1300,2\n",
          .settings = "job=Front fence\ntax=10",
          .plan = "between front/plinth\n"
                  "through front/rail 1: 1-3 3-4 5-6\n"
                  "through front/rail 2: 1-2 2-4 5-6\n"
                  "blocks front/plinth\n"
                  "extras\n"
                  "board 90x45 5.4: front/rail 2/1-2, front/rail 2/5-6\n"
                  "board 90x45 4.8: front/rail 2/2-4\n"
                  "board 90x45 4.8: front/rail 1/5-6, front/rail 1/3-4\n"
                  "board 90x45 4.8: brace 1, brace 2, front/plinth/block 1, front/plinth/block 2, front/plinth/block 3,"
                  " front/plinth/block 4, front/plinth/block 5, front/plinth/block 6\n"
                  "hand 90x45 5.4: front/rail 1/1-3, front/plinth/block 7, front/plinth/block 8\n"
                  "board 150x25 4.8: front/plinth/1-2, front/plinth/2-3\n"
                  "board 150x25 4.8: front/plinth/3-4, front/plinth/5-6\n" };
  fixture_make (out, &texts);
}

/* ---- Views ----------------------------------------------------------------- */

char *
fixture_csv (const fixture *fixture, sw_table_kind kind)
{
  sw_table *table = NULL;
  char *csv = NULL;
  ck_assert_int_eq (sw_plan_table (fixture->plan, kind, &table), SW_OK);
  ck_assert_int_eq (sw_table_csv (table, &csv), SW_OK);
  sw_table_free (table);
  return csv;
}

char *
fixture_text (const fixture *fixture, unsigned parts, unsigned width)
{
  char *text = NULL;
  ck_assert_int_eq (sw_plan_text (fixture->plan, parts, width, &text), SW_OK);
  return text;
}
