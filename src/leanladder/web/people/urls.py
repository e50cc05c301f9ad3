"""Addresses of people's pages."""

from django.urls import path

from leanladder.web.people import views

urlpatterns = [
    path("first/", views.first, name="first"),
    path("login/", views.sign_in, name="login"),
    path("logout/", views.sign_out, name="logout"),
    path("people/", views.everyone, name="people"),
    path("people/<int:pk>/remove/", views.remove, name="people_remove"),
    path("own/", views.own, name="own"),
    path("own/password/", views.own_password, name="own_password"),
]
