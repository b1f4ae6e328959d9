// SPDX-License-Identifier: MIT
import { teller } from "../tell";
import english from "./en/record.json";

export const tell = teller("record", english);
