"""Compile ``annealer.c`` to ``annealer.wasm``; needs what the kernel's build needs."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

from scheduler.rotation.kernel.build import FLAGS, compiler

HERE = Path(__file__).parent


def build(output: Path) -> None:
    """Compile the annealer to a file.

    Raises
    ------
    FileNotFoundError
        If there is no clang.
    subprocess.CalledProcessError
        If it does not compile.
    """
    clang = compiler()
    if clang is None:
        raise FileNotFoundError("clang is needed to build the annealer")
    command = [clang, *FLAGS, "-o", str(output), str(HERE / "annealer.c")]
    subprocess.run(command, check=True)  # noqa: S603  our own file, fixed flags


if __name__ == "__main__":
    build(HERE / "annealer.wasm")
    sys.stdout.write(f"{(HERE / 'annealer.wasm').stat().st_size} bytes\n")
