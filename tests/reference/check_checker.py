# check_checker.py - break a good plan in many ways: check_plan.py must find each
# SPDX-License-Identifier: GPL-3.0-or-later
"""check_checker.py PROGRAM: a checker that finds nothing proves nothing."""

import csv
import os
import subprocess
import sys
import tempfile

import check_plan
import fence_job

# Four bays and a gate, two rails and a plinth, a block a bay; plenty of boards of two lengths.
INPUT = {
    "spans": "run,span,start,finish,join,opening\n"
             "a,2300,mitre 120,,,\na,2300,,,,\na,2300,,,,\na,2300,,,,\na,1200,,,,yes\na,2300,,housed,,\n",
    "levels": "level,section,runs,gap,blocks,block_length\n"
              "plinth,150x25,between,4,1,200\nlow,90x45,through,,0,\nhigh,90x45,through,,0,\n",
    "stock": "section,length,price,limit,hand\n"
             "150x25,4800,20,,\n90x45,4800,30,,1\n90x45,5400,36,9,\n90x45,6000,45,0,\n",
    "sections": "section,width,thickness,spare\n90x45,90,45,1\n150x25,150,25,\n",
    "extras": "label,section,length,quantity\nprop,90x45,900,2\nstake,90x45,600,1\n",
}


class Plan:
    """The CSV files of a plan, to be changed and written again."""

    def __init__(self, folder):
        self.tables = {}
        for name in check_plan.HEADERS:
            with open(os.path.join(folder, name + ".csv"), newline="", encoding="utf-8") as file:
                self.tables[name] = list(csv.DictReader(file))

    def write(self, folder):
        for name, rows in self.tables.items():
            with open(os.path.join(folder, name + ".csv"), "w", newline="", encoding="utf-8") as file:
                writer = csv.DictWriter(file, check_plan.HEADERS[name].split(","))
                writer.writeheader()
                writer.writerows(rows)

    def row(self, table, **wanted):
        """The first row in which every WANTED cell is so."""
        return next(row for row in self.tables[table] if all(row[k] == v for k, v in wanted.items()))

    def set_board(self, row, **cells):
        for other in self.tables["cuts"]:
            if other["board"] == row["board"]:
                other.update(cells)


def first_of(plan, run_level):
    return next(row for row in plan.tables["cuts"] if row["piece"].startswith(run_level))


def drop(table, **wanted):
    return lambda plan: plan.tables[table].remove(plan.row(table, **wanted))


def change(table, column, value, **wanted):
    return lambda plan: plan.row(table, **wanted).update({column: value})


def all_boards(**cells):
    def apply(plan):
        for row in plan.tables["cuts"]:
            if row["section"] == "90x45":
                row.update(cells)
    return apply


def twice(plan):
    plan.tables["cuts"].append(dict(plan.tables["cuts"][0]))


def swap_first_cuts(plan):
    rows = plan.tables["cuts"]
    for a, b in zip(rows, rows[1:]):
        if a["board"] == b["board"] and a["cut_mm"] != b["cut_mm"]:
            a["cut"], b["cut"] = b["cut"], a["cut"]
            k = rows.index(a)
            rows[k], rows[k + 1] = b, a
            return


def other_board(plan):
    """Put a long piece on a board where it has no room."""
    rows = [row for row in plan.tables["cuts"] if row["section"] == "90x45" and row["cut"] == "1"]
    last = max(int(row["cut"]) for row in plan.tables["cuts"] if row["board"] == rows[0]["board"])
    rows[1].update({name: rows[0][name] for name in ("board", "source", "board_mm")}, cut=str(last + 1))


def one_short(plan):
    row = plan.tables["order"][0]
    row["count"] = str(int(row["count"]) - 1)


def like_level(plan, source, target):
    """Lay TARGET's pieces out as SOURCE's, right in all else that a row says."""
    for table in ("cuts", "fit"):
        moved = [row for row in plan.tables[table] if row["level"] == target and row["run"] == "a"]
        model = [row for row in plan.tables[table] if row["level"] == source and row["run"] == "a"]
        for row in moved:
            plan.tables[table].remove(row)
        for row in model:
            plan.tables[table].append(dict(row, level=target, piece=row["piece"].replace(source, target)))


# What is done to the plan: a part of the fault that must be told, and how it is done.
BREAKS = {
    "a piece left out": ("bay 1 is covered 0 times", lambda plan: plan.tables["cuts"].remove(first_of(plan, "a/low/"))),
    "a block left out": ("block 1 is not cut",
                         lambda plan: plan.tables["cuts"].remove(first_of(plan, "a/plinth/block"))),
    "an extra left out": ("prop 2 is not cut", drop("cuts", piece="prop 2")),
    "an extra renamed": ("prop 3 is cut", change("cuts", "piece", "prop 3", piece="prop 2")),
    "a piece cut twice": ("stands 2 times", twice),
    "a piece too long": ("is 2351, not", lambda plan: first_of(plan, "a/high/").update(cut_mm="2351")),
    "a piece a little short": ("cuts: cut_mm of a/high/", lambda plan: first_of(plan, "a/high/").update(
        cut_mm=str(float(first_of(plan, "a/high/")["cut_mm"]) - 0.1))),
    "a post wrong": ("is not made of its run, level and posts",
                     lambda plan: first_of(plan, "a/low/").update(to_post="4")),
    "a post that is not there": ("is none of the job's pieces",
                                 lambda plan: first_of(plan, "a/low/").update(to_post="40")),
    "a level that is not there": ("is none of the job's pieces",
                                  lambda plan: first_of(plan, "a/low/").update(level="middle")),
    "the wrong section": ("is of section 150x25",
                          lambda plan: plan.set_board(first_of(plan, "a/low/"), section="150x25")),
    "a stock that is not there": ("is no stock of the job",
                                  lambda plan: plan.set_board(plan.tables["cuts"][0], board_mm="5100")),
    "over the limit": ("more than the limit", all_boards(board_mm="6000", source="yard")),
    "over what is on hand": ("more than are on hand", all_boards(board_mm="4800", source="hand")),
    "an unknown source": ("is no stock of the job", all_boards(source="shed")),
    "a board over-full": ("too short for its pieces", other_board),
    "not longest first": ("not cut longest first", swap_first_cuts),
    "left over wrong": ("left_mm of", lambda plan: plan.tables["cuts"][0].update(left_mm="5")),
    "cuts misnumbered": ("are not numbered 1 to 1", lambda plan: plan.tables["cuts"][0].update(cut="2")),
    "boards misnumbered": ("boards are not numbered", lambda plan: plan.set_board(plan.tables["cuts"][0], board="99")),
    "saw not set": ("is square, not 30", lambda plan: first_of(plan, "a/low/1-").update(start_cut="square")),
    "saw set wrong": ("is 45, not 30", lambda plan: first_of(plan, "a/low/1-").update(start_cut="45")),
    "saw set where square": ("is 30, not square", lambda plan: first_of(plan, "a/low/1-").update(finish_cut="30")),
    "joins line up": ("joins line up", lambda plan: like_level(plan, "high", "low")),
    "fit has another board": ("fit: board of", lambda plan: plan.tables["fit"][0].update(board="98")),
    "fit has too few": ("not the pieces of cuts.csv", lambda plan: plan.tables["fit"].pop()),
    "fit has another end": ("fit: ends of",
                            change("fit", "finish_join", "flush", run="a", level="low", finish_join="face")),
    "fit miscounts bays": ("fit: bays of", lambda plan: plan.tables["fit"][-1].update(bays="9")),
    "order one short": ("cuts.csv has",
                        one_short),
    "order line missing": ("are missing", lambda plan: plan.tables["order"].pop()),
    "order priced wrong": ("order: price of", lambda plan: plan.tables["order"][0].update(price="1.00")),
    "order's metres wrong": ("order: metres of", lambda plan: plan.tables["order"][0].update(metres="1.0")),
    "order without spare": ("order: spare of", change("order", "spare", "0", section="90x45", spare="1")),
    "set-out misplaced": ("setout: distance of", lambda plan: plan.tables["setout"][-1].update(distance_mm="1")),
}


# Joins of three rails over the four bays of posts 0 to 4, bottom to top: in turn or not, by the words of the rule.
TURNS = (
    ([[2], [1], [2]], True),          # longer, shorter, longer
    ([[1], [2], [1]], True),
    ([[1], [1], [1]], True),          # equal layouts satisfy it
    ([[1], [2], [3]], False),         # longer all the way up
    ([[3], [2], [1]], False),
    ([[1], [1], [2]], True),
    ([[3], [], [1]], True),           # a level without a join leaves both its pairs free
    ([[1, 2], [3], [2, 3]], True),    # only first pieces count
)


def turns(job):
    """Faults among the judgements of the rule that first pieces are longer and shorter in turn."""
    faults = []
    job.stagger = "prefer"
    for inside, right in TURNS:
        checker = check_plan.Checker(job, "")
        checker.check_stretch(job.runs[0], 0, 4, inside)
        if (not checker.faults) != right:
            faults.append("in turn: %s is judged %s" % (inside, checker.faults))
    return faults


def main():
    faults = []
    with tempfile.TemporaryDirectory() as folder:
        arguments = ["spans.csv", "--stagger", "require"]
        for name, text in INPUT.items():
            with open(os.path.join(folder, name + ".csv"), "w", encoding="utf-8") as file:
                file.write(text)
            arguments += [] if name == "spans" else ["--" + name, name + ".csv"]
        subprocess.run([os.path.abspath(sys.argv[1]), "plan", *arguments, "-o", "plan"], cwd=folder, check=True,
                       stdout=subprocess.DEVNULL)
        job = fence_job.read_job(arguments, folder)
        good = os.path.join(folder, "plan")
        found, _ = check_plan.check(job, good)
        faults += ["the plan unbroken: " + line for line in found]
        broken = os.path.join(folder, "broken")
        os.mkdir(broken)
        for what, (words, apply) in BREAKS.items():
            plan = Plan(good)
            apply(plan)
            plan.write(broken)
            found, _ = check_plan.check(job, broken)
            if not any(words in line for line in found):
                faults.append("%s: only found %s" % (what, found))
        faults += turns(job)
    for line in faults:
        print(line)
    print("checker: a plan broken in %d ways, %d turns: %d wrong" % (len(BREAKS), len(TURNS), len(faults)))
    sys.exit(1 if faults else 0)


if __name__ == "__main__":
    main()
