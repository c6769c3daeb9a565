"""Bids of the ferry hall for tests of printed sheets, with and without a clock."""

from __future__ import annotations

import shutil
from collections.abc import Mapping
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

import takeoff
from takeoff.documents import BidDocument
from tests.house.walking import ROOT

SAMPLES = ROOT / "samples" / "ferry-hall"


@cache
def bid_without_clock() -> BidDocument:
    return takeoff.bid(SAMPLES / "job.toml").to_dict()


@cache
def bid_with_clock() -> BidDocument:
    """The pour of the ferry hall."""
    return bid_of({})


@cache
def bid_of_material() -> BidDocument:
    """The same, with nothing charged besides material."""
    _, told, charges = (SAMPLES / "pour-shop.toml").read_text(encoding="utf-8").partition("# What")
    return bid_of({told + charges: ""})


def bid_of(replaced: Mapping[str, str]) -> BidDocument:
    """The same with words of its job and shop replaced."""
    with TemporaryDirectory() as folder:
        copy = shutil.copytree(SAMPLES, Path(folder) / "job")
        for path in (copy / "pour-shop.toml", copy / "pour-day.toml"):
            text = path.read_text(encoding="utf-8")
            for old, new in replaced.items():
                text = text.replace(old, new)
            path.write_text(text, encoding="utf-8")
        return takeoff.bid(copy / "pour-day.toml").to_dict()
