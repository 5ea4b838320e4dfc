// A line above the page that says what the workbook is doing; a screen reader speaks each change.
export function addStatusLine(panel, Widget) {
  const words = document.createElement('p');
  words.setAttribute('role', 'status');
  const line = new Widget();
  line.addClass('tlib-status');
  line.node.append(words);
  panel.contentHeader.addWidget(line);
  // The layout gives a widget its least height, so that must follow the words as they wrap.
  new ResizeObserver(() => {
    line.node.style.minHeight = `${words.offsetHeight}px`;
    panel.contentHeader.fit();
  }).observe(words);
  return sentence => {
    words.textContent = sentence;
  };
}
