"""What forms of circuits and of the stable share: labels by code, figures as people type them, sections."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any, ClassVar, NamedTuple

from django import forms
from django.core.exceptions import ValidationError
from django.forms import BoundField

from leanladder import wording
from leanladder.domain.errors import LeanladderError
from leanladder.units import convert

Choices = list[tuple[str, str]]
LONGEST_NAME = 60
# Units of the reader by those inside: metric as they are.
IMPERIAL = {"bar": "psi", "degC": "degF"}
_SHOWN = {"bar": "bar", "psi": "psi", "degC": "°C", "degF": "°F", "deg": "°", "min": "min", "m": "m"}
# Digits after the point that a figure is shown with; what is kept has two more.
_DIGITS = {"bar": 2, "psi": 1}


class Section(NamedTuple):
    """Fields that stand together: the code of their heading, and whether they are shown at once."""

    code: str
    fields: list[BoundField]
    open: bool


class FigureField(forms.Field):
    """A number in the reader's unit, with a point or a comma; cleaned to the unit inside, or None."""

    widget = forms.TextInput

    def __init__(self, unit: str = "", *, digits: int | None = None, **kwargs: Any) -> None:  # noqa: ANN401
        kwargs.setdefault("required", False)
        super().__init__(**kwargs)
        self.unit, self.shown_unit, self.digits = unit, unit, digits
        self.widget.attrs.update({"inputmode": "decimal", "autocomplete": "off"})

    def prepare_value(self, value: Any) -> Any:  # noqa: ANN401  # Django's signature
        """Return a figure kept as the reader's text; what was typed as it is."""
        if not isinstance(value, int | float):
            return value
        digits = _DIGITS.get(self.shown_unit, 1) if self.digits is None else self.digits
        shown = convert(float(value), self.unit, self.shown_unit) if self.unit else float(value)
        return _short(shown, digits)

    def clean(self, value: Any) -> float | None:  # noqa: ANN401  # Django's signature
        """Return the figure in the unit inside; raises ValidationError for what is no number."""
        text = str(value or "").strip().replace(",", ".").replace("\u2212", "-")
        if not text:
            if self.required:
                raise ValidationError(self.error_messages["required"])
            return None
        try:
            typed = float(text)
        except ValueError:
            raise ValidationError(self.error_messages["invalid"]) from None
        if not abs(typed) < 1e9:  # infinities, and what is no number
            raise ValidationError(self.error_messages["invalid"])
        return round(convert(typed, self.shown_unit, self.unit) if self.unit else typed, 4)


def _short(value: float, digits: int) -> str:
    """Return a figure with so many digits after the point, without noughts at the end."""
    text = f"{value:.{digits}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def shown_figure(value: float, unit: str, units: str) -> str:
    """Return a figure [unit] in the reader's unit, with the unit behind it."""
    reader = IMPERIAL.get(unit, unit) if units == "imperial" else unit
    figure = _short(convert(value, unit, reader), _DIGITS.get(reader, 1))
    return f"{figure} {_SHOWN.get(reader, reader)}"


class WordedForm(forms.Form):
    """A form whose labels and helps come from wording, `group.name` and `group.name_help`.

    first: the fields shown at once; more: the others by the code of their heading.
    """

    group: ClassVar[str] = "stable"
    first: ClassVar[Sequence[str]] = ()
    more: ClassVar[dict[str, Sequence[str]]] = {}

    def __init__(
        self,
        *args: Any,  # noqa: ANN401  # Django's signature
        language: str = "en",
        units: str = "metric",
        **kwargs: Any,  # noqa: ANN401
    ) -> None:
        super().__init__(*args, **kwargs)
        self.language = language
        for name, field in self.fields.items():
            field.error_messages["required"] = self.said("needed")
            field.error_messages["invalid"] = self.said("no_number")
            field.label = self.said(name)
            if isinstance(field, FigureField) and field.unit:
                field.shown_unit = IMPERIAL.get(field.unit, field.unit) if units == "imperial" else field.unit
                field.label = f"{field.label} [{_SHOWN[field.shown_unit]}]"
            field.help_text = self._help(name)

    def said(self, code: str, **figures: object) -> str:
        """Return a text of this form's group in the reader's language."""
        return wording.text(f"{self.group}.{code}", self.language, **figures)

    def _help(self, name: str) -> str:
        try:
            return self.said(f"{name}_help")
        except wording.WordingError:
            return ""

    def choose(self, name: str, choices: Iterable[tuple[str, str]]) -> None:
        """Give a field its choices."""
        field = self.fields[name]
        if not isinstance(field, forms.ChoiceField):
            raise TypeError(name)
        field.choices = list(choices)

    def choose_first(self, name: str, choices: Choices) -> None:
        """Give a field its choices, none of them chosen beforehand unless there is but one."""
        self.choose(name, choices if len(choices) == 1 else [("", self.said("choose")), *choices])

    @property
    def first_fields(self) -> list[BoundField]:
        """The fields shown at once."""
        return [self[name] for name in self.first or self.fields]

    @property
    def sections(self) -> list[Section]:
        """The other fields; a section is open where something in it is wrong."""
        return [
            Section(f"{self.group}.{code}", bound, any(each.errors for each in bound))
            for code, names in self.more.items()
            for bound in [[self[name] for name in names if name in self.fields]]
        ]

    def refuse(self, error: LeanladderError) -> None:
        """Say above the form what the records or the planner refused, and what to do."""
        self.add_error(None, told(error))


def told(error: LeanladderError) -> str:
    """Return an error as text for a page: message, place and value, what is allowed, what to do."""
    fault = error.fault
    parts = [error.message[:1].upper() + error.message[1:]]
    place = ": ".join(part for part in (fault.field, fault.value) if part)
    if place or fault.allowed:
        parts.append(f"[{'; '.join(part for part in (place, fault.allowed) if part)}]")
    if fault.remedy:
        parts.append(fault.remedy)
    return " ".join(parts)


def unchanged(form: WordedForm, name: str, value: float | None) -> float | None:
    """Return a figure as it was kept where its text was not touched: no drift through units."""
    kept = form.initial.get(name)
    field = form.fields[name]
    if isinstance(kept, int | float) and isinstance(field, FigureField):
        typed = str(form[name].data or "").strip().replace(",", ".")
        if typed == field.prepare_value(kept):
            return float(kept)
    return value
