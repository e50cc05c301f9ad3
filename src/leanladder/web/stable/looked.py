"""The tyres of several machines looked at in one go."""

from __future__ import annotations

from typing import Any

from django.db import transaction
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_POST

from leanladder.domain.errors import Fault, InputError
from leanladder.records import stable
from leanladder.records.models import Machine
from leanladder.web.access import head_only
from leanladder.web.mine import person_of
from leanladder.web.stable.machine_form import EDGES, ENDS, NEW
from leanladder.web.typed import whole_number

_SCRUBBED = {EDGES: True, NEW: False}
_BY_SIDE = ("scrubbed_left_deg", "scrubbed_right_deg")


@head_only
@require_POST
def looked(request: HttpRequest) -> HttpResponse:
    """Keep how both tyres of the ticked machines look; all else that is known of them stays."""
    seen = request.POST.get("tyres_seen", "")
    ticked = [key for each in request.POST.getlist("machine") if (key := whole_number(each)) is not None]
    if seen not in _SCRUBBED:
        raise InputError("it is not said how they look.", Fault(field="tyres", remedy="Choose one."))
    with transaction.atomic():
        for each in Machine.objects.filter(pk__in=ticked):
            states = {f"{end}_state": _state(each.written.get(f"{end}_state"), seen) for end in ENDS}
            stable.save_machine(each.name, {**each.written, **states}, each.guest, person_of(request))
    return redirect("machines")


def _state(known: dict[str, Any] | None, seen: str) -> dict[str, Any]:
    rest = {key: value for key, value in (known or {}).items() if key not in _BY_SIDE}
    return {**rest, "scrubbed": _SCRUBBED[seen]}
