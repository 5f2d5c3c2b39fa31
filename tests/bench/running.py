# running.py - run one program at a time, with what it used; the machine it ran on
# SPDX-License-Identifier: GPL-3.0-or-later
"""Every figure of the bench is of one process that runs alone, started here."""

import os
import subprocess
import sys
import tempfile
import time
from dataclasses import dataclass, field

NANO, MICRO = 1e9, 1e6
GRACE = 120     # seconds after its limit at which a program is ended


@dataclass
class Ended:
    """A process that has ended."""
    status: int         # exit status, negative: died of this signal
    output: str         # stdout and stderr
    wall: float         # seconds
    cpu: float          # user and system, children that it waited for included
    peak: int           # KiB, seen every 20 ms


def run(command, limit=None, folder=None):
    """Run COMMAND; end it where it takes more than LIMIT seconds elapsed (its own limit should come first)."""
    with tempfile.TemporaryFile() as output:
        began = time.monotonic()
        process = subprocess.Popen(command, stdin=subprocess.DEVNULL, stdout=output, stderr=subprocess.STDOUT,
                                   cwd=folder)
        ended, status, usage, peak = 0, 0, None, 0
        pause = 0.001
        while True:
            ended, status, usage = os.wait4(process.pid, os.WNOHANG)
            if ended:
                break
            peak = max(peak, peak_of(process.pid))
            if limit is not None and time.monotonic() - began > limit:
                process.kill()
                limit = None
            time.sleep(pause)
            pause = min(pause * 1.5, 0.02)
        wall = time.monotonic() - began
        process.returncode = os.waitstatus_to_exitcode(status)
        output.seek(0)
        text = output.read().decode(errors="replace")
    return Ended(process.returncode, text, wall, usage.ru_utime + usage.ru_stime, peak)


def peak_of(pid):
    """Most KiB of a running process so far; wait4 would count this interpreter, which started it."""
    try:
        with open("/proc/%d/status" % pid, encoding="ascii", errors="replace") as file:
            for line in file:
                if line.startswith("VmHWM:"):
                    return int(line.split()[1])
    except OSError:
        pass
    return 0


@dataclass
class Planned:
    """What tests/bench/drive told of a job.  Costs in money or metres, as floats but for the exact ones."""
    status: str                     # proved, within-gap, timed-out, interrupted; none (exists), nothing, failed
    wall: float = 0.0               # until the solver was back
    cpu: float = 0.0
    peak: int = 0                   # KiB
    begun: tuple = None             # (wall, cpu) of the first plan that was told
    plans: list = field(default_factory=list)     # (wall, cpu, cost), each cheaper
    bounds: list = field(default_factory=list)    # (wall, cpu, bound), each higher
    figures: dict = field(default_factory=dict)   # exact integers, as drive names them
    said: str = ""                  # where it failed

    @property
    def proved(self):
        return self.status == "proved"

    def hear(self, plan, wall, cpu, value):
        """A plan or a bound was told.  A plan that costs more has fewer joins that line up, so that what was known
        of cost before does not count; and the same with a bound that is lower."""
        events = self.plans if plan else self.bounds
        if events and (value > events[-1][2] if plan else value < events[-1][2]):
            events.clear()
        events.append((wall, cpu, value))
        if plan and self.begun is None:
            self.begun = wall, cpu

    def exact(self, name):
        return self.figures[name]

    def unit(self):
        """Exact units in one of the floats."""
        return MICRO if self.figures["priced"] else NANO

    def first(self):
        """(wall, cpu) of the first plan; of the end where the callback heard of none."""
        return self.begun or (self.wall, self.cpu)

    def reached(self, cost):
        """(wall, cpu) at which a plan was as good as COST (exact integer), or None."""
        if not self.figures or self.exact("cost") > cost:
            return None
        for wall, cpu, value in self.plans:
            if round(value * self.unit()) <= cost + slack(cost):
                return wall, cpu
        return self.wall, self.cpu

    def met(self):
        """(wall, cpu) at which the bound met the cost, or None where it never did."""
        if not self.proved:
            return None
        least = self.exact("cost")
        for wall, cpu, value in self.bounds:
            reached = self.reached(least)
            if round(value * self.unit()) >= least - slack(least):
                return max(wall, reached[0]), max(cpu, reached[1])
        return self.wall, self.cpu

    def gap(self):
        """Of the cost, how much a better plan could save at most."""
        return (self.exact("cost") - self.exact("least")) / self.exact("cost") if self.exact("cost") else 0.0


def slack(cost):
    """What a double, told with nine decimals, may lose of an exact COST: far below a board."""
    return max(1, abs(cost) // 10**12)


@dataclass
class Driver:
    """tests/bench/drive, and the clock by which its limit goes: wall, or cpu on a machine that has other work."""
    path: str
    clock: str = "wall"

    @property
    def index(self):
        """Of this clock's time in a (wall, cpu)."""
        return ("wall", "cpu").index(self.clock)

    def plan(self, folder, arguments, limit, keep=None):
        """The Planned of the job of ARGUMENTS (files in FOLDER) in LIMIT seconds; its tables go to KEEP."""
        command = [self.path, "--time-limit" if self.clock == "wall" else "--cpu-limit", "%g" % limit]
        if keep:
            command += ["-o", keep]
        ended = run(command + arguments, limit + GRACE if self.clock == "wall" else None, folder)
        if ended.status not in (0, 3, 4):
            # One job that fails must not take hours of others along.
            return Planned("failed", ended.wall, ended.cpu, ended.peak, said="STATUS %d OF %s: %s" %
                           (ended.status, " ".join(command + arguments), ended.output[-500:]))
        return planned(ended)


def planned(ended):
    told = Planned({3: "none", 4: "nothing"}.get(ended.status, ""))
    for line in ended.output.splitlines():
        name, *values = line.split(" ")
        if name in ("plan", "bound"):
            told.hear(name == "plan", *map(float, values))
        elif name == "end":
            told.wall, told.cpu = map(float, values)
        elif name == "peak":
            told.peak = int(values[0])
        elif name == "outcome":
            told.status = values[0]
        elif not told.status or len(values) != 1 or not values[0].lstrip("-").isdigit():
            continue    # a remark
        else:
            told.figures[name] = int(values[0])
    return told


def machine():
    """One line: the processor, its cores, the memory."""
    model, memory = "unknown processor", ""
    try:
        with open("/proc/cpuinfo", encoding="ascii", errors="replace") as file:
            for line in file:
                if line.startswith("model name"):
                    model = line.split(":", 1)[1].strip()
                    break
        with open("/proc/meminfo", encoding="ascii") as file:
            memory = ", %.0f GiB" % (int(file.readline().split()[1]) / 2**20)
    except OSError:
        pass
    return "%s, %d cores%s" % (model, os.cpu_count() or 1, memory)


def say(text):
    """How it goes, on stderr: stdout is the table's."""
    print(text, file=sys.stderr, flush=True)
