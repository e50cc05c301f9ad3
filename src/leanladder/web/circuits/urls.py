"""Addresses of the pages: circuits."""

from django.urls import URLPattern, path

from leanladder.web.circuits import changing, views

urlpatterns: list[URLPattern] = [
    path("circuits/", views.every, name="circuits"),
    path("circuits/new/", views.new, name="circuit_new"),
    path("circuits/example-notes/", views.example_notes, name="circuit_example_notes"),
    path("circuits/<int:pk>/", views.one, name="circuit"),
    path("circuits/<int:pk>/notes/", views.notes_file, name="circuit_notes"),
    path("circuits/<int:pk>/line/", views.line_file, name="circuit_line"),
    path("circuits/<int:pk>/closed/", changing.closed, name="circuit_closed"),
    path("circuits/<int:pk>/other-way/", changing.other_way, name="circuit_other_way"),
    path("circuits/<int:pk>/names/", changing.names, name="circuit_names"),
    path("circuits/<int:pk>/join/", changing.join, name="circuit_join"),
    path("circuits/<int:pk>/split/", changing.split, name="circuit_split"),
    path("circuits/<int:pk>/take-back/", changing.take_back, name="circuit_take_back"),
    path("circuits/<int:pk>/facts/", changing.facts, name="circuit_facts"),
    path("circuits/<int:pk>/stretches/<str:key>/", changing.stretches, name="circuit_stretches"),
    path("circuits/<int:pk>/as-file/", changing.as_file, name="circuit_as_file"),
    path("circuits/<int:pk>/remove/", changing.remove, name="circuit_remove"),
]
