// The core in the browser's own Python. Only files of this folder are loaded, and only those of the build this script is of.
const BUILD = '';
const MIXED = 'the files here are of two builds; reload the page';

const began = performance.now();

// The library that sets the packet asks for the time zone with a script of its own. The content security policy lets nothing
// be run that is made of text, so this one question is answered here and no other.
const ZONE = 'Intl.DateTimeFormat().resolvedOptions().timeZone';
self.eval = (text) => {
  if (text === ZONE) return Intl.DateTimeFormat().resolvedOptions().timeZone;
  throw new EvalError('nothing that is made of text is run here');
};

const progress = (words) => postMessage({ progress: words });
let python = null;
let answer = null;
let wheels = {};

let files = {};
let refused = ''; // Pyodide only says that it ended where one of its own files is refused

/** Every fetch of a file of the folder, Pyodide's own too, is refused unless the file has the hash listed for it. */
const folder = new URL('./', import.meta.url).href;
const plainFetch = self.fetch.bind(self);
self.fetch = async (target, options = {}) => {
  const url = new URL(target.url ?? target, folder).href.split(/[?#]/)[0];
  const name = url.startsWith(folder) ? url.slice(folder.length) : '';
  if (!Object.hasOwn(files, name)) return plainFetch(target, options);
  try {
    return await plainFetch(url, { cache: 'no-cache', integrity: files[name] });
  } catch (trouble) {
    refused = `${name} could not be fetched, or is not the file that belongs here: ${trouble?.message ?? trouble}`;
    throw new Error(refused);
  }
};

async function bytes(path) {
  const reply = await fetch(path);
  if (!reply.ok) throw new Error(`${path}: ${reply.status}`);
  return new Uint8Array(await reply.arrayBuffer());
}

async function start() {
  const plan = await (await plainFetch('offline.json', { cache: 'no-cache' })).json();
  // The page names its worker after its own build.
  if (!BUILD || plan.mark !== BUILD || self.name !== BUILD) throw new Error(MIXED);
  files = plan.files;
  // Scripts cannot be imported by hash, so they are fetched and checked first.
  await Promise.all(['pyodide/pyodide.mjs', 'pyodide/pyodide.asm.mjs'].map(bytes));
  const { loadPyodide } = await import('./pyodide/pyodide.mjs');
  wheels = plan.wheels;
  const core = bytes(plan.core);
  core.catch(() => {});
  const options = { indexURL: new URL('./pyodide/', import.meta.url).href };
  if (plan.snapshot) {
    try {
      progress('getting ready');
      python = await loadPyodide({ ...options, _loadSnapshot: (await bytes(plan.snapshot)).buffer });
      await open(core);
    } catch {
      refused = '';
      python = null; // a picture that is missing, cut short, or of another Python: open it the plain way
    }
  }
  const from = python ? 'picture' : 'files';
  if (!python) {
    progress('getting ready, the slow way');
    python = await loadPyodide(options);
    await open(core);
  }
  postMessage({ ready: Math.round(performance.now() - began), from });
}

/** A picture of memory holds what was imported, not the files: what is imported later is read from these. */
async function open(core) {
  progress('opening the code tables');
  python.unpackArchive(await core, 'zip', { extractDir: '/lib/ampleroom' });
  python.runPython("import sys; '/lib/ampleroom' in sys.path or sys.path.insert(0, '/lib/ampleroom')");
  answer = python.runPython('from ampleroom.web.engine import answer_json; answer_json');
}

const loaded = new Set();
const NEEDS = { packet: ['fonts', 'typst'], workbook: ['xlsxwriter'], import: ['calamine'] };

/** A library that only some questions need, unpacked when the first of them comes. */
async function bring(action) {
  for (const name of NEEDS[action] ?? []) {
    if (loaded.has(name) || !wheels[name]) continue;
    progress(`fetching ${name}, once`);
    try {
      if (wheels[name].endsWith('.zip')) python.unpackArchive(await bytes(wheels[name]), 'zip', { extractDir: '/lib/ampleroom' });
      else python.unpackArchive(await bytes(wheels[name]), 'wheel');
      loaded.add(name);
    } finally {
      progress('');
    }
  }
}

const started = start().catch((error) => {
  postMessage({ failed: refused || String(error?.message ?? error) });
  throw error;
});
started.catch(() => {});

const failure = (error) => JSON.stringify({ error: `this browser could not work it out: ${error?.message ?? error}`, kind: 'worker' });

onmessage = async ({ data }) => {
  try {
    await started;
    await bring(data.action);
  } catch (error) {
    postMessage({ id: data.id, text: failure(error) });
    return;
  }
  try {
    postMessage({ id: data.id, text: answer(data.action, data.text) });
  } catch (error) {
    // Whatever went wrong inside Python may have left it in any state.
    postMessage({ id: data.id, text: failure(error), broken: true });
  }
};
