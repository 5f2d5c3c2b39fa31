# fence_setout.py - what is marked and cut on each post, for the independent reference
# SPDX-License-Identifier: GPL-3.0-or-later
"""Heights and housings: which rows setout.csv has, with exact lengths."""

from dataclasses import dataclass

import fence_job


@dataclass(frozen=True)
class Row:
    run: str
    post: int                 # from 0
    distance: int             # from the centre of the run's first post, level
    width: int                # of the post
    level: str
    mark: int                 # the underside above the datum of the run's first stretch; None: no height, or no timber
    top: int
    housing: str              # "through", "stopped" or ""
    depth: int                # None where it is not known or there is none
    join: bool


def rows(job, joined):
    """Every Row in order.  JOINED: (run, level, post) wherever two pieces meet."""
    out = []
    for run in job.runs:
        for p in range(len(run.posts)):
            for level in job.levels_of(run):
                out += _post(job, run, p, level, (run.name, level.name, p) in joined)
    return out


def _post(job, run, p, level, join):
    """A row, or one a side where the fence steps and has timber on both."""
    near = run.bays[p - 1] if p > 0 and not run.bays[p - 1].opening else None
    far = run.bays[p] if p < len(run.bays) and not run.bays[p].opening else None
    before = sum(bay.step for bay in run.bays[:max(p - 1, 0)])
    step = run.bays[p - 1].step if p > 0 else 0
    sides = []
    if near:
        sides.append((before, housing(job, level, near.finish, run.posts[p])))
    if far:
        sides.append((before + step, housing(job, level, far.start, run.posts[p])))
    if not sides:
        # Nothing is marked where no timber comes.
        return [_row(job, run, p, level, None, ("", None), join)]
    if not step:
        # A stopped housing is cut apart from the rest and is told before a through one; of two the deeper.
        sides = [(before, max((side[1] for side in sides), key=lambda h: (h[0] == "stopped", h[0] != "", h[1] or 0)))]
    return [_row(job, run, p, level, raised, what, join) for raised, what in sides]


def _row(job, run, p, level, raised, what, join):
    mark = top = None
    if level.height is not None and raised is not None:
        mark = level.height + raised
        # Laid flat on the posts, timber is as high as it is thick.
        size = job.dimension(level.section, "thickness" if level.seat[0] == "top" else "width")
        top = None if size is None else mark + size
    return Row(run.name, p, run.distances()[p], run.posts[p].width, level.name, mark, top, *what, join)


def housing(job, level, end, post):
    """("through", "stopped" or "", depth) for timber of LEVEL with this END at POST; END None: it runs on."""
    kind, let_in = level.seat
    end = level.end(end)
    if not level.through:
        return "", None
    if end is not None and end[0] == "housed":
        return "stopped", fence_job.housed_depth(end[1], post)
    if kind != "let in":
        return "", None
    if end is not None and job.reach(level, end, post) <= -(post.width // 2):
        # It ends before the post.
        return "", None
    return "through", job.dimension(level.section, "thickness") if let_in is None else let_in
