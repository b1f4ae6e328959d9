// SPDX-License-Identifier: MIT
// The frame of all pages for people of an agency: the sections on top, the pages of the open one at its side, and one
// main part whose heading takes the focus when it opens, so that it is read out.
import type { ComponentChildren } from "preact";
import { useEffect, useRef } from "preact/hooks";
import type { Session } from "../api/access";
import { sections_of } from "./sections";
import { to } from "./place";
import { tell } from "../words/catalogue/staff";

/// On top of every section. `here`: the name of the open one, or "own" (one's own way in).
export function Frame({ session, here, children }: { session: Session; here: string; children: ComponentChildren }) {
  const skip = (event: Event): void => {
    event.preventDefault();
    document.querySelector<HTMLElement>("main h1")?.focus();
  };
  return (
    <div class="staff">
      <header class="staff-top">
        <a class="skip" href="#" onClick={skip}>
          {tell("staff.to_the_page_itself")}
        </a>
        <nav aria-label={tell("staff.sections")}>
          <ul>
            {sections_of(session).map(({ name, words }) => (
              <li key={name}>
                <a href={to(name)} aria-current={name === here ? "page" : undefined}>
                  {words}
                </a>
              </li>
            ))}
          </ul>
        </nav>
        <a class="own" href={to("own")} aria-current={here === "own" ? "page" : undefined}>
          {session.label}
        </a>
      </header>
      {children}
    </div>
  );
}

export interface PageOfSection {
  /// As in the address: "" for the first.
  page: string;
  words: string;
}

/// The pages of a section, beside the open one. `here`: the entry to mark (a page may stand below one of the list).
export function Pages({ section, words, pages, here, children }: { section: string; words: string; pages: readonly PageOfSection[]; here: string; children: ComponentChildren }) {
  return (
    <div class="rooms">
      <nav class="room-list" aria-label={words}>
        <ul>
          {pages.map(({ page, words: name }) => (
            <li key={page}>
              <a href={to(page ? `${section}/${page}` : section)} aria-current={page === here ? "page" : undefined}>
                {name}
              </a>
            </li>
          ))}
        </ul>
      </nav>
      {children}
    </div>
  );
}

interface PageProps {
  title: string;
  /// Where the page stands below: "Findings", and its address.
  above?: { words: string; href: string };
  /// Beside the title: what can be done with all of it (CSV, print).
  beside?: ComponentChildren;
  children: ComponentChildren;
}

/// Give it `key`, so that another page is another one, and its heading is read out.
export function Page({ title, above, beside, children }: PageProps) {
  const heading = useRef<HTMLHeadingElement>(null);
  useEffect(() => {
    window.scrollTo(0, 0);
    heading.current?.focus({ preventScroll: true });
  }, []);
  useEffect(() => {
    document.title = `${title} · Cellarer`;
  }, [title]);
  return (
    <main class="staff-page">
      {above && (
        <a class="above" href={above.href}>
          {above.words}
        </a>
      )}
      <div class="title">
        <h1 ref={heading} tabIndex={-1}>
          {title}
        </h1>
        {beside && <div class="title-acts">{beside}</div>}
      </div>
      {children}
    </main>
  );
}
