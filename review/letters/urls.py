"""Addresses of mail below a production; the way out that letters carry stands above, for it needs none."""

from __future__ import annotations

from django.urls import path

from review.letters.views import mail

urlpatterns = [
    path("mail/", mail.mail, name="mail"),
    path("mail/<str:public_id>/again/", mail.mail_again, name="mail-again"),
]
