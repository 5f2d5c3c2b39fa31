/* check_layout.c - where a piece may begin, end and join, and how long it is
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "layout_job.h"
#include "suite.h"

#include "base/length.h"

#include <stdlib.h>

static sw_job *job;
static sw_report *report;
static sw_layout *layout;

static void
setup (void)
{
  job = job_make ();
  report = sw_report_new ();
  layout = NULL;
}

static void
teardown (void)
{
  sw_layout_free (layout);
  sw_report_free (report);
  job_drop (job);
}

static void
lay_out (void)
{
  sw_layout_free (layout);
  sw_report_clear (report);
  sw_status status = sw_layout_new (&layout, job, report);
  const sw_remark *remark = sw_report_get (report, 0);
  ck_assert_msg (status == SW_OK, "%s: %s", sw_status_text (status), remark != NULL ? remark->message : "");
  ck_assert_uint_eq (sw_report_count (report), 0);
}

#define ck_arcs(stretch, t, expected) ck_assert_str_eq (job_arcs (layout, stretch, t), expected)

/* ---- Worked lengths ---- */

/* The end-bay trap.  A piece over two bays from centre to centre comes out of the stock, but one
 * that starts flush with the end post's outer face does not.  Derived: two spans + half a post. */
START_TEST (end_bay_trap)
{
  static const struct
  {
    sw_length stock, span, post, end_piece;
    bool fits;
  } rows[] = {
    { 4800 * SW_MM, 2400 * SW_MM, 100 * SW_MM, 4850 * SW_MM, false },
    { 4800 * SW_MM, 2350 * SW_MM, 100 * SW_MM, 4750 * SW_MM, true },
    { 5400 * SW_MM, 2700 * SW_MM, 125 * SW_MM, 5462500000, false },
    /* 16 ft stock, 3 1/2 in posts, bays of 96 in and 94 in: 193 3/4 in and 189 3/4 in. */
    { 192 * SW_INCH, 96 * SW_INCH, 7 * SW_INCH / 2, 19375 * SW_INCH / 100, false },
    { 192 * SW_INCH, 94 * SW_INCH, 7 * SW_INCH / 2, 18975 * SW_INCH / 100, true },
  };
  job_even_run (job, "road", 5, rows[_i].span, rows[_i].post);
  job_level (job, "rail 1", "rail", true);
  job_stock (job, "rail", rows[_i].stock);
  lay_out ();
  ck_assert_int_eq (sw_layout_cut (job, &job->levels.items[0], &layout->stretches[0], 0, 2), rows[_i].end_piece);
  ck_assert_int_eq (sw_layout_cut (job, &job->levels.items[0], &layout->stretches[0], 3, 5), rows[_i].end_piece);
  ck_assert_int_eq (sw_layout_cut (job, &job->levels.items[0], &layout->stretches[0], 1, 3), 2 * rows[_i].span);
  bool end_piece = false;
  bool inner_piece = false;
  for (size_t a = 0; a < layout->arc_count; a++)
    {
      end_piece = end_piece || (layout->arcs[a].from == 0 && layout->arcs[a].to == 2);
      inner_piece = inner_piece || (layout->arcs[a].from == 1 && layout->arcs[a].to == 3);
    }
  ck_assert_msg (end_piece == rows[_i].fits, "row %d", _i);
  ck_assert_msg (inner_piece, "row %d", _i);
}
END_TEST

/* Three bays of 2300 clear between four 100 mm posts: 2400 centres, 7300 overall.  Derived. */
START_TEST (three_bays_overall)
{
  job_even_run (job, "road", 3, 2400 * SW_MM, 100 * SW_MM);
  job_level (job, "plinth", "plinth", false);
  job_level (job, "capping", "capping", true);
  job_stock (job, "plinth", 2400 * SW_MM);
  job_stock (job, "capping", 7300 * SW_MM);
  lay_out ();
  ck_arcs (0, 0, "1-2 2450, 1-3 4850, 1-4 7300, 2-3 2400, 2-4 4850, 3-4 2450");
  ck_assert_uint_eq (layout->fixed_count, 3);
  for (size_t f = 0; f < 3; f++)
    ck_assert_int_eq (layout->items[layout->fixed[f].item].take, 2300 * SW_MM);
}
END_TEST

/* Length along the slope: root of span^2 + rise^2.  Derived. */
START_TEST (on_the_slope)
{
  static const struct
  {
    int span, rise;
    const char *length;
  } rows[] = { { 2400, 500, "1-2 2451.5" },
               { 2400, 250, "1-2 2413" },
               { 3000, 600, "1-2 3059.4" },
               { 3000, -600, "1-2 3059.4" },
               { 3000, 0, "1-2 3000" } };
  job_run (job, "hill", 100 * SW_MM);
  sw_bay *bay = job_bay (job, rows[_i].span * SW_MM, 100 * SW_MM);
  bay->rise = rows[_i].rise * SW_MM;
  bay->start.kind = bay->finish.kind = SW_END_CENTRE;
  job_close (job);
  job_level (job, "rail 1", "rail", true);
  job_stock (job, "rail", 4800 * SW_MM);
  lay_out ();
  ck_arcs (0, 0, rows[_i].length);
}
END_TEST

/* 3-4-5 triangles, so that the slope lengthens by exactly 5/4.  The ends are lengthened by the
 * slope of their own bay; the gap of a piece between posts is not. */
START_TEST (ends_on_the_slope)
{
  job_run (job, "hill", 100 * SW_MM);
  job_bay (job, 2000 * SW_MM, 80 * SW_MM)->rise = 1500 * SW_MM;
  job_bay (job, 1200 * SW_MM, 100 * SW_MM);
  job_close (job);
  job_level (job, "plinth", "rail", false)->gap = 6 * SW_MM;
  job_level (job, "rail 1", "rail", true);
  job_stock (job, "rail", 4800 * SW_MM);
  lay_out ();
  /* 2500 + 50 x 5/4; 1200 + 50.  No piece past the bend. */
  ck_arcs (0, 0, "1-2 2562.5, 2-3 1250");
  ck_assert_int_eq (layout->items[layout->fixed[0].item].take, 2381500000);   /* (2000 - 50 - 40) x 5/4 - 6 */
  ck_assert_int_eq (layout->items[layout->fixed[1].item].take, 1104 * SW_MM); /* 1200 - 40 - 50 - 6 */
}
END_TEST

/* ---- Ends ---- */

/* The table of ends: how far timber reaches from the centre of a 100 mm post. */
START_TEST (end_kinds)
{
  static const struct
  {
    sw_end end;
    const char *arcs; /* two bays of 2400, finish flush */
  } rows[] = {
    { { .kind = SW_END_FLUSH }, "1-2 2450, 1-3 4900, 2-3 2450" },
    { { .kind = SW_END_CENTRE }, "1-2 2400, 1-3 4850, 2-3 2450" },
    { { .kind = SW_END_FACE }, "1-2 2350, 1-3 4800, 2-3 2450" },
    { { .kind = SW_END_HOUSED, .length = 33 * SW_MM }, "1-2 2383, 1-3 4833, 2-3 2450" },
    { { .kind = SW_END_MITRE, .angle = 90000 }, "1-2 2450, 1-3 4900, 2-3 2450" },
    { { .kind = SW_END_REACH, .length = 75 * SW_MM }, "1-2 2475, 1-3 4925, 2-3 2450" },
    { { .kind = SW_END_REACH, .length = -10 * SW_MM }, "1-2 2390, 1-3 4840, 2-3 2450" },
  };
  job_run (job, "road", 100 * SW_MM);
  job_bay (job, 2400 * SW_MM, 100 * SW_MM)->start = rows[_i].end;
  job_bay (job, 2400 * SW_MM, 100 * SW_MM);
  job_close (job);
  job_level (job, "rail 1", "rail", true);
  job_stock (job, "rail", 6000 * SW_MM);
  lay_out ();
  ck_arcs (0, 0, rows[_i].arcs);
}
END_TEST

/* The last post's end takes off so much that a piece over two bays fits, although both whole bays do not. */
START_TEST (set_back_finish_fits)
{
  job_run (job, "road", 100 * SW_MM);
  job_bay (job, 2400 * SW_MM, 100 * SW_MM)->start.kind = SW_END_CENTRE;
  job_bay (job, 2400 * SW_MM, 100 * SW_MM)->finish.kind = SW_END_FACE;
  job_close (job);
  job_level (job, "rail 1", "rail", true);
  job_stock (job, "rail", 4750 * SW_MM);
  lay_out ();
  ck_arcs (0, 0, "1-2 2400, 1-3 4750, 2-3 2350");
  job->stocks.items[0].length = 4750 * SW_MM - 1;
  lay_out ();
  ck_arcs (0, 0, "1-2 2400, 2-3 2350");
}
END_TEST

/* ---- Stretches ---- */

START_TEST (gate_breaks_a_run)
{
  job_run (job, "road", 100 * SW_MM);
  job_bay (job, 2000 * SW_MM, 100 * SW_MM);
  job_bay (job, 2000 * SW_MM, 120 * SW_MM);
  job_bay (job, 1000 * SW_MM, 140 * SW_MM)->opening = true;
  job_bay (job, 2100 * SW_MM, 100 * SW_MM);
  job_close (job);
  sw_level *plinth = job_level (job, "plinth", "plinth", false);
  plinth->blocks = 2;
  plinth->block_length = 150 * SW_MM;
  job_level (job, "rail 1", "rail", true);
  job_stock (job, "plinth", 2400 * SW_MM);
  job_stock (job, "rail", 4800 * SW_MM);
  lay_out ();
  ck_assert_uint_eq (layout->stretch_count, 2);
  ck_assert_uint_eq (layout->stretches[0].first, 0);
  ck_assert_uint_eq (layout->stretches[0].last, 2);
  ck_assert_uint_eq (layout->stretches[1].first, 3);
  ck_assert_uint_eq (layout->stretches[1].last, 4);
  /* Flush at post 1 (+50), at the face of the gate posts (-60, -70). */
  ck_arcs (0, 0, "1-2 2050, 1-3 3990, 2-3 1940");
  ck_arcs (1, 0, "4-5 2080");
  /* Plinth and blocks in three bays only. */
  ck_assert_uint_eq (layout->fixed_count, 4);
  ck_assert_uint_eq (layout->fixed[2].bay, 3);
  ck_assert_int_eq (layout->fixed[3].kind, SW_FIXED_BLOCK);
  ck_assert_int_eq (layout->fixed[3].quantity, 6);
}
END_TEST

START_TEST (gates_at_both_ends_and_side_by_side)
{
  job_run (job, "road", 100 * SW_MM);
  for (int b = 0; b < 5; b++)
    job_bay (job, 1500 * SW_MM, 100 * SW_MM)->opening = b != 2;
  job_close (job);
  job_even_run (job, "only gate", 1, 1000 * SW_MM, 100 * SW_MM);
  job->fence.runs[1].bays[0].opening = true;
  job_level (job, "rail 1", "rail", true)->blocks = 1;
  job->levels.items[0].block_length = 100 * SW_MM;
  job_stock (job, "rail", 4800 * SW_MM);
  lay_out ();
  ck_assert_uint_eq (layout->stretch_count, 1);
  ck_arcs (0, 0, "3-4 1400");
  ck_assert_uint_eq (layout->fixed_count, 1); /* none of the run that is all gate */
  ck_assert_int_eq (layout->fixed[0].quantity, 1);
}
END_TEST

/* An end inside the run breaks every level there; the other side ends on the centre. */
START_TEST (end_inside_a_run)
{
  job_run (job, "road", 100 * SW_MM);
  job_bay (job, 2000 * SW_MM, 100 * SW_MM)->finish = (sw_end){ .kind = SW_END_HOUSED, .length = 30 * SW_MM };
  job_bay (job, 2000 * SW_MM, 100 * SW_MM);
  job_close (job);
  job_level (job, "rail 1", "rail", true);
  job_level (job, "rail 2", "rail", true);
  job_stock (job, "rail", 6000 * SW_MM);
  lay_out ();
  ck_assert_uint_eq (layout->stretch_count, 2);
  ck_arcs (0, 0, "1-2 2030");
  ck_arcs (0, 1, "1-2 2030");
  ck_arcs (1, 0, "2-3 2050");
  ck_arcs (1, 1, "2-3 2050");
}
END_TEST

START_TEST (runs_stand_apart)
{
  job_even_run (job, "road", 1, 2000 * SW_MM, 100 * SW_MM);
  job_even_run (job, "side", 2, 1000 * SW_MM, 100 * SW_MM);
  job_level (job, "rail 1", "rail", true);
  job_stock (job, "rail", 6000 * SW_MM);
  lay_out ();
  ck_assert_uint_eq (layout->stretch_count, 2);
  ck_assert_uint_eq (layout->stretches[1].run, 1);
  ck_assert_uint_eq (layout->stretches[1].first, 0);
  ck_arcs (0, 0, "1-2 2100");
  ck_arcs (1, 0, "1-2 1050, 1-3 2100, 2-3 1050");
}
END_TEST

/* ---- Where joins may land ---- */

START_TEST (join_rules)
{
  static const struct
  {
    sw_join_rule second, third;
    const char *arcs;
  } rows[] = {
    { SW_JOIN_MAY, SW_JOIN_MAY, "1-2 1050, 1-3 2050, 1-4 3100, 2-3 1000, 2-4 2050, 3-4 1050" },
    { SW_JOIN_NEVER, SW_JOIN_MAY, "1-3 2050, 1-4 3100, 3-4 1050" },
    { SW_JOIN_NEVER, SW_JOIN_NEVER, "1-4 3100" },
    { SW_JOIN_ALWAYS, SW_JOIN_MAY, "1-2 1050, 2-3 1000, 2-4 2050, 3-4 1050" },
    { SW_JOIN_ALWAYS, SW_JOIN_NEVER, "1-2 1050, 2-4 2050" },
    { SW_JOIN_ALWAYS, SW_JOIN_ALWAYS, "1-2 1050, 2-3 1000, 3-4 1050" },
  };
  job_even_run (job, "road", 3, 1000 * SW_MM, 100 * SW_MM);
  sw_post *posts = job->fence.runs[0].posts;
  posts[1].join = rows[_i].second;
  posts[2].join = rows[_i].third;
  /* The join rule of a run's outer posts does not matter, because nothing is joined there. */
  posts[0].join = posts[3].join = _i % 2 == 0 ? SW_JOIN_NEVER : SW_JOIN_ALWAYS;
  job_level (job, "rail 1", "rail", true);
  job_stock (job, "rail", 6000 * SW_MM);
  lay_out ();
  ck_arcs (0, 0, rows[_i].arcs);
}
END_TEST

/* The middle post is HIGH mm above the straight line of two bays of 2000.  The bow is 5. */
START_TEST (bow_tolerance)
{
  static const struct
  {
    sw_length high;
    bool past;
  } rows[] = { { 5 * SW_MM, true },       { 5 * SW_MM + 1, false }, { -5 * SW_MM, true },
               { -5 * SW_MM - 1, false }, { 250 * SW_MM, false },   { 0, true } };
  for (int tilt = -700; tilt <= 700; tilt += 700)
    {
      sw_job *hill = job_make ();
      job_run (hill, "hill", 100 * SW_MM);
      job_bay (hill, 2000 * SW_MM, 100 * SW_MM)->rise = tilt * SW_MM + rows[_i].high;
      job_bay (hill, 2000 * SW_MM, 100 * SW_MM)->rise = tilt * SW_MM - rows[_i].high;
      job_close (hill);
      job_level (hill, "rail 1", "rail", true);
      job_stock (hill, "rail", 6000 * SW_MM);
      sw_layout *made;
      ck_assert_int_eq (sw_layout_new (&made, hill, report), SW_OK);
      ck_assert_msg ((made->arc_count == 3) == rows[_i].past, "row %d, tilt %d: %s", _i, tilt, job_arcs (made, 0, 0));
      sw_layout_free (made);
      job_drop (hill);
    }
}
END_TEST

/* Post 3 stands 6 off the line from post 2 to post 4.  Off the lines from 2 to 5 and from 1 to 5,
 * no post stands more than 5. */
START_TEST (longer_piece_lies_within_the_bow)
{
  static const int heights[5] = { 0, 4, 0, 8, 4 };
  job_run (job, "hill", 100 * SW_MM);
  for (int p = 1; p < 5; p++)
    job_bay (job, 1000 * SW_MM, 100 * SW_MM)->rise = (heights[p] - heights[p - 1]) * SW_MM;
  job_close (job);
  sw_post *posts = job->fence.runs[0].posts;
  posts[2].join = SW_JOIN_NEVER;
  job_level (job, "rail 1", "rail", true);
  job_stock (job, "rail", 6000 * SW_MM);
  lay_out ();
  /* From 1 to 4, post 3 is 5 1/3 off.  A piece 4 to 5 could only follow that piece or 2 to 4. */
  ck_arcs (0, 0, "1-2 1050, 1-5 4100.1, 2-5 3050");
}
END_TEST

/* ---- Stock ---- */

START_TEST (what_can_be_had)
{
  job_even_run (job, "road", 2, 2400 * SW_MM, 100 * SW_MM);
  job_level (job, "rail 1", "rail", true);
  job_stock (job, "rail", 4800 * SW_MM);
  job_stock (job, "rail", 5400 * SW_MM);
  sw_stock *long_row = &job->stocks.items[1];
  const char *both = "1-2 2450, 1-3 4900, 2-3 2450";
  const char *single = "1-2 2450, 2-3 2450";
  lay_out ();
  ck_arcs (0, 0, both);
  long_row->limit = 0;
  lay_out ();
  ck_arcs (0, 0, single);
  long_row->hand = 1;
  lay_out ();
  ck_arcs (0, 0, both);
  /* Both ends of every board are docked: 5400 - 2 x 250 = 4900. */
  job->settings->end_trim = 250 * SW_MM;
  lay_out ();
  ck_arcs (0, 0, both);
  job->settings->end_trim += 1;
  lay_out ();
  ck_arcs (0, 0, single);
  job->settings->end_trim = 0;
  job->settings->max_piece = 4900 * SW_MM;
  lay_out ();
  ck_arcs (0, 0, both);
  job->settings->max_piece -= 1;
  lay_out ();
  ck_arcs (0, 0, single);
}
END_TEST

/* Each level's own section counts.  Levels of one section have the same pieces. */
START_TEST (levels_of_different_sections)
{
  job_even_run (job, "road", 3, 2000 * SW_MM, 100 * SW_MM);
  job_level (job, "rail 1", "thin", true);
  job_level (job, "plinth", "thin", false);
  job_level (job, "rail 2", "thick", true);
  job_level (job, "rail 3", "thin", true);
  job_stock (job, "thin", 2400 * SW_MM);
  job_stock (job, "thick", 4200 * SW_MM);
  lay_out ();
  ck_assert_uint_eq (layout->through_count, 3);
  ck_assert_uint_eq (layout->through[1], 2);
  ck_arcs (0, 0, "1-2 2050, 2-3 2000, 3-4 2050");
  ck_arcs (0, 1, "1-2 2050, 1-3 4050, 2-3 2000, 2-4 4050, 3-4 2050");
  ck_arcs (0, 2, "1-2 2050, 2-3 2000, 3-4 2050");
  for (size_t a = layout->arc_start[2]; a < layout->arc_start[3]; a++)
    ck_assert_uint_eq (layout->arcs[a].level, 3);
}
END_TEST

/* ---- Dead ends, items ---- */

/* Three bays of 1000.  Post 3 (post 2 in the mirrored fence) takes no join and stands 6 off the
 * line from its neighbours.  From 1 to 4 all posts are within 5.  The single bay at the other end
 * is possible, but leads nowhere. */
START_TEST (dead_ends_are_dropped)
{
  static const int heights[2][4] = { { 0, 4, -4, 0 }, { 0, -4, 4, 0 } };
  job_run (job, "hill", 100 * SW_MM);
  for (int p = 1; p < 4; p++)
    job_bay (job, 1000 * SW_MM, 100 * SW_MM)->rise = (heights[_i][p] - heights[_i][p - 1]) * SW_MM;
  job_close (job);
  job->fence.runs[0].posts[_i == 0 ? 2 : 1].join = SW_JOIN_NEVER;
  job_level (job, "rail 1", "rail", true);
  job_stock (job, "rail", 6000 * SW_MM);
  lay_out ();
  ck_arcs (0, 0, "1-4 3100");
  ck_assert_uint_eq (layout->item_count, 1);
}
END_TEST

/* Equal lengths of one section are one item, whatever they are for.  A nanometre or another section makes two items. */
START_TEST (equal_lengths_are_one_item)
{
  job_even_run (job, "road", 2, 2000 * SW_MM, 100 * SW_MM);
  job_even_run (job, "side", 2, 2000 * SW_MM, 100 * SW_MM);
  job_level (job, "plinth", "board", false);
  job_level (job, "rail 1", "rail", true);
  job_level (job, "rail 2", "rail", true);
  sw_level *plinth = &job->levels.items[0];
  plinth->blocks = 2;
  plinth->block_length = 150 * SW_MM;
  plinth->block_section = 1; /* rail */
  job_stock (job, "board", 4800 * SW_MM);
  job_stock (job, "rail", 4800 * SW_MM);
  job_extra (job, "brace", "rail", 2050 * SW_MM)->quantity = 3;
  job_extra (job, "shelf", "board", 2050 * SW_MM)->quantity = 5;
  job_extra (job, "near", "rail", 2050 * SW_MM + 1);
  lay_out ();
  static const struct
  {
    size_t section;
    sw_length cut;
    int64_t demand;
  } items[] = { { 0, 2050 * SW_MM, 5 },     { 0, 1900 * SW_MM, 4 }, { 1, 4100 * SW_MM, 0 },
                { 1, 2050 * SW_MM + 1, 1 }, { 1, 2050 * SW_MM, 3 }, { 1, 150 * SW_MM, 8 } };
  ck_assert_uint_eq (layout->item_count, sizeof items / sizeof items[0]);
  for (size_t i = 0; i < layout->item_count; i++)
    {
      ck_assert_uint_eq (layout->items[i].section, items[i].section);
      ck_assert_int_eq (layout->items[i].take, items[i].cut);
      ck_assert_int_eq (layout->items[i].demand, items[i].demand);
    }
  ck_assert_uint_eq (layout->arc_count, 2 * 2 * 3);
  for (size_t a = 0; a < layout->arc_count; a++)
    ck_assert_uint_eq (layout->arcs[a].item, layout->arcs[a].to - layout->arcs[a].from == 2 ? 2 : 4);
  /* Plinth and blocks stand run by run; the extras follow. */
  static const sw_fixed_kind kinds[]
      = { SW_FIXED_BETWEEN, SW_FIXED_BETWEEN, SW_FIXED_BLOCK, SW_FIXED_BETWEEN, SW_FIXED_BETWEEN,
          SW_FIXED_BLOCK,   SW_FIXED_EXTRA,   SW_FIXED_EXTRA, SW_FIXED_EXTRA };
  ck_assert_uint_eq (layout->fixed_count, sizeof kinds / sizeof kinds[0]);
  for (size_t f = 0; f < layout->fixed_count; f++)
    {
      ck_assert_int_eq (layout->fixed[f].kind, kinds[f]);
      if (kinds[f] != SW_FIXED_EXTRA)
        ck_assert_uint_eq (layout->fixed[f].run, f / 3);
    }
  ck_assert_uint_eq (layout->fixed[8].extra, 2);
}
END_TEST

START_TEST (extras_alone)
{
  job_extra (job, "shelf", "board", 900 * SW_MM)->quantity = 4;
  job_stock (job, "board", 2400 * SW_MM);
  lay_out ();
  ck_assert_uint_eq (layout->stretch_count, 0);
  ck_assert_uint_eq (layout->arc_count, 0);
  ck_assert_uint_eq (layout->arc_start[0], 0);
  ck_assert_uint_eq (layout->item_count, 1);
  ck_assert_int_eq (layout->items[0].demand, 4);
  sw_layout_free (NULL);
}
END_TEST

/* A levels file may have only levels between posts. */
START_TEST (no_through_level)
{
  job_even_run (job, "road", 2, 2000 * SW_MM, 100 * SW_MM);
  job_level (job, "plinth", "board", false);
  job_stock (job, "board", 2400 * SW_MM);
  lay_out ();
  ck_assert_uint_eq (layout->stretch_count, 1);
  ck_assert_uint_eq (layout->through_count, 0);
  ck_assert_uint_eq (layout->arc_count, 0);
  ck_assert_int_eq (layout->items[0].demand, 2);
}
END_TEST

/* A job of bays shorter than anybody builds is refused while there is still memory. */
START_TEST (too_many_pieces)
{
  job_even_run (job, "road", 4100, 60 * SW_MM, 10 * SW_MM);
  job_level (job, "rail 1", "rail", true);
  job_stock (job, "rail", 1000 * SW_METRE);
  ck_assert_int_eq (sw_layout_new (&layout, job, report), SW_REJECTED);
  ck_assert_ptr_null (layout);
  ck_assert_uint_eq (sw_report_count_of (report, SW_FAULT), 1);
}
END_TEST

static Suite *
layout_suite (void)
{
  Suite *suite = suite_create ("layout");
  TCase *lengths = tcase_create ("lengths");
  TCase *joins = tcase_create ("joins");
  TCase *items = tcase_create ("items");
  tcase_add_checked_fixture (lengths, setup, teardown);
  tcase_add_checked_fixture (joins, setup, teardown);
  tcase_add_checked_fixture (items, setup, teardown);
  tcase_set_timeout (items, 120);
  tcase_add_loop_test (lengths, end_bay_trap, 0, 5);
  tcase_add_test (lengths, three_bays_overall);
  tcase_add_loop_test (lengths, on_the_slope, 0, 5);
  tcase_add_test (lengths, ends_on_the_slope);
  tcase_add_loop_test (lengths, end_kinds, 0, 7);
  tcase_add_test (lengths, set_back_finish_fits);
  tcase_add_test (joins, gate_breaks_a_run);
  tcase_add_test (joins, gates_at_both_ends_and_side_by_side);
  tcase_add_test (joins, end_inside_a_run);
  tcase_add_test (joins, runs_stand_apart);
  tcase_add_loop_test (joins, join_rules, 0, 6);
  tcase_add_loop_test (joins, bow_tolerance, 0, 6);
  tcase_add_test (joins, longer_piece_lies_within_the_bow);
  tcase_add_test (joins, what_can_be_had);
  tcase_add_test (joins, levels_of_different_sections);
  tcase_add_loop_test (joins, dead_ends_are_dropped, 0, 2);
  tcase_add_test (items, equal_lengths_are_one_item);
  tcase_add_test (items, extras_alone);
  tcase_add_test (items, no_through_level);
  tcase_add_test (items, too_many_pieces);
  suite_add_tcase (suite, lengths);
  suite_add_tcase (suite, joins);
  suite_add_tcase (suite, items);
  return suite;
}

int
main (void)
{
  return suite_run (layout_suite ());
}
