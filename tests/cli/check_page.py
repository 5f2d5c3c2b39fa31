"""check_page.py - the phone page: it is well formed, every board and piece of the tables is in it, no name is obeyed
SPDX-License-Identifier: GPL-3.0-or-later

What a browser makes of it: check_page_driven.py.
"""
import collections
import csv
import html.parser
import io
import json
import os
import re
import sys
import tempfile

from check_manners import FRONT, sample, sample_names
from terminal import run, run_tests

# Elements without an end tag: HTML standard, "Void elements".
VOID = {"area", "base", "br", "col", "embed", "hr", "img", "input", "link", "meta", "source", "track", "wbr"}
# Names that would get out of what they stand in, into markup, a script, an attribute, a style or a CSV cell.
HOSTILE = ["</script><script>alert(1)</script>", "<!--<script>", "]]>", "\" onclick=\"alert(1)", "' autofocus='",
           "&lt;b&gt;&amp;&#39;", "<img src=x onerror=alert(1)>", "</style><style>*{display:none}", "${alert(1)}`",
           "\\u003c\\\\'\"", "a\u2028b\u2029c", "=HYPERLINK(\"http://x\")", "'=1+1", "-1", "@NONCE@", "\u05d2\u05d3\u05e8 7",
           "\u202egnihton", "\u67f5\u5de6", "two\nlines", "bell\a and\ttab", "comma, semicolon; quote\"", "__proto__",
           "constructor", "a" * 200]


class Reader(html.parser.HTMLParser):
    """The page as a list of what is in it; a fault where a tag is not closed in its turn."""

    def __init__(self, text):
        super().__init__(convert_charrefs=True)
        self.open, self.tags, self.elements, self.script = [], [], {}, {}
        self.feed(text)
        self.close()
        assert not self.open, self.open

    def handle_starttag(self, tag, attrs):
        names = [name for name, _ in attrs]
        assert len(names) == len(set(names)), (tag, attrs)
        found = dict(attrs)
        self.tags.append((tag, tuple(sorted(names)), found.get("class")))
        if "id" in found:
            assert found["id"] not in self.elements, found["id"]
            self.elements[found["id"]] = [tag, ""]
        if tag not in VOID:
            self.open.append((tag, found.get("id")))

    def handle_startendtag(self, tag, attrs):
        # In drawings only: HTML's own elements have no such end.
        assert tag in ("rect", "line", "path"), tag
        self.handle_starttag(tag, attrs)
        self.open.pop()

    def handle_endtag(self, tag):
        assert self.open and self.open[-1][0] == tag, (tag, self.open[-3:], self.getpos())
        self.open.pop()

    def handle_data(self, data):
        if self.open and self.open[-1][0] == "script":
            kind = self.open[-1][1] or "script"
            self.script[kind] = self.script.get(kind, "") + data
        else:
            for _, name in self.open:
                if name is not None:
                    self.elements[name][1] += data


def table(folder, name):
    with open(os.path.join(folder, name + ".csv"), encoding="utf-8", newline="") as file:
        rows = list(csv.reader(file))
    # What a spreadsheet would run has an apostrophe in front.
    return [dict(zip(rows[0], [re.sub(r"^'(?='*[-=+@\t\r])", "", cell) for cell in row])) for row in rows[1:]]


def page(folder):
    with open(os.path.join(folder, "page.html"), encoding="utf-8", newline="") as file:
        return file.read()


def plan(folder, *words):
    done = run(*words, "-o", folder)
    assert done.returncode == 0, (words, done.stderr)
    return folder


def shown(text):
    """As a terminal and the page are given it: what is not to be seen, or turns the direction, is written out."""
    return re.sub("[\x00-\x1f\x7f-\x9f\u2028-\u202e]",
                  lambda c: "\\x%02X" % ord(c[0]) if ord(c[0]) < 256 else "\\u{%X}" % ord(c[0]), text)


def hostile_job(place, names=None):
    """Words that plan a fence whose runs, levels, sections and extras have such names; the same job in plain ones."""
    names = list(HOSTILE if names is None else names)
    plain = [f"n{number}" for number in range(len(names))]
    words = []
    for kind, these in (("hostile", names), ("plain", plain)):
        def text(header, rows):
            made = io.StringIO()
            csv.writer(made).writerows([header] + rows)
            return made.getvalue()
        files = {"spans": text(["run", "span"], [[name, span] for name in these for span in (2355, 2365)]),
                 "levels": text(["level", "section"], [[these[0] + these[6], these[2]], [these[3], these[2]]]),
                 "stock": text(["section", "length"], [[these[2], "4.8"], [these[3], "5.4"]]),
                 "extras": text(["label", "section", "length"], [[name + " x", these[3], 700] for name in these])}
        folder = os.path.join(place, kind)
        os.mkdir(folder)
        for name, content in files.items():
            with open(os.path.join(folder, name + ".csv"), "w", encoding="utf-8", newline="") as file:
                file.write(content)
        words.append(["plan", folder, "--job", these[0], "--date", these[3]])
    return words


# ---- What stands in it --------------------------------------------------------------


def expect_all(folder):
    """Every board and piece of the tables is in the page, with its length, board and place."""
    text = page(folder)
    read = Reader(text)
    cuts, fit = table(folder, "cuts"), table(folder, "fit")
    data = json.loads(read.script["data"])
    # None: it was in its place before.
    assert sorted(filter(None, data["pieces"])) == sorted(row["piece"] for row in cuts)
    number = {label: index for index, label in enumerate(data["pieces"])}
    boards = collections.OrderedDict()
    unit = "in" if data["inches"] else "mm"
    for row in cuts:
        boards.setdefault(int(row["board"]), []).append(row)
    assert [board[0] for board in data["boards"]] == list(boards)
    for board, millimetres, pieces in data["boards"]:
        rows = boards[board]
        assert [data["pieces"][piece] for piece in pieces] == [row["piece"] for row in rows]
        assert abs(millimetres / (25.4 if data["inches"] else 1) - float(rows[0]["board_" + unit])) < .01
        card = read.elements[f"b{board}"][1]
        assert f"Board {board}" in card and shown(rows[0]["section"]) in card, card
        assert ("from hand" in card) == (rows[0]["source"] == "hand"), card
        for row, piece in zip(rows, pieces):
            entry = read.elements[f"p{piece}"][1]
            assert shown(row["piece"]) in entry, (entry, row)
            assert f"s{piece}" in read.elements and f"f{piece}" in read.elements, piece
            if not data["inches"]:
                assert re.search(r"(^|\s)%s\s" % re.escape(row["cut_mm"]), entry), (entry, row)
                assert f"left {row['left_mm']}" in entry, (entry, row)
            for end, word in (("start_cut", "Start: saw "), ("finish_cut", "Finish: saw ")):
                assert (row[end] == "square") == (word not in entry), (entry, row)
                assert row[end] == "square" or f"{word}{row[end]}\u00b0" in entry, (entry, row)
            assert ("Ends plumb" in entry) == (row["plumb"] != ""), (entry, row)
    placed = [name for name in read.elements if re.fullmatch(r"f\d+", name) and data["pieces"][int(name[1:])] is None]
    assert len(placed) == sum(row["board"] == "" for row in fit) == data["pieces"].count(None), placed
    assert all("in its place" in read.elements[name][1] for name in placed), placed
    for row in fit:
        if row["board"] == "":
            continue
        piece = number[row["piece"]]
        entry = read.elements[f"f{piece}"][1]
        assert f"{row['from_post']}\u2013{row['to_post']}" in entry and f"board {row['board']}" in entry, (entry, row)
        assert f"{row['start_join']} to {row['finish_join']}" in entry, (entry, row)
        assert read.elements[f"e{piece}"][1].startswith(row["board"]), read.elements[f"e{piece}"]
    drawn = {name for name in read.elements if re.fullmatch(r"e\d+", name)}
    assert drawn == {f"e{number[row['piece']]}" for row in fit if row["board"] != ""} | {"e" + name[1:] for name in placed}
    return read


def test_all_of_each_sample():
    with tempfile.TemporaryDirectory() as place:
        for name in sample_names():
            for number, more in enumerate(([], ["--inches"], ["--csv-style", "semicolon", "--end-trim", "25"])):
                folder = plan(os.path.join(place, f"{name}{number}"), *sample(name), *more)
                if "semicolon" not in more:
                    expect_all(folder)
                else:
                    Reader(page(folder))


def test_nothing_to_ask_for():
    """No address but places in the page itself; and the policy that forbids all others comes before anything else."""
    with tempfile.TemporaryDirectory() as place:
        for name in sample_names():
            text = page(plan(os.path.join(place, name), *sample(name)))
            assert "://" not in text and "@import" not in text and "url(" not in text, name
            assert set(re.findall(r'\b(?:src|href|action|data)="([^"#]*)', text)) <= {"", "data:,"}, name
            head = text.split("<head>\n")[1]
            assert head.startswith('<meta charset="utf-8">\n<meta http-equiv="Content-Security-Policy" '
                                   'content="default-src \'none\'; '), head[:200]
            assert not re.search(r"\sstyle=|\son[a-z]+=", re.sub(r"(?s)<script.*?</script>", "", text)), name


def test_date_job_and_fingerprint():
    with tempfile.TemporaryDirectory() as place:
        folder = plan(os.path.join(place, "out"), "plan", FRONT, "--job", "Møller & <Søn>", "--date", "3 March")
        text = page(folder)
        with open(os.path.join(folder, "order.txt"), encoding="utf-8") as file:
            mark = re.search(r"^Plan (.*)$", file.read(), re.M).group(1)
        assert mark.endswith(", 3 March")
        assert f"<p>Plan {mark}</p>" in text
        assert "<title>Møller &amp; &lt;Søn&gt;</title>" in text
        assert json.loads(Reader(text).script["data"])["plan"] == mark[:8]


def test_names_are_not_obeyed():
    """The same tags, whatever the names; and the script gets every name as it was written."""
    with tempfile.TemporaryDirectory() as place:
        read = []
        for number, words in enumerate(hostile_job(place)):
            folder = plan(os.path.join(place, str(number)), *words)
            read.append(expect_all(folder))
            labels = {row["piece"] for row in table(folder, "cuts")}
            assert number == 1 or any("</script>" in label for label in labels)
        # But for the span that holds the last part of a label together, which a name with a slash in it may be.
        tags = [[tag for tag in one.tags if tag[2] != "nb"] for one in read]
        assert len(tags[0]) == len(tags[1]), (len(tags[0]), len(tags[1]))
        assert collections.Counter(tags[0]) == collections.Counter(tags[1])
        for one in read:
            assert set(one.script) == {"data", "script"}, set(one.script)
            assert "<" not in one.script["data"]


def test_same_plan_same_bytes():
    with tempfile.TemporaryDirectory() as place:
        first, second = (plan(os.path.join(place, name), *sample("homestead")) for name in ("first", "second"))
        assert page(first) == page(second)


def test_verify_does_not_mind_it():
    with tempfile.TemporaryDirectory() as place:
        folder = plan(os.path.join(place, "out"), "plan", FRONT)
        assert run("verify", "--plan", folder, "--rules-only").returncode == 0
        os.unlink(os.path.join(folder, "page.html"))
        assert run("verify", "--plan", folder, "--rules-only").returncode == 0


if __name__ == "__main__":
    sys.exit(run_tests(globals()))
