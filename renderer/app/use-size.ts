/** The size of an element as it changes, and of the text in it. */
import type { RefObject } from "preact";
import { useLayoutEffect, useState } from "preact/hooks";

export interface ElementSize {
  readonly width: number;
  readonly height: number;
  /** One rem in pixels: larger when the text is set larger. */
  readonly rem: number;
}

export function useSize(element: RefObject<HTMLElement | null>): ElementSize {
  const [size, setSize] = useState<ElementSize>({ width: 0, height: 0, rem: 16 });
  useLayoutEffect(() => {
    const watched = element.current;
    if (!watched) return;
    const measure = (): void => {
      const rem = Number.parseFloat(getComputedStyle(document.documentElement).fontSize) || 16;
      setSize({ width: watched.clientWidth, height: watched.clientHeight, rem });
    };
    const observer = new ResizeObserver(measure);
    observer.observe(watched);
    measure();
    return () => observer.disconnect();
  }, [element]);
  return size;
}
