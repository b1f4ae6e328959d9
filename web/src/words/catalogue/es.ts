// SPDX-License-Identifier: MIT
// Spanish, in one file of its own. Not checked by a native speaker yet: the page that offers it says so.
import "../../before";
export { spanish_grammar as grammar } from "../spanish";
export { told_document, told_problem } from "../told";
import type { Catalogue } from "../language";
import access from "./es/access.json";
import agency from "./es/agency.json";
import behind from "./es/behind.json";
import days from "./es/days.json";
import first from "./es/first.json";
import phrases from "./es/phrases.json";
import plan from "./es/plan.json";
import record from "./es/record.json";
import remind from "./es/remind.json";
import service from "./es/service.json";
import service_refusals from "./es/service_refusals.json";
import service_words from "./es/service_words.json";
import staff from "./es/staff.json";

export const catalogue: Catalogue = { access, agency, behind, days, first, phrases, plan, record, remind, service, service_refusals, service_words, staff };
