"""The shipped catalogue: complete, within its own ranges, and clear about names it lacks."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import fields, is_dataclass, replace
from importlib.resources import as_file, files
from pathlib import Path

import pytest

from leanladder.catalogue import (
    digest,
    level,
    level_names,
    motorcycle,
    motorcycle_names,
    parameters,
    sources,
    surface,
    surface_names,
    table_names,
    tyre_family,
    tyre_names,
)
from leanladder.domain.errors import InputError
from leanladder.domain.parameter import Parameter


def shipped() -> list[object]:
    """Everything with figures in it that ships."""
    return [
        *(tyre_family(name) for name in tyre_names()),
        *(motorcycle(name) for name in motorcycle_names()),
        *(level(name) for name in level_names()),
        *(parameters(name) for name in table_names()),
    ]


def figures(item: object) -> Iterator[tuple[str, Parameter]]:
    """Every named figure within an item."""
    named = item.items() if hasattr(item, "items") else []
    if is_dataclass(item):
        named = [(field.name, getattr(item, field.name)) for field in fields(item)]
    for name, value in named:
        if isinstance(value, Parameter):
            yield name, value
        elif is_dataclass(value):
            yield from figures(value)


def test_the_first_family_and_machine_ship() -> None:
    assert "sport-road" in tyre_names()
    assert "middleweight-sport" in motorcycle_names()


def test_every_figure_has_a_source_and_lies_within_its_own_range() -> None:
    for item in shipped():
        for name, figure in figures(item):
            assert figure.source.strip(), name
            assert figure.unit, name
            assert figure.spread >= 0.0, name
            assert figure.low is None or figure.low <= figure.value, name
            assert figure.high is None or figure.value <= figure.high, name


def test_levels_are_those_of_the_design() -> None:
    """Shares, tops and card factors as the project's design states them (judgement)."""
    assert level_names() == ("new", "regular", "experienced")
    levels = [level(name) for name in level_names()]
    assert [item.grip_share.value for item in levels] == [0.50, 0.65, 0.80]
    assert [item.top_lean_deg.value for item in levels] == [30.0, 40.0, 50.0]
    assert [item.usual_lean_deg.value for item in levels] == [30.0, 38.0, 48.0]
    factors = [item.card_factor.value for item in levels]
    assert factors[0] == 1.0
    assert factors == sorted(factors)
    assert all(factor <= most for factor, most in zip(factors, (1.0, 1.15, 1.3), strict=True))
    assert [item.warming for item in levels] == [False, True, True]


def test_a_more_careful_level_never_has_more_of_anything_but_scatter() -> None:
    careful, middle, most = (level(name) for name in level_names())
    for name, _ in figures(careful):
        values = [getattr(item, name).value for item in (careful, middle, most)]
        assert values == sorted(values, reverse="scatter" in name), name


def test_surfaces_by_name_and_by_figures() -> None:
    assert surface_names() == ("ordinary", "polished", "abrasive")
    typed = surface("0.8:0.3")
    assert (typed.texture_mm, typed.polish) == (0.8, 0.3)
    assert surface("polished").polish > surface("ordinary").polish > surface("abrasive").polish


def test_the_card_table_holds_the_cautious_guide() -> None:
    """Common practice (trade fact T1): about 10 deg at 0 degC, about 17 deg at 10 degC."""
    card = parameters("planning.card")
    assert 9.0 <= card["at_0_deg"].value <= 10.0
    assert 16.0 <= card["at_10_deg"].value <= 17.0


@pytest.mark.parametrize(
    ("look_up", "name", "near"),
    [
        (tyre_family, "sport-raod", "sport-road"),
        (tyre_family, "Sport-Road", "sport-road"),
        (motorcycle, "midleweight-sport", "middleweight-sport"),
        (level, "newer", "new"),
        (level, "expert", "experienced"),
        (surface, "polish", "polished"),
        (parameters, "planing", "planning"),
    ],
)
def test_an_unknown_name_names_the_nearest_and_lists_all(
    look_up: Callable[[str], object], name: str, near: str
) -> None:
    with pytest.raises(InputError) as caught:
        look_up(name)
    fault = caught.value.fault
    assert fault.value == name
    assert fault.remedy == f"Did you mean {near}?"
    assert fault.allowed is not None
    assert near in fault.allowed.split(", ")


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("0.8:", "neither a name nor two numbers"),
        ("0.8:0.3:1", "neither a name nor two numbers"),
        ("rough:0.3", "neither a name nor two numbers"),
        ("0.0008:0.3", "looks like m"),
        ("0.8:30", "looks like %"),
        ("nan:0.3", "out of range"),
    ],
)
def test_a_malformed_surface_is_refused(text: str, said: str) -> None:
    with pytest.raises(InputError, match=said):
        surface(text)


def test_a_shipped_name_wins_over_a_file_of_that_name(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "sport-road").write_text("not a tyre")
    monkeypatch.chdir(tmp_path)
    assert tyre_family("sport-road").name == "sport-road"


def test_the_digest_follows_the_figures() -> None:
    family = tyre_family("sport-road")
    hotter = replace(family.rear, working_high_c=replace(family.rear.working_high_c, value=90.0))
    assert digest(family) == digest(tyre_family("sport-road"))
    assert digest(family) != digest(replace(family, rear=hotter))
    assert digest(family, level("new")) != digest(family, level("regular"))
    assert len(digest(family)) == 12


def test_sources_lists_each_source_once() -> None:
    listed = sources(tyre_family("sport-road"), parameters("planning.card"))
    assert list(listed) == sorted(set(listed))
    assert any("judgement" in source for source in listed)
    assert any("common practice" in source for source in listed)


def test_the_examples_tyre_and_machine_can_be_used_as_they_are() -> None:
    folder = files("leanladder").joinpath("data", "example")
    with as_file(folder.joinpath("tyre.toml")) as path:
        tyre = tyre_family(str(path))
    with as_file(folder.joinpath("machine.toml")) as path:
        machine = motorcycle(str(path))
    assert tyre.front.minimum_cold_bar is not None
    assert tyre.rear.compound.fade_from_c.value < tyre_family("sport-road").rear.compound.fade_from_c.value
    assert machine.clearance_left_deg.value != machine.clearance_right_deg.value
