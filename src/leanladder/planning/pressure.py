"""Cold pressures for wanted hot ones: advice only within what the tyre's maker states."""

from __future__ import annotations

from leanladder.domain.errors import Fault, InputError
from leanladder.domain.ladder import ColdAdvice, Ladder
from leanladder.domain.tyre import Tyre
from leanladder.engine import gas


def cold_for_hot(
    tyre: Tyre, hot_bar: float, gas_c: float, set_c: float, altitude_m: float = 0.0
) -> float | None:
    """Return the cold gauge pressure [bar] at set_c [degC] that reads hot_bar [bar] at gas_c [degC].

    None where the tyre maker's minimum is not known: no cold pressure is advised without it. Never
    under that minimum: where the wanted hot pressure would need less, the minimum is returned.
    Raises InputError for a hot pressure or temperatures that cannot be meant.
    """
    for field, value, low, high in (
        ("hot_bar", hot_bar, 1.0, 4.5),
        ("gas_c", gas_c, -10.0, 130.0),
        ("set_c", set_c, -10.0, 60.0),
    ):
        if not low <= value <= high:
            raise InputError(
                "this cannot be meant.",
                Fault(field=field, value=f"{value:g}", allowed=f"{low:g} to {high:g}"),
            )
    if tyre.minimum_cold_bar is None:
        return None
    atmosphere = gas.atmosphere_bar(altitude_m)
    return max(gas.gauge_bar(hot_bar, gas_c, set_c, atmosphere), tyre.minimum_cold_bar)


def cold_advice(ladder: Ladder, front_bar: float, rear_bar: float) -> tuple[ColdAdvice, ColdAdvice]:
    """Return the cold pressures for wanted hot ones [bar gauge] at the end of the ladder's last lap.

    They are for the temperature at which the ladder's own cold pressures were set. Raises
    InputError for a hot pressure that cannot be meant.
    """
    session, last = ladder.session, ladder.laps[-1]
    set_c, altitude_m = session.cold_pressure.set_c, session.weather.altitude_m
    front, rear = session.front.tyre, session.rear.tyre
    front_cold = cold_for_hot(front, front_bar, last.front_end.gas_c, set_c, altitude_m)
    rear_cold = cold_for_hot(rear, rear_bar, last.rear_end.gas_c, set_c, altitude_m)
    return (
        ColdAdvice("front", front_bar, front_cold, front.minimum_cold_bar, set_c, last.lap),
        ColdAdvice("rear", rear_bar, rear_cold, rear.minimum_cold_bar, set_c, last.lap),
    )
