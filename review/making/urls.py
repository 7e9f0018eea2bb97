"""The address of what is being made."""

from __future__ import annotations

from django.urls import path

from review.making.views import making

urlpatterns = [path("making/<str:public_id>/", making.making, name="making")]
