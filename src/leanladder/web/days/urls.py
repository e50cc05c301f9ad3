"""Addresses of a day's pages."""

from django.urls import URLPattern, path

from leanladder.web.days import groups, ladders, lists, sessions, views, weather

urlpatterns: list[URLPattern] = [
    path("days/new/", views.new, name="day_new"),
    path("days/demo/", views.demo, name="day_demo"),
    path("days/import/", views.take_in, name="day_import"),
    path("days/<int:pk>/", views.one, name="day"),
    path("days/<int:pk>/head/", views.head, name="day_head"),
    path("days/<int:pk>/weather/", weather.weather, name="day_weather"),
    path("days/<int:pk>/groups/", groups.groups, name="day_groups"),
    path("days/<int:pk>/groups/coaches/", groups.keep_coaches, name="day_coaches"),
    path("days/<int:pk>/groups/one/", groups.keep_group, name="day_group"),
    path("days/<int:pk>/groups/places/", groups.keep_places, name="day_places"),
    path("days/<int:pk>/groups/by-level/", groups.by_level, name="day_by_level"),
    path("days/<int:pk>/sessions/", sessions.sessions, name="day_sessions"),
    path("days/<int:pk>/sessions/in-turn/", sessions.in_turn, name="day_in_turn"),
    path("days/<int:pk>/ladders/", ladders.ladders, name="day_ladders"),
    path("days/<int:pk>/ladders/progress/", views.ladders_ask, name="day_progress"),
    path("days/<int:pk>/assumed/", lists.assumptions, name="day_assumed"),
    path("days/<int:pk>/lists/", lists.index, name="day_lists"),
    path("days/<int:pk>/lists/<str:kind>/", lists.one, name="day_list"),
    path("days/<int:pk>/export/", views.export, name="day_export"),
    path("days/<int:pk>/remove/", views.remove, name="day_remove"),
]
