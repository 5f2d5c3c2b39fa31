"""check_book.py - plan.xlsx: read as what it is, and opened, worked out and saved in LibreOffice
SPDX-License-Identifier: GPL-3.0-or-later
"""
import csv
import os
import re
import resource
import shutil
import subprocess
import sys
import tempfile
import time
import xml.etree.ElementTree as xml
import zipfile
from decimal import ROUND_HALF_UP, Decimal

from check_manners import sample
from check_spreadsheet import DECIMAL_COMMA, SOFFICE, TABLES, Office, jobs, rows
from terminal import PROGRAM, environment, run, run_tests

MAIN = "{http://schemas.openxmlformats.org/spreadsheetml/2006/main}"
RELATIONS = "{http://schemas.openxmlformats.org/officeDocument/2006/relationships}"
# LibreOffice works out anew what it opens only where it is told so: 0 is "always".
ALWAYS = """<item oor:path="/org.openoffice.Office.Calc/Formula/Load"><prop oor:name="OOXMLRecalcMode" oor:op="fuse">
<value>0</value></prop></item></oor:items>"""
ENGLISH = """<?xml version="1.0" encoding="UTF-8"?>
<oor:items xmlns:oor="http://openoffice.org/2001/registry">""" + ALWAYS
GERMAN = DECIMAL_COMMA.replace("</oor:items>", ALWAYS)
# As in check_spreadsheet; the last says: every sheet into a file of its own, book-sheet.csv.
SAVE_ALL = "csv:Text - txt - csv (StarCalc):{},34,76,1,,0,false,true,false,false,false,-1"


def book_of(folder):
    return os.path.join(folder, "plan.xlsx")


def make(folder, words, *more):
    done = run(*words, *more, "-o", folder)
    assert done.returncode == 0, (words, done.stderr)
    return done


def is_built():
    with tempfile.TemporaryDirectory() as folder:
        return b"no workbook is made" not in make(os.path.join(folder, "out"), sample("front-fence")).stderr


class Sheet:
    """One sheet of a workbook, read with nothing but a ZIP and an XML reader."""

    def __init__(self, text):
        self.root = xml.fromstring(text)
        self.rows = []
        for row in self.root.iter(MAIN + "row"):
            while len(self.rows) < int(row.get("r")):
                self.rows.append({})
            for cell in row.iter(MAIN + "c"):
                letters = re.match("[A-Z]+", cell.get("r")).group()
                column = 0
                for letter in letters:
                    column = 26 * column + ord(letter) - ord("A") + 1
                text = "".join(part.text or "" for part in cell.iter(MAIN + "t"))
                value, formula = cell.find(MAIN + "v"), cell.find(MAIN + "f")
                self.rows[-1][column - 1] = (cell.get("t"), text if value is None else value.text,
                                             None if formula is None else formula.text)


def sheets(file):
    """Name and Sheet of each, in their order."""
    with zipfile.ZipFile(file) as book:
        assert book.testzip() is None
        targets = {relation.get("Id"): relation.get("Target")
                   for relation in xml.fromstring(book.read("xl/_rels/workbook.xml.rels"))}
        names = [(sheet.get("name"), targets[sheet.get(RELATIONS + "id")])
                 for sheet in xml.fromstring(book.read("xl/workbook.xml")).iter(MAIN + "sheet")]
        return {name: Sheet(book.read("xl/" + target)) for name, target in names}


def plain(cell):
    """As the program reads it: without the apostrophe that defuses it."""
    return cell[1:] if re.match("'+[=+@\t\r-]", cell) else cell


# ---- What stands in it ------------------------------------------------------------------


def check_table(sheet, file, name):
    """Every cell of a CSV table is in its sheet: numbers as numbers, words as words."""
    header, *body = rows(file)
    assert [sheet.rows[0][c][1] for c in range(len(header))] == header, (file, sheet.rows[0])
    assert len(sheet.rows) == len(body) + 1, (file, len(sheet.rows))
    numbers = formulas = 0
    for line, shown in zip(body, sheet.rows[1:]):
        for column, cell in enumerate(line):
            kind, value, formula = shown.get(column, (None, "", None))
            if kind == "inlineStr":
                assert value == plain(cell), (file, header[column], cell, value)
                assert not re.fullmatch(r"-?\d+(\.\d+)?", cell) or header[column] in (
                    "section", "description", "run", "level", "piece"), (file, header[column], cell)
            elif cell == "":
                assert value == "", (file, header[column], value)
            else:
                assert abs(Decimal(value) - Decimal(cell)) < Decimal("1e-9"), (file, header[column], cell, value)
                numbers += 1
            if formula is not None:
                assert name == "order" and header[column] in ("metres", "price"), (file, header[column], formula)
                formulas += 1
    pane = sheet.root.find(f"{MAIN}sheetViews/{MAIN}sheetView/{MAIN}pane")
    assert (pane.get("state"), pane.get("ySplit"), pane.get("xSplit")) == ("frozen", "1", None), file
    last = sheet.root.find(MAIN + "autoFilter").get("ref").split(":")[1]
    assert last.endswith(str(len(body) + 1)), (file, last)
    assert len(sheet.root.findall(f"{MAIN}cols/{MAIN}col")) == len(header), file
    return numbers, formulas


def test_every_table_is_a_sheet():
    with tempfile.TemporaryDirectory() as folder:
        numbers = formulas = priced = 0
        for name, words in jobs(folder):
            out = os.path.join(folder, name)
            make(out, words)
            found = sheets(book_of(out))
            inputs = [n[:-4] for n in ("spans.csv", "levels.csv", "stock.csv", "sections.csv", "extras.csv", "yards.csv", "fittings.csv")
                      if os.path.exists(os.path.join(out, "job", n))]
            assert list(found) == ["plan", *TABLES, *inputs, "settings"], list(found)
            for table in TABLES:
                more, worked_out = check_table(found[table], os.path.join(out, table + ".csv"), table)
                numbers += more
                formulas += worked_out
            with open(os.path.join(out, "order.csv"), newline="", encoding="utf-8") as file:
                lines = list(csv.DictReader(file))
            # Metres of every line of timber, and every price that is its number times its unit's.
            formulas -= sum(1 for line in lines if line["metres"])
            priced += sum(1 for line in lines if line["price"]
                          and Decimal(line["price"]) == Decimal(line["unit_price"]) * (int(line["count"]) + int(line["spare"] or 0)))
        assert numbers > 1000 and priced > 5
        assert formulas == priced, (formulas, priced)


def test_the_job_is_kept_in_it():
    with tempfile.TemporaryDirectory() as folder:
        make(os.path.join(folder, "out"), sample("corner-block"), "--kerf", "4", "--job", "Corner")
        found = sheets(book_of(os.path.join(folder, "out")))
        for name in ("spans", "levels", "stock", "sections"):
            header, *body = rows(os.path.join(folder, "out", "job", name + ".csv"))
            shown = [[row.get(c, (None, "", None)) for c in range(len(header))] for row in found[name].rows]
            assert [cell[1] for cell in shown[0]] == header
            for line, cells in zip(body, shown[1:]):
                for column, (kind, value, formula) in zip(header, cells):
                    cell = line[header.index(column)]
                    assert formula is None and (value == cell or Decimal(value) == Decimal(cell)), (name, cell, value)
                    # A run that is called 7 is no number.
                    assert cell == "" or column not in ("run", "level", "section") or kind == "inlineStr", (name, cell)
            assert len(shown) == len(body) + 1, name
        settings = {row[0][1]: row[1][1] for row in found["settings"].rows[1:]}
        assert settings["kerf"] == "4mm" and settings["job"] == "Corner", settings
        # Those at their defaults, too.
        assert settings["stagger"] == "prefer" and settings["keep"] == "600mm" and settings["round"] == "1mm", settings


def test_names_are_what_they_were():
    """Leading zeros, formulas, markup, what stands for a character in a workbook, line breaks, any script."""
    names = ["007", "1e3", "=1+1", "<b>&amp;\"", "_x0041_", "two\nlines", "bell\x07", "\u05d2\u05d3\u05e8 \u56f4\u680f", "3/4"]
    with tempfile.TemporaryDirectory() as folder:
        file = os.path.join(folder, "spans.csv")
        with open(file, "w", newline="", encoding="utf-8") as out:
            csv.writer(out).writerows([["run", "span"]] + [[name, 2400] for name in names])
        make(os.path.join(folder, "out"), ["plan", file])
        found = sheets(book_of(os.path.join(folder, "out")))
        for sheet, column in (("fit", 0), ("spans", 0)):
            got = [row[column] for row in found[sheet].rows[1:]]
            assert all(kind == "inlineStr" and formula is None for kind, _, formula in got), got
            # ECMA-376, 22.9.2.19: _xHHHH_ is the character of that number.
            texts = {re.sub("_x([0-9A-F]{4})_", lambda m: chr(int(m.group(1), 16)), value) for _, value, _ in got}
            assert texts == set(names), texts


def test_totals_are_formulas_that_come_out():
    """By the CSV tables: prices added up and rounded to hundredths, half up, and the tax of that."""
    with tempfile.TemporaryDirectory() as folder:
        for name in ("corner-block", "homestead", "inches"):
            for tax in (None, "10", "17.5"):
                out = os.path.join(folder, f"{name}-{tax}")
                make(out, sample(name), *([] if tax is None else ["--tax", tax]))
                front = {row[0][1]: row[1] for row in sheets(book_of(out))["plan"].rows if 1 in row}
                wanted = totals(out, tax)
                for label, value in wanted.items():
                    kind, shown, formula = front[label]
                    assert kind is None and abs(Decimal(shown) - value) < Decimal("1e-6"), (name, label, shown, value)
                    assert formula is not None or label == "Tax, per cent", (name, label)
                assert len(wanted) == len(front), (wanted, front)


YARDS = {
    "spans": "run,span\na,2350\na,2360\na,2340\na,2355\na,2300\n",
    "stock": "section,length,price,yard,from\nrail,4.8,20,north,\nrail,4.8,19.5,south,\nrail,4.8,18.75,south,4\n",
    "yards": "yard,delivery\nnorth,35\nsouth,20.5\n",
    "fittings": "item,per,each,pack,price\ncap,post,1,,3.25\nnails,crossing,4,250,12.4\nbolt,join,2,,0.85\n",
    "settings": "key,value\ntax,15\n",
    "sections": "section,spare\nrail,1\n",
}


def test_delivery_and_fittings_are_paid_and_no_timber():
    with tempfile.TemporaryDirectory() as folder:
        for name, text in YARDS.items():
            with open(os.path.join(folder, name + ".csv"), "w", encoding="utf-8") as file:
                file.write(text)
        out = os.path.join(folder, "out")
        make(out, ["plan", folder])
        found = sheets(book_of(out))
        front = {row[0][1]: row[1] for row in found["plan"].rows if 1 in row}
        wanted = totals(out, "15")
        assert {label: abs(Decimal(front[label][1]) - value) < Decimal("1e-6") for label, value in wanted.items()} == dict.fromkeys(
            front, True), (front, wanted)
        # Five lengths, and one to spare.
        assert wanted["Lengths to order"] == 6 and 'SUMIF(' in front["Lengths to order"][2], front
        header, *body = rows(os.path.join(out, "order.csv"))
        assert {row[header.index("kind")] for row in body} == {"timber", "fitting", "delivery"}, body
        assert {"yards", "fittings"} < set(found), list(found)
        # A pack has a price of its own; everything else costs its number times its price.
        price = header.index("price")
        odd = [line[1] for line, row in zip(body, found["order"].rows[1:]) if row[price][2] is None]
        assert odd == ["nails"], odd


def totals(folder, tax):
    with open(os.path.join(folder, "order.csv"), newline="", encoding="utf-8") as file:
        lines = list(csv.DictReader(file))
    timber = [line for line in lines if line["kind"] == "timber"]
    found = {"Timber to order, metres": sum(Decimal(line["metres"]) for line in timber),
             "Lengths to order": Decimal(sum(int(line["count"]) + int(line["spare"]) for line in timber))}
    if any(line["price"] for line in lines):
        cent = Decimal("0.01")
        price = sum(Decimal(line["price"]) for line in lines if line["price"]).quantize(cent, ROUND_HALF_UP)
        found["Price without tax" if tax else "Price"] = price
        if tax:
            found["Tax, per cent"] = Decimal(tax)
            found["Tax"] = (price * Decimal(tax) / 100).quantize(cent, ROUND_HALF_UP)
            found["Price with tax"] = price + found["Tax"]
    return found


def test_nothing_to_order():
    with tempfile.TemporaryDirectory() as folder:
        for name, text in (("spans", "run,span\na,2400\n"), ("stock", "section,length,price,hand\nrail,4.8,20,9\n")):
            with open(os.path.join(folder, name + ".csv"), "w", encoding="utf-8") as file:
                file.write(text)
        make(os.path.join(folder, "out"), ["plan", folder])
        found = sheets(book_of(os.path.join(folder, "out")))
        assert len(found["order"].rows) == 1
        said = [cell[1] for row in found["plan"].rows for cell in row.values()]
        assert any("all of it comes from hand" in text for text in said), said
        assert not any(cell[2] for row in found["plan"].rows for cell in row.values())


# ---- The file ---------------------------------------------------------------------------


def read(file):
    with open(file, "rb") as bytes_of:
        return bytes_of.read()


def test_same_bytes_at_any_time():
    with tempfile.TemporaryDirectory() as folder:
        first, second = os.path.join(folder, "first"), os.path.join(folder, "second")
        make(first, sample("corner-block"))
        time.sleep(2.1)  # dates in a ZIP archive are of two seconds
        done = run(*sample("corner-block"), "-o", second,
                   env=environment(TZ="Asia/Kathmandu", LC_ALL="de_DE.UTF-8"), preexec_fn=lambda: os.umask(0o077))
        assert done.returncode == 0, done.stderr
        assert read(book_of(first)) == read(book_of(second))
        before = read(book_of(first))
        make(first, sample("corner-block"), "--date", "3 March", "--csv-style", "semicolon")
        assert read(book_of(first)) != before
        texts = [cell[1] for row in sheets(book_of(first))["plan"].rows for cell in row.values()]
        assert any(text.endswith("3 March") for text in texts), texts


def test_only_where_files_are_asked_for():
    with tempfile.TemporaryDirectory() as folder:
        assert run(*sample("front-fence"), cwd=folder).returncode == 0
        assert os.listdir(folder) == []


def test_a_fault_costs_no_other_file():
    for name, other in (("plan.xlsx", "sheet.pdf"), ("sheet.pdf", "plan.xlsx")):
        with tempfile.TemporaryDirectory() as folder:
            out = os.path.join(folder, "out")
            make(out, sample("front-fence"))
            if other not in os.listdir(out):
                continue  # built without it
            wanted = {n: read(os.path.join(out, n)) for n in os.listdir(out) if n not in (name, "job")}
            os.unlink(os.path.join(out, name))
            os.mkdir(os.path.join(out, name))
            os.unlink(os.path.join(out, other))
            done = run(*sample("front-fence"), "-o", out)
            assert done.returncode == 5, (done.returncode, done.stderr)
            assert (name + ": cannot be replaced: Is a directory").encode() in done.stderr, done.stderr
            assert {n: read(os.path.join(out, n)) for n in os.listdir(out) if n not in (name, "job")} == wanted
            assert done.stdout == run(*sample("front-fence")).stdout


def test_a_limit_of_files():
    """However small: there is a whole workbook or none, the older one is gone, and the fault is said."""
    with tempfile.TemporaryDirectory() as folder:
        whole = os.path.join(folder, "whole")
        make(whole, sample("corner-block"))
        wanted = read(book_of(whole))
        largest = max(os.path.getsize(os.path.join(whole, table + ".csv")) for table in TABLES)
        seen = set()
        for size in (largest + 10, 12000, 16000, len(wanted) - 1, 40000, 400000):
            out = os.path.join(folder, str(size))
            make(out, sample("front-fence"))
            done = run(*sample("corner-block"), "-o", out,
                       preexec_fn=lambda size=size: resource.setrlimit(resource.RLIMIT_FSIZE, (size, size)))
            made = os.path.exists(book_of(out))
            seen.add(made)
            assert not made or read(book_of(out)) == wanted, size
            if not made:
                assert done.returncode == 5 and b"plan.xlsx: cannot be written: File too large" in done.stderr, done.stderr
                assert b"plan.xlsx: the older workbook is removed" in done.stderr, done.stderr
            assert not [n for n in os.listdir(out) if n.startswith(".")], os.listdir(out)
        assert seen == {False, True}, seen


def test_a_table_that_is_too_long():
    with tempfile.TemporaryDirectory() as folder:
        file = os.path.join(folder, "extras.csv")
        with open(file, "w", encoding="utf-8") as out:
            out.write("label,section,length,quantity\nx,rail,2390,100010\n")
        words = ["plan", "--extras", file, "--stock-length", "4.8", "--csv", "order", "-o", os.path.join(folder, "out")]
        said = b""
        with subprocess.Popen([PROGRAM, *words], stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL,
                              stderr=subprocess.PIPE, env=environment()) as child:
            for line in child.stderr:
                said += line
                # It is said when the workbook has its name; the sheet of so many boards is not waited for.
                if b"plan.xlsx" in line:
                    child.kill()
        assert b'plan.xlsx: has the first 100000 rows of "cuts" and no more: all of it is in cuts.csv' in said, said
        found = sheets(book_of(os.path.join(folder, "out")))
        assert len(found["cuts"].rows) == 100001
        assert found["plan"].rows[4][1][1] == "50005", found["plan"].rows


def test_text_that_no_spreadsheet_takes():
    with tempfile.TemporaryDirectory() as folder:
        file = os.path.join(folder, "spans.csv")
        with open(file, "w", encoding="utf-8") as out:
            out.write("run,span,remark\na,2400," + "\u00e9" * 32768 + "\n")
        done = make(os.path.join(folder, "out"), ["plan", file])
        assert b"text of over 32767 characters is cut short" in done.stderr, done.stderr
        assert sheets(book_of(os.path.join(folder, "out")))["spans"].rows[1][2][1] == "\u00e9" * 32767


# ---- Verify -----------------------------------------------------------------------------

SENTENCE = b"save its sheets order, cuts, fit and setout as"


def test_verify_names_the_way():
    with tempfile.TemporaryDirectory() as folder:
        out = os.path.join(folder, "out")
        make(out, sample("front-fence"))
        done = run("verify", "--plan", out)
        assert done.returncode == 0 and SENTENCE not in done.stderr, done.stderr
        later = os.stat(os.path.join(out, "setout.csv")).st_mtime_ns + 1000
        os.utime(book_of(out), ns=(later, later))
        done = run("verify", "--plan", out)
        assert done.returncode == 0 and done.stderr.count(SENTENCE) == 1, done.stderr
        # Saved as CSV after that, they are what counts.
        os.utime(os.path.join(out, "cuts.csv"), ns=(later + 1000, later + 1000))
        done = run("verify", "--plan", out)
        assert done.returncode == 0 and SENTENCE not in done.stderr, done.stderr
        done = run("verify", *sample("front-fence")[1:], "--plan", book_of(out))
        assert done.returncode == 2 and done.stderr.count(SENTENCE) == 1 and done.stderr.count(b"\n") == 1, done.stderr


# ---- In LibreOffice ---------------------------------------------------------------------


def forget(file, changes=()):
    """Take away what the formulas come to, and change cells of the order: (cell, its number) each."""
    with zipfile.ZipFile(file) as book:
        parts = [(name, book.read(name)) for name in book.namelist()]
    taken = 0
    with zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED) as book:
        for name, text in parts:
            if name.startswith("xl/worksheets/"):
                text, count = re.subn(rb"(</f>)<v>[^<]*</v>", rb"\1<v>12345</v>", text)
                taken += count
            if name == "xl/worksheets/sheet2.xml":
                for cell, number in changes:
                    text, count = re.subn(rb'(<c r="%s"[^>]*><v>)[^<]*' % cell.encode(), rb"\g<1>%d" % number, text)
                    assert count == 1, cell
            book.writestr(name, text)
    assert taken > 3, taken


def saved(folder, settings, files, separator):
    """The folder with every sheet of FILES as CSV, name-sheet.csv; starting LibreOffice takes longest."""
    into = os.path.join(folder, "saved")
    os.mkdir(into)
    said = Office(folder, settings).start(into, SAVE_ALL.format(ord(separator)), files)
    assert len(os.listdir(into)) > 5 * len(files), said
    return into


def check_worked_out(settings, separator):
    with tempfile.TemporaryDirectory() as folder:
        out = os.path.join(folder, "out")
        make(out, sample("corner-block"), "--tax", "17.5")
        wanted = totals(out, "17.5")
        with open(os.path.join(out, "order.csv"), newline="", encoding="utf-8") as file:
            first = next(csv.DictReader(file))
        # One length more of the first line: what it costs is in no cell that was written.
        more = Decimal(first["unit_price"])
        files = [os.path.join(folder, f"book{extra}.xlsx") for extra in (0, 1)]
        for extra, file in enumerate(files):
            shutil.copy(book_of(out), file)
            forget(file, [("D2", int(first["count"]) + extra)])
        into = saved(folder, settings, files, separator)
        for extra in (0, 1):
            front = {row[0]: row[1] for row in rows(os.path.join(into, f"book{extra}-plan.csv"), separator) if row[1]}
            point = "," if separator == ";" else "."
            shown = {label: Decimal(value.replace(point, ".")) for label, value in front.items()}
            assert extra or shown == wanted, (shown, wanted)
            price = wanted["Price without tax"] + extra * more
            assert shown["Price without tax"] == price, (shown, price)
            assert shown["Lengths to order"] == wanted["Lengths to order"] + extra, shown
            tax = (price * Decimal("0.175")).quantize(Decimal("0.01"), ROUND_HALF_UP)
            assert shown["Price with tax"] == price + tax, (shown, price, tax)
            assert separator == "," or "," in front["Price with tax"], front


def test_worked_out_anew():
    check_worked_out(ENGLISH, ",")


def test_worked_out_anew_on_a_desktop_with_decimal_commas():
    check_worked_out(GERMAN, ";")


def check_saved_sheets(settings, separator):
    """Each sheet saved as CSV is the table that it came from: the plan verifies."""
    with tempfile.TemporaryDirectory() as folder:
        chosen = jobs(folder)
        files = []
        for name, words in chosen:
            make(os.path.join(folder, name), words)
            files.append(os.path.join(folder, name + ".xlsx"))
            shutil.copy(book_of(os.path.join(folder, name)), files[-1])
        into = saved(folder, settings, files, separator)
        for name, _ in chosen:
            out = os.path.join(folder, name)
            for table in TABLES:
                shutil.move(os.path.join(into, f"{name}-{table}.csv"), os.path.join(out, table + ".csv"))
            done = run("verify", "--plan", out, "--rules-only")
            assert done.returncode == 0, (name, done.stderr, done.stdout)
            assert done.stdout.startswith(b"Every rule holds"), done.stdout


def test_sheets_saved_as_csv_verify():
    check_saved_sheets(ENGLISH, ",")


def test_sheets_saved_as_csv_on_a_desktop_with_decimal_commas_verify():
    check_saved_sheets(GERMAN, ";")


if __name__ == "__main__":
    if not is_built():
        print("SKIPPED: built without the workbook")
        sys.exit(77)
    if SOFFICE is not None:
        sys.exit(run_tests(globals()))
    NAMES = {name: test for name, test in globals().items() if "worked_out_anew" not in name and "saved_as_csv" not in name}
    FAILED = run_tests(NAMES)
    print("SKIPPED: LibreOffice (soffice) is not installed, so no workbook was opened in a spreadsheet")
    sys.exit(FAILED or 77)
