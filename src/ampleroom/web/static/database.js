// The browser's own database: jobs, the steps that undo takes, photos and settings.

let opened = null;
function database() {
  opened ??= new Promise((done, failed) => {
    const open = indexedDB.open('ampleroom', 1);
    open.onupgradeneeded = () => {
      open.result.createObjectStore('jobs', { keyPath: 'id' });
      open.result.createObjectStore('photos', { keyPath: 'id' });
      open.result.createObjectStore('settings');
      open.result.createObjectStore('steps');
    };
    open.onsuccess = () => done(open.result);
    open.onerror = () => failed(open.error);
  });
  return opened;
}

/** Something done in one transaction: all of it or nothing. What `work` throws, within a callback too, takes all of it back. */
export async function within(names, mode, work) {
  const db = await database();
  return new Promise((done, failed) => {
    const deal = db.transaction(names, mode, { durability: 'strict' });
    let result;
    let trouble = null;
    const safely = (run) => (...given) => {
      try {
        return run(...given);
      } catch (error) {
        trouble = error;
        deal.abort();
        return undefined;
      }
    };
    deal.oncomplete = () => done(result);
    deal.onabort = () => failed(trouble ?? deal.error ?? new Error('not kept'));
    safely(work)(deal, (value) => { result = value; }, (asked, run) => { asked.onsuccess = safely(() => run(asked.result)); });
  });
}

export const all = (name) => within([name], 'readonly', (deal, give, then) => then(deal.objectStore(name).getAll(), give));
export const one = (name, id) => within([name], 'readonly', (deal, give, then) => then(deal.objectStore(name).get(id), give));
export const keep = (name, value, key) => within([name], 'readwrite', (deal) => { deal.objectStore(name).put(value, key); });
export const drop = (name, id) => within([name], 'readwrite', (deal) => { deal.objectStore(name).delete(id); });

export const now = () => new Date().toISOString();

/** Read a job and write it anew as `change` leaves it, with nothing of another window in between. */
export function changeJob(id, change) {
  return within(['jobs', 'steps', 'photos'], 'readwrite', (deal, give, then) => {
    const jobs = deal.objectStore('jobs');
    then(jobs.get(id), (job) => change(job, {
      put: (record) => { jobs.put(record); give(record); },
      steps: deal.objectStore('steps'), photos: deal.objectStore('photos'), jobs, then,
    }));
  });
}
