/** The day here and now, YYYY-MM-DD in local time: walks are planned by the calendar on the wall. */
export function today(now = new Date()): string {
  const two = (n: number): string => String(n).padStart(2, "0");
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}
