/* model.h - a layout as an integer programme, split where nothing couples
 *
 * Sections of timber are coupled only where neighbouring levels of one run
 * must stagger their joins.  Each connected set of sections is a model of its
 * own.  The optima and bounds of the models add up to those of the job, and
 * the costs of one model have a coarser granule.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_MODEL_H
#define SW_MODEL_H

#include "layout/layout.h"

/* A distinct piece length of one section: a cover row (an item type, in the field's words). */
typedef struct sw_need
{
  size_t section;
  size_t item;    /* of the layout */
  int64_t size;   /* take + kerf, in the section's unit */
  int64_t demand; /* fixed pieces */
  int64_t most;   /* demand + arcs of this length: a plan never needs more */
} sw_need;

/* Boards of one stock, from the yard or from hand. */
typedef struct sw_model_stock
{
  size_t section;
  size_t of_job; /* the stock row */
  bool hand;
  uint32_t whole; /* need + 1 of the piece that this stock serves as without a cut, although its square length is less;
                     0: none */
  bool sawn;      /* an offcut or a piece: to cut it breaks into no new board */
  int64_t room;   /* length - 2 trims + kerf, in the section's unit, rounded down */
  int64_t cost;   /* in granules */
  int64_t limit;  /* -1: none */
} sw_model_stock;

/* The section of what is in its place.  Options that ask for no timber have their need there, and its stock is free and
 * without limit. */
#define SW_SECTION_IN_PLACE SIZE_MAX

/* One section: its needs (largest first) and its stocks, both numbered consecutively. */
typedef struct sw_model_section
{
  size_t of_job; /* the job's section, or SW_SECTION_IN_PLACE */
  size_t need_first, need_count;
  size_t stock_first, stock_count;
  sw_length unit; /* greatest common divisor of the sizes, nm */
} sw_model_section;

/* A possible piece; posts are counted from the strip's first. */
typedef struct sw_option
{
  size_t need;
  size_t arc; /* of the layout */
  uint32_t strip, level;
  uint32_t from, to;
  bool changed; /* it is no piece of the plan that this one goes on from */
} sw_option;

/* One through level of a strip: its options, numbered consecutively by from, then by to. */
typedef struct sw_strip_level
{
  size_t of_job; /* the level */
  size_t option_first, option_count;
  uint32_t reach; /* most bays of an option */
  /* option that ends at post p and is d bays long: at[p * reach + d - 1], or -1 */
  int32_t *at;
} sw_strip_level;

/* A stretch with the levels whose joins look at each other.  Their options are numbered consecutively, level after
 * level. */
typedef struct sw_strip
{
  size_t stretch;
  uint32_t bays;
  uint32_t level_count;
  sw_strip_level *levels; /* bottom to top */
  uint8_t *counted;       /* for each post: whether aligned joins count there (not on posts marked `always`) */
  /* placed[p * rank + r]: at post p a piece of level r that is in its place joins; at post 0: it is the first piece of
     the level.  RANK levels a post.  NULL: there are none. */
  uint8_t *placed;
  uint32_t rank;
  bool out_of_turn;      /* what is in its place allows no layout that keeps the long-and-short rule */
  int64_t aligned_floor; /* no layout has fewer aligned pairs */
  bool exact;            /* its dynamic programme is small enough, and a layout with only so many pairs is known */
} sw_strip;

typedef struct sw_model
{
  const sw_layout *layout;
  size_t section_count;
  sw_model_section *sections;
  size_t need_count;
  sw_need *needs;
  size_t stock_count;
  sw_model_stock *stocks;
  size_t strip_count;
  sw_strip *strips;
  size_t option_count;
  sw_option *options;
  bool stagger;        /* aligned pairs are counted */
  bool turn;           /* first pieces of neighbouring levels are long and short in turn */
  int64_t granule;     /* cost of one granule, money or nm */
  int64_t join_cost;   /* in granules */
  int64_t change;      /* what a changed piece weighs, in joins: more than there can be joins; 0: changes are not
                          counted */
  int64_t aligned_cap; /* pairs allowed over the sum of the floors; 0 at first */
  bool priced_pairs;   /* pairs have a price: more than the floors are allowed, or some strip is not exact */
  sw_length longest;   /* the longest board that can be had */
} sw_model;

/* Do the COUNT entries say that a board of STOCK is used as one piece, without a cut? */
#define SW_IS_WHOLE(stock, entries, count)                                                                             \
  ((stock)->whole != 0 && (count) == 1 && (entries)[0].copies == 1 && (entries)[0].need + 1 == (stock)->whole)

/* The largest size that can be cut from a board of STOCK. */
static inline int64_t
sw_model_stock_most (const sw_model *model, const sw_model_stock *stock)
{
  const int64_t whole = stock->whole != 0 ? model->needs[stock->whole - 1].size : 0;
  return whole > stock->room ? whole : stock->room;
}

/* The largest size that can be cut from a board of SECTION. */
static inline int64_t
sw_model_longest (const sw_model *model, const sw_model_section *section)
{
  int64_t longest = 0;
  for (size_t i = section->stock_first; i < section->stock_first + section->stock_count; i++)
    {
      const int64_t most = sw_model_stock_most (model, &model->stocks[i]);
      longest = most > longest ? most : longest;
    }
  return longest;
}

/* Do aligned joins of LEVEL and LEVEL + 1 on POST count?  They do not where both are in their places already. */
static inline bool
sw_strip_counts (const sw_strip *strip, uint32_t post, uint32_t level)
{
  if (!strip->counted[post])
    return false;
  const uint8_t *placed = strip->placed != NULL ? &strip->placed[(size_t)post * strip->rank + level] : NULL;
  return placed == NULL || !placed[0] || !placed[1];
}

/* Must the first pieces of LEVEL and LEVEL + 1 be long and short in turn?  Not where both are in their places
 * already. */
static inline bool
sw_strip_turns (const sw_strip *strip, uint32_t level)
{
  return !strip->out_of_turn && (strip->placed == NULL || !strip->placed[level] || !strip->placed[level + 1]);
}

/* The first option of STRIP, and the one after its last. */
static inline size_t
sw_strip_first (const sw_strip *strip)
{
  return strip->levels[0].option_first;
}

static inline size_t
sw_strip_end (const sw_strip *strip)
{
  const sw_strip_level *last = &strip->levels[strip->level_count - 1];
  return last->option_first + last->option_count;
}

/* The COUNT levels of STRIP from FIRST on as a strip of their own. */
static inline sw_strip
sw_strip_part (const sw_strip *strip, uint32_t first, uint32_t count)
{
  sw_strip part = *strip;
  part.levels += first;
  part.level_count = count;
  if (part.placed != NULL)
    part.placed += first;
  return part;
}

/* Make the models of LAYOUT; each is solved on its own.  O(arcs log arcs). */
sw_status sw_models_new (sw_model **out, size_t *count, const sw_layout *layout);
void sw_models_free (sw_model *models, size_t count);
/* Free what MODEL has, but not what is known of the posts of its strips: `counted` and `placed`. */
void sw_model_clear (sw_model *model);
/* Set how far the options of LEVEL, which has so many BAYS, reach and where each is; MODEL has them already. */
sw_status sw_level_index (const sw_model *model, uint32_t bays, sw_strip_level *level);

/* The largest need of SECTION that is no larger than SIZE, or the end of the section when there is none.  O(log
 * needs). */
size_t sw_model_largest_within (const sw_model *model, const sw_model_section *section, int64_t size);

#endif
