// SPDX-License-Identifier: MIT
// The bench in Spanish, in a file of its own: its words, and the forms by which the service's sentences about findings are
// told again. Not checked by a native speaker yet.
import "../../before";
import type { Catalogue } from "../language";
import { add_forms } from "../told";
import forms from "./en/service_bench.json";
import bench from "./es/bench.json";
import service_bench from "./es/service_bench.json";
import service_bench_words from "./es/service_bench_words.json";

add_forms("service_bench", forms);

export const catalogue: Catalogue = { bench, service_bench, service_bench_words };
