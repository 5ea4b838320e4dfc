// The plugin: it looks after notebooks that carry our own key in their metadata, and leaves every other one alone.
import { addCards } from './cards.js';
import { nameWidgets } from './naming.js';
import { keepRunning } from './running.js';
import { addStatusLine } from './status.js';

const TOGGLE = 'tlib:toggle-code';
const PAGE = 'tlib-page';        // one of our notebooks
const READING = 'tlib-reading';  // its code is out of sight
const QUIET = 'data-lm-suppress-shortcuts';  // while reading, a key press must never edit the notebook

export function makePlugin({ apputils, launcher, mainmenu, notebook, ui, widgets }) {
  return {
    id: 'thermal-store-workbook:plugin',
    autoStart: true,
    requires: [notebook.INotebookTracker],
    optional: [apputils.ICommandPalette, launcher.ILauncher, mainmenu.IMainMenu],
    activate: (app, tracker, palette, cards, menu) => {
      addStyle();
      addToggle(app, tracker, palette, menu);
      if (cards) {
        addCards(app, cards, ui.LabIcon);
      }
      const closeDialogs = () => apputils.Dialog.flush();
      const hideSides = once(() => collapse(app.shell));
      tracker.widgetAdded.connect(async (_, panel) => {
        await panel.context.ready;
        if (panel.model?.getMetadata('tlib')?.workbook) {
          openPage(panel);
          const say = addStatusLine(panel, widgets.Widget);
          await panel.revealed;
          hideSides();
          keepRunning(panel, notebook.NotebookActions, { say, closeDialogs });
        }
      });
    }
  };
}

function addStyle() {
  const link = document.createElement('link');
  link.rel = 'stylesheet';
  link.href = new URL('page.css', import.meta.url);
  document.head.append(link);
}

function addToggle(app, tracker, palette, menu) {
  const current = () => {
    const panel = tracker.currentWidget;
    return panel?.hasClass(PAGE) ? panel : null;
  };
  app.commands.addCommand(TOGGLE, {
    label: 'Show or hide the code of this workbook',
    isEnabled: () => current() !== null,
    isVisible: () => current() !== null,
    execute: () => setReading(current(), !current().hasClass(READING))
  });
  palette?.addItem({ command: TOGGLE, category: 'Thermal store workbooks' });
  menu?.viewMenu.addGroup([{ command: TOGGLE }], 0);
}

function openPage(panel) {
  panel.addClass(PAGE);
  setReading(panel, true);
  nameWidgets(panel.content.node);
  // Answers are saved by the panels. The page itself has nothing to save, so nothing may ask to save it.
  const forget = () => {
    if (panel.model?.dirty && panel.hasClass(READING)) {
      panel.model.dirty = false;
    }
  };
  panel.model.stateChanged.connect(forget);
  panel.node.addEventListener('keydown', event => {
    if ((event.ctrlKey || event.metaKey) && event.key === 's' && panel.hasClass(READING)) {
      event.preventDefault();
    }
  });
  // Arrows go from option to option; JupyterLab, which hears them first at the document, would go from cell to cell.
  const keep = event => {
    const radio = event.target?.matches?.('input[type="radio"]') && panel.node.contains(event.target);
    if (radio && event.key.startsWith('Arrow')) {
      event.stopPropagation();
    }
  };
  window.addEventListener('keydown', keep, true);
  panel.disposed.connect(() => window.removeEventListener('keydown', keep, true));
}

function setReading(panel, reading) {
  panel.toggleClass(READING, reading);
  panel.content.node.toggleAttribute(QUIET, reading);
  panel.toolbar.setHidden(reading);
}

// A reader needs no file list and no tool panels; the View menu brings them back, and then they stay.
function collapse(shell) {
  for (const side of ['left', 'right']) {
    if (shell.isSideTabBarVisible?.(side)) {
      shell.toggleSideTabBarVisibility(side);
    }
  }
  shell.collapseLeft?.();
  shell.collapseRight?.();
}

function once(work) {
  let done = false;
  return () => {
    if (!done) {
      done = true;
      work();
    }
  };
}
