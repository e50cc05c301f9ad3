"""The network drops in mid-form: what was typed stays, outlives the page, and is taken once it is back."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from tests.browser.conftest import Paddock

Looks = Callable[..., Any]


@pytest.mark.parametrize("size", ["phone", "laptop"])
def test_what_was_typed_outlives_a_drop(looks: Looks, paddock: Paddock, size: str) -> None:
    page = looks(size, paddock.head)
    page.goto("/machines/new/")
    name = page.get_by_label("Name or number")
    name.fill(f"spare {size}")
    page.get_by_label("Model").select_option("naked")
    page.get_by_label("Tyres", exact=True).select_option("sport-road")
    page.context.set_offline(True)
    page.get_by_role("button", name="Keep", exact=True).click()
    page.get_by_text("The laptop does not answer.").wait_for()
    assert name.input_value() == f"spare {size}"
    page.context.set_offline(False)
    page.goto("/machines/")
    page.goto("/machines/new/")
    page.get_by_text("What you typed before is back.").wait_for()
    assert name.input_value() == f"spare {size}"
    assert page.get_by_label("Model").input_value() == "naked"
    page.get_by_role("button", name="Keep", exact=True).click()
    page.get_by_role("link", name=f"spare {size}").wait_for()
    page.goto("/machines/new/")
    assert name.input_value() == ""
    assert not page.get_by_text("What you typed before is back.").is_visible()


def test_a_drop_that_ends_lets_the_same_page_be_sent(looks: Looks, paddock: Paddock) -> None:
    page = looks("phone", paddock.head)
    page.goto("/machines/new/")
    page.get_by_label("Name or number").fill("spare again")
    page.get_by_label("Model").select_option("naked")
    page.get_by_label("Tyres", exact=True).select_option("sport-road")
    keep = page.get_by_role("button", name="Keep", exact=True)
    page.context.set_offline(True)
    keep.click()
    page.get_by_text("The laptop does not answer.").wait_for()
    page.context.set_offline(False)
    keep.click()
    page.get_by_role("link", name="spare again").wait_for()
    assert not page.get_by_text("The laptop does not answer.").is_visible()
