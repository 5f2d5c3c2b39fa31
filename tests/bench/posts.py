# posts.py - stretches divided together with the timber: first plan, proof, gap
# SPDX-License-Identifier: GPL-3.0-or-later
"""posts.py STRETCHES STOCK COST SEED DIR: write that job, and print its command line."""

import os
import random
import shutil
import sys
import tempfile

import running
import table
from fences import both

STRETCHES = (1, 5, 20)
RAILS = 3
STOCKS = {"2": (4.8, 5.4), "8": (2.4, 3.0, 3.6, 4.2, 4.8, 5.4, 6.0, 6.6)}
# Of a post; without one the fewest posts come first, and fewer ways are left.
COSTS = {"fewest posts": None, "a post at 45": "45"}


def write(stretches, stock, cost, seed, folder):
    """Stretches of 10 to 60 m, each a run of its own, divided in any way; prices a metre that rise with the length."""
    chance = random.Random("%d %s %s %d" % (stretches, stock, cost, seed))
    with open(os.path.join(folder, "spans.csv"), "w", encoding="utf-8") as file:
        file.write("run,span,divide\n")
        for number in range(stretches):
            file.write("run %d,%d,best\n" % (number, chance.randint(10000, 60000)))
    with open(os.path.join(folder, "stock.csv"), "w", encoding="utf-8") as file:
        file.write("section,length,price\n")
        for length in STOCKS[stock]:
            file.write("rail,%.1f,%.2f\n" % (length, round(length * (4.6 + length / 6) * 10) / 10))
    words = ["--spans", "spans.csv", "--stock", "stock.csv", "--rails", str(RAILS)]
    return words + (["--post-cost", COSTS[cost]] if COSTS[cost] else [])


def one(drive, kind, limit):
    """The Planned of a KIND (stretches, stock, cost, seed), and what is wrong with it."""
    folder = tempfile.mkdtemp(prefix="bench-")
    try:
        planned = drive.plan(folder, ["--posts", "yes", *write(*kind, folder)], limit)
    finally:
        shutil.rmtree(folder)
    wrong = []
    if planned.status in ("failed", "none"):
        wrong = [planned.said or "NO DIVISION IS SAID TO EXIST"]
    elif planned.figures and planned.exact("least") > planned.exact("cost"):
        wrong = ["THE BOUND IS ABOVE THE COST"]
    return planned, ["%d stretches, %s lengths, %s, seed %d: %s" % (*kind, fault) for fault in wrong]


HEADER = ["posts", "lengths", "stretches", "jobs", "ways", "first plan s", "proof s", "proved", "worst gap %", "peak MiB"]

NOTE = """Stretches of 10 to 60 m, three rails, bays from 1200 to 2400, divided in any way. Seconds are elapsed / CPU, from the
start of the program; proof: of those proved, until no spacing could be cheaper. The plan of equal bays and the table of
one post more or less come after that, and are not counted."""


def run(options):
    """(Markdown, faults) of all kinds."""
    rows, wrong = [], []
    for cost in COSTS:
        for stock in STOCKS:
            for stretches in STRETCHES:
                measured = []
                for seed in range(1, (options.sample or 5) + 1):
                    planned, faults = one(options.drive, (stretches, stock, cost, seed), options.limit)
                    wrong += faults
                    met = planned.met()
                    running.say("posts: %s, %s lengths, %d stretches, seed %d: %s, proof %s s, gap %s %%"
                                % (cost, stock, stretches, seed, planned.status, table.seconds(met and met[1]),
                                   table.per_cent(planned.gap() if planned.figures else None, 3)))
                    measured.append(planned)
                usable = [planned for planned in measured if planned.figures]
                met = [planned.met() for planned in measured]
                ways = table.mean(planned.exact("ways") for planned in usable)
                rows.append([cost, stock, stretches, len(measured), "–" if ways is None else "%.0f" % ways,
                             both(planned.first() for planned in usable), both(met),
                             sum(1 for m in met if m is not None),
                             table.per_cent(max((planned.gap() for planned in usable), default=None), 3),
                             "%.0f" % (max(planned.peak for planned in measured) / 1024)])
    return "### Posts\n\n" + NOTE + "\n\n" + table.table(HEADER, rows, 2), wrong


if __name__ == "__main__":
    os.makedirs(sys.argv[5], exist_ok=True)
    print(" ".join(write(int(sys.argv[1]), sys.argv[2], sys.argv[3], int(sys.argv[4]), sys.argv[5])))
