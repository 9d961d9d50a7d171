/** A page's picture, as the host drew it, put into the document. */
import type { RefObject } from "preact";
import { useEffect, useRef } from "preact/hooks";
import { sayFault } from "../app/notices.ts";
import { host } from "../host/host.ts";

/** A CSS pixel by definition: 96 to the inch. */
export const PX_PER_MM = 96 / 25.4;
const KEEP = 6;

/** Where a page's picture is put; the one before stays until it is there. Page null, or key null: none yet. */
export function usePicture(
  key: string | null,
  page: number | null,
  failed: (thrown: unknown) => void = sayFault,
): RefObject<HTMLDivElement | null> {
  const paper = useRef<HTMLDivElement>(null);
  const kept = useRef(new Map<string, Element>());
  useEffect(() => {
    if (key === null || page === null) return;
    const id = `${key}/${page}`;
    let wanted = true;
    const show = (picture: Element): void => {
      if (wanted) paper.current?.replaceChildren(picture);
    };
    const there = kept.current.get(id);
    if (there) show(there);
    else
      host.sheetsPage(key, page).then(
        (svg) => {
          const picture = pictureOf(svg);
          kept.current.set(id, picture);
          while (kept.current.size > KEEP) kept.current.delete(kept.current.keys().next().value as string);
          show(picture);
        },
        (thrown: unknown) => wanted && failed(thrown),
      );
    return () => void (wanted = false);
  }, [key, page]);
  return paper;
}

/** The host's page as a part of this document, which has its fonts; text in it can be picked. Nothing that runs comes along. */
function pictureOf(svg: string): Element {
  const picture = document.importNode(
    new DOMParser().parseFromString(svg, "image/svg+xml").documentElement,
    true,
  );
  for (const script of picture.querySelectorAll("script, foreignObject")) script.remove();
  return picture;
}
