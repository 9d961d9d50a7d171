/** Which theme is on: the person's choice, or the system's. */
import { computed, effect, signal } from "@preact/signals";
import { settings } from "../app/settings.ts";

export type ThemeName = "light" | "dark" | "night";

/** What the system says of itself, as it changes. */
function asked(media: string) {
  const query = matchMedia(media);
  const says = signal(query.matches);
  query.addEventListener("change", ({ matches }) => (says.value = matches));
  return says;
}

const systemDark = asked("(prefers-color-scheme: dark)");
const forcedColours = asked("(forced-colors: active)");
const moreContrast = asked("(prefers-contrast: more)");

/** Colours are stronger than the theme's own; the tokens change with it (contrast.css). */
export const strongColours = computed(() => moreContrast.value || forcedColours.value);

export const theme = computed<ThemeName>(() => {
  const chosen = settings.value.theme;
  // The paper is then the system's, light or dark: drawings must go with it. The night has paper of its own.
  const system = chosen === "system" || (forcedColours.value && chosen !== "night");
  return system ? (systemDark.value ? "dark" : "light") : chosen;
});

/** Keeps the document's theme in step; called once, before anything is drawn. */
export function wearTheme(): void {
  effect(() => {
    document.documentElement.dataset["theme"] = theme.value;
    document.documentElement.style.setProperty("--text-size", String(settings.value.textSize));
  });
}
