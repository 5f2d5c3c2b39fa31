"""check_papers.py - a plan's folder: one writer at a time, and what is left of a plan whose sheet comes to nothing
SPDX-License-Identifier: GPL-3.0-or-later
"""
import csv
import fcntl
import os
import resource
import signal
import stat
import subprocess
import sys

from check_faults import OTHER, TABLES, contents, folder, hidden, limited, write
from check_manners import FRONT, sample, sample_names
from terminal import PROGRAM, environment, heed_signals, run, run_tests



def draws():
    """Was the program built with the sheet?"""
    with folder() as place:
        return b"built without it" not in run("plan", FRONT, "-o", place).stderr


DRAWS = draws()


def many_runs(place, count=2600):
    """A job that is planned at once and prints more than a pipe holds."""
    file = write(place, "many.csv", "run,span\n" + "".join(f"run {n},2400\n" for n in range(count)))
    return ["plan", file]


class Printing:
    """The program, held up in the middle of printing by a pipe that is full."""

    def __init__(self, *words, **options):
        options.setdefault("preexec_fn", heed_signals)
        reads, writes = os.pipe()
        # What is printed has limits of its own: the pipe is made smaller than that.
        fcntl.fcntl(writes, fcntl.F_SETPIPE_SZ, 4096)
        self.child = subprocess.Popen([PROGRAM, *words], stdin=subprocess.DEVNULL, stdout=writes,
                                      stderr=subprocess.PIPE, bufsize=0, env=environment(), **options)
        os.close(writes)
        self.child.stdout = os.fdopen(reads, "rb", buffering=0)
        self.first = self.child.stdout.read(1)

    def end(self):
        """Read on; (status, stdout, stderr)."""
        out, err = self.child.communicate()
        return self.child.returncode, self.first + out, err


# ---- While the sheet is drawn ---------------------------------------------------


def test_signal_before_the_sheet_is_drawn():
    for number in (signal.SIGINT, signal.SIGTERM):
        for more in ([], ["--svg"]):
            if more and not DRAWS:
                continue
            with folder() as place:
                out = os.path.join(place, "out")
                words = many_runs(place)
                wanted = run(*words).stdout
                assert len(wanted) > 8192, len(wanted)
                assert run(*OTHER, "-o", out).returncode == 0
                program = Printing(*words, "-o", out, *more)
                # The tables are written, and the program waits for us to read.
                program.child.send_signal(number)
                status, printed, said = program.end()
                assert status == -number, (status, said)
                assert printed == wanted
                now = contents(out)
                assert set(now) == {*TABLES, "page.html"}, set(now)
                assert now["fit.csv"] == run(*words, "--csv", "fit").stdout
                assert hidden(out) == [], hidden(out)
                if DRAWS:
                    assert b"stopped by a signal: no sheet is drawn" in said, said
                    assert b"sheet.pdf: the older sheet is removed" in said, said


def test_death_of_the_drawing_leaves_the_plan():
    """GLib and the stack's end take the whole program along."""
    wanted = run("plan", FRONT).stdout
    limits = [(resource.RLIMIT_STACK, kilobytes << 10) for kilobytes in (32, 64)]
    limits += [(resource.RLIMIT_AS, megabytes << 20) for megabytes in (36, 44, 52, 60, 70, 80)]
    died = 0
    for kind, size in limits:
        def least(kind=kind, size=size):
            resource.setrlimit(kind, (size, size))
            # Pango may wait for ever for a thread that memory ran out in.
            signal.alarm(20)
        if run("plan", FRONT, env={}, preexec_fn=least).returncode != 0:
            continue  # not even the plan is printed: sanitizers need more
        with folder() as place:
            out = os.path.join(place, "out")
            assert run(*OTHER, "-o", out).returncode == 0
            done = run("plan", FRONT, "-o", out, env={}, preexec_fn=least)
            assert done.stdout == wanted, (kind, size, done.returncode, done.stderr)
            now = contents(out)
            assert set(TABLES) <= set(now) and hidden(out) == [], os.listdir(out)
            assert (done.returncode == 0 and DRAWS) == ("sheet.pdf" in now), (kind, size, done.returncode)
            died += done.returncode < 0
    if died == 0:
        print("not here: a limit at which only the drawing dies")


def test_sheet_that_fails_leaves_no_older_one():
    if not DRAWS:
        return
    with folder() as place:
        out = os.path.join(place, "out")
        assert run("plan", FRONT, "-o", out, "--svg").returncode == 0
        before = contents(out)
        largest = max(len(before[name]) for name in TABLES)
        assert largest + 1 < len(before["sheet.pdf"])
        assert run(*OTHER, "-o", out, "--svg").returncode == 0
        done = limited(out, largest + 1)
        assert done.returncode == 5, (done.returncode, done.stderr)
        assert b"sheet.pdf: cannot be written: File too large" in done.stderr, done.stderr
        assert b"note: " + os.fsencode(out) + b"/sheet.pdf: the older sheet is removed" in done.stderr, done.stderr
        # Nor does the page, which was too large as well.
        assert b"page.html: cannot be written: File too large" in done.stderr, done.stderr
        assert b"note: " + os.fsencode(out) + b"/page.html: the older page is removed" in done.stderr, done.stderr
        assert contents(out) == {name: before[name] for name in TABLES}, os.listdir(out)
        assert hidden(out) == [], os.listdir(out)
        assert done.stdout == run("plan", FRONT).stdout


def test_reader_that_goes_away_does_not_cost_the_sheet():
    with folder() as place:
        words = many_runs(place)
        assert run(*words, "-o", os.path.join(place, "whole")).returncode == 0
        program = Printing(*words, "-o", os.path.join(place, "out"))
        program.child.stdout.close()
        said = program.child.stderr.read()
        assert program.child.wait() == -signal.SIGPIPE
        assert b"error" not in said, said
        assert contents(os.path.join(place, "out")) == contents(os.path.join(place, "whole"))


def test_no_more_pages_than_are_leafed_through():
    if not DRAWS:
        return
    with folder() as place:
        done = run(*many_runs(place, 8000), "-o", os.path.join(place, "out"))
        assert done.returncode == 0, done.stderr
        assert b'first 500 pages of "Runs" and no more: all of it is in fit.csv and setout.csv\n' in done.stderr, done.stderr
        assert done.stderr.count(b"warning: ") == 1, done.stderr
        # A job that is not so large is drawn whole.
        done = run(*many_runs(place, 60), "-o", os.path.join(place, "out"))
        assert b"pages of" not in done.stderr, done.stderr


# ---- Two writers ----------------------------------------------------------------


def test_folder_that_another_writes_to():
    with folder() as place:
        out = os.path.join(place, "out")
        words = many_runs(place)
        assert run(*words, "-o", os.path.join(place, "alone")).returncode == 0
        first = Printing(*words, "-o", out)
        held = contents(out)
        second = run("plan", FRONT, "-o", out)
        assert second.returncode == 5, (second.returncode, second.stderr)
        assert second.stderr.startswith(b"error: " + os.fsencode(out) + b": another run is writing to this directory"), \
            second.stderr
        # The plan was found all the same.
        assert second.stdout == run("plan", FRONT).stdout
        assert contents(out) == held and hidden(out) == [], os.listdir(out)
        status, _, said = first.end()
        assert status == 0, said
        assert contents(out) == contents(os.path.join(place, "alone"))
        # It is free again.
        assert run("plan", FRONT, "-o", out).returncode == 0


def test_lock_of_one_that_was_killed():
    with folder() as place:
        out = os.path.join(place, "out")
        first = Printing("plan", write(place, "long.csv", "run,span\n" + "".join(f"r{n},2400\n" for n in range(2600))),
                         "-o", out)
        first.child.kill()
        assert first.end()[0] == -signal.SIGKILL
        assert run("plan", os.path.join(place, "long.csv"), "-o", out).returncode == 0
        assert hidden(out) == [], os.listdir(out)


def test_start_in_a_folder_that_another_writes_to():
    with folder() as place:
        holder = os.open(place, os.O_RDONLY | os.O_DIRECTORY)
        fcntl.flock(holder, fcntl.LOCK_EX)
        done = run("start", place)
        assert done.returncode == 5 and b"another run is writing" in done.stderr, (done.returncode, done.stderr)
        assert os.listdir(place) == []
        os.close(holder)
        assert run("start", place).returncode == 0


# ---- Fingerprint ----------------------------------------------------------------


def fingerprint(out):
    """Of the tables in OUT: the figure that cksum(1) prints of their cells, five bits a character."""
    cells = ""
    for name in ("order", "cuts", "fit", "setout"):
        with open(os.path.join(out, name + ".csv"), encoding="utf-8", newline="") as file:
            rows = list(csv.reader(file))
        cells += "\n".join("".join(cell + "\x1f" for cell in row) for row in rows) + "\n"
    figure = int(subprocess.run(["cksum"], input=cells.encode(), stdout=subprocess.PIPE, check=True).stdout.split()[0])
    letters = "".join("0123456789ABCDEFGHJKMNPQRSTVWXYZ"[figure >> shift & 31] for shift in range(30, -1, -5))
    return f"{letters[:4]}-{letters[4:]}"


def test_fingerprint_of_the_tables():
    found = {}
    with folder() as place:
        for name in sample_names():
            for more in ([], ["--kerf", "4"]):
                out = os.path.join(place, "out")
                done = run(*sample(name), *more, "-o", out)
                with open(os.path.join(out, "order.txt"), encoding="utf-8") as file:
                    order = file.read()
                mark = fingerprint(out)
                assert f"\nPlan {mark}\n" in order, (name, mark, order)
                assert f"\n  Plan {mark}\n" in done.stdout.decode(), (name, mark)
                # The date is no part of it, nor is what is between the cells.
                again = run(*sample(name), *more, "--date", "3 March", "--csv-style", "semicolon").stdout.decode()
                assert f"\n  Plan {mark}, 3 March\n" in again, (name, mark, again)
                assert mark not in found, (name, more, found[mark])
                found[mark] = (name, more)


# ---- Modes ----------------------------------------------------------------------


def test_replaced_files_keep_their_mode():
    with folder() as place:
        out = os.path.join(place, "out")
        assert run(*OTHER, "-o", out, *(["--svg"] if DRAWS else [])).returncode == 0
        before = contents(out)
        modes = {}
        for number, name in enumerate(sorted(before)):
            modes[name] = (0o600, 0o640, 0o444, 0o664)[number % 4]
            os.chmod(os.path.join(out, name), modes[name])
        kept = os.path.join(out, "job", "settings.csv")
        os.chmod(kept, 0o600)
        # A link is not the file: its mode is that of another's.
        os.unlink(os.path.join(out, "setout.csv"))
        os.symlink(write(place, "aim", ""), os.path.join(out, "setout.csv"))
        os.chmod(os.path.join(place, "aim"), 0o600)
        assert run("plan", FRONT, "--kerf", "4", "-o", out, *(["--svg"] if DRAWS else []),
                   preexec_fn=lambda: os.umask(0o022)).returncode == 0
        now = contents(out)
        assert all(now[name] != before[name] for name in now), "the plans do not differ"
        for name in now:
            wanted = 0o644 if name == "setout.csv" else modes[name]
            mode = stat.S_IMODE(os.stat(os.path.join(out, name)).st_mode)
            assert mode == wanted, (name, oct(mode), oct(wanted))
        assert stat.S_IMODE(os.stat(kept).st_mode) == 0o600


if __name__ == "__main__":
    sys.exit(run_tests(globals()))
