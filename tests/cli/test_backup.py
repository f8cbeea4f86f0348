"""`tenthbook backup` and `tenthbook restore`: everything in one file, proved before any of it is taken in."""

from __future__ import annotations

import json
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest
from click.testing import Result

from tests.builders import close_database
from tests.cli.said import done, refused
from tests.faults.stage import STREAM, look, start, wait_for

Ask = Callable[..., Result]
JOBS = ("0417", "0418")
FILE = "all.backup"


@pytest.fixture(scope="module")
def backup(full_shop: Path, tmp_path_factory: pytest.TempPathFactory) -> bytes:
    """A backup of the shop with something of everything."""
    from click.testing import CliRunner

    from tenthbook.faces.cli.root import command

    folder = tmp_path_factory.mktemp("backup")
    shutil.copytree(full_shop, folder / "shop")
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("TENTHBOOK_DATA", str(folder / "shop"))
        assert CliRunner().invoke(command, ["backup", str(folder / FILE)]).exit_code == 0
        close_database()
    return (folder / FILE).read_bytes()


def archives(ask: Ask, folder: Path, *place: str) -> dict[str, bytes]:
    """The archive of each job, byte for byte."""
    found = {}
    for job in JOBS:
        done(ask(*place, "job", "export", job, "one.zip", "--replace"))
        found[job] = (folder / "one.zip").read_bytes()
    return found


def listed(ask: Ask, *place: str) -> list[str]:
    """What stands in a store besides its jobs, in words."""
    questions = (["user", "list"], ["key", "list", "--json"], ["job", "history", "shop"], ["job", "history", "tools"])
    return [done(ask(*place, *words)) for words in questions]


def test_a_backup_says_what_it_holds(full: Ask, tmp_path: Path) -> None:
    """Entries, pieces, keys and log-ins are counted, the digest is told, and how to try it; no part lies about."""
    answer = full("backup", FILE)
    first, digest = done(answer).splitlines()
    size = (tmp_path / FILE).stat().st_size
    entries = sum(len(json.loads(done(full("job", "history", one, "--json")))) for one in (*JOBS, "shop", "tools"))
    kept = f"{entries} entries in 4 streams, 2 pieces kept, 2 beside the entries, 1 withheld"
    assert first == f"{FILE}: {kept}, 2 closed keys, 1 log-ins; {size} bytes"
    assert len(digest.removeprefix("digest ")) == 64
    assert answer.stderr == f"try it now and then: tenthbook --data EMPTY-FOLDER restore {FILE}\n"
    assert [path.name for path in tmp_path.iterdir() if path.name.endswith(".part")] == []


def test_restored_into_an_empty_folder_everything_is_as_it_was(full: Ask, tmp_path: Path) -> None:
    """Chains are proved; archives are the same to the bit, people, keys and log-ins the same; keys still sign."""
    written = done(full("backup", FILE)).splitlines()
    told = done(full("--data", "empty", "restore", FILE)).splitlines()
    assert told[0] == written[0].removeprefix(f"{FILE}: ").rpartition("; ")[0]
    proofs = [line.partition(": ") for line in told[1:-2]]
    assert [stream for stream, _, _ in proofs] == [*JOBS, "shop", "tools"]
    assert all(answer.startswith("whole, ") for _, _, answer in proofs)
    assert told[-1] == written[-1]
    assert archives(full, tmp_path, "--data", "empty") == archives(full, tmp_path)
    assert listed(full, "--data", "empty") == listed(full)
    reviewed = done(full("--data", "empty", "job", "review", "0418", "--entries", "2")).split()[-1]
    words = ["--entries", "2", "--shown", reviewed, "--phrase-file", "mechanic"]
    assert "signed by mechanic" in done(full("--data", "empty", "job", "sign", "0418", *words))


def test_a_backup_of_what_was_restored_is_the_same_file(full: Ask, tmp_path: Path) -> None:
    """Nothing is lost on the way and nothing comes in: the second backup is the first to the bit."""
    done(full("backup", FILE))
    done(full("--data", "empty", "restore", FILE))
    done(full("--data", "empty", "backup", "again.backup"))
    assert (tmp_path / "again.backup").read_bytes() == (tmp_path / FILE).read_bytes()


def test_a_backup_holds_one_moment_while_another_process_records(full: Ask, tmp_path: Path) -> None:
    """All that was acknowledged before is in it, it holds a beginning of what was recorded, nobody is kept out."""
    writer = start(tmp_path / "shop", "", "other", 0, "--pause", "0.005")
    try:
        wait_for([writer], 10)
        before = dict(writer.acknowledged)
        done(full("backup", FILE))
        wait_for([writer], len(writer.acknowledged) + 5)
    finally:
        writer.kill()
    assert writer.refused == {}
    done(full("--data", "empty", "restore", FILE))
    held = json.loads(done(full("--data", "empty", "job", "history", STREAM, "--json")))
    all_of_it = json.loads(done(full("job", "history", STREAM, "--json")))
    hashes = [line["hash"] for line in held]
    assert {found for _, found in before.values()} <= set(hashes)
    assert hashes == [line["hash"] for line in all_of_it][: len(hashes)]
    assert len(held) < len(all_of_it)
    from tenthbook.faces.store.database import open_store

    assert look(open_store(tmp_path / "shop"), [writer]) == len(all_of_it)


def flipped(content: bytes, place: int) -> bytes:
    """The bytes with one of them changed."""
    return content[:place] + bytes([content[place] ^ 1]) + content[place + 1 :]


@pytest.mark.parametrize("part", [0.0, 0.02, 0.1, 0.3, 0.5, 0.7, 0.9, 0.98, 1.0])
def test_a_backup_with_one_byte_changed_is_refused(ask: Ask, backup: bytes, tmp_path: Path, part: float) -> None:
    """What is broken is told, exit 1; nothing was taken in, and the folder can still take a whole one."""
    (tmp_path / FILE).write_bytes(flipped(backup, round(part * (len(backup) - 1))))
    told = refused(ask("restore", FILE), 1)
    assert told.startswith("found ")
    assert told.splitlines()[-1] == "nothing was taken in"
    assert not (tmp_path / "shop").exists()


@pytest.mark.parametrize("kept", [0, 1, 1000, -1, -1000])
def test_a_torn_backup_is_refused(ask: Ask, backup: bytes, tmp_path: Path, kept: int) -> None:
    """However much of it is there: exit 1, and nothing was taken in."""
    (tmp_path / FILE).write_bytes(backup[:kept])
    assert refused(ask("restore", FILE), 1).splitlines()[-1] == "nothing was taken in"
    assert not (tmp_path / "shop").exists()


@pytest.mark.parametrize("content", [b"no backup\n" * 50, b"PK\x05\x06" + bytes(18)], ids=["text", "empty zip"])
def test_another_file_is_no_backup(ask: Ask, tmp_path: Path, content: bytes) -> None:
    """Refused with exit 1; a file that is not there is misuse, exit 2."""
    (tmp_path / FILE).write_bytes(content)
    assert refused(ask("restore", FILE), 1).splitlines()[-1] == "nothing was taken in"
    assert ask("restore", "nowhere.backup").exit_code == 2


def test_an_archive_of_a_job_is_no_backup(full: Ask) -> None:
    """It proves itself, and is refused as a backup with exit 1."""
    done(full("job", "export", "0417", "job.zip"))
    assert refused(full("--data", "empty", "restore", "job.zip"), 1).splitlines()[-1] == "nothing was taken in"


@pytest.mark.parametrize("target", ["full", "first"])
def test_a_place_that_holds_something_is_not_restored_into(
    request: pytest.FixtureRequest, backup: bytes, tmp_path: Path, target: str
) -> None:
    """The same shop or another: exit 2, and it stays as it was."""
    ask: Ask = request.getfixturevalue(target)
    (tmp_path / FILE).write_bytes(backup)
    before = done(ask("verify"))
    assert refused(ask("restore", FILE), 2) == "found a database that holds something; expected an empty one\n"
    assert done(ask("verify")) == before


def test_a_backup_is_written_over_nothing_unasked(full: Ask, tmp_path: Path) -> None:
    """A file that lies there stays as it is, exit 2; with `--replace` it gives way to a whole backup."""
    (tmp_path / FILE).write_text("mine\n")
    assert refused(full("backup", FILE), 2).startswith(f"found {FILE}, which is there already; ")
    assert (tmp_path / FILE).read_text() == "mine\n"
    done(full("backup", FILE, "--replace"))
    done(full("--data", "empty", "restore", FILE))


@pytest.mark.parametrize("target", ["nowhere/all.backup", "."])
def test_a_backup_that_cannot_be_written_is_named(full: Ask, target: str) -> None:
    """A folder that is not there, or one in the place of the file: exit 2, with its name."""
    answer = full("backup", target)
    assert (answer.exit_code, answer.stdout) == (2, "")
    assert target in answer.stderr


def test_what_is_withheld_is_in_no_backup(full: Ask, full_shop: Path, tmp_path: Path) -> None:
    """Restored it says withheld; the photograph that is not withheld comes back to the bit."""
    shown, gone = ((full_shop.parent / name).read_bytes() for name in ("shaft.jpg", "person.jpg"))
    done(full("backup", FILE))
    assert [piece in (tmp_path / FILE).read_bytes() for piece in (shown, gone)] == [True, False]
    done(full("--data", "empty", "restore", FILE))
    assert "withheld" in refused(full("--data", "empty", "job", "photo", "0417", "5", "out.jpg"), 2)
    done(full("--data", "empty", "job", "photo", "0417", "4", "out.jpg", "--original"))
    assert (tmp_path / "out.jpg").read_bytes() == shown


def test_an_empty_shop_is_backed_up_and_restored(ask: Ask) -> None:
    """Nothing is recorded, and a backup of it is whole."""
    assert done(ask("backup", FILE)).startswith(f"{FILE}: 0 entries in 0 streams, ")
    assert done(ask("--data", "empty", "restore", FILE)).startswith("0 entries in 0 streams, ")
