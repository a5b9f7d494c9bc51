"""The page as people meet it: on a narrow phone, by keyboard, by ear, in the dark, on paper."""

from __future__ import annotations

import base64
from collections.abc import Callable
from dataclasses import replace
from io import BytesIO
from pathlib import Path
from typing import Any

import pytest
from exporter_plans import make_plan, renamed
from page_driver import Phone
from pypdf import PdfReader
from selenium.webdriver.common.keys import Keys

from scheduler.domain.codec import plan_to_json
from scheduler.domain.event import Kind, Round
from scheduler.domain.plan import Plan, PlannedRound
from scheduler.exporters.page import page_of, take_home_of
from scheduler.readers.plan_file import plan_of_text

PARTS = ("me", "rounds", "courts", "cards", "met", "home", "scores", "quality")
RUNS_IF_TRUSTED = (
    "<script>window.hit = 1</script>",
    "</script><script>window.hit = 1</script>",
    '"><img src=x onerror="window.hit = 1">',
    "<svg onload=window.hit=1>",
    "</style><script>window.hit=1</script>",
    "javascript:window.hit=1",
    "{{ 7 * 7 }}{% raw %}",
    "<!--<script>",
    "&lt;b&gt;",
    "'onclick='window.hit=1",
    "]]><script>window.hit=1</script>",
    "${window.hit=1}`",
)
CONTRASTS = """
const parse = (text) => text.match(/[\\d.]+/g).map(Number);
const channel = (value) => {
  const part = value / 255;
  return part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4;
};
const luminance = ([r, g, b]) => 0.2126 * channel(r) + 0.7152 * channel(g) + 0.0722 * channel(b);
const ground = (element) => {
  for (let at = element; at; at = at.parentElement) {
    const colour = parse(getComputedStyle(at).backgroundColor);
    if (colour.length < 4 || colour[3] === 1) return colour;
  }
  return [255, 255, 255];
};
const found = [];
for (const element of document.querySelectorAll("body *")) {
  const own = [...element.childNodes].some((node) => node.nodeType === 3 && node.data.trim());
  if (!own && !element.value || !element.checkVisibility({ visibilityProperty: true })) continue;
  if (element.closest("script, style")) continue;
  const style = getComputedStyle(element);
  const colour = element instanceof SVGElement ? style.fill : style.color;
  const lights = [luminance(parse(colour)), luminance(ground(element))].sort((a, b) => b - a);
  const text = (element.textContent || element.value).trim().slice(0, 30);
  found.push([(lights[0] + 0.05) / (lights[1] + 0.05), element.tagName, text]);
}
return found;
"""


def trusting_plan() -> Plan:
    """Return a plan whose every text tries to run as markup."""
    plan = renamed(make_plan(len(RUNS_IF_TRUSTED), 3, 1, 3), RUNS_IF_TRUSTED[1])
    new = dict(zip((p.name for p in plan.event.players), RUNS_IF_TRUSTED, strict=True))
    people = tuple(replace(p, name=new[p.name]) for p in plan.event.players)
    courts = tuple(replace(c, name=f"{c.name}{RUNS_IF_TRUSTED[0]}") for c in plan.event.courts)
    named = {old.name: court.name for old, court in zip(plan.event.courts, courts, strict=True)}
    event = replace(plan.event, players=people, courts=courts, notes=RUNS_IF_TRUSTED[2])
    rounds = tuple(_renamed_round(planned, new, named) for planned in plan.rounds)
    return replace(plan, event=event, rounds=rounds, warnings=RUNS_IF_TRUSTED[:3])


def _renamed_round(
    planned: PlannedRound, new: dict[str, str], courts: dict[str, str]
) -> PlannedRound:
    def swap(names: tuple[str, ...]) -> tuple[str, ...]:
        return tuple(new[name] for name in names)

    people = ("players", "team_a", "team_b", "serving_order", "deuce_receivers")
    entries = []
    for entry in planned.courts:
        fields: dict[str, Any] = {
            name: swap(getattr(entry, name))
            for name in people
            if name in type(entry).__dataclass_fields__
        }
        entries.append(replace(entry, court=courts[entry.court], **fields))
    return replace(
        planned,
        courts=tuple(entries),
        resting=swap(planned.resting),
        absent=swap(planned.absent),
        topic=RUNS_IF_TRUSTED[3],
    )


def everywhere(phone: Phone) -> list[str]:
    """Return every part of the page that has a place in the bar."""
    return [part for part in PARTS if phone.driver.find_elements("css selector", f"#{part}")]


@pytest.mark.parametrize("make", [page_of, take_home_of])
def test_hostile_names_do_not_run(
    opened: Callable[..., Phone], make: Callable[[Plan], bytes]
) -> None:
    """Names, courts, topics and notes that are markup show as typed, and nothing runs."""
    phone = opened(trusting_plan(), "", make)
    assert phone.run("return window.hit") is None
    shown = phone.run("return document.body.textContent")
    assert all(name in shown for name in RUNS_IF_TRUSTED)
    assert phone.run("return document.scripts.length") == 2
    if make is page_of:
        phone.keep_score("R2C1")
        phone.tap("#k-point0")
        assert phone.run("return window.hit") is None


@pytest.mark.parametrize("make", [page_of, take_home_of])
def test_nothing_leaves_the_file(
    opened: Callable[..., Phone], make: Callable[[Plan], bytes]
) -> None:
    """Opening the page asks for the file itself and nothing else, and it may not ask."""
    phone = opened(make_plan(), "", make)
    asked = {url for url in phone.requests() if not url.startswith(("data:", "about:"))}
    assert {url.split(":")[0] for url in asked} == {"file"}
    assert len({url.split("#")[0] for url in asked}) == 1
    refused = phone.driver.execute_async_script(
        "const done = arguments[0]; fetch('http://127.0.0.1:9/').then(() => done('sent'),"
        " () => done('refused'))"
    )
    assert refused == "refused"
    assert any("Content Security Policy" in text for text in phone.complaints())


@pytest.mark.parametrize("hostile", [False, True], ids=["plain names", "hostile names"])
def test_no_sideways_scroll_on_a_narrow_phone(opened: Callable[..., Phone], hostile: bool) -> None:
    """At 360 px no part of the page is wider than the screen, nor is the score keeper."""
    phone = opened(make_plan(hostile=hostile, stations=True))
    phone.run("document.querySelectorAll('details').forEach((d) => { d.open = true; })")
    for part in everywhere(phone):
        phone.show(part)
        widest = phone.run(
            "return Math.max(document.documentElement.scrollWidth, ...[...document.querySelectorAll"
            "('section.on *')].filter((e) => !e.closest('svg, .sr, thead'))"
            ".map((e) => e.getBoundingClientRect().right))"
        )
        assert widest <= 360, part
    phone.keep_score("R4C1")
    keeper = phone.run(
        "const k = document.getElementById('keeper'); return [k.scrollWidth, k.clientWidth]"
    )
    assert keeper[0] <= keeper[1] <= 360


@pytest.mark.parametrize("dark", [False, True], ids=["light", "dark"])
def test_contrast_is_at_least_that_of_wcag_aa(opened: Callable[..., Phone], dark: bool) -> None:
    """All text stands out 4.5 to 1 or more (WCAG 2.2, success criterion 1.4.3)."""
    phone = opened(make_plan())
    phone.hold(360, 780, dark=dark)
    phone.run("document.querySelectorAll('details').forEach((d) => { d.open = true; })")
    seen = 0
    for part in everywhere(phone):
        phone.show(part)
        found = phone.run(CONTRASTS)
        seen += len(found)
        assert min(found)[0] >= 4.5, min(found)
    phone.keep_score("R4C1")
    found = phone.run(CONTRASTS)
    assert min(found)[0] >= 4.5, min(found)
    assert seen > 500


def test_every_control_has_a_name_for_a_screen_reader(opened: Callable[..., Phone]) -> None:
    """In Chromium's accessibility tree no button, field, choice or link is nameless."""
    phone = opened(make_plan())
    phone.driver.execute_cdp_cmd("Accessibility.enable", {})
    wanted = {"button", "textbox", "searchbox", "radio", "combobox", "link", "dialog"}
    seen: set[str] = set()
    for part in (*everywhere(phone), "keeper"):
        if part == "keeper":
            phone.keep_score("R4C1")
            phone.run(
                "document.querySelectorAll('dialog details').forEach((d) => { d.open = true; })"
            )
        else:
            phone.show(part)
        nodes = phone.driver.execute_cdp_cmd("Accessibility.getFullAXTree", {})["nodes"]
        for node in nodes:
            role = node.get("role", {}).get("value")
            if role in wanted and not node["ignored"]:
                seen.add(role)
                assert node["name"]["value"].strip(), (part, node)
    phone.driver.execute_cdp_cmd("Accessibility.disable", {})
    assert seen == wanted
    ids = phone.run("return [...document.querySelectorAll('[id]')].map((e) => e.id)")
    assert len(ids) == len(set(ids))
    assert phone.run("return document.documentElement.lang") == "en"


def test_a_score_is_kept_by_keyboard_alone(opened: Callable[..., Phone]) -> None:
    """Enter opens the keeper and counts points, Escape closes it, focus returns to the match."""
    phone = opened(make_plan(), "rounds")
    button = phone.find('#rounds button[data-k="R4C1"]')
    phone.run("arguments[0].focus()", button)
    button.send_keys(Keys.ENTER)
    assert phone.find("#keeper").is_displayed()
    reached = []
    for _ in range(3):
        phone.driver.switch_to.active_element.send_keys(Keys.TAB)
        reached.append(phone.driver.switch_to.active_element.get_attribute("id"))
    assert reached == ["k-close", "k-point0", "k-point1"]
    phone.driver.switch_to.active_element.send_keys(Keys.ENTER)
    assert phone.run("return document.getElementById('k-live').textContent").startswith(
        "love-fifteen. "
    )
    phone.driver.switch_to.active_element.send_keys(Keys.ESCAPE)
    assert not phone.find("#keeper").is_displayed()
    assert phone.driver.switch_to.active_element.get_attribute("data-k") == "R4C1"


def test_a_name_is_found_without_its_strokes(opened: Callable[..., Phone]) -> None:
    """Typing "lucja" finds Łucja, whose first letter Unicode does not take apart."""
    text = plan_to_json(make_plan()).replace("Inês Jade", "Łucja Jade")
    phone = opened(plan_of_text(text, Path("plan.json")).plan)
    phone.find("#find").send_keys("lucja")
    assert phone.text("#found") == "1 name"


def test_a_name_is_found_without_its_accents(opened: Callable[..., Phone]) -> None:
    """Typing "ines" leaves Inês alone and opens her evening; the page remembers her."""
    phone = opened(make_plan())
    phone.find("#find").send_keys("ines")
    shown = phone.run(
        "return [...document.querySelectorAll('.who:not([hidden])')].map((e) => [e.id, e.open])"
    )
    assert len(shown) == 1
    assert shown[0][1]
    assert "Inês Jade" in phone.text(f"#{shown[0][0]} summary")
    assert phone.text("#found") == "1 name"
    phone.driver.refresh()
    first = phone.find("#people details")
    assert (first.get_attribute("id"), first.get_attribute("open")) == (shown[0][0], "true")


def test_the_page_reads_without_script(opened: Callable[..., Phone]) -> None:
    """Where a viewer runs no script every evening, round and card is there, and no dead button."""
    phone = opened(make_plan())
    phone.driver.execute_cdp_cmd("Emulation.setScriptExecutionDisabled", {"value": True})
    try:
        phone.driver.refresh()
        assert all(phone.find(f"#{part}").is_displayed() for part in PARTS if part != "scores")
        buttons = phone.driver.find_elements("css selector", "button")
        assert buttons
        assert not any(button.is_displayed() for button in buttons)
    finally:
        phone.driver.execute_cdp_cmd("Emulation.setScriptExecutionDisabled", {"value": False})


def test_forty_players_stay_under_300_kilobytes() -> None:
    """40 players on 10 courts in 9 rounds of doubles, with drills too, make under 300 kB."""
    assert len(page_of(make_plan(40, 10, 0, 9))) < 300_000
    assert len(page_of(make_plan(40, 10, 3, 6, stations=True))) < 300_000


def test_the_same_plan_gives_the_same_bytes() -> None:
    """Page and take-home sheets depend on the plan alone; another paper changes the print size."""
    plan = make_plan()
    assert page_of(plan) == page_of(make_plan())
    assert take_home_of(plan) == take_home_of(make_plan())
    assert b"size: letter" in page_of(plan, "letter")


def test_everybodys_evening_is_printed_opened(opened: Callable[..., Phone]) -> None:
    """On paper each person's stops are there though closed on the screen, with the plan's id."""
    phone = opened(make_plan())
    phone.hold(1000, 900)
    printed = phone.driver.execute_cdp_cmd("Page.printToPDF", {"preferCSSPageSize": True})
    reader = PdfReader(BytesIO(base64.b64decode(printed["data"])))
    text = "\n".join(page.extract_text() for page in reader.pages)
    people = phone.run("return document.querySelectorAll('.who').length")
    assert text.count("18:30") >= people
    assert "revision 1" in text
    assert "Keep score" not in text
    width, height = (float(side) / 72 * 25.4 for side in reader.pages[0].mediabox[2:])
    assert (round(width), round(height)) == (210, 297)


def test_an_evening_of_drills_has_no_keeper(opened: Callable[..., Phone]) -> None:
    """Without matches there are no cards, no scores and no score keeper, and nothing complains."""
    phone = opened(make_plan(12, 3, 3, 0))
    assert not phone.driver.find_elements("css selector", "#keeper, #cards, #scores, [data-k]")
    for part in everywhere(phone):
        phone.show(part)


def test_open_rounds_say_where_seats_come_from(opened: Callable[..., Phone]) -> None:
    """A round that is not seated yet says so in the evening, the round and the court."""
    plan = make_plan(12, 3, 0, 2)
    asked = Round(Kind.UP_AND_DOWN, 1160, 25)
    later = PlannedRound(3, Kind.UP_AND_DOWN, 1160, 25, (), open=True)
    event = replace(plan.event, rounds=(*plan.event.rounds, asked))
    phone = opened(replace(plan, event=event, rounds=(*plan.rounds, later)))
    text = phone.run("return document.body.textContent")
    assert text.count("come from the results of the round before") == 12 + 1 + 3


def test_what_the_coach_types_is_kept(opened: Callable[..., Phone]) -> None:
    """A line typed on a take-home sheet is there again after a reload."""
    phone = opened(make_plan(), "", take_home_of)
    phone.find("textarea").send_keys("Bend the knees")
    phone.driver.refresh()
    assert phone.find("textarea").get_property("value") == "Bend the knees"
    assert len(phone.driver.find_elements("css selector", "article")) == 22
