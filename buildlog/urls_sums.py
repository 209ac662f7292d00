"""Addresses of the sums: worked out with a part or without, and kept."""

from django.urls import path

from buildlog.views import calculations, record_parts, record_trials

urlpatterns = [
    path("calc/", calculations.sums, name="sums"),
    path("calc/<slug:key>/", calculations.calculate, name="calculate"),
    path("calc/<slug:key>/text/", calculations.sum_text, name="sum_text"),
    path("calc/<slug:key>/checks/", calculations.sum_checks, name="sum_checks"),
    path("parts/<int:pk>/calculate/<slug:key>/", calculations.part_calculate, name="part_calculate"),
    path("parts/<int:pk>/calculate/<slug:key>/text/", calculations.part_sum_text, name="part_sum_text"),
    path("records/<int:pk>/", calculations.record_page, name="record_page"),
    path("records/<int:pk>/text/", calculations.record_text, name="record_text"),
    path("records/<int:pk>/trial/", record_trials.record_trial, name="record_trial"),
    path("records/<int:pk>/part/", record_parts.record_to_part, name="record_to_part"),
    path("records/<int:pk>.pdf", calculations.record_pdf, name="record_pdf"),
    path("records/<int:pk>.json", calculations.record_json, name="record_json"),
]
