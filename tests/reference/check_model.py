# check_model.py - the full model against trying every plan, and against values worked by hand
# SPDX-License-Identifier: GPL-3.0-or-later
"""check_model.py [COUNT]: the reference must itself be right before it judges the program."""

import os
import sys
import tempfile

import brute_force
import check_plan
import fence_job
import fence_model
import random_fence
import worked_values
import write_plan

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


def of_solutions(profile, count):
    """Faults that the checker finds in plans made of the model's solutions, COUNT jobs of a profile."""
    faults, plans = [], 0
    for seed in range(1, count + 1):
        with tempfile.TemporaryDirectory() as folder:
            job = fence_job.read_job(random_fence.make(seed, profile, folder), folder)
            try:
                best = write_plan.write(job, os.path.join(folder, "plan"))
            except fence_model.TooLarge:
                continue
            if best is None:
                continue
            plans += 1
            found, figures = check_plan.check(job, os.path.join(folder, "plan"))
            faults += ["%s %d: the model's own plan: %s" % (profile, seed, line) for line in found]
            if figures is not None and fence_model.Optimum(**vars(figures)) != best:
                faults.append("%s %d: the plan comes to %s, the model to %s" % (profile, seed, figures, best))
    if plans * 2 < count:
        faults.append("most of the %s jobs have no plan at all" % profile)
    return faults


if __name__ == "__main__":
    jobs = int(sys.argv[1]) if len(sys.argv) > 1 else 40
    wrong = worked_values.faults() + against_enumeration(jobs)
    for name in ("whole", "ground"):
        wrong += of_solutions(name, jobs)
    for line in wrong:
        print(line)
    print("model: %d tiny jobs, %d plans of each profile's and the worked values: %d wrong" % (jobs, jobs, len(wrong)))
    sys.exit(1 if wrong else 0)
