"""What someone wants to try: a session with some of its figures changed."""

from __future__ import annotations

from dataclasses import dataclass, replace

from leanladder import catalogue
from leanladder.domain.session import FittedTyre, Session, Start
from leanladder.domain.weather import Road, Weather
from leanladder.planning.condition import at_coach_pace
from leanladder.planning.morning import settle_road


@dataclass(frozen=True, slots=True)
class Wishes:
    """What is tried instead of a session's own; None: as it is.

    air_c, track_c [degC]; cloud [0..1]; start, how the tyres start; tyre, a family that ships, front and
    rear, scrubbed and sound; level, by its name.
    """

    air_c: float | None = None
    track_c: float | None = None
    cloud: float | None = None
    start: Start | None = None
    tyre: str | None = None
    level: str | None = None

    @property
    def any(self) -> bool:
        """Whether anything is tried at all."""
        return self != Wishes()


def wished(session: Session, wishes: Wishes, road: Road | None = None) -> Session:
    """Return a session as it is wished; its road is worked out where none is given.

    Raises InputError for a value or a name that cannot be meant, OutsideModelError where there is no number.
    """
    return _levelled(_fitted(_weathered(session, wishes, road), wishes), wishes)


def in_weather(weather: Weather, wishes: Wishes) -> Weather:
    """Return weather as it is wished."""
    return replace(
        weather,
        air_c=weather.air_c if wishes.air_c is None else wishes.air_c,
        track_c=weather.track_c if wishes.track_c is None else wishes.track_c,
        cloud=weather.cloud if wishes.cloud is None else wishes.cloud,
    )


def _weathered(session: Session, wishes: Wishes, road: Road | None) -> Session:
    """The session in the weather wished; the road is computed anew where nobody measured or wished it."""
    weather = in_weather(session.weather, wishes)
    if weather != session.weather:
        if road is None:
            road, _ = settle_road(weather, has_shade=bool(session.circuit.shaded.any()))
        session = replace(session, weather=weather, road=road)
    return session if wishes.start is None else replace(session, start=wishes.start)


def _fitted(session: Session, wishes: Wishes) -> Session:
    if wishes.tyre is None:
        return session
    family = catalogue.tyre_family(wishes.tyre)
    return replace(
        session,
        front=FittedTyre(family.name, family.front),
        rear=FittedTyre(family.name, family.rear),
        front_state=None,
        rear_state=None,
    )


def _levelled(session: Session, wishes: Wishes) -> Session:
    if wishes.level is None:
        return session
    levelled = replace(session, level=catalogue.level(wishes.level))
    return at_coach_pace(levelled) if session.coach_pace else levelled
