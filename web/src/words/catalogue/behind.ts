// SPDX-License-Identifier: MIT
import { teller } from "../tell";
import english from "./en/behind.json";

export const tell = teller("behind", english);
