// SPDX-License-Identifier: MIT
// The words of the technician's bench. They come with the bench alone: no phone of a home fetches them.
import { teller } from "../tell";
import english from "./en/bench.json";

export const tell = teller("bench", english);
