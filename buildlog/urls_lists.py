"""Addresses of the lists: brought in, and taken out."""

from django.urls import path

from buildlog.views import lists

urlpatterns = [
    path("lists/sample.csv", lists.list_sample, name="list_sample"),
    path("builds/<int:pk>/list/", lists.list_in, name="list_in"),
    path("builds/<int:pk>/list/<int:draft>/", lists.list_draft, name="list_draft"),
    path("builds/<int:pk>/parts.csv", lists.list_csv, name="list_csv"),
    path("builds/<int:pk>/parts.xlsx", lists.list_xlsx, name="list_xlsx"),
    path("builds/<int:pk>/parts.pdf", lists.list_pdf, name="list_pdf"),
]
