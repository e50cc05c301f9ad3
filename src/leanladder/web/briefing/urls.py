"""Addresses of the pages: briefing."""

from django.urls import URLPattern, path

from leanladder.web.briefing import views

urlpatterns: list[URLPattern] = [
    path("days/<int:day_pk>/briefing/", views.runs, name="briefing"),
    path("days/<int:day_pk>/briefing/<int:run_pk>/", views.run, name="briefing_run"),
    path("days/<int:day_pk>/briefing/<int:run_pk>/ways/", views.ways, name="briefing_ways"),
    path("days/<int:day_pk>/briefing/<int:run_pk>/<slug:slug>/", views.page, name="briefing_page"),
]
