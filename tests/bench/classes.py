# classes.py - the published classes: how many optima are reached and proved, and when
# SPDX-License-Identifier: GPL-3.0-or-later

import os
import shutil
import sys
import tempfile

import instances
import running
import table

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", "reference"))
import check_plan
import fence_job

MARKS = (1, 10, 60)

# Mean seconds to the proof over whole classes, by a branch, cut and price with a commercial LP and MIP solver on one
# machine within 600 s; all were proved.  From the result files of R. F. F. da Silva, R. C. S. Schouery, "Solving
# cutting stock problems via an extended Ryan-Foster branching scheme and fast column generation", INFORMS Journal on
# Computing, 2025, doi 10.1287/ijoc.2023.0399.
PUBLISHED = {
    "falkenauer_u": "0.013", "falkenauer_t": "0.10", "scholl_1": "0.006", "scholl_2": "0.07", "scholl_3": "2.5",
    "waescher": "0.30", "schwerin_1": "0.02", "schwerin_2": "0.02", "hard28": "7.0", "ai": "0.41", "ani": "0.48",
    "ai_403": "6.0", "ani_402": "2.7",
}


def contradictions(instance, planned, faults):
    """What the plan of an INSTANCE says that cannot be true, a sentence each."""
    out = ["THE PLAN BREAKS A RULE: %s" % fault for fault in faults]
    if planned.status == "failed":
        out.append(planned.said)
    if planned.status == "none":
        out.append("NO PLAN IS SAID TO EXIST, THE OPTIMUM IS %d" % instance.optimum)
    if not planned.figures:
        return out
    cost, least = planned.exact("cost"), planned.exact("least")
    if cost < instance.exact:
        out.append("THE PLAN IS BETTER THAN THE OPTIMUM: %d, NOT %d" % (cost, instance.exact))
    if least > instance.exact:
        out.append("THE BOUND IS ABOVE THE OPTIMUM: %d, NOT %d" % (least, instance.exact))
    if planned.proved and cost != instance.exact:
        out.append("PROVED IS %d, THE OPTIMUM IS %d" % (cost, instance.exact))
    return out


def one(drive, instance, limit, folder):
    """The Planned of an instance, and what contradicts its optimum."""
    arguments = instances.write(instance, folder)
    planned = drive.plan(folder, arguments, limit, keep="plan")
    if planned.figures and not planned.plans:
        # The callback heard of no plan: shorter runs tell whether one was as good by then.
        for mark in [mark for mark in MARKS if mark < min((planned.wall, planned.cpu)[drive.index], limit)]:
            shorter = drive.plan(folder, arguments, mark)
            if shorter.reached(planned.exact("cost")):
                planned.hear(True, min(shorter.wall, planned.wall), min(shorter.cpu, planned.cpu),
                             planned.exact("cost") / planned.unit())
                break
    faults = []
    if planned.figures:
        faults, _ = check_plan.check(fence_job.read_job(arguments, folder), os.path.join(folder, "plan"))
    wrong = contradictions(instance, planned, faults)
    return planned, ["%s %s: %s" % (instance.group, instance.name, text) for text in wrong]


def share(times, mark, limit, index):
    """How many of the (wall, cpu) or None are within MARK seconds; INDEX says which of them counts."""
    return str(sum(1 for time in times if time is not None and time[index] <= mark)) if mark <= limit else "–"


def row(group, measured, limit, index=0):
    """A class's row; MEASURED: [(Instance, Planned), ...]."""
    reached = [planned.reached(instance.exact) for instance, planned in measured]
    proved = [planned.met() for _, planned in measured]
    spent = [met or (planned.wall, planned.cpu) for met, (_, planned) in zip(proved, measured)]
    walls, cpus = [s[0] for s in spent], [s[1] for s in spent]
    return [group, len(measured), *(share(reached, mark, limit, index) for mark in MARKS),
            *(share(proved, mark, limit, index) for mark in MARKS), table.seconds(table.median(walls)),
            table.seconds(table.mean(walls)), table.seconds(table.mean(cpus)), PUBLISHED.get(group, "–")]


HEADER = ["class", "jobs", *("reached in %d s" % mark for mark in MARKS), *("proved in %d s" % mark for mark in MARKS),
          "median s", "mean s", "mean CPU s", "published mean s"]

NOTE = """Each instance is a job of extras alone. Seconds are those to the proof, those of a job left open at the limit
included. Published: mean over the whole class, another machine, a commercial LP solver (da Silva & Schouery, INFORMS J.
Computing 2025, doi 10.1287/ijoc.2023.0399); none is published for several stock lengths, whose optima were computed for
the bench's data."""


def run(options):
    """(Markdown, contradictions) of all classes."""
    rows, wrong = [], []
    for group, members in instances.read(options.data).items():
        measured = []
        for instance in instances.sample(members, options.sample):
            folder = tempfile.mkdtemp(prefix="bench-")
            try:
                planned, texts = one(options.drive, instance, options.limit, folder)
            finally:
                shutil.rmtree(folder)
            for text in texts:
                running.say(text)
            reached = planned.reached(instance.exact)
            running.say("%s %s: %s after %s s, %s CPU; optimum reached after %s s, %s CPU" %
                        (group, instance.name, planned.status, table.seconds(planned.wall), table.seconds(planned.cpu),
                         *(table.seconds(reached and reached[k]) for k in (0, 1))))
            measured.append((instance, planned))
            wrong += texts
        rows.append(row(group, measured, options.limit, options.drive.index))
    return "### Published classes, one section, limit %g s\n\n%s\n\n%s" % (options.limit, table.table(HEADER, rows),
                                                                         NOTE), wrong
