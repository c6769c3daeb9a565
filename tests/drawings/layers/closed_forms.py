"""What layers on the shapes take, derived by hand: volumes in mm³ at a thickness t in mm."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import asin, cos, pi, radians, sin, sqrt, tan

import numpy as np
import shapely

from tests.drawings.layers import shapes
from tests.drawings.layers.shapes import box, extrude, flip, prism, tray, wedge


@dataclass(frozen=True)
class Case:
    """A shape and its layer: volume at a thickness, from a least one on where it has one."""

    name: str
    make: Callable[[], tuple]
    volume: Callable[[float], float]
    least: float = 0.0
    radius: float = np.inf


def half_lens(half, t):
    """Area under a circle of radius t, from its middle to a distance."""
    return 0.5 * (half * sqrt(max(t * t - half * half, 0.0)) + t * t * asin(min(half / t, 1.0)))


def block(length, width, height, t, *, bottom):
    inner = max(length - 2 * t, 0) * max(width - 2 * t, 0) * max(height - (1 + bottom) * t, 0)
    return length * width * height - inner


def rounded(a, b, wall, radius):
    """Volume of a rounded pocket."""
    flat = a * b * (wall + radius)
    edges = 2 * (a + b) * (radius * wall + pi * radius**2 / 4)
    return flat + edges + pi * radius**2 * wall + 2 / 3 * pi * radius**3


def eased_block(length, width, height, radius, t):
    """A tray whose arrises at the show face and down its corners are rounded."""
    outside = rounded(length - 2 * radius, width - 2 * radius, height - radius, radius)
    if t == 0:
        return outside
    if t >= radius:
        return outside - (length - 2 * t) * (width - 2 * t) * (height - t)
    return outside - rounded(length - 2 * radius, width - 2 * radius, height - radius, radius - t)


def corner(angle_deg):
    angle = radians(angle_deg)
    if angle < pi:
        return lambda t: 500 * (600 * t - t * t / tan(angle / 2))
    return lambda t: 500 * (600 * t + (angle - pi) / 2 * t * t)


def eased_corner(radius):
    def volume(t):
        if t >= radius:
            return 1000 * (400 * t - t * t - (1 - pi / 4) * radius**2)
        return 1000 * (2 * (200 - radius) * t + pi / 2 * radius * t - pi / 4 * t * t)

    return volume


def groove(t):
    angle = pi / 4
    slopes = 30 / cos(angle) * t - 2 * t * t * tan(pi / 8) + (pi - 2 * angle) / 2 * t * t
    return 6 * 800 * (120 * t + slopes)


def flutes(t, r=10.0, pitch=40.0):
    reach = r + t
    if reach**2 - (pitch / 2) ** 2 >= t * t:
        top = reach**2 * asin(pitch / 2 / reach) + pitch / 2 * sqrt(reach**2 - pitch**2 / 4)
        return 25_000 * (top - pi * r * r / 2)
    edge = sqrt(reach**2 - t * t)
    under = (pitch / 2 - edge) * t + 0.5 * (edge * t + reach**2 * asin(edge / reach))
    return 25_000 * 2 * (under - pi * r * r / 4)


def reeds(t, r=10.0, pitch=40.0):
    if t < r:
        # The layer in the half round, and the two quarter circles round the inside corners
        # less what of them lies in it.
        section = shapely.LineString(shapes.grooves(1, r, pitch, 400, raised=True))
        below = shapely.Polygon([*section.coords, (pitch, -90), (0, -90)])
        inside = shapely.LineString([(-9, 0), *section.coords, (pitch + 9, 0)]).buffer(
            t, quad_segs=128
        )
        return 25_000 * inside.intersection(below).area
    return 25_000 * ((pitch - 2 * r) * t + pi * r * r / 2 + 2 * half_lens(r, t))


def ribs(t):
    rib = 20 * 60 if t >= 10 else 2 * 60 * t + (20 - 2 * t) * t
    if t < 10:
        return 5_000 * (80 * t + rib + pi / 2 * t * t)
    return 5_000 * (80 * t + rib + 2 * half_lens(10, t))


def sunk(t):
    void = 370 * 270 + 2 * 640 * 40 + pi * 40**2
    basin = rounded(370, 270, 90 - t, 40 + t) - rounded(370, 270, 90 - t, 40)
    return (900 * 500 - void) * t + basin


SURROUND = shapely.Polygon(
    [(0, 0), (200, 0), (200, 700), (1000, 700), (1000, 0), (1200, 0), (1200, 1000), (0, 1000)]
)
PANEL = shapely.box(0, 0, 1500, 1000).difference(shapely.box(300, 300, 700, 700))


def walls(plan, depth, arrises, corners):
    def volume(t):
        inner = plan.area - plan.length * t + arrises * t * t - corners * pi / 4 * t * t
        return plan.area * t + (plan.area - inner) * (depth - t)

    return volume


def drum(t, radius=200.0, height=150.0, sides=12):
    inset = radius * cos(pi / sides)
    ends = inset**2 * height - (inset - t) ** 2 * (height - t)
    return sides * tan(pi / sides) * ends


def half_ring(t):
    q = 60 - t
    return pi / 2 * (250 * pi / 2 * (60**2 - q**2) - 2 / 3 * (60**3 - q**3))


def half_round(radius):
    return shapes.arc((0, 0), radius, (-pi / 2 + 1e-12, 0), 96)


def vee():
    points = [
        point
        for k in range(6)
        for point in ([150 * k, 0], [150 * k + 60, 0], [150 * k + 75, -15], [150 * k + 90, 0])
    ]
    return extrude([*points, [900, 0]], 800)


def comb():
    points = [
        point
        for k in range(10)
        for point in (
            [100 * k, 0],
            [100 * k + 40, 0],
            [100 * k + 40, 60],
            [100 * k + 60, 60],
            [100 * k + 60, 0],
        )
    ]
    return extrude([*points, [1000, 0]], 500)


def eased_legs(radius):
    round_part = shapes.arc((radius, -radius), radius, (pi, pi / 2), 8)
    return extrude([[0, -200], *round_part.tolist(), [200, 0]], 1000)


def eased_tray(radius, steps):
    sides = (2400 - 2 * radius, 650 - 2 * radius, 40 - radius)
    return flip(shapes.pocket(*sides, radius, steps))


def shell(radius, turn, length):
    return lambda t: turn / 2 * (radius**2 - (radius - t) ** 2) * length


def barrel(radius, turn, length, steps):
    return extrude(shapes.arc((0, 0), radius, ((pi + turn) / 2, (pi - turn) / 2), steps), length)


BOWL = [[1e-9, 0], [200, 0], [200, 150]]

CASES = [
    Case(
        "counter",
        lambda: tray(2400, 650, 40),
        lambda t: block(2400, 650, 40, t, bottom=0),
    ),
    Case("tray", lambda: tray(800, 600, 100), lambda t: block(800, 600, 100, t, bottom=0)),
    Case("box", lambda: box(800, 600, 100), lambda t: block(800, 600, 100, t, bottom=1)),
    Case(
        "box from outside",
        lambda: flip(box(800, 600, 100)),
        lambda t: 2 * t * 620_000 + pi * t * t * 1500 + 4 / 3 * pi * t**3,
    ),
    Case("twelve-sided bowl", lambda: shapes.revolve(BOWL, 12), drum),
    Case(
        "round bowl",
        lambda: shapes.revolve(BOWL, 256),
        lambda t: pi * (200**2 * 150 - (200 - t) ** 2 * (150 - t)),
    ),
    Case(
        "round bowl from outside",
        lambda: flip(shapes.revolve(BOWL, 256)),
        lambda t: (
            pi * (((200 + t) ** 2 - 200**2) * 150 + 200**2 * t)
            + pi**2 / 2 * 200 * t * t
            + 2 / 3 * pi * t**3
        ),
    ),
    Case(
        "half ball",
        lambda: shapes.revolve(half_round(150), 384),
        lambda t: 2 / 3 * pi * (150**3 - (150 - t) ** 3),
    ),
    Case(
        "half ball from outside",
        lambda: flip(shapes.revolve(half_round(150), 384)),
        lambda t: 2 / 3 * pi * ((150 + t) ** 3 - 150**3),
    ),
    Case(
        "small ball",
        lambda: shapes.revolve(shapes.arc((0, 0), 15, (-pi / 2 + 1e-12, pi / 2 - 1e-12), 48), 96),
        lambda t: 4 / 3 * pi * (15**3 - max(15 - t, 0) ** 3),
        radius=15.0,
    ),
    *(
        Case(f"corner of {angle}", lambda angle=angle: wedge(angle, 300, 500), corner(angle))
        for angle in (45, 60, 90, 120, 150, 225, 270, 300)
    ),
    *(
        Case(f"arris eased {r}", lambda r=r: eased_legs(r), eased_corner(r), radius=r)
        for r in (3, 10)
    ),
    Case("grooves", vee, groove),
    Case(
        "flutes",
        lambda: extrude(shapes.grooves(25, 10, 40, 24), 1000),
        flutes,
        radius=10.0,
    ),
    Case(
        "reeds",
        lambda: extrude(shapes.grooves(25, 10, 40, 24, raised=True), 1000),
        reeds,
        radius=10.0,
    ),
    Case(
        "quarter ring",
        lambda: shapes.torus(250, 60, pi / 2, 160, 128),
        lambda t: pi / 2 * 250 * pi * (60**2 - (60 - t) ** 2),
    ),
    Case(
        "quarter ring from outside",
        lambda: flip(shapes.torus(250, 60, pi / 2, 160, 128)),
        lambda t: pi / 2 * 250 * pi * ((60 + t) ** 2 - 60**2),
    ),
    Case(
        "bent bench",
        lambda: shapes.torus(250, 60, pi / 2, 160, 64, start=pi / 2, end=1.5 * pi),
        half_ring,
    ),
    Case("slab of 30", lambda: box(600, 400, 30), lambda t: block(600, 400, 30, t, bottom=1)),
    Case("slab of 10", lambda: box(600, 400, 10), lambda t: block(600, 400, 10, t, bottom=1)),
    Case("ribs", comb, ribs),
    Case(
        "basin",
        lambda: shapes.pocket(370, 270, 90, 40, 24),
        lambda t: rounded(370, 270, 90, 40 + t) - rounded(370, 270, 90, 40),
    ),
    Case("basin in a slab", lambda: shapes.pocket(370, 270, 90, 40, 24, slab=(900, 500)), sunk),
    Case("surround", lambda: prism(SURROUND, 150), walls(SURROUND, 150, 6, 2)),
    Case("panel with an opening", lambda: prism(PANEL, 60), walls(PANEL, 60, 4, 4)),
    Case(
        "curved shell",
        lambda: barrel(1500, pi / 3, 1000, 120),
        shell(1500, pi / 3, 1000),
    ),
    *(
        Case(
            f"counter eased {r}",
            lambda r=r, steps=steps: eased_tray(r, steps),
            lambda t, r=r: eased_block(2400, 650, 40, r, t),
            radius=r,
        )
        for r, steps in ((3, 6), (10, 10))
    ),
    Case("curved panel of 10 m2", lambda: barrel(4000, 1.0, 2500, 160), shell(4000, 1.0, 2500)),
]


def two_thicknesses(angle_deg, one, two):
    """Legs of two thicknesses: the union of both slabs; past 180 degrees half a round of each."""
    angle = radians(angle_deg)
    if angle > pi:
        return 500 * (300 * (one + two) + (angle - pi) / 4 * (one**2 + two**2))
    shared = (one * two + (one**2 + two**2) / 2 * cos(angle)) / sin(angle)
    return 500 * (300 * (one + two) - shared)
