"""Addresses of the pages: stable."""

from django.urls import URLPattern, path

from leanladder.web.stable import looked, own, views

urlpatterns: list[URLPattern] = [
    path("machines/", views.machines, name="machines"),
    path("machines/looked/", looked.looked, name="machines_looked"),
    path("machines/new/", views.new_machine, name="machine_new"),
    path("machines/<int:pk>/", views.one_machine, name="machine"),
    path("machines/<int:pk>/remove/", views.remove_machine, name="machine_remove"),
    path("riders/", views.riders, name="riders"),
    path("riders/new/", views.new_rider, name="rider_new"),
    path("riders/list/", views.paste, name="riders_paste"),
    path("riders/<int:pk>/", views.one_rider, name="rider"),
    path("riders/<int:pk>/remove/", views.remove_rider, name="rider_remove"),
    path("files/", own.every, name="own_files"),
    path("files/example/<str:kind>/", own.example, name="own_file_example"),
    path("files/<int:pk>/", own.one, name="own_file"),
    path("files/<int:pk>/download/", own.give, name="own_file_give"),
    path("files/<int:pk>/remove/", own.remove, name="own_file_remove"),
]
