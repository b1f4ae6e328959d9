// SPDX-License-Identifier: MIT
import { teller } from "../tell";
import english from "./en/remind.json";

export const tell = teller("remind", english);
