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
const early = new Map(); // what was asked for before Pyodide asks for it, by name
let refused = ''; // Pyodide only says that it ended where one of its own files is refused

/** Every fetch of a file of the folder, Pyodide's own too, is refused unless the file has the hash listed for it. */
const folder = new URL('./', import.meta.url).href;
const plainFetch = self.fetch.bind(self);
self.fetch = async (target, options = {}) => {
  const url = new URL(target.url ?? target, folder).href.split(/[?#]/)[0];
  const name = url.startsWith(folder) ? url.slice(folder.length) : '';
  if (!Object.hasOwn(files, name)) return plainFetch(target, options);
  const asked = early.get(name);
  if (early.delete(name)) return asked;
  try {
    return await plainFetch(url, { cache: 'no-cache', integrity: files[name] });
  } catch {
    refused = `${name} could not be fetched, or is not the file that belongs here`;
    throw new Error(refused);
  }
};

/** A file of the folder, from where the service worker keeps it: so it is here in a third of the time. Else it is fetched. */
async function bytes(name) {
  const kept = await (await self.caches?.match(folder + name, { cacheName: `ampleroom-${BUILD}` }).catch(() => null))?.arrayBuffer();
  if (kept && `sha256-${btoa(String.fromCharCode(...new Uint8Array(await crypto.subtle.digest('SHA-256', kept))))}` === files[name]) return new Uint8Array(kept);
  const reply = await fetch(name);
  if (!reply.ok) throw new Error(`${name}: ${reply.status}`);
  return new Uint8Array(await reply.arrayBuffer());
}

/** Begin something whose failure is told to whoever waits for it. */
function begun(promise) {
  promise.catch(() => {});
  return promise;
}

const ENGINE = 'pyodide/pyodide.asm.wasm';
const FOLDER = '/lib/ampleroom';

async function start() {
  const plan = await (await plainFetch('offline.json', { cache: 'no-cache' })).json();
  // The page names its worker after its own build.
  if (!BUILD || plan.mark !== BUILD || self.name !== BUILD) throw new Error(MIXED);
  files = plan.files;
  wheels = plan.wheels;
  progress('getting ready');
  // Pyodide asks for one file after another. Here all come side by side, and its code is compiled meanwhile. Scripts cannot be
  // imported by hash, so they are fetched and checked first.
  const scripts = Promise.all(['pyodide/pyodide.mjs', 'pyodide/pyodide.asm.mjs'].map(async (name) => {
    await bytes(name);
    return import(`./${name}`);
  }));
  const engine = begun(bytes(ENGINE).then(WebAssembly.compile));
  const core = begun(bytes(plan.core));
  for (const name of ['pyodide/python_stdlib.zip', 'pyodide/pyodide-lock.json']) early.set(name, begun(bytes(name).then((content) => new Response(content))));
  const snapshot = plan.snapshot && begun(bytes(plan.snapshot));
  const [{ loadPyodide }, { default: make }] = await scripts;
  WebAssembly.instantiateStreaming = async (reply, imports) => ({ module: await engine, instance: await WebAssembly.instantiate(await engine, imports) });
  const open = (picture = {}) => {
    early.set(ENGINE, Promise.resolve(new Response())); // asked for, and compiled already
    return loadPyodide({ indexURL: `${folder}pyodide/`, ...picture });
  };
  if (snapshot) {
    try {
      python = await open(await pictureOf(plan.sizes[plan.snapshot].plain, snapshot, engine, core, make));
    } catch {
      refused = '';
      python = null; // a picture that is missing, cut short, or of another Python: open it the plain way
    }
  }
  const from = python ? 'picture' : 'files';
  if (!python) {
    progress('getting ready, the slow way');
    await engine;
    python = await open();
    unpack(await core, python.FS);
  }
  python.runPython(`import sys; '${FOLDER}' in sys.path or sys.path.insert(0, '${FOLDER}')`);
  answer = python.runPython('from ampleroom.web.engine.in_worker import answer_by_number; answer_by_number');
  postMessage({ ready: Math.round(performance.now() - began), from });
}

/** Options that open Python from a picture of its memory. While the picture is fetched all else is made ready: also the files,
 *  which it does not hold. It may be larger than the memory Python starts with. */
function pictureOf(size, snapshot, engine, core, make) {
  const memory = new Uint8Array(size);
  const createPyodideModule = async (settings) => {
    await engine;
    const made = await make(settings);
    unpack(await core, made.FS);
    if (made.HEAP8.length < size) made.growMemory(size);
    memory.set(await snapshot);
    return made;
  };
  return { _loadSnapshot: memory, createPyodideModule };
}

/** Write the files of an archive into Python's file system. Nothing is compressed in it, so it takes no Python. */
function unpack(archive, system) {
  const view = new DataView(archive.buffer);
  const [short, long] = [(at) => view.getUint16(at, true), (at) => view.getUint32(at, true)];
  const end = archive.length - 22; // the last record: how many files there are, and where they are listed
  let at = long(end + 16);
  for (let left = short(end + 10); left; left -= 1) {
    const [head, named] = [long(at + 42), short(at + 28)];
    const path = `${FOLDER}/` + new TextDecoder().decode(archive.subarray(at + 46, at + 46 + named));
    const content = head + 30 + short(head + 26) + short(head + 28);
    system.mkdirTree(path.slice(0, path.lastIndexOf('/')));
    system.writeFile(path, archive.subarray(content, content + long(at + 24)), { canOwn: true });
    at += 46 + named + short(at + 30) + short(at + 32);
  }
}

const loaded = new Set();
const NEEDS = { packet: ['fonts', 'typst'], workbook: ['xlsxwriter'], import: ['calamine'] };

/** A library that only some questions need, unpacked when the first of them comes. */
async function bring(action) {
  for (const name of NEEDS[action] ?? []) {
    if (loaded.has(name) || !wheels[name]) continue;
    progress(`fetching ${name}, once`);
    try {
      if (wheels[name].endsWith('.zip')) python.unpackArchive(await bytes(wheels[name]), 'zip', { extractDir: FOLDER });
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
    postMessage({ id: data.id, text: answer(data.action, data.text, data.sheet ?? 0, data.whole ?? '', data.after ?? 0) });
  } catch (error) {
    // Whatever went wrong inside Python may have left it in any state.
    postMessage({ id: data.id, text: failure(error), broken: true });
  }
};
