"""check_manners.py - what rows cannot say: full disks, closed pipes, terminals, files left alone
SPDX-License-Identifier: GPL-3.0-or-later
"""
import csv
import os
import random
import re
import signal
import subprocess
import sys
import tempfile

from terminal import Screen, environment, run, run_tests

TOP = os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
SAMPLES = os.path.join(TOP, "samples")
FRONT = os.path.join(SAMPLES, "front-fence", "spans.csv")


def is_undivided(name):
    """Are there stretches in the sample that only `posts` takes?"""
    with open(os.path.join(SAMPLES, name, "spans.csv"), encoding="utf-8") as spans:
        return "divide" in spans.readline()


def sample(name):
    """The command line of a sample: every file that is there."""
    folder = os.path.join(SAMPLES, name)
    words = ["posts" if is_undivided(name) else "plan", os.path.join(folder, "spans.csv")]
    for kind in ("levels", "stock", "sections", "extras", "yards", "fittings", "settings"):
        file = os.path.join(folder, kind + ".csv")
        if os.path.exists(file):
            words += ["--" + kind, file]
    return words


def sample_names(undivided=False):
    """Samples that `plan` takes, or that `posts` takes."""
    names = sorted(n for n in os.listdir(SAMPLES) if os.path.exists(os.path.join(SAMPLES, n, "spans.csv")))
    names = [n for n in names if is_undivided(n) == undivided]
    assert len(names) >= (2 if undivided else 4), names
    return names


def commands():
    """Names of the commands, as the program's help lists them."""
    listed = run("--help").stdout.decode().split("Commands:\n")[1].split("\n\n")[0]
    return [line.split()[0] for line in listed.splitlines()]


def test_help_fits_a_small_screen():
    assert "plan" in commands()
    for words in [["--help"]] + [[c, "--help"] for c in commands()]:
        lines = run(*words).stdout.decode().splitlines()
        assert 5 < len(lines) < 24, (words, len(lines))  # one line is left for the prompt
        assert max(map(len, lines)) <= 80, (words, max(lines, key=len))


def test_manual_has_every_option():
    with open(os.path.join(TOP, "cli", "spanwright.1"), encoding="utf-8") as page:
        manual = page.read().replace("\\-", "-")
    for command in commands():
        options = set(re.findall(r"--[a-z][a-z-]*", run(command, "--help").stdout.decode()))
        assert len(options) > (2 if command == "start" else 10), options
        missing = [o for o in options if not re.search(re.escape(o) + r"\b(?!-)", manual)]
        assert not missing, missing


def test_full_disk():
    for words in (["--help"], ["--version"], ["plan", "--help"], ["plan", FRONT], ["plan", FRONT, "--csv", "cuts"]):
        with open("/dev/full", "wb") as full:
            done = run(*words, stdout=full)
        assert done.returncode == 5, (words, done.returncode)
        assert done.stderr == b"error: cannot write to standard output: No space left on device\n", done.stderr


def test_closed_stdout():
    done = run("plan", FRONT, stdout=None, preexec_fn=lambda: os.close(1))
    assert done.returncode == 5, done.returncode
    assert b"cannot write to standard output" in done.stderr, done.stderr


def test_closed_stdout_leaves_files_whole():
    with tempfile.TemporaryDirectory() as folder:
        run("plan", FRONT, "-o", os.path.join(folder, "a"))
        run("plan", FRONT, "-o", os.path.join(folder, "b"), stdout=None, preexec_fn=lambda: os.close(1))
        written = [{os.path.relpath(path, os.path.join(folder, out)): content
                    for path, (content, _) in snapshot(os.path.join(folder, out)).items()} for out in "ab"]
        assert len(written[0]) > 5 and written[0] == written[1], [sorted(files) for files in written]


def broken_pipe(disposition):
    read_end, write_end = os.pipe()
    os.close(read_end)
    try:
        return run("plan", FRONT, stdout=write_end, restore_signals=False,
                   preexec_fn=lambda: signal.signal(signal.SIGPIPE, disposition))
    finally:
        os.close(write_end)


def test_broken_pipe_is_a_quiet_death():
    done = broken_pipe(signal.SIG_DFL)
    assert done.returncode == -signal.SIGPIPE, done.returncode
    assert done.stderr == b"", done.stderr


def test_broken_pipe_that_is_ignored_is_said():
    done = broken_pipe(signal.SIG_IGN)
    assert done.returncode == 5, done.returncode
    assert done.stderr == b"error: cannot write to standard output: Broken pipe\n", done.stderr


def test_colour_only_on_a_terminal():
    wrong = ["plan", FRONT, "--kref=3"]
    assert b"\x1b[" in Screen(wrong).text
    assert Screen(wrong).text.startswith(b"\x1b[1;31merror:\x1b[0m unknown option")
    plain = b"error: unknown option '--kref'; did you mean --kerf?"
    for looks in ({"NO_COLOR": "1"}, {"TERM": "dumb"}):
        assert Screen(wrong, env=environment(**looks)).text == plain + b"\r\n", looks
    assert Screen(wrong, env=environment(NO_COLOR="")).text.startswith(b"\x1b[")  # empty: as if not set
    assert run(*wrong).stderr == plain + b"\n"


def test_warnings_are_said_again_below_the_plan():
    thin = ["--kerf", "0.003", "--post-width", "70"]
    first = b"warning: --kerf: is taken for 0.003 mm"
    second = b"warning: --post-width: two rails that join on posts 2-8"
    plain = environment(NO_COLOR="1")
    for words, end in ((["plan", FRONT, *thin], b"CARE"), (["compare", FRONT, *thin], b"PROOF")):
        text = Screen(words, env=plain).text.replace(b"\r\n", b"\n")
        above, below = text.split(end)
        for part in (above, below):
            assert part.count(first) == 1 and part.count(second) == 1, (words, text)
        # Of plan the order comes after them.
        block = below[below.index(b"\n2 warnings, as told at the start:\n"):].split(b"\nORDER\n")[0]
        assert block.index(first) < block.index(second), block
        assert block.count(b"\n") == 4 and block.endswith(b"\n"), block
        # Not in a file or a pipe, where nothing moves out of sight.
        done = run(*words)
        assert done.stderr.count(first) == 1 and done.stderr.count(b"as told") == 0, done.stderr
        assert done.stdout.count(b"warning") == 0, done.stdout
    one = Screen(["plan", FRONT, "--kerf", "0.003"]).text
    assert b"\n1 warning, as told at the start:\r\n\x1b[33mwarning:\x1b[0m --kerf: is taken" in one, one
    # The program's own warning too; where there is none, or no plan, nothing is added.
    late = Screen(["plan", FRONT, "--time-limit", "0"], env=plain).text
    assert late.count(b"warning: the time limit came first") == 2, late
    assert b"as told" not in Screen(["plan", FRONT], env=plain).text
    assert b"as told" not in Screen(["plan", FRONT, *thin, "--max-piece", "2.3m"], env=plain).text


def test_order_is_the_last_thing_on_a_terminal():
    lines = b"\nORDER\n  Plan %s\n  rail: 7/4.8, 1/5.4                                                     39.0 lm\n"
    for more in ([], ["--kerf", "0.003"]):
        mark = re.search(rb"\n  Plan ([0-9A-HJKMNP-TV-Z]{4}-[0-9A-HJKMNP-TV-Z]{3})\n", run("plan", FRONT, *more).stdout)
        block = lines % mark.group(1)
        text = b"\n" + Screen(["plan", FRONT, *more], env=environment(NO_COLOR="1")).text.replace(b"\r\n", b"\n")
        assert text.count(b"\nORDER\n") == 2 and text.count(block) == 2, text
        assert text.endswith(b"\n" + block) and text.count(b"\nTIMBER\n") == 1, text
        # Whatever stderr is; and never twice where it goes into a file, nor beside a table.
        with tempfile.TemporaryFile() as remarks:
            apart = b"\n" + Screen(["plan", FRONT, *more], stderr=remarks).text.replace(b"\r\n", b"\n")
        assert apart.count(block) == 2 and apart.endswith(b"\n" + block), apart
        assert (b"\n" + run("plan", FRONT, *more).stdout).count(block) == 1
        assert b"ORDER" not in Screen(["plan", FRONT, *more, "--csv", "order"]).text


def test_warnings_go_with_the_order():
    with tempfile.TemporaryDirectory() as folder:
        out = os.path.join(folder, "out")
        assert run("plan", FRONT, "--kerf", "0.003", "--post-width", "70", "-o", out).returncode == 0
        with open(os.path.join(out, "order.txt"), encoding="utf-8") as file:
            order = file.read()
        assert "\nLook at this before the order goes out, and take it off:\n- --kerf: is taken for 0.003 mm" in order, order
        # The warning of the posts does not bear on what is bought.
        assert "post-width" not in order and order.count("bear as little") == 0, order
        assert run("plan", FRONT, "-o", out).returncode == 0
        with open(os.path.join(out, "order.txt"), encoding="utf-8") as file:
            assert "Look at this" not in file.read()


def widest(text):
    return max(len(line) for line in text.decode().replace("\r", "").splitlines())


def test_width():
    words = sample("homestead")
    usual = run(*words).stdout
    assert 70 < widest(usual) <= 80, widest(usual)
    assert widest(run(*words, env=environment(COLUMNS="75")).stdout) <= 75
    # No narrower than 40, however small the screen says it is.
    assert run(*words, env=environment(COLUMNS="5")).stdout == run(*words, env=environment(COLUMNS="40")).stdout
    for nonsense in ("", "wide", "0", "80x", "99999999999999999999"):
        assert run(*words, env=environment(COLUMNS=nonsense)).stdout == usual, nonsense
    narrow = Screen(words, columns=75, stderr=subprocess.DEVNULL)
    assert narrow.status == 0
    shown, usual = narrow.text.replace(b"\r\n", b"\n"), run(*words, env=environment(COLUMNS="75")).stdout
    assert shown.startswith(usual + b"\nORDER\n") and widest(shown) <= 75, shown
    assert usual.startswith(shown[len(usual) + 1:]), shown


def test_samples_twice_the_same():
    for name in sample_names():
        for more in ([], ["--csv", "order"], ["--csv", "cuts"], ["--csv", "fit"], ["--csv", "setout"]):
            first, second = run(*sample(name), *more), run(*sample(name), *more)
            assert first.returncode == 0, (name, more, first.stderr)
            assert len(first.stdout) > 50, (name, more)
            assert first.stdout == second.stdout and first.stderr == second.stderr, (name, more)


def test_divided_samples_twice_the_same():
    with tempfile.TemporaryDirectory() as folder:
        for name in sample_names(undivided=True):
            out = os.path.join(folder, name)
            first, second = run(*sample(name), "-o", out), run(*sample(name))
            assert first.returncode == 0, (name, first.stderr)
            said = [line for line in first.stderr.splitlines(keepends=True) if not line.endswith(b"was built without it\n")]
            assert first.stdout == second.stdout and b"".join(said) == second.stderr, name
            for table in ("order", "cuts", "fit", "setout", "pegs", "spans"):
                with open(os.path.join(out, table + ".csv"), "rb") as file:
                    written = file.read()
                assert written == run(*sample(name), "--csv", table).stdout, (name, table)


def test_files_are_what_csv_prints():
    with tempfile.TemporaryDirectory() as folder:
        for name in sample_names():
            out = os.path.join(folder, name)
            assert run(*sample(name), "-o", out).returncode == 0, name
            for table in ("order", "cuts", "fit", "setout"):
                with open(os.path.join(out, table + ".csv"), "rb") as file:
                    written = file.read()
                assert written == run(*sample(name), "--csv", table).stdout, (name, table)


def snapshot(folder):
    """Every file below FOLDER with its content and time of change."""
    found = {}
    for where, _, names in os.walk(folder):
        for name in names:
            path = os.path.join(where, name)
            with open(path, "rb") as file:
                found[path] = (file.read(), os.stat(path).st_mtime_ns)
    return found


def test_files_are_left_alone_on_rejection():
    with tempfile.TemporaryDirectory() as folder:
        out = os.path.join(folder, "out")
        assert run("plan", FRONT, "-o", out).returncode == 0
        before = snapshot(folder)
        assert len(before) >= 4, before
        wrong = os.path.join(folder, "wrong.csv")
        too_long = os.path.join(folder, "long.csv")
        with open(wrong, "w", encoding="utf-8") as file:
            file.write("run,span\nfront,2400\nfront,wide\n")
        with open(too_long, "w", encoding="utf-8") as file:
            file.write("run,span\nfront,2400\nfront,7000\n")
        before = snapshot(folder)
        for words, status in ((["plan", wrong], 1), (["plan", too_long], 3), (["plan", FRONT, "--kref", "3"], 2),
                              (["plan", os.path.join(folder, "none.csv")], 1),
                              (["plan", FRONT, "--time-limit", "never"], 2)):
            for place in (out, os.path.join(folder, "new")):
                done = run(*words, "-o", place)
                assert done.returncode == status, (words, done.returncode, done.stderr)
                assert done.stdout == b"", (words, done.stdout)
                assert snapshot(folder) == before, words


def test_folder_that_cannot_be():
    done = run("plan", FRONT, "-o", "/dev/null/plan")
    assert done.returncode == 5, done.returncode
    assert done.stderr.startswith(b"error: ") and b"/dev/null/plan" in done.stderr, done.stderr
    # The plan was found all the same.
    assert done.stdout == run("plan", FRONT).stdout


def test_command_line_wins_over_settings_file():
    with tempfile.TemporaryDirectory() as folder:
        settings = os.path.join(folder, "settings.csv")
        with open(settings, "w", encoding="utf-8") as file:
            file.write("key,value\nkerf,20\nstock-length,6.0\n")
        cuts = ["plan", FRONT, "--csv", "cuts"]
        from_file = run(*cuts, "--settings", settings).stdout
        assert from_file == run(*cuts, "--kerf", "20", "--stock-length", "6.0").stdout
        assert from_file != run(*cuts, "--stock-length", "6.0").stdout
        # Wherever it stands.
        mixed = run(*cuts, "--stock-length", "6.0", "--kerf", "3").stdout
        assert run(*cuts, "--kerf", "3", "--settings", settings).stdout == mixed
        assert run(*cuts, "--settings", settings, "--kerf", "3").stdout == mixed


def long_job(folder):
    """A job that takes longer than the second after which progress is shown, however fast the solver: 3000 bays of
    three rails, hardly two of them alike, and no easy exits."""
    file = os.path.join(folder, "long.csv")
    draw = random.Random(1)
    with open(file, "w", encoding="utf-8") as spans:
        spans.write("run,span\n")
        for bay in range(3000):
            spans.write(f"run {bay // 50},{draw.randint(1200, 3000)}\n")
    return ["plan", file, "--rails", "3", "--hard-way"]


PLAN_FILES = {"order.csv", "cuts.csv", "fit.csv", "setout.csv", "order.txt", "page.html", "job"}


def test_stopped_by_a_signal():
    for number in (signal.SIGINT, signal.SIGTERM):
        with tempfile.TemporaryDirectory() as folder:
            out = os.path.join(folder, "out")
            with open(os.path.join(folder, "stdout"), "w+b") as stdout:
                screen = Screen(long_job(folder) + ["-o", out, "--csv", "fit"], stdout=stdout,
                                when_seen=[(b"planning:", number)])
                stdout.seek(0)
                printed = stdout.read()
            assert screen.status == -number, (screen.status, screen.text[-300:])
            # The line of progress is wiped before anything is said.
            progress, _, said = screen.text.rpartition(b"\r\x1b[K")
            assert b"planning: looking for " in progress and b"bound" not in progress, screen.text[-300:]
            assert b"planning:" in progress and b"planning:" not in said, screen.text[-300:]
            assert b"stopped by a signal: best plan so far" in said, said
            # A whole plan: every bay of every rail once.
            bays = sum(int(row["bays"]) for row in csv.DictReader(printed.decode().splitlines()))
            assert bays == 3000 * 3, bays
            # Whole files, and nothing half-made beside them.
            assert PLAN_FILES <= set(os.listdir(out)), os.listdir(out)
            assert {n for n in os.listdir(out) if not n.startswith(("sheet", "plan."))} == PLAN_FILES, os.listdir(out)
            with open(os.path.join(out, "fit.csv"), "rb") as file:
                assert file.read() == printed


def test_ignored_signal_stays_ignored():
    """As nohup, and a shell that runs a job in the background, want it."""
    with tempfile.TemporaryDirectory() as folder:
        with open(os.path.join(folder, "stdout"), "w+b") as stdout:
            screen = Screen(long_job(folder) + ["--csv", "fit"], stdout=stdout,
                            before=lambda: signal.signal(signal.SIGINT, signal.SIG_IGN),
                            when_seen=[(b"planning:", signal.SIGINT), (b"planning:", signal.SIGTERM)])
    # Planning went on after the first signal, or the second would never have been sent.
    assert screen.status == -signal.SIGTERM, (screen.status, screen.text[-300:])


def test_progress_only_on_a_terminal():
    with tempfile.TemporaryDirectory() as folder:
        words = long_job(folder) + ["--time-limit", "2", "--csv", "order"]
        done = run(*words)
        assert done.returncode == 0, (done.returncode, done.stderr)
        assert b"planning:" not in done.stderr and b"\x1b" not in done.stderr, done.stderr
        assert b"planning:" in Screen(words).text


def test_progress_is_cut_between_words():
    with tempfile.TemporaryDirectory() as folder:
        words = long_job(folder) + ["--time-limit", "2", "--csv", "order"]
        for columns in (40, 48):
            lines = Screen(words, columns=columns).text.rpartition(b"\r\x1b[K")[0].split(b"\r\x1b[K")[1:]
            assert lines and max(map(len, lines)) < columns, lines
            for line in lines:
                assert re.fullmatch(rb"planning: looking for( [a-z]+)+( \d+\.\d\d)?( \(.*\))?(, \d+ s( left)?)?", line), line


if __name__ == "__main__":
    sys.exit(run_tests(globals()))
