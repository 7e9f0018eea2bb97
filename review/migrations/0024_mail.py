from __future__ import annotations

import django.db.models.deletion
import django.utils.timezone
from django.db import migrations, models

import review.records


class Migration(migrations.Migration):
    """Nothing waits at first: what happened before is not told by mail."""

    dependencies = [
        ("review", "0023_news"),
    ]

    operations = [
        migrations.CreateModel(
            name="SendersTurn",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
            ],
        ),
        migrations.CreateModel(
            name="StoppedAddress",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("address_hash", models.CharField(max_length=64, unique=True)),
                ("stopped_at", models.DateTimeField(default=django.utils.timezone.now)),
            ],
        ),
        migrations.AddField(
            model_name="invitation",
            name="mailed_token_hash",
            field=models.CharField(blank=True, max_length=64, null=True, unique=True),
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
                    ("chose mail", "chose how mail comes"),
                    ("sent again", "sent a mail again"),
                    ("printed revision", "took revised pages of"),
                ],
                max_length=32,
            ),
        ),
        migrations.CreateModel(
            name="Letter",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "public_id",
                    models.CharField(default=review.records.new_public_id, editable=False, max_length=16, unique=True),
                ),
                ("created_at", models.DateTimeField(auto_now_add=True)),
                ("address", models.EmailField(blank=True, max_length=254)),
                ("address_hash", models.CharField(blank=True, max_length=64)),
                ("tries", models.PositiveSmallIntegerField(default=0)),
                ("due_at", models.DateTimeField(default=django.utils.timezone.now)),
                ("claim", models.UUIDField(blank=True, null=True)),
                ("claimed_until", models.DateTimeField(blank=True, null=True)),
                ("handed_over_at", models.DateTimeField(blank=True, null=True)),
                ("sent_at", models.DateTimeField(blank=True, null=True)),
                ("given_up_at", models.DateTimeField(blank=True, null=True)),
                ("let_go_at", models.DateTimeField(blank=True, null=True)),
                ("why", models.CharField(blank=True, max_length=240)),
                (
                    "member",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="letters",
                        to="review.member",
                    ),
                ),
                (
                    "production",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="letters", to="review.production"
                    ),
                ),
            ],
            options={
                "ordering": ["-id"],
            },
        ),
        migrations.CreateModel(
            name="MailWish",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "pace",
                    models.CharField(
                        choices=[("at once", "At once"), ("daily", "Once a day, in one mail"), ("none", "Not at all")],
                        max_length=10,
                    ),
                ),
                ("changed_at", models.DateTimeField(auto_now=True)),
                (
                    "member",
                    models.OneToOneField(
                        on_delete=django.db.models.deletion.PROTECT, related_name="mail_wish", to="review.member"
                    ),
                ),
            ],
        ),
        migrations.CreateModel(
            name="PieceOfNews",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "occasion",
                    models.CharField(
                        choices=[
                            ("reading opened", "A reading was opened for them"),
                            ("reading reminded", "They were reminded of a reading"),
                            ("reading closed", "A reading of theirs was closed"),
                            ("draft published", "A draft was put up"),
                            ("replied", "Somebody replied to them"),
                            ("decided", "A note of theirs was decided"),
                            ("invited", "They were invited"),
                        ],
                        max_length=20,
                    ),
                ),
                ("about", models.CharField(max_length=16)),
                ("again", models.CharField(blank=True, max_length=16)),
                ("at", models.DateTimeField(default=django.utils.timezone.now)),
                ("let_go_at", models.DateTimeField(blank=True, null=True)),
                (
                    "letter",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="news",
                        to="review.letter",
                    ),
                ),
                (
                    "member",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="news",
                        to="review.member",
                    ),
                ),
                (
                    "production",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="news", to="review.production"
                    ),
                ),
            ],
            options={
                "verbose_name_plural": "pieces of news",
                "ordering": ["id"],
            },
        ),
        migrations.AddIndex(
            model_name="letter",
            index=models.Index(
                condition=models.Q(("given_up_at", None), ("let_go_at", None), ("sent_at", None)),
                fields=["due_at"],
                name="letters_on_their_way",
            ),
        ),
        migrations.AddIndex(
            model_name="pieceofnews",
            index=models.Index(
                condition=models.Q(("let_go_at", None), ("letter", None)),
                fields=["member"],
                name="news_not_gathered_yet",
            ),
        ),
        migrations.AddConstraint(
            model_name="pieceofnews",
            constraint=models.UniqueConstraint(
                fields=("member", "occasion", "about", "again"), name="news_is_told_once"
            ),
        ),
    ]
