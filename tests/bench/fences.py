# fences.py - whole fences: first plan, proof, gap, memory, growth
# SPDX-License-Identifier: GPL-3.0-or-later

import os
import shutil
import sys
import tempfile

import making
import running
import table

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", "reference"))
import check_plan
import fence_job

RAILS = (2, 3)
LARGE = 3000        # bays from which on the larger limit holds, and one fence of a kind is enough


def faults_of(planned, arguments, folder):
    """What is wrong with a plan that was written to FOLDER/plan, a sentence each."""
    if planned.status == "failed":
        return [planned.said]
    if planned.status == "none":
        return ["NO PLAN IS SAID TO EXIST"]
    if not planned.figures:
        return []
    job = fence_job.read_job(making.reference_words(arguments), folder)
    faults, figures = check_plan.check(job, os.path.join(folder, "plan"))
    out = ["THE PLAN BREAKS A RULE: %s" % fault for fault in faults]
    for name in ("cost", "aligned", "joins", "boards"):
        if figures is not None and getattr(figures, name) != planned.exact(name):
            out.append("THE TABLES' %s IS %d, THE PLAN'S %d" % (name.upper(), getattr(figures, name),
                                                               planned.exact(name)))
    if planned.exact("least") > planned.exact("cost"):
        out.append("THE BOUND IS ABOVE THE PLAN")
    return out


def one(drive, fence, limit):
    """The Planned of a FENCE (bays, rails, stock, kind, seed), and what is wrong with it."""
    folder = tempfile.mkdtemp(prefix="bench-")
    try:
        arguments = making.write(*fence, folder)
        planned = drive.plan(folder, arguments, limit, keep="plan")
        return planned, ["%d bays, %d rails, %s, %s, seed %d: %s" % (*fence, fault)
                         for fault in faults_of(planned, arguments, folder)]
    finally:
        shutil.rmtree(folder)


def both(pairs):
    """Mean wall and CPU of (wall, cpu) pairs, as one cell."""
    pairs = [pair for pair in pairs if pair is not None]
    if not pairs:
        return "–"
    return "%s / %s" % tuple(table.seconds(table.mean(pair[k] for pair in pairs)) for k in (0, 1))


def row(kind, measured):
    """KIND: (spans, stock, rails, bays); MEASURED: [Planned, ...]."""
    usable = [planned for planned in measured if planned.figures]
    met = [planned.met() for planned in measured]
    known = [m[1] for m in met if m is not None]
    return [*kind, len(measured), both(planned.first() for planned in usable), both(met),
            table.seconds(max(known)) if known else "–", len(known),
            both((planned.wall, planned.cpu) for planned in measured),
            table.seconds(max(planned.cpu for planned in measured)),
            table.per_cent(table.mean(planned.gap() for planned in usable), 3),
            table.per_cent(max((planned.gap() for planned in usable), default=None), 3),
            "%.0f" % (max(planned.peak for planned in measured) / 1024)]


HEADER = ["spans", "stock", "rails", "bays", "fences", "first plan s", "proof s", "worst", "proved", "all s", "worst",
          "mean gap %", "worst gap %", "peak MiB"]

NOTE = """Seconds are elapsed / CPU, from the start of the program, reading included; proof: of those proved, until the
bound met the cost; all: until fewest joins and boards were settled too, or the limit came; worst: of one fence, CPU."""


def growth(kinds):
    """How often the CPU time for ten times the bays; KINDS: {(spans, stock, rails): {bays: [Planned]}}."""
    sizes = sorted({bays for by_size in kinds.values() for bays in by_size})
    steps = [(bays, 10 * bays) for bays in sizes if 10 * bays in sizes]
    if not steps:
        return ""
    rows = []
    for kind, by_size in kinds.items():
        cells = []
        for small, large in steps:
            for time in (lambda p: p.first()[1] if p.figures else None, lambda p: p.cpu):
                low, high = (table.mean(map(time, by_size.get(bays, []))) for bays in (small, large))
                cells.append(table.times(high / low) if low and high else "–")
        rows.append([*kind, *cells])
    header = ["spans", "stock", "rails"]
    for small, large in steps:
        header += ["first plan %d to %d" % (small, large), "all %d to %d" % (small, large)]
    return "\n\nGrowth, CPU time for ten times the bays (held down by the limit where it came first):\n\n" + \
        table.table(header, rows, 2)


def run(options):
    """(Markdown, faults) of all fences."""
    rows, kinds, wrong = [], {}, []
    for spans in making.KINDS:
        for stock in making.STOCKS:
            for rails in RAILS:
                for bays in options.sizes:
                    seeds = 1 if bays >= LARGE else options.sample or 3
                    limit = options.large_limit if bays >= LARGE else options.limit
                    measured = []
                    for seed in range(1, seeds + 1):
                        planned, faults = one(options.drive, (bays, rails, stock, spans, seed), limit)
                        for fault in faults:
                            running.say(fault)
                        running.say("%s, %s, %d rails, %d bays, seed %d: %s after %s s, %s CPU, gap %s %%, %d MiB"
                                    % (spans, stock, rails, bays, seed, planned.status, table.seconds(planned.wall),
                                       table.seconds(planned.cpu),
                                       table.per_cent(planned.gap() if planned.figures else None, 3),
                                       planned.peak // 1024))
                        measured.append(planned)
                        wrong += faults
                    rows.append(row((spans, stock, rails, bays), measured))
                    kinds.setdefault((spans, stock, rails), {})[bays] = measured
    limits = "%g s" % options.limit
    if any(bays >= LARGE for bays in options.sizes):
        limits += ", %g s from %d bays" % (options.large_limit, LARGE)
    return "### Whole fences, limit %s\n\n%s\n\n%s%s" % (limits, table.table(HEADER, rows, 2), NOTE,
                                                        growth(kinds)), wrong
