# check_model.py - the full model against trying every plan, and against values worked by hand
# SPDX-License-Identifier: GPL-3.0-or-later
"""check_model.py [COUNT]: the reference must itself be right before it judges the program."""

import os
import sys
import tempfile

import brute_force
import fence_job
import fence_model
import random_fence

# More pieces than this take too long to share out in every way.
MOST_PIECES = 9


def pieces_at_most(job):
    bays = sum(not bay.opening for run in job.runs for bay in run.bays)
    return bays * sum(1 + level.blocks for level in job.levels) + sum(extra.quantity for extra in job.extras)


def against_enumeration(count):
    """Faults among COUNT tiny jobs, the first that are small enough."""
    faults, seed, done, without = [], 0, 0, 0
    while done < count:
        seed += 1
        with tempfile.TemporaryDirectory() as folder:
            job = fence_job.read_job(random_fence.make(seed, "tiny", folder), folder)
        if pieces_at_most(job) > MOST_PIECES:
            continue
        done += 1
        mine, theirs = fence_model.optimum(job), brute_force.optimum(job)
        without += mine is None
        if mine != theirs:
            faults.append("tiny %d: the model finds %s, trying everything %s" % (seed, mine, theirs))
    if without * 2 > count:
        faults.append("most of the tiny jobs have no plan at all")
    return faults


def plan_of(text, *arguments):
    """The Optimum of a fence given as the text of spans.csv."""
    with tempfile.TemporaryDirectory() as folder:
        with open(os.path.join(folder, "spans.csv"), "w", encoding="utf-8") as file:
            file.write(text)
        return fence_model.optimum(fence_job.read_job(["spans.csv", *arguments], folder))


def worked_values():
    """Faults among values that follow by hand from the rules."""
    faults = []

    def expect(what, found, right):
        if found != right:
            faults.append("%s: %s, by hand %s" % (what, found, right))

    # Six bays, three rails, pieces of at most two bays: doubles 3 + 2 + 3 with singles at both ends of the middle
    # rail.  2300 mm bays ending on centres: eight boards for the doubles, one more for both singles.  Joins 2 + 3 + 2.
    six = "run,span,start,finish\n" + "a,2300,centre,\n" + "a,2300,,\n" * 4 + "a,2300,,centre\n"
    expect("A-B-A", plan_of(six, "--rails", "3", "--stock-length", "4.8"),
           fence_model.Optimum(0, 9 * 4800 * 10**6, 7, 9))
    # The end-bay trap: 2350 centres and 100 posts give 4750, which 4.8 holds; 2400 give 4850, which it does not.
    two = "run,span,finish\na,%d,\na,%d,centre\n"
    expect("4750 of 4800", plan_of(two % (2350, 2350), "--rails", "1", "--stock-length", "4.8").boards, 1)
    expect("4850 of 4800", plan_of(two % (2400, 2400), "--rails", "1", "--stock-length", "4.8").boards, 2)
    # 2 x 2400 out of 4800: not with a kerf of 3 mm, and just without one.
    twice = "run,span,start,finish\na,2400,centre,centre\nb,2400,centre,centre\n"
    for kerf, boards in (("0", 1), ("3", 2)):
        expect("kerf " + kerf, plan_of(twice, "--rails", "1", "--stock-length", "4.8", "--kerf", kerf).boards, boards)
    # Three clear bays of 2300 between four 100 mm posts are 7300 overall.
    clear = "run,span\n" + "a,2300\n" * 3
    for size, plan in (("7300mm", fence_model.Optimum(0, 7300 * 10**6, 0, 1)), ("7299mm", None)):
        expect("overall in " + size, plan_of(clear.replace("span\n", "span,join\n").replace("2300\n", "2300,never\n"),
                                             "--rails", "1", "--measured", "clear", "--stock-length", size), plan)
    # Slopes: 2400 / 500 is 2451.5 along the slope, 3000 / 600 is 3059.4.
    for span, rise, tenths in ((2400, 500, 24515), (2400, 250, 24130), (3000, 600, 30594)):
        along = fence_job.on_slope(span * 10**6, span * 10**6, rise * 10**6)
        expect("slope", (along + 50_000) // 100_000, tenths)
    # Two rails whose bays are too long for two: every join lines up, and is counted.
    long = "run,span\n" + "a,3000\n" * 3
    expect("long bays", plan_of(long, "--stock-length", "4.8").aligned, 2)
    expect("long bays, required", plan_of(long, "--stock-length", "4.8", "--stagger", "require"), None)
    return faults


if __name__ == "__main__":
    jobs = int(sys.argv[1]) if len(sys.argv) > 1 else 40
    wrong = worked_values() + against_enumeration(jobs)
    for line in wrong:
        print(line)
    print("model: %d tiny jobs and the worked values: %d wrong" % (jobs, len(wrong)))
    sys.exit(1 if wrong else 0)
