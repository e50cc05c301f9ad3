"""Django's name for this package."""

from django.apps import AppConfig


class WebConfig(AppConfig):
    """The pages: no tables of its own."""

    name = "leanladder.web"
    label = "web"
