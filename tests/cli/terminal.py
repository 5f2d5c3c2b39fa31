"""terminal.py - run the program on a terminal of our own
SPDX-License-Identifier: GPL-3.0-or-later
"""
import fcntl
import os
import pty
import select
import signal
import struct
import subprocess
import termios

PROGRAM = os.environ["SPANWRIGHT"]
HANGS = 600  # seconds; no test waits that long unless the program never ends


def environment(**changes):
    """Ours, without what steers the program's looks, plus CHANGES."""
    clean = {k: v for k, v in os.environ.items() if k not in ("COLUMNS", "NO_COLOR")}
    clean["TERM"] = "xterm"
    clean.update(changes)
    return clean


def heed_signals():
    """In the child: whoever started the tests in the background may have had these ignored, and that is handed down."""
    for number in (signal.SIGINT, signal.SIGTERM):
        signal.signal(number, signal.SIG_DFL)


def run(*words, **options):
    """Run it on pipes (or what OPTIONS say)."""
    options.setdefault("stdout", subprocess.PIPE)
    options.setdefault("stderr", subprocess.PIPE)
    options.setdefault("env", environment())
    options.setdefault("preexec_fn", heed_signals)
    return subprocess.run([PROGRAM, *words], stdin=subprocess.DEVNULL, timeout=HANGS, check=False, **options)


class Screen:
    """What was written to the terminal, and how the program ended."""

    def __init__(self, words, columns=80, env=None, stdout=None, stderr=None, when_seen=(), before=heed_signals):
        """STDOUT, STDERR: None is the terminal.  WHEN_SEEN: pairs of bytes and a signal that is sent when they have
        come, one after the other.  BEFORE: called in the child before the program takes its place."""
        ours, theirs = pty.openpty()
        fcntl.ioctl(theirs, termios.TIOCSWINSZ, struct.pack("HHHH", 24, columns, 0, 0))
        self.text = b""
        waited = list(when_seen)
        looked_at = 0
        child = subprocess.Popen([PROGRAM, *words], stdin=subprocess.DEVNULL, env=env or environment(),
                                 preexec_fn=before,
                                 stdout=theirs if stdout is None else stdout,
                                 stderr=theirs if stderr is None else stderr)
        os.close(theirs)
        while select.select([ours], [], [], HANGS)[0]:
            try:
                some = os.read(ours, 4096)
            except OSError:  # the last writer has gone
                break
            self.text += some
            if waited and waited[0][0] in self.text[looked_at:]:
                child.send_signal(waited.pop(0)[1])
                looked_at = len(self.text)
        os.close(ours)
        self.status = child.wait(timeout=HANGS)


def run_tests(names):
    """Run every test_ function of NAMES; say which failed; the exit status."""
    passed = failed = 0
    for name, test in sorted(names.items()):
        if not name.startswith("test_"):
            continue
        try:
            test()
            passed += 1
        except Exception as fault:  # a broken test is a failed one
            failed += 1
            print(f"FAILED {name}: {type(fault).__name__}: {fault}")
    print(f"{passed} passed, {failed} failed")
    return 0 if failed == 0 and passed > 0 else 1
