"""Addresses of the scenes of a draft."""

from __future__ import annotations

from django.urls import path

from review.scenes.views import marks, pictures, scenes, shooting_order, story_days

urlpatterns = [
    path("drafts/<int:number>/scenes/", scenes.scenes, name="scenes"),
    path("drafts/<int:number>/scenes/breakdown.<str:ending>", scenes.scenes_file, name="scenes-file"),
    path("drafts/<int:number>/scenes/order/", shooting_order.shooting_order, name="scenes-order"),
    path("drafts/<int:number>/scenes/order/move/", shooting_order.order_move, name="scenes-order-move"),
    path("drafts/<int:number>/scenes/order/again/", shooting_order.order_again, name="scenes-order-again"),
    path("drafts/<int:number>/scenes/marks/", marks.marks, name="scenes-marks"),
    path("drafts/<int:number>/scenes/marks/new/", marks.mark_new, name="scenes-mark-new"),
    path("drafts/<int:number>/scenes/days/", story_days.story_days, name="scenes-days"),
    path("drafts/<int:number>/scenes/pictures/", pictures.pictures, name="scenes-pictures"),
    path("drafts/<int:number>/scenes/pictures/<str:name>.<str:ending>", pictures.picture_file, name="scenes-picture"),
    path("scenes/marks/<str:public_id>/withdraw/", marks.mark_withdraw, name="scenes-mark-withdraw"),
    path("scenes/", scenes.scenes_current, name="scenes-current"),
]
