export async function run(_argv: readonly string[]): Promise<number> {
  return 0;
}
