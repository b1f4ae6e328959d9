// SPDX-License-Identifier: MIT
// A screen behind the first: its heading takes the focus when it opens, so that it is read out.
import type { ComponentChildren } from "preact";
import { useLayoutEffect, useRef } from "preact/hooks";
import { DisclaimerHere } from "./foot";
import { tell } from "../words/catalogue/first";

export function Screen({ title, back, children, says }: { title: string; back: () => void; children: ComponentChildren; says?: string }) {
  const heading = useRef<HTMLHeadingElement>(null);
  useLayoutEffect(() => {
    window.scrollTo(0, 0);
    heading.current?.focus({ preventScroll: true });
  }, []);
  return (
    <main>
      <button class="back" type="button" onClick={() => back()}>
        {tell("screen.back")}
      </button>
      <h1 ref={heading} tabIndex={-1}>
        {title}
      </h1>
      <DisclaimerHere says={says} />
      {children}
    </main>
  );
}
