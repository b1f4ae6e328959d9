// SPDX-License-Identifier: MIT
// The pages behind the first that record nothing, in one file of their own.
import "../first_view";
import { Entries } from "./entries";
import { Handover } from "./handover";
import { More } from "./more";

export const screens = { entries: Entries, more: More, handover: Handover };
