// SPDX-License-Identifier: MIT
// The words that protect people. The first stands wherever a forecast stands, the others are one tap away.

export const disclaimer = "An estimate. The unit's own alarm comes first: act on it at once.";

export const more: readonly string[] = [
  "This page knows cells and stock only. It does not know whether the antenna is in place or whether breathing is enough.",
  "Keep the prescribed backup ventilation within reach.",
  "Follow the maker's instructions and the clinician's. Settings are theirs to change.",
  "Change both cells of a side together: new, alkaline, same type.",
  "No forecast, an old one, or in doubt: fresh cells in both sides.",
];

export const handling = "Follow the maker's card; wearer awake or on the backup.";

export const reminders = "Reminders are not alarms and may not arrive.";
