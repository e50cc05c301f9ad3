"""Every address of the app, by page group."""

from django.urls import URLPattern, URLResolver, include, path

from leanladder.web.home.views import home

GROUPS = ("people", "circuits", "stable", "days", "ladder", "live", "card", "briefing", "paper")

urlpatterns: list[URLPattern | URLResolver] = [
    path("", home, name="home"),
    *(path("", include(f"leanladder.web.{group}.urls")) for group in GROUPS),
]

handler400 = "leanladder.web.faults.bad_request"
handler403 = "leanladder.web.faults.forbidden"
handler404 = "leanladder.web.faults.not_found"
handler500 = "leanladder.web.faults.ours"
