/** While there is no walk yet: the walks opened lately, one press away. */
import { menuWords } from "../words/menu-words.ts";
import "./recent.css";
import { forgetRecent, lineOf, openRecent, recentWalks } from "./recent.ts";

export function RecentList() {
  if (recentWalks.value.length === 0) return null;
  return (
    <section class="recent" data-test="recent">
      <h3>{menuWords.recent.heading}</h3>
      <ul>
        {recentWalks.value.map((one) => (
          <li key={one.file.id}>
            <button type="button" class="button" onClick={() => void openRecent(one)}>
              {lineOf(one)}
            </button>
            <button
              type="button"
              class="button"
              aria-label={menuWords.recent.forget(one.file.name)}
              title={menuWords.recent.forget(one.file.name)}
              onClick={() => void forgetRecent(one.file.id)}
            >
              ×
            </button>
          </li>
        ))}
      </ul>
    </section>
  );
}
