/** What all dialogs share: modal, named by their heading, put away by Escape. */
import type { ComponentChildren } from "preact";
import { useId, useLayoutEffect, useRef } from "preact/hooks";

interface Props {
  readonly title: string;
  readonly wide?: boolean;
  readonly onAway: () => void;
  readonly children: ComponentChildren;
}

export function Frame({ title, wide = false, onAway, children }: Props) {
  const dialog = useRef<HTMLDialogElement>(null);
  const heading = useId();
  // Before anything is painted: an Escape pressed at the sight of the dialog would otherwise find it not yet modal.
  useLayoutEffect(() => {
    const back = document.activeElement;
    dialog.current?.showModal();
    return () => {
      if (back instanceof HTMLElement && back.isConnected) back.focus();
    };
  }, []);
  // A browser closes a dialog by itself when it is told to twice, whatever the page says. It is away then; a dialog that
  // asks something first is still wanted.
  const onClose = (): void => {
    onAway();
    setTimeout(() => {
      const now = dialog.current;
      if (now?.isConnected && !now.open) now.showModal();
    });
  };
  return (
    <dialog
      ref={dialog}
      class={`dialog ${wide ? "wide" : ""}`}
      aria-labelledby={heading}
      onCancel={(event) => {
        event.preventDefault();
        onAway();
      }}
      onClose={onClose}
      // The keys of the window must not reach through.
      onKeyDown={(event) => event.stopPropagation()}
    >
      <h2 id={heading}>{title}</h2>
      {children}
    </dialog>
  );
}
