"""The calculations and their records as a Django application."""

from django.apps import AppConfig


class CalcConfig(AppConfig):
    name = "calc"
    verbose_name = "Calculations"
    default_auto_field = "django.db.models.BigAutoField"
