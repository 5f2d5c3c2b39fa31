# late.py - jobs with very many stock lengths: how far past their limit they go, and in how much memory
# SPDX-License-Identifier: GPL-3.0-or-later

import csv
import os
import random
import tempfile

import running
import table

# Bays, rails, pieces beside them, lengths to a tenth of a millimetre, whether these have prices; seconds each is given,
# by the clock.
JOBS = ((20, 2, 0, 40, False), (100, 2, 0, 500, False), (100, 2, 0, 500, True), (60, 3, 0, 300, False),
        (150, 5, 0, 200, False), (100, 4, 0, 20, False), (600, 12, 0, 200, False), (1600, 30, 0, 200, False),
        (1600, 64, 0, 20, False), (60, 2, 0, 20000, False), (0, 0, 100000, 200, False), (0, 0, 20000, 1000, True))
LIMIT = 3
# No job may go on for longer after its limit, or take more.
MOST_LATE, MOST_MIB = 2, 2048


def write(bays, rails, pieces, lengths, priced, folder):
    """Spans, pieces and stock of a job in FOLDER; the words of its command line."""
    chance = random.Random("%d %d %d" % (bays, rails, lengths))
    words = ["--stock", "stock.csv"]
    if bays:
        words += ["--spans", "spans.csv", "--rails", str(rails)]
    if pieces:
        words += ["--extras", "extras.csv"]
    with open(os.path.join(folder, "spans.csv"), "w", newline="", encoding="utf-8") as file:
        writer = csv.writer(file)
        writer.writerow(["run", "span"])
        writer.writerows(["run %d" % (bay // 25 + 1), chance.randint(1200, 3000)] for bay in range(bays))
    with open(os.path.join(folder, "extras.csv"), "w", newline="", encoding="utf-8") as file:
        writer = csv.writer(file)
        writer.writerow(["label", "section", "length"])
        writer.writerows(["piece %d" % i, "rail", "%.2fmm" % chance.uniform(300, 4000)] for i in range(pieces))
    with open(os.path.join(folder, "stock.csv"), "w", newline="", encoding="utf-8") as file:
        writer = csv.writer(file)
        writer.writerow(["section", "length"] + ["price"] * priced)
        writer.writerows(["rail", "%.1fmm" % (tenths / 10)]
                         + ["%.2f" % (tenths * chance.uniform(4, 5) / 10000)] * priced
                         for tenths in sorted(chance.sample(range(24000, 60000), lengths)))
    return words


def run(options):
    """(Markdown, faults): elapsed time, which is what a limit promises, whatever BENCH_CLOCK says."""
    drive = running.Driver(options.drive.path)
    rows, wrong = [], []
    for job in JOBS:
        with tempfile.TemporaryDirectory() as folder:
            planned = drive.plan(folder, write(*job, folder), LIMIT)
        late, peak = planned.wall - LIMIT, planned.peak / 1024
        name = "%d bays, %d rails, %d pieces, %d lengths" % job[:4] + ", priced" * job[4]
        running.say("%s: %s after %s s, %.0f MiB" % (name, planned.status, table.seconds(planned.wall), peak))
        if not planned.figures:
            wrong.append("NO PLAN of %s: %s %s" % (name, planned.status, planned.said))
        if late > MOST_LATE or peak > MOST_MIB:
            wrong.append("TOO LATE OR TOO LARGE: %s, %.1f s, %.0f MiB" % (name, planned.wall, peak))
        rows.append([*job[:4], "yes" if job[4] else "no", table.seconds(planned.first()[0]),
                     table.seconds(planned.wall), table.seconds(planned.cpu),
                     table.seconds(max(late, 0)), table.per_cent(planned.gap() if planned.figures else None, 3),
                     "%.0f" % peak])
    return "### Many stock lengths, limit %g s\n\n%s" % (LIMIT, table.table(
        ["bays", "rails", "pieces", "lengths", "priced", "first plan s", "all s", "CPU s", "past the limit s", "gap %",
         "peak MiB"], rows, 0)), wrong
