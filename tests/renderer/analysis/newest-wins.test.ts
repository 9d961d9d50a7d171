import { afterEach, beforeEach, describe, expect, test, vi } from "vitest";
import { newestWins } from "../../../renderer/analysis/newest-wins.ts";

beforeEach(() => void vi.useFakeTimers());
afterEach(() => void vi.useRealTimers());

/** Work that takes a set time; how much of it runs at once is counted. */
function slow(takesMs: number) {
  const counts = { running: 0, most: 0, asked: [] as number[], aborted: [] as number[] };
  const run = (question: number, signal: AbortSignal): Promise<number> =>
    new Promise((resolve, reject) => {
      counts.asked.push(question);
      counts.most = Math.max(counts.most, ++counts.running);
      const timer = setTimeout(() => {
        counts.running--;
        resolve(question * 10);
      }, takesMs);
      signal.addEventListener("abort", () => {
        clearTimeout(timer);
        counts.running--;
        counts.aborted.push(question);
        reject(new Error("aborted"));
      });
    });
  return { run, counts };
}

describe("newest wins", () => {
  test("never more than one in flight; what came meanwhile is skipped but for the newest", async () => {
    const { run, counts } = slow(20);
    const answers: number[] = [];
    const asking = newestWins({ run, answered: (answer) => answers.push(answer), failed: () => {} });
    for (let i = 1; i <= 100; i++) {
      asking.ask(i);
      await vi.advanceTimersByTimeAsync(1);
    }
    await vi.advanceTimersByTimeAsync(100);
    expect(counts.most).toBe(1);
    expect(answers.at(-1)).toBe(1000);
    expect(counts.asked.length).toBeLessThan(10);
    expect(answers).toEqual([...answers].sort((a, b) => a - b));
  });

  test("one that runs too long while a newer waits is given up, without a fault", async () => {
    const { run, counts } = slow(10_000);
    const failed = vi.fn();
    const asking = newestWins({ run, answered: () => {}, failed, patienceMs: 50 });
    asking.ask(1);
    await vi.advanceTimersByTimeAsync(200);
    expect(counts.aborted).toEqual([]);
    asking.ask(2);
    await vi.advanceTimersByTimeAsync(60);
    expect(counts.aborted).toEqual([1]);
    expect(counts.asked).toEqual([1, 2]);
    expect(failed).not.toHaveBeenCalled();
  });

  test("a failure is told with its question, and the next one is asked all the same", async () => {
    const failed = vi.fn();
    const answered = vi.fn();
    const asking = newestWins<number, number>({
      run: async (question) => {
        if (question === 1) throw new Error("no");
        return question;
      },
      answered,
      failed,
    });
    asking.ask(1);
    await vi.advanceTimersByTimeAsync(1);
    asking.ask(2);
    await vi.advanceTimersByTimeAsync(1);
    expect(failed.mock.calls[0]?.[0]).toMatchObject({ code: "internal", what: "no" });
    expect(failed.mock.calls[0]?.[1]).toBe(1);
    expect(answered).toHaveBeenCalledWith(2, 2);
  });

  test("stopping forgets what waits and keeps an answer that still comes to itself", async () => {
    const answered = vi.fn();
    const asking = newestWins<number, number>({
      run: (question) => new Promise((resolve) => setTimeout(() => resolve(question), 20)),
      answered,
      failed: () => {},
    });
    asking.ask(1);
    asking.ask(2);
    asking.stop();
    await vi.advanceTimersByTimeAsync(100);
    expect(answered).not.toHaveBeenCalled();
    asking.ask(3);
    await vi.advanceTimersByTimeAsync(100);
    expect(answered).toHaveBeenCalledWith(3, 3);
  });
});
