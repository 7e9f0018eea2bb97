from __future__ import annotations

import uuid

import django.db.models.deletion
from django.db import migrations, models

import review.records


class Migration(migrations.Migration):
    """What was left before was left by its authors themselves."""

    dependencies = [
        ("review", "0024_mail"),
    ]

    operations = [
        migrations.AddField(
            model_name="note",
            name="taken_down_by",
            field=models.ForeignKey(
                blank=True,
                null=True,
                on_delete=django.db.models.deletion.PROTECT,
                related_name="notes_taken_down",
                to="review.member",
            ),
        ),
        migrations.AlterField(
            model_name="act",
            name="verb",
            field=models.CharField(
                choices=[
                    ("started production", "started the production"),
                    ("renamed production", "renamed the production"),
                    ("changed settings", "changed the settings of"),
                    ("locked numbers", "locked the scene numbers of"),
                    ("unlocked numbers", "unlocked the scene numbers of"),
                    ("locked pages", "locked the pages of"),
                    ("unlocked pages", "unlocked the pages of"),
                    ("invited", "invited"),
                    ("withdrew invitation", "withdrew the invitation of"),
                    ("joined", "joined"),
                    ("removed member", "removed"),
                    ("let back in", "was let back in at the server’s terminal"),
                    ("changed place", "changed the place of"),
                    ("named character", "said whom somebody plays:"),
                    ("made sign-in link", "made a sign-in link for"),
                    ("used sign-in link", "signed in by a link"),
                    ("signed in", "signed in"),
                    ("failed to sign in", "was not let in"),
                    ("changed password", "chose a new password"),
                    ("published draft", "published"),
                    ("withdrew draft", "withdrew"),
                    ("put draft up again", "put up again"),
                    ("downloaded draft", "downloaded"),
                    ("printed draft", "took a PDF of"),
                    ("printed sides", "took sides from"),
                    ("left note", "left a note on"),
                    ("changed note", "changed a note on"),
                    ("corrected note", "corrected a note on"),
                    ("withdrew note", "withdrew a note on"),
                    ("put note back", "put back a note on"),
                    ("replied", "replied to a note on"),
                    ("withdrew reply", "withdrew a reply on"),
                    ("decided", "decided a note on"),
                    ("placed note", "set the place of a note on"),
                    ("began working draft", "began the next draft from"),
                    ("set aside working draft", "set aside the working draft from"),
                    ("took up working draft", "took up the working draft from"),
                    ("saved scene", "wrote on a scene of"),
                    ("cut scene", "cut a scene of"),
                    ("restored scene", "restored a scene of"),
                    ("moved scene", "moved a scene of"),
                    ("added scene", "added a scene to"),
                    ("took working text", "took away the text of"),
                    ("put back text", "put a text back into"),
                    ("took wording", "took a wording into"),
                    ("took out wording", "took a wording out of"),
                    ("wrote in", "said written in of a note on"),
                    ("printed sheet", "took a change sheet of"),
                    ("opened reading", "opened a reading of"),
                    ("changed reading", "changed what a reading asks"),
                    ("added reader", "asked to read:"),
                    ("took off reader", "took off a reading:"),
                    ("reminded readers", "reminded the readers of"),
                    ("closed reading", "closed a reading of"),
                    ("reopened reading", "opened a reading again of"),
                    ("began reading", "began to read in"),
                    ("marked scene", "marked a scene in a reading of"),
                    ("took back mark", "took back a mark in a reading of"),
                    ("shared time", "said who sees how long they read in"),
                    ("finished reading", "finished a reading of"),
                    ("made voice rule", "made a rule for a voice in"),
                    ("withdrew voice rule", "withdrew a rule for a voice in"),
                    ("merged cues", "made two cues one character in"),
                    ("kept cues apart", "kept two cues apart in"),
                    ("marked word", "marked a word for a department of"),
                    ("withdrew mark", "took a mark back in"),
                    ("set story days", "set story days of"),
                    ("ordered scenes", "put the scenes in order of"),
                    ("took breakdown", "took a breakdown of"),
                    ("asked question", "asked a question in a reading of"),
                    ("withdrew question", "withdrew a question in a reading of"),
                    ("showed intended", "showed what was meant by a question in"),
                    ("judged answer", "judged an answer in a reading of"),
                    ("answered question", "answered a question in a reading of"),
                    ("wrote purpose", "wrote a scene’s purpose in"),
                    ("took notes", "took the notes of"),
                    ("called talk", "called a talk about"),
                    ("changed talk", "changed a talk about"),
                    ("called off talk", "called off a talk about"),
                    ("took agenda", "took the agenda of a talk about"),
                    ("chose mail", "chose how mail comes"),
                    ("sent again", "sent a mail again"),
                    ("printed revision", "took revised pages of"),
                ],
                max_length=32,
            ),
        ),
        migrations.AlterField(
            model_name="pieceofnews",
            name="occasion",
            field=models.CharField(
                choices=[
                    ("reading opened", "A reading was opened for them"),
                    ("reading reminded", "They were reminded of a reading"),
                    ("reading closed", "A reading of theirs was closed"),
                    ("draft published", "A draft was put up"),
                    ("replied", "Somebody replied to them"),
                    ("decided", "A note of theirs was decided"),
                    ("talk", "A talk they are asked to was called, changed or called off"),
                    ("taken down", "What they said in a talk was written down in their name"),
                    ("invited", "They were invited"),
                ],
                max_length=20,
            ),
        ),
        migrations.CreateModel(
            name="Talk",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "public_id",
                    models.CharField(default=review.records.new_public_id, editable=False, max_length=16, unique=True),
                ),
                ("created_at", models.DateTimeField(auto_now_add=True)),
                ("form_id", models.UUIDField(default=uuid.uuid4, editable=False, unique=True)),
                ("starts_at", models.DateTimeField()),
                ("minutes", models.PositiveSmallIntegerField()),
                ("place", models.CharField(blank=True, max_length=200)),
                ("sequence", models.PositiveIntegerField(default=0)),
                ("called_off_at", models.DateTimeField(blank=True, null=True)),
                (
                    "called_by",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="talks_called", to="review.member"
                    ),
                ),
                (
                    "draft",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="talks", to="review.draft"
                    ),
                ),
                ("members", models.ManyToManyField(related_name="talks", to="review.member")),
                (
                    "production",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="talks", to="review.production"
                    ),
                ),
            ],
            options={
                "ordering": ["-starts_at", "-id"],
            },
        ),
    ]
