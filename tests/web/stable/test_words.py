"""Everything of the catalogue has words in every language."""

from __future__ import annotations

import pytest

from leanladder import catalogue, wording


@pytest.mark.parametrize("language", wording.languages())
def test_models_tyres_and_surfaces_have_words(language: str) -> None:
    for name in catalogue.motorcycle_names():
        assert wording.text(f"stable_model.{name}", language)
    for name in catalogue.tyre_names():
        assert wording.text(f"stable_tyre.{name}", language)
    for name in catalogue.surface_names():
        assert wording.text(f"circuits.surface_{name}", language)
    for name in catalogue.level_names():
        assert wording.text(f"level.{name}", language)
