// SPDX-License-Identifier: MIT
import { teller } from "../tell";
import english from "./en/access.json";

export const tell = teller("access", english);
