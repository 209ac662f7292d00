"""Addresses of the stores: castings, orders, deliveries."""

from django.urls import URLPattern

urlpatterns: list[URLPattern] = []
