# brute_force.py - the optimum of a tiny job by trying everything
# SPDX-License-Identifier: GPL-3.0-or-later
"""A second method that checks the integer program: no solver, only enumeration.

Every path of pieces at every level, the rules tried on each combination as
they are worded, and every way of sharing the pieces out to boards.
"""

from functools import lru_cache
from itertools import product

import fence_model


def paths(job, run, first, last, level):
    """Every way to put pieces from FIRST to LAST, as tuples of the posts where they meet."""
    longest = max((job.usable(stock) for stock in job.stocks_of(level.section)), default=0)
    inner = range(first + 1, last)
    for choice in product((False, True), repeat=len(inner)):
        joins = tuple(p for p, join in zip(inner, choice) if join)
        if any(run.posts[p].join == ("never" if join else "always") for p, join in zip(inner, choice)):
            continue
        stops = (first,) + joins + (last,)
        pieces = list(zip(stops, stops[1:]))
        found = [job.piece(run, level, i, j) for i, j in pieces]
        if all(piece.cut > 0 and piece.take <= longest for piece in found) \
                and (job.max_piece is None or all(piece.cut <= job.max_piece for piece in found)) \
                and all(job.straight(run, i, j) for i, j in pieces):
            yield stops, tuple((level.section, piece.take) for piece in found)


def in_turn(bays, whole):
    """BAYS of the first pieces, bottom to top: longer and shorter in turn?  WHOLE: that level has no join."""
    for first_longer in (True, False):
        good = True
        for t in range(len(bays) - 1):
            if whole[t] or whole[t + 1]:
                continue
            lower_longer = first_longer == (t % 2 == 0)
            if bays[t] < bays[t + 1] if lower_longer else bays[t] > bays[t + 1]:
                good = False
        if good:
            return True
    return False


def arrangements(job, run, first, last):
    """(aligned pairs, joins, pieces) of each lawful arrangement of one stretch, without repeats."""
    out = set()
    for levels in product(*(list(paths(job, run, first, last, level)) for level in job.through(run))):
        stops = [path for path, _ in levels]
        aligned = 0
        if job.stagger != "off":
            for lower, upper in zip(stops, stops[1:]):
                both = set(lower[1:-1]) & set(upper[1:-1])
                aligned += sum(run.posts[p].join != "always" for p in both)
            if job.stagger == "require" and aligned:
                continue
            if job.turn and not in_turn([path[1] - path[0] for path in stops], [len(path) == 2 for path in stops]):
                continue
        pieces = tuple(sorted(piece for _, found in levels for piece in found))
        out.add((aligned, sum(len(path) - 2 for path in stops), pieces))
    return out


def share_out(job, pieces):
    """The least (cost, boards) that PIECES can be cut from, or None."""
    sources = []
    for stock in job.stocks:
        sources.append((stock, job.cost_of(stock), stock.limit))
        if stock.hand:
            sources.append((stock, 0, stock.hand))

    @lru_cache(maxsize=None)
    def best(left, bounds):
        if not left:
            return 0, 0
        # Some board holds the first of them; try every board and all that may lie beside it.
        found = None
        section = left[0][0]
        for s, (stock, cost, _) in enumerate(sources):
            if stock.section != section or bounds[s] == 0:
                continue
            after = bounds if bounds[s] is None else bounds[:s] + (bounds[s] - 1,) + bounds[s + 1:]
            for rest in remainders(left[1:], section, job.usable(stock) - left[0][1], job.kerf):
                there = best(rest, after)
                if there is not None:
                    here = cost + there[0], 1 + there[1]
                    found = here if found is None else min(found, here)
        return found

    return best(tuple(sorted(pieces, key=lambda p: (p[0], -p[1]))), tuple(bound for _, _, bound in sources))


def remainders(pieces, section, room, kerf):
    """What may be left of PIECES when some of SECTION are put into ROOM, each beside a piece that is there."""
    if room < 0:
        return set()
    out = {pieces}
    for k, (name, take) in enumerate(pieces):
        if name == section and take + kerf <= room:
            for rest in remainders(pieces[k + 1:], section, room - take - kerf, kerf):
                out.add(pieces[:k] + rest)
    return out


def optimum(job):
    """The same as fence_model.optimum."""
    fixed = [(extra.section, extra.length) for extra in job.extras for _ in range(extra.quantity)]
    stretches = []
    for run in job.runs:
        stretches += [arrangements(job, run, first, last) for first, last in run.stretches()]
        for level in job.levels_of(run):
            for b, bay in enumerate(run.bays):
                if bay.opening:
                    continue
                if not level.through:
                    fixed.append((level.section, job.piece(run, level, b, b + 1).take))
                fixed += [(level.block_section, level.block_length)] * level.blocks
    best = None
    seen = {}
    for choice in product(*stretches):
        pieces = tuple(sorted(fixed + [piece for _, _, found in choice for piece in found]))
        aligned, joins = sum(c[0] for c in choice), sum(c[1] for c in choice)
        if pieces not in seen:
            seen[pieces] = share_out(job, pieces)
        if seen[pieces] is not None:
            cost, boards = seen[pieces]
            found = aligned, cost + joins * job.cost_of_join(), joins, boards
            best = found if best is None else min(best, found)
    return None if best is None else fence_model.Optimum(*best)
