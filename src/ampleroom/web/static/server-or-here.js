// Where a job is worked on: on the server while it answers, in this browser otherwise.
import { state } from './ask.js';
import { one } from './database.js';

/** The name a job has now: one made in this browser gets another when the server takes it. */
export async function known(id) {
  return id.startsWith('here-') ? (await one('jobs', id).catch(() => null))?.moved ?? id : id;
}

/** Whether a job is worked on in this browser: no server, made here, or changes of it still wait. */
export async function isHere(id) {
  if (!state.server) return true;
  const job = await one('jobs', id).catch(() => null);
  return Boolean(job && (!job.server || job.waiting));
}

export const path = (id, more = '') => `api/jobs/${encodeURIComponent(id)}${more}`;

/** Something asked of the server, or done in this browser where the server cannot be reached. */
export async function orHere(online, here) {
  if (state.server) {
    try {
      return await online();
    } catch (trouble) {
      if (trouble.kind !== 'network') throw trouble;
    }
  }
  return here();
}

/** A change on top of the version that was shown. Another number of the very same text is no conflict: the answer to a change
 *  may have been lost on its way, or the job was sent by another window. */
export async function onTop(job, change) {
  try {
    return await change(job.version);
  } catch (trouble) {
    if (trouble.kind !== 'conflict' || trouble.answer.current.sheet !== job.sheet) throw trouble;
    return change(trouble.answer.current.version);
  }
}
