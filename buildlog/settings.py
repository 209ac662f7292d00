"""Settings of the site, read from the environment through helpers that refuse bad values."""

from datetime import timedelta
from pathlib import Path
from typing import Any

from csp.constants import NONE, SELF

from buildlog import environment

BASE_DIR = Path(__file__).resolve().parent.parent
DATA_FOLDER = environment.read_data_folder("HORNPLATE_DATA", BASE_DIR / "data")

# The site's own address, for links and for the QR codes on cards; empty when no phone can reach it.
SITE_ADDRESS = environment.read_address("HORNPLATE_ADDRESS")
IS_ENCRYPTED = SITE_ADDRESS.startswith("https://")

SECRET_KEY = environment.read_secret_key(DATA_FOLDER)
DEBUG = environment.read_flag("HORNPLATE_DEBUG")
ALLOWED_HOSTS = ["localhost", "127.0.0.1", "[::1]"]
CSRF_TRUSTED_ORIGINS: list[str] = []
if SITE_ADDRESS:
    ALLOWED_HOSTS.append(environment.address_host(SITE_ADDRESS))
    CSRF_TRUSTED_ORIGINS.append(SITE_ADDRESS)

INSTALLED_APPS = [
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.sessions",
    "django.contrib.messages",
    "django.contrib.staticfiles",
    "django_htmx",
    "axes",
    "csp",
    "calc",
    "buildlog",
]

MIDDLEWARE = [
    "django.middleware.security.SecurityMiddleware",
    "csp.middleware.CSPMiddleware",
    "buildlog.middleware.PrivatePagesMiddleware",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "buildlog.middleware.SignedInMiddleware",
    "django.contrib.messages.middleware.MessageMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
    "django_htmx.middleware.HtmxMiddleware",
    "axes.middleware.AxesMiddleware",
]

ROOT_URLCONF = "buildlog.urls"
WSGI_APPLICATION = "buildlog.wsgi.application"

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
                "buildlog.context.sheet",
            ],
        },
    },
]

DATABASES = {"default": environment.read_database("DATABASE_URL", DATA_FOLDER)}

AUTHENTICATION_BACKENDS = [
    "axes.backends.AxesStandaloneBackend",
    "django.contrib.auth.backends.ModelBackend",
]
AUTH_PASSWORD_VALIDATORS = [
    {"NAME": "django.contrib.auth.password_validation.UserAttributeSimilarityValidator"},
    {
        "NAME": "django.contrib.auth.password_validation.MinimumLengthValidator",
        "OPTIONS": {"min_length": 10},
    },
    {"NAME": "django.contrib.auth.password_validation.CommonPasswordValidator"},
    {"NAME": "django.contrib.auth.password_validation.NumericPasswordValidator"},
]
LOGIN_URL = "sign_in"
LOGIN_REDIRECT_URL = "home"
LOGOUT_REDIRECT_URL = "sign_in"
PASSWORD_RESET_TIMEOUT = 24 * 60 * 60

# Eight wrong passwords for one name from one address, then a quarter of an hour's wait.
AXES_FAILURE_LIMIT = 8
AXES_COOLOFF_TIME = timedelta(minutes=15)
AXES_LOCKOUT_PARAMETERS = [["username", "ip_address"]]
AXES_RESET_ON_SUCCESS = True
AXES_RESET_COOL_OFF_ON_FAILURE_DURING_LOCKOUT = False
AXES_LOCKOUT_TEMPLATE = "registration/locked_out.html"
AXES_DISABLE_ACCESS_LOG = True
AXES_ENABLE_ADMIN = False
AXES_VERBOSE = False

SESSION_COOKIE_AGE = 60 * 60 * 24 * 90
SESSION_COOKIE_SECURE = CSRF_COOKIE_SECURE = IS_ENCRYPTED
CSRF_COOKIE_HTTPONLY = True
MESSAGE_STORAGE = "django.contrib.messages.storage.session.SessionStorage"

SECURE_CONTENT_TYPE_NOSNIFF = True
SECURE_REFERRER_POLICY = "same-origin"
SECURE_CROSS_ORIGIN_OPENER_POLICY = "same-origin"
X_FRAME_OPTIONS = "DENY"
CONTENT_SECURITY_POLICY: dict[str, Any] = {
    "DIRECTIVES": {
        "default-src": [SELF],
        "img-src": [SELF, "data:"],
        "script-src": [SELF],
        "style-src": [SELF],
        "object-src": [NONE],
        "frame-ancestors": [NONE],
        "base-uri": [NONE],
        "form-action": [SELF],
    },
}

LANGUAGE_CODE = "en-gb"
TIME_ZONE = environment.read_time_zone("TZ")
USE_I18N = True
USE_TZ = True

STATIC_URL = "/static/"
STATIC_ROOT = DATA_FOLDER / "static"
MEDIA_ROOT = DATA_FOLDER / "files"
STORAGES = {
    "default": {"BACKEND": "django.core.files.storage.FileSystemStorage"},
    # What a builder brought, byte for byte, which is backed up; and what was made from it to be shown.
    "originals": {"BACKEND": "buildlog.storage.WholeFileStorage", "OPTIONS": {"location": MEDIA_ROOT}},
    "previews": {
        "BACKEND": "buildlog.storage.WholeFileStorage",
        "OPTIONS": {"location": DATA_FOLDER / "previews"},
    },
    "staticfiles": {"BACKEND": "whitenoise.storage.CompressedManifestStaticFilesStorage"},
}

DATA_UPLOAD_MAX_NUMBER_FIELDS = 4000

LOGGING = {
    "version": 1,
    "disable_existing_loggers": False,
    "formatters": {"line": {"format": "{asctime} {levelname} {name}: {message}", "style": "{"}},
    "handlers": {
        "console": {"class": "logging.StreamHandler", "formatter": "line"},
        "silent": {"class": "logging.NullHandler"},
    },
    "root": {"handlers": ["console"], "level": "WARNING"},
    "loggers": {
        "django": {"handlers": ["console"], "level": "WARNING", "propagate": False},
        # A request for a foreign host name is answered with 400; a line for each would bury what matters.
        "django.security.DisallowedHost": {"handlers": ["silent"], "propagate": False},
    },
}
