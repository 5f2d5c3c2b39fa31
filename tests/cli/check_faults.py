"""check_faults.py - killed while writing, no room, no right to write, links, names that are out to harm
SPDX-License-Identifier: GPL-3.0-or-later
"""
import contextlib
import csv
import io
import os
import random
import re
import resource
import shutil
import signal
import subprocess
import sys
import tempfile
import time

from check_manners import FRONT, SAMPLES
from terminal import PROGRAM, Screen, environment, run, run_tests

TABLES = ("order.csv", "cuts.csv", "fit.csv", "setout.csv", "order.txt")
# They go when the tables of another plan come, and come after them.
DRAWN = {"sheet.pdf", "page.html", "plan.xlsx"}
OTHER_SETTINGS = ["--kerf", "5", "--stock-length", "6.0", "--post-width", "90"]
OTHER = ["plan", FRONT] + OTHER_SETTINGS
# What a terminal obeys, or what makes a name look like another.
ACTIVE = re.compile("[\x00-\x09\x0b-\x1f\x7f-\x9f\u061c\u200e\u200f\u2028-\u202e\u2066-\u2069\ufeff]")


@contextlib.contextmanager
def folder():
    with tempfile.TemporaryDirectory() as place:
        yield place


def write(place, name, text):
    path = os.path.join(place, name)
    with open(path, "wb") as file:
        file.write(text if isinstance(text, bytes) else text.encode())
    return path


def contents(place):
    """Name and bytes of every file that is not hidden."""
    found = {}
    for name in os.listdir(place):
        path = os.path.join(place, name)
        if not name.startswith(".") and os.path.isfile(path):
            with open(path, "rb") as file:
                found[name] = file.read()
    return found


def hidden(place):
    return [name for name in os.listdir(place) if name.startswith(".")]


def two_plans(place):
    """Files of one plan and of another that differs in every file; the size of the largest."""
    for name, words in (("old", OTHER), ("new", ["plan", FRONT])):
        assert run(*words, "-o", os.path.join(place, name)).returncode == 0
    old, new = (contents(os.path.join(place, name)) for name in ("old", "new"))
    assert set(TABLES) <= set(old) == set(new), (set(old), set(new))
    assert all(old[name] != new[name] for name in old), "the plans do not differ"
    return old, new


def expect_whole(place, old, new):
    """Each file is the old one or the new one, and no sheet or page lies beside tables of another plan; how many
    tables are new."""
    now = contents(place)
    assert set(now) | DRAWN == set(old) | DRAWN, set(now)
    for name, content in now.items():
        assert content in (old[name], new[name]), f"{name} is neither the old file nor the new one"
    fresh = sum(now[name] == new[name] for name in TABLES)
    for name in DRAWN & set(now):
        assert fresh == (len(TABLES) if now[name] == new[name] else 0), f"{name} beside tables of another plan"
    return fresh


def limited(place, size):
    """Plan into PLACE with files of at most SIZE bytes; at the next one the system sends SIGXFSZ to who heeds it."""
    def limit():
        signal.signal(signal.SIGXFSZ, signal.SIG_DFL)
        resource.setrlimit(resource.RLIMIT_FSIZE, (size, size))
    return run("plan", FRONT, "-o", place, preexec_fn=limit)


def test_file_limit_at_every_file():
    # The system's signal for it would be a death with temporary files left behind.
    with folder() as place:
        old, new = two_plans(place)
        sizes = sorted({len(content) for content in new.values()})
        failed = 0
        for size in [0, 1, 17] + [s - 1 for s in sizes]:
            out = os.path.join(place, str(size))
            shutil.copytree(os.path.join(place, "old"), out)
            done = limited(out, size)
            assert done.returncode == 5 and b"cannot be written: File too large" in done.stderr, (size, done.stderr)
            assert done.stdout == run("plan", FRONT).stdout, size
            assert expect_whole(out, old, new) in (0, len(TABLES)), size
            assert hidden(out) == [], os.listdir(out)
            failed += 1
        assert failed > 5


def test_file_limit_in_a_new_folder():
    with folder() as place:
        out = os.path.join(place, "new")
        assert limited(out, 50).returncode == 5
        assert not os.path.exists(out)
        os.mkdir(out)
        assert limited(out, 50).returncode == 5
        assert os.listdir(out) in ([], ["job"]), os.listdir(out)
        assert run("plan", FRONT, "-o", out).returncode == 0
        assert set(TABLES) <= set(contents(out))


def test_killed_at_any_moment():
    with folder() as place:
        old, new = two_plans(place)
        out = os.path.join(place, "old")
        began = time.monotonic()
        run("plan", FRONT, "-o", os.path.join(place, "timed"))
        takes = time.monotonic() - began
        draw = random.Random(7)
        killed = 0
        for _ in range(30):
            with subprocess.Popen([PROGRAM, "plan", FRONT, "-o", out], stdin=subprocess.DEVNULL,
                                  stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL) as child:
                time.sleep(draw.uniform(0, 1.2 * takes))
                child.kill()
                killed += child.wait() == -signal.SIGKILL
            expect_whole(out, old, new)
        assert killed > 0
        assert run("plan", FRONT, "-o", out).returncode == 0
        assert expect_whole(out, old, new) == len(TABLES) and set(contents(out)) == set(new)


def no_room(place, out, old):
    """What the program says and leaves when OUT has no room."""
    done = limited(out, 300)
    assert done.returncode == 5, (done.returncode, done.stderr)
    assert b"cannot be written: File too large" in done.stderr, done.stderr
    assert contents(out) == old and hidden(out) == [], os.listdir(out)
    # The plan was found all the same.
    assert b"CUT LIST" in done.stdout


def test_file_too_large():
    with folder() as place:
        old, _ = two_plans(place)
        no_room(place, os.path.join(place, "old"), old)


@contextlib.contextmanager
def small_disk(size):
    """A file system with room for SIZE bytes; None where we may not have one."""
    with folder() as place:
        mounted = os.geteuid() == 0 and shutil.which("mount") is not None and subprocess.run(
            ["mount", "-t", "tmpfs", "-o", f"size={size}", "tmpfs", place], check=False,
            stderr=subprocess.DEVNULL).returncode == 0
        try:
            yield place if mounted else None
        finally:
            if mounted:
                subprocess.run(["umount", place], check=True)


def test_full_disk():
    with folder() as place, small_disk("48k") as disk:
        if disk is None:
            print("not here: a disk of our own that is full")
            return
        out = os.path.join(disk, "out")
        assert run(*OTHER, "-o", os.path.join(place, "old")).returncode == 0
        old = {n: c for n, c in contents(os.path.join(place, "old")).items() if n in TABLES}
        os.mkdir(out)
        for name, content in old.items():
            write(out, name, content)
        room = os.statvfs(disk)
        write(disk, "filler", b"x" * (room.f_bavail - 1) * room.f_bsize)
        done = run("plan", FRONT, "-o", out)
        assert done.returncode == 5, (done.returncode, done.stderr)
        assert b"cannot be written: No space left on device" in done.stderr, done.stderr
        assert contents(out) == old and hidden(out) == [], os.listdir(out)
        # A folder that was made for it goes again.
        done = run("plan", FRONT, "-o", os.path.join(disk, "fresh"))
        assert done.returncode == 5 and not os.path.exists(os.path.join(disk, "fresh")), done.stderr


def test_read_only_disk():
    with small_disk("1m") as disk:
        if disk is None:
            print("not here: a disk that cannot be written")
            return
        out = os.path.join(disk, "out")
        assert run(*OTHER, "-o", out).returncode == 0
        old = contents(out)
        subprocess.run(["mount", "-o", "remount,ro", disk], check=True)
        for place in (out, os.path.join(disk, "new")):
            done = run("plan", FRONT, "-o", place)
            assert done.returncode == 5 and b"Read-only file system" in done.stderr, (done.returncode, done.stderr)
        assert contents(out) == old
        assert run("verify", FRONT, *OTHER_SETTINGS, "--plan", out).returncode == 0


def test_folder_without_the_right_to_write():
    # /proc refuses new files, whoever asks.
    done = run("plan", FRONT, "-o", "/proc")
    assert done.returncode == 5 and b"error: /proc/order.csv: cannot be written" in done.stderr, done.stderr
    with folder() as place:
        out = os.path.join(place, "out")
        assert run(*OTHER, "-o", out).returncode == 0
        old = contents(out)
        os.chmod(out, 0o555)
        if not os.access(out, os.W_OK):
            done = run("plan", FRONT, "-o", out)
            assert done.returncode == 5 and b"Permission denied" in done.stderr, (done.returncode, done.stderr)
        os.chmod(out, 0o755)
        assert old == contents(out) or os.geteuid() == 0


def test_no_room_on_stdout():
    with folder() as place:
        out = os.path.join(place, "out")
        assert run("plan", FRONT, "-o", out).returncode == 0
        for words in (["verify", FRONT, "--plan", out], ["verify", FRONT, "--plan", out, "--rules-only"],
                      ["verify", "--help"], ["plan", FRONT, "--csv", "order"], ["plan", FRONT, "-o", out]):
            with open("/dev/full", "wb") as full:
                done = run(*words, stdout=full)
            assert done.returncode == 5, (words, done.returncode)
            assert b"cannot write to standard output: No space left on device\n" in done.stderr, done.stderr
            done = run(*words, stdout=None, preexec_fn=lambda: os.close(1))
            assert done.returncode == 5 and b"cannot write to standard output" in done.stderr, (words, done.stderr)
        assert set(TABLES) <= set(contents(out))


def test_closed_pipes():
    with folder() as place:
        out = os.path.join(place, "out")
        assert run("plan", FRONT, "-o", out).returncode == 0
        old = contents(out)
        for words in (["verify", FRONT, "--plan", out], ["plan", FRONT, "--csv", "cuts"], ["plan", FRONT, "-o", out]):
            for disposition, status in ((signal.SIG_DFL, -signal.SIGPIPE), (signal.SIG_IGN, 5)):
                read_end, write_end = os.pipe()
                os.close(read_end)
                done = run(*words, stdout=write_end, restore_signals=False,
                           preexec_fn=lambda d=disposition: signal.signal(signal.SIGPIPE, d))
                os.close(write_end)
                assert done.returncode == status, (words, done.returncode, done.stderr)
                assert contents(out) == old, words


def test_little_memory():
    words = [os.path.join(SAMPLES, "homestead", "spans.csv"), "--levels",
             os.path.join(SAMPLES, "homestead", "levels.csv"), "--sections",
             os.path.join(SAMPLES, "homestead", "sections.csv"), "--stock",
             os.path.join(SAMPLES, "homestead", "stock.csv")]

    def within(size, *command):
        return run(*command, preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_AS, (size, size)))

    if within(4 << 30, "--version").returncode != 0:
        print("not here: a limit of memory (sanitizers want all of it)")
        return
    least = next(size for size in range(1 << 20, 1 << 30, 1 << 20) if within(size, "--version").returncode == 0)
    seen = {}
    for size in range(least, least + (48 << 20), 256 << 10):
        done = within(size, "plan", *words, "--csv", "order")
        seen.setdefault(done.returncode, (size, done.stderr))
        assert done.returncode in (0, 5), (size, done.returncode, done.stderr)
        assert done.returncode == 0 or b"memory" in done.stderr, (size, done.stderr)
        if done.returncode == 0:
            break
    assert 0 in seen, seen


# ---- Links and inputs ----------------------------------------------------------


def test_links_are_replaced_not_followed():
    with folder() as place:
        victim = write(place, "victim", "do not touch")
        out = os.path.join(place, "out")
        os.mkdir(out)
        for name in TABLES + ("page.html", "plan.xlsx", "sheet.pdf", "sheet-1.svg"):
            os.symlink(victim if name != "fit.csv" else os.path.join(place, "not-there"), os.path.join(out, name))
        done = run("plan", FRONT, "-o", out, "--svg")
        assert done.returncode in (0, 2), done.stderr  # 2: built without the sheet
        for name in TABLES:
            assert not os.path.islink(os.path.join(out, name)), name
        if done.returncode == 0:
            assert not os.path.islink(os.path.join(out, "sheet.pdf"))
            assert not os.path.islink(os.path.join(out, "sheet-1.svg"))
        with open(victim, encoding="utf-8") as file:
            assert file.read() == "do not touch"
        assert not os.path.exists(os.path.join(place, "not-there"))


def test_hard_links_are_replaced_not_written_through():
    with folder() as place:
        victim = write(place, "victim", "do not touch")
        out = os.path.join(place, "out")
        os.mkdir(out)
        for name in TABLES + ("sheet.pdf", "page.html", "plan.xlsx"):
            os.link(victim, os.path.join(out, name))
        assert run("plan", FRONT, "-o", out).returncode == 0
        with open(victim, encoding="utf-8") as file:
            assert file.read() == "do not touch"
        assert b"rail" in contents(out)["order.csv"]


def test_temporary_names_that_are_guessed():
    with folder() as place:
        victim = write(place, "victim", "do not touch")
        out = os.path.join(place, "out")
        os.mkdir(out)
        # Numbers of the processes to come, as someone who waits for us would guess them.
        with subprocess.Popen(["true"]) as near:
            number = near.pid
        for process in range(number, number + 200):
            for name in ("order.csv", "cuts.csv"):
                os.symlink(victim, os.path.join(out, f".{name}.{process}-0.tmp"))
        assert run("plan", FRONT, "-o", out).returncode == 0
        with open(victim, encoding="utf-8") as file:
            assert file.read() == "do not touch"
        assert set(TABLES) <= set(contents(out))


def test_folder_that_is_a_link_is_the_folder_meant():
    with folder() as place:
        os.mkdir(os.path.join(place, "real"))
        os.symlink("real", os.path.join(place, "link"))
        assert run("plan", FRONT, "-o", os.path.join(place, "link")).returncode == 0
        assert set(TABLES) <= set(contents(os.path.join(place, "real")))


def test_inputs_are_never_overwritten():
    spans = "run,span\na,2400\na,2400\n"
    files = {"spans": spans, "--levels": "level,section\nlow,rail\n", "--stock": "section,length\nrail,4.8\n",
             "--sections": "section,width\nrail,100\n", "--extras": "label,section,length\nx,rail,700\n",
             "--settings": "key,value\nkerf,4\n"}
    made = TABLES + ("sheet.pdf", "page.html", "plan.xlsx")
    for kind in files:
        for how in ("itself", "hard link", "symbolic link"):
            with folder() as place:
                words = ["plan"]
                name = made[(len(kind) + len(how)) % len(made)]
                for other, text in files.items():
                    path = write(place, name if other == kind else other.strip("-") + ".in", text)
                    if other == kind and how != "itself":
                        moved = os.path.join(place, "input.csv")
                        os.rename(path, moved)
                        (os.link if how == "hard link" else os.symlink)(moved, path)
                        path = moved if how == "hard link" else path
                    words += [path] if other == "spans" else [other, path]
                before = {n: c for n, c in contents(place).items() if n == name or n.startswith("input")}
                done = run(*words, "-o", place)
                if name in ("sheet.pdf", "plan.xlsx") and b"without it" in done.stderr:
                    continue
                assert done.returncode == 2, (kind, how, done.returncode, done.stderr)
                assert b"is an input and would be overwritten" in done.stderr, done.stderr
                after = contents(place)
                assert all(after[n] == c for n, c in before.items()), (kind, how)
                assert how != "symbolic link" or os.path.islink(os.path.join(place, name))


# ---- Names that are out to harm --------------------------------------------------

NAMES = ("\x1b[31mred\x1b]0;title\x07", "a\x08\x08\x08b", "bell\x07", "\x9b31m", "two\nlines", "cr\rover", "tab\there",
         "abc\u202egnp.exe", "\u2066isolate\u2069", "\u200fmark", "%s%n%99999d%p", "${HOME}`id`$(id)", "<b>&amp;</b>",
         "\ufefflate mark", "'; drop", "x" * 255, "../../etc/passwd", "\x7f", "e\u0301\u0301\u0301")


def csv_text(rows):
    out = io.StringIO()
    csv.writer(out, lineterminator="\n", quoting=csv.QUOTE_ALL).writerows(rows)
    return out.getvalue()


def job_of(place, name, suffix=""):
    """A job that has NAME in every column that takes text; the words for it."""
    write(place, "spans.csv", csv_text([["run", "span", "bay"], [name, 2400, name], [name, 2350, "2"],
                                        [name + "B" if len(name) < 250 else "B", 2300, name]]))
    write(place, "levels.csv", csv_text([["level", "section", "blocks", "block_length", "runs"],
                                         [name, name, 1, 150, "between"], ["top", name, "", "", ""]]))
    write(place, "stock.csv", csv_text([["section", "length", "price"], [name, "4.8", 20], ["other " + name[:200], 4, 2]]))
    write(place, "sections.csv", csv_text([["section", "description", "width", "thickness"], [name, name, 90, 45]]))
    write(place, "extras.csv", csv_text([["label", "section", "length", "quantity"], [name, name, 700, 2]]))
    write(place, "yards.csv", csv_text([["yard", "delivery", "description"], [name, 5, name]]))
    write(place, "fittings.csv", csv_text([["item", "per", "each", "price"], [name, "post", 2, "1.50"]]))
    write(place, "settings.csv", csv_text([["key", "value"], ["job", name]]))
    words = [os.path.join(place, "spans.csv")]
    for kind in ("levels", "stock", "sections", "extras", "yards", "fittings", "settings"):
        words += ["--" + kind, os.path.join(place, kind + ".csv")]
    return words


def expect_tame(text, what):
    shown = text.decode("utf-8")  # and that it is UTF-8
    found = ACTIVE.search(shown)
    assert found is None, (what, shown[max(0, found.start() - 40):found.start() + 40])


def test_names_in_every_column():
    for name in NAMES:
        with folder() as place:
            words = job_of(place, name)
            done = run("plan", *words, "-o", os.path.join(place, "out"))
            assert done.returncode == 0, (name, done.returncode, done.stderr)
            assert b"CUT LIST" in done.stdout
            expect_tame(done.stdout, name)
            expect_tame(done.stderr, name)
            checked = run("verify", *words, "--plan", os.path.join(place, "out"))
            assert checked.returncode == 0, (name, checked.returncode, checked.stdout, checked.stderr)
            expect_tame(checked.stdout + checked.stderr, name)
            with open(os.path.join(place, "out", "order.txt"), "rb") as file:
                expect_tame(file.read(), name)
            compared = run("compare", *words)
            assert compared.returncode == 0 and b"COMPARISON" in compared.stdout, (name, compared.stderr)
            expect_tame(compared.stdout + compared.stderr, name)
            compared = run("compare", *words, "--with", "4.8;" + name + "=9")
            assert compared.returncode == 2 and compared.stdout == b"", (name, compared.stdout)
            expect_tame(compared.stderr, name)


def test_names_in_faults():
    for name in NAMES:
        with folder() as place:
            words = job_of(place, name)
            for kind, rows in (("spans", [["run", "span", name], [name, name, name], [name, "1", ""]]),
                               ("levels", [["level", "section"], [name, "gone " + name[:200]], [name, name]]),
                               ("stock", [["section", "length", "per"], [name, name, name], [name, "", name]]),
                               ("extras", [["label", "section", "length"], [name, name, name], [name, name, "7x"]]),
                               ("settings", [["key", "value"], [name, name], ["kerf", name]])):
                path = os.path.join(place, kind + ".csv")
                with open(path, "rb") as file:
                    good = file.read()
                write(place, kind + ".csv", csv_text(rows))
                done = run("plan", *words)
                assert done.returncode in (1, 2), (name, kind, done.returncode, done.stderr)
                assert done.stdout == b"" and b"error: " in done.stderr
                expect_tame(done.stderr, (name, kind))
                write(place, kind + ".csv", good)


def test_names_of_files():
    names = [n for n in NAMES if "/" not in n and len(n) < 200 and "\x00" not in n]
    for raw in [n.encode() for n in names] + [b"\xff\xfe bad", b"\xc0\xaf", b"\xed\xa0\x80"]:
        with folder() as place:
            path = os.path.join(os.fsencode(place), raw + b".csv")
            try:
                with open(path, "wb") as file:
                    file.write(b"run,span\na,wide\n")
            except OSError:
                continue  # a file system that takes no such name
            out = os.path.join(os.fsencode(place), b"out" + raw)
            for words, status in (([b"plan", path], 1), ([b"plan", path + b"x"], 1),
                                  ([b"plan", FRONT.encode(), b"--levels", path], 1),
                                  ([b"verify", FRONT.encode(), b"--plan", path], 2),
                                  ([b"plan", FRONT.encode(), b"--" + raw], 2),
                                  ([b"plan", FRONT.encode(), b"--kerf", raw], 2), ([raw], 2),
                                  ([b"plan", FRONT.encode(), b"--csv", raw], 2),
                                  ([b"plan", FRONT.encode(), b"-o", path], 2),
                                  ([b"plan", FRONT.encode(), b"-o", out], 0)):
                done = run(*words)
                assert done.returncode == status, (words, done.returncode, done.stderr)
                expect_tame(done.stderr, words)
            assert set(TABLES) <= set(contents(os.fsdecode(out)))


def test_tables_on_a_terminal():
    with folder() as place:
        words = job_of(place, "\x1b[31mred\u202e")
        piped = run("plan", *words, "--csv", "cuts").stdout
        assert "\x1b[31mred\u202e".encode() in piped  # kept as written where a program reads it
        screen = Screen(["plan", *words, "--csv", "cuts"], columns=200, stderr=subprocess.DEVNULL)
        assert screen.status == 0
        expect_tame(screen.text.replace(b"\r", b""), "table")
        assert b"\\x1B[31mred\\xE2\\x80\\xAE" in screen.text, screen.text
        text = Screen(["plan", *words], env=environment(NO_COLOR="1")).text
        expect_tame(text.replace(b"\r", b""), "text")


FORMULAS = ("=1+1", "+1+1", "-1+1", "@SUM(1)", "=cmd|' /C calc'!A0", "'=1", "''=1", "-", "=", "+A1", "\"=1\"", "'",
            "=HYPERLINK(\"http://x\",\"y\")", "-2+3", "-5", "+7")


def test_formulas_are_defused():
    number = re.compile(r"-?[0-9]+(\.[0-9]+)?$")
    for name in FORMULAS:
        with folder() as place:
            words = job_of(place, name)
            out = os.path.join(place, "out")
            done = run("plan", *words, "-o", out)
            assert done.returncode == 0, (name, done.stderr)
            named = 0
            for table in TABLES[:4]:
                with open(os.path.join(out, table), encoding="utf-8", newline="") as file:
                    for row in csv.reader(file):
                        for cell in row:
                            named += name.lstrip("'") in cell
                            assert cell[:1] not in tuple("=+-@\t\r") or number.match(cell), (name, table, cell)
            assert named > 10, (name, named)
            # Read back, also by way of another table that is written of it.
            checked = run("verify", *words, "--plan", out)
            assert checked.returncode == 0, (name, checked.stdout, checked.stderr)


def test_formulas_survive_a_round_trip():
    for name in FORMULAS:
        with folder() as place:
            words = job_of(place, name)
            once = run("plan", *words, "--csv", "cuts").stdout
            # Labels and sections as the program wrote them, put in as extras.
            rows = list(csv.DictReader(once.decode().splitlines()))
            extras = [["label", "section", "length"]] + [[r["piece"], r["section"], r["cut_mm"]] for r in rows]
            write(place, "again.csv", csv_text(extras))
            done = run("plan", "--extras", os.path.join(place, "again.csv"), "--stock",
                       os.path.join(place, "stock.csv"), "--csv", "cuts")
            assert done.returncode == 0, (name, done.stderr)
            again = sorted(r["piece"] for r in csv.DictReader(done.stdout.decode().splitlines()))
            assert again == sorted(r["piece"] for r in rows), (name, again)


if __name__ == "__main__":
    sys.exit(run_tests(globals()))
