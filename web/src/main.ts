// SPDX-License-Identifier: MIT
// The pages of Cellarer. They speak HTTP and compute nothing of the trade: what a household may read in a forecast
// was worked out by the service, and state/side_view decides only what of it may be shown. First the language; the page's
// own part is on its way meanwhile (index.html names it).
import { choose_language } from "./words/language";

void choose_language().then(() => import("./app"));
