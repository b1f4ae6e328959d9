// SPDX-License-Identifier: MIT
import { teller } from "../tell";
import english from "./en/days.json";

export const tell = teller("days", english);
