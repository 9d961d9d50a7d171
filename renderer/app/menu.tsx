/** A button with a list under it, after the menu button pattern of the WAI-ARIA practices. */
import type { ComponentChildren } from "preact";
import { useId, useLayoutEffect, useRef, useState } from "preact/hooks";

interface MenuProps {
  readonly label: ComponentChildren;
  readonly name?: string;
  readonly children: ComponentChildren;
  readonly test?: string;
  /** Its groups stand beside each other where there is room. */
  readonly wide?: boolean;
}

const itemsOf = (list: HTMLElement | null): HTMLElement[] => [
  ...(list?.querySelectorAll<HTMLElement>('[role^="menuitem"]') ?? []),
];

export function Menu({ label, name, children, test, wide = false }: MenuProps) {
  const [open, setOpen] = useState(false);
  const button = useRef<HTMLButtonElement>(null);
  const list = useRef<HTMLDivElement>(null);
  const id = useId();

  // Before anything is painted: an Escape pressed at the sight of the list would otherwise miss it.
  useLayoutEffect(() => {
    if (!open) return;
    if (list.current) keepInWindow(list.current);
    itemsOf(list.current)[0]?.focus();
    const away = (event: PointerEvent): void => {
      const target = event.target as Node;
      if (!list.current?.contains(target) && !button.current?.contains(target)) setOpen(false);
    };
    window.addEventListener("pointerdown", away, true);
    return () => window.removeEventListener("pointerdown", away, true);
  }, [open]);

  const close = (): void => {
    setOpen(false);
    button.current?.focus();
  };
  const key = (event: KeyboardEvent): void => {
    const items = itemsOf(list.current);
    const at = items.indexOf(document.activeElement as HTMLElement);
    const to = { ArrowDown: at + 1, ArrowUp: at - 1, Home: 0, End: items.length - 1 }[event.key];
    if (event.key === "Escape") close();
    else if (event.key === "Tab") setOpen(false);
    else if (to !== undefined) items[(to + items.length) % items.length]?.focus();
    if (event.key === "Escape" || to !== undefined) {
      event.preventDefault();
      event.stopPropagation();
    }
  };

  return (
    <div class="menu">
      <button
        ref={button}
        type="button"
        class="button menu-button"
        aria-haspopup="menu"
        aria-expanded={open}
        aria-controls={id}
        {...(name ? { "aria-label": name } : {})}
        {...(test ? { "data-test": test } : {})}
        onClick={() => setOpen(!open)}
        onKeyDown={(event) => {
          if (event.key !== "ArrowDown" && !(open && event.key === "Escape")) return;
          event.preventDefault();
          event.stopPropagation();
          setOpen(event.key === "ArrowDown");
        }}
      >
        <span class="menu-label">{label}</span>
        <svg class="menu-mark" width="9" height="6" viewBox="0 0 9 6" aria-hidden="true">
          <path d="M1 1l3.5 3.5L8 1" />
        </svg>
      </button>
      {open && (
        <div
          class={`paper menu-list ${wide ? "wide" : ""}`}
          role="menu"
          id={id}
          ref={list}
          onKeyDown={key}
          onClick={close}
        >
          {wide ? <div class="menu-columns">{children}</div> : children}
        </div>
      )}
    </div>
  );
}

/** Room kept between a list and the edge of the window, pixels. */
const EDGE_PX = 8;

/** Moves an open list back into the window, whichever side of it its button stands on; what does not fit below rolls. */
function keepInWindow(list: HTMLElement): void {
  const { left, right, top } = list.getBoundingClientRect();
  list.style.maxHeight = `${innerHeight - top - EDGE_PX}px`;
  const over = Math.max(0, right - (innerWidth - EDGE_PX)) || Math.min(0, left - EDGE_PX);
  if (over !== 0) list.style.transform = `translateX(${-over}px)`;
}

interface ItemProps {
  readonly onPick: () => void;
  readonly children: ComponentChildren;
  readonly keys?: string | null;
  readonly refusal?: string | null;
  /** Given for what is on or off. */
  readonly on?: boolean | undefined;
  /** One of several, of which one is on. */
  readonly oneOf?: boolean | undefined;
}

export function MenuItem({ onPick, children, keys = null, refusal = null, on, oneOf }: ItemProps) {
  return (
    <button
      type="button"
      class="menu-item"
      tabIndex={-1}
      role={on === undefined ? "menuitem" : oneOf ? "menuitemradio" : "menuitemcheckbox"}
      {...(on === undefined ? {} : { "aria-checked": on })}
      aria-disabled={refusal !== null}
      {...(refusal ? { title: refusal } : {})}
      onClick={() => refusal === null && onPick()}
    >
      <span class="menu-check" aria-hidden="true">
        {on ? "✓" : ""}
      </span>
      <span>{children}</span>
      {keys && <kbd>{keys}</kbd>}
    </button>
  );
}

/** What belongs together, under its heading if it has one. */
export const MenuGroup = ({
  heading,
  children,
}: {
  readonly heading?: string | undefined;
  readonly children: ComponentChildren;
}) => (
  <div class="menu-group" role="group" {...(heading ? { "aria-label": heading } : {})}>
    {heading && (
      <p class="menu-heading soft" role="presentation">
        {heading}
      </p>
    )}
    {children}
  </div>
);

export const MenuLine = () => <hr class="menu-line" />;
