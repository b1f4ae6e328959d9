// SPDX-License-Identifier: MIT
// The form of a document: names of fields and types of what they hold, to hold the stand-in to the service.

/// Elements of a list stand together: what any of them has. Null tells nothing of what else would be there.
export function fields(value) {
  if (value === null || value === undefined) return null;
  if (Array.isArray(value)) return { list: value.map(fields).reduce(both, null) };
  if (typeof value !== "object") return typeof value;
  return { fields: Object.fromEntries(Object.entries(value).map(([name, inside]) => [name, fields(inside)])) };
}

function both(one, other) {
  if (one === null || other === null) return one ?? other;
  if (one.list !== undefined && other.list !== undefined) return { list: both(one.list, other.list) };
  if (!one.fields || !other.fields) return one;
  const names = new Set([...Object.keys(one.fields), ...Object.keys(other.fields)]);
  return { fields: Object.fromEntries([...names].map((name) => [name, both(one.fields[name] ?? null, other.fields[name] ?? null)])) };
}

const kind_of = (form) => (typeof form === "string" ? form : form.list === undefined ? "object" : "list");

/// What `wanted` has and `there` has not, or has otherwise, by its path.
export function lacking(wanted, there, path = "") {
  if (wanted === null || there === null) return [];
  if (kind_of(wanted) !== kind_of(there)) return [`${path}: ${kind_of(wanted)}, not ${kind_of(there)}`];
  if (wanted.list !== undefined) return lacking(wanted.list, there.list, `${path}[]`);
  if (!wanted.fields) return [];
  return Object.keys(wanted.fields).flatMap((name) => (name in there.fields ? lacking(wanted.fields[name], there.fields[name], `${path}.${name}`) : [`${path}.${name}`]));
}
