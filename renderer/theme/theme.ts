/** Which theme is on: the person's choice, or the system's. */
import { computed, effect, signal } from "@preact/signals";
import { settings } from "../app/settings.ts";

export type ThemeName = "light" | "dark" | "night";

const systemDark = matchMedia("(prefers-color-scheme: dark)");
const systemTheme = signal<ThemeName>(systemDark.matches ? "dark" : "light");
systemDark.addEventListener("change", (event) => {
  systemTheme.value = event.matches ? "dark" : "light";
});

export const theme = computed<ThemeName>(() => {
  const chosen = settings.value.theme;
  return chosen === "system" ? systemTheme.value : chosen;
});

/** Keeps the document's theme in step; called once, before anything is drawn. */
export function wearTheme(): void {
  effect(() => {
    document.documentElement.dataset["theme"] = theme.value;
    document.documentElement.style.setProperty("--text-size", String(settings.value.textSize));
  });
}
