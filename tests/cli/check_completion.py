"""check_completion.py - what bash offers when the Tab key is pressed
SPDX-License-Identifier: GPL-3.0-or-later
"""
import os
import pty
import re
import select
import shutil
import subprocess
import sys
import tempfile

from terminal import HANGS, PROGRAM, environment, run, run_tests

TOP = os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
SCRIPT = os.path.join(TOP, "cli", "completion", "spanwright")
BASH = shutil.which("bash")


def offered(*words, folder="/"):
    """What is offered for the last of WORDS, the others standing before it."""
    # As readline splits them: "=" is a word of its own.
    split = [part for word in words for part in re.split("(=)", word) if part or not word]
    code = ('source "$1"; program=$2; shift 2; COMP_WORDS=(spanwright "$@"); COMP_CWORD=$#; '
            '_spanwright "$program" "${COMP_WORDS[COMP_CWORD]}" "${COMP_WORDS[COMP_CWORD - 1]}"; '
            'printf "%s\\n" "${COMPREPLY[@]}"')
    done = subprocess.run([BASH, "--norc", "-c", code, "bash", SCRIPT, PROGRAM, *split], cwd=folder, check=True,
                          capture_output=True, timeout=HANGS, env=environment())
    assert done.stderr == b"", done.stderr
    return [line for line in done.stdout.decode().split("\n") if line]


def commands():
    return re.findall(r"^  ([a-z]+) ", run("--help").stdout.decode().split("Commands:")[1].split("\n\n")[0], re.M)


def helps():
    """Each command with what its --help says."""
    found = commands()
    assert "plan" in found and "verify" in found, found
    return [(command, run(command, "--help").stdout.decode()) for command in found]


def test_commands():
    assert sorted(offered("")) == sorted(commands() + ["--help", "--version"])
    assert offered("ver") == ["verify"]
    assert offered("--v") == ["--version"]


def test_every_option():
    for command, text in helps():
        options = sorted(set(re.findall(r"--[a-z][a-z-]*", text)))
        assert len(options) > (20 if "[SPANS.csv" in text else 2), options
        assert sorted(offered(command, "--")) == options, command
        assert not [o for o in options if "hard-way" in o], options
        for option in options:
            assert option in offered(command, option[:-1]), (command, option)


def test_manual_names_what_is_offered():
    """The manual is written by hand: what it says and what is offered must be the same."""
    with open(os.path.join(TOP, "cli", "spanwright.1"), encoding="utf-8") as page:
        text = page.read().split(".SH OPTIONS")[1].split(".SH OUTPUT")[0].replace("\\-", "-")
    named = set(re.findall(r"^\.B[IR]* .*?(--[a-z][a-z-]*)", text, re.M))
    shown = {option for command, _ in helps() for option in offered(command, "--")}
    assert len(named) > 20 and named == shown, named ^ shown


def test_words():
    for command, text in helps():
        choices = re.findall(r"(--[a-z-]+) ([a-z0-9]+(?:\|[a-z0-9]+)+)", text)
        assert len(choices) >= (3 if "[SPANS.csv" in text else 1), choices
        for option, words in choices:
            assert offered(command, option, "") == words.split("|"), option
            assert offered(command, option + "=") == words.split("|"), option
            first = words.split("|")[0]
            assert first in offered(command, option + "=" + first[:2]), option
    assert offered("plan", "--csv", "se") == ["setout"]


def test_files():
    with tempfile.TemporaryDirectory() as folder:
        for name in ("spans.csv", "front fence.CSV", "sheet.pdf", "notes.txt"):
            with open(os.path.join(folder, name), "w", encoding="utf-8"):
                pass
        os.mkdir(os.path.join(folder, "plan a"))
        tables = ["front fence.CSV", "plan a", "spans.csv"]
        for words in ([""], ["--stock", ""], ["--stock="], ["--inches", ""], ["-h", ""], ["--", ""]):
            assert sorted(offered("plan", *words, folder=folder)) == tables, words
        assert offered("plan", "--levels", "sp", folder=folder) == ["spans.csv"]
        for words in (["plan", "-o", ""], ["plan", "--out", ""], ["verify", "--plan", ""], ["verify", "--plan="]):
            assert offered(*words, folder=folder) == ["plan a"], words
        # A job to begin goes into a folder.
        for words in (["start", ""], ["start", "--inches", ""], ["start", "--", ""]):
            assert offered(*words, folder=folder) == ["plan a"], words
        # A number or a name of one's own: nothing to offer, least of all a file.
        for words in (["--kerf", ""], ["--job", ""], ["--time-limit="]):
            assert offered("plan", *words, folder=folder) == [], words


def test_nonsense():
    assert offered("plank", "") == []
    assert offered("--help", "") == []
    assert offered("plan", "--wobble") == []


def test_at_a_prompt():
    """In an interactive shell, by the Tab key."""
    with tempfile.TemporaryDirectory() as folder:
        os.symlink(PROGRAM, os.path.join(folder, "spanwright"))
        settings = environment(PATH=folder + os.pathsep + os.environ["PATH"], PS1="ready>", TERM="dumb", INPUTRC="/dev/null",
                               HISTFILE="/dev/null")
        ours, theirs = pty.openpty()
        child = subprocess.Popen([BASH, "--norc", "--noprofile", "-i"], stdin=theirs, stdout=theirs, stderr=theirs,
                                 env=settings, start_new_session=True)
        os.close(theirs)
        try:
            seen = b""
            steps = [(b"ready>", f"source '{SCRIPT}'\n".encode()), (b"ready>", b"spanwright plan --stag\t"),
                     (b"--stagger ", b"req\t"), (b"require ", b"\x03")]
            for wanted, keys in steps:
                while wanted not in seen:
                    assert select.select([ours], [], [], 60)[0], seen
                    seen += os.read(ours, 4096)
                seen = b""
                os.write(ours, keys)
        finally:
            child.kill()
            child.wait(timeout=HANGS)
            os.close(ours)


if __name__ == "__main__":
    if BASH is None:
        print("SKIPPED: bash is not installed, so its completion was NOT tested")
        sys.exit(77)
    sys.exit(run_tests(globals()))
