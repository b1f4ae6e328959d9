// SPDX-License-Identifier: MIT
// All that the first view of a household needs, in one file. What is fetched later imports this too: esbuild makes a file
// for every set of parts that share something, and so all of this is one set.
import "./before";

export { HouseholdPage } from "./pages/household_page";
export { keep_pages_on_this_phone } from "./offline/register";
export { Wrong } from "./pages/wrong";
export { kept } from "./state/kept";
export { show_theme } from "./state/theme";
