// Runs a workbook when it opens and again whenever its kernel has started afresh, and says so in plain words.
// data-tlib-ready on the panel is "ok" or "failed" once a run has ended; data-tlib-runs counts the runs.
const STARTING = 'Starting the panels…';
const RESTARTING = 'The workbook is starting again. Your saved answers are safe.';
const FAILED = 'Something went wrong in this workbook, so a part of it may be missing. ' +
  'Choose Run > Run All Cells, or ask your tutor.';
const STOPPED = 'This workbook has stopped. Choose Kernel > Restart Kernel, or ask your tutor.';
const GONE = ['restarting', 'autorestarting', 'terminating', 'dead'];

export async function keepRunning(panel, NotebookActions, { say, closeDialogs }) {
  const session = panel.sessionContext;
  let runs = 0;
  let turn = 0;      // a run that is overtaken by a fresh kernel must not report
  let gone = false;  // the kernel that ran the page is no more

  async function run() {
    const mine = ++turn;
    gone = false;
    delete panel.node.dataset.tlibReady;
    say(STARTING);
    const ok = await keepPlace(panel, () => NotebookActions.runAll(panel.content, session));
    if (mine === turn && !panel.isDisposed) {
      report(ok);
    }
  }

  function report(ok) {
    panel.model.dirty = false;
    panel.node.dataset.tlibRuns = ++runs;
    panel.node.dataset.tlibReady = ok ? 'ok' : 'failed';
    say(ok ? '' : FAILED);
  }

  function lose(status) {
    gone = true;
    ++turn;
    delete panel.node.dataset.tlibReady;
    say(status === 'dead' ? STOPPED : RESTARTING);
    if (status === 'autorestarting') {
      closeDialogs();  // the line above says what the dialog says, and needs no answer
    }
  }

  say(STARTING);
  await session.ready;  // before this, a run is dropped without a word
  session.statusChanged.connect((_, status) => {
    if (GONE.includes(status)) {
      lose(status);
    } else if (gone && status === 'idle') {
      run();
    }
  });
  session.kernelChanged.connect((_, { newValue }) => {
    gone = newValue !== null;
  });
  // Run > Run All Cells, chosen by the reader, may mend a page that had failed.
  const mend = (_, { notebook, cell, success }) => {
    const last = panel.content?.widgets.findLast(each => each.model.type === 'code');
    if (notebook === panel.content && cell === last && success && panel.node.dataset.tlibReady === 'failed') {
      report(true);
    }
  };
  NotebookActions.executed.connect(mend);
  panel.disposed.connect(() => NotebookActions.executed.disconnect(mend));
  if (await holdsPanels(session.session.kernel)) {
    await session.session.kernel.restart();
  } else {
    await run();
  }
}

// After a reload of the browser page the kernel still holds the panels of before, half of which the new page cannot
// show; a fresh one can.
async function holdsPanels(kernel) {
  const answer = await kernel.requestCommInfo({ target_name: 'jupyter.widget' });
  return Object.keys(answer.content.comms ?? {}).length > 0;
}

// Running every cell jumps to the last one; the reader stays where they were.
async function keepPlace(panel, work) {
  const scroller = panel.content.node.querySelector('.jp-WindowedPanel-outer') ?? panel.content.node;
  const place = scroller.scrollTop;
  const running = work();
  panel.content.deselectAll();
  const result = await running;
  panel.content.activeCellIndex = 0;
  scroller.scrollTop = place;
  return result;
}
