"""Django's settings for the database alone; the pages add theirs."""

from __future__ import annotations

from tenthbook.faces.store.folder import data_folder

DATA_FOLDER = data_folder()
DATABASE_FILE = "shop.sqlite3"
INSTALLED_APPS = ["tenthbook.faces.store"]
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"
USE_TZ = True
TIME_ZONE = "UTC"
DATABASES = {
    "default": {
        "ENGINE": "django.db.backends.sqlite3",
        "NAME": DATA_FOLDER / DATABASE_FILE,
        "OPTIONS": {
            "transaction_mode": "IMMEDIATE",
            "timeout": 20,
            "init_command": "PRAGMA journal_mode=WAL;PRAGMA synchronous=FULL;PRAGMA foreign_keys=ON;",
        },
    }
}
