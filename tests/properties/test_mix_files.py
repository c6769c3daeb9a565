"""Whatever is done to a mix file, it is read, or refused at a place in it."""

from __future__ import annotations

import re
from importlib.resources import files

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from takeoff.errors import ShopFileError
from takeoff.files.mix_file import read_mix
from takeoff.files.shipped import shipped_mix_names
from takeoff.mix.weighing import weigh_out

# Entries that take any text, and so a date as well.
TEXTS = {"name", "source", "where"}

SCRAPS = st.one_of(
    st.sampled_from(
        ['"', "'", '"""', "[", "]", "[[", "{", "}", "=", "\n", ".", ",", "#", "\\", "\x00", "é"]
    ),
    st.sampled_from(
        ["0", "1e400", "nan", "true", "[]", "{}", "2026-11-25", '"-3 %"', '"0 %"', '"1e9 %"']
    ),
    st.sampled_from(
        ["\n[bag]\n", "\n[[dose]]\n", "\n[ingredient.x]\n", '\nkind = "premix"\n', "w_c = 0.3\n"]
    ),
)


@pytest.fixture(scope="module")
def texts() -> dict[str, str]:
    """Give the shipped mix files as text, by name."""
    folder = files("takeoff").joinpath("data", "mixes")
    return {
        name: folder.joinpath(f"{name}.toml").read_text(encoding="utf-8")
        for name in shipped_mix_names()
    }


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(data=st.data())
def test_a_spoilt_mix_file_is_read_or_refused(texts, tmp_path, data):
    text = texts[data.draw(st.sampled_from(shipped_mix_names()))]
    for _ in range(data.draw(st.integers(1, 3))):
        start = data.draw(st.integers(0, len(text)))
        end = data.draw(st.integers(start, min(len(text), start + 40)))
        text = text[:start] + data.draw(st.one_of(st.just(""), SCRAPS)) + text[end:]
    path = tmp_path / "spoilt.toml"
    path.write_text(text, encoding="utf-8", newline="")
    try:
        mix = read_mix(path)
    except ShopFileError as refusal:
        lines = str(refusal).split("\n")
        assert all(line.startswith(f"{path}") for line in lines)
    else:
        assert weigh_out(mix, volume_m3=0.020).volume_m3 == pytest.approx(0.020)


@given(data=st.data())
@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_a_value_of_another_kind_is_refused_at_its_line(texts, tmp_path, data):
    name = data.draw(st.sampled_from(shipped_mix_names()))
    rows = texts[name].split("\n")
    entries = [number for number, row in enumerate(rows) if " = " in row and row[0] != "#"]
    number = data.draw(st.sampled_from(entries))
    rows[number] = f"{rows[number].split(' = ')[0]} = 1979-05-27T07:32:00Z"
    path = tmp_path / "spoilt.toml"
    path.write_text("\n".join(rows), encoding="utf-8")
    if rows[number].split(" = ")[0] in TEXTS:
        return
    with pytest.raises(ShopFileError, match=f"^{re.escape(str(path))}:{number + 1}: "):
        read_mix(path)
