/** Notices in a corner: read out politely, never taking the focus. */
import { dismissNotice, notices } from "./notices.ts";
import { words } from "../words/words.ts";

export function NoticeStack() {
  return (
    <section class="notices" role="status" aria-live="polite" aria-label={words.notices.label}>
      {notices.value.map(({ id, tone, what, where, remedy, act }) => (
        <div key={id} class={`paper notice ${tone}`} data-test="notice">
          <div>
            <p class="notice-what">{what}</p>
            {where && <p class="soft">{where}</p>}
            {remedy && <p>{remedy}</p>}
            {act && (
              <button
                type="button"
                class="button edged notice-act"
                data-test="notice-act"
                onClick={() => {
                  dismissNotice(id);
                  act.run();
                }}
              >
                {act.label}
              </button>
            )}
          </div>
          <button
            type="button"
            class="button"
            aria-label={words.notices.dismiss}
            title={words.notices.dismiss}
            onClick={() => dismissNotice(id)}
          >
            ×
          </button>
        </div>
      ))}
    </section>
  );
}
