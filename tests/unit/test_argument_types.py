"""Every public function refuses arguments of a type it does not take, and says what would do."""

import inspect
import pickle
from pathlib import Path
from types import FunctionType

import numpy as np
import pytest
import trimesh

import takeoff
from takeoff.argument_types import EXAMPLES, refusing_wrong_types
from takeoff.errors import ArgumentError, LayerVolumeError, MeshError, OutputError, QuantityError
from tests.house.walking import ROOT

HALL = ROOT / "samples" / "ferry-hall"
PANEL = HALL / "wall-panel.dxf"
BOX = takeoff.Mesh.from_trimesh(trimesh.creation.box((400, 300, 50)), unit="mm")

FUNCTIONS = {
    name: getattr(takeoff, name)
    for name in takeoff.__all__
    if isinstance(getattr(takeoff, name), FunctionType)
}
NEEDED = {
    "bid": {"path": HALL / "job.toml"},
    "check": {"paths": [PANEL]},
    "examine": {"path": PANEL},
    "layer_volumes": {"mesh": BOX},
    "measure": {"path": PANEL},
    "plan": {"path": HALL / "pour-day.toml"},
    "read_mix": {"name_or_path": "backer-poured"},
    "weigh": {"mix": "backer-poured"},
}
EVERY = [
    (name, parameter)
    for name, function in FUNCTIONS.items()
    for parameter in inspect.signature(function).parameters
]
WRONG = [
    pytest.param(0.004, id="number"),
    pytest.param(object(), id="object"),
    pytest.param(b"4 mm", id="bytes"),
    pytest.param({4: object()}, id="mapping"),
    pytest.param([object()], id="list"),
]
ARRAYS = {"face_coat_m", "backer_m"}


def test_every_public_function_is_tried_and_every_argument_has_an_example():
    assert sorted(FUNCTIONS) == sorted(NEEDED)
    assert sorted(EXAMPLES) == sorted({parameter for _, parameter in EVERY})


@pytest.mark.parametrize("wrong", WRONG)
@pytest.mark.parametrize(("name", "parameter"), EVERY)
def test_what_no_argument_takes_is_refused_by_name(name, parameter, wrong):
    told = NEEDED[name] | {parameter: wrong}
    with pytest.raises(takeoff.TakeoffError) as refused:
        FUNCTIONS[name](**told)
    assert parameter in str(refused.value)
    if parameter not in ARRAYS:
        assert isinstance(refused.value, ArgumentError | QuantityError)
        assert EXAMPLES[parameter] in str(refused.value)


MEASURES = [
    ("measure", "face_coat", 0.004, 'face_coat is the bare number 0.004, .* write it like "4 mm"'),
    ("measure", "backer", {"show_face": 16}, r"backer\['show_face'\] is the bare number 16, which"),
    (
        "measure",
        "edge_depth",
        40,
        'edge_depth is the bare number 40, which .* write it like "40 mm"',
    ),
    ("measure", "edges", {"E3": 0}, r"edges\['E3'\] is the bare number 0, which has no unit"),
    (
        "weigh",
        "volume",
        18,
        'volume is the bare number 18, which has no unit; write it like "18 L"',
    ),
    ("weigh", "scale", [0.01], r"scale\[0\] is the bare number 0.01, which has no unit"),
    ("weigh", "at", {"all": 24}, r"at\['all'\] is the bare number 24, .* like .\"all\": \"24 C\""),
    pytest.param("weigh", "mass", 10**5000, "mass is a bare number, which has no", id="long"),
    ("layer_volumes", "face_coat", np.float64(0.004), "face_coat is the bare number .*0.004"),
]


@pytest.mark.parametrize(("name", "parameter", "wrong", "refusal"), MEASURES)
def test_a_bare_number_lacks_its_unit(name, parameter, wrong, refusal):
    with pytest.raises(QuantityError, match=refusal):
        FUNCTIONS[name](**NEEDED[name] | {parameter: wrong})


TYPES = [
    ("measure", "show", (0, 0, 1), 'show is of type tuple; give it like "up" or "0,0,1"'),
    ("measure", "layers", "walls", r"layers is the text 'walls'; give it like \[\"walls\"\]"),
    ("measure", "exact", "no", "exact is the text 'no'; give it like True"),
    ("measure", "surfaces", {"R2": None}, r"surfaces\['R2'\] is None; give it like"),
    ("measure", "unit", 25.4, 'unit is the bare number 25.4; give it like "mm"'),
    ("measure", "show", 2, 'show is the bare number 2; give it like "up" or "0,0,1"'),
    ("weigh", "bags", "2", "bags is the text '2'; give it like 2"),
    ("weigh", "bags", True, "bags is True; give it like 2"),
    ("plan", "prove", 1, "prove is the bare number 1; give it like True"),
    ("read_mix", "name_or_path", None, "name_or_path is None"),
    ("check", "paths", [PANEL, 4], r"paths\[1\] is the bare number 4"),
]


@pytest.mark.parametrize(("name", "parameter", "wrong", "refusal"), TYPES)
def test_another_type_is_refused_with_what_would_do(name, parameter, wrong, refusal):
    with pytest.raises(ArgumentError, match=refusal):
        FUNCTIONS[name](**NEEDED[name] | {parameter: wrong})


def test_a_refusal_is_a_type_error_too():
    with pytest.raises(TypeError, match="path is None"):
        takeoff.bid(None)


def test_a_mesh_of_trimesh_is_told_how_to_hand_it_over():
    box = trimesh.creation.box((400, 300, 50))
    with pytest.raises(ArgumentError, match=r"mesh is of type Trimesh; .*Mesh\.from_trimesh\("):
        takeoff.layer_volumes(box, backer="20 mm")
    with pytest.raises(MeshError, match="of type int, no mesh of trimesh"):
        takeoff.Mesh.from_trimesh(4, unit="mm")


@pytest.mark.parametrize("wrong", ["4 mm", ["a"] * 12, [None, {}]])
def test_thicknesses_that_are_no_numbers_are_refused(wrong):
    with pytest.raises(LayerVolumeError, match="backer_m is no array of numbers; give one"):
        takeoff.layer_volumes(BOX, backer_m=wrong)


@pytest.mark.parametrize(
    "right", [[0.004] * 12, (0.004,) * 12, np.full(12, 0.004), np.full(12, 0.004, np.float32)]
)
def test_any_array_of_thicknesses_is_taken(right):
    assert takeoff.layer_volumes(BOX, face_coat_m=right).volume_m3["face_coat"] > 0.0


class Named:
    """What stands for a path without being one."""

    def __fspath__(self):
        return str(PANEL)


@pytest.mark.parametrize("paths", [str(PANEL), PANEL, Named(), (PANEL,), {PANEL}, iter([PANEL])])
def test_what_stands_for_a_path_or_for_several_is_taken(paths):
    [checked] = takeoff.check([paths] if isinstance(paths, Named) else paths).drawings
    assert checked.error is None


@pytest.mark.parametrize("wrong", [None, 4, ["out"]])
def test_a_folder_that_is_none_is_refused(wrong):
    measured = takeoff.measure(PANEL, edge_depth="0 mm")
    with pytest.raises(OutputError, match='is no name of a folder; give one like "out"'):
        measured.write(wrong)


def test_what_is_missing_or_unknown_is_told_as_ever():
    with pytest.raises(TypeError, match="missing 1 required positional argument: 'path'"):
        takeoff.measure()
    with pytest.raises(TypeError, match="unexpected keyword argument 'face'"):
        takeoff.measure(PANEL, face="4 mm")


def test_public_functions_can_be_sent_to_other_processes():
    for function in FUNCTIONS.values():
        assert pickle.loads(pickle.dumps(function)) is function


def test_long_values_are_not_repeated():
    def named(kind: int) -> int:
        return kind

    with pytest.raises(ArgumentError, match=r"^kind is a text; give it like"):
        refusing_wrong_types(named)("x" * 1000)
    assert refusing_wrong_types(named)(4) == 4


def test_the_source_of_a_public_function_is_found():
    assert Path(inspect.getsourcefile(inspect.unwrap(takeoff.measure))).name == "taking.py"
