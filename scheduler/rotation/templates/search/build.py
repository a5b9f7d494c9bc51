"""Compile ``annealer.c`` to ``annealer.wasm``; needs what the kernel's build needs."""

from __future__ import annotations

import sys
from pathlib import Path

from scheduler.rotation.kernel.build import compile_to

HERE = Path(__file__).parent


def build(output: Path) -> None:
    """Compile the annealer to a file; raises what `compile_to` does."""
    compile_to(HERE / "annealer.c", output)


if __name__ == "__main__":
    build(HERE / "annealer.wasm")
    sys.stdout.write(f"{(HERE / 'annealer.wasm').stat().st_size} bytes\n")
