"""The page for a phone, and the sheets to take home: one HTML file each, no network."""

from __future__ import annotations

from scheduler.domain.plan import Plan


def page_of(plan: Plan, paper: str = "a4") -> bytes:
    """Return the page of a plan: everybody's evening, rounds, courts, a score keeper.

    The same plan gives the same bytes.

    Parameters
    ----------
    plan
        The plan.
    paper
        ``"a4"`` or ``"letter"``, for printing.
    """
    from scheduler.exporters.page.content import build_page  # noqa: PLC0415  jinja2 is slow

    return build_page(plan, paper)


def take_home_of(plan: Plan, paper: str = "a4") -> bytes:
    """Return a sheet for each person to take home, two a page, as one HTML file.

    The coach can type one thing to work on for each before printing; what is
    left blank prints as a line to write on.
    """
    from scheduler.exporters.page.content import build_take_home  # noqa: PLC0415  jinja2 is slow

    return build_take_home(plan, paper)
