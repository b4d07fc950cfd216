import django.db.models.deletion
from django.db import migrations, models


class Migration(migrations.Migration):
    initial = True

    dependencies = []

    operations = [
        migrations.CreateModel(
            name="Shop",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("title", models.TextField(unique=True)),
            ],
        ),
        migrations.CreateModel(
            name="Thing",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("kind", models.TextField()),
                ("mark", models.TextField()),
                (
                    "shop",
                    models.ForeignKey(
                        db_index=False,
                        on_delete=django.db.models.deletion.CASCADE,
                        to="faywright.shop",
                    ),
                ),
            ],
        ),
        migrations.CreateModel(
            name="Sharpened",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("at", models.DateTimeField()),
                ("size", models.FloatField(null=True)),
                ("sd", models.FloatField(null=True)),
                ("listed", models.FloatField(null=True)),
                ("note", models.TextField()),
                (
                    "cutter",
                    models.ForeignKey(
                        db_index=False,
                        on_delete=django.db.models.deletion.PROTECT,
                        to="faywright.thing",
                    ),
                ),
            ],
        ),
        migrations.CreateModel(
            name="Trial",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("piece", models.TextField()),
                ("joint", models.TextField()),
                ("side", models.TextField()),
                ("setup", models.TextField()),
                ("group", models.TextField()),
                ("at", models.DateTimeField()),
                ("metres", models.FloatField()),
                ("note", models.TextField()),
                ("forgotten", models.DateTimeField(null=True)),
                (
                    "cutter",
                    models.ForeignKey(
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="faywright.thing",
                    ),
                ),
                (
                    "gauge",
                    models.ForeignKey(
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="faywright.thing",
                    ),
                ),
                (
                    "machine",
                    models.ForeignKey(
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="faywright.thing",
                    ),
                ),
                (
                    "shop",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, to="faywright.shop"
                    ),
                ),
            ],
        ),
        migrations.CreateModel(
            name="Measurement",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("place", models.PositiveIntegerField()),
                ("what", models.TextField()),
                ("readings", models.JSONField()),
                ("read", models.FloatField()),
                ("expected", models.FloatField()),
                ("uncertainty", models.FloatField()),
                ("row", models.JSONField()),
                ("shared", models.JSONField()),
                (
                    "trial",
                    models.ForeignKey(
                        db_index=False,
                        on_delete=django.db.models.deletion.CASCADE,
                        to="faywright.trial",
                    ),
                ),
            ],
        ),
        migrations.CreateModel(
            name="Feel",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("joint", models.TextField()),
                ("timber", models.TextField()),
                ("word", models.TextField()),
                ("mean", models.FloatField()),
                ("sd", models.FloatField()),
                ("at", models.DateTimeField()),
                (
                    "shop",
                    models.ForeignKey(
                        db_index=False,
                        on_delete=django.db.models.deletion.PROTECT,
                        to="faywright.shop",
                    ),
                ),
                (
                    "trial",
                    models.ForeignKey(
                        null=True, on_delete=django.db.models.deletion.PROTECT, to="faywright.trial"
                    ),
                ),
            ],
        ),
        migrations.CreateModel(
            name="Unknown",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("kind", models.TextField()),
                ("owner", models.TextField()),
                (
                    "shop",
                    models.ForeignKey(
                        db_index=False,
                        on_delete=django.db.models.deletion.CASCADE,
                        to="faywright.shop",
                    ),
                ),
            ],
        ),
        migrations.CreateModel(
            name="Learned",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("place", models.PositiveIntegerField()),
                ("mean", models.FloatField()),
                ("sd", models.FloatField()),
                ("datum", models.FloatField()),
                ("covariance", models.JSONField()),
                (
                    "trial",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, to="faywright.trial"
                    ),
                ),
                (
                    "unknown",
                    models.ForeignKey(
                        db_index=False,
                        on_delete=django.db.models.deletion.PROTECT,
                        to="faywright.unknown",
                    ),
                ),
            ],
        ),
        migrations.AddConstraint(
            model_name="thing",
            constraint=models.UniqueConstraint(fields=("shop", "kind", "mark"), name="thing_once"),
        ),
        migrations.AddIndex(
            model_name="sharpened",
            index=models.Index(fields=["cutter", "at"], name="sharpened_by_cutter"),
        ),
        migrations.AddConstraint(
            model_name="measurement",
            constraint=models.UniqueConstraint(fields=("trial", "place"), name="measurement_once"),
        ),
        migrations.AddIndex(
            model_name="feel",
            index=models.Index(fields=["shop", "timber"], name="feel_by_timber"),
        ),
        migrations.AddConstraint(
            model_name="unknown",
            constraint=models.UniqueConstraint(
                fields=("shop", "kind", "owner"), name="unknown_once"
            ),
        ),
        migrations.AddConstraint(
            model_name="learned",
            constraint=models.UniqueConstraint(fields=("unknown", "trial"), name="learned_once"),
        ),
    ]
