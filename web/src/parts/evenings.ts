// SPDX-License-Identifier: MIT
// Evenings that do for both sides: the earlier of two dates within a week, so that neither is changed later than its own.
// A side that is changed earlier once is changed earlier by as many days from then on.
const most_days = 7;

/// Days since 1970 by the calendar of the house: the service writes its times with their offset there.
export const day_number = (time: string): number => Math.round(Date.parse(`${time.slice(0, 10)}T00:00:00Z`) / 86_400_000);
export const date_of_day = (day: number): string => new Date(day * 86_400_000).toISOString().slice(0, 10);

export interface Evening {
  day: number;
  /// Of both sides the first change to come: that one has its moment, the others are likely.
  first: boolean;
}

/// `left` and `right`: days of the changes to come, in order.
export function shared_evenings(left: readonly number[], right: readonly number[]): Evening[] {
  const evenings: Evening[] = [];
  let [of_left, of_right, left_earlier, right_earlier] = [0, 0, 0, 0];
  for (;;) {
    const [a, b] = [left[of_left], right[of_right]];
    if (a === undefined || b === undefined) return evenings;
    const apart = a - left_earlier - (b - right_earlier);
    if (Math.abs(apart) <= most_days) {
      evenings.push({ day: Math.min(a - left_earlier, b - right_earlier), first: of_left + of_right === 0 });
      left_earlier += Math.max(apart, 0);
      right_earlier += Math.max(-apart, 0);
    }
    if (apart <= most_days) of_left += 1;
    if (apart >= -most_days) of_right += 1;
  }
}
