// What is handed over: the inspection packet, files, the history. `view` is the job view's state, see job.js.
import { ask, state } from './ask.js';
import { button, download, el, say, sayTrouble } from './dom.js';
import { when } from './frame.js';
import * as store from './store.js';

export function handOverTab(view) {
  const make = (words, run) => button(view.working === words ? 'Working …' : words, async () => {
    view.working = words;
    view.redraw();
    try {
      await view.paper.flush();
      await run();
    } catch (trouble) {
      sayTrouble(trouble);
    }
    view.working = '';
    view.redraw();
  }, { key: words, off: Boolean(view.working) });
  const packet = async (options) => {
    const onServer = state.server && !view.job.local;
    const answer = await ask('packet', { sheet: view.job.sheet, stock: await store.stock(), job: onServer ? view.job.id : undefined, photos: onServer ? undefined : await store.photosForPacket(view.job.id), ...options });
    download(answer.name, 'base64', answer.pdf);
    say(`Sheet fingerprint: ${answer.fingerprint}`, true);
  };
  return [
    el('section', { class: 'card' }, el('h2', {}, 'Inspection packet'), el('p', {}, 'One PDF: a cover to sign, what fails and how to fix it, and a card for every box with its picture and worksheet.'),
      el('div', { class: 'row' }, make('Packet, US letter', () => packet({ paper: 'letter' })), make('Packet, A4', () => packet({ paper: 'a4' })), make('Failing boxes only', () => packet({ only_failing: true })))),
    el('section', { class: 'card' }, el('h2', {}, 'Files'), el('div', { class: 'row' },
      button('Sheet', () => download(`${view.list.title || 'job'}.job`, 'text', view.job.sheet), { key: 'save-sheet' }),
      make('Workbook', async () => { const answer = await ask('workbook', { sheet: view.job.sheet }); download(answer.name, 'base64', answer.xlsx); }))),
    view.extra?.versions?.length ? historyCard(view) : null,
  ];
}

function historyCard(view) {
  const older = async () => {
    try {
      if (view.shownVersions >= view.extra.versions.length && view.extra.more) {
        const more = await store.history(view.id, view.extra.versions.at(-1).version);
        view.extra = { versions: [...view.extra.versions, ...more.versions], more: more.more };
      }
      view.shownVersions += 60;
      view.redraw();
    } catch (trouble) {
      sayTrouble(trouble);
    }
  };
  const bringBack = async (version) => {
    try {
      await view.exchange(await store.versionOf(view.id, version), `back to version ${version}`, `Version ${version} is back. Undo takes it away again.`);
    } catch (trouble) {
      sayTrouble(trouble);
    }
  };
  return el('section', { class: 'card', data: { key: 'history' } }, el('h2', {}, 'History'),
    el('ul', { class: 'list' }, view.extra.versions.slice(0, view.shownVersions).map((version) => el('li', { data: { key: `row-${version.version}` } }, el('span', { class: 'grow' }, `${version.version}: ${version.label}`, el('br'), el('span', { class: 'small soft' }, when(version.made))),
      version.version === view.job.version ? el('span', { class: 'soft' }, 'now') : button('Bring back', () => bringBack(version.version), { key: `version-${version.version}`, 'aria-label': `Bring back version ${version.version}` })))),
    view.extra.more || view.shownVersions < view.extra.versions.length ? button('Show older', older, { key: 'older' }) : null);
}
