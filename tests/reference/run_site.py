# run_site.py - the program's replan against the full model on random jobs with random mishaps
# SPDX-License-Identifier: GPL-3.0-or-later
"""Plan random jobs, let things go wrong, plan on, and compare with the independent optimum.

For each step: the exit status; aligned pairs, what is bought, changed pieces
and joins as worked out from the new plan's CSV files; that every board is
there and holds its pieces; the program's own verify.  A job that fails is kept
in its folder.
"""

import argparse
import csv
import os
import random
import shutil
import subprocess
import sys
import tempfile
from collections import Counter, defaultdict

import fence_job
import fence_model
import random_fence
import site_model
import site_state
from fence_job import MM

NO_PLAN = 3
HANG_SECONDS = 300


def run(command, folder):
    return subprocess.run(command, cwd=folder, stdout=subprocess.PIPE, stderr=subprocess.PIPE, timeout=HANG_SECONDS,
                          check=False)


# ---- what goes wrong ----

def mishaps(chance, job, folder, state):
    """A random site.csv's content: {"pieces": {label: (state, left)}, "boards": {number: (state, left)}}."""
    boards = site_state.boards_of(job, folder, state)
    site = {"pieces": {}, "boards": {}}
    cuts = [(board, cut) for board in boards.values() for cut in board.cuts]
    worst = chance.choice((0.05, 0.2, 0.5))
    done = chance.choice((0.0, 0.1, 0.4, 0.7))
    for board in boards.values():
        if chance.random() < worst:
            kind = chance.choice(("bad", "bad", "cut up"))
            left = None
            if kind == "bad" and board.length >= 301 * MM and chance.random() < 0.6:
                left = chance.randrange(300, max(board.length // MM, 301)) * MM
                left = min(left, board.length)
            site["boards"][board.number] = kind, left
    for board, cut in cuts:
        if chance.random() < done:
            kind = chance.choice(("fixed", "fixed", "cut", "spoiled"))
            left = None
            if kind == "spoiled" and cut.stick.length >= 51 * MM and chance.random() < 0.6:
                left = chance.randrange(50, max(cut.stick.length // MM, 51)) * MM
                left = min(left, cut.stick.length)
            site["pieces"][cut.label] = kind, left
    return site


def write_site(path, site):
    with open(path, "w", newline="", encoding="utf-8") as file:
        writer = csv.writer(file)
        writer.writerow(["piece", "board", "state", "left"])
        for number, (kind, left) in site["boards"].items():
            writer.writerow(["", number, kind, "" if left is None else "%fmm" % (left / MM)])
        for label, (kind, left) in site["pieces"].items():
            writer.writerow([label, "", kind, "" if left is None else "%fmm" % (left / MM)])


def measure_anew(chance, path):
    """Some bays turn out a little longer or shorter."""
    with open(path, newline="", encoding="utf-8") as file:
        rows = list(csv.reader(file))
    at = rows[0].index("span")
    for row in rows[1:]:
        if chance.random() < 0.2:
            row[at] = "%smm" % (fence_job.length(row[at]) / MM + chance.choice((-40, -20, -7, 5, 20, 35)))
    with open(path, "w", newline="", encoding="utf-8") as file:
        csv.writer(file).writerows(rows)


# ---- the new plan ----

def figures(job, state, folder):
    """(faults, Optimum) of the plan in FOLDER, worked out from its tables."""
    faults = []
    runs = {r.name: r for r in job.runs}
    levels = {level.name: level for level in job.levels}
    now = site_model.job_of(job, state)
    # What the program says is on hand.
    named, whole = site_state.on_hand(folder, job.sections)
    mine = Counter({key: n for key, n in state.whole.items() if n})
    if whole is None or +whole != mine:
        faults.append("whole boards on hand: %s, not %s" % (whole, mine))
    sticks = Counter()
    for stick, n in state.sticks.items():
        sticks[stick.section, stick.length, stick.cut] += n
    if Counter(named.values()) != sticks:
        faults.append("offcuts and pieces on hand: %s, not %s" % (Counter(named.values()), sticks))
        return faults, None
    boards = site_state.boards_of(job, folder, state)
    used, bought, cost = Counter(), Counter(), 0
    for board in boards.values():
        stock = next((s for s in now.stocks if s.section == board.section and s.length == board.length
                      and isinstance(s, site_model.SawnStock) == (board.stick is not None)), None)
        room = site_state.usable(job, board) + job.kerf
        needed = sum(c.take + job.kerf for c in board.cuts)
        # Where a piece is sawn as the stick is, it goes to its place whole.
        as_it_is = board.stick is not None and board.stick.ends is not None and len(board.cuts) == 1 \
            and (board.cuts[0].stick.ends, board.cuts[0].stick.cut) == (board.stick.ends, board.stick.cut)
        if needed > room and not as_it_is:
            faults.append("board %d does not hold its pieces" % board.number)
        if board.hand:
            used[board.section, board.length, board.stick] += 1
        else:
            bought[board.section, board.length] += 1
            cost += job.cost_of(stock)
    for (section, size, stick), n in used.items():
        if n > (state.whole[section, size] if stick is None else state.sticks[stick]):
            faults.append("%d boards of %s from hand, more than there are" % (n, section))
    for stock in job.stocks:
        key = stock.section, stock.length
        if stock.limit is not None and bought[key] > max(stock.limit - state.bought[key], 0):
            faults.append("more of %s bought than can be had" % (key,))
    cut = [c for board in boards.values() for c in board.cuts]
    pieces = defaultdict(list)
    for c in cut:
        if c.i is not None:
            pieces[c.run, c.level].append((c.i, c.j, False))
    for key, placed in state.placed.items():
        pieces[key] += [(i, j, True) for i, j in placed]
    blocks = Counter((c.run, c.level) for c in cut if c.run and c.i is None)
    for r in job.runs:
        for level in job.levels_of(r):
            key = r.name, level.name
            covered = [b for i, j, _ in pieces[key] for b in range(i, j)]
            if sorted(covered) != [b for b, bay in enumerate(r.bays) if not bay.opening]:
                faults.append("%s/%s is not covered once" % key)
            wanted = level.blocks * sum(not bay.opening for bay in r.bays)
            if blocks[key] + state.blocks[key] != wanted:
                faults.append("%s/%s has not its blocks" % key)
    others = sum(1 for c in cut if not c.run)
    if others + sum(state.extras.values()) != sum(e.quantity for e in job.extras):
        faults.append("extras are missing or too many")
    aligned = joins = changes = 0
    for r in job.runs:
        through = job.through(r)
        ends = [{} for _ in through]
        for t, level in enumerate(through):
            for i, j, stays in pieces[r.name, level.name]:
                for p in (i, j):
                    ends[t][p] = ends[t].get(p, False) or stays
                if not stays and (r.name, level.name, i, j, job.piece(r, level, i, j).cut) not in state.old:
                    changes += 1
        inner = [p for first, last in r.stretches() for p in range(first + 1, last)]
        joins += sum(p in e for e in ends for p in inner)
        for low, high in zip(ends, ends[1:]):
            for p in inner:
                if job.stagger != "off" and p in low and p in high and r.posts[p].join != "always" \
                        and not (low[p] and high[p]):
                    aligned += 1
    unknown = {c.label for c in cut if c.i is not None and c.label != "%s/%s/%d-%d" % (c.run, c.level, c.i + 1, c.j + 1)}
    if unknown:
        faults.append("labels that say another place: %s" % unknown)
    _ = runs, levels
    return faults, site_model.Optimum(aligned, cost, changes, joins)


def steps(program, seed, profile, folder, count):
    """Yields (verdict, faults) a step: "plan", "none", "undecided" or "wrong"."""
    chance = random.Random("site %s %s" % (profile, seed))
    arguments = random_fence.make(seed, profile, folder)
    words = [word for word in arguments]
    done = run([program, "plan", *arguments, "-o", "plan0"], folder)
    if done.returncode != 0:
        return
    job = fence_job.read_job(arguments, folder)
    state = site_state.first(job)
    for step in range(count):
        here, there = "plan%d" % step, "plan%d" % (step + 1)
        site = mishaps(chance, job, os.path.join(folder, here), state)
        write_site(os.path.join(folder, "site%d.csv" % step), site)
        state = site_state.after(job, os.path.join(folder, here), state, site)
        command = [program, "replan", "--plan", here, "--site", "site%d.csv" % step, "-o", there]
        if job.runs and chance.random() < 0.4:
            spans = words[0]
            shutil.copy(os.path.join(folder, spans), os.path.join(folder, "spans%d.csv" % step))
            measure_anew(chance, os.path.join(folder, "spans%d.csv" % step))
            words[0] = "spans%d.csv" % step
            try:
                job = fence_job.read_job(words, folder)
            except ValueError:
                return
            command.append(words[0])
        with open(os.path.join(folder, "commands"), "a", encoding="utf-8") as file:
            file.write(" ".join(command[1:]) + "\n")
        try:
            done = run(command, folder)
        except subprocess.TimeoutExpired:
            yield "wrong", ["the program hangs"]
            return
        with open(os.path.join(folder, "output%d" % step), "wb") as file:
            file.write(done.stdout + done.stderr)
        if done.returncode == 1 and b"too short" in done.stderr or b"leaves nothing" in done.stderr:
            return
        faults, found, best = [], None, None
        if done.returncode == 0:
            faults, found = figures(job, state, os.path.join(folder, there))
            told = run([program, "verify", "--plan", there, "--rules-only"], folder)
            if told.returncode != 0:
                faults.append("verify: %s" % [x for x in told.stderr.decode(errors="replace").splitlines()
                                              if x.startswith("error")])
        elif done.returncode != NO_PLAN:
            yield "wrong", ["exit status %d: %s" % (done.returncode, done.stderr.decode(errors="replace").strip())]
            return
        try:
            best = site_model.optimum(job, state)
        except fence_model.TooLarge:
            yield ("wrong" if faults else "undecided"), faults
            if faults or found is None:
                return
            continue
        if best is None and found is not None:
            faults.append("a plan where the reference finds none")
        elif best is not None and done.returncode == NO_PLAN:
            faults.append("no plan, the reference has %s" % best)
        elif best != found:
            faults.append("%s, the reference has %s" % (found, best))
        yield ("wrong" if faults else "plan" if best is not None else "none"), faults
        if faults or found is None:
            return


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--program", required=True)
    parser.add_argument("--count", type=int, default=40)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--steps", type=int, default=2)
    parser.add_argument("--profile", choices=("basic", "whole", "ground", "tiny"), default="basic")
    parser.add_argument("--keep", help="folder for the jobs that fail (default: a new one in the temporary folder)")
    options = parser.parse_args()
    program = os.path.abspath(options.program)
    kept = options.keep or tempfile.mkdtemp(prefix="site-")
    count = Counter()
    for seed in range(options.seed, options.seed + options.count):
        folder = os.path.join(kept, "%s-%d" % (options.profile, seed))
        shutil.rmtree(folder, ignore_errors=True)
        os.makedirs(folder)
        wrong = False
        for verdict, faults in steps(program, seed, options.profile, folder, options.steps):
            count[verdict] += 1
            if verdict == "wrong":
                wrong = True
                print("%s: %s" % (folder, "; ".join(faults)), flush=True)
        if not wrong:
            shutil.rmtree(folder)
    if not count["wrong"] and not options.keep:
        os.rmdir(kept)
    print("%s: %d plans on equal to the optimum, %d rightly without a plan, %d without verdict, %d wrong"
          % (options.profile, count["plan"], count["none"], count["undecided"], count["wrong"]))
    # A comparison that hardly compares must not pass.
    if count["wrong"] or count["plan"] * 2 < options.count:
        sys.exit(1)


if __name__ == "__main__":
    main()
