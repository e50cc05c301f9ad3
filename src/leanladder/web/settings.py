"""Django's settings: all that differs between laptops comes from the data folder and the environment."""

from __future__ import annotations

import os
from pathlib import Path
from typing import Any

import dj_database_url
from csp.constants import NONE, SELF

from leanladder import settings
from leanladder.web.secret import secret_key

HERE = Path(__file__).parent
DATA = settings.data_folder()

DEBUG = False
SECRET_KEY = secret_key(DATA)
# Which names the app answers to: `leanladder serve` adds the laptop's own addresses.
ALLOWED_HOSTS = ["localhost", "127.0.0.1", "[::1]", *os.environ.get("LEANLADDER_HOSTS", "").split()]

INSTALLED_APPS = [
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.sessions",
    "django.contrib.messages",
    "django.contrib.staticfiles",
    "django_htmx",
    "csp",
    "django_tasks",
    "django_tasks_db",
    "leanladder.records",
    "leanladder.web",
]
MIDDLEWARE = [
    "django.middleware.security.SecurityMiddleware",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "csp.middleware.CSPMiddleware",
    "leanladder.web.faults.FaultMiddleware",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "django.contrib.messages.middleware.MessageMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
    "django_htmx.middleware.HtmxMiddleware",
    "leanladder.web.access.AccessMiddleware",
]
ROOT_URLCONF = "leanladder.web.urls"
TEMPLATES = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "DIRS": [HERE / "templates"],
        "APP_DIRS": False,
        "OPTIONS": {
            "context_processors": [
                "django.template.context_processors.request",
                "django.contrib.auth.context_processors.auth",
                "django.contrib.messages.context_processors.messages",
                "leanladder.web.frame.frame",
            ],
            "builtins": ["leanladder.web.templatetags.said"],
        },
    }
]

DATABASES: dict[str, Any] = {
    "default": dj_database_url.config(
        default=f"sqlite:///{DATA / 'leanladder.sqlite3'}", conn_max_age=60, conn_health_checks=True
    )
}
if DATABASES["default"]["ENGINE"] == "django.db.backends.sqlite3":
    # A write that was acknowledged outlives a power cut: WAL, synchronous FULL; writers queue from the start.
    DATABASES["default"]["OPTIONS"] = {
        "transaction_mode": "IMMEDIATE",
        "timeout": 20,
        "init_command": "PRAGMA journal_mode=WAL; PRAGMA synchronous=FULL; PRAGMA foreign_keys=ON;",
    }
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"

AUTH_USER_MODEL = "records.Person"
LOGIN_URL = "login"
LOGIN_REDIRECT_URL = "home"
PASSWORD_HASHERS = ["django.contrib.auth.hashers.Argon2PasswordHasher"]
AUTH_PASSWORD_VALIDATORS = [
    {
        "NAME": "django.contrib.auth.password_validation.MinimumLengthValidator",
        "OPTIONS": {"min_length": 10},
    },
    {"NAME": "django.contrib.auth.password_validation.CommonPasswordValidator"},
    {"NAME": "django.contrib.auth.password_validation.UserAttributeSimilarityValidator"},
]

# Plain HTTP in the paddock: cookies cannot be marked secure, but no script and no other site reads them.
SESSION_COOKIE_HTTPONLY = True
SESSION_COOKIE_SAMESITE = "Strict"
SESSION_COOKIE_AGE = 14 * 24 * 3600
CSRF_COOKIE_SAMESITE = "Strict"
CSRF_COOKIE_HTTPONLY = True
CSRF_FAILURE_VIEW = "leanladder.web.faults.forged"
SECURE_CONTENT_TYPE_NOSNIFF = True
SECURE_REFERRER_POLICY = "same-origin"
SECURE_CROSS_ORIGIN_OPENER_POLICY = None  # asked for by browsers over HTTPS alone
X_FRAME_OPTIONS = "DENY"
CONTENT_SECURITY_POLICY = {
    "DIRECTIVES": {
        "default-src": [SELF],
        "img-src": [SELF, "data:"],
        "object-src": [NONE],
        "base-uri": [NONE],
        "form-action": [SELF],
        "frame-ancestors": [NONE],
    }
}

DATA_UPLOAD_MAX_MEMORY_SIZE = 2 * 1024 * 1024
DATA_UPLOAD_MAX_NUMBER_FIELDS = 2000
DATA_UPLOAD_MAX_NUMBER_FILES = 10
FILE_UPLOAD_MAX_MEMORY_SIZE = 2 * 1024 * 1024
LARGEST_REQUEST = 32 * 1024 * 1024  # what the server takes at all

STATIC_URL = "/static/"
STATICFILES_DIRS = [HERE / "static"]
WHITENOISE_USE_FINDERS = True
WHITENOISE_MAX_AGE = 300

TASKS = {"default": {"BACKEND": "django_tasks_db.DatabaseBackend"}}
# A guess at a password is counted here: so many names at once that none is forgotten before its time.
CACHES = {
    "default": {
        "BACKEND": "django.core.cache.backends.locmem.LocMemCache",
        "OPTIONS": {"MAX_ENTRIES": 20_000},
    }
}

USE_TZ = True
TIME_ZONE = "UTC"
USE_I18N = False
LANGUAGE_CODE = "en-gb"
LOGGING_CONFIG = None  # the program's own log takes what is said
