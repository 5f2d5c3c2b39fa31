/* check_pack.c - drawings put on pages
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "suite.h"

#ifdef HAVE_SHEET

#include "sheet/sheet_pack.h"

#include "chance.h"

#include <stdlib.h>

#define MOST 60

static const sw_sheet_room plain
    = { .left = 30, .right = 430, .top = 50, .begin = 50, .bottom = 450, .gap = 10, .columns = 1, .ahead = 4 };

/* Do two items lie on each other? */
static bool
overlap (const sw_sheet_item *a, const sw_sheet_item *b)
{
  const double near = 1e-6;
  return a->page == b->page && a->x + near < b->x + b->width && b->x + near < a->x + a->width
         && a->y + near < b->y + b->height && b->y + near < a->y + a->height;
}

/* Random items: each once, none over another, all on their pages, those that follow behind the one before. */
START_TEST (items_lie_beside_each_other)
{
  uint64_t state = (uint64_t)_i + 1;
  sw_sheet_room room = plain;
  sw_sheet_item items[MOST] = { { 0 } };
  const size_t count = (size_t)chance (&state, 1, MOST);
  room.columns = (size_t)chance (&state, 1, 2);
  room.begin = (double)chance (&state, 50, 400);
  room.ahead = (size_t)chance (&state, 0, 5);
  const double width = (room.right - room.left + room.gap) / (double)room.columns - room.gap;
  for (size_t i = 0; i < count; i++)
    items[i] = (sw_sheet_item){ .width = (double)chance (&state, 1, (int64_t)width),
                                .height = (double)chance (&state, 1, 390),
                                .index = i,
                                .follows = one_in (&state, 3) };
  const size_t pages = sw_sheet_pack (items, count, &room);
  size_t place[MOST] = { 0 };
  for (size_t i = 0; i < count; i++)
    {
      const sw_sheet_item *item = &items[i];
      place[item->index] = i + 1;
      ck_assert_uint_lt (item->page, pages);
      ck_assert (item->x >= room.left - 1e-6 && item->x + item->width <= room.right + 1e-6);
      ck_assert (item->y >= (item->page == 0 ? room.begin : room.top) - 1e-6);
      ck_assert_msg (item->y + item->height <= room.bottom + 1e-6, "job %d: item %zu ends at %g", _i, item->index,
                     item->y + item->height);
      for (size_t j = 0; j < i; j++)
        ck_assert_msg (!overlap (item, &items[j]), "job %d: items %zu and %zu", _i, item->index, items[j].index);
    }
  for (size_t i = 0; i < count; i++)
    ck_assert_uint_gt (place[i], 0);
  /* Sorted by page, and in their order on each; what follows is never moved up before its turn. */
  for (size_t i = 1; i < count; i++)
    ck_assert (items[i - 1].page < items[i].page
               || (items[i - 1].page == items[i].page && items[i - 1].index < items[i].index));
  for (size_t i = 1; i < count; i++)
    if (items[place[i] - 1].follows)
      ck_assert_uint_le (items[place[i - 1] - 1].page, items[place[i] - 1].page);
}
END_TEST

/* COUNT items of HEIGHT, a row each: those on each page are PAGES. */
static void
check_pages (size_t count, double height, const size_t *pages, size_t page_count)
{
  sw_sheet_item items[10];
  size_t on_page[10] = { 0 };
  ck_assert_uint_le (count, 10);
  for (size_t i = 0; i < count; i++)
    items[i] = (sw_sheet_item){ .width = 300, .height = height, .index = i };
  ck_assert_uint_eq (sw_sheet_pack (items, count, &plain), page_count);
  for (size_t i = 0; i < count; i++)
    on_page[items[i].page]++;
  for (size_t page = 0; page < page_count; page++)
    ck_assert_msg (on_page[page] == pages[page], "page %zu has %zu", page, on_page[page]);
}

/* Pages of 400: as few as can be, and none is left with one where others have three. */
START_TEST (pages_are_filled_evenly)
{
  check_pages (9, 133, (const size_t[]){ 3, 3, 3 }, 3);
  check_pages (10, 133, (const size_t[]){ 3, 3, 2, 2 }, 4);
  check_pages (4, 130, (const size_t[]){ 2, 2 }, 2);
  check_pages (3, 130, (const size_t[]){ 3 }, 1);
  check_pages (5, 300, (const size_t[]){ 1, 1, 1, 1, 1 }, 5);
}
END_TEST

/* A page of which the half is free is not left empty, though the next one had room for all. */
START_TEST (first_page_is_used)
{
  sw_sheet_room room = plain;
  sw_sheet_item items[2] = { { .width = 300, .height = 180 }, { .width = 300, .height = 180, .index = 1 } };
  room.begin = 250;
  ck_assert_uint_eq (sw_sheet_pack (items, 2, &room), 2);
  ck_assert_uint_eq (items[0].page, 0);
  ck_assert_uint_eq (items[1].page, 1);
}
END_TEST

/* A short one further on fills a row, where it does not come between two that belong together. */
START_TEST (short_ones_stand_side_by_side)
{
  const double widths[] = { 200, 300, 150 };
  sw_sheet_item items[3];
  for (size_t i = 0; i < 3; i++)
    items[i] = (sw_sheet_item){ .width = widths[i], .height = 100, .index = i };
  ck_assert_uint_eq (sw_sheet_pack (items, 3, &plain), 1);
  ck_assert_double_eq_tol (items[2].y, 50, 1e-6);
  ck_assert_double_eq_tol (items[2].x, 30 + 200 + 10, 1e-6);
  ck_assert_double_eq_tol (items[1].y, 150, 1e-6);
  for (size_t i = 0; i < 3; i++)
    items[i] = (sw_sheet_item){ .width = widths[i], .height = 100, .index = i, .follows = i == 2 };
  sw_sheet_pack (items, 3, &plain);
  ck_assert_double_eq_tol (items[2].y, 250, 1e-6);
}
END_TEST

#else

START_TEST (absent)
{
  ck_assert (true);
}
END_TEST

#endif

int
main (void)
{
  Suite *suite = suite_create ("pack");
  TCase *tests = tcase_create ("pack");
#ifdef HAVE_SHEET
  tcase_add_loop_test (tests, items_lie_beside_each_other, 0, 300);
  tcase_add_test (tests, pages_are_filled_evenly);
  tcase_add_test (tests, first_page_is_used);
  tcase_add_test (tests, short_ones_stand_side_by_side);
#else
  tcase_add_test (tests, absent);
#endif
  suite_add_tcase (suite, tests);
  return suite_run (suite);
}
