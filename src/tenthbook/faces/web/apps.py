"""Django's name for this room."""

from django.apps import AppConfig


class WebConfig(AppConfig):
    """The pages as a Django application."""

    name = "tenthbook.faces.web"
    label = "web"
