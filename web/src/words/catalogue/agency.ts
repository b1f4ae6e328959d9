// SPDX-License-Identifier: MIT
import { teller } from "../tell";
import english from "./en/agency.json";

export const tell = teller("agency", english);
