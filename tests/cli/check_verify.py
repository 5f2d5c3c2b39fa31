"""check_verify.py - what plan writes, verify accepts: samples, random fences, after a spreadsheet too
SPDX-License-Identifier: GPL-3.0-or-later

VERIFY_FENCES in the environment: how many random fences (default 40).
"""
import csv
import os
import re
import subprocess
import sys
import tempfile

from check_manners import TOP, sample, sample_names
from terminal import run, run_tests

RANDOM_FENCE = os.path.join(TOP, "tests", "reference", "random_fence.py")
GROUND = os.path.join(TOP, "tests", "data", "plan-ground")
FILES = ("order.csv", "cuts.csv", "fit.csv", "setout.csv")


def inputs(name):
    """The part of a sample's command line that names the job."""
    return sample(name)[1:]


def ground():
    """A job of corners, seats, slopes, steps and levels on some runs."""
    words = [os.path.join(GROUND, "spans.csv")]
    for name in ("levels", "stock", "sections", "extras"):
        words += ["--" + name, os.path.join(GROUND, name + ".csv")]
    return words


def expect_good(words, folder):
    done = run("verify", *words, "--plan", folder, "--rules-only")
    assert done.returncode == 0 and b"Every rule holds: " in done.stdout, (words, done.stdout, done.stderr)
    assert b"error: " not in done.stderr, (words, done.stderr)
    return done.stdout.decode()


def plan(words, folder, seconds="10", **options):
    """Whether it is the cheapest does not matter here."""
    return run("plan", *words, "--time-limit", seconds, "-o", folder, **options)


def test_samples():
    jobs = [inputs(name) for name in sample_names()]
    jobs += [inputs("corner-block") + ["--inches"], inputs("homestead") + ["--stagger", "off"],
             inputs("front-fence") + ["--kerf", "1/8in", "--end-trim", "20", "--rails", "4"],
             ground(), ground() + ["--inches"], ground() + ["--round", "0", "--post-depth", "90", "--turn", "off"]]
    for words in jobs:
        with tempfile.TemporaryDirectory() as folder:
            planned = plan(words, folder)
            assert planned.returncode == 0, (words, planned.stderr)
            expect_good(words, folder)


def test_a_plan_is_as_good_as_the_plan():
    for name in ("front-fence", "inches"):
        with tempfile.TemporaryDirectory() as folder:
            assert plan(inputs(name), folder).returncode == 0
            done = run("verify", *inputs(name), "--plan", folder)
            assert done.returncode == 0, done.stderr
            assert done.stdout.decode().splitlines()[-1] == "No plan can be cheaper.", done.stdout


def as_a_spreadsheet_does(folder):
    """Semicolons, decimal commas, columns sorted by name, rows by their last cell."""
    for name in FILES:
        path = os.path.join(folder, name)
        with open(path, encoding="utf-8", newline="") as file:
            header, *rows = csv.reader(file)
        order = sorted(range(len(header)), key=lambda c: header[c])
        rows.sort(key=lambda row: row[::-1])
        with open(path, "w", encoding="utf-8-sig", newline="") as file:
            writer = csv.writer(file, delimiter=";")
            writer.writerow(header[c] for c in order)
            for row in rows:
                cells = [re.sub(r"^(-?[0-9]+)\.([0-9]+)$", r"\1,\2", cell) for cell in row]
                writer.writerow(cells[c] for c in order)


def test_names_that_a_spreadsheet_takes_for_numbers():
    # "007" comes back as 7: one fault a row that says why, and nothing about rows that are missing.
    with tempfile.TemporaryDirectory() as folder:
        spans, levels = (os.path.join(folder, name) for name in ("spans.csv", "levels.csv"))
        with open(spans, "w", encoding="utf-8") as file:
            file.write("run,span\n007,2355\n007,2365\n000,2350\nfront,2340\n")
        with open(levels, "w", encoding="utf-8") as file:
            file.write("level,section\n01,rail\n10,rail\n")
        out = os.path.join(folder, "out")
        assert plan([spans, "--levels", levels], out).returncode == 0
        expect_good([spans, "--levels", levels], out)
        changed = {"run": 0, "level": 0}
        for name in ("fit.csv", "cuts.csv", "setout.csv"):
            path = os.path.join(out, name)
            with open(path, encoding="utf-8", newline="") as file:
                rows = list(csv.DictReader(file))
            for row in rows:
                for column in changed:
                    cell = row[column]
                    row[column] = str(int(cell)) if cell.isdigit() else cell
                    # What stands in the cut list is compared with the fit list.
                    changed[column] += row[column] != cell and name != "cuts.csv"
            with open(path, "w", encoding="utf-8", newline="") as file:
                writer = csv.DictWriter(file, rows[0].keys())
                writer.writeheader()
                writer.writerows(rows)
        done = run("verify", spans, "--levels", levels, "--plan", out, "--rules-only")
        faults = [line for line in done.stderr.decode().splitlines() if line.startswith("error: ")]
        assert done.returncode == 1 and min(changed.values()) > 4, (done.stderr, changed)
        assert len(faults) == sum(changed.values()), (faults, changed)
        for old, new in (("007", "7"), ("000", "0"), ("01", "1")):
            says = f'is "{new}", should be "{old}": a spreadsheet drops the zeros unless the column is opened as text'
            assert any(says in line for line in faults), (says, faults)
        assert all("a spreadsheet drops the zeros" in line for line in faults), faults


def test_after_a_spreadsheet():
    for words in [inputs(name) for name in sample_names()] + [ground()]:
        with tempfile.TemporaryDirectory() as folder:
            assert plan(words, folder).returncode == 0
            before = expect_good(words, folder)
            as_a_spreadsheet_does(folder)
            assert expect_good(words, folder) == before


def test_edits_are_caught():
    """Each figure of a real plan, one off: no cell is there that nobody looks at."""
    words = ground()
    with tempfile.TemporaryDirectory() as folder:
        assert plan(words, folder).returncode == 0
        for name in FILES:
            path = os.path.join(folder, name)
            with open(path, encoding="utf-8", newline="") as file:
                good = file.read()
            header, *rows = csv.reader(good.splitlines())
            for column, title in enumerate(header):
                # A column that is blank throughout: then nothing may stand in it.
                row = next((r for r, cells in enumerate(rows) if cells[column] != ""), 0)
                changed = [list(cells) for cells in rows]
                figure = re.fullmatch(r"[0-9.]+", changed[row][column])
                changed[row][column] = str(float(changed[row][column]) + 1).removesuffix(".0") if figure else "other"
                with open(path, "w", encoding="utf-8", newline="") as file:
                    csv.writer(file).writerows([header, *changed])
                done = run("verify", *words, "--plan", folder, "--rules-only")
                assert done.returncode == 1, (name, title, done.stdout)
                assert b"error: " in done.stderr and b"do not cut" in done.stdout, (name, title, done.stderr)
            with open(path, "w", encoding="utf-8", newline="") as file:
                file.write(good)
        expect_good(words, folder)


def test_whole_orders_are_caught():
    """Each figure of each row of an order from two yards with fittings, one off."""
    words = inputs("whole-order")
    with tempfile.TemporaryDirectory() as folder:
        assert plan(words, folder).returncode == 0
        path = os.path.join(folder, "order.csv")
        with open(path, encoding="utf-8", newline="") as file:
            good = file.read()
        header, *rows = csv.reader(good.splitlines())
        assert {cells[header.index("kind")] for cells in rows} == {"timber", "fitting", "delivery"}
        for row, cells in enumerate(rows):
            for column, text in enumerate(cells):
                if not text or header[column] == "unit_price" and cells[-1] == "delivery" or (
                        header[column] in ("count", "description") and cells[-1] == "delivery"):
                    continue
                changed = [list(other) for other in rows]
                changed[row][column] = str(float(text) + 1).removesuffix(".0") if re.fullmatch(r"[0-9.]+", text) else "other"
                with open(path, "w", encoding="utf-8", newline="") as file:
                    csv.writer(file).writerows([header, *changed])
                done = run("verify", *words, "--plan", folder, "--rules-only")
                assert done.returncode == 1 and b"error: " in done.stderr, (header[column], cells, done.stdout)
            with open(path, "w", encoding="utf-8", newline="") as file:
                csv.writer(file).writerows([header, *rows[:row], *rows[row + 1:]])
            done = run("verify", *words, "--plan", folder, "--rules-only")
            assert done.returncode == 1, (cells, done.stdout)
        with open(path, "w", encoding="utf-8", newline="") as file:
            file.write(good)
        expect_good(words, folder)


def test_turn():
    """Stock by which the three rails begin best with pieces of 3, 2 and 1 bays: only where the turn is not kept."""
    with tempfile.TemporaryDirectory() as folder:
        files = {"spans": "run,span\n" + "front,1500\n" * 6,
                 "levels": "level,section\nlow,a\nmiddle,b\nhigh,c\n",
                 "stock": "section,length\na,4.6\nb,3.1\nc,1.6\n"}
        paths = {name: os.path.join(folder, name + ".csv") for name in files}
        for name, text in files.items():
            with open(paths[name], "w", encoding="utf-8") as file:
                file.write(text)
        words = [paths["spans"], "--levels", paths["levels"], "--stock", paths["stock"]]
        out = os.path.join(folder, "out")
        assert plan(words + ["--turn", "off"], out).returncode == 0
        expect_good(words + ["--turn", "off"], out)
        expect_good(words + ["--stagger", "off"], out)
        # Without it, the plan's own setting counts, which its folder keeps.
        expect_good(words, out)
        done = run("verify", *words, "--turn", "keep", "--plan", out, "--rules-only")
        assert done.returncode == 1 and b"1 fault found" in done.stdout, (done.stdout, done.stderr)
        assert b'is 2: first pieces should be long and short in turn up the fence (run front from post 1): turn is ' \
            b'"keep"' in done.stderr, done.stderr
        assert plan(words, out).returncode == 0
        expect_good(words, out)


def test_random_fences():
    wanted = int(os.environ.get("VERIFY_FENCES", "40"))
    planned = seed = 0
    while planned < wanted:
        seed += 1
        assert seed < 4 * wanted, f"only {planned} of {seed} fences have a plan"
        with tempfile.TemporaryDirectory() as folder:
            profile = ("ground", "ground", "whole", "tiny")[seed % 4]
            subprocess.run([sys.executable, RANDOM_FENCE, str(seed), profile, folder], check=True,
                           stdout=subprocess.DEVNULL)
            with open(os.path.join(folder, "arguments"), encoding="utf-8") as file:
                words = file.read().splitlines()
            out = os.path.join(folder, "out")
            done = plan(words, out, "2", cwd=folder)
            if done.returncode != 0:
                assert done.returncode in (3, 4), (seed, profile, done.returncode, done.stderr)
                continue
            planned += 1
            done = run("verify", *words, "--plan", out, "--rules-only", cwd=folder)
            assert done.returncode == 0, (seed, profile, words, done.stdout, done.stderr)


if __name__ == "__main__":
    sys.exit(run_tests(globals()))
