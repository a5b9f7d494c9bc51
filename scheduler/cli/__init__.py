"""The command ``rota``: options in, words and exit codes out."""

from __future__ import annotations


def main() -> None:
    """Run the command line; the console script's entry point."""
    from scheduler.cli.app import run  # noqa: PLC0415  the version must not wait for typer

    run()
