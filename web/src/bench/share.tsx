// SPDX-License-Identifier: MIT
// A probability as a length on a rule of 0 to 1, beside its words and its number.
export function Share({ value }: { value: number }) {
  return (
    <svg class="span-rule" viewBox="0 0 120 24" preserveAspectRatio="none" aria-hidden="true">
      <path class="rule" d="M2 21H118" />
      <rect class="how-sure" x="2" y="6" width={Math.max(value * 116, 1)} height="12" />
      <path class="best" d={`M${2 + value * 116} 3V21`} />
    </svg>
  );
}
