// SPDX-License-Identifier: MIT
// How wide a drawing is and how large its letters are, in pixels, so that it is drawn to fit and never made smaller whole:
// letters keep the size that the reader chose.
import { useLayoutEffect, useRef, useState } from "preact/hooks";

export interface Size {
  width: number;
  em: number;
}

export function useSize(): { frame: { current: HTMLDivElement | null }; size: Size | null } {
  const frame = useRef<HTMLDivElement>(null);
  const [size, set] = useState<Size | null>(null);
  useLayoutEffect(() => {
    const measure = (): void => {
      if (!frame.current) return;
      const width = Math.round(frame.current.clientWidth);
      const em = parseFloat(getComputedStyle(frame.current).fontSize);
      set((before) => (before?.width === width && before.em === em ? before : { width, em }));
    };
    measure();
    const watch = new ResizeObserver(measure);
    if (frame.current) watch.observe(frame.current);
    return () => watch.disconnect();
  }, []);
  return { frame, size };
}
