"""Addresses of the working draft: beginning it, its scenes, and what is to be written in."""

from __future__ import annotations

from django.urls import path

from review.next_draft.views import put_back, restore, scene, take_up, to_do, working

urlpatterns = [
    path("working/", working.working, name="working"),
    path("working/begin/", working.working_begin, name="working-begin"),
    path("working/set-aside/", working.working_set_aside, name="working-set-aside"),
    path("working/<str:public_id>/take-up/", take_up.working_take_up, name="working-take-up"),
    path("working/add/", working.working_add, name="working-add"),
    path("working/to-do/", to_do.to_do_list, name="to-do"),
    path("working/download/", put_back.working_download, name="working-download"),
    path("working/catch-up/", put_back.working_catch_up, name="working-catch-up"),
    path("working/put-back/", put_back.working_put_back, name="working-put-back"),
    path("working/scenes/<str:public_id>/", scene.working_scene, name="working-scene"),
    path("working/scenes/<str:public_id>/typed/", scene.working_scene_typed, name="working-scene-typed"),
    path("working/scenes/<str:public_id>/earlier/<int:version>/", scene.working_take_back, name="working-take-back"),
    path("working/scenes/<str:public_id>/cut/", working.working_cut, name="working-cut"),
    path("working/scenes/<str:public_id>/restore/", working.working_restore, name="working-restore"),
    path("working/scenes/<str:public_id>/move/", working.working_move, name="working-move"),
    path("drafts/<int:number>/write-on/", restore.draft_restore, name="draft-restore"),
]
