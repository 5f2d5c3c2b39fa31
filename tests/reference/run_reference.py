# run_reference.py - the program against the full model on random jobs
# SPDX-License-Identifier: GPL-3.0-or-later
"""Plan random jobs with the program, and compare with the independent optimum.

For each job: the exit status; aligned pairs, cost, joins and boards as worked
out from the plan's CSV files; and every rule, by check_plan.py.  The program's
verify must accept both its own plan and the model's.  A job that fails is kept
in its folder.
"""

import argparse
import os
import shutil
import subprocess
import sys
import tempfile

import check_plan
import fence_job
import fence_model
import random_fence
import write_plan

NO_PLAN = 3
# Longer than any of these jobs may take on a slow machine: a hang, not a measurement.
HANG_SECONDS = 300


def verified(program, arguments, folder, plan):
    """What the program's verify has against the plan in FOLDER/PLAN, which keeps every rule."""
    done = subprocess.run([program, "verify", *arguments, "--plan", plan, "--rules-only"], cwd=folder,
                          stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, timeout=HANG_SECONDS, check=False)
    if done.returncode == 0:
        return []
    lines = done.stderr.decode(errors="replace").splitlines()
    return ["verify of %s: exit status %d" % (plan, done.returncode)] + [x for x in lines if x.startswith("error: ")]


def one_job(program, seed, profile, folder, more):
    """(verdict, what is wrong): verdict is "plan", "none", "undecided" or "wrong"."""
    arguments = random_fence.make(seed, profile, folder)
    job = fence_job.read_job(arguments, folder)
    command = [program, "plan", *arguments, "-o", "plan", *more]
    try:
        done = subprocess.run(command, cwd=folder, stdout=subprocess.PIPE, stderr=subprocess.PIPE, timeout=HANG_SECONDS,
                              check=False)
    except subprocess.TimeoutExpired:
        return "wrong", ["the program hangs"]
    with open(os.path.join(folder, "output"), "wb") as file:
        file.write(done.stdout + done.stderr)
    faults, figures = [], None
    if done.returncode == 0:
        faults, figures = check_plan.check(job, os.path.join(folder, "plan"))
        faults += verified(program, arguments, folder, "plan")
    elif os.path.exists(os.path.join(folder, "plan", "cuts.csv")):
        faults = ["status %d, and a plan was written" % done.returncode]
    try:
        best = write_plan.write(job, os.path.join(folder, "model"))
    except fence_model.TooLarge:
        best = "no verdict"
    if isinstance(best, fence_model.Optimum):
        faults += verified(program, arguments, folder, "model")
    if done.returncode not in (0, NO_PLAN):
        faults.append("exit status %d: %s; the reference has %s"
                      % (done.returncode, done.stderr.decode(errors="replace").strip(), best))
    elif best == "no verdict":
        return ("wrong", faults) if faults else ("undecided", [])
    elif best is None and done.returncode == 0:
        faults.append("a plan where the reference finds none: %s" % figures)
    elif best is not None and done.returncode == NO_PLAN:
        faults.append("no plan, the reference has %s" % best)
    elif best is not None and figures is not None:
        for name in ("aligned", "cost", "joins", "boards"):
            mine, theirs = getattr(best, name), getattr(figures, name)
            if mine != theirs:
                faults.append("%s is %d, the reference has %d" % (name, theirs, mine))
                # What comes later in the order depends on what came before.
                break
    if faults:
        return "wrong", faults
    return ("plan" if best is not None else "none"), []


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--program", required=True)
    parser.add_argument("--count", type=int, default=40)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--profile", choices=("basic", "whole", "ground", "tiny"), default="basic")
    parser.add_argument("--hard-way", action="store_true", help="make the program skip its easy exits")
    parser.add_argument("--time-limit", metavar="SECONDS", help="handed to the program; it may then miss the optimum")
    parser.add_argument("--keep", help="folder for the jobs that fail (default: a new one in the temporary folder)")
    options = parser.parse_args()
    program = os.path.abspath(options.program)
    kept = options.keep or tempfile.mkdtemp(prefix="reference-")
    more = ["--hard-way"] if options.hard_way else []
    more += ["--time-limit", options.time_limit] if options.time_limit else []
    count = {"plan": 0, "none": 0, "undecided": 0, "wrong": 0}
    for seed in range(options.seed, options.seed + options.count):
        folder = os.path.join(kept, "%s-%d" % (options.profile, seed))
        shutil.rmtree(folder, ignore_errors=True)
        os.makedirs(folder)
        verdict, faults = one_job(program, seed, options.profile, folder, more)
        count[verdict] += 1
        if verdict == "wrong":
            print("%s: %s" % (folder, "; ".join(faults)), flush=True)
        else:
            shutil.rmtree(folder)
    if not count["wrong"] and not options.keep:
        os.rmdir(kept)
    print("%s: %d plans equal to the optimum, %d jobs rightly without a plan, %d without verdict"
          % (options.profile, count["plan"], count["none"], count["undecided"]))
    print("%d passed, %d failed" % (count["plan"] + count["none"], count["wrong"]))
    # A comparison that hardly compares must not pass.
    if count["wrong"] or count["plan"] * 2 < options.count:
        sys.exit(1)


if __name__ == "__main__":
    main()
