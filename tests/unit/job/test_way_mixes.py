from takeoff.job.way_mixes import PLACING_OF, WayMix, example_notes, way_mixes
from takeoff.mix.mixes import Placing
from takeoff.notes import NoteCode
from takeoff.piece.ways import Way
from tests.unit.job.trays_made import PACKED, POURED, SPRAYED, paste


def test_every_way_has_a_placing():
    assert set(PLACING_OF) == set(Way)
    assert set(PLACING_OF.values()) == set(Placing)


def test_the_mixes_of_the_job_come_before_the_shipped_ones():
    mixes = way_mixes([WayMix(POURED), WayMix(PACKED, lost_share=0.05)])
    assert mixes[Placing.POURED] == WayMix(POURED)
    assert mixes[Placing.PACKED] == WayMix(PACKED, lost_share=0.05)
    example = mixes[Placing.SPRAYED]
    assert (example.mix.name, example.told) == ("backer-sprayed", False)


def test_of_two_mixes_placed_alike_the_first_counts():
    other = paste("other", Placing.POURED, 0.4)
    assert way_mixes([WayMix(POURED), WayMix(other)])[Placing.POURED].mix is POURED


def test_an_example_is_noted_with_the_table_that_tells_the_shops_own():
    notes = {note.where: note for note in example_notes(way_mixes([WayMix(SPRAYED)]))}
    assert set(notes) == {"backer-packed", "backer-poured"}
    assert all(note.code is NoteCode.DEFAULT_USED for note in notes.values())
    assert "tell yours as the mix of [wall_backer]" in notes["backer-packed"].text
    assert "dammed or cored or filled" in notes["backer-poured"].text
    assert "tell yours as the mix of [backer]" in notes["backer-poured"].text


def test_nothing_is_noted_where_the_job_tells_all_mixes():
    told = [WayMix(mix) for mix in (POURED, PACKED, SPRAYED)]
    assert list(example_notes(way_mixes(told))) == []
