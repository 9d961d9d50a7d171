/** Sets a member whose name comes from a file: `__proto__` is a key like others here. */
export function put<T>(members: Record<string, T>, key: string, value: T): void {
  if (key === "__proto__") Object.defineProperty(members, key, { value, enumerable: true });
  else members[key] = value;
}
