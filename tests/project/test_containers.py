"""The container file and docker-compose.yml: held against the compose schema, and their commands run by hand."""

from __future__ import annotations

import json
import re
import runpy
import subprocess
import sys
import uuid
from fnmatch import fnmatchcase
from typing import TYPE_CHECKING, Any

import psycopg
import pytest
import yaml
from psycopg import sql

from tests.servers import MANAGE, environment, free_port, serving
from tests.terminal import ended

if TYPE_CHECKING:
    from pathlib import Path

ROOT = MANAGE.parent
COMPOSE: dict[str, Any] = yaml.safe_load((ROOT / "docker-compose.yml").read_text())
CONTAINERFILE = (ROOT / "project" / "Containerfile").read_text()


def image_command() -> list[str]:
    found = re.search(r"^CMD (\[.*\])$", CONTAINERFILE, re.MULTILINE)
    assert found
    return list(json.loads(found.group(1)))


def database_of(url: str, name: str) -> str:
    return re.sub(r"(//[^/]*/)[^?]*", rf"\g<1>{name}", url, count=1)


def test_the_compose_file_holds_against_the_published_schema() -> None:
    """The Compose Specification's own JSON schema, as check-jsonschema ships it."""
    checker = [sys.executable, "-m", "check_jsonschema", "--builtin-schema", "vendor.compose-spec"]
    run = subprocess.run([*checker, str(ROOT / "docker-compose.yml")], capture_output=True, text=True)
    assert run.returncode == 0, run.stdout + run.stderr


def test_both_services_are_checked_for_health_and_keep_their_files_in_volumes() -> None:
    assert set(COMPOSE["services"]) == {"app", "db"}
    for service in COMPOSE["services"].values():
        assert service["healthcheck"]["test"]
        assert service["volumes"][0].split(":")[0] in COMPOSE["volumes"]


def test_every_setting_of_the_app_is_one_that_the_settings_read() -> None:
    settings = (ROOT / "project" / "settings.py").read_text()
    for name in COMPOSE["services"]["app"]["environment"]:
        assert f'"{name}"' in settings, name


@pytest.mark.parametrize(
    ("told", "published", "address"),
    [
        ({}, "127.0.0.1:8000:8000", "http://films.example.org:8000"),
        ({"PORT": "9000"}, "127.0.0.1:9000:9000", "http://films.example.org:9000"),
        ({"PORT": "9000", "PUBLISH_AT": "192.0.2.7"}, "192.0.2.7:9000:9000", "http://films.example.org:9000"),
        ({"PORT": "9000", "BEHIND_HTTPS": "1"}, "127.0.0.1:9000:9000", "https://films.example.org"),
    ],
)
def test_another_port_is_published_and_is_where_letters_lead(
    monkeypatch: pytest.MonkeyPatch, told: dict[str, str], published: str, address: str
) -> None:
    """The image serves at the port that its environment names; variables stand in the file as the Compose Specification
    has it: `${NAME:-usual}`, and `${NAME:?sentence}` for what has to be there."""
    env = {"POSTGRES_PASSWORD": "p", "SECRET_KEY": "k" * 50, "ALLOWED_HOSTS": "films.example.org"} | told
    app = COMPOSE["services"]["app"]
    assert [with_variables(each, env) for each in app["ports"]] == [published]
    assert "--port" not in image_command()
    for name, value in app["environment"].items():
        monkeypatch.setenv(name, with_variables(value, env))
    assert runpy.run_path(str(ROOT / "project" / "settings.py"))["SITE_ADDRESS"] == address


def with_variables(text: str, env: dict[str, str]) -> str:
    return re.sub(r"\$\{(\w+):[-?]([^}]*)\}", lambda found: env.get(found[1]) or found[2], text)


def test_what_the_container_file_copies_exists() -> None:
    for copied in re.findall(r"^COPY (.+)$", CONTAINERFILE, re.MULTILINE):
        *sources, _ = copied.split()
        for source in sources:
            assert (ROOT / source).exists(), source


def test_the_file_with_the_secrets_stays_out_of_the_image() -> None:
    """docker-compose.yml has them stand in `.env`; the ignore file's patterns are those of Go's filepath.Match."""
    ignored = (ROOT / "project" / "Containerfile.dockerignore").read_text().split()
    assert any(fnmatchcase(".env", pattern) for pattern in ignored)
    assert not any(fnmatchcase(needed, pattern) for needed in ("manage.py", "project", "static") for pattern in ignored)


def test_the_images_own_command_serves_on_postgresql_and_its_health_check_passes(
    postgres_url: str, tmp_path: Path
) -> None:
    python, _, serve, *arguments = image_command()
    assert (python, serve) == ("python", "serve")
    name = f"image_{uuid.uuid4().hex[:8]}"
    port = free_port()
    env = {
        "PORT": str(port),
        "DATABASE_URL": database_of(postgres_url, name),
        "SECRET_KEY": "k" * 50,
        "ALLOWED_HOSTS": "films.example.org",
    }
    try:
        with serving(tmp_path / "data", *arguments, port=port, **env) as server:
            server.wait_for("one-time code")
            server.wait_until_it_answers()
            python, manage, *check = COMPOSE["services"]["app"]["healthcheck"]["test"][1:]
            healthy = subprocess.run(
                [sys.executable, str(ROOT / manage), *check],
                env=environment(tmp_path / "data", **env),
                capture_output=True,
                text=True,
            )
            assert healthy.stdout.strip() == "healthy", healthy.stderr
        assert not (tmp_path / "data" / "fairhand.sqlite3").exists()
    finally:
        drop_database(postgres_url, name)


def drop_database(url: str, name: str) -> None:
    with psycopg.connect(database_of(url, "postgres"), autocommit=True) as server:
        server.execute(sql.SQL("DROP DATABASE IF EXISTS {} WITH (FORCE)").format(sql.Identifier(name)))


def test_the_health_check_says_when_nothing_answers(capsys: pytest.CaptureFixture[str]) -> None:
    done = ended(capsys, "healthy", "--port", str(free_port()))
    assert done.returncode == 1
    assert "does not answer" in done.stderr
