# fence_geometry.py - corners, seats and slopes, for the independent reference
# SPDX-License-Identifier: GPL-3.0-or-later
"""How far timber reaches, and what a cut takes, in whole nanometres.

Square roots and quotients are exact in integers.  Sines and cosines come from
their series in decimal numbers of 60 digits and are rounded once, to a whole
nanometre; only the angle of a plumb cut, which is printed to a thousandth of
a degree, is an ordinary floating-point number.
"""

import math
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal, localcontext
from fractions import Fraction
from functools import lru_cache

DIGITS = 60


def round_half_away(value):
    """A Fraction to the nearest integer, halves away from zero."""
    sign = -1 if value < 0 else 1
    return sign * math.floor(abs(value) + Fraction(1, 2))


def round_position(value, step):
    """A position to the nearest multiple of STEP, halves up; as it is where STEP is 0."""
    return (2 * value + step) // (2 * step) * step if step else value


def round_down(value, step):
    return value // step * step if step else value


def on_slope(level, span, rise):
    """A level measure in a bay of SPAN that rises by RISE, along the slope, to the nearest nanometre."""
    if rise == 0:
        return level
    # floor ((sqrt (4 q) + span) / (2 span)) with q = level^2 (span^2 + rise^2): the integer root changes nothing.
    root = math.isqrt(4 * level * level * (span * span + rise * rise))
    size = (root + span) // (2 * span)
    return size if level >= 0 else -size


def _series(first, step):
    """The sum of FIRST and the terms that STEP makes, until they no longer count."""
    total, term, n = first, first, 0
    while abs(term) > Decimal(10) ** -(DIGITS + 5):
        n += 1
        term = step(term, n)
        total += term
    return total


@lru_cache(maxsize=None)
def _sin_cos(degrees):
    """Sine and cosine of a Fraction of degrees, as decimals."""
    with localcontext() as context:
        context.prec = DIGITS + 10
        # Pi from 2 (1 + 1/3 (1 + 2/5 (1 + 3/7 (...)))): every term is under half of the one before.
        pi = 2 * _series(Decimal(1), lambda term, n: term * n / (2 * n + 1))
        x = pi * degrees.numerator / (180 * degrees.denominator)
        sine = _series(x, lambda term, n: -term * x * x / (2 * n * (2 * n + 1)))
        cosine = _series(Decimal(1), lambda term, n: -term * x * x / ((2 * n - 1) * 2 * n))
        return sine, cosine


def _nearest(over, number, under):
    with localcontext() as context:
        context.prec = DIGITS + 10
        return int((over * number / under).to_integral_value(ROUND_HALF_UP))


def times_tangent(number, degrees):
    """NUMBER x tan DEGREES, to the nearest nanometre."""
    sine, cosine = _sin_cos(degrees)
    return _nearest(sine, number, cosine)


def over_cosine(number, degrees):
    """NUMBER / cos DEGREES, to the nearest nanometre."""
    return _nearest(Decimal(1), number, _sin_cos(degrees)[1])


def plumb_degrees(span, rise):
    """The angle of a plumb cut, None where the piece lies level."""
    return math.degrees(math.atan2(abs(rise), span)) if rise else None


def half_turned(angle):
    """Half of what a corner of internal angle ANGLE turns, negative where the timber is on its inside."""
    return (180 - angle) / 2


@dataclass(frozen=True)
class Corner:
    """Where timber ends that meets the next run's on the bisector."""
    reach: int                # of the long point past the post's centre, level
    back: int                 # from the long point to the short one
    saw: Fraction             # degrees off square
    long_point: str           # "outer" or "inner"


def faces(seat, depth, width, thickness):
    """How far the timber's faces lie outside the line of post centres, the outer one first.

    SEAT: (kind, depth let in or None).  DEPTH: the post's, across the fence.  WIDTH, THICKNESS: the section's, None
    where they are not known; the inner face is None then where it cannot be said.
    """
    kind, let_in = seat
    if kind == "top":
        return width // 2, -(width // 2)
    if kind == "face":
        return depth // 2 + thickness, depth // 2
    if let_in is None:
        # Flush with the post, however thick.
        return depth // 2, None if thickness is None else depth // 2 - thickness
    return depth // 2 + thickness - let_in, depth // 2 - let_in


def corner(angle, outer, inner):
    """The Corner of internal ANGLE of timber with these faces; INNER may be unknown on an outside corner."""
    theta = half_turned(angle)
    if theta < 0 and inner is None:
        raise ValueError("an inside corner needs the timber's thickness")
    there = [times_tangent(face, theta) for face in (outer, inner) if face is not None]
    reach = max(there)
    back = None if inner is None else reach - min(there)
    return Corner(reach, back, abs(theta), "outer" if theta > 0 else "inner")


def triangle(width, span, rise):
    """What a plumb cut takes of a board more than the piece is long, for timber so wide."""
    return round_half_away(Fraction(width * abs(rise), span))


def kerf_more(kerf, span, rise, saw):
    """By how much the finish's cut is wider along the board than KERF.  SAW: the mitre's degrees, or None."""
    steepest = on_slope(kerf, span, rise)
    if saw is not None:
        steepest = max(steepest, over_cosine(kerf, saw))
    return steepest - kerf
