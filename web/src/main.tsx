// SPDX-License-Identifier: MIT
// The pages of Cellarer. They speak HTTP and compute nothing of the trade: what a household may read in a forecast
// was worked out by the service, and state/side_view decides only what of it may be shown.
import { render } from "preact";
import { HouseholdPage } from "./pages/household_page";
import { Start } from "./pages/start";
import { show_theme } from "./state/theme";

function household_of(path: string): string | null {
  const match = /^\/h\/([^/]+)\/?$/.exec(path);
  return match?.[1] ? decodeURIComponent(match[1]) : null;
}

show_theme();
const place = document.getElementById("page");
if (place) {
  const name = household_of(window.location.pathname);
  place.replaceChildren();
  render(name ? <HouseholdPage name={name} /> : <Start />, place);
}
