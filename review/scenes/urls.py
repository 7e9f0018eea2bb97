"""Addresses of the scenes of a draft."""

from __future__ import annotations

from django.urls import path

from review.scenes.views import marked_words, pictures, places, scenes, shooting_order, story_days

urlpatterns = [
    path("drafts/<int:number>/scenes/", scenes.scenes, name="scenes"),
    path("drafts/<int:number>/scenes/breakdown.<str:ending>", scenes.scenes_file, name="scenes-file"),
    path("drafts/<int:number>/scenes/order/", shooting_order.shooting_order, name="scenes-order"),
    path("drafts/<int:number>/scenes/order/move/", shooting_order.order_move, name="scenes-order-move"),
    path("drafts/<int:number>/scenes/order/again/", shooting_order.order_again, name="scenes-order-again"),
    path("drafts/<int:number>/scenes/marked-words/", marked_words.marked_words, name="scenes-marked-words"),
    path("drafts/<int:number>/scenes/marked-words/new/", marked_words.marked_word_new, name="scenes-marked-word-new"),
    path("drafts/<int:number>/scenes/days/", story_days.story_days, name="scenes-days"),
    path("drafts/<int:number>/scenes/days/told/", story_days.story_days_told, name="scenes-days-told"),
    path("drafts/<int:number>/scenes/pictures/", pictures.pictures, name="scenes-pictures"),
    path("drafts/<int:number>/scenes/pictures/<str:name>.<str:ending>", pictures.picture_file, name="scenes-picture"),
    path(
        "scenes/marked-words/<str:public_id>/withdraw/",
        marked_words.marked_word_withdraw,
        name="scenes-marked-word-withdraw",
    ),
    path("scenes/places/", places.places, name="scenes-places"),
    path("scenes/places/merge/", places.places_merge, name="scenes-places-merge"),
    path("scenes/places/apart/", places.places_apart, name="scenes-places-apart"),
    path("scenes/", scenes.scenes_current, name="scenes-current"),
]
