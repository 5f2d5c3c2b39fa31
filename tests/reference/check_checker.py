# check_checker.py - break a good plan in many ways: check_plan.py must find each
# SPDX-License-Identifier: GPL-3.0-or-later
"""check_checker.py [PROGRAM]: a checker that finds nothing proves nothing.

The plan that is broken is the full model's, and PROGRAM's too where it is given; then its verify must find each break
as well.
"""

import csv
import os
import subprocess
import sys
import tempfile

import check_plan
import fence_job
import write_plan

# Run a: a gate, a plinth with a block a bay.  Run b: an inside corner, a slope and a step.  Run c: one steep bay.  Plenty
# of boards; those of 2425 mm are too dear to be bought, and c's rail of 2413 mm would fit but for its plumb cut.
INPUT = {
    "spans": "run,span,start,finish,opening,rise,step\n"
             "a,2300,mitre 120,,,,\na,2300,,,,,\na,2300,,,,,\na,2300,,,,,\na,1200,,,yes,,\na,2300,,housed,,,\n"
             "b,2000,mitre 270,,,400,\nb,2000,,,,400,150\nb,2000,,mitre 90,,,\n"
             "c,2400,face,mitre 300,,600,\n",
    "levels": "level,section,runs,gap,blocks,block_length,height,seat,only\n"
              "plinth,150x25,between,4,1,200,0,,a; c\nlow,90x45,through,,0,,200,,\n"
              "high,90x45,through,,0,,700,let in 20,\ncap,100x25,through,,0,,1100,top,b;c\n",
    "stock": "section,length,price,limit,hand\n"
             "150x25,4800,20,,\n90x45,4800,30,,1\n90x45,5400,36,9,\n90x45,6000,45,0,\n90x45,2425,99,2,\n"
             "100x25,4800,20,,\n",
    "sections": "section,width,thickness,spare\n90x45,90,45,1\n150x25,150,25,\n100x25,100,25,\n",
    "extras": "label,section,length,quantity\nprop,90x45,900,2\nstake,90x45,600,1\n",
}


class Plan:
    """The CSV files of a plan, to be changed and written again."""

    def __init__(self, folder):
        self.tables = {}
        self.columns = {name: line.split(",") for name, line in check_plan.HEADERS.items()}
        for name in check_plan.HEADERS:
            with open(os.path.join(folder, name + ".csv"), newline="", encoding="utf-8") as file:
                self.tables[name] = list(csv.DictReader(file))

    def write(self, folder):
        for name, rows in self.tables.items():
            with open(os.path.join(folder, name + ".csv"), "w", newline="", encoding="utf-8") as file:
                writer = csv.DictWriter(file, self.columns[name], extrasaction="ignore")
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


def too_much_for(board_mm, label):
    """Put the piece alone on a board that is longer than the piece and shorter than what it takes."""
    def apply(plan):
        row = plan.row("cuts", piece=label)
        number = str(1 + max(int(other["board"]) for other in plan.tables["cuts"]))
        row.update(board=number, board_mm=board_mm, source="yard", cut="1")
    return apply


def both_tables(column, value, **wanted):
    """CHANGE in cuts.csv and fit.csv alike, so that they do not differ."""
    def apply(plan):
        for table in ("cuts", "fit"):
            plan.row(table, **wanted).update({column: value})
    return apply


def on_a_run_without(plan):
    """A piece of run b's capping is said to be run a's."""
    row = first_of(plan, "b/cap/")
    row.update(run="a", piece=row["piece"].replace("b/", "a/"))


def near_after_far(plan):
    """The two rows of a post where the fence steps, the wrong way round."""
    rows = [row for row in plan.tables["setout"] if (row["run"], row["post"], row["level"]) == ("b", "3", "low")]
    rows[0]["mark_mm"], rows[1]["mark_mm"] = rows[1]["mark_mm"], rows[0]["mark_mm"]


def without_column(table, column):
    return lambda plan: plan.columns[table].remove(column)


# What is done to the plan: a part of the fault that must be told, and how it is done.
BREAKS = {
    "a piece left out": ("is covered 0 times", lambda plan: plan.tables["cuts"].remove(first_of(plan, "a/low/"))),
    "a block left out": ("block 1 is not cut",
                         lambda plan: plan.tables["cuts"].remove(first_of(plan, "a/plinth/block"))),
    "an extra left out": ("prop 2 is not cut", drop("cuts", piece="prop 2")),
    "an extra renamed": ("prop 3 is cut", change("cuts", "piece", "prop 3", piece="prop 2")),
    "a piece cut twice": ("stands 2 times", twice),
    "a piece too long": ("is 2351, not", lambda plan: first_of(plan, "a/high/").update(cut_mm="2351")),
    "a piece a little short": ("cuts: cut_mm of a/high/", lambda plan: first_of(plan, "a/high/").update(
        cut_mm=str(float(first_of(plan, "a/high/")["cut_mm"]) - 0.1))),
    "a post wrong": ("is not made of its run, level and posts",
                     lambda plan: first_of(plan, "a/low/1-").update(to_post="7")),
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
    "cuts misnumbered": ("cuts: cuts of board", lambda plan: plan.tables["cuts"][0].update(cut="77")),
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
    "order described wrong": ("order: description of", lambda plan: plan.tables["order"][0].update(description="oak")),
    "order's metres wrong": ("order: metres of", lambda plan: plan.tables["order"][0].update(metres="1.0")),
    "order without spare": ("order: spare of", change("order", "spare", "0", section="90x45", spare="1")),
    "set-out misplaced": ("setout: distance of", lambda plan: plan.tables["setout"][-1].update(distance_mm="1")),
    # Corners.
    "an inside corner square": ("is square, not 45",
                                lambda plan: first_of(plan, "b/low/1-").update(start_cut="square")),
    "a sharp corner by its angle": ("is 300, not 60", both_tables("finish_cut", "300", piece="c/low/1-2")),
    "a saw too finely set": ("is 60.0001, not 60", both_tables("finish_cut", "60.0001", piece="c/low/1-2")),
    "the long point on the wrong face": ("long_point of a/low/1-",
                                         lambda plan: first_of(plan, "a/low/1-").update(long_point="inner")),
    "an inside corner's long point outside": ("long_point of b/low/1-",
                                              lambda plan: first_of(plan, "b/low/1-").update(long_point="outer")),
    "no long point": ("long_point of a/high/1-", lambda plan: first_of(plan, "a/high/1-").update(long_point="")),
    "a long point without a mitre": ("long_point of a/low/6-",
                                     both_tables("long_point", "outer", piece="a/low/6-7")),
    "a block with a long point": ("block 1 has a plumb cut or a long point",
                                  change("cuts", "long_point", "outer", piece="a/plinth/block 1")),
    # Slopes.
    "no plumb cut": ("plumb of c/low/1-2", both_tables("plumb", "", piece="c/low/1-2")),
    "a plumb cut two thousandths off": ("plumb of c/low/1-2", both_tables("plumb", "14.034", piece="c/low/1-2")),
    "a plumb cut too fine": ("plumb of c/low/1-2", both_tables("plumb", "14.0362", piece="c/low/1-2")),
    "a plumb cut where it is level": ("plumb of a/low/6-7", both_tables("plumb", "14.036", piece="a/low/6-7")),
    "an extra cut plumb": ("stake has a plumb cut or a long point", change("cuts", "plumb", "1", piece="stake")),
    "a plumb plinth cut square": ("plumb of c/plinth/1-2", both_tables("plumb", "", piece="c/plinth/1-2")),
    # What is taken of a board.
    "take without the triangle": ("take_mm of c/plinth/1-2",
                                  both_tables("take_mm", "2366", piece="c/plinth/1-2")),
    "take without the wider kerf": ("take_mm of b/low/3-4", both_tables("take_mm", "2050", piece="b/low/3-4")),
    "an extra takes more": ("take_mm of stake", change("cuts", "take_mm", "601", piece="stake")),
    "a block takes no more than nothing": ("take_mm of a/plinth/block 1",
                                           change("cuts", "take_mm", "", piece="a/plinth/block 1")),
    "fit takes another": ("fit: take_mm of c/low/1-2", change("fit", "take_mm", "2413", piece="c/low/1-2")),
    "a board too short for a plumb cut": ("is too short for its pieces", too_much_for("2425", "c/low/1-2")),
    "not in whole millimetres": ("cut_mm of c/low/1-2", both_tables("cut_mm", "2413.4", piece="c/low/1-2")),
    "no take at all": ("header or line ends", without_column("cuts", "take_mm")),
    # Levels and seats.
    "a level that the run lacks": ("its run has no such level", on_a_run_without),
    "blocks that the run lacks": ("b/plinth/block 1 is none of the job's pieces",
                                  change("cuts", "piece", "b/plinth/block 1", piece="c/plinth/block 1")),
    "a face on top": ("fit: ends of c/cap/1-2", change("fit", "start_join", "face", piece="c/cap/1-2")),
    # Set-out.
    "a mark too low": ("setout: mark of b, post 2, low", change("setout", "mark_mm", "350", run="b", post="2",
                                                                 level="low")),
    "sides of a step changed over": ("setout: mark of b, post 3, low", near_after_far),
    "one side of a step left out": ("setout: 1 rows and not 2", drop("setout", run="b", post="3", level="cap")),
    "no mark": ("setout: mark of", change("setout", "mark_mm", "", run="a", level="high")),
    "a capping on edge": ("setout: top of c, post 1, cap", change("setout", "top_mm", "1200", run="c", post="1",
                                                                   level="cap")),
    "a capping let in": ("setout: housing of c, post 1, cap", change("setout", "housing", "through", run="c", post="1",
                                                                      level="cap")),
    "a capping's depth": ("setout: depth of c, post 1, cap", change("setout", "depth_mm", "25", run="c", post="1",
                                                                     level="cap")),
    "let in too deep": ("setout: depth of a, post 1, high", change("setout", "depth_mm", "45", run="a", post="1",
                                                                    level="high")),
    "a stopped housing through": ("setout: housing of a, post 7, low",
                                  change("setout", "housing", "through", run="a", post="7", level="low")),
    "a housing at a face": ("setout: housing of a, post 5, low",
                            change("setout", "housing", "through", run="a", post="5", level="low")),
    "a level's row left out": ("setout: 0 rows and not 1", drop("setout", run="a", post="2", level="plinth")),
    "a row of a level that the run lacks": ("setout: a row too many: a",
                                            change("setout", "run", "a", run="c", level="cap")),
    "a join not marked": ("setout: join of", change("setout", "join", "", join="join")),
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
        for job.turn in (True, False):
            checker = check_plan.Checker(job, "")
            checker.check_stretch(job.runs[0], 0, 4, inside)
            if (not checker.faults) != (right or not job.turn):
                faults.append("in turn: %s is judged %s" % (inside, checker.faults))
    return faults


def breaks(job, folder, verify):
    """Faults among what is said of the plan in FOLDER/plan, and of it broken in every way.

    VERIFY: the words that have the program read FOLDER/broken, none where there is no program.
    """
    good, broken = (os.path.join(folder, name) for name in ("plan", "broken"))
    found, _ = check_plan.check(job, good)
    faults = ["the plan unbroken: " + line for line in found]
    for what, (words, apply) in {"unbroken": ("", lambda plan: None), **BREAKS}.items():
        plan = Plan(good)
        apply(plan)
        plan.write(broken)
        if what != "unbroken":
            found, _ = check_plan.check(job, broken)
            if not any(words in line for line in found):
                faults.append("%s: only found %s" % (what, found))
        if verify:
            status = subprocess.run(verify, cwd=folder, check=False, stdout=subprocess.DEVNULL,
                                    stderr=subprocess.DEVNULL).returncode
            if status != (what != "unbroken"):
                faults.append("%s: verify ends with status %d" % (what, status))
    return faults


def main():
    with tempfile.TemporaryDirectory() as folder:
        arguments = ["spans.csv", "--stagger", "require"]
        for name, text in INPUT.items():
            with open(os.path.join(folder, name + ".csv"), "w", encoding="utf-8") as file:
                file.write(text)
            arguments += [] if name == "spans" else ["--" + name, name + ".csv"]
        job = fence_job.read_job(arguments, folder)
        os.mkdir(os.path.join(folder, "broken"))
        program = os.path.abspath(sys.argv[1]) if len(sys.argv) > 1 else None
        verify = [program, "verify", *arguments, "--plan", "broken", "--rules-only"] if program else []
        write_plan.write(job, os.path.join(folder, "plan"))
        faults, plans = ["the model's plan: " + line for line in breaks(job, folder, verify)], 1
        if program:
            subprocess.run([program, "plan", *arguments, "-o", "plan"], cwd=folder, check=True,
                           stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
            faults += ["the program's plan: " + line for line in breaks(job, folder, verify)]
            plans += 1
        faults += turns(job)
    for line in faults:
        print(line)
    print("checker: %d plans broken in %d ways, %d turns: %d wrong" % (plans, len(BREAKS), len(TURNS), len(faults)))
    sys.exit(1 if faults else 0)


if __name__ == "__main__":
    main()
