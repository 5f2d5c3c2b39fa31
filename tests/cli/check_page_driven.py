"""check_page_driven.py - the phone page in a browser: ticks and site.csv, no request, no fault, fingers, keys, ears
SPDX-License-Identifier: GPL-3.0-or-later

What is ticked is there after a reload, site.csv says what was ticked and replan reads it, nothing is asked for, no
script fails, and fingers, keys and screen readers find everything.  Skipped where there is no browser that can be
driven (Debian: chromium chromium-driver).
"""
import collections
import csv
import http.server
import io
import json
import os
import re
import sys
import tempfile
import threading
import time

import browser
from check_faults import write
from check_manners import FRONT, commands, sample
from check_page import HOSTILE, Reader, expect_all, hostile_job, page, plan, table
from terminal import run, run_tests


def expect_quiet(driven):
    """No script failed, and the policy had nothing to refuse."""
    said = driven.log("browser")
    assert said == [], said


def open_page(driven, folder, part="next"):
    driven.open("about:blank")
    driven.open("file://" + os.path.join(folder, "page.html") + "#" + part)


def site(driven):
    """The rows of site.csv, as the page shows it: a text area holds line feeds."""
    text = driven.run("return document.getElementById('csv').value")
    rows = list(csv.reader(io.StringIO(text)))
    assert rows[0] == ["piece", "board", "state", "left"] and all(len(row) == 4 for row in rows), rows
    return rows[1:]


def saved(driven):
    """site.csv as it is saved: its bytes."""
    path = os.path.join(driven.downloads, "site.csv")
    if os.path.exists(path):
        os.unlink(path)
    driven.click("nav a[href='#site']")
    driven.click("#save")
    give_up = time.monotonic() + browser.HANGS
    while not os.path.exists(path):
        assert time.monotonic() < give_up, os.listdir(driven.downloads)
        time.sleep(0.05)
    with open(path, "rb") as file:
        return file.read()


def in_browser(test):
    """TEST (DRIVEN, PLACE) with a browser and a folder of its own."""
    def whole():
        with tempfile.TemporaryDirectory() as place, browser.Browser(place) as driven:
            test(driven, place)
            expect_quiet(driven)
    return whole


def ticks(driven, selector):
    return driven.run("return Array.from(document.querySelectorAll(arguments[0]), box => box.checked)", selector)


@in_browser
def test_ticks_survive_a_reload(driven, place):
    folder = plan(os.path.join(place, "out"), *sample("homestead"))
    cuts = table(folder, "cuts")
    label = json.loads(Reader(page(folder)).script["data"])["pieces"]
    by_board = collections.defaultdict(list)
    for row in cuts:
        by_board[row["board"]].append(row["piece"])
    several = [board for board, pieces in by_board.items() if len(pieces) > 1]
    open_page(driven, folder)
    # The first cut of the list is the next one; then the second.
    for cut in range(2):
        assert driven.text("#next-label") == cuts[cut]["piece"]
        assert driven.text("#next-length") == cuts[cut]["cut_mm"]
        assert driven.text("#next-left") == cuts[cut]["left_mm"]
        assert driven.text("#next-board") == cuts[cut]["board"]
        driven.click("#done")
    # A board as a whole, and one of whose pieces one is cut.
    driven.click("nav a[href='#boards']")
    driven.click(f"#b{several[0]} .head label")
    part = label.index(by_board[several[1]][0])
    driven.click(f"#p{part} label")
    # A piece that is in its place, one that is spoiled and a board that is bad: two taps each.
    driven.click("nav a[href='#runs']")
    driven.click("#f0 label")
    driven.click("#f1 button")
    driven.click("#of-piece [data-state=s]")
    driven.click("nav a[href='#boards']")
    bad = next(board for board in by_board if len(by_board[board]) == 1
               and by_board[board][0] not in (cuts[0]["piece"], cuts[1]["piece"], label[0], label[1]))
    driven.click(f"#b{bad} [data-board]")
    driven.write("#left", "1,25 m")
    driven.click("#of-board [data-state=bad]")
    before = site(driven), ticks(driven, "#boards input, #runs input")
    wanted = {(cuts[0]["piece"], "", "cut", ""), (cuts[1]["piece"], "", "cut", ""), ("", several[0], "cut up", ""),
              (label[part], "", "cut", ""), (label[0], "", "fixed", ""), (label[1], "", "spoiled", ""),
              ("", bad, "bad", "1.25m")}
    assert len(before[0]) == len(wanted) and {tuple(row) for row in before[0]} == wanted, (before[0], wanted)
    for _ in range(2):
        driven.reload()
        assert (site(driven), ticks(driven, "#boards input, #runs input")) == before
    assert driven.text("nav a[href='#site']").split() == ["Mishaps", "(2)"], driven.text("nav a[href='#site']")
    # The file that is saved is RFC 4180, and the same.
    bytes_saved = saved(driven)
    assert bytes_saved.startswith(b"piece,board,state,left\r\n") and bytes_saved.endswith(b"\r\n")
    assert b"\n" not in bytes_saved.replace(b"\r\n", b"")
    assert list(csv.reader(io.StringIO(bytes_saved.decode(), newline="")))[1:] == before[0]
    again = replans(folder, bytes_saved, place)
    # It begins without ticks, but for what is in its place, which cannot be ticked.
    open_page(driven, again, "runs")
    assert site(driven) == [] and not any(ticks(driven, "#boards li input, #runs li input"))
    assert driven.run("return Array.from(document.querySelectorAll('#runs .row'), one => one.textContent)"
                      ".filter(text => text.includes('in its place')).length") == 1
    driven.click("nav a[href='#next']")
    driven.click("#done")
    assert len(site(driven)) == 1


def replans(folder, bytes_saved, place):
    """Whoever plans on from there reads it; the new plan has a page of its own."""
    assert "replan" in commands()
    path = os.path.join(place, "site.csv")
    with open(path, "wb") as file:
        file.write(bytes_saved)
    out = tempfile.mkdtemp(dir=place)
    done = run("replan", "--plan", folder, "--site", path, "-o", out, "--time-limit", "5")
    assert done.returncode == 0, (done.returncode, done.stderr, bytes_saved)
    text = page(out)
    assert re.search(r"<p>Plan \S+, revision 1(, [^<]*)?</p>", text), text[:3000]
    expect_all(out)
    return out


@in_browser
def test_every_piece_and_board_can_be_ticked(driven, place):
    folder = plan(os.path.join(place, "out"), *sample("hill"))
    cuts = table(folder, "cuts")
    open_page(driven, folder)
    for number, row in enumerate(cuts):
        assert driven.text("#progress").startswith(f"{number} of {len(cuts)} pieces cut"), driven.text("#progress")
        driven.click("#done")
    assert driven.shows("#all-cut") and not driven.shows("#card")
    driven.click("#undo")
    driven.click("#undo")
    # A glove that taps twice cuts one piece.
    place_of = driven.run("const one = document.getElementById('done'); one.scrollIntoView({ block: 'center' });"
                          "const box = one.getBoundingClientRect(); return [box.x + box.width / 2, box.y + box.height / 2]")
    for count in (1, 2):
        for kind in ("mousePressed", "mouseReleased"):
            driven.command("Input.dispatchMouseEvent", type=kind, x=place_of[0], y=place_of[1], button="left",
                           clickCount=count)
    assert driven.text("#progress").startswith(f"{len(cuts) - 1} of "), driven.text("#progress")
    driven.click("#done")
    assert all(ticks(driven, "#boards li input"))
    boards = collections.Counter(row["board"] for row in cuts)
    wanted = {("", board, "cut up", "") for board, count in boards.items() if count > 1}
    wanted |= {(row["piece"], "", "cut", "") for row in cuts if boards[row["board"]] == 1}
    assert {tuple(row) for row in site(driven)} == wanted
    # Back again, one after the other.
    for _ in cuts:
        driven.click("#undo")
    assert site(driven) == [] and not any(ticks(driven, "#boards li input"))
    # And all at once, which is asked for twice.
    driven.click("#done")
    driven.click("nav a[href='#site']")
    driven.click("#forget")
    assert len(site(driven)) == 1
    driven.click("#forget")
    assert site(driven) == []
    driven.click("#undo")
    assert len(site(driven)) == 1


@in_browser
def test_hostile_names(driven, place):
    """What is in a name runs nowhere, and comes back out of site.csv as it was."""
    words = hostile_job(place)[0]
    folder = plan(os.path.join(place, "out"), *words)
    cuts = table(folder, "cuts")
    open_page(driven, folder)
    count = len(cuts)
    for number in range(count):
        driven.run("document.getElementById(arguments[0]).querySelector('input').click()", f"p{number}")
        driven.run("document.querySelector(arguments[0]).click()", f"#p{number} button")
        driven.run("document.querySelector('#of-piece [data-state=s]').click()")
    assert driven.run("return document.querySelectorAll('img, script:not([nonce]):not([type])').length") == 0
    bytes_saved = saved(driven)
    path = os.path.join(place, "read.csv")
    with open(path, "wb") as file:
        file.write(bytes_saved)
    rows = table(place, "read")
    assert sorted(row["piece"] for row in rows) == sorted(row["piece"] for row in cuts)
    assert {row["state"] for row in rows} == {"spoiled"}
    # No cell is left for a spreadsheet to run.
    assert not re.search(rb'(^|[,\n])"?[-=+@\t]', bytes_saved), bytes_saved
    replans(folder, bytes_saved, place)


class Asked(http.server.BaseHTTPRequestHandler):
    """Counts what it is asked for."""
    paths = []

    def do_GET(self):
        self.paths.append(self.path)
        self.send_response(200)
        self.send_header("Access-Control-Allow-Origin", "*")
        self.end_headers()

    do_POST = do_GET

    def log_message(self, *_):
        pass


def test_no_request_leaves():
    with tempfile.TemporaryDirectory() as place, browser.Browser(place) as driven, \
            http.server.ThreadingHTTPServer(("127.0.0.1", 0), Asked) as server:
        threading.Thread(target=server.serve_forever, daemon=True).start()
        address = f"http://127.0.0.1:{server.server_port}/"
        folder = plan(os.path.join(place, "out"), *sample("homestead"))
        driven.open("about:blank")
        driven.requests()
        open_page(driven, folder)
        for part in ("boards", "runs", "site", "next"):
            driven.click(f"nav a[href='#{part}']")
        driven.click("#done")
        saved(driven)
        asked = [one.split("#")[0] for one in driven.requests() if not one.startswith(("data:,", "blob:"))]
        assert set(asked) == {"file://" + os.path.join(folder, "page.html")}, set(asked)
        expect_quiet(driven)
        # Nor could one: a script, an image, a style, a frame and a form that want to are refused by the policy.
        driven.run("""
            const add = (tag, name, value) => { const one = document.createElement(tag); one[name] = value;
                                                document.body.appendChild(one); return one; };
            fetch(arguments[0] + 'fetch').catch(() => 0);
            navigator.sendBeacon(arguments[0] + 'beacon', 'x');
            new Image().src = arguments[0] + 'image';
            add('script', 'src', arguments[0] + 'script');
            add('iframe', 'src', arguments[0] + 'frame');
            add('script', 'textContent', 'document.title = "run"');
            add('style', 'textContent', '* { background: url(' + arguments[0] + 'style) }');
            const form = add('form', 'action', arguments[0] + 'form'); form.target = '_blank'; form.submit();
            return 0;""", address)
        driven.run("return new Promise(done => setTimeout(done, 500))")
        refused = driven.log("browser")
        assert len(refused) >= 6 and all("Content Security Policy" in one["message"] for one in refused), refused
        assert Asked.paths == [], Asked.paths
        assert driven.run("return document.title") != "run"
        # The counter does count.
        driven.open(address + "open")
        assert "/open" in Asked.paths
        server.shutdown()


@in_browser
def test_each_plan_has_its_own_ticks(driven, place):
    first = plan(os.path.join(place, "first"), "plan", FRONT)
    other = plan(os.path.join(place, "other"), "plan", FRONT, "--kerf", "4")
    named = plan(os.path.join(place, "named"), "plan", FRONT, "--job", "North")
    dated = plan(os.path.join(place, "dated"), "plan", FRONT, "--date", "3 March")
    open_page(driven, first)
    driven.click("#done")
    for folder, rows in ((other, 0), (named, 0), (dated, 1), (first, 1)):
        open_page(driven, folder)
        assert len(site(driven)) == rows, folder
    # What is kept and no longer makes sense is passed over.
    for kept in ("nonsense", "null", "[]", '{"p":{"0":"x","999":"c","__proto__":"c"},"b":{"77":"bad"},"m":{"1":"=1"},"at":{"n":1e9}}'):
        driven.run("localStorage.setItem(Object.keys(localStorage).find(key => JSON.parse(localStorage[key]).p['0'] || 1),"
                   " arguments[0])", kept)
        driven.reload()
        assert site(driven) == [], kept
        driven.click("#done")
        assert len(site(driven)) == 1, kept


@in_browser
def test_browser_that_keeps_nothing(driven, place):
    folder = plan(os.path.join(place, "out"), "plan", FRONT)
    open_page(driven, folder)
    assert not driven.shows("#unkept")
    driven.command("Page.addScriptToEvaluateOnNewDocument", source="Object.defineProperty(window, 'localStorage',"
                   " { get() { throw new DOMException('', 'SecurityError'); } });")
    driven.reload()
    assert driven.shows("#unkept")
    driven.click("#done")
    assert len(site(driven)) == 1


@in_browser
def test_what_is_still_good(driven, place):
    """A length as one writes it, read as spanwright-csv(5) says; what is none is refused."""
    metric = {"650": "650", " 650 mm ": "650", "65,5cm": "65.5cm", "1.2 M": "1.2m", "": "",
              "5m": None, "0": None, "-3": None, "6 1/2in": None, "1e3": None, "=1": None, "12'": None}
    inches = {"24": "24in", "24 1/2": "24 1/2in", "1/2\"": "1/2in", "24.5in": "24.5in", "7' 10 1/2\"": "7ft 10 1/2in",
              "7\u2019 10\u201d": "7ft 10in", "8ft": "8ft", "": "", "600mm": None, "1 3/2": None, "7' 13": None,
              "20ft": None, "1/0": None, "0": None}
    for name, job, cases in (("metric", ["plan", FRONT, "--stock-length", "4.8"], metric),
                             ("inches", sample("inches"), inches)):
        folder = plan(os.path.join(place, name), *job)
        open_page(driven, folder)
        for written, wanted in cases.items():
            driven.click("#bad")
            driven.run("document.getElementById('left').value = ''")
            driven.write("#left", written)
            driven.click("#of-board [data-state=bad]")
            if wanted is None:
                assert driven.shows("#left-wrong"), written
                driven.click("#cancel")
                assert site(driven) == [], written
            else:
                assert not driven.shows("#mishap"), written
                assert [row[2:] for row in site(driven)] == [["bad", wanted]], (written, site(driven))
                replans(folder, ("\r\n".join(",".join(row) for row in [["piece", "board", "state", "left"]] + site(driven))
                                 + "\r\n").encode(), place)
                driven.reload()
                assert [row[2:] for row in site(driven)] == [["bad", wanted]], written
                driven.click("nav a[href='#site']")
                driven.click("#forget")
                driven.click("#forget")
                driven.click("nav a[href='#next']")


TAB, ENTER, SPACE, ESCAPE = "\ue004", "\ue007", " ", "\ue00c"


def focused(driven):
    return driven.run("const one = document.activeElement; return one.id || one.getAttribute('data-piece') || one.tagName")


@in_browser
def test_keys_alone(driven, place):
    folder = plan(os.path.join(place, "out"), "plan", FRONT)
    for width in (360, 1280):
        driven.size(width, 800)
        open_page(driven, folder)
        driven.run("localStorage.clear(); document.activeElement.blur()")
        driven.reload()
        # Down to the button of the next cut.
        for _ in range(20):
            driven.press(TAB)
            if focused(driven) == "done":
                break
        assert focused(driven) == "done"
        driven.press(ENTER)
        assert len(site(driven)) == 1
        driven.press(TAB, ENTER)
        assert driven.shows("#mishap") and focused(driven) == "BUTTON"
        # Nothing behind the question is reached.
        for _ in range(10):
            driven.press(TAB)
            assert driven.run("return document.getElementById('mishap').contains(document.activeElement)"
                              " || document.activeElement === document.body"), focused(driven)
        driven.press(ESCAPE)
        assert not driven.shows("#mishap") and focused(driven) == "wrong", focused(driven)
        driven.press(ENTER, ENTER)
        assert [row[2] for row in site(driven)] == ["cut", "spoiled"], site(driven)
        # A box of the boards.
        open_page(driven, folder, "boards")
        driven.run("document.querySelector('#b3 .head input').focus()")
        driven.press(SPACE)
        assert any(row[1] == "3" or row[2] == "cut" for row in site(driven)[1:]), site(driven)
        # A drawing wider than the screen is moved with the arrow keys.
        open_page(driven, folder, "runs")
        assert driven.run("const one = document.querySelector('.long'); one.focus(); return document.activeElement === one")


@in_browser
def test_screen_reader_finds_a_name_for_everything(driven, place):
    folder = plan(os.path.join(place, "out"), *sample("homestead"))
    for part in ("next", "boards", "runs", "site"):
        driven.size(360, 740)
        open_page(driven, folder, part)
        if part == "next":
            driven.click("#wrong")
        nodes = driven.command("Accessibility.getFullAXTree")["nodes"]
        asked = collections.Counter()
        for node in nodes:
            role = node.get("role", {}).get("value")
            if node.get("ignored") or role not in ("button", "checkbox", "link", "textbox", "searchbox", "dialog", "region"):
                continue
            asked[role] += 1
            assert node.get("name", {}).get("value", "").strip(), (part, node)
        assert asked["button" if part == "next" else "link"] >= 3, (part, asked)
        if part == "next":
            assert asked["dialog"] == 1 and asked["textbox"] == 1, asked
            driven.click("#cancel")
        names = [node["name"]["value"] for node in nodes if node.get("role", {}).get("value") == "button" and "name" in node]
        if part in ("boards", "runs"):
            # What a list of all buttons would read out.
            mishaps = [name for name in names if name.startswith("Mishap: ")]
            assert len(mishaps) > 60 and len(set(mishaps)) == len(mishaps), (len(mishaps), len(set(mishaps)))


# Luminance and contrast: Web Content Accessibility Guidelines 2.2, "contrast ratio"; 7 is its stricter level (AAA).
CONTRAST = """
const channel = value => { value /= 255; return value <= 0.04045 ? value / 12.92 : ((value + 0.055) / 1.055) ** 2.4; };
const luminance = rgb => 0.2126 * channel(rgb[0]) + 0.7152 * channel(rgb[1]) + 0.0722 * channel(rgb[2]);
const colour = text => { const found = text.match(/[\\d.]+/g).map(Number); return found.length > 3 && found[3] === 0 ? null : found; };
const worst = [];
for (const one of document.querySelectorAll('body *')) {
  if (!Array.from(one.childNodes).some(node => node.nodeType === 3 && node.data.trim()) || one.closest('script, style, svg')
      || one.disabled || !one.checkVisibility()) continue;
  let behind = one;
  while (behind && !colour(getComputedStyle(behind).backgroundColor)) behind = behind.parentElement;
  const under = behind ? colour(getComputedStyle(behind).backgroundColor) : [255, 255, 255];
  const pair = [luminance(colour(getComputedStyle(one).color)), luminance(under)].sort((a, b) => b - a);
  worst.push([(pair[0] + 0.05) / (pair[1] + 0.05), one.tagName + ' ' + one.className + ' ' + one.textContent.slice(0, 40)]);
}
return worst.sort((a, b) => a[0] - b[0]).slice(0, 3);
"""


@in_browser
def test_screen_in_the_sun(driven, place):
    """Contrast, room for a finger in a glove, and nothing wider than the screen."""
    long_names = hostile_job(place, ["W" * 60] + HOSTILE[1:3] + ["v" * 60] + HOSTILE[4:7])[0]
    for name, words in (("homestead", sample("homestead")), ("hill", sample("hill")), ("long", long_names)):
        folder = plan(os.path.join(place, name), *words)
        for width in (320, 360, 1280):
            driven.size(width, 740)
            for part in ("next", "boards", "runs", "site"):
                open_page(driven, folder, part)
                if part == "boards":
                    driven.click("#p0 label")
                    driven.click("#p1 button")
                    driven.click("#of-piece [data-state=s]")
                wide = driven.run("return document.documentElement.scrollWidth")
                assert wide <= width, (name, width, part, wide)
                contrast = driven.run(CONTRAST)
                assert contrast[0][0] >= 7, (name, part, contrast)
                if width < 1280:
                    # 44 pixels: the same guidelines, "target size (enhanced)".
                    small = driven.run("""return Array.from(document.querySelectorAll('button, .row label, .head label, nav a, input'))
                        .filter(one => one.checkVisibility() && !one.closest('label input[type=checkbox]'))
                        .map(one => [one.getBoundingClientRect(), one])
                        .filter(([box]) => box.width < 44 || box.height < 44)
                        .map(([box, one]) => [one.outerHTML.slice(0, 90), box.width, box.height])""")
                    small = [one for one in small if 'type="checkbox"' not in one[0]]
                    assert small == [], (name, part, small[:3])


@in_browser
def test_a_thousand_boards(driven, place):
    spans = "run,span\n" + "".join(f"run {run_number},{2300 + (7 * run_number + 13 * bay) % 100}\n"
                                   for run_number in range(50) for bay in range(21))
    levels = "level,section\nlow,rail\nmiddle,rail\nhigh,rail\n"
    folder = plan(os.path.join(place, "out"), "plan", write(place, "spans.csv", spans), "--levels",
                  write(place, "levels.csv", levels), "--time-limit", "2", "--stock-length", "4.8")
    cuts = table(folder, "cuts")
    last = max(int(row["board"]) for row in cuts)
    assert last > 1000, last
    expect_all(folder)
    driven.size(360, 740)
    open_page(driven, folder, f"b{last}")
    assert driven.shows(f"#b{last}")
    driven.click(f"#b{last} .head label")
    driven.click("nav a[href='#next']")
    driven.click("#done")
    before = site(driven)
    assert {(row[0], row[1]) for row in before} & {(cuts[-1]["piece"], ""), ("", str(last))}, before
    driven.reload()
    assert site(driven) == before
    # Found by its number alone, and by a part of a label.
    driven.click("nav a[href='#boards']")
    for wanted, which in ((str(last - 1), {str(last - 1)}),
                          ("RUN 7/low/", {row["board"] for row in cuts if "run 7/low/" in row["piece"]})):
        driven.run("document.getElementById('find').value = ''")
        driven.write("#find", wanted)
        driven.run("return new Promise(done => setTimeout(done, 600))")
        found = driven.run("return Array.from(document.querySelectorAll('.board'), one => one.hidden ? '' : one.id.slice(1))"
                           ".filter(id => id)")
        assert set(found) == which, (wanted, len(found), len(which))


if __name__ == "__main__":
    if browser.DRIVER is None or browser.BROWSER is None:
        print("SKIPPED: chromium and chromedriver are not here (Debian: chromium chromium-driver), so nothing was opened in"
              " a browser")
        sys.exit(77)
    sys.exit(run_tests(globals()))
