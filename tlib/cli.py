"""The commands: argument reading and calls, nothing else."""

import os
from pathlib import Path

import click

__all__ = ["main"]


@click.group(context_settings={"help_option_names": ["-h", "--help"]})
def main():
    """Open the workbooks on thermal stores, check exercises, mark what learners hand in."""


@main.command("open")
@click.argument("workbook", default="04")
@click.option("--learner", metavar="N", help="The learner number, so that the first page need not ask.")
@click.option("--folder", type=click.Path(file_okay=False, path_type=Path), help="Where answers and copies are kept.")
@click.option("--port", type=click.IntRange(1, 65535), help="The port on this computer; by default a free one.")
@click.option("--browser/--no-browser", default=True, help="Whether to open the browser.")
def open_workbook(workbook, learner, folder, port, browser):
    """Open a WORKBOOK by its number, in the learner's own folder."""
    from tlib.assessment import desk
    from tlib.lab import copies, server

    if folder is not None:
        os.environ["TLIB_ANSWERS"] = str(folder.resolve())
    try:
        if learner is not None:
            desk.switch_learner(learner)
        for kept in copies.copy_workbooks(desk.folder()):
            click.echo(f"A newer workbook has come. Your old copy is kept as {kept.name}.")
        file = copies.find_workbook(desk.folder(), workbook)
    except (ValueError, OSError) as fault:
        raise click.ClickException(str(fault)) from None
    app = server.make_server(desk.folder(), file, port, browser)
    click.echo("The workbook opens in your browser. Leave this window open while you work; close it to stop.")
    click.echo(f"If no page comes, open this address in your browser: {server.address(app)}")
    app.start()
