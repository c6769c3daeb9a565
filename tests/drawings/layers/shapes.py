"""Skins with layers in closed form, made in millimetres; layers grow against their normals."""

from __future__ import annotations

import numpy as np
import shapely

from takeoff.geometry.mesh import Mesh

MM = 1e-3


def mesh_of(part):
    """Take millimetres over, equal points merged."""
    points, triangles = part
    keys = np.round(points / 1e-6).astype(np.int64)
    _, first, number = np.unique(keys, axis=0, return_index=True, return_inverse=True)
    triangles = number.ravel()[triangles]
    a, b, c = triangles.T
    whole = (a != b) & (b != c) & (c != a)
    return Mesh(points[first] * MM, triangles[whole].astype(np.int32))


def join(*parts):
    points, triangles, count = [], [], 0
    for some, corners in parts:
        points.append(some)
        triangles.append(corners + count)
        count += len(some)
    return np.vstack(points), np.vstack(triangles)


def flip(part):
    points, triangles = part
    return points, triangles[:, ::-1]


def grid(points, *, round_v=False):
    """Quads over a net of points (u, v), normal along du x dv."""
    rows, columns = points.shape[:2]
    number = np.arange(rows * columns).reshape(rows, columns)
    if round_v:
        number = np.hstack([number, number[:, :1]])
    a, b = number[:-1, :-1].ravel(), number[1:, :-1].ravel()
    c, d = number[1:, 1:].ravel(), number[:-1, 1:].ravel()
    return points.reshape(-1, 3), np.vstack([np.c_[a, b, c], np.c_[a, c, d]])


def rectangle(corner, along, across):
    corner, along, across = (np.asarray(v, dtype=float) for v in (corner, along, across))
    net = np.array([0.0, 1.0])
    return grid(corner + net[:, None, None] * along + net[None, :, None] * across)


def extrude(profile, length):
    """A profile (x, z) that runs along x, swept along y: normal up."""
    profile = np.asarray(profile, dtype=float)
    net = np.zeros((len(profile), 2, 3))
    net[..., 0], net[..., 2], net[:, 1, 1] = profile[:, :1], profile[:, 1:], length
    return grid(net)


def revolve(profile, count, *, turn=2 * np.pi):
    """A profile (r, z) going up, turned about z: normal outward."""
    profile = np.asarray(profile, dtype=float)
    full = turn == 2 * np.pi
    angle = np.linspace(0.0, turn, count + 1)[: count if full else count + 1]
    net = np.empty((len(profile), len(angle), 3))
    net[..., 0] = profile[:, :1] * np.cos(angle)
    net[..., 1] = profile[:, :1] * np.sin(angle)
    net[..., 2] = profile[:, 1:]
    return flip(grid(net, round_v=full))


def arc(middle, radius, ends, count):
    x, z = middle
    angle = np.linspace(*ends, count + 1)
    return np.c_[x + radius * np.cos(angle), z + radius * np.sin(angle)]


def tray(length, width, height):
    """Show face at the top and four walls."""
    return join(
        rectangle([0, 0, height], [length, 0, 0], [0, width, 0]),
        rectangle([0, 0, 0], [length, 0, 0], [0, 0, height]),
        flip(rectangle([0, width, 0], [length, 0, 0], [0, 0, height])),
        flip(rectangle([0, 0, 0], [0, width, 0], [0, 0, height])),
        rectangle([length, 0, 0], [0, width, 0], [0, 0, height]),
    )


def box(length, width, height):
    return join(
        tray(length, width, height), flip(rectangle([0, 0, 0], [length, 0, 0], [0, width, 0]))
    )


def torus(middle, radius, turn, count, ring, *, start=0.0, end=2 * np.pi):
    full = end - start == 2 * np.pi
    around = np.linspace(0.0, turn, count + 1)
    across = np.linspace(start, end, ring + 1)[: ring if full else ring + 1]
    reach = middle + radius * np.cos(across)
    net = np.empty((count + 1, len(across), 3))
    net[..., 0] = np.cos(around)[:, None] * reach
    net[..., 1] = np.sin(around)[:, None] * reach
    net[..., 2] = radius * np.sin(across)
    return grid(net, round_v=full)


def flat(polygon, height):
    """Triangles of a plan, facing up."""
    triangles = [
        np.array(triangle.exterior.coords)[:3]
        for triangle in shapely.constrained_delaunay_triangles(polygon).geoms
    ]
    corners = np.vstack(triangles)
    numbers = np.arange(len(corners)).reshape(-1, 3)
    one, two = (corners[numbers[:, k]] - corners[numbers[:, 0]] for k in (1, 2))
    down = one[:, 0] * two[:, 1] - one[:, 1] * two[:, 0] < 0
    numbers = np.where(down[:, None], numbers[:, ::-1], numbers)
    return np.c_[corners, np.full(len(corners), float(height))], numbers


def prism(polygon, height):
    """A plan at the top and walls down from all its edges."""
    polygon = shapely.geometry.polygon.orient(polygon)
    parts = [flat(polygon, height)]
    for ring in (polygon.exterior, *polygon.interiors):
        plan = np.array(ring.coords)
        net = np.zeros((len(plan), 2, 3))
        net[..., :2], net[:, 1, 2] = plan[:, None, :], height
        parts.append(grid(net))
    return join(*parts)


def grooves(count, radius, pitch, steps, *, raised=False):
    """A profile of half rounds, sunk or raised."""
    points = []
    for number in range(count):
        ends = (np.pi, 0.0) if raised else (np.pi, 2 * np.pi)
        half = arc((pitch * (number + 0.5), 0.0), radius, ends, steps)
        points += [[pitch * number, 0.0], *half.tolist()]
    return [*points, [pitch * count, 0.0]]


def pocket(a, b, wall, radius, steps, *, slab=None):
    """A basin with rounded corners all round, seen from its hollow; in a slab if given."""

    def outline(rho):
        quarters = ((a, b, 0.0), (-a, b, 0.5), (-a, -b, 1.0), (a, -b, 1.5))
        return np.vstack(
            [
                arc((x / 2, y / 2), rho, (turn * np.pi, (turn + 0.5) * np.pi), steps)
                for x, y, turn in quarters
            ]
        )

    rows = []
    for tilt in np.linspace(-np.pi / 2, 0.0, steps + 1):
        ring = outline(radius * np.cos(tilt) if tilt > -np.pi / 2 else 0.0)
        rows.append(np.c_[ring, np.full(len(ring), radius * np.sin(tilt) - wall)])
    rim = outline(radius)
    rows.append(np.c_[rim, np.zeros(len(rim))])
    parts = [
        grid(np.array(rows), round_v=True),
        rectangle([-a / 2, -b / 2, -wall - radius], [a, 0, 0], [0, b, 0]),
    ]
    if slab is not None:
        length, width = slab
        around = shapely.box(-length / 2, -width / 2, length / 2, width / 2)
        parts.append(flat(around.difference(shapely.Polygon(rim)), 0.0))
    return join(*parts)


def wedge(angle_deg, leg, length):
    """Two faces at an interior angle, the upper one level."""
    lower = np.array([np.cos(np.radians(angle_deg)), -np.sin(np.radians(angle_deg))]) * leg
    return extrude([lower, [0.0, 0.0], [leg, 0.0]], length)


def divided(part, least):
    """Every triangle cut into four, until there are enough; the shape stays."""
    points, triangles = part
    keys = np.round(points / 1e-6).astype(np.int64)
    _, first, number = np.unique(keys, axis=0, return_index=True, return_inverse=True)
    points, triangles = points[first], number.ravel()[triangles]
    while len(triangles) < least:
        sides = np.sort(triangles[:, [0, 1, 1, 2, 2, 0]].reshape(-1, 2), axis=1)
        lines, number = np.unique(sides, axis=0, return_inverse=True)
        middle = (number.ravel() + len(points)).reshape(-1, 3)
        points = np.vstack([points, points[lines].mean(axis=1)])
        a, b, c = triangles.T
        d, e, f = middle.T
        triangles = np.vstack([np.c_[a, d, f], np.c_[d, b, e], np.c_[f, e, c], np.c_[d, e, f]])
    return points, triangles
