"""Addresses of the voices in a draft."""

from __future__ import annotations

from django.urls import path

from review.voices.views import names, voice, voice_part, voices

urlpatterns = [
    path("drafts/<int:number>/voices/", voices.voices, name="voices"),
    path("drafts/<int:number>/voices/pictures/<str:name>.<str:ending>", voices.voices_picture, name="voices-picture"),
    path(
        "drafts/<int:number>/voices/picture/<str:ending>/<path:character>/", voice.voice_picture, name="voice-picture"
    ),
    path("drafts/<int:number>/voices/part/<path:character>/", voice_part.voice_part, name="voice-part"),
    path("drafts/<int:number>/voices/rules/<path:character>/", voice.voice_rule_new, name="voice-rule-new"),
    path("drafts/<int:number>/voices/of/<path:character>/", voice.voice, name="voice"),
    path("voices/rules/<str:public_id>/withdraw/", voice.voice_rule_withdraw, name="voice-rule-withdraw"),
    path("voices/names/", names.names, name="voice-names"),
    path("voices/names/merge/", names.names_merge, name="voice-names-merge"),
    path("voices/names/apart/", names.names_apart, name="voice-names-apart"),
    path("voices/", voices.voices_current, name="voices-current"),
]
