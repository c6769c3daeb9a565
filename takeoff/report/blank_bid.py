"""The document of a bid with nothing in it: of one refused, or to try a sheet on."""

from __future__ import annotations

from takeoff.documents import BidDocument, Head


def blank_bid(head: Head, *, job: str, currency: str = "") -> BidDocument:
    """Give the document of a bid of no pieces: complete, and empty.

    Parameters
    ----------
    head : Head
        What the document begins with.
    job : str
        Name of the job.
    currency : str, default ""
        Its currency.

    Returns
    -------
    BidDocument
        The document.

    Examples
    --------
    >>> head = {"schema": "takeoff.bid/1", "version": "0", "settings": {}}
    >>> bid = blank_bid({**head, "notes": [], "errors": []}, job="hall")
    >>> bid["job"], bid["pieces"], bid["total"]
    ('hall', [], None)
    """
    return BidDocument(
        **head,
        job=job,
        date=None,
        currency=currency,
        pieces=[],
        skipped=[],
        materials=[],
        form_work=None,
        batch=None,
        pour_day=None,
        lines=[],
        material_total=None,
        total=None,
        total_range=None,
        cast_besides=[],
        assumptions=[],
        cautions=[],
        mix_cautions=[],
    )
