import type { Map as MapLibreMap } from "maplibre-gl";

const STIRRED_BY = ["dataloading", "movestart", "styledata"] as const;

/**
 * Marks the map as busy (for those who hear the page, and for tests that look at it) while it moves or tiles are missing,
 * and as at rest once all that belongs in the view is drawn.
 * @returns stops telling
 */
export function tellWhenBusy(map: MapLibreMap, element: HTMLElement): () => void {
  const tell = (busy: boolean) => (): void => element.setAttribute("aria-busy", String(busy));
  const stirred = tell(true);
  const rested = tell(false);
  stirred();
  for (const event of STIRRED_BY) map.on(event, stirred);
  map.on("idle", rested);
  return () => {
    for (const event of STIRRED_BY) map.off(event, stirred);
    map.off("idle", rested);
  };
}
