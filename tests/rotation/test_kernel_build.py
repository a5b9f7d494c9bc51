"""The compiled kernel in the package is what its source compiles to."""

from __future__ import annotations

import os
import shutil
from pathlib import Path

import pytest

from scheduler.rotation.kernel import build


def test_the_compiled_kernel_is_that_of_the_source(tmp_path: Path) -> None:
    """Compiling kernel.c anew with the same tools gives the very bytes of kernel.wasm."""
    if build.compiler() is None or shutil.which("wasm-ld") is None:
        message = "clang and wasm-ld (Debian: clang, lld) are needed to compile the kernel"
        if os.environ.get("CI"):
            pytest.fail(message)
        pytest.skip(message)
    build.build(tmp_path / "kernel.wasm")
    shipped = Path(build.__file__).with_name("kernel.wasm")
    assert (tmp_path / "kernel.wasm").read_bytes() == shipped.read_bytes()


def test_without_a_compiler_the_build_says_so(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Where there is no clang, building ends with a plain error and writes nothing."""
    monkeypatch.setattr(build, "compiler", lambda: None)
    with pytest.raises(FileNotFoundError, match="clang"):
        build.build(tmp_path / "kernel.wasm")
    assert not list(tmp_path.iterdir())
