"""Worlds drawn afresh that ride ladders already planned: how often what was planned is more than there is.

`sessions` names what is planned; `laid` plans it; `drawing` draws worlds by another sampler than the
planner's; `outing` rides them along the plan, the rider's scatter forward; `counts` counts. Shared by
tests/planning/odds and scripts/odds.py.
"""
