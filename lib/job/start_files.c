/* start_files.c - the text of the small job that start.c writes
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "job/start_files.h"

/* A lane with a field gate and, round a square corner, a run along a brook. */
static const char *const metric[SW_FILES] = {
  [SW_FILE_SPANS] = "run,span,post_width,near_post_width,start,finish,opening\n"
                    "lane,2380,100,100,flush,,\n"
                    "lane,2410,100,,,,\n"
                    "lane,2395,125,,,,\n"
                    "lane,3600,125,,,,yes\n"
                    "lane,2400,100,,,,\n"
                    "lane,2390,125,,,mitre 90,\n"
                    "brook,2350,100,125,mitre 90,,\n"
                    "brook,2365,100,,,,\n"
                    "brook,2340,100,,,flush,\n",
  [SW_FILE_LEVELS] = "level,section,height,seat\n"
                     "bottom rail,90x40,300,face\n"
                     "top rail,90x40,950,face\n",
  [SW_FILE_STOCK] = "section,length,price,per,hand\n"
                    "90x40,4.8,4.60,metre,\n"
                    "90x40,5.4,4.85,metre,1\n",
  [SW_FILE_SECTIONS] = "section,width,thickness,description\n"
                       "90x40,90,40,larch rail\n",
  [SW_FILE_SETTINGS] = "key,value\n"
                       "job,Lane and brook\n"
                       "kerf,3mm\n",
};

static const char *const inches[SW_FILES] = {
  [SW_FILE_SPANS] = "run,span,post_width,near_post_width,start,finish,opening\n"
                    "lane,94.5in,4in,4in,flush,,\n"
                    "lane,8ft,4in,,,,\n"
                    "lane,95in,5in,,,,\n"
                    "lane,12ft,5in,,,,yes\n"
                    "lane,95.25in,4in,,,,\n"
                    "lane,94in,5in,,,mitre 90,\n"
                    "brook,93.5in,4in,5in,mitre 90,,\n"
                    "brook,94in,4in,,,,\n"
                    "brook,92.75in,4in,,,flush,\n",
  [SW_FILE_LEVELS] = "level,section,height,seat\n"
                     "bottom rail,2x4,12in,face\n"
                     "top rail,2x4,38in,face\n",
  [SW_FILE_STOCK] = "section,length,price,per,hand\n"
                    "2x4,12ft,8.90,length,\n"
                    "2x4,16ft,12.40,length,1\n",
  [SW_FILE_SECTIONS] = "section,width,thickness,description\n"
                       "2x4,3.5in,1.5in,larch rail\n",
  [SW_FILE_SETTINGS] = "key,value\n"
                       "job,Lane and brook\n"
                       "inches,yes\n"
                       "kerf,0.125in\n",
};

static const char readme[] = "A fence job for spanwright. Plan it: spanwright plan FOLDER, this folder's name.\n"
                             "\n"
                             "Edit the CSV files in a spreadsheet or a text editor and keep their names. A\n"
                             "column may be left out, or its cells blank, but for those marked *. Columns may\n"
                             "stand in any order. Lengths: 2400, 2400mm, 2.4m, 94.5in, 8ft; a bare number is\n"
                             "millimetres, but a stock length up to 30 is metres. More: man spanwright-csv.\n"
                             "\n"
                             "spans.csv: one row a bay, in order along each straight run of fence\n"
                             "  run*             name of the straight run; its rows stand together\n"
                             "  span*            measured length of the bay, post to post\n"
                             "  bay              label of the bay; blank: numbered 1, 2, 3\n"
                             "  post_width       width, along the fence, of the post at the bay's far end\n"
                             "  near_post_width  the same for its near end; only on a run's first bay\n"
                             "  start            how timber ends at the near post: flush, centre, face,\n"
                             "                   housed, mitre 90, reach 60; blank: flush, or runs on\n"
                             "  finish           the same for the far post\n"
                             "  join             may rails be joined on the far post: may, never, always\n"
                             "  rise             height of the bay's far end above its near end\n"
                             "  opening          yes: a gate, no timber in this bay\n"
                             "  overall          only on a run's first bay: the run's measured total\n"
                             "  step             the fence goes on so much higher behind the far post\n"
                             "  divide           before the posts go in: equal, ends, odd or best; see posts\n"
                             "\n"
                             "levels.csv: one row a level of timber, bottom to top\n"
                             "  level*           name of the level\n"
                             "  section*         name of its timber section\n"
                             "  runs             through: past posts; between: a piece a bay between posts\n"
                             "  gap              of a piece between posts: how much shorter than the space\n"
                             "  height           of its underside, from wherever you measure\n"
                             "  blocks           how many fixing blocks a bay\n"
                             "  block_length     how long each of them is\n"
                             "  block_section    what they are cut from; blank: the level's section\n"
                             "  seat             on its posts: let in, let in 20, face, top\n"
                             "  only             names of the runs that have it, with ; between; blank: all\n"
                             "\n"
                             "stock.csv: one row a length that can be bought\n"
                             "  section*         name of the timber section\n"
                             "  length*          stock length\n"
                             "  price            what it costs; all lengths of a section, or none\n"
                             "  per              what the price is for: length, metre\n"
                             "  limit            the most that can be had; blank: any number\n"
                             "  hand             how many you have already; they cost nothing\n"
                             "  yard             the yard that has it; blank: each\n"
                             "  from             the price is that from so many on; a row a price\n"
                             "  pack             sold in packs of so many only\n"
                             "\n"
                             "sections.csv: one row a section of timber\n"
                             "  section*         its name, as in levels.csv and stock.csv\n"
                             "  width            how wide the timber is\n"
                             "  thickness        how thick it is\n"
                             "  description      what the yard calls it, for the order\n"
                             "  density          weight in kg a cubic metre\n"
                             "  spare            how many whole lengths to order besides; or a part, 5%\n"
                             "  end_trim         docked off each end of its boards; blank: the setting's\n"
                             "\n"
                             "extras.csv, if you make one: other pieces out of the same timber\n"
                             "  label*           what it is, a gate brace say\n"
                             "  section*         name of its timber section\n"
                             "  length*          how long it is\n"
                             "  quantity         how many; blank: one\n"
                             "\n"
                             "yards.csv, if you make one: the yards that the column yard of stock.csv names\n"
                             "  yard*            its name\n"
                             "  delivery         what it asks once for bringing an order\n"
                             "  minimum          the least that an order there may be worth\n"
                             "  description      what is written above the order that goes there\n"
                             "\n"
                             "fittings.csv, if you make one: what goes on the order and is not cut\n"
                             "  item*            what it is\n"
                             "  per*             counted by: post, end post, bay, opening, metre, piece, join,\n"
                             "                   crossing, board, run, job\n"
                             "  each             how many a post, bay ...; 1 where it is blank\n"
                             "  pack             sold in packs of so many only\n"
                             "  price            of a pack, or of one\n"
                             "  only             names of the runs that are counted, with ; between\n"
                             "\n"
                             "settings.csv: one row a setting\n"
                             "  key*             its name; spanwright plan --help lists them: kerf, rails\n"
                             "  value*           what it is set to\n";

const char *
sw_start_csv (sw_job_file which, bool in_inches)
{
  return (in_inches ? inches : metric)[which];
}

const char *
sw_start_readme (void)
{
  return readme;
}
