"""The commands: argument reading and calls, nothing else."""

import os
from pathlib import Path

import click

__all__ = ["main"]


main = click.Group(
    help="Open the workbooks on thermal stores, check exercises, set work for a class, mark what learners hand in.",
    context_settings={"help_option_names": ["-h", "--help"]},
)


@main.command("open")
@click.argument("workbook", default="00")
@click.option("--learner", metavar="N", help="The learner number, so that the first page need not ask.")
@click.option("--folder", type=click.Path(file_okay=False, path_type=Path), help="Where answers and copies are kept.")
@click.option("--port", type=click.IntRange(1, 65535), help="The port on this computer; by default a free one.")
@click.option("--browser/--no-browser", default=True, help="Whether to open the browser.")
def open_workbook(workbook, learner, folder, port, browser):
    """Open a WORKBOOK by its number, or set work by the folder a tutor handed out; without either, the first page."""
    from tlib.assessment import desk
    from tlib.lab import copies, server

    if folder is not None:
        os.environ["TLIB_ANSWERS"] = str(folder.resolve())
    try:
        if learner is not None:
            desk.switch_learner(learner)
        for kept in copies.copy_workbooks(desk.folder()):
            click.echo(f"A newer workbook has come. Your old copy is kept as {kept.name}.")
        file = copies.bring_hand_out(desk.folder(), workbook) or copies.find_workbook(desk.folder(), workbook)
    except (ValueError, OSError) as fault:
        raise click.ClickException(str(fault)) from None
    app = server.make_server(desk.folder(), file, port, browser)
    server.begin_kernel(app, file)
    click.echo("The workbook opens in your browser. Leave this window open while you work; close it to stop.")
    click.echo(f"If no page comes, open this address in your browser: {server.address(app)}")
    app.start()


@main.command()
@click.argument("folder", required=False, type=click.Path(exists=True, file_okay=False, path_type=Path))
def check(folder):
    """Check the exercises of a FOLDER; without one, those that came with tlib."""
    from tlib.assessment import checker
    from tlib.tables import shipped

    report = checker.check(folder or shipped("exercises"))
    for fault in report.faults:
        click.echo(str(fault))
    for exercise in report.exercises:
        use = "practice and assignments" if exercise.for_assignments else "practice only"
        sets = f"{exercise.draws} sets of values" if exercise.draws > 1 else "nothing to draw but an order"
        click.echo(f"{exercise.id}: {sets}, enough for {use}")
    click.echo(f"{_count(report.exercises, 'exercise')} read, {_count(report.faults, 'fault')} found.")
    if not report.sound:
        raise click.exceptions.Exit(1)


@main.command("set")
@click.argument("work", type=click.Path(exists=True, dir_okay=False, path_type=Path))
@click.option("--out", type=click.Path(file_okay=False, path_type=Path), help="The folder to write.")
def set_(work, out):
    """Set the WORK of a file such as work.toml: write a folder to hand out, and keep the answers apart from it."""
    from tlib.assessment import kept_work, setting

    try:
        done = _with_progress("Setting", lambda told: setting.set_work(work.resolve(), out, told))
    except (ValueError, OSError) as fault:
        raise click.ClickException(f"Nothing was set.\n{fault}") from None
    counts = f"{_count(done.learners, 'learner')}, with {_count(done.exercises, 'exercise')}"
    click.echo(f"{done.title} is set for {counts}.")
    click.echo(f"Give your learners a copy of {done.folder / kept_work.HAND_OUT}")
    click.echo(f"Keep to yourself {done.folder / kept_work.PRIVATE}. It holds the key and the answers; make a copy.")
    if done.open_ids:
        names = ", ".join(sorted(done.open_ids))
        click.echo(f"Learners can read how these are marked, for they came with tlib: {names}.")
    click.echo(f"Collect the hand-ins in {done.folder / kept_work.HAND_INS}, then run the command mark on that folder.")


@main.command()
@click.argument("folder", type=click.Path(exists=True, path_type=Path))
@click.option("--work", type=click.Path(exists=True, file_okay=False, path_type=Path),
              help="The folder made when the work was set, if the hand-ins lie elsewhere.")  # fmt: skip
@click.option("--out", type=click.Path(file_okay=False, path_type=Path), help="Where the sheets go.")
def mark(folder, work, out):
    """Mark the hand-ins of a FOLDER; write a mark sheet and a feedback page for each learner."""
    from tlib.assessment import kept_work
    from tlib.papers import mark_sheet

    place, found = folder.resolve(), kept_work.find(work or folder)
    if found == place:
        place /= kept_work.HAND_INS
    out = out.resolve() if out else place.with_name(f"{place.name}-marked")
    if out == place or place in out.parents:
        raise click.ClickException("The sheets must go outside the folder of hand-ins. Choose another --out.")
    run = _marked(place, found, work)
    papers = mark_sheet.write_papers(run, out)
    for aside in run.aside:
        click.echo(f"Not marked: {aside.path.name}. {aside.reason}")
    for script in run.scripts:
        for note in script.notes:
            click.echo(f"Learner {script.learner}: {note}")
    if run.missing:
        click.echo(f"Nothing marked for: {', '.join(f'{one.number} {one.name}'.strip() for one in run.missing)}.")
    click.echo(f"{_count(run.scripts, 'hand-in')} marked, {_count(run.aside, 'file')} set aside.")
    click.echo(f"The mark sheet is {papers[0]}, the feedback pages are beside it.")


def _marked(place, found, work):
    """Mark a folder as the work it was set for, or, where none was set, as practice from the open bank."""
    from tlib.assessment import bank, kept_work, marking_run, set_marking

    try:
        if found is None and work is not None:
            raise ValueError(f"{work} holds no work that was set.")
        if found is None:
            exercises = bank.load()
            return _with_progress("Marking", lambda told: marking_run.mark_folder(place, exercises, told=told))
        was_set = kept_work.load(found)
        return _with_progress("Marking", lambda told: set_marking.mark_set_work(place, was_set, told))
    except ValueError as fault:
        raise click.ClickException(f"Nothing was marked.\n{fault}") from None


def _with_progress(words, work):
    """Do work that tells how far it is, with a bar while it lasts."""
    from rich.progress import Progress

    with Progress(transient=True) as bar:
        task = bar.add_task(words, total=None)
        return work(lambda done, total: bar.update(task, completed=done, total=total))


def _count(things, name):
    return f"{len(things)} {name}{'' if len(things) == 1 else 's'}"
