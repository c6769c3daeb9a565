"""Small meshes for tests, and ways to damage them."""

import numpy as np

from takeoff.geometry.mesh import Mesh

_BOX = np.array(
    [
        *([0, 2, 3], [0, 3, 1], [4, 5, 7], [4, 7, 6]),  # bottom and top
        *([0, 1, 5], [0, 5, 4], [2, 6, 7], [2, 7, 3]),  # front and back
        *([0, 4, 6], [0, 6, 2], [1, 3, 7], [1, 7, 5]),  # left and right
    ],
    dtype=np.int32,
)
TOP = slice(2, 4)


def box(low=(0, 0, 0), high=(1, 1, 1)):
    """A box wound outward: 8 points, 12 facets."""
    x, y, z = zip(low, high, strict=True)
    points = [(x[i], y[j], z[k]) for k in (0, 1) for j in (0, 1) for i in (0, 1)]
    return Mesh(np.array(points, dtype=float), _BOX.copy())


def sheet(width=1.0, depth=1.0, steps=1):
    """A flat grid facing up."""
    line = np.linspace(0.0, 1.0, steps + 1)
    x, y = np.meshgrid(line * width, line * depth, indexing="ij")
    number = np.arange((steps + 1) ** 2).reshape(steps + 1, steps + 1)
    a, b = number[:-1, :-1].ravel(), number[1:, :-1].ravel()
    c, d = number[1:, 1:].ravel(), number[:-1, 1:].ravel()
    facets = np.concatenate([np.stack([a, b, c], 1), np.stack([a, c, d], 1)])
    points = np.stack([x.ravel(), y.ravel(), np.zeros(x.size)], axis=1)
    return Mesh(points, facets.astype(np.int32))


def plate(holes=1):
    """A plate with square holes right through it, in a row."""
    width, cells = 2 * holes + 1, []
    for i in range(width):
        for j in range(3):
            if j != 1 or i % 2 == 0:
                cells.append((i, j))
    return hull_of_cells(cells)


def hull_of_cells(cells):
    """The outer surface of unit cubes on a grid, welded."""
    filled = {(*cell, 0) if len(cell) == 2 else tuple(cell) for cell in cells}
    corners = []
    for x, y, z in sorted(filled):
        cube = box((x, y, z), (x + 1, y + 1, z + 1))
        steps = [(0, 0, -1), (0, 0, 1), (0, -1, 0), (0, 1, 0), (-1, 0, 0), (1, 0, 0)]
        for face, (i, j, k) in enumerate(steps):
            if (x + i, y + j, z + k) not in filled:
                corners.append(cube.points_m[cube.triangles[2 * face : 2 * face + 2]])
    points, number = np.unique(np.concatenate(corners).reshape(-1, 3), axis=0, return_inverse=True)
    return Mesh(points, number.reshape(-1, 3).astype(np.int32))


def together(*meshes):
    """Several meshes as one, points not welded."""
    offsets = np.cumsum([0, *(len(mesh.points_m) for mesh in meshes)])
    return Mesh(
        np.concatenate([mesh.points_m for mesh in meshes]),
        np.concatenate(
            [mesh.triangles + offset for mesh, offset in zip(meshes, offsets, strict=False)]
        ).astype(np.int32),
    )


def soup(mesh):
    """Every facet with corners of its own, as an STL has them."""
    numbers = np.arange(3 * len(mesh.triangles), dtype=np.int32)
    return Mesh(mesh.points_m[mesh.triangles].reshape(-1, 3), numbers.reshape(-1, 3))


def inverted(mesh, facets=slice(None)):
    """Some facets, or all, wound the other way."""
    triangles = mesh.triangles.copy()
    triangles[facets] = triangles[facets][:, ::-1]
    return Mesh(mesh.points_m, triangles)


def without(mesh, facets):
    """The mesh with some facets missing."""
    return Mesh(mesh.points_m, np.delete(mesh.triangles, facets, axis=0))


def with_facets(mesh, facets):
    """The mesh with more facets over its points."""
    return Mesh(mesh.points_m, np.concatenate([mesh.triangles, np.array(facets, dtype=np.int32)]))


def skewed(mesh):
    """The mesh turned about all three axes and moved away, so that no number is round."""
    a, b, c = 0.7, 1.1, 0.3
    about_x = [[1, 0, 0], [0, np.cos(a), -np.sin(a)], [0, np.sin(a), np.cos(a)]]
    about_y = [[np.cos(b), 0, np.sin(b)], [0, 1, 0], [-np.sin(b), 0, np.cos(b)]]
    about_z = [[np.cos(c), -np.sin(c), 0], [np.sin(c), np.cos(c), 0], [0, 0, 1]]
    turn = np.array(about_x) @ np.array(about_y) @ np.array(about_z)
    return Mesh(mesh.points_m @ turn.T + np.array([0.123, -4.56, 7.89]), mesh.triangles)


def band(twists=1, steps=24):
    """A closed band with half twists."""
    angle = np.linspace(0.0, 2.0 * np.pi, steps, endpoint=False)
    points = []
    for side in (-0.2, 0.2):
        radius = 1.0 + side * np.cos(twists * angle / 2.0)
        height = side * np.sin(twists * angle / 2.0)
        points.append(np.stack([radius * np.cos(angle), radius * np.sin(angle), height], axis=1))
    facets = []
    for i in range(steps):
        low, high = i, steps + i
        after = (i + 1) % steps
        low_after, high_after = after, steps + after
        if after == 0 and twists % 2:
            low_after, high_after = high_after, low_after
        facets += [[low, low_after, high], [low_after, high_after, high]]
    return Mesh(np.concatenate(points), np.array(facets, dtype=np.int32))


def bottle(steps=24, sides=12):
    """A closed surface with one side only, which passes through itself."""
    points = []
    for i in range(steps):
        for j in range(sides):
            u, v = 2.0 * np.pi * i / steps, 2.0 * np.pi * j / sides
            radius = 3.0 + np.cos(u / 2) * np.sin(v) - np.sin(u / 2) * np.sin(2 * v)
            height = np.sin(u / 2) * np.sin(v) + np.cos(u / 2) * np.sin(2 * v)
            points.append((radius * np.cos(u), radius * np.sin(u), height))
    facets = []
    for i in range(steps):
        for j in range(sides):
            after, other = (i + 1) % steps, (j + 1) % sides
            ends = (-j % sides, -other % sides) if after == 0 else (j, other)
            a, b = i * sides + j, after * sides + ends[0]
            c, d = after * sides + ends[1], i * sides + other
            facets += [[a, b, c], [a, c, d]]
    return Mesh(np.array(points), np.array(facets, dtype=np.int32))
