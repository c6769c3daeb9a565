"""Pieces made of what a DXF file holds, named by the texts that stand in them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

import numpy as np

from takeoff.files.drawing import DrawnPiece
from takeoff.files.dxf_gathered import DrawnFaces, DrawnText
from takeoff.files.dxf_outlines import FoundOutline
from takeoff.files.dxf_rules import DxfRules
from takeoff.geometry.faces import triangles_of_faces
from takeoff.geometry.mesh import Mesh
from takeoff.geometry.outlines import Outline, within_outline


def named_outlines(
    found: Sequence[FoundOutline], texts: Sequence[DrawnText], stem: str, *, rules: DxfRules
) -> tuple[DrawnPiece, ...]:
    """Make pieces of outlines, each named by the largest text in it, else by the file.

    Parameters
    ----------
    found : sequence of FoundOutline
        The outlines.
    texts : sequence of DrawnText
        The texts of the drawing.
    stem : str
        Name of the file without its ending.
    rules : DxfRules
        What is too long for a name.

    Returns
    -------
    tuple of DrawnPiece
        One piece an outline, no two of one name.

    Examples
    --------
    >>> from takeoff.geometry.outlines import rectangle
    >>> inside = DrawnText("Top A", (1.0, 0.5), 0.05)
    >>> outline = FoundOutline(rectangle(2.0, 1.0), "0", 0)
    >>> [piece.name for piece in named_outlines([outline], [inside], "job", rules=DxfRules())]
    ['Top A']
    """
    names = [_text_in(item.outline, texts, rules) or "" for item in found]
    return tuple(
        DrawnPiece(name, item.outline, item.layer)
        for name, item in zip(distinct_names(names, stem), found, strict=True)
    )


def distinct_names(names: Sequence[str], stem: str) -> list[str]:
    """Set numbers behind names that occur more than once, and the file's name for empty ones.

    Parameters
    ----------
    names : sequence of str
        Names found, empty where there is none.
    stem : str
        Name of the file without its ending.

    Returns
    -------
    list of str
        No two alike.

    Examples
    --------
    >>> distinct_names(["Top", "", "Top"], "job")
    ['Top-1', 'job', 'Top-2']
    """
    filled = [name or stem for name in names]
    counts, met = Counter(filled), Counter[str]()
    taken = {name for name in filled if counts[name] == 1}
    distinct = []
    for name in filled:
        given = name
        while counts[name] > 1 and (given == name or given in taken):
            met[name] += 1
            given = f"{name}-{met[name]}"
        taken.add(given)
        distinct.append(given)
    return distinct


def _text_in(outline: Outline, texts: Sequence[DrawnText], rules: DxfRules) -> str | None:
    """Find the largest text that stands in an outline and can be a name."""
    if not texts:
        return None
    at_m = np.array([text.at_m for text in texts])
    inside = within_outline(outline, at_m, chord_m=rules.outlines.chord_m)
    fit = [
        text
        for text, stands_in in zip(texts, inside, strict=True)
        if stands_in
        and len(text.text) <= rules.name_count
        and any(letter.isalpha() for letter in text.text)
    ]
    largest_m = max((text.height_m for text in fit), default=0.0)
    names = {text.text for text in fit if text.height_m == largest_m}
    return names.pop() if len(names) == 1 else None


def meshes_by_layer(faces: Sequence[DrawnFaces]) -> dict[str, Mesh]:
    """Put the faces of each layer together into one mesh.

    Parameters
    ----------
    faces : sequence of DrawnFaces
        Faces as drawn.

    Returns
    -------
    dict of str to Mesh
        One mesh a layer, not yet mended, layers in order of their names.

    Examples
    --------
    >>> drawn = DrawnFaces(np.eye(3), ((0, 1, 2),), "TOP")
    >>> meshes_by_layer([drawn, drawn])
    {'TOP': Mesh(points=6, triangles=2)}
    """
    by_layer: dict[str, list[DrawnFaces]] = {}
    for drawn in faces:
        by_layer.setdefault(drawn.layer, []).append(drawn)
    meshes = {}
    for layer in sorted(by_layer):
        points_m, triangles, count = [], [], 0
        for drawn in by_layer[layer]:
            points_m.append(drawn.points_m)
            triangles.append(triangles_of_faces(drawn.points_m, drawn.faces) + count)
            count += len(drawn.points_m)
        meshes[layer] = Mesh(np.concatenate(points_m), np.concatenate(triangles).astype(np.int32))
    return meshes
