"""Every name a folder offers in ``__all__`` is there, described, and stays what it is called."""

from __future__ import annotations

import importlib
import inspect
import pkgutil
import types

import pytest

import scheduler

MODULES = [
    module.name
    for module in pkgutil.walk_packages(scheduler.__path__, "scheduler.")
    if not module.name.endswith("__main__")
]
OFFERING = [
    name for name in ("scheduler", *MODULES) if hasattr(importlib.import_module(name), "__all__")
]


def test_the_engine_and_the_checker_offer_their_way_in() -> None:
    """The two main jobs are a single import each, from the folder's own name."""
    assert {"scheduler.rotation", "scheduler.checker"} <= set(OFFERING)
    from scheduler.checker import check, recount  # noqa: PLC0415  that this works is what is shown
    from scheduler.rotation import EFFORTS, solve  # noqa: PLC0415

    assert all(callable(function) for function in (check, recount, solve))
    assert list(EFFORTS) == ["quick", "normal", "thorough"]


@pytest.mark.parametrize("name", OFFERING)
def test_what_is_offered_exists_and_is_described(name: str) -> None:
    """Each offered name exists, is offered once, and each function or class has a docstring."""
    module = importlib.import_module(name)
    assert len(set(module.__all__)) == len(module.__all__)
    for offered in module.__all__:
        thing = getattr(module, offered)
        if isinstance(thing, types.FunctionType | type):
            assert inspect.getdoc(thing), f"{name}.{offered}"


def test_the_version_is_that_of_the_package() -> None:
    """The version a plan carries is the one the package was installed under."""
    from importlib.metadata import version  # noqa: PLC0415

    assert scheduler.__version__ == version("doubles-rota")
