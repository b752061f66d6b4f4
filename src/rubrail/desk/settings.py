"""Django settings of the desk. What may differ from yard to yard is in ``options``; the rest is fixed here."""

from __future__ import annotations

import os
from pathlib import Path

from rubrail.desk.clock import zone_name
from rubrail.desk.database import database_settings
from rubrail.desk.folders import data_folder, secret_key
from rubrail.desk.options import contact_of, read_options

_options = read_options(os.environ)
_here = Path(__file__).parent

RUBRAIL_HOME = data_folder()
RUBRAIL_DEMO = bool(_options["demo"])
RUBRAIL_YARD_NAME = str(_options["yard"]) or ("Sedge Hollow Trailer Yard (invented)" if RUBRAIL_DEMO else "")
RUBRAIL_PUBLIC_ADDRESS = f"{str(_options['public_address']).rstrip('/')}/" if _options["public_address"] else ""
RUBRAIL_CONTACT = list(contact_of(str(_options["contact"]))[0])
RUBRAIL_ARRIVALS = bool(_options["arrivals"])
if RUBRAIL_DEMO and not RUBRAIL_CONTACT:
    RUBRAIL_CONTACT = ["The office by the gate, weekdays 8 to 5 (invented)", "Ask for a walk around any trailer"]
DEBUG = bool(_options["debug"])
SECRET_KEY = secret_key(RUBRAIL_HOME)

ALLOWED_HOSTS = ["localhost", "127.0.0.1", "[::1]", *filter(None, str(_options["hosts"]).replace(" ", "").split(","))]

INSTALLED_APPS = [
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.sessions",
    "django.contrib.messages",
    "django.contrib.staticfiles",
    "django.forms",
    "django_htmx",
    "rubrail.desk.apps.DeskConfig",
]

MIDDLEWARE = [
    "rubrail.desk.headers.HeadersMiddleware",
    "django.middleware.security.SecurityMiddleware",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "rubrail.desk.plain.PlainTextMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "django.contrib.messages.middleware.MessageMiddleware",
    "django_htmx.middleware.HtmxMiddleware",
]

ROOT_URLCONF = "rubrail.desk.urls"
WSGI_APPLICATION = "rubrail.desk.wsgi.application"

TEMPLATES = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "DIRS": [],
        "APP_DIRS": True,
        "OPTIONS": {
            "context_processors": [
                "django.template.context_processors.request",
                "django.contrib.messages.context_processors.messages",
                "rubrail.desk.context.frame",
            ],
            "builtins": ["rubrail.desk.templatetags.marks", "rubrail.desk.templatetags.numbers"],
        },
    }
]
FORM_RENDERER = "rubrail.desk.forms.renderer.DeskRenderer"

DATABASES = {"default": database_settings(url=str(_options["database_url"]), folder=RUBRAIL_HOME)}
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"

AUTH_USER_MODEL = "desk.User"
# Scrypt is Django's own and needs nothing built; it is memory-hard like argon2, which has no wheel for every machine.
PASSWORD_HASHERS = [
    "django.contrib.auth.hashers.ScryptPasswordHasher",
    "django.contrib.auth.hashers.PBKDF2PasswordHasher",
]
AUTH_PASSWORD_VALIDATORS = [
    {
        "NAME": "django.contrib.auth.password_validation.UserAttributeSimilarityValidator",
        "OPTIONS": {"user_attributes": ("username", "name")},
    },
    {"NAME": "django.contrib.auth.password_validation.MinimumLengthValidator", "OPTIONS": {"min_length": 10}},
    {"NAME": "django.contrib.auth.password_validation.CommonPasswordValidator"},
]
LOGIN_URL = "sign-in"
LOGIN_REDIRECT_URL = "yard"

SESSION_COOKIE_NAME = "rubrail_session"
SESSION_COOKIE_AGE = 60 * 60 * 24 * 7
SESSION_COOKIE_HTTPONLY = True
SESSION_COOKIE_SAMESITE = "Lax"
CSRF_COOKIE_NAME = "rubrail_csrf"
CSRF_COOKIE_HTTPONLY = True
CSRF_COOKIE_SAMESITE = "Lax"
CSRF_FAILURE_VIEW = "rubrail.desk.views.errors.csrf_failed"
MESSAGE_STORAGE = "django.contrib.messages.storage.session.SessionStorage"

SECURE_CONTENT_TYPE_NOSNIFF = True
SECURE_REFERRER_POLICY = "same-origin"
SECURE_CROSS_ORIGIN_OPENER_POLICY = "same-origin"
# Over plain http on loopback or a yard's own network a secure cookie would never come back.
if _options["https"]:
    SESSION_COOKIE_SECURE = True
    CSRF_COOKIE_SECURE = True
    SECURE_PROXY_SSL_HEADER = ("HTTP_X_FORWARDED_PROTO", "https")
    SECURE_HSTS_SECONDS = 60 * 60 * 24 * 30
    CSRF_TRUSTED_ORIGINS = [f"https://{host}" for host in ALLOWED_HOSTS if host[:1].isalpha() and host != "localhost"]

STATIC_URL = "/static/"
STATIC_ROOT = RUBRAIL_HOME / "static"
STATICFILES_FINDERS = [
    "django.contrib.staticfiles.finders.AppDirectoriesFinder",
    "rubrail.desk.finders.ShippedFinder",
]
_static_storage = (
    "django.contrib.staticfiles.storage.StaticFilesStorage"
    if DEBUG
    else "whitenoise.storage.CompressedManifestStaticFilesStorage"
)
STORAGES = {
    "default": {
        "BACKEND": "django.core.files.storage.FileSystemStorage",
        "OPTIONS": {
            "location": RUBRAIL_HOME / "photos",
            "base_url": None,
            "file_permissions_mode": 0o600,
            "directory_permissions_mode": 0o700,
        },
    },
    "staticfiles": {"BACKEND": _static_storage},
}
WHITENOISE_USE_FINDERS = DEBUG

FILE_UPLOAD_MAX_MEMORY_SIZE = 2 * 1024 * 1024
DATA_UPLOAD_MAX_MEMORY_SIZE = 4 * 1024 * 1024
DATA_UPLOAD_MAX_NUMBER_FIELDS = 4000

LANGUAGE_CODE = "en-us"
USE_I18N = False
USE_TZ = True
TIME_ZONE = zone_name()
USE_THOUSAND_SEPARATOR = False

LOGGING = {
    "version": 1,
    "disable_existing_loggers": False,
    "formatters": {"plain": {"format": "{asctime} {levelname} {name}: {message}", "style": "{"}},
    "handlers": {"console": {"class": "logging.StreamHandler", "formatter": "plain"}},
    "root": {"handlers": ["console"], "level": "WARNING"},
    # A page that is not there, or not for somebody, is the browser's to tell, not the terminal's.
    "loggers": {"django.request": {"level": "ERROR"}, "django.security": {"level": "ERROR"}},
}
