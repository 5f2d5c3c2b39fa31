"""check_folder.py - a job is a folder: begun, planned, kept with its plan, verified by itself
SPDX-License-Identifier: GPL-3.0-or-later

FOLDER_FENCES in the environment: how many random fences (default 25).
"""
import csv
import os
import re
import shutil
import subprocess
import sys
import tempfile

from check_manners import SAMPLES, TOP, sample, sample_names, snapshot
from terminal import HANGS, PROGRAM, environment, run, run_tests

RANDOM_FENCE = os.path.join(TOP, "tests", "reference", "random_fence.py")
PARTS = ("spans.csv", "levels.csv", "stock.csv", "sections.csv", "extras.csv", "yards.csv", "fittings.csv",
         "settings.csv")
TABLES = ("order", "cuts", "fit", "setout")
MARK = b"\xef\xbb\xbf"
# More of the command line, for each sample.
VARIANTS = ([], ["--inches"], ["--kerf", "4", "--end-trim", "12.5", "--csv-style", "semicolon"],
            ["--stagger", "off", "--turn", "off", "--job", "=Hill; north, \"7\"", "--tax", "8.25", "--round", "0"])


def read(*path):
    with open(os.path.join(*path), "rb") as file:
        return file.read()


def write(data, *path):
    with open(os.path.join(*path), "wb") as file:
        file.write(data)


def plan(words, folder, **options):
    """Whether it is the cheapest does not matter here."""
    return run("plan", *words, "--time-limit", "5", "-o", folder, **options)


def expect_good(folder, *words, **options):
    """The plan in FOLDER keeps every rule of the job that is kept with it."""
    done = run("verify", "--plan", folder, "--rules-only", *words, **options)
    assert done.returncode == 0 and b"Every rule holds: " in done.stdout, (folder, words, done.stdout, done.stderr)
    assert b"error: " not in done.stderr, (folder, words, done.stderr)
    return done


def untouched(stderr):
    """Nothing says that the job is not what the plan was made from."""
    return not re.search(rb"was edited|put here after|is gone|no kept\.csv", stderr)


def expect_kept(folder, inputs):
    """INPUTS, name by name, are in the folder's job, byte for byte, and nothing else of a job but settings."""
    job = os.path.join(folder, "job")
    for name, data in inputs.items():
        assert read(job, name) == data, (folder, name)
    there = set(os.listdir(job)) - {"kept.csv", "settings.csv"}
    assert there == set(inputs), (there, inputs.keys())
    with open(os.path.join(job, "kept.csv"), newline="", encoding="utf-8-sig") as file:
        text = file.read()
        rows = {row["file"]: row for row in csv.DictReader(text.splitlines(), delimiter=";" if ";" in text else ",")}
    assert set(rows) == set(os.listdir(job)) - {"kept.csv"}, rows
    for name, row in rows.items():
        told = subprocess.run(["cksum", os.path.join(job, name)], capture_output=True, check=True, timeout=HANGS)
        assert told.stdout.split()[:2] == [row["cksum"].encode(), row["bytes"].encode()], (name, row, told.stdout)


def inputs_of(name):
    folder = os.path.join(SAMPLES, name)
    return {part: read(folder, part) for part in PARTS if os.path.exists(os.path.join(folder, part))}


# ---- A folder in place of files


def test_a_folder_is_its_files():
    for name in sample_names():
        folder = os.path.join(SAMPLES, name)
        for more in ([], ["--csv", "fit"], ["--csv", "order", "--kerf", "5"]):
            by_files, by_folder = run(*sample(name), *more), run("plan", folder, *more)
            assert by_files.returncode == 0, by_files.stderr
            assert (by_files.stdout, by_files.stderr) == (by_folder.stdout, by_folder.stderr), (name, more)
    name = "homestead"
    compared = [run("compare", *words, "--csv") for words in (sample(name)[1:], [os.path.join(SAMPLES, name)])]
    assert compared[0].returncode == 0 and compared[0].stdout == compared[1].stdout


# ---- A plan keeps its job


def test_samples():
    for name in sample_names():
        for more in VARIANTS:
            with tempfile.TemporaryDirectory() as folder:
                out = os.path.join(folder, "out")
                done = plan(sample(name)[1:] + more, out)
                assert done.returncode == 0, (name, more, done.stderr)
                kept = inputs_of(name)
                kept.pop("settings.csv", None)
                expect_kept(out, kept)
                # The folder alone, wherever it is.
                moved = os.path.join(folder, "moved")
                os.rename(out, moved)
                done = expect_good(moved, cwd="/")
                assert untouched(done.stderr) and b"/job: the job is read from here: spans.csv" in done.stderr, done.stderr
                # A plan of what is kept is the same plan, and keeps the same.
                again = os.path.join(folder, "again")
                assert plan([os.path.join(moved, "job")], again).returncode == 0, (name, more)
                for table in TABLES:
                    assert read(moved, table + ".csv") == read(again, table + ".csv"), (name, more, table)
                for part in os.listdir(os.path.join(moved, "job")):
                    assert read(moved, "job", part) == read(again, "job", part), (name, more, part)


def test_random_fences():
    wanted = int(os.environ.get("FOLDER_FENCES", "25"))
    planned = seed = 0
    while planned < wanted:
        seed += 1
        assert seed < 4 * wanted, f"only {planned} of {seed} fences have a plan"
        with tempfile.TemporaryDirectory() as folder:
            job = os.path.join(folder, "job files")
            os.mkdir(job)
            profile = ("ground", "whole")[seed // 2 % 2]
            subprocess.run([sys.executable, RANDOM_FENCE, str(seed), profile, job], check=True,
                           stdout=subprocess.DEVNULL)
            with open(os.path.join(job, "arguments"), encoding="utf-8") as file:
                words = file.read().splitlines()
            out = os.path.join(folder, "out")
            style = ["--csv-style", "semicolon"] if seed % 2 else []
            done = run("plan", *words, *style, "--time-limit", "2", "-o", out, cwd=job)
            if done.returncode != 0:
                assert done.returncode in (3, 4), (seed, done.returncode, done.stderr)
                continue
            planned += 1
            shutil.rmtree(job)
            assert untouched(expect_good(out).stderr), seed


def test_a_forgotten_option():
    """What the plan was made with and is not named again is taken from what is kept."""
    front = os.path.join(SAMPLES, "front-fence", "spans.csv")
    with tempfile.TemporaryDirectory() as folder:
        assert plan([front, "--kerf", "4", "--rails", "3", "--stock-length", "5.4"], folder).returncode == 0
        done = run("verify", front, "--plan", folder, "--rules-only")
        assert done.returncode == 0, done.stderr
        assert b"/job: the rest of the job is read from here: settings.csv\n" in done.stderr, done.stderr
        # A folder that keeps nothing is as before.
        shutil.rmtree(os.path.join(folder, "job"))
        done = run("verify", front, "--plan", folder, "--rules-only")
        assert done.returncode == 1 and b"/job" not in done.stderr, done.stderr
        expect_good(folder, front, "--kerf", "4", "--rails", "3", "--stock-length", "5.4")


def test_standard_input():
    front = read(SAMPLES, "front-fence", "spans.csv")
    with tempfile.TemporaryDirectory() as folder:
        words = [PROGRAM, "plan", "/dev/stdin", "--csv", "order", "-o"]
        write(front, folder, "spans")
        with open(os.path.join(folder, "spans"), "rb") as stdin:
            done = subprocess.run([*words, os.path.join(folder, "out")], stdin=stdin, capture_output=True,
                                  env=environment(), timeout=HANGS, check=False)
        assert done.returncode == 0, done.stderr
        expect_kept(os.path.join(folder, "out"), {"spans.csv": front})
        expect_good(os.path.join(folder, "out"))
        # A pipe is not read, so there is nothing to keep.
        before = snapshot(folder)
        done = subprocess.run([*words, os.path.join(folder, "out")], input=front, capture_output=True,
                              env=environment(), timeout=HANGS, check=False)
        assert done.returncode == 1 and b"/dev/stdin: cannot be read: it is not a regular file" in done.stderr, done
        assert snapshot(folder) == before


def test_two_plans_in_one_folder():
    with tempfile.TemporaryDirectory() as folder:
        assert plan(sample("homestead")[1:] + ["--kerf", "4"], folder).returncode == 0
        assert plan(sample("front-fence")[1:], folder).returncode == 0
        expect_kept(folder, inputs_of("front-fence"))
        assert os.listdir(os.path.join(folder, "job")).count("settings.csv") == 1  # the time limit
        expect_good(folder)


def test_edited_after_planning():
    with tempfile.TemporaryDirectory() as folder:
        words = sample("front-fence")[1:]
        assert plan(words, folder).returncode == 0
        spans = os.path.join(folder, "job", "spans.csv")
        write(read(spans).replace(b"2355", b"2255"), spans)
        done = run("verify", "--plan", folder, "--rules-only")
        assert done.returncode == 1, done.stdout
        assert (b"warning: " + spans.encode() + b": was edited after the plan was made from it: what is wrong with the"
                b" plan may come of that\n") in done.stderr, done.stderr
        # Nobody's work is overwritten ...
        before = snapshot(folder)
        done = plan(words, folder)
        assert done.returncode == 2, done.returncode
        assert b"was edited after the plan in this folder was made, and would be overwritten" in done.stderr
        assert snapshot(folder) == before
        # ... but it can be planned where it is.
        assert plan([os.path.join(folder, "job")], folder).returncode == 0
        assert untouched(expect_good(folder).stderr)


def test_the_jobs_own_folder():
    with tempfile.TemporaryDirectory() as folder:
        job = os.path.join(folder, "lane")
        assert run("start", job).returncode == 0
        begun = {name: read(job, name) for name in os.listdir(job)}
        for _ in range(2):
            assert run("plan", job, "-o", job).returncode == 0
            assert {name: read(job, name) for name in begun} == begun
            expect_good(job)
        done = run("verify", job, "--plan", job)
        assert done.returncode == 0 and b"/job" not in done.stderr, done.stderr
        # Edited, not planned yet: the plan is still that of the job it keeps, and the folder is another.
        write(begun["spans.csv"].replace(b"2410", b"2310"), job, "spans.csv")
        expect_good(job)
        assert run("verify", job, "--plan", job, "--rules-only").returncode == 1


def test_a_failed_run_leaves_all_as_it_was():
    with tempfile.TemporaryDirectory() as folder:
        assert plan(sample("homestead")[1:], folder).returncode == 0
        wrong = os.path.join(folder, "wrong.csv")
        write(b"run,span\nfront,2400\nfront,wide\n", wrong)
        before = snapshot(folder)
        assert plan([wrong], folder).returncode == 1
        os.remove(os.path.join(folder, "fit.csv"))
        os.mkdir(os.path.join(folder, "fit.csv"))
        before = snapshot(folder)
        assert plan(sample("front-fence")[1:], folder).returncode == 5
        assert snapshot(folder) == before


# ---- start


def test_start():
    for more in ([], ["--inches"], ["--csv-style", "semicolon"], ["--inches", "--csv-style=semicolon"]):
        with tempfile.TemporaryDirectory() as folder:
            job = os.path.join(folder, "job")
            done = run("start", job, *more)
            assert done.returncode == 0 and done.stderr == b"", done.stderr
            assert sorted(os.listdir(job)) == sorted({*PARTS, "README.txt"} - {"extras.csv", "yards.csv", "fittings.csv"})
            out = os.path.join(folder, "out")
            done = run("plan", job, "-o", out)
            assert done.returncode == 0 and b"No plan can be cheaper" in done.stdout, (more, done.stdout)
            assert b"warning" not in done.stderr, (more, done.stderr)
            expect_good(out)
            semicolons = any("semicolon" in word for word in more)
            for name in ("spans.csv", "stock.csv", "settings.csv"):
                assert read(job, name).startswith(MARK) == semicolons, (more, name)
            assert read(out, "fit.csv").startswith(MARK) == semicolons, more
            assert (b"cut_in" in read(out, "fit.csv")) == ("--inches" in more), more


def readme():
    """Column names by file, as the README of a begun job explains them."""
    with tempfile.TemporaryDirectory() as folder:
        assert run("start", folder).returncode == 0
        text = read(folder, "README.txt").decode("ascii")
    parts = re.split(r"^([a-z]+\.csv)(?::|,)", text, flags=re.M)[1:]
    found = {name: re.findall(r"^  ([a-z_]+)(\*?) +\S", body, flags=re.M) for name, body in zip(parts[::2], parts[1::2])}
    assert set(found) == set(PARTS), found.keys()
    return found


def test_readme_explains_what_is_read():
    """Each column that is explained is known, and must be there where it says so."""
    with tempfile.TemporaryDirectory() as folder:
        for name, columns in readme().items():
            path = os.path.join(folder, name)
            option = "--" + name.removesuffix(".csv")
            front = os.path.join(SAMPLES, "front-fence", "spans.csv")
            for left_out in [None] + [column for column, star in columns]:
                header = [column for column, star in columns if column != left_out]
                write((",".join(header) + "\n").encode(), path)
                done = run("plan", *([path] if name == "spans.csv" else [front, option, path]))
                said = done.stderr.decode()
                assert "is not known" not in said, (name, said)
                missing = re.findall(r'expected a column "([a-z_]+)"', said)
                stars = [column for column, star in columns if star]
                assert missing == ([left_out] if left_out in stars else []), (name, left_out, said)


def test_readme_explains_what_the_manual_does():
    with open(os.path.join(TOP, "cli", "spanwright-csv.5"), encoding="utf-8") as page:
        sections = re.split(r"^\.S[SH] ([a-z]+\.csv)?.*$", page.read(), flags=re.M)[1:]
    for name, columns in readme().items():
        body = "".join(text for title, text in zip(sections[::2], sections[1::2]) if title == name)
        table = re.search(r"^column\tneeded.*?\n_\n(.*?)^\.TE$", body, flags=re.M | re.S)
        if name == "settings.csv":
            named = {"key", "value"}
            assert table is None
        else:
            rows = re.sub(r"T\{.*?T\}", "", table[1], flags=re.S).splitlines()
            named = {column.strip() for row in rows for column in row.split("\t")[0].split(",")}
        explained = {column for column, _ in columns}
        assert len(named) > 1 and named <= explained, (name, named - explained)


# ---- --csv-style


def test_semicolons_say_the_same():
    decimals = 0
    for name in sample_names():
        for more in ([], ["--inches"]):
            for table in TABLES:
                words = [*sample(name), *more, "--csv", table]
                commas, semicolons = run(*words).stdout, run(*words, "--csv-style", "semicolon").stdout
                assert semicolons.startswith(MARK) and not commas.startswith(MARK), (name, table)
                header, *body = csv.reader(commas.decode().splitlines())
                other, *rows = csv.reader(semicolons.decode("utf-8-sig").splitlines(), delimiter=";")
                assert header == other and len(body) == len(rows) > 0, (name, table)
                for row, got in zip(body, rows):
                    wanted = [re.sub(r"^(-?\d+)\.(\d+)$", r"\1,\2", cell) for cell in row]
                    assert wanted == got, (name, table, wanted, got)
                    decimals += wanted != row
    assert decimals > 100, decimals


def test_no_mark_on_a_terminal():
    from terminal import Screen
    words = ["plan", os.path.join(SAMPLES, "front-fence"), "--csv", "order", "--csv-style", "semicolon"]
    screen = Screen(words)
    assert screen.status == 0 and screen.text.startswith(b"section;"), screen.text
    assert run(*words).stdout.startswith(MARK + b"section;")


if __name__ == "__main__":
    sys.exit(run_tests(globals()))
