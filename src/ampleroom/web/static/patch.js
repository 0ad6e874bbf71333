// A change of a sheet as its lines that changed: of a large sheet the rest is here already.

/** A text with the lines of a patch put in; null where it does not fit. */
export function patched(text, { start, drop, put, lines }) {
  const whole = `${text}\n`;
  let [at, count] = [0, 0];
  const lineAt = (line) => { // of a large sheet no list of lines is made
    for (; count < line && at < whole.length; count += 1) at = whole.indexOf('\n', at) + 1;
    return at;
  };
  const head = whole.slice(0, lineAt(start));
  const tail = whole.slice(lineAt(start + drop));
  lineAt(Infinity);
  if (count - drop + put.length !== lines) return null;
  return (head + put.map((line) => `${line}\n`).join('') + tail).slice(0, -1);
}
