# orders.py - whole orders: several yards with delivery, prices that fall, packs
# SPDX-License-Identifier: GPL-3.0-or-later
"""A fence of 100 bays and three rails whose timber comes from three yards in five lengths each."""

import csv
import os
import random
import shutil
import tempfile

import running
import table

BAYS, RAILS = 100, 3
YARDS = {"north": 60, "south": 45, "east": 80}
LENGTHS = ("3.6", "4.2", "4.8", "5.4", "6.0")
# What is in play besides prices and delivery of three yards.
KINDS = ("delivery", "falling prices", "packs", "limits", "all of it")


def write(kind, spans, seed, folder):
    """The files of one job in FOLDER; the words of its command line."""
    chance = random.Random("order %s %s %d" % (kind, spans, seed))
    usual = chance.randrange(2200, 2420, 10)
    rows = [usual + chance.randint(-15, 15) if spans == "regular" else chance.randint(1200, 3000) for _ in range(BAYS)]
    put(folder, "spans.csv", [["run", "span"]] + [["a", span] for span in rows])
    put(folder, "yards.csv", [["yard", "delivery"]] + [[yard, money] for yard, money in YARDS.items()])
    stock = [["section", "length", "price", "yard", "limit", "from", "pack"]]
    for size in LENGTHS:
        for yard in YARDS:
            price = chance.randint(420, 480) / 100 * float(size)
            limit = chance.randint(10, 40) if kind in ("limits", "all of it") and chance.random() < 0.3 else ""
            pack = chance.choice(("", "", 5, 10)) if kind in ("packs", "all of it") else ""
            stock.append(["rail", size, "%.2f" % price, yard, limit, "", pack])
            if kind in ("falling prices", "all of it") and chance.random() < 0.6:
                price *= chance.choice((0.9, 0.93, 0.96))
                stock.append(["rail", size, "%.2f" % price, yard, "", chance.choice((10, 20, 40)), ""])
    put(folder, "stock.csv", stock)
    return ["spans", "spans.csv", "stock", "stock.csv", "yards", "yards.csv", "rails", str(RAILS)]


def put(folder, name, rows):
    with open(os.path.join(folder, name), "w", newline="", encoding="utf-8") as file:
        csv.writer(file).writerows(rows)


def one(drive, kind, spans, seed, limit):
    """The Planned of one order."""
    folder = tempfile.mkdtemp(prefix="bench-")
    try:
        words = write(kind, spans, seed, folder)
        arguments = [word if k % 2 else "--" + word for k, word in enumerate(words)]
        return drive.plan(folder, arguments, limit)
    finally:
        shutil.rmtree(folder)


def row(kind, spans, measured, clock):
    usable = [planned for planned in measured if planned.figures]
    times = [(planned.wall, planned.cpu)[clock] for planned in measured]
    return [kind, spans, len(measured), sum(planned.proved for planned in measured),
            table.seconds(table.mean(times)), table.seconds(max(times)),
            table.per_cent(table.mean(planned.gap() for planned in usable), 3),
            table.per_cent(max((planned.gap() for planned in usable), default=None), 3)]


def run(options):
    """(Markdown, faults) of all orders."""
    limit = min(options.limit, 10)
    rows, wrong = [], []
    for kind in KINDS:
        for spans in ("regular", "random"):
            measured = []
            for seed in range(1, (options.sample or 5) + 1):
                planned = one(options.drive, kind, spans, seed, limit)
                if planned.status in ("failed", "none", "nothing"):
                    wrong.append("order, %s, %s, seed %d: %s %s" % (kind, spans, seed, planned.status, planned.said))
                running.say("order, %s, %s, seed %d: %s after %s s" % (kind, spans, seed, planned.status,
                                                                      table.seconds(planned.wall)))
                measured.append(planned)
            rows.append(row(kind, spans, measured, options.drive.index))
    header = ["in play", "spans", "orders", "proved", "mean s", "worst s", "mean gap %", "worst gap %"]
    return "### Whole orders, limit %g s\n\n%d bays, %d rails, %d yards, %d lengths at each.\n\n%s" % (
        limit, BAYS, RAILS, len(YARDS), len(LENGTHS), table.table(header, rows, 2)), wrong
