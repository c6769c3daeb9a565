"""STL files written for tests, whole or with a fault."""

import numpy as np

RECORD = np.dtype([("normal", "<f4", 3), ("corners", "<f4", (3, 3)), ("attribute", "<u2")])


def binary_stl(mesh, *, header=b"a test", declared=None, scale=1000.0):
    """Bytes of a binary STL in millimetres."""
    records = np.zeros(len(mesh.triangles), dtype=RECORD)
    records["corners"] = (mesh.points_m * scale)[mesh.triangles]
    count = len(records) if declared is None else declared
    return header.ljust(80, b"\0") + np.uint32(count).tobytes() + records.tobytes()


def text_stl(mesh, *, name="top", scale=1000.0, number="{:.9g}"):
    """Text of an STL in millimetres."""
    lines = [f"solid {name}"]
    for corners in (mesh.points_m * scale)[mesh.triangles]:
        lines += [" facet normal 0 0 1", "  outer loop"]
        lines += ["   vertex " + " ".join(number.format(x) for x in corner) for corner in corners]
        lines += ["  endloop", " endfacet"]
    return "\n".join([*lines, f"endsolid {name}", ""])
