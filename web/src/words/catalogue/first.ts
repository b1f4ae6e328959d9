// SPDX-License-Identifier: MIT
import { teller } from "../tell";
import english from "./en/first.json";

export const tell = teller("first", english);
