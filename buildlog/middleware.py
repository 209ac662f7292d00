"""Headers that every page carries, and who may see pages at all."""

from collections.abc import Callable
from typing import Any

from django.contrib.auth.middleware import LoginRequiredMiddleware
from django.http import HttpRequest, HttpResponse, HttpResponseBase, HttpResponseForbidden

PERMISSIONS_POLICY = "camera=(self), geolocation=(), microphone=(), payment=(), usb=(), browsing-topics=()"


class PrivatePagesMiddleware:
    """Pages hold somebody's own work: no cache keeps them unless a view says otherwise."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        response = self.get_response(request)
        response.headers.setdefault("Cache-Control", "private, no-store")
        response.headers.setdefault("Permissions-Policy", PERMISSIONS_POLICY)
        return response


class SignedInMiddleware(LoginRequiredMiddleware):
    """Sends whoever is signed out to sign in, but never puts that sheet into part of an open page."""

    def process_view(
        self,
        request: HttpRequest,
        view_func: Callable[..., Any],
        view_args: tuple[Any, ...],
        view_kwargs: dict[str, Any],
    ) -> HttpResponseBase | None:
        answer = super().process_view(request, view_func, view_args, view_kwargs)
        if answer is not None and request.headers.get("HX-Request") == "true":
            # The open page says so itself, and keeps what was typed.
            return HttpResponseForbidden("Somebody has signed out. Sign in again.")
        return answer
