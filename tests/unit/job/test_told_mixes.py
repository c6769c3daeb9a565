"""Mixes and cores that contradict the job, refused where the job file tells them."""

import pytest

import takeoff
from takeoff.errors import BatchError, PriceError, ShopFileError
from takeoff.notes import NoteCode
from tests.unit.job.hand_jobs import mix_toml, write_counter, write_panels
from tests.unit.job.test_hand_priced import changed


@pytest.mark.parametrize(
    ("old", "new", "message"),
    [
        (
            "[spare]",
            '[backer.return]\nway = "dammed"\n\n[spare]',
            r"job.toml:12: backer: a way is told .* our-backer is sprayed and stands by itself",
        ),
        (
            "[spare]",
            '[wall_backer]\nmix = "backer-packed"\n\n[spare]',
            r"job.toml:17: wall_backer: is for walls beside a poured backer, and our-backer",
        ),
        (
            "edge = {E3 = 0}",
            'edge = {E3 = 0}\nwall = {R1 = "packed"}',
            r"job.toml:25: piece\[1\]: panel: \[piece.wall\] tells .* leave it out",
        ),
        (
            "edge = {E3 = 0}",
            'edge = {E3 = 0}\nwall = {U1 = "packed"}',
            r"job.toml:25: piece\[1\]: panel: \[piece.wall\] names U1; .* are R1, R2, R3",
        ),
        (
            "600 x 250 x 10 mm",
            "600 x 250 x 200 mm",
            r"job.toml:25: piece\[1\]: panel: its cores take 30 L, the backer around them only",
        ),
        (
            "600 x 250 x 10 mm",
            "6000 x 25 x 10 mm",
            r"piece\[1\]: panel: core foam is 6000 mm long, more than the piece, 1443 mm",
        ),
    ],
)
def test_what_contradicts_a_sprayed_backer_or_its_piece_is_refused(tmp_path, old, new, message):
    job = changed(write_panels(tmp_path), ("job.toml", old, new))
    with pytest.raises(BatchError, match=message):
        takeoff.bid(job)


@pytest.mark.parametrize(
    ("old", "new", "message"),
    [
        (
            '[wall_backer]\nmix = "packed.toml"\n',
            "",
            r"piece\[1\]: counter: walls are packed while the backer is poured; tell with what",
        ),
        (
            'mix = "packed.toml"',
            'mix = "poured.toml"',
            r"job.toml:20: wall_backer: our-poured is poured, and does not stand on walls either",
        ),
        (
            'mix = "packed.toml"',
            'mix = "backer-sprayed"',
            r"job.toml:28: piece\[1\]: counter: walls are packed, and backer-sprayed",
        ),
    ],
)
def test_packed_walls_need_a_mix_that_is_packed(tmp_path, old, new, message):
    job = changed(write_counter(tmp_path), ("job.toml", old, new))
    with pytest.raises(BatchError, match=message):
        takeoff.bid(job)


def test_two_mixes_of_one_name_are_refused(tmp_path):
    job = write_counter(tmp_path)
    twin = mix_toml("our-poured", "2000", "grey-cement", layer="backer", placing="packed")
    (tmp_path / "packed.toml").write_text(twin, encoding="utf-8")
    with pytest.raises(BatchError, match=r"job.toml:13: backer: its mix is called our-poured as"):
        takeoff.bid(job)


def test_a_price_spelt_otherwise_is_offered_for_what_has_none(tmp_path):
    job = changed(write_panels(tmp_path), ("shop.toml", '"sand"', '"Snad"'))
    with pytest.raises(PriceError, match="price for 'Snad', which may be meant for 'sand'"):
        takeoff.bid(job)


def test_a_currency_too_long_to_print_is_refused_in_plain_words(tmp_path):
    job = changed(write_panels(tmp_path), ("job.toml", '"EUR"', '"euro and cent"'))
    with pytest.raises(ShopFileError, match=r"job.toml:5: job.currency: must have at most 8 lett"):
        takeoff.bid(job)


def test_a_mix_of_the_other_layer_is_noted(tmp_path):
    job = changed(write_panels(tmp_path), ("job.toml", '"backer.toml"', '"face.toml"'))
    notes = [note for note in takeoff.bid(job).notes if note.code is NoteCode.MIX_LIMIT]
    assert "is a face coat by its own file, and is cast as backer; is that meant?" in [
        note.text for note in notes
    ]


def test_a_backer_of_walls_that_none_takes_is_noted_and_not_cast(tmp_path):
    job = changed(write_counter(tmp_path), ("job.toml", 'U1 = "packed"', 'U1 = "cored"'))
    made = takeoff.bid(job)
    assert [lot.mix.name for lot in made.lots] == ["our-face", "our-poured"]
    [note] = [note for note in made.notes if "nothing of [wall_backer] is mixed" in note.text]
    assert note.where == "our-packed"


def test_forms_cast_in_turn_are_noted_where_no_clock_counts_their_batches(tmp_path):
    made = takeoff.bid(write_panels(tmp_path))
    [note] = [note for note in made.notes if "are cast in turn" in note.text]
    assert (note.code, note.where) == (NoteCode.DEFAULT_USED, "panel")
    assert note.text.startswith("3 castings in 2 forms")


def test_one_form_cast_in_more_than_once_is_one_form(tmp_path):
    job = changed(write_panels(tmp_path), ("job.toml", "forms = 2", "forms = 1"))
    [note] = [note for note in takeoff.bid(job).notes if "are cast in turn" in note.text]
    assert note.text.startswith("3 castings in 1 form are cast in turn")
