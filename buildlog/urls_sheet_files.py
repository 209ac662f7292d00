"""Addresses of the files of drawings: pages, and the pictures themselves."""

from django.urls import path

from buildlog.views import sheet_files

urlpatterns = [
    path("drawings/<int:pk>/files/new/", sheet_files.sheet_file_new, name="sheet_file_new"),
    path("sheets/<int:pk>/pages/<int:page>/", sheet_files.sheet_page, name="sheet_page"),
    path("sheets/<int:pk>/pages/<int:page>/<slug:size>.jpg", sheet_files.sheet_picture, name="sheet_picture"),
    path("sheets/<int:pk>/pages/<int:page>/<slug:size>/", sheet_files.sheet_shown, name="sheet_shown"),
    path("sheets/<int:pk>/original/", sheet_files.sheet_original, name="sheet_original"),
    path("sheets/<int:pk>/bin/", sheet_files.sheet_file_bin, name="sheet_file_bin"),
    path("sheets/<int:pk>/restore/", sheet_files.sheet_file_restore, name="sheet_file_restore"),
]
