"""Addresses of readings: what writers ask for, and what readers do."""

from __future__ import annotations

from django.urls import path

from review.readings.views import (
    reading,
    reading_finish,
    reading_learned,
    reading_new,
    reading_questions,
    reading_readers,
    reading_scene,
    readings,
    scene_purposes,
)

urlpatterns = [
    path("readings/", readings.readings, name="readings"),
    path("readings/new/", reading_new.reading_new, name="reading-new"),
    path("readings/<str:public_id>/", reading.reading, name="reading"),
    path("readings/<str:public_id>/readers/", reading_readers.reading_readers, name="reading-readers"),
    path("readings/<str:public_id>/readers/add/", reading_readers.reading_add, name="reading-add"),
    path("readings/<str:public_id>/readers/take-off/", reading_readers.reading_take_off, name="reading-take-off"),
    path("readings/<str:public_id>/change/", reading_readers.reading_change, name="reading-change"),
    path("readings/<str:public_id>/remind/", reading_readers.reading_remind, name="reading-remind"),
    path("readings/<str:public_id>/close/", reading_readers.reading_close, name="reading-close"),
    path("readings/<str:public_id>/reopen/", reading_readers.reading_reopen, name="reading-reopen"),
    path("readings/<str:public_id>/scene-ends/", reading_scene.reading_ends, name="reading-ends"),
    path("readings/<str:public_id>/progress/", reading_scene.reading_progress, name="reading-progress"),
    path("readings/<str:public_id>/scenes/<int:ordinal>/", reading_scene.reading_scene, name="reading-scene"),
    path("readings/<str:public_id>/scenes/<int:ordinal>/read/", reading_scene.reading_read, name="reading-read"),
    path("readings/<str:public_id>/finish/", reading_finish.reading_finish, name="reading-finish"),
    path("readings/<str:public_id>/learned/", reading_learned.reading_learned, name="reading-learned"),
    path("readings/<str:public_id>/against/<str:other>/", reading_learned.reading_compare, name="reading-compare"),
    path("readings/<str:public_id>/questions/", reading_questions.reading_questions, name="reading-questions"),
    path("readings/<str:public_id>/questions/carry/", reading_questions.reading_carry, name="reading-carry"),
    path("questions/<str:public_id>/withdraw/", reading_questions.question_withdraw, name="question-withdraw"),
    path("questions/<str:public_id>/again/", reading_questions.question_ask_again, name="question-ask-again"),
    path("questions/<str:public_id>/show/", reading_questions.question_show_intended, name="question-show-intended"),
    path("answers/<str:public_id>/judge/", reading_questions.answer_judge, name="answer-judge"),
    path("drafts/<int:number>/purposes/", scene_purposes.scene_purposes, name="scene-purposes"),
    path("readings/<str:public_id>/time/", reading_finish.reading_share_time, name="reading-share-time"),
]
