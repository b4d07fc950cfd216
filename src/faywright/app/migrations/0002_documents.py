import django.db.models.deletion
from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("faywright", "0001_trials"),
    ]

    operations = [
        migrations.CreateModel(
            name="Document",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("kind", models.TextField()),
                ("head", models.PositiveIntegerField()),
                ("revisions", models.PositiveIntegerField()),
                ("changed", models.DateTimeField()),
                ("author", models.TextField()),
                ("discarded", models.DateTimeField(null=True)),
                (
                    "shop",
                    models.ForeignKey(
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="faywright.document",
                    ),
                ),
            ],
        ),
        migrations.CreateModel(
            name="Revision",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("number", models.PositiveIntegerField()),
                ("parent", models.PositiveIntegerField(null=True)),
                ("undone", models.PositiveIntegerField(null=True)),
                ("at", models.DateTimeField()),
                ("author", models.TextField()),
                ("what", models.TextField()),
                ("title", models.TextField()),
                ("text", models.TextField()),
                (
                    "document",
                    models.ForeignKey(
                        db_index=False,
                        on_delete=django.db.models.deletion.PROTECT,
                        to="faywright.document",
                    ),
                ),
            ],
        ),
        migrations.AddConstraint(
            model_name="document",
            constraint=models.CheckConstraint(
                condition=models.Q(("head__gte", 1), ("head__lte", models.F("revisions"))),
                name="head_among_revisions",
            ),
        ),
        migrations.AddConstraint(
            model_name="revision",
            constraint=models.UniqueConstraint(fields=("document", "number"), name="revision_once"),
        ),
        migrations.AddConstraint(
            model_name="revision",
            constraint=models.CheckConstraint(
                condition=models.Q(
                    models.Q(("number__gte", 1), ("parent", None)),
                    ("parent__lt", models.F("number")),
                    _connector="OR",
                ),
                name="parent_before_revision",
            ),
        ),
    ]
