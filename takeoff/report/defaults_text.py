"""The defaults in force as text."""

from __future__ import annotations

from itertools import groupby

from takeoff.documents import DefaultsDocument, RuleRow


def defaults_text(document: DefaultsDocument) -> str:
    """Write the defaults in force as text.

    Parameters
    ----------
    document : DefaultsDocument
        The document.

    Returns
    -------
    str
        Subject by subject, each with value, reason and source; no line feed at the end.

    Examples
    --------
    >>> from takeoff.facade.rules_in_force import rules_in_force
    >>> print(defaults_text(rules_in_force()).splitlines()[0])
    clock (common practice, no source)
    """
    parts = []
    for (subject, source), rows in groupby(
        document["rules"], key=lambda row: (row["subject"], row["source"])
    ):
        parts.append("\n".join([f"{subject} ({source})", *(_line(row) for row in rows)]))
    return "\n\n".join(parts)


def _line(row: RuleRow) -> str:
    value = row["value"]
    written = f"{value:g}" if isinstance(value, float) else str(value)
    unit = "" if row["unit"] in {None, "-"} else f" {row['unit']}"
    told = f" Tell {row['told_by']}." if row["told_by"] else ""
    return f"- {row['name']} = {written}{unit}: {row['reason']}{told}"
