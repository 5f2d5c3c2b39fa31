"""check_spreadsheet.py - the plan's tables in LibreOffice: numbers are numbers, nothing runs, and they come back
SPDX-License-Identifier: GPL-3.0-or-later
"""
import csv
import os
import re
import shutil
import subprocess
import sys
import tempfile
import xml.etree.ElementTree as xml

from check_manners import sample, sample_names
from terminal import HANGS, run, run_tests

SOFFICE = shutil.which("soffice") or shutil.which("libreoffice")
TABLES = ("order", "cuts", "fit", "setout")
TEXT_COLUMNS = {"section", "description", "source", "piece", "run", "level", "start_join", "finish_join", "housing",
                "join", "long_point", "yard", "kind"}

# Options of the text filter, as LibreOffice's help "Filter Options for CSV" numbers them: 1 separator (code),
# 2 quote (code), 3 UTF-8, 4 first line, 6 language, 8 on saving: numbers as they are shown.
ENGLISH_COMMAS = "CSV:44,34,76,1,,1033"
# No language: that of the desktop.
DESKTOP = "CSV:{},34,76,1,,0"
SAVE = "csv:Text - txt - csv (StarCalc):{},34,76,1,,0,false,true,false"
COMMA, SEMICOLON = 44, 59

# A desktop of a country that writes 4852,5.
DECIMAL_COMMA = """<?xml version="1.0" encoding="UTF-8"?>
<oor:items xmlns:oor="http://openoffice.org/2001/registry"><item oor:path="/org.openoffice.Setup/L10N">
<prop oor:name="ooSetupSystemLocale" oor:op="fuse"><value>de-DE</value></prop></item></oor:items>
"""

# Names that a spreadsheet would run if they came bare.
HOSTILE = {
    "spans": "run,span\n=1+1,2400\n=1+1,2410.5\n-5,2300\n@x,2300\n",
    "levels": "level,section\n+2*3,=A1\n\"=HYPERLINK(\"\"x\"\")\",=A1\n",
    "stock": "section,length,price\n=A1,4.8,20.5\n=A1,5.4,25\n",
    "sections": "section,description\n=A1,@SUM(A1:A9)\n",
    "extras": "label,section,length\n-2+3,=A1,1000.5\n",
}


class Office:
    """LibreOffice with a profile of its own."""

    def __init__(self, folder, settings=None):
        self.profile = os.path.join(folder, "profile")
        os.makedirs(os.path.join(self.profile, "user"))
        if settings is not None:
            with open(os.path.join(self.profile, "user", "registrymodifications.xcu"), "w", encoding="utf-8") as file:
                file.write(settings)

    def start(self, into, form, files, *more):
        """Convert FILES; what it said."""
        done = subprocess.run([SOFFICE, "--headless", "-env:UserInstallation=file://" + self.profile, *more,
                               "--convert-to", form, "--outdir", into, *files],
                              capture_output=True, timeout=HANGS, check=False)
        return done.stdout, done.stderr

    def convert(self, into, form, files, reading=ENGLISH_COMMAS):
        said = self.start(into, form, files, "--infilter=" + reading)
        assert len(os.listdir(into)) == len(files), (form, said)


def hostile_job(folder):
    words = ["plan"]
    for kind, text in HOSTILE.items():
        file = os.path.join(folder, kind + ".csv")
        with open(file, "w", encoding="utf-8") as out:
            out.write(text)
        words += [file] if kind == "spans" else ["--" + kind, file]
    return words


def jobs(folder):
    """(name, words of the command line) of every sample and of a job with names that look like formulas."""
    return [(name, sample(name)) for name in sample_names()] + [("formulas", hostile_job(folder))]


def rows(file, separator=","):
    with open(file, newline="", encoding="utf-8-sig") as table:
        return list(csv.reader(table, delimiter=separator))


def make_plans(folder, *more):
    """Plan every job; its command line and its tables by job, and one list of files with names of their own."""
    made, files = {}, []
    for name, words in jobs(folder):
        out = os.path.join(folder, name)
        done = run(*words, *more, "-o", out)
        assert done.returncode == 0, (words, done.stderr)
        made[name] = words
        for table in TABLES:  # starting LibreOffice takes longest: it gets all of them at once
            files.append(os.path.join(folder, f"{name}.{table}.csv"))
            shutil.copy(os.path.join(out, table + ".csv"), files[-1])
    assert len(made) > 4, made
    return made, files


def cells(file):
    """A flat ODF spreadsheet as rows of (type, value, formula)."""
    space = "{urn:oasis:names:tc:opendocument:xmlns:%s:1.0}"
    table, office, text = (space % name for name in ("table", "office", "text"))
    for row in xml.parse(file).iter(table + "table-row"):
        found = []
        for cell in row.iter(table + "table-cell"):
            kind = cell.get(office + "value-type")
            value = cell.get(office + "value") if kind != "string" else "\n".join(
                "".join(line.itertext()) for line in cell.iter(text + "p"))
            found += [(kind, value, cell.get(table + "formula"))] * int(cell.get(table + "number-columns-repeated", 1))
        yield found


def check_cells(file, opened, separator=","):
    """Every cell is what it says; returns how many have decimals."""
    header, *body = rows(file, separator)
    shown = list(cells(opened))
    decimals = 0
    assert len(body) > 0 and len(shown) >= len(body) + 1, file
    for row, got in zip(body, shown[1:]):
        got += [(None, None, None)] * (len(row) - len(got))
        for name, cell, (kind, value, formula) in zip(header, row, got):
            assert formula is None, (file, name, cell, formula)
            if cell == "":
                assert kind is None, (file, name, kind)
            elif name in TEXT_COLUMNS or cell == "square":
                assert (kind, value) == ("string", cell), (file, name, cell, kind, value)
            else:
                number = cell.replace(",", ".") if separator == ";" else cell
                assert kind == "float" and abs(float(value) - float(number)) < 1e-9, (file, name, cell, kind, value)
                decimals += "." in number
    return decimals


def test_numbers_are_numbers_and_nothing_runs():
    with tempfile.TemporaryDirectory() as folder:
        _, files = make_plans(folder)
        opened = os.path.join(folder, "opened")
        os.mkdir(opened)
        Office(folder).convert(opened, "fods", files)
        for file in files:
            check_cells(file, os.path.join(opened, os.path.basename(file)[:-len("csv")] + "fods"))
        texts = [cell for row in rows(os.path.join(folder, "formulas.cuts.csv")) for cell in row]
        assert "'=1+1" in texts and "'-2+3" in texts and "'+2*3" in texts, texts


def check_saved_files_read_back(settings, separator):
    with tempfile.TemporaryDirectory() as folder:
        made, files = make_plans(folder)
        saved = os.path.join(folder, "saved")
        os.mkdir(saved)
        Office(folder, settings).convert(saved, SAVE.format(separator), files)
        for name, words in made.items():
            plan = os.path.join(folder, name + "-saved")
            os.mkdir(plan)
            for table in TABLES:
                shutil.move(os.path.join(saved, f"{name}.{table}.csv"), os.path.join(plan, table + ".csv"))
            with open(os.path.join(plan, "cuts.csv"), encoding="utf-8") as file:
                text = file.read()
            assert text.startswith("board" + chr(separator) + "section"), text[:80]
            if settings is not None and name == "corner-block":
                assert re.search(r";\d+,\d;", text), text[:300]
            done = run("verify", *words[1:], "--plan", plan, "--rules-only")
            assert done.returncode == 0, (name, done.stderr, done.stdout)
            assert done.stdout.startswith(b"Every rule holds"), done.stdout


def test_saved_with_commas_they_read_back():
    check_saved_files_read_back(None, COMMA)


def test_saved_with_semicolons_and_decimal_commas_they_read_back():
    check_saved_files_read_back(DECIMAL_COMMA, SEMICOLON)


def test_semicolons_are_numbers_on_a_desktop_with_decimal_commas():
    """In every numeric column, and nothing runs; the usual style would not do there, or this shows nothing."""
    with tempfile.TemporaryDirectory() as folder:
        _, files = make_plans(folder, "--csv-style", "semicolon")
        opened = os.path.join(folder, "opened")
        os.mkdir(opened)
        Office(folder, DECIMAL_COMMA).convert(opened, "fods", files, DESKTOP.format(SEMICOLON))
        decimals = sum(check_cells(file, os.path.join(opened, os.path.basename(file)[:-len("csv")] + "fods"), ";")
                       for file in files)
        assert decimals > 50, decimals
    with tempfile.TemporaryDirectory() as folder:
        _, files = make_plans(folder)
        opened = os.path.join(folder, "opened")
        os.mkdir(opened)
        Office(folder, DECIMAL_COMMA).convert(opened, "fods", files, DESKTOP.format(COMMA))
        wrong = 0
        for file in files:
            try:
                check_cells(file, os.path.join(opened, os.path.basename(file)[:-len("csv")] + "fods"))
            except AssertionError:
                wrong += 1
        assert wrong >= 3, wrong


def test_a_comparison_on_a_desktop_with_decimal_commas():
    with tempfile.TemporaryDirectory() as folder:
        file, opened = os.path.join(folder, "compared.csv"), os.path.join(folder, "opened")
        os.mkdir(opened)
        done = run("compare", *sample("homestead")[1:], "--csv", "--csv-style", "semicolon")
        assert done.returncode == 0, done.stderr
        with open(file, "wb") as out:
            out.write(done.stdout)
        Office(folder, DECIMAL_COMMA).convert(opened, "fods", [file], DESKTOP.format(SEMICOLON))
        header, *body = rows(file, ";")
        shown = list(cells(os.path.join(opened, "compared.fods")))[1:]
        assert [row[0] for row in body] == ["4,8", "5,4", "4.8,5.4"], body
        for row, got in zip(body, shown):
            for name, cell, (kind, value, formula) in zip(header, row, got):
                assert formula is None, (name, cell, formula)
                if name in ("possible", "note") or cell == "4.8,5.4":
                    assert kind == ("string" if cell else None), (name, cell, kind)
                else:
                    assert kind == "float" and abs(float(value) - float(cell.replace(",", "."))) < 1e-9, (name, cell)


def test_semicolons_come_back():
    """Opened and saved there, also what is kept of the job: the plan verifies by itself, in its new clothes."""
    with tempfile.TemporaryDirectory() as folder:
        made, files = make_plans(folder, "--csv-style", "semicolon")
        for name in made:
            files.append(os.path.join(folder, f"{name}.settings.csv"))
            shutil.copy(os.path.join(folder, name, "job", "settings.csv"), files[-1])
        saved = os.path.join(folder, "saved")
        os.mkdir(saved)
        Office(folder, DECIMAL_COMMA).convert(saved, SAVE.format(SEMICOLON), files, DESKTOP.format(SEMICOLON))
        for name in made:
            plan = os.path.join(folder, name)
            for table in TABLES:
                shutil.move(os.path.join(saved, f"{name}.{table}.csv"), os.path.join(plan, table + ".csv"))
            shutil.move(os.path.join(saved, f"{name}.settings.csv"), os.path.join(plan, "job", "settings.csv"))
            done = run("verify", "--plan", plan, "--rules-only")
            assert done.returncode == 0, (name, done.stderr, done.stdout)
            assert done.stdout.startswith(b"Every rule holds"), done.stdout
            assert b"job/settings.csv: was edited after the plan" in done.stderr, done.stderr


if __name__ == "__main__":
    if SOFFICE is None:
        print("SKIPPED: LibreOffice (soffice) is not installed, so nothing was opened in a spreadsheet")
        sys.exit(77)
    sys.exit(run_tests(globals()))
