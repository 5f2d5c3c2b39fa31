# rivals.py - the same fences by what one would use instead, side by side
# SPDX-License-Identifier: GPL-3.0-or-later

import csv
import os
import re
import shutil
import sys
import tempfile
import time
from dataclasses import dataclass

import by_hand
import fences
import making
import running
import table

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", "reference"))
import fence_job
import fence_model
import models

HERE = os.path.dirname(os.path.abspath(__file__))


@dataclass
class Answer:
    """What a rival came up with; cost is exact, or None."""
    status: str          # proved, stopped, rule, too large, failed
    cost: int = None
    wall: float = None
    cpu: float = None
    peak: int = None
    aligned: int = None


def by_cbc(path, model, limit):
    ended = running.run(["cbc", path, "-timeMode", "elapsed", "-sec", "%g" % limit, "-solve", "-quit"], limit + 60)
    value = re.search(r"^Objective value:\s+([-0-9.e+]+)", ended.output, re.M)
    proved = "Result - Optimal solution found" in ended.output
    # Without a plan it tells the bound in the plan's place.
    none = "No feasible solution found" in ended.output or not value
    return Answer("proved" if proved else "stopped", None if none else models.exact_cost(model, float(value.group(1))),
                  ended.wall, ended.cpu, ended.peak)


def by_glpsol(path, model, limit):
    result = path + ".out"
    ended = running.run(["glpsol", "--mps", path, "--tmlim", "%d" % limit, "-o", result], limit + 60)
    text = ""
    if os.path.exists(result):
        with open(result, encoding="ascii", errors="replace") as file:
            text = file.read(2000)
    state = re.search(r"^Status:\s+(.*)$", text, re.M)
    value = re.search(r"^Objective:\s+\S+ = ([-0-9.e+]+)", text, re.M)
    state = state.group(1).strip() if state else ""
    usable = state in ("INTEGER OPTIMAL", "INTEGER NON-OPTIMAL")
    return Answer("proved" if state == "INTEGER OPTIMAL" else "stopped",
                  models.exact_cost(model, float(value.group(1))) if usable else None,
                  ended.wall, ended.cpu, ended.peak)


def in_python(form, limit, aligned, boards, folder, words):
    """(Answer, cut lengths) of models.py in a process of its own."""
    ended = running.run([sys.executable, os.path.join(HERE, "models.py"), form, "%g" % limit, str(aligned), str(boards),
                         folder, *words], limit + 600)
    lines = [line.split(" ", 1) for line in ended.output.splitlines() if " " in line]
    told = {name: value for name, value in lines if name in ("end", "status", "cost")}
    pieces = [int(value) for name, value in lines if name == "piece"]
    if "end" not in told:
        return Answer("too large" if "TooLarge" in ended.output else "failed"), []
    wall, cpu = map(float, told["end"].split())
    return Answer(told["status"], int(told["cost"]) if "cost" in told else None, wall, cpu, ended.peak), pieces


def joins_first(drive, limit, aligned, folder, words):
    """Fewest joins by HiGHS, then their pieces cut exactly, by this very program."""
    first, pieces = in_python("joins", limit, aligned, 0, folder, words)
    if not pieces:
        return first
    with open(os.path.join(folder, "pieces.csv"), "w", newline="", encoding="ascii") as file:
        writer = csv.writer(file)
        writer.writerow(["label", "section", "length"])
        for number, piece in enumerate(pieces, 1):
            writer.writerow(["piece %d" % number, "rail", "%d.%06dmm" % divmod(piece, 10**6)])
    stock = words[words.index("--stock-length") + 1]
    planned = drive.plan(folder, ["--extras", "pieces.csv", "--stock-length", stock], limit)
    both = first.status == "proved" and planned.proved
    return Answer("proved" if both else "stopped", planned.figures.get("cost"), first.wall + planned.wall,
                  first.cpu + planned.cpu, max(first.peak, planned.peak))


def rule(job):
    wall, cpu = time.monotonic(), time.process_time()
    plan = by_hand.plan(job)
    return Answer("rule", plan.cost, time.monotonic() - wall, time.process_time() - cpu, None, plan.aligned), plan


METHODS = ("spanwright", "assignment, glpsol", "assignment, cbc", "all patterns, cbc", "all patterns, HiGHS",
           "joins first, then exact", "longest first by hand")


def with_files(job, ours, boards, limit, folder):
    """The answers of cbc and glpsol, which read files."""
    aligned = ours.exact("aligned")
    answers = {}
    for form, solvers in (("assignment", (("glpsol", by_glpsol), ("cbc", by_cbc))), ("patterns", (("cbc", by_cbc),))):
        path = os.path.join(folder, form + ".mps")
        name = "all patterns" if form == "patterns" else form
        try:
            model = models.build(form, job, aligned, boards)
        except fence_model.TooLarge:
            answers["%s, cbc" % name] = Answer("too large")
            continue
        models.write_mps(model, path)
        for solver, call in solvers:
            answers["%s, %s" % (name, solver)] = call(path, model, limit)
    return answers


def one(drive, fence, limit):
    """({method: Answer}, contradictions) of a FENCE (bays, rails, stock, kind, seed)."""
    folder = tempfile.mkdtemp(prefix="bench-")
    try:
        arguments = making.write(*fence, folder)
        words = making.reference_words(arguments)
        ours = drive.plan(folder, arguments, limit, keep="plan")
        wrong = fences.faults_of(ours, arguments, folder)
        if not ours.figures:
            return {"spanwright": Answer("stopped", None, ours.wall, ours.cpu, ours.peak)}, wrong
        met = ours.met() or (ours.wall, ours.cpu)
        answers = {"spanwright": Answer("proved" if ours.proved else "stopped", ours.exact("cost"), met[0], met[1],
                                        ours.peak, ours.exact("aligned"))}
        job = fence_job.read_job(words, folder)
        answers["longest first by hand"], hand = rule(job)
        # Enough boards for any plan that costs no more than the one by hand.
        boards = max(hand.boards, hand.cost // min(job.cost_of(stock) for stock in job.stocks_of("rail")))
        answers.update(with_files(job, ours, boards, limit, folder))
        aligned = ours.exact("aligned")
        answers["all patterns, HiGHS"], _ = in_python("patterns", limit, aligned, 0, folder, words)
        answers["joins first, then exact"] = joins_first(drive, limit, aligned, folder, words)
        return answers, wrong + contradictions(ours, answers)
    finally:
        shutil.rmtree(folder)


def contradictions(ours, answers):
    """What the program and the solvers of the whole model cannot both be right about."""
    out = []
    for method in ("assignment, glpsol", "assignment, cbc", "all patterns, cbc", "all patterns, HiGHS"):
        answer = answers.get(method)
        if answer is None or answer.cost is None:
            continue
        if answer.cost < ours.exact("least"):
            out.append("%s FOUND %d, BELOW THE BOUND %d" % (method.upper(), answer.cost, ours.exact("least")))
        if answer.status == "proved" and answer.cost > ours.exact("cost"):
            out.append("%s SAYS THAT %d IS LEAST, THE PLAN COSTS %d"
                       % (method.upper(), answer.cost, ours.exact("cost")))
    return out


def rows_of(bays, stock, measured):
    """A row a method; MEASURED: [{method: Answer}, ...] of as many fences."""
    out = []
    for method in METHODS:
        pairs = [(answers[method], answers["spanwright"]) for answers in measured if method in answers]
        if not pairs:
            continue
        timed = [(a, b) for a, b in pairs if a.cpu is not None]
        over = [a.cost / b.cost - 1 for a, b in pairs if a.cost is not None and b.cost]
        lined = [a.aligned - b.aligned for a, b in pairs if a.aligned is not None and b.aligned is not None]
        times = [a.cpu / max(b.cpu, 1e-3) for a, b in timed]
        judged = method != "longest first by hand"
        peaks = [a.peak for a, _ in pairs if a.peak]
        out.append([bays, stock, method, len(pairs), len(over),
                    sum(1 for a, _ in pairs if a.status == "proved") if judged else "–",
                    fences.both((a.wall, a.cpu) for a, _ in timed),
                    table.times(table.median(times)) if judged else "–", table.times(min(times, default=None)) if judged
                    else "–", table.per_cent(table.mean(over)), table.per_cent(max(over, default=None)),
                    "%.1f" % table.mean(lined) if lined else "–", "%.0f" % (max(peaks) / 1024) if peaks else "–"])
    return out


HEADER = ["bays", "stock", "method", "fences", "plans", "proved", "mean s", "times ours", "least", "mean cost over %",
          "worst %", "pairs over", "peak MiB"]

NOTE = """Seconds are elapsed / CPU to the proof or the limit; for models, those of the solver alone. Times ours: CPU
time over the program's, the median of the fences and the least. Cost over: against the program's plan. Every solver
is told the fewest pairs of joins that line up, and the assignment model how many boards are enough: the program has
to find both. Joins first: the fewest joins by HiGHS, then their pieces cut exactly, by this program. Longest first: a
rule of ours that imitates practice, in Python; pairs over: joins that line up beyond the fewest. Two and three rails,
regular and random spans. A model of more than 400000 patterns is not built: those fences have neither plan nor
seconds."""


def run(options):
    """(Markdown, contradictions) of all fences for which there is a rival."""
    missing = [name for name in ("cbc", "glpsol") if not shutil.which(name)]
    if missing:
        text = "SKIPPED: side by side: %s is missing (Debian: coinor-cbc, glpk-utils)" % " and ".join(missing)
        running.say(text)
        return text, []
    rows, wrong = [], []
    for bays in options.rival_sizes:
        for stock in making.STOCKS:
            measured = []
            for kind in making.KINDS:
                for rails in fences.RAILS:
                    for seed in range(1, (options.sample or 1) + 1):
                        fence = bays, rails, stock, kind, seed
                        answers, texts = one(options.drive, fence, options.rival_limit)
                        name = "%d bays, %d rails, %s, %s, seed %d" % fence
                        for method, answer in answers.items():
                            running.say("%s: %s: %s, cost %s, %s s, %s CPU" % (
                                name, method, answer.status, answer.cost, table.seconds(answer.wall),
                                table.seconds(answer.cpu)))
                        texts = ["%s: %s" % (name, text) for text in texts]
                        for text in texts:
                            running.say(text)
                        wrong += texts
                        measured.append(answers)
            rows += rows_of(bays, stock, measured)
    return "### Side by side, limit %g s each\n\n%s\n\n%s" % (options.rival_limit, table.table(HEADER, rows, 3),
                                                             NOTE), wrong
