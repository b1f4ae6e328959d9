// SPDX-License-Identifier: MIT
import { teller } from "../tell";
import english from "./en/staff.json";

export const tell = teller("staff", english);
