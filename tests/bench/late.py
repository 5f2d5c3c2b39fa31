# late.py - jobs with very many stock lengths: how far past their limit they go, and in how much memory
# SPDX-License-Identifier: GPL-3.0-or-later

import csv
import os
import random
import tempfile

import running
import table

# Bays, rails, lengths to a tenth of a millimetre; seconds each is given, by the clock.
JOBS = ((20, 2, 40), (100, 2, 500), (60, 3, 300), (150, 5, 200), (100, 4, 20), (600, 12, 200))
LIMIT = 3
# No job may go on for longer after its limit, or take more.
MOST_LATE, MOST_MIB = 2, 2048


def write(bays, rails, lengths, folder):
    """Spans and stock of a job in FOLDER; the words of its command line."""
    chance = random.Random("%d %d %d" % (bays, rails, lengths))
    with open(os.path.join(folder, "spans.csv"), "w", newline="", encoding="utf-8") as file:
        writer = csv.writer(file)
        writer.writerow(["run", "span"])
        writer.writerows(["run %d" % (bay // 25 + 1), chance.randint(1200, 3000)] for bay in range(bays))
    with open(os.path.join(folder, "stock.csv"), "w", newline="", encoding="utf-8") as file:
        writer = csv.writer(file)
        writer.writerow(["section", "length"])
        writer.writerows(["rail", "%.1fmm" % (tenths / 10)]
                         for tenths in sorted(chance.sample(range(24000, 60000), lengths)))
    return ["--spans", "spans.csv", "--stock", "stock.csv", "--rails", str(rails)]


def run(options):
    """(Markdown, faults): elapsed time, which is what a limit promises, whatever BENCH_CLOCK says."""
    drive = running.Driver(options.drive.path)
    rows, wrong = [], []
    for job in JOBS:
        with tempfile.TemporaryDirectory() as folder:
            planned = drive.plan(folder, write(*job, folder), LIMIT)
        late, peak = planned.wall - LIMIT, planned.peak / 1024
        name = "%d bays, %d rails, %d lengths" % job
        running.say("%s: %s after %s s, %.0f MiB" % (name, planned.status, table.seconds(planned.wall), peak))
        if not planned.figures:
            wrong.append("NO PLAN of %s: %s %s" % (name, planned.status, planned.said))
        if late > MOST_LATE or peak > MOST_MIB:
            wrong.append("TOO LATE OR TOO LARGE: %s, %.1f s, %.0f MiB" % (name, planned.wall, peak))
        rows.append([*job, table.seconds(planned.first()[0]), table.seconds(planned.wall),
                     table.seconds(max(late, 0)), table.per_cent(planned.gap() if planned.figures else None, 3),
                     "%.0f" % peak])
    return "### Many stock lengths, limit %g s\n\n%s" % (LIMIT, table.table(
        ["bays", "rails", "lengths", "first plan s", "all s", "past the limit s", "gap %", "peak MiB"], rows, 0)), wrong
