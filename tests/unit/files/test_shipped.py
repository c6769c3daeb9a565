"""What comes with the package is complete, and every figure in it has its source."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest

from takeoff.files.mix_file import read_mix
from takeoff.files.shipped import (
    shipped_cautions,
    shipped_heat,
    shipped_ingredients,
    shipped_limits,
    shipped_mix_names,
    shipped_sources,
    shipped_toml,
)
from takeoff.mix.cautions import cautions_for
from takeoff.mix.checking import mix_faults
from takeoff.mix.ingredients import FibreKind, Role
from takeoff.mix.limits import limit_notes
from takeoff.mix.mixes import MixLayer, Placing
from takeoff.mix.scales import Scale
from takeoff.mix.volumes import fresh_density_kg_m3
from takeoff.mix.weighing import weigh_out
from takeoff.notes import NoteCode

FIGURE = re.compile(r"\s*[-+.]?\d")
TOLD = {"source", "where", "seen", "name", "ingredient", "text", "cited"}
FIGURE_FILES = [
    ("ingredients.toml",),
    ("heat.toml",),
    ("limits.toml",),
    ("handling.toml",),
    *(("mixes", f"{name}.toml") for name in shipped_mix_names()),
]


def tables_with_figures(value: object, place: str) -> Iterator[tuple[str, dict[str, object]]]:
    """Find the tables that hold a number, or text that begins with one."""
    if isinstance(value, list):
        for number, inner in enumerate(value):
            yield from tables_with_figures(inner, f"{place}[{number}]")
    if isinstance(value, dict):
        for key, inner in value.items():
            yield from tables_with_figures(inner, f"{place}.{key}")
        if any(_is_figure(inner) for key, inner in value.items() if key not in TOLD):
            yield place, value


def _is_figure(value: object) -> bool:
    if isinstance(value, str):
        return FIGURE.match(value) is not None
    return isinstance(value, int | float) and not isinstance(value, bool)


def figures() -> list[tuple[str, dict[str, object]]]:
    """Give every table with a figure in the shipped data."""
    return [
        found
        for path in FIGURE_FILES
        for found in tables_with_figures(dict(shipped_toml(*path).tables), "/".join(path))
    ]


def test_every_figure_has_a_known_source_and_says_where():
    assert len(figures()) > 20
    unsourced = [
        place
        for place, table in figures()
        if table.get("source") not in shipped_sources() or not table.get("where")
    ]
    assert unsourced == []


def test_a_figure_from_a_source_not_read_is_marked_from_memory():
    unmarked = [
        place
        for place, table in figures()
        if not shipped_sources()[table["source"]].seen and table.get("seen", True)
    ]
    assert unmarked == []


def test_every_source_is_used():
    used = {table["source"] for _, table in figures()}
    for cautions in ("cautions.toml", "bid_cautions.toml"):
        used |= {row["source"] for row in shipped_toml(cautions).tables["caution"]}
    # The sources of formulas are named in docstrings.
    in_docstrings = {"aci-347-04", "astm-c138", "astm-c948", "grca-methods", "uno-1998"}
    assert set(shipped_sources()) - used == in_docstrings


@pytest.mark.parametrize("name", shipped_mix_names())
def test_a_shipped_mix_is_sound_and_weighs(name):
    mix = read_mix(name)
    assert mix.name == name
    assert mix_faults(mix) == ()
    assert weigh_out(mix, volume_m3=0.020, scales=[Scale(0.01)]).volume_m3 == pytest.approx(
        0.020, rel=0.005
    )


@pytest.mark.parametrize("name", shipped_mix_names())
def test_the_density_of_a_shipped_mix_is_that_of_the_specification(name):
    # Wet density 1900 to 2100 kg/m3: GRCA specification, from memory.
    assert 1900.0 <= fresh_density_kg_m3(read_mix(name)) <= 2100.0


@pytest.mark.parametrize("name", shipped_mix_names())
def test_no_pot_life_is_shipped_since_none_is_published(name):
    assert read_mix(name).pot_life_s is None


@pytest.mark.parametrize("name", shipped_mix_names())
def test_figures_from_memory_are_noted(name):
    (note,) = [note for note in read_mix(name).notes if note.code is NoteCode.FROM_MEMORY]
    assert "dose of acrylic-dispersion" in note.text
    assert "silica-sand" not in note.text


def test_the_face_coat_holds_no_fibre_and_the_backer_does():
    face, backer = read_mix("face-coat-sprayed"), read_mix("backer-poured")
    assert (face.layer, face.placing) == (MixLayer.FACE_COAT, Placing.SPRAYED)
    assert (backer.layer, backer.placing) == (MixLayer.BACKER, Placing.POURED)
    roles = [{dose.ingredient.role for dose in mix.doses} for mix in (face, backer)]
    assert [Role.FIBRE in held for held in roles] == [False, True]


@pytest.mark.parametrize(
    ("name", "placing", "fibre"),
    [
        ("face-coat-sprayed", Placing.SPRAYED, None),
        ("backer-poured", Placing.POURED, FibreKind.BUNDLED_GLASS),
        ("backer-packed", Placing.PACKED, FibreKind.BUNDLED_GLASS),
        ("backer-sprayed", Placing.SPRAYED, FibreKind.BUNDLED_GLASS),
        ("backer-poured-pva", Placing.POURED, FibreKind.PVA),
        ("backer-stiff-pva", Placing.PACKED, FibreKind.PVA),
    ],
)
def test_every_usual_mix_is_shipped_and_made_in_the_right_order(name, placing, fibre):
    mix = read_mix(name)
    assert mix.placing is placing
    kinds = [dose.ingredient.fibre for dose in mix.doses if dose.ingredient.role is Role.FIBRE]
    assert kinds == ([] if fibre is None else [fibre])
    lines = weigh_out(mix, mass_kg=50.0).lines
    order = [line.role for line in lines]
    if fibre is FibreKind.BUNDLED_GLASS:
        assert order[-1] is Role.FIBRE
        assert lines[-1].is_last
    if fibre is FibreKind.PVA:
        assert order[:2] == [Role.WATER, Role.FIBRE]
    assert mix.mixing.rest_s > 0.0


def test_all_shipped_mixes_are_the_usual_ones():
    assert len(shipped_mix_names()) == 6


@pytest.mark.parametrize("name", shipped_mix_names())
def test_a_shipped_mix_lies_in_the_published_ranges(name):
    assert limit_notes(read_mix(name), shipped_limits().limits) == ()


def test_the_fibre_of_the_sprayed_backer_is_chopped_at_the_gun():
    lines = weigh_out(read_mix("backer-sprayed"), mass_kg=50.0).lines
    assert [line.name for line in lines if line.charge.at_gun] == ["ar-glass-fibre"]


def test_heats_and_limits_are_given_in_si():
    heat = shipped_heat()
    assert (heat.heats.solids_j_kg_k, heat.heats.water_j_kg_k) == (920.0, 4184.0)
    assert (heat.drying.sensitive_kg_m2_h, heat.drying.plain_kg_m2_h) == (0.5, 1.0)
    assert (heat.trusted_ice_share, heat.most_ice_share) == (0.2, 0.75)
    thickness = shipped_limits().thickness
    assert (thickness.over_m, thickness.under_m) == (0.006, 0.0)


def test_common_practice_no_source_of_fibre_and_water():
    # Glass fibre about 3 % of dry: ours is 3 % of total, 3.7 % of dry.
    lines = weigh_out(read_mix("backer-poured"), mass_kg=100.0).lines
    assert lines[-1].shares.of_dry == pytest.approx(0.037, abs=0.0005)


def test_common_practice_no_source_of_water_in_a_sprayed_face_coat():
    # Water about 15 to 16.5 % of dry.
    sheet = weigh_out(read_mix("face-coat-sprayed"), mass_kg=100.0)
    dry_kg = sum(line.mass_kg for line in sheet.lines if line.role in {Role.CEMENT, Role.SAND})
    assert 0.15 <= sheet.water_total_kg / dry_kg <= 0.165 + 1e-12


def test_ingredients_cover_every_role_but_what_only_a_data_sheet_tells():
    roles = {one.ingredient.role for one in shipped_ingredients().values()}
    assert roles == set(Role) - {Role.PREMIX, Role.PLASTICIZER}


def test_only_the_dispersion_is_a_liquid():
    liquids = {
        name: one.ingredient.solids_share
        for name, one in shipped_ingredients().items()
        if one.ingredient.water_share
    }
    assert liquids == {"acrylic-dispersion": pytest.approx(0.48)}


def test_every_caution_cites_a_known_source():
    rows = shipped_toml("cautions.toml").tables["caution"]
    assert {row["source"] for row in rows} <= set(shipped_sources())
    assert all(row.get("seen", True) == shipped_sources()[row["source"]].seen for row in rows)


@pytest.mark.parametrize(
    "words",
    [
        "respirable silica: at most 50 ug/m3 over 8 h, action level 25 ug/m3 (29 CFR 1910.1053",
        "1926.1153",
        "Wet cement is caustic",
        "Glass fibre irritates",
        "below 30 psi with chip guarding (29 CFR 1910.242(b))",
        "Mixer guarded; power off",
        "Above 23 kg (51 lb)",
    ],
)
def test_the_cautions_of_a_fibred_mix_say(words):
    shipped = shipped_cautions()
    sentences = cautions_for([read_mix("backer-poured")], shipped.cautions, closing=shipped.closing)
    assert any(words in sentence for sentence in sentences)
    assert sentences[-1] == "Follow the safety data sheets and local rules."


def test_glass_fibre_is_cautioned_of_where_there_is_glass():
    shipped = shipped_cautions()
    shown = [
        any(
            "Glass fibre" in text
            for text in cautions_for([read_mix(name)], shipped.cautions, closing="")
        )
        for name in ("backer-packed", "backer-stiff-pva", "face-coat-sprayed")
    ]
    assert shown == [True, False, False]


def test_spray_mist_is_for_sprayed_mixes_only():
    shipped = shipped_cautions()
    shown = [
        any(
            "Spray mist" in text
            for text in cautions_for([read_mix(name)], shipped.cautions, closing="")
        )
        for name in ("face-coat-sprayed", "backer-poured")
    ]
    assert shown == [True, False]
