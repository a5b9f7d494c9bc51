"""Putting a page together: templates, one style sheet and one script, all in one file.

Nothing is fetched: the content security policy forbids every request, and lets
only the page's own style sheet and script run, which it knows by their digests.
"""

from __future__ import annotations

import base64
import hashlib
from functools import cache
from importlib.resources import files
from typing import Any

from jinja2 import Environment, PackageLoader, StrictUndefined
from jinja2.utils import htmlsafe_json_dumps
from markupsafe import Markup, escape

from scheduler.exporters.text import isolated

_PACKAGE = "scheduler.exporters.page"
PAPERS = {"a4": "A4", "letter": "letter"}


@cache
def _environment() -> Environment:
    environment = Environment(
        loader=PackageLoader(_PACKAGE), autoescape=True, undefined=StrictUndefined
    )
    environment.filters["name"] = _name
    return environment


def _name(label: str) -> Markup:
    """Return a label as markup, kept in its own direction where that could turn others round."""
    if isolated(label) == label:
        return escape(label)
    return Markup("<bdi>{}</bdi>").format(label)


def asset(name: str) -> str:
    """Return the text of a file in ``assets``."""
    return files(_PACKAGE).joinpath("assets", name).read_text(encoding="utf-8")


def script_of(*names: str) -> str:
    """Return script files as one strict script that shares no names with anybody."""
    body = "\n".join(asset(name) for name in names)
    head = 'const data = JSON.parse(document.getElementById("data").textContent);'
    return f'(() => {{\n"use strict";\n{head}\n{body}}})();\n'


def style_of(name: str, paper: str, plan_id: str, revision: int) -> str:
    """Return a style sheet that prints on the paper given, the plan's id at the foot."""
    foot = f"plan {plan_id}, revision {revision}, page "
    return (
        f"@page {{ size: {PAPERS[paper]}; margin: 10mm 12mm 14mm; @bottom-right "
        f'{{ content: "{foot}" counter(page); font: 8pt sans-serif; }} }}\n{asset(name)}'
    )


def html_page(template: str, css: str, js: str, data: Any, **content: Any) -> bytes:
    """Return a whole page as UTF-8.

    Parameters
    ----------
    template
        The template's file name.
    css, js
        The one style sheet and the one script.
    data
        What the script works on, anything JSON can hold.
    content
        What the template lays out; text in it is escaped.
    """
    text = (
        _environment()
        .get_template(template)
        .render(
            css=Markup(css),  # noqa: S704  our own file
            js=Markup(js),  # noqa: S704  our own file
            data=htmlsafe_json_dumps(data, ensure_ascii=False, separators=(",", ":")),
            policy=policy(css, js),
            **content,
        )
    )
    return text.encode("utf-8", "replace")


def policy(css: str, js: str) -> str:
    """Return a content security policy that allows this style sheet, this script, nothing else."""
    return (
        f"default-src 'none'; style-src '{_digest(css)}'; script-src '{_digest(js)}'; "
        "img-src data:; base-uri 'none'; form-action 'none'"
    )


def _digest(text: str) -> str:
    digest = hashlib.sha256(text.encode("utf-8")).digest()
    return f"sha256-{base64.b64encode(digest).decode()}"
