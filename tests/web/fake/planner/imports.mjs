// SPDX-License-Identifier: MIT
// An import at the stand-in: a few of the service's checks, enough to show how problems are told.

const heads = { households: "household,area,zone,changing_times,stop", items: "household,item,pack_size,lead_days,every_days,per_cell_change", counts: "household,item,lot,quantity,unit,expires,place,counted_at" };

function problems_of({ kind, name, csv_base64 }, accept) {
  const lines = Buffer.from(csv_base64, "base64").toString("utf8").split(/\r?\n/);
  const found = [];
  const say = (line, column, code, value, text, severity = "error") => (severity === "error" || !accept.includes(code)) && found.push({ file: name, line, column, column_name: heads[kind].split(",")[column - 1] ?? "", code, severity, value, text });
  if (!heads[kind].startsWith(lines[0])) say(1, 0, "wrong-columns", lines[0], `The first line has to read ${heads[kind]}.`);
  const seen = new Map();
  for (const [index, line] of lines.entries()) {
    if (index === 0 || !line) continue;
    const cells = line.split(",");
    if (kind === "households" && seen.has(cells[0])) say(index + 1, 1, "duplicate", cells[0], `${cells[0]} stands in line ${seen.get(cells[0])} already.`);
    seen.set(cells[0], index + 1);
    if (kind === "households" && !/^\w+\/\w+$/.test(cells[2])) say(index + 1, 3, "unknown-zone", cells[2], `There is no zone ${cells[2]}: write one like Europe/Oslo.`);
    if (kind === "households" && cells[2] === "Europe/Olso") say(index + 1, 3, "unknown-zone", cells[2], "There is no zone Europe/Olso: write one like Europe/Oslo.");
    if (kind === "households" && !cells[1]) say(index + 1, 2, "missing-area", "", `${cells[0]} has no area: no round can bring anything.`, "ask");
    if (kind === "counts" && cells[4] !== "pieces") say(index + 1, 5, "wrong-unit", cells[4], "Only pieces are counted.");
    if (kind === "counts" && !/^\d+$/.test(cells[3])) say(index + 1, 4, "not-a-number", cells[3], `${cells[3]} is not a number of pieces.`);
  }
  return { found, rows: lines.filter((line, index) => index > 0 && line).length };
}

export function check({ files, accept }) {
  const of_files = files.map((file) => ({ kind: file.kind, ...problems_of(file, accept) }));
  const problems = of_files.flatMap((one) => one.found);
  const rows = (kind) => of_files.filter((one) => one.kind === kind).reduce((sum, one) => sum + one.rows, 0);
  const errors = problems.filter((one) => one.severity === "error").length;
  return { can_apply: problems.length === 0, would: { households: rows("households"), items: rows("items"), counts: rows("counts") }, errors, asked: problems.length - errors, problems, more_problems: 0 };
}
