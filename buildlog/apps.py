"""The site as a Django application."""

from django.apps import AppConfig


class BuildlogConfig(AppConfig):
    name = "buildlog"
    verbose_name = "Hornplate"
    default_auto_field = "django.db.models.BigAutoField"
