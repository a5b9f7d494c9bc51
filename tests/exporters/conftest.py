"""What the exporters' tests share."""

from __future__ import annotations

import os
import shutil
import subprocess
from collections.abc import Callable, Sequence
from pathlib import Path

import pytest

Convert = Callable[[Sequence[Path], str, Path], None]


@pytest.fixture(scope="session")
def soffice(tmp_path_factory: pytest.TempPathFactory) -> Convert:
    """Convert files with LibreOffice; without it fail where CI runs, else skip."""
    program = shutil.which("soffice")
    if program is None:
        message = "LibreOffice (soffice) is not installed"
        if os.environ.get("CI"):
            pytest.fail(message)
        pytest.skip(message)

    profile = f"-env:UserInstallation={tmp_path_factory.mktemp('profile').as_uri()}"

    def convert(files: Sequence[Path], to: str, folder: Path) -> None:
        command = [program, profile, "--headless", "--convert-to", to, "--outdir", str(folder)]
        subprocess.run([*command, *map(str, files)], check=True, capture_output=True, timeout=300)

    return convert
