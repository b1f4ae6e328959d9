// SPDX-License-Identifier: MIT
// A screen that people leave and come back to. While it is closed its elements stand outside the page and are not drawn
// again; on the way back they are put in as they were, and only what changed meanwhile is drawn.
import type { ComponentChildren } from "preact";
import { useLayoutEffect, useRef } from "preact/hooks";

export function SetAside({ open, children }: { open: boolean; children: ComponentChildren }) {
  const place = useRef<HTMLDivElement>(null);
  const drawn = useRef<HTMLDivElement>(null);
  const last = useRef<ComponentChildren>(null);
  if (open) last.current = children;
  if (open && drawn.current && !drawn.current.parentNode) place.current?.append(drawn.current);  // before its parts measure themselves
  useLayoutEffect(() => {
    if (!open) drawn.current?.remove();
  }, [open]);
  return (
    <div class="whole" ref={place} hidden={!open}>
      <div class="whole" ref={drawn}>
        {last.current}
      </div>
    </div>
  );
}
