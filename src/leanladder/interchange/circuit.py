"""leanladder.circuit/1: a circuit as JSON."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from leanladder.domain.circuit import Circuit, Corner
from leanladder.domain.ladder import Notice
from leanladder.interchange.envelope import envelope

SCHEMA = "leanladder.circuit/1"


def circuit_object(
    circuit: Circuit, *, inputs: Mapping[str, Any], warnings: Sequence[Notice] = ()
) -> dict[str, Any]:
    """Return the leanladder.circuit/1 object; inputs are what was asked, remarks become warnings."""
    remarks = [Notice("circuit_remark", remark) for remark in circuit.remarks]
    return envelope(
        SCHEMA,
        parameters=None,
        inputs=inputs,
        cautions=(),
        warnings=[*remarks, *warnings],
        body={"circuit": circuit_body(circuit)},
    )


def circuit_body(circuit: Circuit) -> dict[str, Any]:
    """Return the `circuit` object: length [m], net turns, corners in riding order; figures unrounded."""
    return {
        "name": circuit.name,
        "length_m": float(circuit.length_m),
        "net_turns": circuit.net_turns,
        "pit_exit_m": circuit.pit_exit_m,
        "pit_entry_m": circuit.pit_entry_m,
        "zone": circuit.zone,
        "closed_course": circuit.closed_course,
        "hard_upright_allowed": circuit.hard_upright_allowed,
        "corners": [_corner(corner) for corner in circuit.corners],
    }


def _corner(corner: Corner) -> dict[str, Any]:
    return {
        "number": corner.number,
        "name": corner.name or None,
        "side": corner.side,
        "start_m": float(corner.start_m),
        "apex_m": float(corner.apex_m),
        "end_m": float(corner.end_m),
        "radius_m": float(corner.radius_m),
        "turn_deg": float(corner.turn_deg),
        "same_side_gap_m": float(corner.same_side_gap_m),
    }
