"""check_picture.py - the README's picture is what the program draws now, and small
SPDX-License-Identifier: GPL-3.0-or-later
"""
import os
import re
import subprocess
import sys
import tempfile
import xml.etree.ElementTree

from terminal import HANGS, PROGRAM, environment, run, run_tests

TOP = os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
PICTURE = os.path.join(TOP, "samples", "picture.svg")
SVG = "{http://www.w3.org/2000/svg}"


def read(path):
    with open(path, encoding="utf-8") as file:
        return file.read()


def draw():
    done = subprocess.run(["sh", os.path.join(TOP, "samples", "draw-picture")], stdin=subprocess.DEVNULL,
                          capture_output=True, env=environment(SPANWRIGHT=PROGRAM), timeout=HANGS, check=False)
    assert done.returncode == 0, done.stderr.decode()
    return done.stdout.decode()


def letters(picture):
    """The shapes of the letters, which are another font's on another machine."""
    return picture.partition("</defs>")[0]


def bars(picture):
    """What is drawn beside letters, by its kind of line or fill: posts, timber, joins, measures."""
    found = {}
    for path in xml.etree.ElementTree.fromstring(picture).iter(SVG + "path"):
        style = path.get("style")
        if style != "stroke:none;":
            found[style] = found.get(style, 0) + 1
    return found


def test_the_readme_shows_it():
    assert re.search(r"^!\[[^]]{20,}\]\(samples/picture\.svg\)$", read(os.path.join(TOP, "README.md")), re.M)


def test_it_is_small():
    assert os.path.getsize(PICTURE) < 144 * 1024, os.path.getsize(PICTURE)


def test_it_is_on_white():
    """A page that is shown on black has black letters on it."""
    top = xml.etree.ElementTree.fromstring(read(PICTURE))
    ground = top.find(SVG + "rect")
    assert ground.get("fill") == "white"
    assert [ground.get(key) for key in ("x", "y", "width", "height")] == top.get("viewBox").split()


def test_it_is_drawn_by_the_program():
    """Where this fails after a change of the sheet: make picture."""
    with tempfile.TemporaryDirectory() as here:
        spans = os.path.join(TOP, "samples", "front-fence", "spans.csv")
        if b"built without it" in run("plan", spans, "-o", here).stderr:
            print("SKIPPED: this spanwright was built without the sheet")
            return
    kept, fresh = read(PICTURE), draw()
    if letters(kept) == letters(fresh):
        assert kept == fresh, "samples/picture.svg is an old one"
    elif 'style="fill:none;' in fresh:  # as older cairo writes it, which drew the one that is kept
        assert bars(kept) == bars(fresh), (bars(kept), bars(fresh))


if __name__ == "__main__":
    sys.exit(run_tests(globals()))
