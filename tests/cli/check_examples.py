"""check_examples.py - what README.md, samples/README.md and the manuals show is what the program does
SPDX-License-Identifier: GPL-3.0-or-later

In both READMEs a block that begins with "$ build/cli/spanwright" is a command
and an excerpt of what it prints: its lines must come in this order, one after
the other, but where a line is "...".
"""
import os
import re
import shlex
import shutil
import subprocess
import sys
import tempfile

from terminal import HANGS, PROGRAM, environment, run_tests

# Whatever changes in a table's columns changes the fingerprint of every example: any one will do there.
MARK = re.compile(r"\bPlan [0-9A-Z]{4}-[0-9A-Z]{3}\b")

TOP = os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__))))


def printed(words, folder):
    """Lines that the program prints, remarks first."""
    done = subprocess.run([PROGRAM, *words], cwd=folder, stdin=subprocess.DEVNULL, capture_output=True,
                          env=environment(), timeout=HANGS, check=False)
    lines = MARK.sub("Plan MARK", (done.stderr + done.stdout).decode()).splitlines()
    # A build that leaves the sheet or the workbook out says so; the documents are of one with all of it.
    return done.returncode, [line.rstrip() for line in lines if not line.endswith("was built without it")]


def read(*path):
    with open(os.path.join(TOP, *path), encoding="utf-8") as file:
        return file.read()


def readme_blocks(text):
    for block in re.findall(r"^```[a-z]*\n(.*?)^```$", text, re.M | re.S):
        if block.startswith("$ build/cli/spanwright"):
            command, _, excerpt = block.replace("\\\n", " ").partition("\n")
            yield shlex.split(command)[2:], excerpt.splitlines()


def check_readme(least, *path):
    blocks = list(readme_blocks(read(*path)))
    assert len(blocks) >= least, len(blocks)
    with tempfile.TemporaryDirectory() as folder:
        # What one command writes, a later one may read.
        os.symlink(os.path.join(TOP, "samples"), os.path.join(folder, "samples"))
        check_readme_blocks(blocks, folder)


def test_readme():
    check_readme(6, "README.md")


def test_readme_of_samples():
    check_readme(9, "samples", "README.md")


def test_program_manual_on_site():
    """The story of the manual is the sample's."""
    rows, story = manual_examples("spanwright.1", 2, "ON SITE")
    with open(os.path.join(TOP, "samples", "on-site", "site.csv"), encoding="utf-8") as file:
        assert rows == file.read()
    command, _, excerpt = story.partition("\n")
    with tempfile.TemporaryDirectory() as folder:
        for name in ("site.csv", "measured.csv"):
            shutil.copy(os.path.join(TOP, "samples", "on-site", name), folder)
        printed(["plan", os.path.join(TOP, "samples", "on-site"), "-o", "lane"], folder)
        check_readme_blocks([(shlex.split(command)[2:], excerpt.splitlines())], folder)


def test_links():
    """What a README sends its reader to is there."""
    for path in (("README.md",), ("samples", "README.md"), ("tests", "bench", "README.md")):
        links = re.findall(r"\]\(([^)#:]*)\)", read(*path))
        assert links or path[0] == "samples"
        for link in links:
            assert os.path.exists(os.path.join(TOP, *path[:-1], link)), (path, link)


def test_readme_is_short():
    """Nobody reads more; and what nobody may miss is in it."""
    text = read("README.md")
    assert len(text.splitlines()) <= 150, len(text.splitlines())
    words = " ".join(text.split())
    for caution in ("P1 or P2", "gloves", "every cut end", "never burn offcuts", "keep to the depth", "buried services",
                    "legal limits", "local codes", "licensed practitioner", "does not design the structure"):
        assert caution in words, caution


def check_readme_blocks(blocks, folder):
    for words, excerpt in blocks:
        _, lines = printed(words, folder)
        at = 0
        gap = True  # what comes before the excerpt is not shown
        for wanted in excerpt:
            if wanted.strip() == "...":
                gap = True
                continue
            wanted = MARK.sub("Plan MARK", wanted.rstrip())
            assert wanted in lines[at:], (words, wanted)
            found = lines.index(wanted, at)
            assert gap or found == at, (words, wanted, lines[at])
            at, gap = found + 1, False
        assert at > 0, words


def manual_examples(name, count, section="EXAMPLES"):
    """The indented blocks of a section, as plain text."""
    page = read("cli", name).split(f".SH {section}\n")[1].split("\n.SH ")[0]
    blocks = re.findall(r"^\.nf\n(.*?)^\.fi$", page, re.M | re.S)
    assert len(blocks) == count, blocks
    return [block.replace("\\-", "-").replace("\\e", "\\").replace("\\&", "") for block in blocks]


def test_program_manual_begins_with_a_job():
    """From notebook to order, as it would be typed."""
    page = read("cli", "spanwright.1")
    assert page.index(".SH FROM NOTEBOOK TO ORDER") < page.index(".SH DESCRIPTION")
    notebook, *blocks = manual_examples("spanwright.1", 6, "FROM NOTEBOOK TO ORDER")
    commands = [block.partition("\n") for block in blocks if block.startswith("$ spanwright ")]
    spans, order = [block for block in blocks if not block.startswith("$ ")]
    assert [words.split()[2] for words, _, _ in commands] == ["start", "plan", "verify"]
    rows = [row.split(",") for row in spans.splitlines()]
    assert re.findall(r"\b\d{4}\b", notebook) == [row[1] for row in rows[1:]], "the notebook's spans"
    with tempfile.TemporaryDirectory() as folder:
        for words, _, excerpt in commands:
            check_readme_blocks([(shlex.split(words)[2:], excerpt.splitlines())], folder)
            if "start" in words:
                with open(os.path.join(folder, "lane", "spans.csv"), "w", encoding="utf-8") as file:
                    file.write(spans)
        with open(os.path.join(folder, "lane", "order.txt"), encoding="utf-8") as file:
            text = file.read()
            assert MARK.sub("", text).startswith(MARK.sub("", order)) and MARK.search(text), text


def test_program_manual():
    with tempfile.TemporaryDirectory() as folder:
        for sample, file in (("front-fence", "spans.csv"), ("homestead", "levels.csv"), ("homestead", "stock.csv"),
                             ("homestead", "sections.csv")):
            shutil.copy(os.path.join(TOP, "samples", sample, file), folder)
        for example in manual_examples("spanwright.1", 5):
            for line in example.replace("\\\n", " ").splitlines():
                words = shlex.split(line)
                assert words[0] == "spanwright"
                status, lines = printed(words[1:], folder)
                assert status == 0 and len(lines) > 2, (words, status, lines)
        assert os.path.exists(os.path.join(folder, "plan", "cuts.csv"))


def drawn(block, wide):
    """Panels of a drawing, by the name on top of each: its rows."""
    found = {}
    for part in block.split("\n\n"):
        rows = part.splitlines()
        for at in range(0, max(map(len, rows)), wide):
            panel = [row[at:at + wide] for row in rows]
            found[panel[0].strip()] = panel[1:]
    return found


def test_ends_are_drawn_true():
    """Where the timber (=) ends against its post, as the table of ends has it."""
    ends, corners, seats = manual_examples("spanwright-csv.5", 3, "READING")
    reaches = {}
    for name, rows in drawn(ends, 20).items():
        near, centre, far = [place.start() for place in re.finditer(r"\+", rows[0])]
        assert centre - near == far - centre, name
        reach = max(row.rfind("=") for row in rows) - centre
        reaches[name] = reach
        measure = re.search(r"\|-+X-*\|", rows[-1])
        assert (measure is None) == ("X" not in name), name
        if measure is not None:
            assert sorted((measure.start(), measure.end() - 1)) == sorted((centre, centre + reach)), name
    half = far - centre
    assert reaches["flush"] == half and reaches["centre"] == 0 and reaches["face"] == -half - 1, reaches
    assert -half < reaches["housed D"] < 0 and reaches["reach X"] > half and reaches["reach -X"] < 0, reaches
    # What is written beside the last panel may be longer than a panel is wide.
    assert set(drawn(corners.replace("\n\n", "\n"), 30)) - {""} == {"mitre 90", "mitre 270"}
    assert set(drawn(seats.replace("\n\n", "\n \n"), 17)) == {"let in", "let in D", "face", "top"}


def test_files_manual():
    with tempfile.TemporaryDirectory() as folder:
        for name, text in zip(("spans.csv", "stock.csv"), manual_examples("spanwright-csv.5", 2)):
            with open(os.path.join(folder, name), "w", encoding="utf-8") as file:
                file.write(text)
        status, lines = printed(["plan", "spans.csv", "--stock", "stock.csv"], folder)
        assert status == 0, lines
        assert not [line for line in lines if line.startswith("error")], lines


if __name__ == "__main__":
    sys.exit(run_tests(globals()))
