// Which view shows a subject: the one registered for its kind, else the one for any kind (subject.js).
import { boxView } from './box.js';
import { subjectView } from './subject.js';

const VIEWS = new Map();

/** Have subjects of a kind shown by a view of their own: `(here, redraw) => ({ load, draw, title, job, leave })`. */
export function register(kind, view) {
  VIEWS.set(kind, view);
}

export const viewOf = (kind) => VIEWS.get(kind) ?? subjectView;

register('box', boxView);
register('conduit body', boxView);
