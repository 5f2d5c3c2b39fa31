# bench.py - the bench: parts, one after the other, as Markdown on stdout
# SPDX-License-Identifier: GPL-3.0-or-later
"""bench.py DRIVE VERSION [BUILD]: see README.md beside this for the variables that it reads."""

import os
import sys
from dataclasses import dataclass

import classes
import fences
import instances
import late
import orders
import posts
import rivals
import running

PARTS = {"classes": classes.run, "fences": fences.run, "late": late.run, "posts": posts.run, "orders": orders.run,
         "rivals": rivals.run}


@dataclass
class Options:
    drive: running.Driver
    data: str
    parts: list
    sample: int          # 0: all instances, and the usual number of seeds
    limit: float
    large_limit: float
    rival_limit: float
    sizes: list
    rival_sizes: list


def number(name, default, least, of=float):
    text = os.environ.get(name) or str(default)
    try:
        value = of(text)
    except ValueError:
        value = None
    if value is None or not value >= least:
        raise SystemExit("bench: %s: expected a number of at least %g, found \"%s\"" % (name, least, text))
    return value


def words(name, default, known=None):
    found = (os.environ.get(name) or default).split()
    for word in found:
        if known is None and not (word.isdigit() and int(word) > 0):
            raise SystemExit("bench: %s: expected numbers of bays, found \"%s\"" % (name, word))
        if known is not None and word not in known:
            raise SystemExit("bench: %s: expected words out of \"%s\", found \"%s\"" % (name, " ".join(known), word))
    return found if known is not None else [int(word) for word in found]


def options_from_environment(drive):
    limit = number("BENCH_LIMIT", 60, 0.1)
    clock = os.environ.get("BENCH_CLOCK") or "wall"
    if clock not in ("wall", "cpu"):
        raise SystemExit("bench: BENCH_CLOCK: expected wall or cpu, found \"%s\"" % clock)
    return Options(running.Driver(drive, clock), os.environ.get("BENCH_DATA", ""),
                   words("BENCH_PARTS", " ".join(PARTS), PARTS),
                   number("BENCH_SAMPLE", 0, 0, int), limit, number("BENCH_LARGE_LIMIT", 300, 0.1),
                   number("BENCH_RIVAL_LIMIT", limit, 1),
                   words("BENCH_SIZES", "10 30 100 300 1000 3000 10000"), words("BENCH_RIVAL_SIZES", "10 30 100"))


def put(text):
    """To stdout, and to the file that BENCH_OUTPUT names: make itself may have things to say on stdout."""
    print(text + "\n", flush=True)
    path = os.environ.get("BENCH_OUTPUT")
    if path:
        with open(path, "a", encoding="utf-8") as file:
            file.write(text + "\n\n")


def main():
    drive, version, *build = sys.argv[1:]
    options = options_from_environment(os.path.abspath(drive))
    wrong, skipped = [], []
    if os.environ.get("BENCH_OUTPUT"):
        with open(os.environ["BENCH_OUTPUT"], "w", encoding="utf-8"):
            pass
    put("spanwright %s%s on %s; one process at a time%s."
        % (version, " (%s)" % " ".join(build) if build else "", running.machine(),
           "" if options.drive.clock == "wall" else "; limits in CPU seconds"))
    for part in options.parts:
        if part == "classes" and not os.path.isdir(options.data):
            skipped.append("SKIPPED: the published classes: no folder \"%s\"; name it with BENCH_DATA=DIR "
                           "(tests/bench/README.md)" % options.data)
            continue
        try:
            text, faults = PARTS[part](options)
        except instances.BadData as error:
            raise SystemExit("bench: %s" % error) from error
        put(text)
        wrong += faults
    for text in skipped:
        put(text)
        running.say(text)
    if wrong:
        put("WRONG:\n\n" + "\n".join("- " + text for text in wrong))
        sys.exit(1)


if __name__ == "__main__":
    main()
