# check_posts.py - spanwright posts against all ways of dividing, each solved by the full model
# SPDX-License-Identifier: GPL-3.0-or-later
"""check_posts.py PROGRAM [COUNT [SEED]]

Random small fences with stretches to divide.  Every way of dividing them, by
the rules of the column `divide` written anew here, is one job for the full
model (fence_model.py); the best of them all, by posts where they cost nothing,
aligned pairs, then cost with the posts', is what the program must find.  Its
finished spans.csv must be one of the ways, planning it must cost the same, and
verify must accept the plan.
"""

import csv
import itertools
import os
import random
import shutil
import subprocess
import sys
import tempfile
from fractions import Fraction

import check_plan
import fence_job
import fence_model

MM = fence_job.MM
# Jobs with more divisions than this are made anew: each is a whole-number programme.
MOST = 24
HANG_SECONDS = 300
# How far timber reaches past the centre of its post, in posts (spanwright-csv(5)); a housing stays inside.
REACH = {"flush": Fraction(1, 2), "mitre": Fraction(1, 2), "centre": 0, "face": 0, "housed": 0, "": 0}


def nearest(number):
    """To the nearest whole one, halves up."""
    return (2 * Fraction(number) + 1) // 2


def ways(how, span, low, high, start, finish):
    """Lists of where posts stand, in whole millimetres, from 0 to SPAN, each with its number of bays."""
    found = []
    for n in range(1, span // low + 1):
        each = Fraction(span, n)
        if low <= each <= high and (how in ("equal", "best") or n == 1):
            found.append([int(nearest(i * each)) for i in range(n + 1)])
        if n == 1:
            continue
        if how in ("ends", "best"):
            bay = (span + start + finish) / Fraction(n)
            bays = [bay - start] + [bay] * (n - 2) + [bay - finish]
            if all(low <= b <= high for b in bays):
                found.append([0] + [int(nearest(sum(bays[:i]))) for i in range(1, n)] + [span])
        if how in ("odd", "best"):
            for bay in range(-(-low // 5) * 5, high + 1, 5):
                if low <= span - (n - 1) * bay <= high:
                    found.append([bay * i for i in range(n)] + [span])
    return [list(w) for w in dict.fromkeys(map(tuple, found))]


class Fence:
    """Rows of spans.csv as dictionaries, options, and the other files."""

    def __init__(self, chance):
        self.chance = chance
        self.low = chance.choice((1000, 1200, 1400, 1500))
        self.high = self.low + chance.choice((100, 300, 500, 900))
        self.post_cost = chance.choice((0, 0, 5, 18, 40))
        self.width = chance.choice((90, 100, 125))
        self.clear = chance.random() < 0.2
        self.own = ["--min-bay", str(self.low), "--max-bay", str(self.high)]
        self.options = ["--post-width", str(self.width)]
        if self.clear:
            self.options += ["--measured", "clear"]
        if chance.random() < 0.2:
            self.options += ["--stagger", chance.choice(("off", "require"))]
        if chance.random() < 0.2:
            self.options += ["--kerf", "0"]
        self.rows = []
        for run in range(chance.choice((1, 1, 1, 2))):
            self.add_run("run %d" % run)
        self.make_timber()

    def add_run(self, name):
        chance = self.chance
        stretches = chance.choice((1, 1, 1, 2))
        kinds = ["divide"] * stretches + ["bay"] * chance.choice((0, 0, 1)) + ["gate"] * chance.choice((0, 0, 1))
        chance.shuffle(kinds)
        ends = ("", "", "flush", "centre", "face", "housed", "mitre")
        for i, kind in enumerate(kinds):
            row = {"run": name, "span": "", "divide": "", "start": "", "finish": "", "rise": "", "opening": "", "join": ""}
            span = chance.randint(900, 2200)
            if kind == "divide":
                # Now and then one that cannot be divided.
                bays = chance.choice((1, 2, 3, 3, 4))
                span = chance.randint(bays * self.low - (200 if chance.random() < 0.03 else 0), bays * self.high)
            if kind == "divide":
                row["divide"] = chance.choice(("equal", "ends", "odd", "best"))
                # Most grids of odd bays are too many for this test.
                if row["divide"] in ("odd", "best") and self.high - self.low > 100:
                    span = chance.choice((2 * self.low + chance.randint(0, 60), 2 * self.high - chance.randint(0, 60)))
                if chance.random() < 0.2:
                    row["rise"] = str(chance.randint(-300, 300))
            if kind == "gate":
                row["opening"] = "yes"
            row["span"] = str(span - (self.width if self.clear else 0))
            if kind != "gate":
                row["start"] = chance.choice(ends) if i == 0 else ""
                row["finish"] = chance.choice(ends) if i == len(kinds) - 1 else ""
                if i + 1 < len(kinds) and "gate" not in kinds[i:i + 2] and chance.random() < 0.3:
                    if chance.random() < 0.5:
                        row["join"] = chance.choice(("always", "never"))
                    else:
                        row["finish"] = "centre"
            self.rows.append(row)

    def make_timber(self):
        chance = self.chance
        lengths = sorted(chance.sample((3000, 3600, 4200, 4800, 5400), chance.choice((1, 2, 2))))
        self.levels = None
        if chance.random() < 0.3:
            self.levels = ["level,section,runs,blocks,block_length"]
            if chance.random() < 0.7:
                self.levels.append("plinth,board,between,%d,150" % chance.choice((0, 2)))
            self.levels += ["rail %d,rail,through,0," % i for i in range(chance.choice((1, 2)))]
        else:
            self.options += ["--rails", str(chance.choice((1, 2, 2, 3)))]
        priced = self.post_cost > 0 or chance.random() < 0.5
        if priced:
            self.own += ["--post-cost", str(self.post_cost)]
        if chance.random() < 0.2 and priced:
            self.options += ["--join-cost", "1.5"]
        self.stock = ["section,length,price"]
        for section in ("rail", "board") if self.levels else ("rail",):
            self.stock += ["%s,%d,%s" % (section, x, "%.2f" % (x * 0.005 + chance.choice((0, 0.5, 1.5))) if priced else "")
                           for x in lengths]
        self.sections = ["section,width,thickness", "rail,75,38", "board,150,25"]

    def centre(self, row):
        return int(row["span"]) + (self.width if self.clear else 0)

    def reach(self, index, end):
        """What timber reaches past the post at one END of the row's stretch."""
        rows, row = self.rows, self.rows[index]
        last = index + 1 == len(rows) or rows[index + 1]["run"] != row["run"]
        first = index == 0 or rows[index - 1]["run"] != row["run"]
        written = row[end] or ("flush" if (first if end == "start" else last) else "")
        if self.levels and not any("through" in level for level in self.levels):
            return Fraction(0)
        return REACH[written] * self.width

    def divisions(self):
        """All fences with everything divided: rows, and the number of posts set."""
        choices = []
        for index, row in enumerate(self.rows):
            if not row["divide"]:
                choices.append([None])
                continue
            choices.append(ways(row["divide"], self.centre(row), self.low, self.high, self.reach(index, "start"),
                                self.reach(index, "finish")))
        count = 1
        for choice in choices:
            count *= len(choice)
        if count > MOST:
            return None
        return [self.divided(choice) for choice in itertools.product(*choices)]

    def divided(self, choice):
        rows, posts = [], 0
        for row, at in zip(self.rows, choice):
            if at is None:
                rows.append({k: v for k, v in row.items() if k != "divide"})
                continue
            posts += len(at) - 2
            for i in range(len(at) - 1):
                last = i + 2 == len(at)
                new = {"run": row["run"], "span": str(at[i + 1] - at[i] - (self.width if self.clear else 0)),
                       "start": row["start"] if i == 0 else "", "finish": row["finish"] if last else "",
                       "rise": "", "opening": "", "join": row["join"] if last else ""}
                if row["rise"]:
                    # In proportion, to the nanometre, as the program shares it out: towards 0.
                    up = [int(Fraction(int(row["rise"]) * MM * x, at[-1])) for x in at[i:i + 2]]
                    new["rise"] = "%.6f" % Fraction(up[1] - up[0], MM)
                rows.append(new)
        return rows, posts

    def write(self, folder):
        write_rows(os.path.join(folder, "spans.csv"), self.rows)
        arguments = list(self.options)
        for name in ("levels", "stock", "sections"):
            lines = getattr(self, name)
            if lines is not None:
                with open(os.path.join(folder, name + ".csv"), "w") as file:
                    file.write("\n".join(lines) + "\n")
                arguments += ["--" + name, name + ".csv"]
        return arguments


def write_rows(path, rows):
    with open(path, "w", newline="") as file:
        writer = csv.DictWriter(file, list(rows[0]))
        writer.writeheader()
        writer.writerows(rows)


def best_of_all(fence, divisions, arguments, folder):
    """(key, cost) of the best division: the key is what comes first, cost last; None: there is none."""
    best = None
    for number, (rows, posts) in enumerate(divisions):
        name = "way.csv"
        write_rows(os.path.join(folder, name), rows)
        found = fence_model.optimum(fence_job.read_job([name, *arguments], folder))
        if found is None:
            continue
        cost = found.cost + posts * fence.post_cost * 1000000
        key = (posts if fence.post_cost == 0 else 0, found.aligned, cost)
        if best is None or key < best:
            best = key
    return best


def run(program, folder, *words):
    return subprocess.run([program, *words], cwd=folder, stdout=subprocess.PIPE, stderr=subprocess.PIPE,
                          timeout=HANG_SECONDS, check=False, encoding="utf-8")


def one_job(program, seed, folder):
    """(verdict, faults): "divided", "none", "large" or "wrong"."""
    chance = random.Random(seed)
    fence = Fence(chance)
    divisions = fence.divisions()
    if divisions is None:
        return "large", []
    arguments = fence.write(folder)
    done = run(program, folder, "posts", "spans.csv", *arguments, *fence.own, "-o", "out")
    if not divisions:
        return ("none", []) if done.returncode == 1 else ("wrong", ["status %d, no way" % done.returncode])
    try:
        best = best_of_all(fence, divisions, arguments, folder)
    except fence_model.TooLarge:
        return "large", []
    if best is None:
        return ("none", []) if done.returncode == 3 else ("wrong", ["status %d where there is no plan" % done.returncode])
    if done.returncode != 0:
        return "wrong", ["status %d: %s; the reference has %s" % (done.returncode, done.stderr.strip(), best)]
    return judge(program, folder, fence, divisions, arguments, best, done.stdout)


def judge(program, folder, fence, divisions, arguments, best, said):
    faults = []
    finished = fence_job.rows(os.path.join(folder, "out", "spans.csv"))
    job = fence_job.read_job(["out/spans.csv", *arguments], folder)
    spans = [[fence_job.length(row["span"]) for row in rows] for rows, _ in divisions]
    mine = [fence_job.length(row["span"]) for row in finished]
    if mine not in spans:
        faults.append("the finished spans are none of the ways: %s" % [x / MM for x in mine])
    posts = len(finished) - len(fence.rows)
    wrong, figures = check_plan.check(job, os.path.join(folder, "out"))
    faults += wrong
    if figures is not None:
        key = (posts if fence.post_cost == 0 else 0, figures.aligned, figures.cost + posts * fence.post_cost * 1000000)
        if key != best:
            faults.append("posts, pairs, cost are %s, the reference has %s" % (key, best))
    if "No spacing among the" not in " ".join(said.split()):
        faults.append("it is not said that no spacing is cheaper")
    pegs = fence_job.rows(os.path.join(folder, "out", "pegs.csv"))
    along, last = 0, None
    stand = []
    for row in finished:
        if row["run"] != last:
            stand.append((row["run"], 1, 0))
            along, last, number = 0, row["run"], 1
        along += fence_job.length(row["span"]) // MM + (fence.width if fence.clear else 0)
        number += 1
        stand.append((row["run"], number, along))
    if stand != [(row["run"], int(row["post"]), int(row["distance_mm"])) for row in pegs]:
        faults.append("pegs.csv is not what the spans add up to")
    again = run(program, folder, "plan", "out/spans.csv", *arguments, "-o", "again")
    wrong, planned = check_plan.check(job, os.path.join(folder, "again")) if again.returncode == 0 else (["plan fails"], None)
    faults += wrong
    if planned is not None and figures is not None and (planned.aligned, planned.cost) != (figures.aligned, figures.cost):
        faults.append("planned again it costs %s" % planned.cost)
    for words in (["verify", "--plan", "out"], ["verify", "out/spans.csv", *arguments, "--plan", "out", "--rules-only"]):
        done = run(program, folder, *words)
        if done.returncode != 0:
            faults.append("%s: status %d: %s" % (" ".join(words), done.returncode, done.stderr.strip()))
    return ("wrong" if faults else "divided"), faults


def main():
    program = os.path.abspath(sys.argv[1])
    wanted = int(sys.argv[2]) if len(sys.argv) > 2 else 20
    seed = int(sys.argv[3]) if len(sys.argv) > 3 else 1
    kept = tempfile.mkdtemp(prefix="posts-")
    count = {"divided": 0, "none": 0, "large": 0, "wrong": 0}
    while count["divided"] + count["none"] + count["wrong"] < wanted:
        folder = os.path.join(kept, str(seed))
        os.makedirs(folder)
        verdict, faults = one_job(program, seed, folder)
        count[verdict] += 1
        if verdict == "wrong":
            print("%s: %s" % (folder, "; ".join(faults)), flush=True)
        else:
            shutil.rmtree(folder)
        seed += 1
    if not count["wrong"]:
        os.rmdir(kept)
    print("posts: %d fences divided as the best of all ways, %d rightly not" % (count["divided"], count["none"]))
    print("%d passed, %d failed" % (count["divided"] + count["none"], count["wrong"]))
    if count["wrong"] or count["divided"] * 2 < wanted:
        sys.exit(1)


if __name__ == "__main__":
    main()
