// SPDX-License-Identifier: MIT
// The pages of Cellarer. They speak HTTP and compute nothing of the trade: what a household may read in a forecast
// was worked out by the service, and state/side_view decides only what of it may be shown. First the language; the page's
// own part is on its way meanwhile (index.html names it), and so is the household that it will show.
import { ask_for_household, choose_language, household_at } from "./before";

const household = household_at(window.location.pathname);
if (household) ask_for_household(household);
void choose_language().then(() => import("./app"));
