"""The road of a session in weather that is tried, near enough while a control moves."""

from __future__ import annotations

from dataclasses import replace

from leanladder.domain.errors import OutsideModelError
from leanladder.domain.session import Session
from leanladder.domain.weather import Road, Weather
from leanladder.planning.morning import settle_road
from leanladder.planning.tries.wishes import Wishes, in_weather
from leanladder.planning.weather_checks import check_weather

SLOPE_K = 4.0  # of air, over which the road's answer is taken


class Roads:
    """Roads of one session by what is wished, without following a day of sun for each step of a control.

    Another air moves a computed road along its slope, and the shade beside a track that is wished not at all;
    another cloud is computed once. Where the air moves, what a plan says at rest of frost and dew counts.
    """

    def __init__(self, session: Session) -> None:
        self._session = session
        self._shade = bool(session.circuit.shaded.any())
        self._under: dict[float, Road] = {}
        self._slope: tuple[float, float] | None = None

    def of(self, wishes: Wishes) -> Road:
        """Return the road that is wished.

        Raises InputError for a value that cannot be meant, OutsideModelError where there is no number.
        """
        weather = self._session.weather
        check_weather(in_weather(weather, wishes))
        if wishes.track_c is not None:
            # the day of sun that is followed for its shade is kept: only another cloud takes a while
            return self._settled(in_weather(weather, replace(wishes, air_c=None)))
        road = self._session.road if wishes.cloud is None else self._clouded(wishes.cloud)
        if wishes.air_c is None or road.origin == "measured":
            return road
        by_k, (open_k, shaded_k) = wishes.air_c - weather.air_c, self._slopes()
        return replace(road, open_c=road.open_c + open_k * by_k, shaded_c=road.shaded_c + shaded_k * by_k)

    def _settled(self, weather: Weather) -> Road:
        return settle_road(weather, has_shade=self._shade)[0]

    def _clouded(self, cloud: float) -> Road:
        if cloud not in self._under:
            self._under[cloud] = self._settled(replace(self._session.weather, cloud=cloud))
        return self._under[cloud]

    def _slopes(self) -> tuple[float, float]:
        """How much the road in the open and in the shade follows the air [K/K]; as the air where unknown."""
        if self._slope is None:
            own, weather = self._session.road, self._session.weather
            try:
                other = self._settled(replace(weather, air_c=weather.air_c + SLOPE_K))
            except OutsideModelError:
                return 1.0, 1.0
            self._slope = (
                (other.open_c - own.open_c) / SLOPE_K,
                (other.shaded_c - own.shaded_c) / SLOPE_K,
            )
        return self._slope
