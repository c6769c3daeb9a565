"""Pieces drawn fresh, in millimetres, each with the ways it may be meant; not those of `pieces`."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import cos, pi, sin

import numpy as np
import trimesh

from takeoff.geometry.mending import mend
from takeoff.geometry.mesh import Mesh
from takeoff.piece.surfaces import ModelKind
from tests.unit.piece import pieces_made

UP, DOWN = (0.0, 0.0, 1.0), (0.0, 0.0, -1.0)
FRONT, BACK, RIGHT, LEFT = (0.0, -1.0, 0.0), (0.0, 1.0, 0.0), (1.0, 0.0, 0.0), (-1.0, 0.0, 0.0)

PIECE, FORM, OPEN = ModelKind.PIECE, ModelKind.FORM, ModelKind.OPEN


@dataclass(frozen=True)
class Drawn:
    """A drawn mesh, what it was meant as, and whether it must be asked about."""

    name: str
    body: trimesh.Trimesh
    kind: ModelKind
    show: tuple[float, float, float]
    asked: bool

    @property
    def mesh(self) -> Mesh:
        points = np.asarray(self.body.vertices, dtype=float) / 1000.0
        return mend(Mesh(points, np.asarray(self.body.faces, dtype=np.int32))).mesh


def block(low, high):
    return trimesh.creation.box(bounds=np.array([low, high], dtype=float))


def cut(body, *plugs):
    return trimesh.boolean.difference([body, *plugs], engine="manifold")


def united(*bodies):
    return trimesh.boolean.union(bodies, engine="manifold")


def hull(points):
    return trimesh.convex.convex_hull(np.asarray(points, dtype=float))


def prism(ring, height):
    """A plan drawn up along z."""
    mesh = pieces_made.prism(ring, height)
    return trimesh.Trimesh(mesh.points_m / pieces_made.MM, mesh.triangles)


def eased(length, width, height, radius, steps=6):
    """A slab from z = 0 with the arris round its top eased."""
    points = [(x, y, 0.0) for x in (0, length) for y in (0, width)]
    for step in range(steps + 1):
        angle = pi / 2 * step / steps
        inset, z = radius * (1 - cos(angle)), height - radius + radius * sin(angle)
        points += [(x, y, z) for x in (inset, length - inset) for y in (inset, width - inset)]
    return hull(points)


def turned(section, steps=64):
    """A section in radius and z turned round the axis."""
    return trimesh.creation.revolve(np.asarray(section, dtype=float), sections=steps)


def arc(radius, start, end, steps=32):
    """Points of an arc in plan, angles in degrees."""
    angles = np.radians(np.linspace(start, end, steps + 1))
    return np.column_stack([radius * np.cos(angles), radius * np.sin(angles)])


def hexagon(radius):
    return arc(radius, 0, 300, 5)


def lying(body):
    """The same body with its z turned to y: what was drawn up now runs to the back."""
    turn = trimesh.transformations.rotation_matrix(-pi / 2, (1, 0, 0))
    return body.copy().apply_transform(turn)


def open_without(body, direction):
    """The same body without the faces that look one way."""
    kept = body.face_normals @ np.asarray(direction) < 0.5
    return body.submesh([np.flatnonzero(kept)], append=True, repair=False)


def plug(length, width, depth, radius, corner):
    """What hollows out a basin with rounded arrises below; its corner at the top, given."""
    body = eased(length, width, depth, radius)
    body.apply_transform(trimesh.transformations.rotation_matrix(pi, (1, 0, 0)))
    x, y, z = corner
    return body.apply_translation((x, y + width, z))


def tray(length=1400, width=700, height=80, thick=18):
    """A shell with returns on all four sides, open from below."""
    inner = block((thick, thick, -1), (length - thick, width - thick, height - thick))
    return cut(block((0, 0, 0), (length, width, height)), inner)


def eased_tray():
    inner = block((18, 18, -1), (1382, 682, 62))
    return cut(eased(1400, 700, 80, 12), inner)


def counter_with_upstands():
    return united(
        block((0, 0, 0), (1600, 620, 40)),
        block((0, 0, 0), (20, 620, 140)),
        block((1580, 0, 0), (1600, 620, 140)),
        block((0, 600, 0), (1600, 620, 140)),
    )


def bench_on_legs():
    return cut(block((0, 0, 0), (1500, 420, 450)), block((50, -1, -1), (1450, 421, 410)))


def ribbed(both):
    """A slab with thin ribs on its back, or on both its sides."""
    parts = [block((0, 0, 0), (1200, 800, 20))]
    for x in (100, 400, 780, 1080):
        parts.append(block((x, 0, -60), (x + 20, 800, 0)))
        if both:
            parts.append(block((x, 0, 20), (x + 20, 800, 80)))
    return united(*parts)


def fluted_slab(pitch=50, radius=10):
    """A slab standing on its edge, flutes on its front."""
    ring = [(0, 0)]
    for number in range(18):
        middle = 25 + pitch * number
        ring += [(middle - x, y) for x, y in arc(radius, 0, 180, 10)]
    ring += [(18 * pitch, 0), (18 * pitch, 45), (0, 45)]
    return prism(ring, 2000)


def wave_back():
    """A slab whose drip groove is round, and which is else plain."""
    ring = [(0, 0), (480, 0), *[(500 - x, y) for x, y in arc(10, 0, 180, 10)]]
    ring += [(600, 0), (600, 40), (0, 40)]
    return lying(prism(ring, 1500))


def vanity():
    """A slab with a basin under it that has rounded corners inside."""
    outer = united(block((0, 0, 0), (1100, 520, 30)), block((300, 80, -130), (800, 440, 30)))
    return cut(outer, plug(460, 320, 131, 25, (320, 100, 31)))


def basin_block():
    """A solid block with a large rounded basin, which a form could be too."""
    return cut(block((0, 0, 0), (900, 500, 200)), plug(700, 340, 121, 40, (100, 80, 201)))


def pocketed():
    """A thick slab with a sharp pocket: a recess to show, or one to save weight."""
    return cut(block((0, 0, 0), (900, 600, 90)), block((150, 150, 50), (750, 450, 91)))


def mitred():
    """A slab mitred along two sides towards its back, a nose left."""
    ring = [(0, 40), (0, 34), (34, 0), (766, 0), (800, 34), (800, 40)]
    return lying(prism(ring, 1200))


def dome_shell():
    outer, inner = arc(500, 0, 90, 24), arc(475, 90, 0, 24)
    return turned(np.vstack([outer, inner, outer[:1]]))


def dome_cap():
    return turned(np.vstack([[(0, 0)], arc(400, 0, 90, 24)]))


def barrel(thick=22):
    return prism(np.vstack([arc(900, 40, 140), arc(900 - thick, 140, 40)]), 1300)


def curved_bench():
    return prism(np.vstack([arc(1900, 40, 130), arc(1300, 130, 40)]), 430)


def curved_kerb():
    return prism(np.vstack([arc(1900, 40, 130), arc(1700, 130, 40)]), 430)


def corner_panel(one, other, thick=25, height=1200):
    return prism(
        [(0, 0), (one, 0), (one, thick), (thick, thick), (thick, other), (0, other)], height
    )


def hex_planter(height=500):
    return cut(
        prism(hexagon(300), height), prism(hexagon(265), height).apply_translation((0, 0, 35))
    )


def coping():
    """A wall coping with two slopes and a flat bed."""
    return lying(prism([(0, 0), (350, 0), (350, 50), (175, 70), (0, 50)], 1000))


def board_form():
    """A form of boards drawn as one body: 18 mm all round."""
    return cut(block((0, 0, 0), (1036, 636, 68)), block((18, 18, 18), (1018, 618, 69)))


def block_form():
    return cut(block((0, 0, 0), (1100, 700, 140)), block((90, 80, 60), (1010, 620, 141)))


def shallow_form():
    """A heavy form for a tile that is waved all over: it could be read as a waved slab."""
    wave = [(x, 30 + 8 * sin(2 * pi * x / 80)) for x in np.linspace(0, 400, 81)]
    tile = prism([(0, 70), *wave, (400, 70)], 300)
    tile.apply_transform(trimesh.transformations.rotation_matrix(pi / 2, (1, 0, 0)))
    tile.apply_translation((60, 360, 330))
    return cut(block((0, 0, 0), (520, 420, 390)), tile)


def seat_with_a_back():
    """A bench seat with its back rest, the arrises of both eased."""
    seat, back = eased(1400, 450, 60, 6), eased(1400, 60, 500, 6)
    return united(seat, back)


def splayed():
    """A panel with an opening that is wider at the front."""
    wedge = hull(
        [
            (x, y, z)
            for z, by in ((-1, 139), (71, 211))
            for x in (400 - by, 800 + by)
            for y in (700 - by, 1300 + by)
        ]
    )
    return cut(block((0, 0, 0), (1200, 2000, 70)), wedge)


def open_counter():
    return open_without(
        cut(block((0, 0, 0), (1800, 600, 40)), block((1, 1, -50), (2, 2, -40))), DOWN
    )


def open_basin():
    """The inside of a basin, wound to look out of what is seen."""
    inside = open_without(block((0, 0, 0), (600, 400, 150)), UP)
    inside.invert()
    return inside


def open_step():
    """A tread and its riser, the surface that is cast."""
    return trimesh.Trimesh(
        [(0, 0, 0), (1000, 0, 0), (1000, 0, 170), (0, 0, 170), (1000, 290, 170), (0, 290, 170)],
        [(0, 1, 2), (0, 2, 3), (3, 2, 4), (3, 4, 5)],
        process=False,
    )


def open_vault():
    """A quarter of a tube: seen from outside, or a soffit seen from inside."""
    whole = prism(np.vstack([arc(300, 45, 135), arc(280, 135, 45)]), 900)
    kept = np.flatnonzero(np.hypot(*whole.triangles_center[:, :2].T) > 298)
    return whole.submesh([kept], append=True, repair=False)


def drawn() -> Sequence[Drawn]:
    """All pieces."""
    return (
        Drawn("eased slab", eased(1100, 420, 45, 8), PIECE, UP, asked=False),
        Drawn("plate", block((0, 0, 0), (900, 300, 30)), PIECE, UP, asked=False),
        Drawn("eased tray", eased_tray(), PIECE, UP, asked=False),
        Drawn("sharp tray", tray(), PIECE, UP, asked=True),
        Drawn("deep box", tray(700, 500, 450), PIECE, UP, asked=True),
        Drawn("counter with upstands", counter_with_upstands(), PIECE, UP, asked=True),
        Drawn("bench on legs", bench_on_legs(), PIECE, UP, asked=False),
        Drawn("solid bench", block((0, 0, 0), (1800, 350, 450)), PIECE, UP, asked=True),
        Drawn("ribs on the back", ribbed(both=False), PIECE, UP, asked=True),
        Drawn("ribs on both sides", ribbed(both=True), PIECE, UP, asked=False),
        Drawn("fluted slab", fluted_slab(), PIECE, FRONT, asked=False),
        Drawn("round drip groove", wave_back(), PIECE, UP, asked=True),
        Drawn("vanity", vanity(), PIECE, UP, asked=False),
        Drawn("basin in a block", basin_block(), PIECE, UP, asked=True),
        Drawn("pocket", pocketed(), PIECE, UP, asked=True),
        Drawn("mitred slab", mitred(), PIECE, UP, asked=True),
        Drawn("dome shell", dome_shell(), PIECE, UP, asked=True),
        Drawn("dome", dome_cap(), PIECE, UP, asked=False),
        Drawn("barrel panel", barrel(), PIECE, BACK, asked=True),
        Drawn("curved bench", curved_bench(), PIECE, UP, asked=False),
        Drawn("curved kerb", curved_kerb(), PIECE, UP, asked=True),
        Drawn("corner panel", corner_panel(600, 580), PIECE, FRONT, asked=True),
        Drawn("cladding angle", corner_panel(1000, 300), PIECE, FRONT, asked=True),
        Drawn("hexagonal planter", hex_planter(), PIECE, DOWN, asked=True),
        Drawn("coping", coping(), PIECE, UP, asked=False),
        Drawn("boards", board_form(), FORM, DOWN, asked=True),
        Drawn("form in a block", block_form(), FORM, DOWN, asked=True),
        Drawn("shallow form", shallow_form(), FORM, DOWN, asked=True),
        Drawn("seat with a back", seat_with_a_back(), PIECE, UP, asked=True),
        Drawn(
            "round table",
            turned([(0, 0), (450, 0), (450, 30), (444, 36), (0, 36)]),
            PIECE,
            UP,
            asked=False,
        ),
        Drawn("column", turned([(0, 0), (200, 0), (200, 900), (0, 900)]), PIECE, BACK, asked=True),
        Drawn("splayed opening", splayed(), PIECE, UP, asked=False),
        Drawn("open counter", open_counter(), OPEN, UP, asked=False),
        Drawn("open basin", open_basin(), OPEN, UP, asked=False),
        Drawn("open step", open_step(), OPEN, UP, asked=True),
        Drawn("open vault", open_vault(), OPEN, BACK, asked=False),
    )
