"""Addresses of the sums: worked out with a part or without, and kept."""

from django.urls import path

from buildlog.views import calculations

urlpatterns = [
    path("calc/", calculations.sums, name="sums"),
    path("calc/<slug:key>/", calculations.calculate, name="calculate"),
    path("calc/<slug:key>/checks/", calculations.sum_checks, name="sum_checks"),
    path("parts/<int:pk>/calculate/<slug:key>/", calculations.part_calculate, name="part_calculate"),
    path("records/<int:pk>/", calculations.record_page, name="record_page"),
    path("records/<int:pk>.pdf", calculations.record_pdf, name="record_pdf"),
    path("records/<int:pk>.json", calculations.record_json, name="record_json"),
]
