"""Addresses of the working draft: its scenes, what is to be written in, and putting it up."""

from __future__ import annotations

from django.urls import path

from review.rewriting.views import begin, desk, publish, put_back, scene, to_do

urlpatterns = [
    path("working/", desk.working, name="working"),
    path("working/begin/", begin.working_begin, name="working-begin"),
    path("working/set-aside/", begin.working_set_aside, name="working-set-aside"),
    path("working/<str:public_id>/take-up/", begin.working_take_up, name="working-take-up"),
    path("working/add/", desk.working_add, name="working-add"),
    path("working/to-do/", to_do.to_do_list, name="to-do"),
    path("working/publish/", publish.working_publish, name="working-publish"),
    path("working/download/", put_back.working_download, name="working-download"),
    path("working/catch-up/", put_back.working_catch_up, name="working-catch-up"),
    path("working/put-back/", put_back.working_put_back, name="working-put-back"),
    path("working/scenes/<str:public_id>/", scene.working_scene, name="working-scene"),
    path("working/scenes/<str:public_id>/earlier/<int:version>/", scene.working_take_back, name="working-take-back"),
    path("working/scenes/<str:public_id>/cut/", desk.working_cut, name="working-cut"),
    path("working/scenes/<str:public_id>/restore/", desk.working_restore, name="working-restore"),
    path("working/scenes/<str:public_id>/move/", desk.working_move, name="working-move"),
    path("drafts/<int:number>/write-on/", begin.draft_restore, name="draft-restore"),
]
