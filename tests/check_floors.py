"""check_floors.py - the house of lib/: a room only looks down, no circle of calls, all headers together
SPDX-License-Identifier: GPL-3.0-or-later

The floors stand in DEVELOPERS.md, in its table of rooms; what is built tells who calls whom.
"""
import collections
import os
import re
import subprocess
import sys
import tempfile

TOP = os.path.abspath(os.environ.get("srcdir", os.path.join(os.path.dirname(__file__), "..")))
LIB = os.path.join(TOP, "lib")


def floors():
    """Each room's floor, by DEVELOPERS.md: rows such as | 3 | `layout/` | ... |"""
    with open(os.path.join(TOP, "DEVELOPERS.md"), encoding="utf-8") as file:
        rows = re.findall(r"^\| (\d+) \| ((?:`\w+/` ?)+)\|", file.read(), re.M)
    return {room: int(floor) for floor, rooms in rows for room in re.findall(r"`(\w+)/`", rooms)}


FLOOR = floors()


def sources():
    """Files of the house, as room/name."""
    for room in sorted(os.listdir(LIB)):
        if os.path.isdir(os.path.join(LIB, room)) and not room.startswith("."):
            for name in sorted(os.listdir(os.path.join(LIB, room))):
                if name.endswith((".c", ".h")):
                    yield room, name


def test_every_room_has_a_floor():
    rooms = {room for room, _ in sources()}
    assert len(rooms) > 10, rooms
    assert rooms == set(FLOOR), rooms ^ set(FLOOR)


def test_no_include_goes_up():
    up = []
    for room, name in sources():
        with open(os.path.join(LIB, room, name), encoding="utf-8") as file:
            text = file.read()
        for included in re.findall(r'^#include "([^"]+)"', text, re.M):
            other, _, rest = included.partition("/")
            if included == "spanwright.h":
                continue
            if not rest or other not in FLOOR:
                up.append(f"{room}/{name}: {included} is no address")
            elif FLOOR[other] > FLOOR[room] or (FLOOR[other] == FLOOR[room] and other != room):
                up.append(f"{room}/{name} (floor {FLOOR[room]}) includes {included} (floor {FLOOR[other]})")
    assert not up, "\n" + "\n".join(up)


def calls():
    """Who calls whom: room/file -> {room/file: functions}, from the objects that are built."""
    build = os.path.dirname(os.path.dirname(os.environ["SPANWRIGHT"]))
    owner, wants = {}, collections.defaultdict(set)
    prefix = "libspanwright_inside_la-"
    present = {f"{room}/{name[:-2]}" for room, name in sources()}
    for room in FLOOR:
        folder = os.path.join(build, "lib", room)
        # Where only the shared library is built, its objects are hidden.
        names = [name for name in os.listdir(folder) if name.endswith(".o")] if os.path.isdir(folder) else []
        if not names and os.path.isdir(os.path.join(folder, ".libs")):
            folder = os.path.join(folder, ".libs")
            names = os.listdir(folder)
        for name in names:
            file = f"{room}/{name[len(prefix):-2]}"
            if not name.startswith(prefix) or not name.endswith(".o") or file not in present:
                continue
            for line in subprocess.run(["nm", os.path.join(folder, name)], capture_output=True, text=True,
                                       check=True).stdout.splitlines():
                kind, symbol = line.split()[-2:]
                if kind in "TDBRV":
                    owner[symbol] = file
                elif kind == "U":
                    wants[file].add(symbol)
    found = collections.defaultdict(dict)
    for file, symbols in wants.items():
        for symbol in symbols:
            if symbol in owner and owner[symbol] != file:
                found[file].setdefault(owner[symbol], []).append(symbol)
    return found


def test_no_call_goes_up_and_none_round():
    found = calls()
    assert len(found) > 100, len(found)
    up = [f"{file} calls {other}: {', '.join(symbols)}" for file, others in found.items()
          for other, symbols in others.items() if FLOOR[other.split("/")[0]] > FLOOR[file.split("/")[0]]]
    assert not up, "\n" + "\n".join(up)
    # Depth-first: a file that is met again while it is open closes a circle.
    state, circles = {}, []

    def visit(file, path):
        state[file] = "open"
        for other in sorted(found.get(file, ())):
            if state.get(other) == "open":
                circles.append(" -> ".join(path[path.index(other):] + [other]))
            elif other not in state:
                visit(other, path + [other])
        state[file] = "closed"

    for file in sorted(found):
        if file not in state:
            visit(file, [file])
    assert not circles, "\n" + "\n".join(circles)


def test_all_headers_together():
    """No name stands for two things; each header also stands alone."""
    headers = [f"{room}/{name}" for room, name in sources() if name.endswith(".h")]
    flags = os.environ.get("SHEET_CFLAGS", "").split()
    if not flags:
        # Built without the sheet: its headers need what is not there.
        headers = [header for header in headers if not header.startswith("sheet/")]
    if os.environ.get("BOOK_CFLAGS", "none") == "none":
        headers = [header for header in headers if not header.startswith("book/")]
    compiler = os.environ.get("CC", "cc").split()
    with tempfile.TemporaryDirectory() as folder:
        source = os.path.join(folder, "all.c")
        for some in [headers, list(reversed(headers))] + [[header] for header in headers]:
            with open(source, "w", encoding="utf-8") as file:
                file.write("".join(f'#include "{header}"\n' for header in some) + "int unused;\n")
            done = subprocess.run([*compiler, "-std=c11", "-fsyntax-only", f"-I{LIB}", *flags, source],
                                  capture_output=True, text=True, check=False)
            assert done.returncode == 0, done.stderr


def run():
    """Each test; (passed, failed)."""
    passed = failed = 0
    only = sys.argv[1:]
    for name, test in sorted(globals().items()):
        if not name.startswith("test_") or (only and name not in only):
            continue
        try:
            test()
            passed += 1
        except AssertionError as fault:
            print(f"FAILED {name}: {fault}")
            failed += 1
    print(f"{passed} passed, {failed} failed")
    return failed != 0 or passed == 0


if __name__ == "__main__":
    sys.exit(run())
