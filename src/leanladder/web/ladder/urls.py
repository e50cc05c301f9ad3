"""Addresses of the pages: ladder."""

from django.urls import URLPattern, path

from leanladder.web.ladder import tries, views

urlpatterns: list[URLPattern] = [
    path("ladder/<int:day_pk>/<path:run>/who/", views.run, name="ladder_run"),
    path("ladder/<int:day_pk>/<path:run>/<int:entry>/", views.ladder, name="ladder"),
    path("ladder/<int:day_pk>/<path:run>/<int:entry>/sources/", views.sources, name="ladder_sources"),
    path("try/<int:day_pk>/<path:run>/<int:entry>/draft", tries.draft, name="try_draft"),
    path("try/<int:day_pk>/<path:run>/<int:entry>/final", tries.final, name="try_final"),
]
