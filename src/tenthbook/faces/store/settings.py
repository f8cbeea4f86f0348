"""Django's settings for the database alone; the pages add theirs."""

from __future__ import annotations

from tenthbook.faces.store.folder import data_folder
from tenthbook.faces.store.place import database_of

DATA_FOLDER = data_folder()
INSTALLED_APPS = ["django.contrib.contenttypes", "django.contrib.auth", "tenthbook.faces.store"]
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"
USE_TZ = True
TIME_ZONE = "UTC"
DATABASES = {"default": database_of(DATA_FOLDER)}
PASSWORD_HASHERS = [
    "django.contrib.auth.hashers.ScryptPasswordHasher",
    "django.contrib.auth.hashers.PBKDF2PasswordHasher",
]
