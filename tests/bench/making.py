# making.py - fences to measure with, the same for the same seed
# SPDX-License-Identifier: GPL-3.0-or-later
"""making.py BAYS RAILS STOCK KIND SEED DIR: write that fence, and print its command line."""

import csv
import os
import random
import sys

STOCKS = {
    "4.8, 5.4": "4.8,5.4",
    "3.9 to 6.0": ",".join("%.1f" % (tenths / 10) for tenths in range(39, 61, 3)),
}

KINDS = ("regular", "random")

# The usual span of a regular fence: three bays of the least go into 5.4 m, two of the most.
REGULAR = (1700, 2680)


def write(bays, rails, stock, kind, seed, folder):
    """A fence's spans.csv in FOLDER; the command line that goes with it.

    regular: spans within 15 mm of one that chance draws.  random: 1.2 to 3.0 m, every millimetre as likely.
    Runs of 10 to 50 bays; a fence of up to 30 bays is one run.
    """
    chance = random.Random("%d %s %d" % (bays, kind, seed))
    size = chance.randint(*REGULAR)
    with open(os.path.join(folder, "spans.csv"), "w", newline="", encoding="utf-8") as file:
        writer = csv.writer(file)
        writer.writerow(["run", "span"])
        run, left = 0, 0
        for bay in range(bays):
            if left == 0:
                run += 1
                left = bays if bays <= 30 else chance.randint(10, 50)
            left -= 1
            span = size + chance.randint(-15, 15) if kind == "regular" else chance.randint(1200, 3000)
            writer.writerow(["run %d" % run, span])
    return ["--spans", "spans.csv", "--rails", str(rails), "--stock-length", STOCKS[stock]]


def reference_words(arguments):
    """The same command line as tests/reference reads it: spans without their option."""
    return arguments[1:] if arguments[0] == "--spans" else arguments


if __name__ == "__main__":
    os.makedirs(sys.argv[6], exist_ok=True)
    print(" ".join(reference_words(write(int(sys.argv[1]), int(sys.argv[2]), sys.argv[3], sys.argv[4],
                                         int(sys.argv[5]), sys.argv[6]))))
