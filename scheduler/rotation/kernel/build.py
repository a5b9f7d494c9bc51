"""Compile ``kernel.c`` to ``kernel.wasm``; needs Debian's clang and lld or the like.

The compiled file is kept in the repository so that users need no compiler; a
test compiles it again and compares.
"""

from __future__ import annotations

import shutil
import subprocess
import sys
from pathlib import Path

HERE = Path(__file__).parent
FLAGS = (
    "--target=wasm32",
    "-O3",
    "-std=c11",
    "-nostdlib",
    "-fno-builtin",
    "-Wall",
    "-Werror",
    "-Wl,--no-entry",
    "-Wl,--export=__heap_base",
    "-Wl,--strip-all",
)


def compiler() -> str | None:
    """Return the path of a clang on this machine, or None."""
    return shutil.which("clang")


def compile_to(source: Path, output: Path) -> None:
    """Compile one C file to WebAssembly.

    Raises
    ------
    FileNotFoundError
        If there is no clang.
    subprocess.CalledProcessError
        If it does not compile.
    """
    clang = compiler()
    if clang is None:
        raise FileNotFoundError(f"clang is needed to build {source.name}")
    command = [clang, *FLAGS, "-o", str(output), str(source)]
    subprocess.run(command, check=True)  # noqa: S603  our own file, fixed flags


def build(output: Path) -> None:
    """Compile the kernel to a file; raises what `compile_to` does."""
    compile_to(HERE / "kernel.c", output)


if __name__ == "__main__":
    build(HERE / "kernel.wasm")
    sys.stdout.write(f"{(HERE / 'kernel.wasm').stat().st_size} bytes\n")
