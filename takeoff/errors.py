"""Every exception of the package: one tree, each also the matching builtin.

TakeoffError
    QuantityError (ValueError)     a written quantity cannot be read, or lacks its unit
    DrawingError (ValueError)      a drawing cannot be used as it stands
        UnitMissingError           nobody told or declared the unit of the drawing
        MeshError                  empty, folded, damaged beyond mending
        OutlineError               open, crossing, empty
        LayerError                 the layer asked for is not there, or holds nothing
        UnreadableError            not a file of the kind, cut short, or of a kind not read
    SurfaceError (ValueError)      no show face can be told under the rules given
        DirectionMissingError      nobody told which side is the show face
    LayerVolumeError (ValueError)  a layer cannot be laid on the piece as asked
    MixError (ValueError)          a mix contradicts itself or lacks a figure
    BatchError (ValueError)        no batch satisfies mixer and pot life
    PriceError (LookupError)       an ingredient has no price or pack
    ShopFileError (ValueError)     a TOML file has a wrong, missing or unknown entry
    ArgumentError (TypeError)      a function is given what it does not take
    OutputError (OSError)          a result cannot be written
    MissingExtraError (ImportError)  a result needs an extra that is not installed
"""

from __future__ import annotations

from enum import StrEnum


class ErrorKind(StrEnum):
    """The kind printed beside an error in JSON; closed, one per class."""

    QUANTITY = "quantity"
    DRAWING = "drawing"
    UNIT_MISSING = "unit-missing"
    MESH = "mesh"
    OUTLINE = "outline"
    LAYER = "layer"
    UNREADABLE = "unreadable"
    SURFACE = "surface"
    DIRECTION_MISSING = "direction-missing"
    LAYER_VOLUME = "layer-volume"
    MIX = "mix"
    BATCH = "batch"
    PRICE = "price"
    SHOP_FILE = "shop-file"
    ARGUMENT = "argument"
    OUTPUT = "output"
    MISSING_EXTRA = "missing-extra"


class TakeoffError(Exception):
    """Whatever the package refuses, with what was found, where, and what would do.

    Parameters
    ----------
    text : str
        The sentence a person reads.
    where : str, default ""
        File, and line, entity, facet or key inside it.
    """

    kind: ErrorKind

    def __init__(self, text: str, *, where: str = "") -> None:
        super().__init__(text)
        self.text = text
        self.where = where

    def __str__(self) -> str:
        """Give the place and the text as one line.

        Examples
        --------
        >>> str(MeshError("no facets", where="a.stl"))
        'a.stl: no facets'
        """
        return f"{self.where}: {self.text}" if self.where else self.text

    def at(self, where: str) -> TakeoffError:
        """Give the same error with the place put in, where it has none yet.

        Parameters
        ----------
        where : str
            The place.

        Returns
        -------
        TakeoffError
            Itself, to be raised again.

        Examples
        --------
        >>> str(MeshError("no facets").at("a.stl"))
        'a.stl: no facets'
        """
        if not self.where:
            self.where = where
        return self

    def within(self, place: str) -> TakeoffError:
        """Give the same error with a wider place put before its own.

        Parameters
        ----------
        place : str
            The wider place.

        Returns
        -------
        TakeoffError
            Itself, to be raised again.

        Examples
        --------
        >>> str(MeshError("no facets", where="a.stl").within("job.toml:4: piece[1]"))
        'job.toml:4: piece[1]: a.stl: no facets'
        """
        self.where = f"{place}: {self.where}" if self.where else place
        return self


class QuantityError(TakeoffError, ValueError):
    """A written quantity cannot be read, or lacks its unit."""

    kind = ErrorKind.QUANTITY


class DrawingError(TakeoffError, ValueError):
    """A drawing cannot be used as it stands."""

    kind = ErrorKind.DRAWING


class UnitMissingError(DrawingError):
    """Nobody told or declared the unit of the drawing."""

    kind = ErrorKind.UNIT_MISSING


class MeshError(DrawingError):
    """A mesh is empty, folded or damaged beyond mending."""

    kind = ErrorKind.MESH


class OutlineError(DrawingError):
    """An outline is open, crosses itself or is empty."""

    kind = ErrorKind.OUTLINE


class LayerError(DrawingError):
    """The drawing layer asked for is not there, or holds nothing to measure."""

    kind = ErrorKind.LAYER


class UnreadableError(DrawingError):
    """The file is cut short, of another kind than it says, or of a kind not read."""

    kind = ErrorKind.UNREADABLE


class SurfaceError(TakeoffError, ValueError):
    """No show face can be told under the rules given."""

    kind = ErrorKind.SURFACE


class DirectionMissingError(SurfaceError):
    """Nobody told which side is the show face, or what kind of model it is."""

    kind = ErrorKind.DIRECTION_MISSING


class LayerVolumeError(TakeoffError, ValueError):
    """A layer cannot be laid on the piece as asked."""

    kind = ErrorKind.LAYER_VOLUME


class MixError(TakeoffError, ValueError):
    """A mix contradicts itself or lacks a figure."""

    kind = ErrorKind.MIX


class BatchError(TakeoffError, ValueError):
    """No batch satisfies mixer and pot life."""

    kind = ErrorKind.BATCH


class PriceError(TakeoffError, LookupError):
    """An ingredient has no price or pack."""

    kind = ErrorKind.PRICE


class ShopFileError(TakeoffError, ValueError):
    """A TOML file has a wrong, missing or unknown entry; all of them are listed.

    Parameters
    ----------
    text : str
        The sentence a person reads; for several faults a line for each.
    where : str, default ""
        File and line of the first.
    faults : tuple of (str, str), default ()
        Place and sentence of each; empty where there is one.
    """

    kind = ErrorKind.SHOP_FILE

    def __init__(
        self, text: str, *, where: str = "", faults: tuple[tuple[str, str], ...] = ()
    ) -> None:
        super().__init__(text, where=where)
        self.faults = faults


class ArgumentError(TakeoffError, TypeError):
    """A public function is given an argument of a type that it does not take."""

    kind = ErrorKind.ARGUMENT


class OutputError(TakeoffError, OSError):
    """A result cannot be written."""

    kind = ErrorKind.OUTPUT

    def __str__(self) -> str:
        """Give the place and the text, not the pair that OSError would make of them."""
        return TakeoffError.__str__(self)


class MissingExtraError(TakeoffError, ImportError):
    """A result needs an extra that is not installed."""

    kind = ErrorKind.MISSING_EXTRA

    def __str__(self) -> str:
        """Give the place and the text, as every error of the tree does."""
        return TakeoffError.__str__(self)
