// SPDX-License-Identifier: MIT
// The rows as a table of Markdown, so that README shows what was printed. `runs`: of how many runs a row is the median.
const figure = (value, unit) => {
  const size = Math.abs(value);
  return size >= 1000 ? String(Math.round(value)).replace(/\B(?=(\d{3})+$)/g, ' ') : size >= 100 ? value.toFixed(unit === 'h' ? 1 : 0) : size >= 10 ? value.toFixed(1) : size >= 0.1 ? value.toFixed(2) : value.toFixed(3);
};

const quantity = (value, unit) => (value === undefined ? '' : `${figure(value, unit)} ${unit}`.replace(' /', '/'));

export function table(rows) {
  const lines = ['| what | ours | against | there | ratio | target | | runs |', '|---|---|---|---|---|---|---|---|'];
  for (const row of rows) {
    const ratio = row.apart !== undefined ? `${row.apart.toFixed(3)} % apart` : row.ratio !== undefined ? figure(row.ratio) : '';
    const verdict = row.met === undefined ? '' : row.met ? 'met' : 'short';
    lines.push(`| ${[row.what, quantity(row.ours, row.unit), row.against ?? '', quantity(row.peer, row.unit), ratio, row.target ?? '', verdict, row.runs].join(' | ')} |`);
  }
  return lines.join('\n');
}
