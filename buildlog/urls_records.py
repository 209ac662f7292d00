"""Addresses of the log and of the register of drawings."""

from django.urls import URLPattern

urlpatterns: list[URLPattern] = []
