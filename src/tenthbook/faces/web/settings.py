"""Django's settings for the pages, on those of the store."""

from __future__ import annotations

import os
import secrets
from pathlib import Path

from tenthbook.faces.store.settings import DATA_FOLDER, DATABASES, DEFAULT_AUTO_FIELD, INSTALLED_APPS, TIME_ZONE, USE_TZ

__all__ = ["DATABASES", "DEFAULT_AUTO_FIELD", "INSTALLED_APPS", "TIME_ZONE", "USE_TZ"]


def _secret_key(folder: Path) -> str:
    """Read the key that signs form tokens, made once for each data folder and readable by its owner only."""
    file = folder / "form-key"
    try:
        descriptor = os.open(file, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
    except FileExistsError:
        return file.read_text(encoding="ascii")
    with os.fdopen(descriptor, "w", encoding="ascii") as made:
        made.write(secrets.token_urlsafe(48))
    return file.read_text(encoding="ascii")


DEBUG = False
SECRET_KEY = _secret_key(DATA_FOLDER)
ALLOWED_HOSTS = ["localhost", "127.0.0.1", "[::1]"]
INSTALLED_APPS = [*INSTALLED_APPS, "django.contrib.staticfiles", "tenthbook.faces.web"]
ROOT_URLCONF = "tenthbook.faces.web.urls"
MIDDLEWARE = [
    "tenthbook.faces.web.security.Headers",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
]
TEMPLATES = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "APP_DIRS": True,
        "OPTIONS": {"context_processors": ["django.template.context_processors.request"]},
    }
]
STATIC_URL = "/static/"
WHITENOISE_USE_FINDERS = True
WHITENOISE_ALLOW_ALL_ORIGINS = False
CSRF_COOKIE_HTTPONLY = True
CSRF_COOKIE_SAMESITE = "Strict"
CSRF_FAILURE_VIEW = "tenthbook.faces.web.views.stale_form"
USE_I18N = True
LANGUAGE_CODE = "en"
PERSON = os.environ.get("TENTHBOOK_PERSON", "mechanic")
LOGGING = {
    "version": 1,
    "disable_existing_loggers": False,
    "handlers": {"console": {"class": "logging.StreamHandler"}},
    "loggers": {"django": {"handlers": ["console"], "level": "ERROR"}},
}
DATABASES["default"]["CONN_MAX_AGE"] = None
