// SPDX-License-Identifier: MIT
// A screen that people leave and come back to. While it is closed it is not drawn again; on the way back it is there as it
// was, and only what changed meanwhile is drawn. Behind a form (`near`), from which people come back soon, its layout is kept
// too (style_behind.css): it takes no room and is neither seen nor read out nor reached by keys. Behind any other screen its
// elements stand outside the page.
import type { ComponentChildren } from "preact";
import { useLayoutEffect, useRef } from "preact/hooks";

export function SetAside({ open, near, children }: { open: boolean; near: boolean; children: ComponentChildren }) {
  const place = useRef<HTMLDivElement>(null);
  const drawn = useRef<HTMLDivElement>(null);
  const last = useRef<ComponentChildren>(null);
  if (open) last.current = children;
  if (open && drawn.current && !drawn.current.parentNode) place.current?.append(drawn.current);  // before its parts measure themselves
  useLayoutEffect(() => {
    if (!open && !near) drawn.current?.remove();
  }, [open, near]);
  return (
    <div class={open ? "whole" : "whole aside"} ref={place}>
      <div class="whole" ref={drawn}>
        {last.current}
      </div>
    </div>
  );
}
