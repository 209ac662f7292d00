"""Addresses of the general arrangement: the picture, its balloons, and placing them."""

from django.urls import path

from buildlog.views import arrangement

urlpatterns = [
    path("builds/<int:pk>/engine/", arrangement.engine, name="engine"),
    path("builds/<int:pk>/arrangement/place/", arrangement.place, name="arrangement_place"),
    path("builds/<int:pk>/arrangement/as-drawn/", arrangement.as_drawn, name="arrangement_as_drawn"),
    path("builds/<int:pk>/arrangement/drawn.svg", arrangement.drawn, name="arrangement_drawn"),
    path("builds/<int:pk>/arrangement/picture/", arrangement.picture, name="arrangement_picture"),
    path("builds/<int:pk>/arrangement/bin/", arrangement.picture_bin, name="arrangement_bin"),
    path("arrangements/<int:pk>/restore/", arrangement.picture_restore, name="arrangement_restore"),
    path("arrangements/<int:pk>/small.jpg", arrangement.small, name="arrangement_small"),
    path("arrangements/<int:pk>/large.jpg", arrangement.large, name="arrangement_large"),
]
