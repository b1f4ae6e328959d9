// SPDX-License-Identifier: MIT
// A number that the agency entered, to be called by a tap.

interface Props {
  number: string;
  label?: string | null | undefined;
  /// Where "Call" does not stand before it already.
  words?: string;
}

export function CallNumber({ number, label, words = number }: Props) {
  return (
    <a class="number" href={`tel:${number.replace(/[^+\d]/g, "")}`}>
      {words}
      {label && <small>{label}</small>}
    </a>
  );
}
