/* plan_stepped.h - a plan of a fence that steps, climbs and turns, for tests of views
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef PLAN_STEPPED_H
#define PLAN_STEPPED_H

#include "plan_fixture.h"

/* Posts of 100.  The drive steps up 300 at post 3, and its last bay climbs 100 to a square corner.
 * The back has a gate.  Rails of 90x45 are let in 30 or stand on the face of the posts, the latter
 * on the drive only; a capping lies on top.  Lengths by hand: past the corner they reach 50 + 45 -
 * 30 = 65, 50 + 45 = 95, and half of 100.  On the slope they are 1.000868 times as long. */
static const fixture_texts plan_stepped
    = { .spans = "run,span,start,finish,opening,step,rise\n"
                 "drive,2400,,,,,\ndrive,2400,,,,300,\ndrive,2400,,,,,\ndrive,2400,,mitre 90,,,100\n"
                 "back,2400,mitre 90,housed,,,\nback,1000,,,yes,-150,\nback,2400,,,,,\n",
        .levels = "level,section,height,seat,only\n"
                  "low,90x45,200,let in 30,\nmiddle,90x45,700,face,drive\ncapping,100x25,1200,top,drive; back\n",
        .sections = "section,width,thickness\n90x45,90,45\n100x25,100,25\n",
        .stock = "section,length\n90x45,4.8\n90x45,5.4\n100x25,4.8\n100x25,5.4\n",
        .plan = "through drive/low: 1-3 3-4 4-5\nthrough drive/middle: 1-2 2-3 3-4 4-5\n"
                "through drive/capping: 1-3 3-4 4-5\n"
                "through back/low: 1-2 3-4\nthrough back/capping: 1-2 3-4\n"
                "board 90x45 5.4: drive/low/1-3\nboard 90x45 5.4: drive/middle/4-5, drive/low/4-5\n"
                "board 90x45 5.4: drive/middle/1-2, back/low/1-2\nboard 90x45 5.4: drive/middle/2-3, drive/middle/3-4\n"
                "board 90x45 5.4: drive/low/3-4, back/low/3-4\n"
                "board 100x25 5.4: drive/capping/1-3\nboard 100x25 5.4: back/capping/1-2, back/capping/3-4\n"
                "board 100x25 5.4: drive/capping/4-5, drive/capping/3-4\n" };

#endif
