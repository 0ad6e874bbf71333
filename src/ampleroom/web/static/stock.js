// The list of parts and prices, and the example jobs: the server's, or those of this browser.
import { ask, request, state } from './ask.js';
import { drop, keep, one } from './database.js';
import { orHere } from './server-or-here.js';

/** The stock file; one written without the server is used here until the server has it. */
export async function stock() {
  const mine = await one('settings', 'stock').catch(() => null);
  if (await one('settings', 'stock-waits').catch(() => false)) return mine ?? '';
  return orHere(async () => {
    const { stock: text } = await request('GET', 'api/stock');
    if (text !== mine) keep('settings', text, 'stock').catch(() => {});
    return text;
  }, () => mine ?? '');
}

export async function setStock(text) {
  await ask('takeoff', { sheet: 'box X\n', stock: text }); // faults are told, and nothing is kept
  await orHere(async () => {
    await request('PUT', 'api/stock', { stock: text });
    await drop('settings', 'stock-waits');
  }, async () => {
    const before = await one('settings', 'stock');
    if (!(await one('settings', 'stock-waits'))) await keep('settings', { was: before ?? '' }, 'stock-waits');
  });
  await keep('settings', text, 'stock');
}

/** A stock file changed here is sent if nobody changed the server's meanwhile; else it stays here until somebody looks. */
export async function sendStock() {
  const waits = await one('settings', 'stock-waits').catch(() => null);
  if (!waits) return;
  const mine = await one('settings', 'stock');
  const { stock: theirs } = await request('GET', 'api/stock');
  if (theirs !== waits.was && theirs !== mine) {
    await keep('settings', { ...waits, theirs }, 'stock-waits');
    return;
  }
  await request('PUT', 'api/stock', { stock: mine });
  await drop('settings', 'stock-waits');
}

/** The server's stock file where it was changed there and here, or null. */
export async function otherStock() {
  return (await one('settings', 'stock-waits').catch(() => null))?.theirs ?? null;
}

/** The examples: from the server, or from the folder this page lies in. */
export function examples() {
  return orHere(() => request('GET', 'api/examples'), async () => {
    try {
      return await (await fetch('examples.json')).json();
    } catch {
      return { examples: [], starter: '', stock: '' };
    }
  });
}

/** The first time in a browser without a server: the examples' stock file, so that remedies have parts to choose from. */
export async function seed() {
  if (state.server || (await one('settings', 'stock').catch(() => null))) return;
  const found = await examples();
  if (found.stock) await keep('settings', found.stock, 'stock').catch(() => {});
}
