"""The address that a code on paper leads to: one that a phone reaches, never the laptop's name for itself."""

from __future__ import annotations

import ipaddress

from django.http import HttpRequest

from leanladder.web.serve import own_address


def host_of(request: HttpRequest) -> str:
    """Return host and port as phones reach them: as the page was asked for, or the laptop's own."""
    host = request.get_host()
    name = host.rpartition("]")[0].lstrip("[") if host.startswith("[") else host.partition(":")[0]
    if not is_own(name):
        return host
    found, typed = own_address(), host.rpartition(":")[2]
    port = typed if typed.isdigit() and host != name else request.get_port()
    return f"[{found}]:{port}" if ":" in found else f"{found}:{port}"


def is_own(name: str) -> bool:
    """Return whether a name is one by which only the laptop itself reaches the app."""
    try:
        return ipaddress.ip_address(name).is_loopback
    except ValueError:
        return name == "localhost" or name.endswith(".localhost")
