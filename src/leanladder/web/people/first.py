"""Who may make the first head instructor: someone at the laptop, or who reads the code it printed."""

from __future__ import annotations

import hmac
import ipaddress
import os

from django.http import HttpRequest

VARIABLE = "LEANLADDER_FIRST_CODE"


def may_begin(request: HttpRequest) -> bool:
    """Return whether a request comes from the laptop itself or carries its code."""
    code, given = os.environ.get(VARIABLE, ""), request.GET.get("code", "")
    if code and hmac.compare_digest(code.encode(), given.encode()):
        return True
    return at_the_laptop(request)


def at_the_laptop(request: HttpRequest) -> bool:
    """Return whether a request comes from the laptop itself."""
    try:
        return ipaddress.ip_address(request.META.get("REMOTE_ADDR", "")).is_loopback
    except ValueError:
        return False
