// One card in the launcher for each workbook of the learner's folder.
const OPEN = 'tlib:open-workbook';
const WORKBOOK = /^(\d\d)-([^.]+)\.ipynb$/;  // 04-filling-the-store.ipynb; an older copy has one dot more

const TANK = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 24 24">
  <path fill="#7d2a26" d="M6 6a4 4 0 0 1 4-4h4a4 4 0 0 1 4 4v3H6z"/>
  <path fill="#e0904a" d="M6 9h12v6H6z"/>
  <path fill="#f0e3c4" d="M6 15h12v3a4 4 0 0 1-4 4h-4a4 4 0 0 1-4-4z"/>
  <rect x="6" y="2" width="12" height="20" rx="4" fill="none" stroke="#22272b" stroke-width="1.2"/>
</svg>`;

export async function addCards(app, launcher, LabIcon) {
  app.commands.addCommand(OPEN, {
    label: args => args.label,
    caption: args => `Open the workbook ${args.label}`,
    icon: new LabIcon({ name: 'tlib:tank', svgstr: TANK }),
    execute: args => app.commands.execute('docmanager:open', { path: args.path })
  });
  const folder = await app.serviceManager.contents.get('');
  const books = folder.content.filter(file => WORKBOOK.test(file.name));
  books.sort((one, other) => one.name.localeCompare(other.name)).forEach(({ name, path }, rank) => {
    launcher.add({ command: OPEN, args: { path, label: title(name) }, category: 'Thermal store workbooks', rank });
  });
}

function title(name) {
  const [, number, words] = WORKBOOK.exec(name);
  const plain = words.replaceAll('-', ' ');
  return `${Number(number) || ''} ${plain[0].toUpperCase()}${plain.slice(1)}`.trim();
}
