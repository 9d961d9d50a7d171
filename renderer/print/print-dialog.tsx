/** The leg table as it will be on paper, before it is made into a PDF. */
import { useEffect, useRef, useState } from "preact/hooks";
import { sayFault } from "../app/notices.ts";
import { Frame } from "../dialogs/frame.tsx";
import { words } from "../words/words.ts";
import { savePdf } from "./print.ts";

interface Props {
  readonly html: (paper: "A4" | "letter") => Promise<string>;
  readonly suggestedName: string;
  readonly answer: (done: true | null) => void;
}

export function PrintDialog({ html, suggestedName, answer }: Props) {
  const [paper, setPaper] = useState<"A4" | "letter">("A4");
  const [text, setText] = useState<string | null>(null);
  const [busy, setBusy] = useState(false);
  useEffect(() => {
    html(paper).then(setText, sayFault);
  }, [html, paper]);

  const save = async (): Promise<void> => {
    if (text === null) return;
    setBusy(true);
    if (await savePdf(text, suggestedName)) answer(true);
    else setBusy(false);
  };
  return (
    <Frame title={words.dialogs.printTitle} wide onAway={() => answer(null)}>
      <Preview html={text} paper={paper} />
      <div class="dialog-buttons">
        <label class="beside">
          <span>{words.dialogs.paper}</span>
          <select
            class="field"
            value={paper}
            onChange={(event) => setPaper(event.currentTarget.value === "letter" ? "letter" : "A4")}
          >
            <option value="A4">A4</option>
            <option value="letter">Letter</option>
          </select>
        </label>
        <span class="spread" />
        <button type="button" class="button" onClick={() => answer(null)}>
          {words.dialogs.cancel}
        </button>
        <button
          type="button"
          class="button strong"
          autofocus
          disabled={busy || text === null}
          onClick={() => void save()}
        >
          {words.dialogs.savePdf}
        </button>
      </div>
    </Frame>
  );
}

/**
 * The document's body in a shadow root with its own styles. Not in a frame: a frame would take over the window's
 * content policy, which allows no inline styles; a constructed style sheet is not inline.
 */
function Preview({ html, paper }: { readonly html: string | null; readonly paper: "A4" | "letter" }) {
  const holder = useRef<HTMLDivElement>(null);
  useEffect(() => {
    const element = holder.current;
    if (!element || html === null) return;
    const root = element.shadowRoot ?? element.attachShadow({ mode: "open" });
    const { css, rest } = apart(html);
    const page = new DOMParser().parseFromString(rest, "text/html");
    const sheet = new CSSStyleSheet();
    sheet.replaceSync(`${inShadow(css)}\n:host { font-family: "Atkinson Hyperlegible Next", sans-serif; }`);
    root.adoptedStyleSheets = [sheet];
    const body = document.createElement("div");
    body.className = "sheet";
    body.append(...page.body.childNodes);
    root.replaceChildren(body);
  }, [html]);
  return (
    <div
      class={`print-preview ${paper}`}
      tabIndex={0}
      role="document"
      aria-label={words.dialogs.printTitle}
      ref={holder}
      data-test="print-preview"
    />
  );
}

/** The document's styles, and the document without them: parsing a style element counts as applying it. */
function apart(html: string): { readonly css: string; readonly rest: string } {
  const styles: string[] = [];
  const rest = html.replace(/<style>([\s\S]*?)<\/style>/g, (_, css: string) => {
    styles.push(css);
    return "";
  });
  return { css: styles.join("\n"), rest };
}

/** A shadow root has neither html nor body: their rules go to its host and to the sheet in it. */
const inShadow = (css: string): string =>
  css.replace(/^html(?=\s*\{)/gm, ":host").replace(/^body(?=\s*\{)/gm, ".sheet");
