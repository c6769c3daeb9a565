"""Which reader takes which kind of entity, and why the other kinds are left out."""

from __future__ import annotations

from collections.abc import Callable

from takeoff.files.dxf_curves import read_arc, read_circle, read_ellipse, read_line, read_spline
from takeoff.files.dxf_fills import read_fill
from takeoff.files.dxf_gathered import FILL, Gathered
from takeoff.files.dxf_hatch import read_hatch, read_mpolygon
from takeoff.files.dxf_meshes import read_3dface, read_mesh
from takeoff.files.dxf_multilines import read_mline
from takeoff.files.dxf_polylines import read_lwpolyline, read_polyline
from takeoff.files.dxf_set_aside import TEXT_FRAME
from takeoff.files.dxf_texts import ANNOTATION, read_mtext, read_text
from takeoff.files.dxf_walk import NOT_ASKED, PAPER_SPACE, Placed

ACIS = "an ACIS body, which cannot be read"
PROXY = "a proxy of an add-on, which may hide outlines or cut-outs; explode it in CAD"
SPACE_CURVE = "a curve in space, no outline in the plan"
UNKNOWN = "a kind of entity that is not read; explode it in CAD if it bounds the piece"
ENDLESS = "a construction line without end"
MARK = "straight and open: a centre line or a mark, no outline"
PICTURE = "a picture or a view, no outline"

READERS: dict[str, Callable[[Placed, Gathered], None]] = {
    "LINE": read_line,
    "ARC": read_arc,
    "CIRCLE": read_circle,
    "ELLIPSE": read_ellipse,
    "SPLINE": read_spline,
    "LWPOLYLINE": read_lwpolyline,
    "POLYLINE": read_polyline,
    "MLINE": read_mline,
    "HATCH": read_hatch,
    "MPOLYGON": read_mpolygon,
    "SOLID": read_fill,
    "TRACE": read_fill,
    "3DFACE": read_3dface,
    "MESH": read_mesh,
    "TEXT": read_text,
    "ATTRIB": read_text,
    "MTEXT": read_mtext,
}

LEFT_OUT: dict[str, str] = {
    **dict.fromkeys(
        (
            "3DSOLID",
            "REGION",
            "BODY",
            "SURFACE",
            "PLANESURFACE",
            "EXTRUDEDSURFACE",
            "LOFTEDSURFACE",
            "REVOLVEDSURFACE",
            "SWEPTSURFACE",
            "NURBSURFACE",
        ),
        ACIS,
    ),
    **dict.fromkeys(("ACAD_PROXY_ENTITY", "ACAD_ZOMBIE_ENTITY"), PROXY),
    **dict.fromkeys(
        (
            "DIMENSION",
            "ARC_DIMENSION",
            "LARGE_RADIAL_DIMENSION",
            "LEADER",
            "MULTILEADER",
            "MLEADER",
            "TOLERANCE",
            "ATTDEF",
            "ACAD_TABLE",
            "TABLE",
            "RTEXT",
            "ARCALIGNEDTEXT",
            "SHAPE",
            "POINT",
        ),
        ANNOTATION,
    ),
    "WIPEOUT": FILL,
    **dict.fromkeys(("RAY", "XLINE"), ENDLESS),
    "HELIX": SPACE_CURVE,
    **dict.fromkeys(
        (
            "VIEWPORT",
            "IMAGE",
            "OLEFRAME",
            "OLE2FRAME",
            "PDFUNDERLAY",
            "DWFUNDERLAY",
            "DGNUNDERLAY",
            "UNDERLAY",
            "LIGHT",
            "CAMERA",
            "SUN",
            "SECTION",
            "SECTIONOBJECT",
            "GEOPOSITIONMARKER",
            "POSITIONMARKER",
            "GEOMAPIMAGE",
            "POINTCLOUD",
            "ACDBPOINTCLOUDEX",
        ),
        PICTURE,
    ),
}

QUIET = frozenset((ANNOTATION, FILL, ENDLESS, PICTURE, NOT_ASKED, PAPER_SPACE, TEXT_FRAME, MARK))


def read_entity(here: Placed, gathered: Gathered) -> None:
    """Read one entity by its kind, or count it as left out.

    Parameters
    ----------
    here : Placed
        The entity and where it is put.
    gathered : Gathered
        What is read so far; added to.

    Raises
    ------
    UnreadableError
        If a figure of the entity cannot be read.
    """
    kind = here.entity.record.kind
    reader = READERS.get(kind)
    if reader is not None:
        reader(here, gathered)
    else:
        gathered.skip(here, LEFT_OUT.get(kind, UNKNOWN))
