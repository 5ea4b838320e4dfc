// Names what ipywidgets leaves nameless, so that a screen reader can say what a slider or a set of choices is for.
let count = 0;

export function nameWidgets(root) {
  const nameAll = () => {
    root.querySelectorAll('.widget-slider').forEach(nameSlider);
    root.querySelectorAll('.widget-radio').forEach(widget => nameGroup(widget, '.widget-radio-box', 'radiogroup'));
    root.querySelectorAll('.widget-toggle-buttons').forEach(widget => nameGroup(widget, '.widget-toggle-buttons > div', 'group'));
  };
  nameAll();
  new MutationObserver(nameAll).observe(root, { childList: true, subtree: true });
}

function nameSlider(widget) {
  const label = labelOf(widget);
  widget.querySelectorAll('[role=slider]').forEach(handle => labelBy(handle, label));
  const readout = widget.querySelector('.widget-readout[contenteditable]');
  if (readout) {
    readout.setAttribute('role', 'textbox');
    readout.tabIndex = 0;
    labelBy(readout, label);
  }
}

function nameGroup(widget, inner, role) {
  const box = widget.querySelector(inner);
  if (box) {
    box.setAttribute('role', role);
    labelBy(box, labelOf(widget));
    // With one name they are one group: one stop of Tab, arrows from one to the next, and "2 of 3" in a screen reader.
    box.querySelectorAll('input[type=radio]:not([name])').forEach(radio => { radio.name = groupOf(box); });
  }
}

function groupOf(box) {
  box.dataset.tlibGroup ||= `tlib-group-${++count}`;
  return box.dataset.tlibGroup;
}

// Pointing at the visible label keeps the name right when the label's words change.
function labelBy(element, label) {
  if (label && element.getAttribute('aria-labelledby') !== label.id) {
    element.setAttribute('aria-labelledby', label.id);
  }
}

function labelOf(widget) {
  const label = widget.querySelector('.widget-label');
  if (label) {
    label.id ||= `tlib-label-${++count}`;
    if (label.title === 'null') {
      label.removeAttribute('title');
    }
  }
  return label;
}
