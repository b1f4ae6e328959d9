// SPDX-License-Identifier: MIT
// Where names stand in a drawing so that none lies on another.

/// What a letter takes in the system's faces, a little generously.
const letter_em = { plain: 0.58, bold: 0.68 };
export const width_em = (words: string, face: keyof typeof letter_em): number => words.length * letter_em[face];

/// As near to where they belong as they can, at least `gap` apart, within `from` to `to` as long as there is room.
export function spread(wanted: readonly number[], gap: number, from: number, to: number): number[] {
  const order = wanted.map((at, index) => ({ at, index })).sort((a, b) => a.at - b.at);
  let least = from;
  for (const one of order) {
    one.at = Math.max(one.at, least);
    least = one.at + gap;
  }
  let most = to;
  for (const one of [...order].reverse()) {
    one.at = Math.min(one.at, most);
    most = one.at - gap;
  }
  const found = [...wanted];
  for (const { at, index } of order) found[index] = at;
  return found;
}

export interface Mark {
  at: number;
  words: string;
}

/// Of marks along an axis the first and the last, and those between them that have room. `em`: a letter's height.
export function with_room(marks: readonly Mark[], em: number): Mark[] {
  const half = (mark: Mark): number => (width_em(mark.words, "plain") * em) / 2;
  const last = marks.at(-1);
  const kept: Mark[] = [];
  for (const mark of marks) {
    const before = kept.at(-1);
    const after_before = !before || mark.at - half(mark) >= before.at + half(before);
    const before_last = mark === last || !last || mark.at + half(mark) <= last.at - half(last);
    if (kept.length === 0 || mark === last || (after_before && before_last)) kept.push(mark);
  }
  return kept;
}
