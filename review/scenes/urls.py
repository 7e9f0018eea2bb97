"""Addresses of the scenes of a draft."""

from __future__ import annotations

from django.urls import path

from review.scenes.views import scenes, shooting_order

urlpatterns = [
    path("drafts/<int:number>/scenes/", scenes.scenes, name="scenes"),
    path("drafts/<int:number>/scenes/breakdown.<str:ending>", scenes.scenes_file, name="scenes-file"),
    path("drafts/<int:number>/scenes/order/", shooting_order.shooting_order, name="scenes-order"),
    path("scenes/", scenes.scenes_current, name="scenes-current"),
]
