"""`tenthbook demo`: play the demonstration job on invented data and show its answers."""

from __future__ import annotations

import hashlib
import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

import click
from click.core import ParameterSource

from tenthbook.faces.cli.output import INVENTED, plain_errors, say, write_file
from tenthbook.numbers.because import TenthbookError

if TYPE_CHECKING:
    from tenthbook.faces.story import BookScene, Scene, Script, ShopScene
    from tenthbook.record.bench import Bench

STORY_FOLDER = Path(__file__).parents[4] / "story"
_MARK = "demonstration.txt"
_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


class NoStory(TenthbookError):
    """A demonstration without its script, or a folder that is not the demonstration's."""


def _read_folder(folder: Path) -> dict[str, bytes]:
    files = [file for file in sorted(folder.rglob("*")) if file.is_file()]
    return {str(file.relative_to(folder)): file.read_bytes() for file in files}


def clear_folder(folder: Path, *jobs: str) -> None:
    """Make room for a playing, without touching anything that is not the demonstration's.

    Args:
        folder: The demonstration's own folder.
        jobs: Ids of the demonstration's jobs.

    Raises:
        NoStory: the folder holds something else, or a job of somebody's own.
    """
    from tenthbook.faces.store.database import open_store
    from tenthbook.record.bench import is_job

    if folder.exists() and any(folder.iterdir()):
        if not (folder / _MARK).is_file():
            expected = "an empty folder, or an earlier demonstration"
            raise NoStory(found=f"other files in {folder}", expected=expected, todo="name another with --data")
        own = sorted(one for one in open_store(folder).streams() if one not in jobs and is_job(one))
        if own:
            expected = "the demonstration's jobs alone"
            raise NoStory(found=f"job {', '.join(own)} in {folder}", expected=expected, todo="name another with --data")
        shutil.rmtree(folder)
    folder.mkdir(parents=True, exist_ok=True)
    (folder / _MARK).write_text(f"{INVENTED}\nThis folder is made anew by each demonstration.\n", encoding="utf-8")


class Played(NamedTuple):
    """A playing made ready: the script, the bench it is played on, and its scenes, played as they are asked for."""

    script: Script
    bench: Bench
    founded: Iterator[ShopScene]
    made: Iterator[BookScene]
    scenes: Iterator[Scene]
    other: Script
    others: Iterator[Scene]


def open_story(folder: Path, story: Path) -> Played:
    """Make a playing ready.

    Args:
        folder: The demonstration's own folder.
        story: Folder of the script and its books.

    Returns:
        The script, the bench, and the scenes: the founding of the shop, act 0, those of the job, those of another.

    Raises:
        NoStory: no script there.
    """
    from tenthbook.faces.store.database import open_store
    from tenthbook.faces.story import StoryClock, found, play, read_script, transcribe
    from tenthbook.record.bench import Bench
    from tenthbook.record.book import read_book

    script, other = (read_script(_script(story, name)) for name in ("dunlin-four.toml", "redshank-twin.toml"))
    clear_folder(folder, script.job, other.job)
    book = read_book(_read_folder(story / script.book))
    clock = StoryClock()
    bench = Bench(open_store(folder, clock=clock))
    photographs = _read_folder(story / "photographs")
    founded, made = found(script, bench, clock), transcribe(script, book, bench, clock)
    scenes = play(script, book, bench, clock, photographs)
    other_book = read_book(_read_folder(story / other.book))
    return Played(script, bench, founded, made, scenes, other, play(other, other_book, bench, clock, photographs))


def _script(story: Path, name: str) -> bytes:
    file = story / name
    if not file.is_file():
        todo = "name its folder with --story"
        raise NoStory(found=f"no {name} in {story}", expected="the story that lies beside the source", todo=todo)
    return file.read_bytes()


def _day(at: str) -> str:
    return f"{at[8:10]} {_MONTHS[int(at[5:7]) - 1]}"


def _say_made(scene: BookScene | ShopScene) -> None:
    say(f"{_day(scene.line.at)} {scene.line.at[11:16]}  {scene.line.who}: {scene.line.says}")
    for line in scene.shows:
        say(f"        {line}")


def _say_scene(scene: Scene) -> None:
    from tenthbook.faces.cli.showing import judged_lines, part_lines
    from tenthbook.record.workup import PartVerdict

    say(f"{_day(scene.line.at)} {scene.line.at[11:16]}  {scene.line.who}: {scene.line.says}")
    lines = [f"asked: {scene.asked}"] if scene.asked else []
    if scene.line.follows:
        lines = []
    elif isinstance(scene.judged, PartVerdict):
        lines = part_lines(scene.judged)
    elif scene.judged is not None:
        lines = judged_lines(scene.judged)
        lines = lines if scene.line.sees.startswith(("BEYOND", "UNDECIDED")) else lines[:1]
    if scene.line.foresees:
        lines.append(scene.line.foresees)
    lines += scene.told
    for line in lines:
        say(f"        {line}")


def _say_acts(scenes: Iterator[Scene]) -> None:
    act = None
    for scene in scenes:
        if scene.act.act != act:
            act = scene.act.act
            say(f"\nAct {act}. {scene.act.title}")
        _say_scene(scene)


def _opened(script: Script) -> str:
    return f"{script.opened['engine']}: {script.opened['reason']}; scope: {script.opened['scope']}"


def _say_end(bench: Bench, script: Script) -> None:
    """What was signed, decided, follows, and is undone."""
    from tenthbook.faces.cli.showing import consequence_lines, disposition_lines, undone_lines
    from tenthbook.record.bench.signing import record_words

    told, work = record_words(bench, script.job), bench.work_up(script.job)
    ended = {
        "Signed:": [*told.signatures, *told.keys, *told.standing] if told.signatures else [],
        "Decided:": disposition_lines(bench, script.job),
        "What follows:": consequence_lines(work),
        "Undone in this book:": undone_lines(work),
    }
    for title, lines in ended.items():
        if lines:
            say(f"\n{title}")
            say("\n".join(lines))


def _finish(bench: Bench, script: Script, folder: Path) -> None:
    from tenthbook.faces.cli.papers import issue
    from tenthbook.faces.store.verifier_text import verifier_text
    from tenthbook.record.ledger import examine

    last = script.acts[-1].lines[-1]
    act = {"person": last.who, "request": "story.paper", "acted_at": last.at}
    paper, archive = folder / "inspection-report.pdf", folder / f"{script.job}.zip"
    issue(bench, script.job, "inspection", act, paper)
    content = bench.archive(script.job, verifier_text())
    write_file(archive, content)
    found = examine(content, bench.state(script.job).head)
    digest = hashlib.sha256(content).hexdigest()
    say(f"\npaper    {paper}\narchive  {archive}\n         {found}\n         SHA-256 {digest}")
    say(f"\nlook at it on a screen:  sh dev serve --data {folder}")


def _named(ctx: click.Context) -> Path | None:
    """The folder typed before the command; never the shop's, which the environment names."""
    root = ctx.find_root()
    typed = root.get_parameter_source("data") is ParameterSource.COMMANDLINE
    return Path(root.params["data"]) if typed else None


@click.command(name="demo")
@click.option("--data", type=click.Path(file_okay=False, path_type=Path), help="Folder it is played in.")
@click.option(
    "--story", type=click.Path(file_okay=False, path_type=Path), default=STORY_FOLDER, help="Folder of the story."
)
@click.pass_context
def command(ctx: click.Context, data: Path | None, story: Path) -> None:
    """Play the demonstration job on invented data and show its answers.

    It is played in a folder of its own, demo-shop unless --data names another, and never in the shop's.
    """
    folder = data or _named(ctx) or Path("demo-shop")
    with plain_errors():
        script, bench, founded, made, scenes, other, others = open_story(folder, story)
        say(f"{INVENTED}\n{_opened(script)}")
        if script.founding is not None:
            say(f"\n{script.founding.title}")
        for shop_scene in founded:
            _say_made(shop_scene)
        if script.making is not None:
            say(f"\nAct 0. {script.making.title}")
        for book_scene in made:
            _say_made(book_scene)
        _say_acts(scenes)
        _say_end(bench, script)
        say(f"\nAnother job, another book\n{_opened(other)}")
        _say_acts(others)
        _say_end(bench, other)
        _finish(bench, script, folder)
