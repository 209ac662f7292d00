"""Addresses of the photos: pages, and the pictures themselves."""

from django.urls import path

from buildlog.views import photo_files, photos

urlpatterns = [
    path("builds/<int:pk>/photos/", photos.photo_list, name="photo_list"),
    path("builds/<int:pk>/photos/new/", photos.photo_new, name="photo_new"),
    path("photos/<int:pk>/", photos.photo_page, name="photo_page"),
    path("photos/<int:pk>/bin/", photos.photo_bin, name="photo_bin"),
    path("photos/<int:pk>/restore/", photos.photo_restore, name="photo_restore"),
    path("photos/<int:pk>/small.jpg", photo_files.photo_small, name="photo_small"),
    path("photos/<int:pk>/large.jpg", photo_files.photo_large, name="photo_large"),
    path("photos/<int:pk>/original/", photo_files.photo_original, name="photo_original"),
]
