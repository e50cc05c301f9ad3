"""A machine's form: a few fields at once, all that a day's file may say of it behind them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, ClassVar

from django import forms
from django.core.exceptions import ValidationError

from leanladder.web.stable import words
from leanladder.web.stable.form import LONGEST_NAME, FigureField, WordedForm, unchanged

Written = dict[str, Any]
ENDS = ("front", "rear")
# Pairs of pressures: their keys in a machine's entry.
PAIRS = ("minimum", "hot", "home")
# How far a tyre is scrubbed, as the form asks for it.
UNSEEN, EDGES, NEW, SIDES, EACH = "", "edges", "new", "sides", "each"
_CROWNS = ("round", "squared", "worn")
# A machine's own start; one off a stop is a session's, and stays where a day's file brought it.
_STARTS = ("cold", "warmers")
_STATE = ("seen", "left_deg", "right_deg", "crown", "date_code", "heat_cycles", "plugged")


def _state_names(end: str) -> tuple[str, ...]:
    return tuple(f"{end}_{name}" for name in _STATE)


def _state_fields(end: str) -> dict[str, forms.Field]:
    """Return the fields of one tyre as someone looked at it."""
    made: tuple[forms.Field, ...] = (
        forms.ChoiceField(required=False),
        FigureField("deg"),
        FigureField("deg"),
        forms.ChoiceField(required=False),
        forms.CharField(required=False, max_length=4, widget=forms.TextInput(attrs={"inputmode": "numeric"})),
        FigureField(),
        forms.BooleanField(required=False),
    )
    return dict(zip(_state_names(end), made, strict=True))


class MachineForm(WordedForm):
    """A machine: name, model, tyres and how they look; pressures, each tyre and its start behind that."""

    first = ("name", "machine", "tyre", "tyres_seen", "guest")
    more: ClassVar[dict[str, Sequence[str]]] = {
        "front_tyre": _state_names("front"),
        "rear_tyre": _state_names("rear"),
        "pressures": (
            "cold_front_bar", "cold_rear_bar", "cold_set_c", "gauge_offset_bar",
            *(f"{pair}_{end}_bar" for pair in PAIRS for end in ENDS),
        ),
        "start": ("start_kind", "warmers_c", "on_min", "off_min"),
        "two_tyres": ENDS,
    }  # fmt: skip

    name = forms.CharField(max_length=LONGEST_NAME)
    machine = forms.ChoiceField()
    tyre = forms.ChoiceField()
    tyres_seen = forms.ChoiceField(required=False)
    guest = forms.BooleanField(required=False)
    cold_front_bar, cold_rear_bar, gauge_offset_bar = (FigureField("bar") for _ in range(3))
    cold_set_c = FigureField("degC")
    minimum_front_bar, minimum_rear_bar = FigureField("bar"), FigureField("bar")
    hot_front_bar, hot_rear_bar = FigureField("bar"), FigureField("bar")
    home_front_bar, home_rear_bar = FigureField("bar"), FigureField("bar")
    start_kind = forms.ChoiceField(required=False)
    warmers_c = FigureField("degC")
    on_min, off_min = FigureField("min"), FigureField("min")
    front, rear = forms.ChoiceField(required=False), forms.ChoiceField(required=False)

    def __init__(self, *args: Any, **kwargs: Any) -> None:  # noqa: ANN401  # Django's signature
        super().__init__(*args, **kwargs)
        self.kept_start: Written = self.initial.get("start") or {}
        tyres = words.tyre_choices(self.language)
        self.choose_first("machine", words.model_choices(self.language))
        self.choose_first("tyre", tyres)
        self.choose("tyres_seen", self._worded("tyres", (UNSEEN, EDGES, NEW, EACH)))
        kept = self.kept_start.get("kind")
        starts = (*_STARTS, kept) if kept and kept not in _STARTS else _STARTS
        self.choose("start_kind", [("", self.said("start_open")), *self._worded("start", starts)])
        for end in ENDS:
            self.choose(end, [("", self.said("same_tyre")), *tyres])
            self.choose(f"{end}_seen", self._worded("seen", (UNSEEN, EDGES, NEW, SIDES)))
            self.choose(f"{end}_crown", self._worded("crown", _CROWNS))

    def _worded(self, group: str, names: Sequence[str]) -> list[tuple[str, str]]:
        return [(name, self.said(f"{group}_{name or 'unseen'}")) for name in names]

    def clean(self) -> dict[str, Any]:
        """Refuse figures that count only with a choice that was not made."""
        data = self.cleaned_data
        for end in ENDS:
            figures = [data.get(f"{end}_{side}_deg") for side in ("left", "right")]
            sides = data.get(f"{end}_seen") == SIDES
            if sides != (None not in figures) or (not sides and figures != [None, None]):
                self.add_error(f"{end}_seen", ValidationError(self.said("both_sides")))
            cycles = data.get(f"{end}_heat_cycles")
            if cycles is not None and cycles != round(cycles):
                self.add_error(f"{end}_heat_cycles", ValidationError(self.said("no_number")))
        return data

    def written(self) -> Written:
        """Return the machine's entry of a day's file, without its name, of clean data."""
        data = {name: unchanged(self, name, value) for name, value in self.cleaned_data.items()}
        entry: Written = {"machine": data["machine"], **_tyres(data)}
        cold = {
            "front_bar": data["cold_front_bar"],
            "rear_bar": data["cold_rear_bar"],
            "set_c": data["cold_set_c"],
        }
        tables = {
            "cold": cold,
            **{end + "_state": _state(data, end) for end in ENDS},
            "start": _start(data, self.kept_start),
            **{pair: {f"{end}_bar": data[f"{pair}_{end}_bar"] for end in ENDS} for pair in PAIRS},
        }
        entry["gauge_offset_bar"] = data["gauge_offset_bar"]
        entry |= {key: table for key, table in tables.items() if _stated(table)}
        return {key: value for key, value in entry.items() if value is not None}


for _end in ENDS:
    MachineForm.base_fields.update(_state_fields(_end))


def _stated(table: Mapping[str, Any]) -> bool:
    return any(value is not None for value in table.values())


def _tyres(data: Mapping[str, Any]) -> Written:
    """Return which tyres are fitted: one family where both ends have it."""
    front, rear = data["front"] or data["tyre"], data["rear"] or data["tyre"]
    return {"tyre": front} if front == rear else {"front": front, "rear": rear}


def _state(data: Mapping[str, Any], end: str) -> Written:
    """Return one tyre as it was looked at; without any figure nobody looked."""
    whole = data["tyres_seen"] if data["tyres_seen"] != EACH else UNSEEN
    seen = data[f"{end}_seen"] or whole
    state: Written = {
        "scrubbed": {EDGES: True, NEW: False}.get(seen),
        "scrubbed_left_deg": data[f"{end}_left_deg"] if seen == SIDES else None,
        "scrubbed_right_deg": data[f"{end}_right_deg"] if seen == SIDES else None,
        "crown": None if data[f"{end}_crown"] in {"", "round"} else data[f"{end}_crown"],
        "date_code": data[f"{end}_date_code"] or None,
        "heat_cycles": None if data[f"{end}_heat_cycles"] is None else round(data[f"{end}_heat_cycles"]),
        "plugged": True if data[f"{end}_plugged"] else None,
    }
    return {key: value for key, value in state.items() if value is not None}


def _start(data: Mapping[str, Any], kept: Written) -> Written:
    """Return how the tyres start, where it is stated."""
    kind = data["start_kind"]
    if kind not in _STARTS:
        return dict(kept) if kind else {}
    keys = ("warmers_c", "on_min", "off_min") if kind == "warmers" else ()
    return {"kind": kind, **{key: data[key] for key in keys}}


def initial_of(name: str, guest: bool, written: Mapping[str, Any]) -> Written:
    """Return what a machine's form shows of its entry."""
    tyre = written.get("tyre") or written.get("front")
    start = written.get("start") or {}
    cold = written.get("cold") or {}
    states = [written.get(f"{end}_state") or {} for end in ENDS]
    seen = [_seen(state) for state in states]
    alike = seen[0] == seen[1] and seen[0] != SIDES
    shown: Written = {
        "name": name,
        "guest": guest,
        "machine": written.get("machine"),
        "tyre": tyre,
        "front": _other(written.get("front"), tyre),
        "rear": _other(written.get("rear"), tyre),
        "tyres_seen": seen[0] if alike else EACH,
        "gauge_offset_bar": written.get("gauge_offset_bar"),
        "cold_set_c": cold.get("set_c"),
        **{f"cold_{end}_bar": cold.get(f"{end}_bar") for end in ENDS},
        **{
            f"{pair}_{end}_bar": (written.get(pair) or {}).get(f"{end}_bar") for pair in PAIRS for end in ENDS
        },
        "start": start,
        "start_kind": start.get("kind", ""),
        **{key: start.get(key) for key in ("warmers_c", "on_min", "off_min")},
    }
    for end, state, found in zip(ENDS, states, seen, strict=True):
        shown[f"{end}_seen"] = UNSEEN if alike else found
        shown |= {f"{end}_{side}_deg": state.get(f"scrubbed_{side}_deg") for side in ("left", "right")}
        shown |= {f"{end}_{key}": state.get(key) for key in ("crown", "date_code", "heat_cycles", "plugged")}
    return shown


def _other(name: str | None, tyre: str | None) -> str:
    return name if name is not None and name != tyre else ""


def _seen(state: Mapping[str, Any]) -> str:
    if not state:
        return UNSEEN
    if "scrubbed" not in state:
        return SIDES
    return EDGES if state["scrubbed"] else NEW
