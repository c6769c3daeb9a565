"""A page inside a notebook: in a frame of its own, which can run its scripts and nothing else."""

from __future__ import annotations

from dataclasses import dataclass
from html import escape


def notebook_frame(page: str, *, title: str = "bid", height_count: int = 720) -> str:
    """Put a page into a frame.

    Parameters
    ----------
    page : str
        The whole page.
    title : str, default "bid"
        What it is, for who hears it read.
    height_count : int, default 720
        Height of the frame in pixels.

    Returns
    -------
    str
        HTML of the frame, the page inside it.

    Examples
    --------
    >>> notebook_frame('<p title="a">', height_count=90)[-61:]
    'height:90px" srcdoc="&lt;p title=&quot;a&quot;&gt;"></iframe>'
    """
    style = f"width:100%;border:0;height:{height_count}px"
    return (
        f'<iframe sandbox="allow-scripts" title="{escape(title)}" style="{style}" '
        f'srcdoc="{escape(page)}"></iframe>'
    )


@dataclass(frozen=True, slots=True)
class PageView:
    """A whole page, shown by a notebook in a frame of its own.

    Parameters
    ----------
    page : str
        The HTML of the page.
    title : str, default "bid"
        What it is.
    """

    page: str
    title: str = "bid"

    def _repr_html_(self) -> str:
        """Give the frame."""
        return notebook_frame(self.page, title=self.title)
