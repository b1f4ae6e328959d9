// SPDX-License-Identifier: MIT
import { teller } from "../tell";
import english from "./en/plan.json";

export const tell = teller("plan", english);
