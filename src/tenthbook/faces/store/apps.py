"""Django's name for this room."""

from django.apps import AppConfig


class StoreConfig(AppConfig):
    """The store as a Django application."""

    name = "tenthbook.faces.store"
    label = "store"
