"""check_replan.py - on site: planning on from what is fixed, cut and left
SPDX-License-Identifier: GPL-3.0-or-later

SW_CHAINS in the environment: how many chains of ten plans (default 4).
"""
import csv
import os
import random
import re
import shutil
import sys
import tempfile

from check_manners import TOP, sample_names
from terminal import run, run_tests

SITE = "piece,board,state,left\n"


def planned_samples():
    """Samples whose posts are set."""
    for name in sample_names():
        with open(os.path.join(TOP, "samples", name, "spans.csv"), encoding="utf-8") as file:
            if "divide" not in file.readline():
                yield name


def table(folder, name):
    with open(os.path.join(folder, name), newline="", encoding="utf-8-sig") as file:
        return list(csv.DictReader(file))


def put(folder, text, name="site.csv"):
    with open(os.path.join(folder, name), "w", encoding="utf-8") as file:
        file.write(text)
    return os.path.join(folder, name)


def expect(done, status, *texts):
    said = (done.stdout + done.stderr).decode()
    assert done.returncode == status, (done.returncode, said)
    for text in texts:
        assert text in said, (text, said)
    return said


def replan(folder, rows, *words, out=None, old="plan"):
    site = put(folder, SITE + rows)
    more = ["-o", os.path.join(folder, out)] if out else []
    return run("replan", "--plan", os.path.join(folder, old), "--site", site, *words, *more)


def verify(folder, name):
    expect(run("verify", "--plan", os.path.join(folder, name), "--rules-only"), 0, "Every rule holds: ")


class Planned:
    """A sample's plan in a folder of its own."""

    def __init__(self, sample="on-site", *words):
        self.sample = os.path.join(TOP, "samples", sample)
        self.words = words

    def __enter__(self):
        self.folder = tempfile.mkdtemp()
        expect(run("plan", self.sample, *self.words, "-o", os.path.join(self.folder, "plan")), 0)
        return self.folder

    def __exit__(self, *_):
        shutil.rmtree(self.folder)


def without_numbers(folder):
    """Each piece and how it is cut, whatever board it comes from."""
    return sorted((row["piece"], row["cut_mm" if "cut_mm" in row else "cut_in"], row["start_cut"], row["finish_cut"])
                  for row in table(folder, "cuts.csv"))


def test_nothing_wrong_changes_nothing():
    """Every sample: nothing is bought, no label changes, and the plan is one."""
    for name in planned_samples():
        with Planned(name) as folder:
            expect(replan(folder, "", out="on"), 0, "Nothing is bought", "No label changes.",
                   "No piece past posts changes.")
            verify(folder, "on")
            assert table(os.path.join(folder, "on"), "order.csv") == []
            assert without_numbers(os.path.join(folder, "on")) == without_numbers(os.path.join(folder, "plan")), name


def test_the_story():
    """A board split, a post off: what the sample is about."""
    with Planned() as folder:
        with open(os.path.join(TOP, "samples", "on-site", "site.csv"), encoding="utf-8") as file:
            rows = file.read().partition("\n")[2]
        measured = os.path.join(TOP, "samples", "on-site", "measured.csv")
        expect(replan(folder, rows, measured, out="on"), 0, "revision 1", '"lane/bottom rail/3-5" is fixed and 4775 mm',
               "its place is 4795 mm: 20 mm too short", "lane/bottom rail/5-7: 4770, was 4790",
               "2100, offcut of board 8", "= the piece lane/bottom rail/9-10, as it is")
        verify(folder, "on")
        fit = {row["piece"]: row for row in table(os.path.join(folder, "on"), "fit.csv")}
        # What is fixed stays as it is cut, and comes from no board.
        assert (fit["lane/bottom rail/3-5"]["cut_mm"], fit["lane/bottom rail/3-5"]["board"]) == ("4775", "")
        order = table(os.path.join(folder, "on"), "order.csv")
        assert [(row["length_mm"], row["count"]) for row in order] == [("4800", "1")]
        # Once more, and all of it is up.
        names = "".join(row["piece"] + ",,fixed,\n" for row in table(os.path.join(folder, "on"), "cuts.csv"))
        expect(replan(folder, names, old="on", out="done"), 0, "revision 2", "Nothing is bought", "10 fixed")
        assert table(os.path.join(folder, "done"), "cuts.csv") == []
        verify(folder, "done")


def test_a_folder_measured_anew():
    """A folder in place of the spans: its files win, the plan's own do for the rest."""
    with Planned("on-site", "--kerf", "4") as folder:
        now = os.path.join(folder, "now")
        os.mkdir(now)
        shutil.copy(os.path.join(TOP, "samples", "on-site", "measured.csv"), os.path.join(now, "spans.csv"))
        expect(replan(folder, "", now, out="on"), 0, "lane/bottom rail/5-7: 4770, was 4790", "each cut takes 4")
        verify(folder, "on")


def test_what_is_said_of_a_piece():
    """The longer name counts; a prefix ends in a slash."""
    with Planned() as folder:
        said = expect(replan(folder, "lane/,,fixed,\nlane/top rail/,,cut,\nlane/top rail/2-4,,spoiled,2000\n", out="on"), 0,
                      "5 fixed", "4 cut already", "lane/top rail/2-4")
        assert "4.8 lm" in said, said
        verify(folder, "on")
        hand = {row["timber"]: row for row in table(os.path.join(folder, "on", "job"), "on-hand.csv")}
        assert hand["rest of lane/top rail/2-4"]["length"] == "2000mm", hand


def test_rows_that_are_refused():
    """Each with its line, and what was expected; nothing is written."""
    refused = {
        "lane/top rail/2-5,,fixed,\n": 'site.csv:2: piece: no piece of that plan has the label "lane/top rail/2-5"; '
                                       'the nearest: "lane/top rail/2-4"',
        "lane/cap/,,fixed,\n": 'no piece of that plan has a label that begins with "lane/cap/"; the nearest: ',
        ",12,bad,\n": "site.csv:2: board: that plan has no board 12: they are numbered up to 9",
        ",8,bad,5m\n": "site.csv:2: left: 5000 mm is more than the board had, 4800 mm",
        "lane/top rail/2-4,,spoiled,5m\n": "site.csv:2: left: 5000 mm is more than the piece had, 4785 mm",
        "lane/top rail/2-4,8,fixed,\n": "expected a piece or a board, found both on one line",
        ",,fixed,\n": "found neither",
        "lane/top rail/2-4,,bad,\n": 'site.csv:2: state: expected',
        ",8,fixed,\n": 'site.csv:2: state: expected',
        "lane/top rail/2-4,,,\n": 'site.csv:2: state: expected',
        "lane/top rail/2-4,,cut,2m\n": "site.csv:2: left: expected a blank cell for a piece that is whole",
        "lane/top rail/2-4,,cut,\nlane/top rail/2-4,,fixed,\n":
            'site.csv:3: piece: "lane/top rail/2-4" is said to be something else on line 2',
        ",8,bad,\n,8,cut up,\n": 'site.csv:3: board: "8" is said to be something else on line 2',
    }
    with Planned() as folder:
        for rows, text in refused.items():
            expect(replan(folder, rows, out="on"), 1, text)
            assert not os.path.exists(os.path.join(folder, "on")), rows
        done = run("replan", "--plan", os.path.join(folder, "plan"), "--site", put(folder, "state\nfixed\n"))
        expect(done, 1, "expected a column piece, or a column board, found neither")
        expect(run("replan", "--plan", os.path.join(folder, "plan"), "--site", os.path.join(folder, "none.csv")), 1,
               "cannot be read")
        expect(run("replan", "--plan", folder, "--site", put(folder, SITE)), 2, "no job is kept here")
        expect(replan(folder, "", out="plan"), 2, "write to another directory")


def test_what_has_no_place_any_more():
    """A fixed piece that the spans of now have no place for is named, and why."""
    with Planned() as folder:
        now = os.path.join(folder, "now.csv")
        with open(os.path.join(TOP, "samples", "on-site", "spans.csv"), encoding="utf-8") as file:
            head, *bays = file.read().splitlines()
        fixed = "lane/bottom rail/1-3,,fixed,\n"

        def measured(*rows, header=head):
            put(folder, "\n".join([header, *rows]) + "\n", "now.csv")
            return replan(folder, fixed, now)

        expect(measured(*[row.replace("lane", "brook") for row in bays]), 1,
               'site.csv:2: piece: "lane/bottom rail/1-3" is fixed', 'there is no run "lane"')
        expect(measured(bays[0]), 1, "its run ends at post 2")
        expect(measured(bays[0] + ",", bays[1] + ",yes", *[row + "," for row in bays[2:]], header=head + ",opening"), 1,
               "bay 2 is an opening")
        expect(measured(bays[0] + ",flush", *[row + "," for row in bays[1:]], header=head + ",finish"), 1,
               "timber ends at post 2, which it runs past")


def test_no_plan_says_what_is_missing():
    """The yard has no more of it."""
    with Planned() as folder:
        stock = put(folder, "section,length,price,limit\n90x45,4.8,30,8\n90x45,5.4,34.9,1\n", "stock.csv")
        expect(run("plan", os.path.join(TOP, "samples", "on-site"), "--stock", stock, "-o",
                   os.path.join(folder, "few")), 0)
        expect(replan(folder, ",3,bad,\n,4,bad,\n", old="few"), 3, "short; raise a limit or add a length")
        # Two broken boards, and one that the yard still had: the first eight were bought.
        stock = put(folder, "section,length,price,limit\n90x45,4.8,30,9\n90x45,5.4,34.9,1\n", "stock.csv")
        expect(replan(folder, ",3,bad,\n", "--stock", stock, old="few", out="on"), 0, "1/4.8")
        verify(folder, "on")


def test_spare_boards_are_there():
    """Spare lengths of the order were bought with the others."""
    with Planned() as folder:
        sections = put(folder, "section,width,thickness,spare\n90x45,90,45,1\n", "sections.csv")
        expect(run("plan", os.path.join(TOP, "samples", "on-site"), "--sections", sections, "-o",
                   os.path.join(folder, "spare")), 0)
        expect(replan(folder, ",8,bad,\n", old="spare", out="on"), 0, "Nothing is bought", "No label changes.")
        expect(replan(folder, ",8,bad,\n,7,bad,\n", old="spare"), 0, "2/4.8")


def test_yards_packs_and_fittings():
    """What a yard has sold it no longer has; fittings and what packs left over are there."""
    with Planned() as folder:
        job = os.path.join(folder, "yards")
        shutil.copytree(os.path.join(TOP, "samples", "on-site"), job)
        put(job, "section,length,price,yard,limit,pack\n90x45,4.8,30.40,North,0,\n90x45,5.4,34.90,South,,4\n", "stock.csv")
        put(job, "yard,delivery\nNorth,1\nSouth,1\n", "yards.csv")
        put(job, "item,per,each,pack,price\npost,post,1,1,22\nscrew,crossing,2,100,18\n", "fittings.csv")
        expect(run("plan", job, "-o", os.path.join(folder, "two")), 0)
        order = {(row["yard"], row["kind"]): row for row in table(os.path.join(folder, "two"), "order.csv")}
        assert order["South", "timber"]["spare"] != "0", order
        expect(replan(folder, "", old="two", out="on"), 0, "Nothing is bought", "No label changes.")
        assert table(os.path.join(folder, "on"), "order.csv") == []
        verify(folder, "on")
        hand = {(row["kind"], row["length"], row["timber"]): row
                for row in table(os.path.join(folder, "on", "job"), "on-hand.csv")}
        bought = sum(int(order["South", "timber"][name]) for name in ("count", "spare"))
        assert hand["board", "5400mm", ""]["count"] == str(bought), hand
        assert hand["fitting", "", "screw"]["count"] == "100", hand
        bad = "".join(",%s,bad,\n" % row["board"] for row in table(os.path.join(folder, "on"), "cuts.csv"))
        done = replan(folder, bad, old="on", out="again")
        expect(done, 0)
        again = table(os.path.join(folder, "again"), "order.csv")
        north = sum(int(row["count"]) for row in again if row["yard"] == "North" and row["kind"] == "timber")
        had = int(order["North", "timber"]["count"]) if ("North", "timber") in order else 0
        assert north + had == 0 and not any(row["kind"] == "fitting" for row in again), (had, again)
        verify(folder, "again")


def test_ends_that_are_trimmed():
    """Of what is sawn already no end is docked; of a whole board both are."""
    with Planned("front-fence", "--end-trim", "10", "--stock-length", "4.8,5.4") as folder:
        cuts = table(os.path.join(folder, "plan"), "cuts.csv")
        one = cuts[0]
        expect(replan(folder, "%s,,cut,\n" % one["piece"], out="on"), 0, "Nothing is bought", "No label changes.",
               "1 cut already")
        verify(folder, "on")
        hand = {row["timber"]: row["length"] for row in table(os.path.join(folder, "on", "job"), "on-hand.csv")}
        left = float(one["board_mm"]) - 20 - float(one["cut_mm"]) - 3
        if left > 0:
            assert hand["offcut of board " + one["board"]] == "%gmm" % left, hand
        assert hand[one["piece"]] == one["cut_mm"] + "mm", hand


def some_site(chance, folder):
    """What may happen to the plan in FOLDER."""
    rows = []
    for row in table(folder, "cuts.csv"):
        if chance.random() < 0.25:
            state = chance.choice(("fixed", "fixed", "fixed", "cut", "spoiled"))
            left = chance.choice(("", "50mm")) if state == "spoiled" else ""
            rows.append("%s,,%s,%s\n" % (row["piece"], state, left))
    for number in {row["board"] for row in table(folder, "cuts.csv")}:
        if chance.random() < 0.08:
            rows.append(",%s,%s,\n" % (number, chance.choice(("bad", "cut up"))))
    return "".join(rows)


def test_chains_of_ten():
    """Ten times planned on: every plan keeps every rule, and what is fixed stays as it is."""
    names = list(planned_samples())
    for seed in range(int(os.environ.get("SW_CHAINS", "4"))):
        chance = random.Random("chain %d" % seed)
        with Planned(names[seed % len(names)]) as folder:
            old, fixed = "plan", {}
            for step in range(1, 11):
                site = some_site(chance, os.path.join(folder, old))
                new = "plan-%d" % step
                expect(replan(folder, site, old=old, out=new), 0, ", revision %d" % step)
                verify(folder, new)
                here = {row["piece"]: row for row in table(os.path.join(folder, new), "fit.csv")}
                length = "cut_mm" if "cut_mm" in next(iter(here.values())) else "cut_in"
                for label, cut in fixed.items():
                    assert (here[label]["board"], here[label][length]) == ("", cut), (seed, step, label)
                fixed = {label: row[length] for label, row in here.items() if row["board"] == ""}
                said = set(re.findall(r"^(.*),,fixed,$", site, re.M))
                assert {label for label in said if label in here} <= set(fixed), (seed, step)
                old = new


if __name__ == "__main__":
    sys.exit(run_tests(globals()))
