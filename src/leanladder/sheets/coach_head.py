"""Head and foot of a coach's page: which session, for whom, until when, and what stands above it all."""

from __future__ import annotations

from leanladder.domain.circuit import Circuit
from leanladder.domain.ladder import Ladder
from leanladder.domain.paper import CoachSheet, Heading, NoSheet
from leanladder.domain.weather import Origin
from leanladder.sheets.figures import decimal
from leanladder.sheets.said import clock, dated, label, translation_mark

_ORIGINS: tuple[Origin, ...] = ("measured", "computed", "assumed")
_DIGEST = 12


def head_parts(page: CoachSheet | NoSheet, tongue: str) -> dict[str, object]:
    """Return a page's head as the template takes it."""
    heading = page.heading
    return {
        "kind": label("coach.title", tongue),
        "title": _title(page, tongue),
        "short": label("coach.session_only", tongue, session=heading.session),
        "place": _place(page, tongue),
        "people": _people(page, tongue),
        "word_label": _word_label(heading, tongue),
        # A page without a number bears no word and no bar: nobody must take it for a sheet.
        "word": heading.day_word if isinstance(page, CoachSheet) else None,
        "set": None if heading.set_name is None else label(f"page.set_{heading.set_name}", tongue),
        "bar": _bar(heading, tongue) if isinstance(page, CoachSheet) else [],
    }


def foot_parts(heading: Heading, ladder: Ladder | None, tongue: str) -> dict[str, object]:
    """Return a page's foot: the cautions, who gave it out, and what an underline says."""
    made = [label("page.closed_course", tongue)]
    given_out = _given_out(heading, tongue)
    if given_out:
        made.append(given_out)
    if ladder is not None:
        digest = ladder.parameters[:_DIGEST]
        made.append(label("coach.made_by", tongue, engine=ladder.engine, parameters=digest))
    return {
        "guide": label("page.guide_head", tongue),
        "made": " ".join(made),
        # Without figures there is nothing to underline.
        "underline": None if ladder is None else label("coach.underline", tongue),
        "origins": [[origin, label(f"coach.{origin}", tongue)] for origin in _ORIGINS if ladder],
        "mark": translation_mark(tongue),
        "page": label("coach.page", tongue, number="{}", count="{}"),
    }


def _bar(heading: Heading, tongue: str) -> list[str]:
    from_time, until_time = clock(heading.valid_from), clock(heading.valid_until)
    return [
        label("coach.valid", tongue, from_time=from_time, until_time=until_time),
        label("coach.dry_only", tongue),
        label("coach.void_if", tongue),
    ]


def _title(page: CoachSheet | NoSheet, tongue: str) -> str:
    heading = page.heading
    code = "session" if isinstance(page, CoachSheet) else "session_only"
    if heading.group.casefold() not in heading.session.casefold():
        code += "_group"
    level = page.level if isinstance(page, CoachSheet) else ""
    return label(f"coach.{code}", tongue, session=heading.session, group=heading.group, level=level)


def _place(page: CoachSheet | NoSheet, tongue: str) -> str:
    heading = page.heading
    where = label("coach.place_only", tongue, circuit=heading.circuit)
    if isinstance(page, CoachSheet):
        where = label(
            "coach.place",
            tongue,
            circuit=heading.circuit,
            direction=label(f"coach.{_direction(page.circuit)}", tongue),
            length_km=decimal(page.circuit.length_m / 1000, 2, tongue),
        )
    day = label("coach.day", tongue, date=dated(heading.date, tongue), school=heading.school)
    return f"{where} {day}"


def _people(page: CoachSheet | NoSheet, tongue: str) -> list[list[str]]:
    """Return who the page is for: words with a gap each, and the coaches, riders or machines for it."""
    told = (
        ("coach" if len(page.coaches) == 1 else "coaches", page.coaches),
        ("riders", page.riders),
        ("machines", page.machines),
    )
    return [[label(f"coach.{code}", tongue, names="{}"), ", ".join(names)] for code, names in told if names]


def _direction(circuit: Circuit) -> str:
    if circuit.net_turns == 0:
        return "eight"
    return "anticlockwise" if circuit.net_turns > 0 else "clockwise"


def _word_label(heading: Heading, tongue: str) -> str:
    if heading.set_name is None:
        return label("coach.day_word", tongue)
    return label("coach.day_word_set", tongue, set_name=heading.set_name.upper())


def _given_out(heading: Heading, tongue: str) -> str:
    if heading.given_out is None:
        return label("coach.given_out_by", tongue, head=heading.head) if heading.head else ""
    at = f"{heading.given_out:%H:%M}"
    if heading.head is None:
        return label("coach.given_out_at", tongue, at=at)
    return label("coach.given_out", tongue, at=at, head=heading.head)
