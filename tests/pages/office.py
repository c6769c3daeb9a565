"""LibreOffice without a window: opens a workbook, reckons every formula anew, writes it again."""

import shutil
import subprocess
from pathlib import Path

import pytest

PROGRAM = shutil.which("soffice")
needs_office = pytest.mark.skipif(PROGRAM is None, reason="LibreOffice is not installed")

# 0 is "always" for files of this kind; left to itself it trusts the results it finds.
PROFILE = """<?xml version="1.0" encoding="UTF-8"?>
<oor:items xmlns:oor="http://openoffice.org/2001/registry">
<item oor:path="/org.openoffice.Office.Calc/Formula/Load">
<prop oor:name="OOXMLRecalcMode" oor:op="fuse"><value>0</value></prop></item>
</oor:items>
"""


def reckoned_again(content: bytes, folder: Path) -> bytes:
    """Give the same workbook with every formula reckoned by LibreOffice."""
    user = folder / "profile" / "user"
    user.mkdir(parents=True, exist_ok=True)
    if not (user / "registrymodifications.xcu").exists():
        (user / "registrymodifications.xcu").write_text(PROFILE, encoding="utf-8")
    (folder / "told.xlsx").write_bytes(content)
    target = folder / "reckoned"
    subprocess.run(
        [
            PROGRAM,
            "--headless",
            "--norestore",
            f"-env:UserInstallation={(folder / 'profile').as_uri()}",
            "--convert-to",
            "xlsx:Calc MS Excel 2007 XML",
            "--outdir",
            target,
            folder / "told.xlsx",
        ],
        check=True,
        capture_output=True,
        timeout=300,
    )
    return (target / "told.xlsx").read_bytes()
