// SPDX-License-Identifier: MIT
// Which page stands at which address. Evaluated once the language is known: sentences are taken from its catalogue.
import { render, type ComponentType } from "preact";
import { household_at } from "./api/ahead";
import { HouseholdPage, keep_pages_on_this_phone, kept, show_theme, Wrong } from "./first_view";
import { Foot } from "./parts/foot";
import { disclaimer } from "./words/cautions";
import { Later } from "./parts/later";
import { Part } from "./state/part";
import { useScreen } from "./state/screen";

const start = new Part<ComponentType>(() => import("./pages/start").then(({ Start }) => Start));
const sign_in = new Part<ComponentType>(() => import("./access/sign_in_page").then(({ SignInPage }) => SignInPage));

/// The pages of no household. What to do when something is wrong is one tap away here too.
function Outside({ part }: { part: Part<ComponentType> }) {
  const wrong = useScreen().name === "wrong";
  return (
    <>
      {wrong && <Wrong />}
      <div class="whole" hidden={wrong}>
        <Later part={part}>{(Page) => <Page />}</Later>
      </div>
      {!wrong && <Foot says={part === start ? disclaimer : null} more={false} />}
    </>
  );
}

show_theme();
const place = document.getElementById("page");
if (place) {
  const path = window.location.pathname;
  const name = household_at(path);
  const own = kept.get("household");
  if (path === "/" && own) window.location.replace(`/h/${encodeURIComponent(own)}`);
  place.replaceChildren();
  render(name ? <HouseholdPage name={name} /> : <Outside part={/^\/in\/?$/.test(path) ? sign_in : start} />, place);
}

const first_view_ms = 2_000;
const keep_soon = () => setTimeout(keep_pages_on_this_phone, first_view_ms);  // not while the first view is fetched
if (document.readyState === "complete") keep_soon();  // the page may have loaded while the language was chosen
else window.addEventListener("load", keep_soon);
