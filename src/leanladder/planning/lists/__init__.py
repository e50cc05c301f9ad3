"""The head instructor's lists: the evening before, which set counts, the morning, cold pressures."""

from leanladder.planning.lists.choice import set_choice
from leanladder.planning.lists.evening import evening_list
from leanladder.planning.lists.morning import morning_list
from leanladder.planning.lists.pressures import pressure_rows

__all__ = ["evening_list", "morning_list", "pressure_rows", "set_choice"]
