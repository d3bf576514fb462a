"""Settings. Each has a default that works; README lists what the environment may change."""

import datetime
from pathlib import Path
from urllib.parse import urlsplit

from csp.constants import NONE, SELF
from django.utils.translation import gettext_lazy as _

from shared import database, media
from shared import environment as env

BASE_DIR = Path(__file__).resolve().parent.parent

# What the environment says
DATA_DIR = env.folder("DATA_DIR", BASE_DIR / "data", "shared.E001")
DATABASES = {"default": database.from_environment("DATABASE_URL", DATA_DIR / "shop.sqlite3", "shared.E002")}
MEDIA_STORAGE = env.given("MEDIA_STORAGE")
SECRET_KEY = env.secret_key("SECRET_KEY", DATA_DIR, "shared.E003")
SITE_URL = env.site_url("SITE_URL", "http://127.0.0.1:8000", "shared.E004")
TIME_ZONE = env.time_zone("TIME_ZONE", "shared.E005")
DEBUG = env.flag("DEBUG", "shared.E006")

_site = urlsplit(SITE_URL)
_secure = _site.scheme == "https"
ALLOWED_HOSTS = env.words("ALLOWED_HOSTS") or [_site.hostname or "", "127.0.0.1", "localhost", "[::1]"]

# Where what belongs to the program is found
ROOT_URLCONF = "shared.urls"
WSGI_APPLICATION = "shared.wsgi.application"
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"
INSTALLED_APPS = [
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.sessions",
    "django.contrib.messages",
    # before staticfiles, so that runserver serves as gunicorn does
    "whitenoise.runserver_nostatic",
    "django.contrib.staticfiles",
    "axes",
    "csp",
    "django_filters",
    "django_htmx",
    "shared",
    "tooling",
    "trimfixtures",
]
MIDDLEWARE = [
    "django.middleware.security.SecurityMiddleware",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "shared.compressed.CompressedPages",
    "csp.middleware.CSPMiddleware",
    "shared.sending.SendingMiddleware",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "shared.keep_typed.AskWhoItIs",
    "django.contrib.messages.middleware.MessageMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
    "django_htmx.middleware.HtmxMiddleware",
    "shared.refusals.RefusalMiddleware",
    "axes.middleware.AxesMiddleware",
]
TEMPLATES = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "DIRS": [BASE_DIR / "templates"],
        "APP_DIRS": True,
        "OPTIONS": {
            "context_processors": [
                "django.template.context_processors.request",
                "django.contrib.auth.context_processors.auth",
                "django.contrib.messages.context_processors.messages",
            ],
        },
    },
]

# People
AUTH_USER_MODEL = "tooling.Person"
AUTHENTICATION_BACKENDS = ["axes.backends.AxesStandaloneBackend", "shared.access.RoleBackend"]
AUTH_PASSWORD_VALIDATORS = [
    {"NAME": "django.contrib.auth.password_validation.MinimumLengthValidator"},
    {"NAME": "django.contrib.auth.password_validation.CommonPasswordValidator"},
]
LOGIN_URL = "sign_in"
LOGIN_REDIRECT_URL = "/"
LOGOUT_REDIRECT_URL = "sign_in"
# A phone stays signed in for 90 days; a session is written at sign-in, not at every request.
SESSION_COOKIE_AGE = 90 * 24 * 60 * 60
# Flash messages travel in a cookie, so that none of them writes a session either.
MESSAGE_STORAGE = "django.contrib.messages.storage.cookie.CookieStorage"

# Guessing a password is stopped by name and address together: six people share one tablet, and one of
# them mistyping must not lock out the other five.
AXES_LOCKOUT_PARAMETERS = [["username", "ip_address"]]
AXES_USERNAME_FORM_FIELD = "username"
AXES_CLIENT_IP_CALLABLE = "shared.access.address_tried"
AXES_USERNAME_CALLABLE = "shared.access.name_tried"
AXES_FAILURE_LIMIT = 10
AXES_COOLOFF_TIME = datetime.timedelta(minutes=15)
AXES_RESET_ON_SUCCESS = True
AXES_LOCKOUT_TEMPLATE = "shared/locked.html"
AXES_DISABLE_ACCESS_LOG = True

# What a browser may do with our pages: everything from here, nothing inline
CONTENT_SECURITY_POLICY = {
    "DIRECTIVES": {
        "default-src": [NONE],
        "script-src": [SELF],
        "style-src": [SELF],
        "img-src": [SELF, "data:"],
        "font-src": [SELF],
        "connect-src": [SELF],
        "manifest-src": [SELF],
        "form-action": [SELF],
        "base-uri": [NONE],
        "frame-ancestors": [NONE],
    },
}
X_FRAME_OPTIONS = "DENY"
SECURE_REFERRER_POLICY = "same-origin"

# Cookies, redirect and HSTS follow the scheme of SITE_URL
SESSION_COOKIE_SECURE = CSRF_COOKIE_SECURE = SECURE_SSL_REDIRECT = _secure
SECURE_REDIRECT_EXEMPT = [r"^healthz$"]
SECURE_HSTS_SECONDS = 365 * 24 * 60 * 60 if _secure else 0
SECURE_HSTS_INCLUDE_SUBDOMAINS = SECURE_HSTS_PRELOAD = _secure
CSRF_TRUSTED_ORIGINS = [SITE_URL]

# Files
DATA_UPLOAD_MAX_NUMBER_FILES = 200
STATIC_URL = "/static/"
STATIC_ROOT = BASE_DIR / "static-collected"
MEDIA_ROOT = DATA_DIR / "media"
STORAGES = {
    "default": media.storage(MEDIA_STORAGE),
    "staticfiles": {"BACKEND": "whitenoise.storage.CompressedManifestStaticFilesStorage"},
}

# Language and time
LANGUAGE_CODE = "en-us"
LANGUAGES = [("en", _("English"))]
LOCALE_PATHS = [BASE_DIR / "locale"]
USE_I18N = True
USE_TZ = True

LOGGING = {
    "version": 1,
    "disable_existing_loggers": False,
    "formatters": {"line": {"format": "{asctime} {levelname} {name}: {message}", "style": "{"}},
    "handlers": {"stderr": {"class": "logging.StreamHandler", "formatter": "line"}},
    "root": {"handlers": ["stderr"], "level": "WARNING"},
    # An address or a host that does not exist is the caller's slip, not the program's.
    "loggers": {"django.request": {"level": "ERROR"}, "django.security.DisallowedHost": {"level": "CRITICAL"}},
}
