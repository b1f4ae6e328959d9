// SPDX-License-Identifier: MIT
// A whole hash in groups of eight signs, which the eye can follow from paper; copied, it is one word.

export function Hash({ hash }: { hash: string }) {
  return <code class="hash">{hash.match(/.{1,8}/g)?.map((part, index) => <span key={index}>{part}</span>)}</code>;
}
